#ifndef TUI_WORKBOOK_H
#define TUI_WORKBOOK_H

#include <stdbool.h>

#include <padside/app/session.h>
#include <padside/base/text.h>

#include "tui/canvas.h"
#include "tui/key.h"
#include "tui/requests.h"

/*
 * The workbook: which screen is shown, what stands around it, and where keys
 * go.  No terminal in here: tests press keys and look at the canvas.
 */

enum screen_id {
	SCREEN_BOOK,     /* find or begin a call */
	SCREEN_CUSTOMER, /* a customer's sites, units and visits */
	SCREEN_HISTORY,  /* a unit's readings over its visits */
	SCREEN_SHEET,    /* the steps with readings */
	SCREEN_FINDINGS, /* what is wrong */
	SCREEN_CHOICES,  /* what the customer can have done */
	SCREEN_WORK,     /* charge log, work, money */
	SCREEN_PAPER,    /* the paper */
	SCREEN_PREDICTIONS, /* readings beside what the explanations predict */
	SCREEN_REMOVED,   /* what was taken out of the book */
	SCREEN_CYLINDERS, /* the cylinders of the call */
	SCREEN_CHECKLIST, /* the tune-up list of the visit */
	SCREEN_COMPARE,  /* as found, as left and the last visit */
	SCREEN_TIGHTNESS, /* nitrogen test, vacuum, weighing in */
	SCREEN_CHANGES,   /* what was changed of the call */
	SCREEN_QUESTIONS, /* fields that two books changed */
	SCREEN_GO,       /* go anywhere by a few letters */
	SCREEN_HELP,     /* keys, and the field under the cursor */
	SCREEN_COUNT
};

struct workbook;
struct form;
struct margin_view;

/* What a screen can do.  Its state is zeroed memory of `state_size` bytes. */
struct screen {
	enum request_place place; /* whose keys it has, with those of the places around it */
	size_t state_size;        /* of what it remembers between keys */
	/* Where one is at the moment, for screens of several parts.  May be NULL. */
	enum request_place (*where)(const void *state);
	/* What lies between the key and the page, whose keys come first: a text that is written, a
	 * refused one, a field of few words; PLACE_COUNT: nothing.  May be NULL. */
	enum request_place (*inner)(struct workbook *workbook, void *state);
	/* Comes into sight: look at the session anew.  May be NULL. */
	void (*enter)(struct workbook *workbook, void *state);
	/* Draws into `area` of the workbook's canvas. */
	void (*draw)(struct workbook *workbook, void *state, struct area area);
	/* Takes a key and what it asks for in that place; false when it is none of its own. */
	bool (*press)(struct workbook *workbook, void *state, enum request request, struct key key);
	/* Goes out of sight: keeps what is being written, or leaves it refused.  May be NULL. */
	void (*leave)(struct workbook *workbook, void *state);
	/* A click on what workbook_hot() named `which`.  May be NULL. */
	void (*click)(struct workbook *workbook, void *state, int which);
	/* Frees what the state points to.  May be NULL. */
	void (*done)(void *state);
};

/* A workbook on a session, drawn at a size; NULL when memory ran out. */
struct workbook *workbook_new(struct session *session, int rows, int columns, bool plain);
void workbook_free(struct workbook *workbook);

/* Draws everything and returns the canvas. */
const struct canvas *workbook_draw(struct workbook *workbook);

/*
 * Takes one key.  Returns what it asked for and was carried out: REQUEST_TYPE for the text's own
 * keys, REQUEST_NONE when nothing was.
 */
enum request workbook_press(struct workbook *workbook, struct key key);

/* Whether the terminal is to be drawn from scratch; asked for once. */
bool workbook_take_redraw(struct workbook *workbook);

/* Another size of the terminal. */
void workbook_resize(struct workbook *workbook, int rows, int columns);

/* Whether the program is asked to end. */
bool workbook_is_over(const struct workbook *workbook);

/*
 * Time has passed, or the book's files changed: looks whether another program
 * wrote, tries again to keep what could not be kept.
 */
void workbook_tick(struct workbook *workbook);

/*
 * Something is being written beside the book: it can be read a moment later,
 * when it is on the drive, so the next ticks come soon.
 */
void workbook_note_writing(struct workbook *workbook);

/* Ticks come when the book's files change: nobody has to look now and then. */
void workbook_set_watched(struct workbook *workbook);

/* With this program the office is met ("PROGRAM --book BOOK sync"); it is not copied. */
void workbook_set_program(struct workbook *workbook, const char *program);

/* Milliseconds until something changes by itself; below 0: nothing will. */
int workbook_wait(const struct workbook *workbook);

/* ---- For the screens ---- */

struct session *workbook_session(struct workbook *workbook);
struct form *workbook_form(const struct workbook *workbook);
struct canvas *workbook_canvas(struct workbook *workbook);

/* The step of the call that is shown. */
enum step workbook_step(const struct workbook *workbook);

/* The stage whose column is being written. */
enum stage workbook_stage(const struct workbook *workbook);
void workbook_set_stage(struct workbook *workbook, enum stage stage);

/* The name of the key that goes to a step. */
const char *workbook_step_key(enum step step);

/* Goes to a screen, or to the screen of a step. */
void workbook_go(struct workbook *workbook, enum screen_id screen);
void workbook_go_step(struct workbook *workbook, enum step step);

/* Goes to the sheet of a reading and puts the cursor on its row. */
void workbook_go_reading(struct workbook *workbook, enum reading reading);

/* The reading that the sheet is entered for, once; READING_NONE for none. */
enum reading workbook_take_target(struct workbook *workbook);

/* The same for a field of the call, on its sheet or with the report; FIELD_COUNT for none. */
void workbook_go_field(struct workbook *workbook, enum field field);
enum field workbook_take_target_field(struct workbook *workbook);

/* Goes to a reading of the visit's tune-up list; Enter there goes on to the next one missing. */
void workbook_go_item(struct workbook *workbook, enum reading reading);

/*
 * Behind a reading that was gone to as the next check, or from the tune-up
 * list: goes to the next one; false when the cursor just goes on.
 */
bool workbook_follow(struct workbook *workbook);

/* Goes to the sheet where a figure is worked out and pins it. */
void workbook_go_figure(struct workbook *workbook, enum figure figure);

/* Carries out a request from the screen that this one was come to from. */
void workbook_ask(struct workbook *workbook, enum request request);

/* The help of a place. */
void workbook_go_help(struct workbook *workbook, enum request_place place);

/* The reading under the cursor of the sheet, for the help; READING_NONE: none. */
void workbook_set_here(struct workbook *workbook, enum reading reading);
enum reading workbook_here(const struct workbook *workbook);

/* Which figures the margin shows, kept from sheet to sheet. */
struct margin_view *workbook_margin(struct workbook *workbook);

/* Goes back to where the present screen was come to from. */
void workbook_go_back(struct workbook *workbook);

/* Whose keys the help tells first: those of where it was asked for. */
enum request_place workbook_place_before(const struct workbook *workbook);

/* Opens a call of the book at its first step; begins one on what is known (each may be NULL). */
void workbook_open_call(struct workbook *workbook, const struct uid *call);
void workbook_start_call(struct workbook *workbook, const struct uid *customer,
                         const struct uid *site, const struct uid *system);

/* What a page is about, for the customer's and the history screen. */
void workbook_set_customer(struct workbook *workbook, const struct uid *customer);
const struct uid *workbook_customer(const struct workbook *workbook);
void workbook_set_system(struct workbook *workbook, const struct uid *system);
const struct uid *workbook_system(const struct workbook *workbook);

/* The sentence under the sheet, until the next key. */
void workbook_say(struct workbook *workbook, unsigned style, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/* Says an error; returns false, so that a failing key can say `return workbook_refuse(…)`. */
bool workbook_refuse(struct workbook *workbook, const struct error *error);

/*
 * Whether something is asked for a second time, with no other key between: what
 * is hard to take back is done then, and asked about before.
 */
bool workbook_is_sure(struct workbook *workbook, enum request request);

/* "12 changes to send; last met 17:40"; "" where no office is named. */
void workbook_office_words(const struct workbook *workbook, char *out, size_t size);

/* Adds "5 texts are not kept: F7, F11" of the open call; false when all is kept. */
bool workbook_tell_unkept(const struct workbook *workbook, struct text *words);

/* Help for what the cursor stands on, drawn where nothing else is said. */
void workbook_hint(struct workbook *workbook, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

/* A caution in its place, before one does what it warns of. */
void workbook_warn(struct workbook *workbook, const char *words);

/*
 * The cells can be clicked in this frame: the screen's click() is told
 * `which`.  What is named later lies on top.
 */
void workbook_hot(struct workbook *workbook, struct area area, int row, int column, int width,
                  int which);

/* The least size that the pages are made for. */
enum { WORKBOOK_LEAST_ROWS = 20, WORKBOOK_LEAST_COLUMNS = 60 };

/* The screens, one a file. */
extern const struct screen screen_book, screen_sheet, screen_findings, screen_help;
extern const struct screen screen_choices, screen_work, screen_paper;
extern const struct screen screen_customer, screen_history, screen_go;
extern const struct screen screen_compare, screen_tightness, screen_predictions, screen_checklist;
extern const struct screen screen_cylinders, screen_removed;
extern const struct screen screen_questions, screen_changes;

#endif
