/*
 * Safe characters, and their ASCII stand-ins.
 *
 * Names, notes and serial numbers come from people, files and other trucks'
 * books; whatever is in them is shown, never obeyed.
 */
#include <padside/base/glyph.h>

#include <stddef.h>
#include <string.h>

enum { REPLACEMENT = 0xfffd };

/*
 * Characters that act instead of being seen: bidi controls (Unicode UAX #9),
 * zero-width spaces and word joiners, line and paragraph separators,
 * interlinear annotation, tags; and what is no character.  Ascending.
 */
static const struct acting_range {
	unsigned first, last; /* inclusive */
} acting[] = {
#define ACTING(first, last) { first, last },
#include "base/characters.def"
};

struct stand_in {
	unsigned character; /* what is meant */
	const char *ascii;  /* what stands for it */
};

/* Ascending by character, so that it can be searched by halves. */
static const struct stand_in stand_ins[] = {
	{ 0x00a0, " " },    /* no-break space */
	{ 0x00a9, "(c)" },
	{ 0x00ab, "<<" },
	{ 0x00b0, "" },     /* °: "°F" becomes "F", as units.def has it */
	{ 0x00b1, "+-" },   /* ± */
	{ 0x00b2, "2" },
	{ 0x00b3, "3" },
	{ 0x00b5, "u" },    /* micro sign */
	{ 0x00b7, "-" },    /* · */
	{ 0x00bb, ">>" },
	{ 0x00bc, "1/4" },
	{ 0x00bd, "1/2" },
	{ 0x00be, "3/4" },
	{ 0x0394, "d" },    /* Δ */
	{ 0x03a9, "ohm" },  /* Ω */
	{ 0x03bc, "u" },    /* Greek mu */
	{ 0x2013, "-" },    /* – */
	{ 0x2014, "-" },    /* — */
	{ 0x2018, "'" },
	{ 0x2019, "'" },
	{ 0x201c, "\"" },
	{ 0x201d, "\"" },
	{ 0x2022, "*" },    /* • */
	{ 0x2026, "..." },
	{ 0x2032, "'" },
	{ 0x2033, "\"" },
	{ 0x20ac, "EUR" },
	{ 0x2126, "ohm" },  /* ohm sign */
	{ 0x2190, "<" },    /* ← */
	{ 0x2191, "^" },    /* ↑ */
	{ 0x2192, ">" },    /* → */
	{ 0x2193, "v" },    /* ↓ */
	{ 0x2212, "-" },    /* − */
	{ 0x2248, "~" },    /* ≈ */
	{ 0x2260, "!=" },   /* ≠ */
	{ 0x2264, "<=" },   /* ≤ */
	{ 0x2265, ">=" },   /* ≥ */
	{ 0x2500, "-" },    /* ─ */
	{ 0x2501, "=" },    /* ━ */
	{ 0x2502, "|" },    /* │ */
	{ 0x2503, "|" },    /* ┃ */
	{ 0x2504, "-" },    /* ┄ */
	{ 0x250c, "+" },    /* ┌ */
	{ 0x2510, "+" },    /* ┐ */
	{ 0x2514, "+" },    /* └ */
	{ 0x2518, "+" },    /* ┘ */
	{ 0x251c, "|" },    /* ├ */
	{ 0x2524, "|" },    /* ┤ */
	{ 0x252c, "+" },    /* ┬ */
	{ 0x2534, "+" },    /* ┴ */
	{ 0x253c, "+" },    /* ┼ */
	{ 0x2550, "=" },    /* ═ */
	{ 0x2574, "-" },    /* ╴ */
	{ 0x2576, "-" },    /* ╶ */
	{ 0x2580, "#" },    /* ▀ */
	{ 0x2581, "_" },    /* ▁ */
	{ 0x2584, "#" },    /* ▄ */
	{ 0x2588, "#" },    /* █ */
	{ 0x258c, "]" },    /* ▌: a heavy stretch ends in this cell */
	{ 0x2590, "[" },    /* ▐: a heavy stretch begins in this cell */
	{ 0x2591, "." },    /* ░ */
	{ 0x2592, ":" },    /* ▒ */
	{ 0x25a0, "#" },    /* ■ */
	{ 0x25a1, "." },    /* □ */
	{ 0x25b2, "^" },    /* ▲ */
	{ 0x25b6, ">" },    /* ▶ */
	{ 0x25b8, ">" },    /* ▸ */
	{ 0x25bc, "v" },    /* ▼ */
	{ 0x25be, "v" },    /* ▾ */
	{ 0x25c0, "<" },    /* ◀ */
	{ 0x25c6, "O" },    /* ◆ */
	{ 0x25c7, "o" },    /* ◇ */
	{ 0x25cb, "o" },    /* ○ */
	{ 0x25cf, "*" },    /* ● */
	{ 0x25d0, "%" },    /* ◐ */
	{ 0x26a0, "!" },    /* ⚠ */
	{ 0x2713, "*" },    /* ✓: a cross would say no, "v" is down */
	{ 0x2717, "x" },    /* ✗ */
	{ REPLACEMENT, "?" },
};

/* U+00C0 to U+00FF: letters of names without their accents. */
static const char *const latin[64] = {
	"A", "A", "A", "A", "A", "A", "AE", "C", "E", "E", "E", "E", "I", "I", "I", "I",
	"D", "N", "O", "O", "O", "O", "O", "x", "O", "U", "U", "U", "U", "Y", "Th", "ss",
	"a", "a", "a", "a", "a", "a", "ae", "c", "e", "e", "e", "e", "i", "i", "i", "i",
	"d", "n", "o", "o", "o", "o", "o", "/", "o", "u", "u", "u", "u", "y", "th", "y",
};

unsigned glyph_shown(unsigned character)
{
	if (character >= 0x20 && character < 0x7f)
		return character;
	if (character == '\t' || character == '\n' || character == '\r' || character == 0xa0)
		return ' ';
	if (character < 0xa0)
		return character ? REPLACEMENT : 0;
	/* Boxes, blocks and braille are most of what is drawn, and harmless. */
	if (character >= 0x2070 && character < 0xd800)
		return character;
	for (size_t i = 0; i < sizeof acting / sizeof *acting && character >= acting[i].first; i++)
		if (character <= acting[i].last)
			return REPLACEMENT;
	return character > 0x10ffff ? REPLACEMENT : character;
}

/*
 * Braille cells (8 dots) become a light or a heavier dot, so that a plot that
 * was drawn for a better terminal can still be read on this one.
 */
static const char *braille_plain(unsigned character)
{
	int dots = 0;

	for (unsigned bits = character - 0x2800; bits; bits >>= 1)
		dots += (int)(bits & 1);
	return dots == 0 ? " " : dots <= 2 ? "." : dots <= 4 ? ":" : "#";
}

const char *glyph_plain(unsigned character)
{
	size_t low = 0, high = sizeof stand_ins / sizeof *stand_ins;

	character = glyph_shown(character);
	if (character < 0x80)
		return NULL;
	if (character >= 0xc0 && character <= 0xff)
		return latin[character - 0xc0];
	if (character >= 0x2800 && character <= 0x28ff)
		return braille_plain(character);
	if (text_character_columns(character) == 0)
		return "";
	while (low < high) {
		size_t middle = (low + high) / 2;
		if (stand_ins[middle].character == character)
			return stand_ins[middle].ascii;
		if (stand_ins[middle].character < character)
			low = middle + 1;
		else
			high = middle;
	}
	return "?";
}

int glyph_columns(unsigned character, bool plain)
{
	if (character >= 0x20 && character < 0x7f)
		return 1;
	if (plain) {
		const char *ascii = glyph_plain(character);
		return ascii ? (int)strlen(ascii) : character != 0;
	}
	return text_character_columns(glyph_shown(character));
}

int glyph_string_columns(const char *string, bool plain)
{
	int columns = 0;
	unsigned character;

	while ((character = text_next_character(&string)) != 0)
		columns += glyph_columns(character, plain);
	return columns;
}

void glyph_add(struct text *text, unsigned character, bool plain)
{
	const char *ascii = plain ? glyph_plain(character) : NULL;

	if (ascii)
		text_add(text, ascii);
	else if (character)
		text_add_character(text, glyph_shown(character));
}

void glyph_add_string(struct text *text, const char *string, bool plain)
{
	unsigned character;

	for (;;) {
		/* What is printable ASCII stands for itself; nearly all is. */
		const char *from = string;
		while (*string >= ' ' && *string <= '~')
			string++;
		text_add_bytes(text, from, (size_t)(string - from));
		if ((character = text_next_character(&string)) == 0)
			return;
		glyph_add(text, character, plain);
	}
}
