#ifndef REPORT_WRITER_H
#define REPORT_WRITER_H

#include <padside/report/document.h>

/*
 * What a format is: one function for each kind of block.  A new format is one such
 * row and its place in document_formats.c.
 */

/* Where a writer is. */
struct pen {
	const struct document *document; /* which; borrowed */
	struct text *text;   /* what is written; borrowed */
	bool plain;          /* ASCII where the format is read by eye */
	const char *section; /* heading of level 2 last seen, or NULL */
	const char *part;    /* heading of level 3 below it, or NULL */
	bool is_open;        /* a section of the format is open */
	bool is_close;       /* what follows stands close to what was written last */
	int serial;          /* counts what needs an id of its own */
};

struct writer {
	void (*begin)(struct pen *pen); /* or NULL */
	void (*blocks[BLOCK_KIND_COUNT])(struct pen *pen, const struct block *block);
	void (*end)(struct pen *pen); /* or NULL */
};

extern const struct writer writer_text;
extern const struct writer writer_markdown;
extern const struct writer writer_html;
extern const struct writer writer_csv;

/* What a tone is called: "needs doing" of a finding, "Caution"; "" for the others. */
const char *writer_tone_word(enum tone tone);

/* What the marks are on a ruler that is typed. */
extern const char writer_typed_marks[];

/* Appends the value of a measure in a stage with plus/minus and unit; nothing when not taken. */
void writer_add_value(struct text *text, const struct measure *measure, int stage, bool plain);

/* Whether something is expected of any measure of a block. */
bool writer_has_expected(const struct block *block);

/* What is expected of a measure: as left if that is known, else as found. */
const char *writer_expected(const struct measure *measure);

#endif
