#ifndef PADSIDE_WRAP_H
#define PADSIDE_WRAP_H

#include <stdbool.h>
#include <stddef.h>

/* Breaking running text into lines of a given width, for screen and paper. */

struct wrap_line {
	const char *start; /* inside the wrapped text; borrowed */
	size_t length;     /* bytes, without spaces at the break */
};

/*
 * Takes the next line of at most `columns` columns off *rest.  Breaks at
 * spaces and line ends; a word longer than a line is broken where the line
 * ends; a no-break space keeps a number and its unit together.  `plain`
 * measures the ASCII forms.  Returns false when nothing is left.
 *
 *	while (wrap_next(&rest, 72, false, &line))
 *		…
 */
bool wrap_next(const char **rest, int columns, bool plain, struct wrap_line *line);

/* How many lines `string` makes at that width. */
int wrap_count(const char *string, int columns, bool plain);

#endif
