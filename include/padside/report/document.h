#ifndef PADSIDE_DOCUMENT_H
#define PADSIDE_DOCUMENT_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/band.h>
#include <padside/base/plot.h>
#include <padside/base/text.h>

/*
 * A neutral document: what the report says, before it has a form.  A list of
 * blocks, read from top to bottom; the writers (text, Markdown, HTML, CSV,
 * PDF) only give them a form.
 *
 * Every string handed in is copied and made safe on the way: control
 * characters, terminal escapes and invisible characters become visible marks.
 * What a format treats as special is escaped by its writer.  When memory runs
 * out the document says so in `failed`, and later additions do nothing.
 */

enum { DOCUMENT_MOST_COLUMNS = 8, DOCUMENT_STAGES = 2 };

enum block_kind {
	BLOCK_LETTERHEAD, /* whose report it is, one line a row, the name first */
	BLOCK_HEADING,    /* opens a section; level 1 is the title, once */
	BLOCK_PARAGRAPH,  /* running text */
	BLOCK_LIST,       /* one cell a row */
	BLOCK_PAIRS,      /* name and value, two cells a row */
	BLOCK_TABLE,      /* headers and rows */
	BLOCK_FINDING,    /* a title, how urgent it is, and lines below */
	BLOCK_READINGS,   /* measures as a table, as found and as left side by side */
	BLOCK_RULERS,     /* measures drawn as bands */
	BLOCK_TREND,      /* a value over the visits */
	BLOCK_SIGNATURE,  /* lines to sign on, what goes there below each, one cell a row */
	BLOCK_KIND_COUNT
};

/* How a piece of text is meant. */
enum tone {
	TONE_PLAIN,
	TONE_LEAD,    /* the sentence that matters most */
	TONE_SMALL,   /* the small print */
	TONE_CAUTION, /* what can hurt */
	TONE_NOTE,    /* findings: for information */
	TONE_WATCH,   /* findings: to be looked at again */
	TONE_ACT,     /* findings: do something about it */
	TONE_GONE,    /* findings: not seen any more after the work */
	TONE_COUNT
};

struct column {
	const char *header; /* "" where none is needed */
	bool is_number;     /* set to the right */
	bool is_value;      /* the cell that counts, where there is one line an item */
	const char *unit;   /* of that cell, "" for none */
};

/* How a row of a table is set. */
enum row_weight {
	ROW_PLAIN,
	ROW_SUBTOTAL, /* sums the rows just above it */
	ROW_TOTAL     /* set apart from all rows above; only totals follow */
};

struct row {
	enum row_weight weight;                   /* how it is set */
	const char *cells[DOCUMENT_MOST_COLUMNS]; /* never NULL */
};

/* What was read or worked out in one stage. */
struct measured {
	const char *shown;      /* "21.0", "OL", "fixed orifice"; "" not taken */
	bool is_number;         /* the unit belongs behind it */
	const char *plus_minus; /* "1.4"; "" unknown or not for this reader */
	const char *at_most;    /* "70.0", where the ± would reach below zero; "" elsewhere */
	const char *expected;   /* "3 to 13", "assumed 4 to 16"; "" nothing is expected */
	const char *verdict;    /* "high", "good"; "" none */
	const char *when;       /* "09:12"; "" unknown */
	struct band band;       /* in the shown unit; drawn in BLOCK_RULERS */
	bool has_band;          /* there is one to draw */
};

struct measure {
	const char *label;                       /* what */
	const char *unit;                        /* shown behind the values; "" for none */
	const char *note;                        /* where it comes from; "" for none */
	struct measured stages[DOCUMENT_STAGES]; /* as found, as left */
};

struct trend {
	const char *label;         /* what */
	const char *unit;          /* of its values; "" for none */
	const char *words;         /* what it says, in a sentence; "" for none */
	struct plot_point *points; /* oldest first; owned */
	int count;                 /* of points */
	bool has_limit;            /* there is one */
	double limit;              /* a rating, a target, a limit */
	const char *limit_name;    /* a word for it */
};

struct block {
	enum block_kind kind; /* which of the members below count */
	enum tone tone;       /* paragraphs and findings */
	int level;            /* headings: 1 to 3 */
	const char *text;     /* heading, paragraph, title of a finding, caption of a table; "" none */
	const char *label;    /* of a finding: how sure, how urgent */
	int column_count;     /* tables, pairs, lists, lines of a finding */
	struct column columns[DOCUMENT_MOST_COLUMNS]; /* theirs */
	struct row *rows;                             /* theirs; owned */
	size_t row_count;                             /* of them */
	struct measure *measures;                     /* readings and rulers; owned */
	size_t measure_count;                         /* of them */
	struct trend trend;                           /* trends */
};

/* A picture as the bytes of its file; borrowed for as long as the document lives. */
struct picture {
	unsigned char *bytes;       /* NULL: there is none */
	size_t length;              /* of them */
	bool is_jpeg;               /* else PNG */
};

enum { DOCUMENT_TEXT_COLUMNS = 80 }; /* of a page of text */

struct document {
	const char *title;          /* what it is, whose and of when; never NULL */
	const char *whose;          /* at the foot of every sheet; "" for none */
	const char *number;         /* likewise */
	int columns;                /* of the text; 0: DOCUMENT_TEXT_COLUMNS */
	bool is_a4;                 /* sheets are A4; else Letter, or what the printer holds */
	bool is_dense;              /* may be set small: for readers who look things up */
	bool is_tight;              /* set close: for what would take too many sheets */
	struct picture logo;        /* beside the letterhead */
	struct block *blocks;       /* from top to bottom; owned */
	size_t block_count;         /* of them */
	struct document_kept *kept; /* every string of the document; owned */
	bool failed;                /* memory ran out: the document is cut short */
};

void document_init(struct document *document);

/* Frees everything and makes it empty again. */
void document_done(struct document *document);

/* Keeps a safe copy of a string (NULL counts as "") as long as the document lives; never NULL. */
const char *document_keep(struct document *document, const char *string);
const char *document_format(struct document *document, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

/* What it is called, and what stands at the foot of every sheet. */
void document_name(struct document *document, const char *title, const char *whose,
                   const char *number);

/* Each of these adds at the end; a block takes rows until the next one is opened. */
void document_heading(struct document *document, int level, const char *text);

/* One paragraph for each line of `text`; empty lines are left out. */
void document_paragraph(struct document *document, enum tone tone, const char *text);

void document_letterhead(struct document *document);
void document_list(struct document *document);
void document_pairs(struct document *document);
void document_signature(struct document *document);
void document_finding(struct document *document, enum tone tone, const char *title,
                      const char *label);
/* `columns` ends with a column whose header is NULL. */
void document_table(struct document *document, const char *caption, const struct column *columns);
void document_readings(struct document *document, const char *caption);
void document_rulers(struct document *document, const char *caption);

/* A row for the block opened last; as many cells as it has columns. */
void document_item(struct document *document, const char *text);
void document_pair(struct document *document, const char *name, const char *value);
void document_row(struct document *document, const char *const *cells, enum row_weight weight);

/* A measure for the block opened last; its strings are copied. */
void document_measure(struct document *document, const struct measure *measure);

/* A trend; its strings and points are copied. */
void document_trend(struct document *document, const struct trend *trend);

/* The stages in words, "as found" and "as left", and whether a block has any value there. */
extern const char *const document_stage_words[DOCUMENT_STAGES];
bool document_has_stage(const struct block *block, int stage);

/* ---- Formats ---- */

enum document_format {
	DOCUMENT_TEXT,     /* 80 columns */
	DOCUMENT_MARKDOWN, /* with tables as GitHub, GitLab and pandoc read them */
	DOCUMENT_HTML,     /* one self-contained page that prints on Letter and A4 */
	DOCUMENT_CSV,      /* RFC 4180, one line an item */
	DOCUMENT_FORMAT_COUNT
};

/*
 * Appends the document in a format; `plain` asks for ASCII where the format
 * is read by eye (text, Markdown).  Numbers and dates never follow the locale.
 */
void document_write(const struct document *document, enum document_format format, bool plain,
                    struct text *text);

/*
 * Cuts a document that was written as text into sheets of DOCUMENT_SHEET_ROWS
 * lines, each with whose it is, its number and "page 1 of 3" at the foot, and a
 * form feed between them.  A sheet ends at an empty line where there is one
 * near its end.  Appends to `sheets`.
 */
enum { DOCUMENT_SHEET_ROWS = 60 }; /* six an inch: Letter and A4 with margins */
void document_add_sheets(const struct document *document, const char *text, bool plain,
                         struct text *sheets);

/* How many sheets that makes. */
int document_count_sheets(const struct document *document, const char *text);

#endif
