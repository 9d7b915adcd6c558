#ifndef TUI_FORM_PARTS_H
#define TUI_FORM_PARTS_H

#include "tui/form.h"

/* The field editor, for the files that it is made of. */

enum { MOST_KINDS = 16 };

struct form {
	bool writing;     /* something is being written under the cursor */
	struct edit edit; /* that */
	const struct form_kind *kinds[MOST_KINDS]; /* whose lines have to wait */
	int kind_count;                            /* of them */
	const struct form_line *hinted; /* whose hint the page says; NULL none */
};

/* Whether the line is answered by yes or no, says another few words, or is typed freely. */
enum request_place form_words_place(const struct form_line *line);

#endif
