/*
 * Documents of standard input.
 *
 * Whether a file holds one pretty-printed document or one document a line is
 * told by its brackets: a document ends with the line in which they close.  A
 * line cut short must not take those behind it along: it also ends where the
 * next one begins with a brace that cannot belong to it.
 */
#include "cli/input.h"

#include <errno.h>
#include <string.h>

enum { MOST_BYTES = 4 << 20 };

/* Where the scan for the end of a document stands. */
struct scan {
	long depth;      /* brackets open */
	bool in_string;  /* between quotes */
	bool escaped;    /* behind a backslash */
	bool seen;       /* something other than space was there */
	char last;       /* of what was no space */
	int lines;       /* ended */
};

enum status input_open(struct input *input, const char *path, struct error *error)
{
	*input = (struct input){ .name = path };
	input->file = strcmp(path, "-") == 0 ? stdin : fopen(path, "r");
	if (!input->file)
		return error_set(error, STATUS_NOT_FOUND, "%s cannot be read: %s", path, strerror(errno));
	return STATUS_OK;
}

void input_close(struct input *input)
{
	if (input->file && input->file != stdin)
		fclose(input->file);
	input->file = NULL;
}

/* strchr() would take a NUL for one of them. */
static bool is_blank(int byte)
{
	return byte == ' ' || byte == '\t' || byte == '\r' || byte == '\n';
}

static void scan_byte(struct scan *scan, char byte)
{
	if (!is_blank(byte)) {
		scan->seen = true;
		scan->last = byte;
	}
	if (scan->escaped)
		scan->escaped = false;
	else if (scan->in_string && byte == '\\')
		scan->escaped = true;
	else if (byte == '"')
		scan->in_string = !scan->in_string;
	else if (!scan->in_string && (byte == '{' || byte == '['))
		scan->depth++;
	else if (!scan->in_string && (byte == '}' || byte == ']'))
		scan->depth--;
}

/* No string goes over the end of a line: what is open there was cut short. */
static void end_line(struct scan *scan)
{
	scan->lines++;
	if (scan->in_string)
		scan->last = '"';
	scan->in_string = scan->escaped = false;
}

/* Whether the next line begins a document, although the brackets of this one are open. */
static bool begins_anew(struct input *input, const struct scan *scan)
{
	int next = getc(input->file);

	if (next != EOF)
		ungetc(next, input->file);
	return next == '{' && (input->is_lines || !strchr("[{:,", scan->last));
}

bool input_has_more(struct input *input)
{
	int byte;

	do
		byte = getc(input->file);
	while (is_blank(byte));
	if (byte != EOF)
		ungetc(byte, input->file);
	return byte != EOF;
}

enum status input_next(struct input *input, struct text *document, struct error *error)
{
	struct scan scan = { .depth = 0 };
	bool too_long = false;
	int byte;

	text_clear(document);
	while ((byte = getc_unlocked(input->file)) != EOF) {
		scan_byte(&scan, (char)byte);
		if (document->length < MOST_BYTES)
			text_add_char(document, (char)byte);
		else
			too_long = true;
		if (byte != '\n')
			continue;
		if (!scan.seen) {
			text_clear(document);
			continue;
		}
		end_line(&scan);
		if (scan.depth <= 0 || too_long || begins_anew(input, &scan))
			break;
	}
	input->is_lines = input->is_lines || (scan.seen && scan.depth <= 0 && scan.lines <= 1);
	if (ferror(input->file))
		return error_set(error, STATUS_IO, "%s stopped being readable: %s", input->name,
		                 strerror(errno));
	if (!scan.seen)
		return STATUS_NOT_FOUND;
	if (too_long)
		return error_set(error, STATUS_OUT_OF_RANGE, "a call of more than %d MB is refused",
		                 MOST_BYTES >> 20);
	if (document->failed)
		return error_set(error, STATUS_NO_MEMORY, "there is no memory left to read %s",
		                 input->name);
	return STATUS_OK;
}
