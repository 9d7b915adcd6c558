#ifndef PADSIDE_GLYPH_H
#define PADSIDE_GLYPH_H

#include <stdbool.h>

#include <padside/base/text.h>

/*
 * What a character looks like once it is shown: on the screen, in a band, on
 * the text paper.  Two questions are answered here and nowhere else: which
 * characters are safe to hand to a terminal, and what stands for a character
 * where only ASCII can be shown ("plain").
 */

/*
 * The character that may be shown for `character`: itself, a space for tabs,
 * line ends and no-break spaces, and U+FFFD (a visible mark) for everything
 * that could steer a terminal or reorder a line: control characters, bidi
 * controls, invisible spaces, tags.  Never 0 for a non-zero argument.
 */
unsigned glyph_shown(unsigned character);

/*
 * The ASCII that stands for `character` where nothing else can be shown: "F"
 * behind a dropped degree sign, "ohm" for Ω, "|" for ├, "e" for é; "" when it
 * is left out, "?" when there is nothing like it.  NULL when what is shown for
 * it is ASCII by itself.  Static text.
 */
const char *glyph_plain(unsigned character);

/* Columns that `character` takes when shown: 0, 1, 2; more only when plain. */
int glyph_columns(unsigned character, bool plain);

/* The same for a whole string. */
int glyph_string_columns(const char *string, bool plain);

/* Appends a character, or a string, as it may be shown. */
void glyph_add(struct text *text, unsigned character, bool plain);
void glyph_add_string(struct text *text, const char *string, bool plain);

#endif
