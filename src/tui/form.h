#ifndef TUI_FORM_H
#define TUI_FORM_H

#include "tui/edit.h"
#include "tui/workbook.h"

/*
 * Lines that are written like the sheet's, for what is no reading: choices,
 * work, money, the charge log, the paper.  A table says what each line is
 * called and how it is read and written; where the lines stand on the page is
 * the screen's business.
 *
 * Typing writes, Ins and Backspace write on in what stands there, Enter keeps
 * and goes on, Esc drops, Space goes through the words of a line that has
 * some, Del empties it.  What is refused stays.
 */

enum { FORM_MOST_WORDS = 8, FORM_TEXT_SIZE = NOTE_SIZE };

struct form_line {
	const char *label;                   /* on the page */
	const char *help;                    /* one line */
	const char *words[FORM_MOST_WORDS];  /* what it may say; NULL ends; none: typed freely */
	size_t limit;                        /* most bytes that can be typed */
	bool is_number;                      /* stands at the right end of its place */
	int which;                           /* for get and set: which of several alike */
	/* Writes what the element has, as it would be typed; "" for nothing. */
	void (*get)(const struct form_line *line, const void *element, struct session *session,
	            char *out, size_t size);
	/* Reads what was typed into the element; touches nothing when it is refused. */
	enum status (*set)(const struct form_line *line, void *element, const char *typed,
	                   struct session *session, struct error *error);
};

struct form_kind {
	const struct form_line *lines; /* the table */
	int count;                     /* of lines */
	size_t size;                   /* of an element */
	/* Keeps an element, in the book before it returns. */
	enum status (*keep)(struct session *session, const void *element, void *context,
	                    struct error *error);
};

/* One line of one element. */
struct form_place {
	const struct form_kind *kind; /* what it is */
	const void *element;          /* as it is kept */
	bool is_fresh;                /* not kept yet: everything in it counts as empty */
	int line;                     /* which line */
	void *context;                /* for keep */
};

struct form {
	bool writing;     /* something is being written */
	bool refused;     /* and what was written was refused */
	struct edit edit; /* what is being written */
};

enum form_answer {
	FORM_IGNORED, /* not a key for a line */
	FORM_TAKEN,   /* taken */
	FORM_NEXT     /* Enter: whatever was written is kept; go on */
};

const struct form_line *form_line_at(const struct form_place *place);

/* What the line says; "" for nothing. */
void form_get(const struct form_place *place, struct session *session, char *out, size_t size);

/* Keeps what was typed for a line; false when it was refused, which is said. */
bool form_put(struct workbook *workbook, const struct form_place *place, const char *typed);

/* Keeps what is being written, if anything is; false when it was refused and stays. */
bool form_keep(struct workbook *workbook, struct form *form, const struct form_place *place);

/* What a key does to the line. */
enum form_answer form_press(struct workbook *workbook, struct form *form,
                            const struct form_place *place, struct key key);

/*
 * Draws the line in `width` columns; `here` when the cursor stands on it,
 * which then also says its help.
 */
void form_draw(struct workbook *workbook, struct form *form, const struct form_place *place,
               struct area area, int row, int column, int width, bool here);

/* Says the help of a line where nothing else is said. */
void form_hint(struct workbook *workbook, const struct form_line *line);

/*
 * Readers for `set`.  Empty text gives 0 or ""; what is refused touches
 * nothing.
 */
enum status form_read_text(const struct form_line *line, const char *typed, char *text,
                           size_t size, struct error *error);
enum status form_read_money(const struct form_line *line, const char *typed, cents *amount,
                            struct error *error);
enum status form_read_number(const struct form_line *line, const char *typed, double least,
                             double most, double *number, struct error *error);
/* A word of the line by its start; nothing typed is the first one. */
enum status form_read_word(const struct form_line *line, const char *typed, int *word,
                           struct error *error);

#endif
