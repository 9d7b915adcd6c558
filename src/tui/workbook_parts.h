#ifndef TUI_WORKBOOK_PARTS_H
#define TUI_WORKBOOK_PARTS_H

#include "tui/closed.h"
#include "tui/form.h"
#include "tui/margin.h"
#include "tui/meeting.h"
#include "tui/records.h"
#include "tui/workbook.h"

/* The workbook's inside, for the files that it is made of. */

enum { WORKBOOK_MESSAGE_SIZE = 400, WORKBOOK_MOST_HOT = 256, TIMER_OFF = -1 };

/* Cells that can be clicked. */
struct hot {
	int row, column, width; /* where */
	int which;              /* what it is to the screen */
};

/* What Enter behind a reading goes on to. */
enum following {
	FOLLOWING_NONE,  /* the row below */
	FOLLOWING_CHECK, /* the reading that would decide most */
	FOLLOWING_LIST   /* what the tune-up list misses next */
};

struct workbook {
	struct session *session;         /* not owned */
	struct canvas *canvas;           /* owned */
	const struct screen *const *screens; /* each by its id */
	void *states[SCREEN_COUNT];      /* what each screen remembers; the first has all, owned */
	enum screen_id screen;           /* in sight */
	enum screen_id before[SCREEN_COUNT]; /* where each was come to from */
	enum step step;                  /* of the call */
	enum stage stage;                /* whose column is written */
	struct uid customer;             /* whose page */
	struct uid system;               /* whose history */
	char message[WORKBOOK_MESSAGE_SIZE]; /* said until the next key; "" for none */
	unsigned message_style;          /* its ink */
	char hint[WORKBOOK_MESSAGE_SIZE]; /* drawn where nothing is said */
	unsigned hint_style;             /* its ink */
	int64_t timer;                   /* session_steady() when the timer was started; TIMER_OFF */
	struct uid timer_call;           /* on whose call it was */
	struct form *form;               /* what is being written; owned */
	enum reading target;             /* the sheet is entered for it; READING_NONE */
	enum field target_field;         /* the page is entered for it; FIELD_COUNT */
	struct margin_view margin;       /* which figures are in sight */
	enum request_place help_place;   /* whose keys the help tells first */
	enum reading here;               /* under the cursor of the sheet; READING_NONE */
	enum following following;        /* what Enter goes on to */
	enum reading followed;           /* the item of the tune-up list that was gone to */
	struct hot hot[WORKBOOK_MOST_HOT]; /* of the frame drawn last */
	int hot_count;                   /* of them */
	bool redraw;                     /* the terminal is to be drawn from scratch */
	struct record taken;             /* taken along from page to page; RECORD_NONE: nothing */
	struct record joined;            /* what was joined last, or the call that was moved last */
	struct session_whose moved;      /* where such a call was */
	enum closed_question closed;     /* what is asked before a closed call is changed */
	enum closed_about asked_about;   /* which of the questions */
	struct key asked_keys[CLOSED_MOST_KEYS]; /* the key that asked, and what was typed behind it */
	int asked_key_count;             /* of them */
	struct uid allowed[CLOSED_ABOUT_COUNT]; /* the call where the answer was yes */
	enum request warned;             /* of what is refused, when this was asked for; NONE */
	int look_ms;                     /* until the next look after a writing; 0: none is due */
	bool is_watched;                 /* a tick comes by itself when the book's files change */
	const char *program;             /* that can meet the office; NULL: none; not owned */
	struct meeting meeting;          /* that runs beside */
	wall_time meet_at;               /* the next one by itself; WALL_TIME_NONE: none */
	wall_time tried_at;              /* when the last one began */
	bool is_asked;                   /* it was begun by a key */
	bool has_failed;                 /* it ended badly */
	bool over;                       /* the program is asked to end */
};

/* The screen in sight, and what it remembers. */
const struct screen *workbook_screen(const struct workbook *workbook);
void *workbook_state(const struct workbook *workbook);

/* The place whose keys work now. */
enum request_place workbook_where(const struct workbook *workbook);

/* What lies before that place and takes its keys first; PLACE_COUNT for nothing. */
enum request_place workbook_inner(struct workbook *workbook);

/* Whether the route and the so-far line belong to the page in sight. */
bool workbook_has_frame(const struct workbook *workbook);

/* Whether the settle timer runs for the open call. */
bool workbook_has_timer(const struct workbook *workbook);

/* Whether the keys of a call work here. */
bool workbook_is_on_call(const struct workbook *workbook);

/* The screen in sight keeps what is being written. */
void workbook_leave_screen(struct workbook *workbook);

/* The i-th text of the open call that is not kept; NULL behind the last (workbook_held.c). */
const struct session_pending *workbook_unkept(const struct workbook *workbook, int i);

/* What is asked for to go to its page (workbook_held.c). */
enum request workbook_unkept_page(const struct session_pending *held);

/* Looks whether another program wrote; what changed is in sight then (workbook_tick.c). */
void workbook_look(struct workbook *workbook);

/* Goes to what an earlier run could not keep, if anything is (workbook_unkept.c). */
void workbook_go_unkept(struct workbook *workbook);

/* Tells what has to wait; false for nothing (workbook_held.c). */
bool workbook_tell_waiting(const struct workbook *workbook, struct text *words);

/* Meets the office now (workbook_office.c). */
void workbook_meet(struct workbook *workbook);

/* Looks after a meeting that runs, or begins one that is due (workbook_office.c). */
void workbook_look_office(struct workbook *workbook);

/* Milliseconds until that is to be done; below 0: never (workbook_office.c). */
int workbook_office_wait(const struct workbook *workbook);

/* The terminal is gone, or the system ends the program: there is nobody to ask (workbook_ask.c). */
void workbook_end_now(struct workbook *workbook);

/* Goes to a step by its number; beyond the ends nothing happens (workbook_ask.c). */
void workbook_turn_step(struct workbook *workbook, int step);

/* What keys ask for wherever one is; false for what only a screen can do (workbook_ask.c). */
bool workbook_carry_out(struct workbook *workbook, enum request request);

#endif
