/*
 * Word wrap.
 */
#include <padside/base/wrap.h>

#include <padside/base/glyph.h>
#include <padside/base/text.h>

static size_t length_without_spaces(const char *start, const char *end)
{
	while (end > start && end[-1] == ' ')
		end--;
	return (size_t)(end - start);
}

bool wrap_next(const char **rest, int columns, bool plain, struct wrap_line *line)
{
	const char *start = *rest;
	const char *at = start;
	const char *word_end = start;  /* where the last word before `at` ended */
	const char *next_word = start; /* after the spaces that follow it */
	int used = 0;

	if (*start == '\0')
		return false;
	line->start = start;
	for (;;) {
		const char *here = at;
		unsigned character = text_next_character(&at);

		if (character == 0 || character == '\n') {
			line->length = length_without_spaces(start, here);
			*rest = at;
			return true;
		}
		int width = glyph_columns(character, plain);
		if (character == ' ') {
			if (next_word != here)
				word_end = here;
			next_word = at;
		} else if (used > 0 && used + width > columns && width > 0) {
			/* Spaces alone at the start of a line are no place to break. */
			bool has_break = length_without_spaces(start, word_end) > 0;
			line->length = (size_t)((has_break ? word_end : here) - start);
			*rest = has_break ? next_word : here;
			return true;
		}
		used += width;
	}
}

int wrap_count(const char *string, int columns, bool plain)
{
	struct wrap_line line;
	int count = 0;

	while (wrap_next(&string, columns, plain, &line))
		count++;
	return count;
}
