#ifndef CLI_INPUT_H
#define CLI_INPUT_H

#include <stdbool.h>
#include <stdio.h>

#include <padside/base/error.h>
#include <padside/base/text.h>

/*
 * JSON from a file or standard input: one document, or newline-delimited ones.
 * Memory holds one document at a time.
 */
struct input {
	FILE *file;          /* open for reading */
	const char *name;    /* for messages */
	bool is_lines;       /* a document that is one line was seen */
};

/* Opens `path`, "-" for standard input. */
enum status input_open(struct input *input, const char *path, struct error *error);
void input_close(struct input *input);

/*
 * Reads the next document into `document` (cleared first): a line that is one
 * by itself, or, where a document is spread over several lines, all of them.
 * A line with brackets left open ends where the next begins a new document.
 * STATUS_NOT_FOUND at the end.  A document over the limit of 4 MB is refused
 * with STATUS_OUT_OF_RANGE and skipped to its end of line.
 */
enum status input_next(struct input *input, struct text *document, struct error *error);

/* Whether something other than space is still to come; waits for it. */
bool input_has_more(struct input *input);

#endif
