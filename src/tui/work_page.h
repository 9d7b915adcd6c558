#ifndef TUI_WORK_PAGE_H
#define TUI_WORK_PAGE_H

#include <padside/app/session_find.h>

#include "tui/work.h"

/*
 * The page of the work, for the files that draw its parts: the charge log, the
 * work with the price list below it, the money.
 */

enum {
	WORK_MOST_PICKS = 5, WORK_AMOUNT_COLUMNS = 10, WORK_WIDE_COLUMNS = 110,
	WORK_ROOMY_COLUMNS = 80 /* from there on every column of every table has its place */,
	WORK_MONEY_ROWS = (MONEY_LINE_COUNT + 1) / 2 /* of its lines, two beside each other */
};

enum work_part { PART_CHARGE, PART_WORK, PART_MONEY, PART_COUNT };

struct work {
	enum work_part part;                  /* under the cursor */
	int row[PART_COUNT];                  /* in each part: the line; their number: a new one */
	int column[PART_COUNT];               /* and the column */
	struct charge_entry blank_charge;     /* what the new entry begins as, with its uid */
	struct price_item picks[WORK_MOST_PICKS]; /* found for the description being written */
	int pick_count;                       /* of them */
	int picked;                           /* the chosen one; -1: none, the text is taken as typed */
	char currency[16];                    /* of the book */
	struct uid call;                      /* whose page that is */
};

/* ---- Where one is (work_place.c) ---- */

const struct call *work_call(struct workbook *workbook);

/* Lines of a part, the empty one included. */
int work_rows(struct workbook *workbook, enum work_part part);

struct form_place work_place(struct workbook *workbook, const struct work *work,
                             enum work_part part, int row, int column);

/* ---- Tables (work_table.c) ---- */

/* Where a column of a table stands. */
struct work_slot {
	int field;        /* which line of the form */
	const char *head; /* above it */
	int width;        /* columns; 0: what is left */
};

/* The heading of a part, reversed where the cursor is; the column behind it. */
int work_draw_title(struct workbook *workbook, const struct work *work, enum work_part part,
                    struct area area, const char *title);

/*
 * Draws one line of a table and returns the column behind it.  Where not all
 * has room, the columns behind the first give way to the one under the cursor.
 */
int work_draw_slots(struct workbook *workbook, struct work *work, enum work_part part,
                    struct area area, int at, int row, const struct work_slot *slots, int count);
void work_draw_heads(struct workbook *workbook, const struct work *work, enum work_part part,
                     struct area area, int at, const struct work_slot *slots, int count);

/* What stands before a line: kept, being written, refused. */
void work_draw_mark(struct workbook *workbook, const struct work *work, enum work_part part,
                    struct area area, int at, int row);

/* A text that has no column: a line of its own below the table. */
void work_draw_note(struct workbook *workbook, struct work *work, enum work_part part,
                    struct area area, int at, int field);

/* The first line in sight of a table of `rows` lines. */
int work_first(struct workbook *workbook, const struct work *work, enum work_part part, int rows);

bool work_is_here(const struct work *work, enum work_part part, int row, int field);

/* ---- The parts ---- */

/* work_charge.c */
void work_draw_charge(struct workbook *workbook, struct work *work, struct area area);
/* work_table.c */
void work_draw_lines(struct workbook *workbook, struct work *work, struct area area);
/* work_money.c: `rows` are those that all of it takes */
void work_draw_money(struct workbook *workbook, struct work *work, struct area area);
int work_money_rows(struct workbook *workbook);

#endif
