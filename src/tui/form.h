#ifndef TUI_FORM_H
#define TUI_FORM_H

#include <padside/app/short_texts.h>
#include <padside/base/text.h>

#include "tui/edit.h"
#include "tui/workbook.h"

/*
 * The one field editor: everything that is written in the workbook is a line
 * of an element of some kind: a reading, a text of the call, an option, a line
 * of the work, an entry of the charge log, the report's file.  A table says
 * what each line is called and how it is read and written; where the lines
 * stand on the page is the screen's business.
 *
 * Typing writes anew, an edit key edits what is there, Enter keeps and goes
 * on, Esc drops.  One rule for what is refused: the text stays in its field
 * with the sentence why, the cursor stays on it once, and nobody is held: the
 * next character replaces it, an edit key edits it, any other key goes on and
 * leaves it there, marked.  What only has to wait (the book is locked) stands
 * there likewise and is tried again.  The session holds both, over the end of
 * the program (session.h).
 */

enum { FORM_MOST_WORDS = 24, FORM_TEXT_SIZE = NOTE_SIZE };

struct form_line {
	const char *label;                   /* on the page */
	const char *help;                    /* one line */
	const char *words[FORM_MOST_WORDS];  /* what it may say; NULL ends; none: typed freely */
	bool is_said;                        /* what somebody said: no key goes through the words */
	size_t limit;                        /* most bytes that can be typed */
	bool is_number;                      /* stands at the right end of its place */
	enum short_place short_texts;        /* those that are written out here (short_texts.h) */
	bool is_measured;                    /* a reading, `which`: the same typed again is of now */
	bool is_field;                       /* a field of the call, `which` */
	int which;                           /* for get and set: which of several alike */
	/* Writes what the element has, as it would be typed; "" for nothing. */
	void (*get)(const struct form_line *line, const void *element, struct session *session,
	            char *out, size_t size);
	/* Reads what was typed into the element; touches nothing when it is refused. */
	enum status (*set)(const struct form_line *line, void *element, const char *typed,
	                   struct session *session, struct error *error);
};

/* Where an element of a kind lives. */
enum form_home {
	FORM_HOME_NONE,    /* in no list: each line keeps itself, or nothing is for the book */
	FORM_HOME_LIST,    /* in a list of the call */
	FORM_HOME_BILLING  /* the call's billing */
};

struct form_kind {
	const char *name;              /* of what is not kept, in the file; NULL: none */
	enum form_home home;           /* where what is not kept yet is tried again */
	enum call_list list;           /* of a list */
	const struct form_line *lines; /* the table */
	int count;                     /* of lines */
	size_t size;                   /* of an element */
	/* Keeps an element, in the book before it returns.  NULL: `set` has done so. */
	enum status (*keep)(struct session *session, const void *element, void *context,
	                    struct error *error);
	/* Behind a value that was kept: what is to be said about it.  May be NULL. */
	void (*kept)(struct workbook *workbook, const struct form_line *line, const void *element,
	             void *context);
};

/* One line of one element. */
struct form_place {
	const struct form_kind *kind; /* what it is */
	const void *element;          /* as it is kept */
	const struct uid *uid;        /* of the element; NULL where there is only one */
	bool is_fresh;                /* not kept yet: everything in it counts as empty */
	int line;                     /* which line */
	enum stage stage;             /* of a reading */
	void *context;                /* for keep and kept */
};

/* The field editor of a workbook. */
struct form;
struct form *form_new(void);
void form_free(struct form *form);

/* Forgets what is being written: another call is on the desk. */
void form_clear(struct workbook *workbook);

enum form_answer {
	FORM_IGNORED, /* not a key for a line */
	FORM_TAKEN,   /* taken */
	FORM_NEXT     /* Enter: whatever was written is kept; go on */
};

const struct form_line *form_line_at(const struct form_place *place);

/* What the line says; "" for nothing. */
void form_get(const struct form_place *place, struct session *session, char *out, size_t size);

/* Whether something is being written; and what. */
bool form_is_writing(const struct workbook *workbook);
const char *form_text(const struct workbook *workbook);

/* Drops what is being written. */
void form_drop(struct workbook *workbook);

/* Keeps what was typed for a line, or holds it to be tried again; false when it was refused. */
bool form_put(struct workbook *workbook, const struct form_place *place, const char *typed);

/*
 * Keeps what is being written, if anything is; what has to wait is held and
 * tried again.  False when it was refused:
 * the text stands in its field as refused, and the cursor should stay.
 */
bool form_keep(struct workbook *workbook, const struct form_place *place);

/*
 * What lies between a key and the page while the cursor is on the line: the text being
 * written, one that is not kept, a yes or no, another few words; PLACE_COUNT: nothing.
 */
enum request_place form_where(const struct workbook *workbook, const struct form_place *place);

/* What a key does to the line; `request` is what it asks for there. */
enum form_answer form_press(struct workbook *workbook, const struct form_place *place,
                            enum request request, struct key key);

/*
 * Draws the line in `width` columns; `here` when the cursor stands on it,
 * which then also says its help.
 */
void form_draw(struct workbook *workbook, const struct form_place *place, struct area area,
               int row, int column, int width, bool here);

/* Draws it wrapped into the cell where it is long; into one row while it is written. */
void form_draw_long(struct workbook *workbook, const struct form_place *place, struct area cell,
                    bool here);

/*
 * Says the help of a line where nothing else is said: one row of it.  Until the
 * next page is drawn form_add_help() tells all of it, with the words that the line
 * may say; nothing where no line is hinted.
 */
void form_hint(struct workbook *workbook, const struct form_place *place);
void form_add_help(struct workbook *workbook, struct text *text);
void form_begin_page(struct workbook *workbook);

/*
 * Tries again to keep the lines of elements that had to wait; `label` is that
 * of one that was kept, NULL when none was.
 */
void form_retry(struct workbook *workbook, const char **label);

/* ---- What is not kept (form_unkept.c) ---- */

/* What is held for a place, or would be: with its key, and a text where something is. */
bool form_held(const struct workbook *workbook, const struct form_place *place,
               struct session_pending *held);

/* The same, to look at only; NULL for nothing. */
const struct session_pending *form_find_held(const struct workbook *workbook,
                                             const struct form_place *place);

/*
 * Draws it in its field: the one sign of a text that is not kept, in words where
 * there is room, and what still counts instead.
 */
void form_draw_held(struct workbook *workbook, const struct form_place *place, struct area cell,
                    bool here);

/* Adds "; \"runs\" still counts" behind a refusal, where something was kept before. */
void form_add_counting(struct workbook *workbook, const struct form_place *place,
                       struct text *words);

/* ---- Readers for `set` (form_readers.c) ---- */

/* Empty text gives 0 or ""; what is refused touches nothing. */
enum status form_read_text(const struct form_line *line, const char *typed, char *text,
                           size_t size, struct error *error);
enum status form_read_money(const struct form_line *line, const char *typed, cents *amount,
                            struct error *error);
enum status form_read_number(const struct form_line *line, const char *typed, double least,
                             double most, double *number, struct error *error);
/* A word of the line by its start; nothing typed is the first one. */
enum status form_read_word(const struct form_line *line, const char *typed, int *word,
                           struct error *error);

/*
 * A time: an hour of the day that `*at` is on, or of today; a date; "now".
 * Nothing typed is now.  form_write_time() writes the hour, or nothing.
 */
enum status form_read_time(const struct form_line *line, const char *typed, wall_time now,
                           wall_time *at, struct error *error);
void form_write_time(wall_time at, char *out, size_t size);

/*
 * A number with or without a unit, in and out of the canonical `unit` by the
 * reader's units.  False when it is none.
 */
bool form_read_measure(const char *typed, enum unit unit, const struct session *session,
                       double *number);
/*
 * Refuses what is no number, with an example whose quantities are typed ("a weight like
 * {47.7 LB}"), and a number out of the range of the canonical `unit`: both in the reader's units.
 */
enum status form_refuse_number(const struct form_line *line, const char *example,
                               const struct session *session, struct error *error);
enum status form_refuse_range(const struct form_line *line, struct range range, enum unit unit,
                              const struct session *session, struct error *error);

void form_write_measure(double number, enum unit unit, int decimals, const struct session *session,
                        char *out, size_t size);

/* `get` and `set` of a line that is a field of the call, `which`: the session has it. */
void form_get_field(const struct form_line *line, const void *element, struct session *session,
                    char *out, size_t size);
enum status form_set_field(const struct form_line *line, void *element, const char *typed,
                           struct session *session, struct error *error);

#endif
