/*
 * Short texts.
 */
#include <padside/app/short_texts.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

enum { MOST_OWN = 200, LETTERS_SIZE = 16, SENTENCE_SIZE = 256, PATH_SIZE = 4096 };

static const struct {
	const char *letters; /* what is typed */
	unsigned where;      /* it belongs: of enum short_place */
	const char *text;    /* what it stands for */
} table[] = {
#define SHORT_TEXT(letters, where, text) { letters, where, text },
#include <padside/app/short_texts.def>
#undef SHORT_TEXT
};

/* One's own, from the file. */
static struct {
	char letters[LETTERS_SIZE]; /* what is typed */
	char text[SENTENCE_SIZE];   /* what it stands for */
} own[MOST_OWN];
static size_t own_count;

static bool write_path(char path[PATH_SIZE])
{
	const char *config = getenv("XDG_CONFIG_HOME"), *home = getenv("HOME");
	bool has_config = config && *config;

	if (!has_config && (!home || !*home))
		return false;
	int length = snprintf(path, PATH_SIZE, "%s%s/padside/short-texts", has_config ? config : home,
	                      has_config ? "" : "/.config");
	return length > 0 && length < PATH_SIZE;
}

/* Cuts blanks and line ends off both sides. */
static char *trim(char *text)
{
	size_t length;

	text += strspn(text, " \t");
	length = strlen(text);
	while (length > 0 && strchr(" \t\r\n", text[length - 1]))
		text[--length] = '\0';
	return text;
}

static void take_line(char *line)
{
	char *equals = strchr(line, '=');

	if (!equals || *trim(line) == '#' || own_count == MOST_OWN)
		return;
	*equals = '\0';
	const char *letters = trim(line), *text = trim(equals + 1);
	if (!*letters || !*text || strlen(letters) >= LETTERS_SIZE || strchr(letters, ' '))
		return;
	text_copy(own[own_count].letters, LETTERS_SIZE, letters);
	text_copy(own[own_count].text, SENTENCE_SIZE, text);
	own_count++;
}

void short_texts_read(void)
{
	char path[PATH_SIZE], line[LETTERS_SIZE + SENTENCE_SIZE + 64];
	FILE *file;

	own_count = 0;
	if (!write_path(path) || !(file = fopen(path, "r")))
		return;
	while (fgets(line, sizeof line, file))
		take_line(line);
	fclose(file);
}

bool short_texts_at(enum short_place place, size_t i, const char **letters, const char **text)
{
	size_t row = 0;

	if (i < own_count) {
		*letters = own[i].letters;
		*text = own[i].text;
		return true;
	}
	for (i -= own_count; row < sizeof table / sizeof *table; row++)
		if ((table[row].where & (unsigned)place) && i-- == 0)
			break;
	if (row == sizeof table / sizeof *table)
		return false;
	*letters = table[row].letters;
	*text = table[row].text;
	return true;
}

static const char *find(enum short_place place, const char *word)
{
	const char *letters, *text;

	for (size_t i = 0; short_texts_at(place, i, &letters, &text); i++)
		if (text_equal_ignoring_case(letters, word))
			return text;
	return NULL;
}

bool short_texts_expand(enum short_place place, const char *typed, char *out, size_t size)
{
	struct text all;
	bool is_whole = *typed != '\0';

	text_init(&all);
	for (const char *at = typed; *at && is_whole;) {
		char word[LETTERS_SIZE];
		size_t length = strcspn(at, " ");
		snprintf(word, sizeof word, "%.*s", (int)length, at);
		const char *text = length > 0 && length < sizeof word ? find(place, word) : NULL;
		is_whole = text != NULL;
		if (text)
			text_add_format(&all, "%s%s", all.length ? " " : "", text);
		at += length;
		at += strspn(at, " ");
	}
	is_whole = is_whole && !all.failed && all.length > 0 && all.length < size;
	text_copy(out, size, is_whole ? text_get(&all) : typed);
	text_done(&all);
	return is_whole;
}
