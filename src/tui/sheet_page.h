#ifndef TUI_SHEET_PAGE_H
#define TUI_SHEET_PAGE_H

#include "tui/form.h"

/* The sheet of readings, for the files that it is made of: its rows, its keys, its drawing. */

enum { SHEET_MOST_ROWS = 64, SHEET_FOLDED_SIZE = 160 };

/* One line of the sheet: a text of the call, a reading, or the rows that are folded away. */
struct sheet_row {
	bool is_field;        /* a text */
	bool is_fold;         /* the line that opens the folded rows */
	enum field field;     /* which text */
	enum reading reading; /* READING_NONE for texts */
};

/* The element that a row of the sheet writes in: a column of the call. */
struct sheet_column {
	enum stage stage; /* as found, as left */
};

struct sheet {
	struct sheet_row rows[SHEET_MOST_ROWS];  /* of the step, as they apply to this unit */
	struct form_line lines[SHEET_MOST_ROWS]; /* how each is written */
	struct form_kind kind;             /* of them */
	int count;                         /* of both */
	int at;                            /* the row under the cursor */
	int top;                           /* the first in sight */
	int room;                          /* rows that the page has for them, as drawn last */
	enum step step;                    /* whose rows these are */
	char call[UID_SIZE];               /* on which call */
	bool was_unsafe;                   /* the value being kept deserves the safety warning */
	bool was_untested;                 /* it starts a compressor whose windings come first */
	bool was_corrected;                /* a value stood there already */
	struct visit last;                 /* the visit before this call */
	wall_time last_at;                 /* when it was */
	bool has_last;                     /* there was one */
	enum reading carried;              /* whose value is being moved; READING_NONE: none */
	enum stage carried_from;           /* and from which column */
	bool is_open;                      /* nothing is folded away */
	int folded;                        /* rows that are */
	char folded_names[SHEET_FOLDED_SIZE]; /* "breaker or fuse fitted, SEER2, …" */
};

/* ---- Rows (sheet_rows.c) ---- */

/* Finds out which rows the sheet has now; whoever keeps something changes them. */
void sheet_gather(struct workbook *workbook, struct sheet *sheet);

/* A row with one column only: texts, safety, the nameplate, the site. */
bool sheet_is_single(const struct sheet_row *row);

/* Where a row, by its text or its reading, stands now; -1: nowhere. */
int sheet_find_row(const struct sheet *sheet, const struct sheet_row *row);

/* The stage that a row is written in now. */
enum stage sheet_stage(struct workbook *workbook, const struct sheet_row *row);

/* What is written in a row, in the column of a stage. */
struct form_place sheet_place(struct sheet *sheet, int at, enum stage stage);

/* ---- Drawing (sheet_draw.c) ---- */

/* Draws the rows and the margin into the area. */
void sheet_draw(struct workbook *workbook, struct sheet *sheet, struct area area);

#endif
