#ifndef TUI_LOG_PAGE_H
#define TUI_LOG_PAGE_H

#include "tui/form.h"

/*
 * A page of one list of the call, a line each and a cell each field; the last
 * field has a line of its own below, and the page its words behind that.  The
 * last line is always empty: writing in it makes a new one.
 */

enum { LOG_MOST_COLUMNS = 8 };

struct log_column {
	const char *head; /* above it */
	int width;        /* of it */
	enum unit unit;   /* behind the head, as it is typed here; UNIT_NONE: nothing */
};

struct log_kind {
	const struct form_kind *form;                 /* its list and fields; the last stands below */
	struct log_column columns[LOG_MOST_COLUMNS];  /* of the fields before the last */
	const char *title;                            /* of the page */
	const char *caution;                          /* below it, at most two rows */
	const char *last;                             /* before the last field */
	const char *a_line;                           /* what one is: "line" */
	int foot;                                     /* rows of the last field and the words */
	/* What a new line begins as, besides being empty. */
	void (*begin)(const struct call *call, void *element);
	/* Whether a line has this field: Enter passes the others by.  NULL: each has all. */
	bool (*has)(const void *element, int column);
	/* Behind a line, in what room its columns leave; NULL: nothing. */
	const char *(*behind)(const void *element);
	/* What the list and the line under the cursor come to. */
	void (*draw_words)(struct workbook *workbook, const void *element, struct area area);
};

/* A new line before it is kept. */
union log_blank {
	struct uid uid; /* what every element begins with */
	struct tightness_entry entry;
	struct cylinder cylinder;
};

struct log_page {
	int row, column;       /* under the cursor; the row behind the last is a new one */
	int top;               /* the first row in sight */
	union log_blank blank; /* the new one */
	struct uid call;       /* whose page that is */
};

/* The call was opened or come back to: on another call the cursor goes to the new line. */
void log_page_enter(struct workbook *workbook, const struct log_kind *kind, struct log_page *page);

/* Keeps what is being written. */
void log_page_leave(struct workbook *workbook, const struct log_kind *kind, struct log_page *page);

/* What lies before the page: the field under the cursor (form.h). */
enum request_place log_page_inner(struct workbook *workbook, const struct log_kind *kind,
                                  struct log_page *page);

/* The keys of a field and of the page; false for any other. */
bool log_page_press(struct workbook *workbook, const struct log_kind *kind, struct log_page *page,
                    enum request request, struct key key);

void log_page_draw(struct workbook *workbook, const struct log_kind *kind, struct log_page *page,
                   struct area area);

#endif
