#ifndef PADSIDE_SESSION_H
#define PADSIDE_SESSION_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/model/call.h>
#include <padside/model/charging.h>
#include <padside/base/clock.h>
#include <padside/diagnose/diagnose.h>
#include <padside/base/error.h>
#include <padside/model/figures.h>
#include <padside/report/lacks.h>
#include <padside/report/noted.h>
#include <padside/store/store.h>

/*
 * The work on one call, without a screen: everything that a front end can do,
 * so that all of it is tested headless.
 *
 * What is typed goes to the book first and into memory only when it is there;
 * then figures and findings are worked out again.  Whatever fails leaves the
 * call as it was, and the error says so.
 */
struct session;

/* A session on an open book, which it does not own.  No call is open yet. */
enum status session_new(struct store *store, const struct clock *clock, enum unit_system units,
                        struct session **session, struct error *error);
void session_free(struct session *session);

/* The book, the units, the time: for screens that need them. */
struct store *session_store(const struct session *session);
enum unit_system session_units(const struct session *session);
void session_set_units(struct session *session, enum unit_system units);
wall_time session_now(const struct session *session);

/* Seconds by which to measure how long something took; setting the clock does not move them. */
int64_t session_steady(const struct session *session);

/* ---- The call ---- */

/*
 * Starts a new call, in the book at once, and opens it.  Each uid may be NULL
 * or none: a new customer, site or system.  A known system brings its site,
 * its customer and its nameplate.  On failure the call that was open stays open.
 */
enum status session_start(struct session *session, const struct uid *customer,
                          const struct uid *site, const struct uid *system, struct error *error);

/*
 * Opens a call of the book by its uid or a beginning of it; on failure the one that was open stays.
 */
enum status session_open(struct session *session, const char *uid, struct error *error);

/* Leaves the call; everything is in the book already. */
void session_leave(struct session *session);

/*
 * Looks whether another program changed the open call, and reads it again if
 * so; *changed (may be NULL) says whether anything is another now.  Costs
 * nothing when nobody wrote; never waits for a writer.  To be called when the
 * call is looked at.  STATUS_NOT_FOUND: it was taken out.
 */
enum status session_refresh(struct session *session, bool *changed, struct error *error);

/* Where the book lies; "" for one in memory.  Borrowed. */
const char *session_path(const struct session *session);

/* Whether another program wrote in the book since this was asked last. */
bool session_other_wrote(struct session *session);

/* The open call; NULL when there is none.  Borrowed. */
const struct call *session_call(const struct session *session);

/* Says that the call is finished, or takes that back. */
enum status session_close_call(struct session *session, bool closed, struct error *error);

/* ---- Fields: texts, times and amounts (include/padside/app/fields.def) ---- */

enum field {
#define FIELD(id, ...) FIELD_##id,
#include <padside/app/fields.def>
#undef FIELD
	FIELD_COUNT
};

enum { FIELD_SHOWN_SIZE = CLOCK_TEXT_SIZE };

struct field_info {
	const char *label; /* on the sheet */
	const char *help;  /* one line */
	size_t size;       /* bytes that may be typed, NUL included */
	bool is_text;      /* a text; else a time or an amount */
};

const struct field_info *field_info(enum field field);

/*
 * A field of the open call as it is shown: a text, a time to the minute
 * ("2026-06-03 09:30"), an amount ("350.00"); "" when it is empty.  Borrowed
 * until the next change.
 */
const char *session_field(const struct session *session, enum field field);

/*
 * Keeps what was typed.  Of a text, control characters become spaces; a time
 * is "now", "9:30" of today, or a date with or without a time; what is too
 * long or is none is refused.  "" makes the field empty; but a customer who has
 * a name keeps one: STATUS_REFUSED.  A name that accepts the work (FIELD_ACCEPTED_BY) brings
 * the time and the total; without one there is neither.
 */
enum status session_type_field(struct session *session, enum field field, const char *typed,
                               struct error *error);

/* What is odd about what a field has, such as "there are no digits in it"; NULL: nothing. */
const char *session_field_doubt(const struct session *session, enum field field);

/* ---- Readings ---- */

/*
 * Reads what was typed, keeps it with the time, and works everything out
 * again.  Empty text makes the reading "not taken".
 */
enum status session_type(struct session *session, enum stage stage, enum reading reading,
                         const char *typed, struct error *error);

/* Who works with this book: its setting, else the technician of the open call; "" for nobody. */
void session_technician(const struct session *session, char *out, size_t size);

/*
 * Whether typing this reading now deserves the plain warning that the unit
 * was not recorded as made safe.  True until the first such reading is kept;
 * the call then records when.
 */
bool session_warns_unsafe(const struct session *session, enum reading reading);

/*
 * Whether the compressor is about to be noted as started again though a test of
 * its windings to the shell was asked for, a tripped breaker or a grounded
 * winding being suspected, and none was made.
 */
bool session_warns_untested(const struct session *session, enum stage stage,
                            enum reading reading);

/*
 * Moves a value to another reading or column that has none and takes such a
 * value; one change to take back.
 */
enum status session_move_value(struct session *session, enum stage stage, enum reading reading,
                               enum stage to_stage, enum reading to, struct error *error);

/*
 * Takes back the last change kept since the call was opened, whatever it was
 * of, as a new change.  `what` (best of SESSION_UNDONE_SIZE bytes) says which,
 * where it stands, what stands there now and what stood there; STATUS_NOT_FOUND
 * when there is none, STATUS_REFUSED when another program changed the same since.
 */
enum { SESSION_UNDONE_SIZE = 240 };
enum status session_undo(struct session *session, char *what, size_t size, struct error *error);

/*
 * Makes the last change that was taken back again; a new change ends that.
 * STATUS_NOT_FOUND when there is none, STATUS_REFUSED when another program
 * changed the same since.
 */
enum status session_redo(struct session *session, char *what, size_t size, struct error *error);

/* The step on whose page a field of the call is typed; STEP_COUNT: on none. */
enum step session_field_step(enum field field);

/* ---- What it means ---- */

const struct figure_set *session_figures(const struct session *session, enum stage stage);
const struct diagnosis *session_diagnosis(const struct session *session, enum stage stage);

/* Row `which`, 0 to NOTED_ROWS - 1, of what is noted beside the findings; false for nothing. */
bool session_noted(const struct session *session, int which, struct noted *noted);

/* The stage that the so-far line speaks of: the one that was read last. */
enum stage session_stage(const struct session *session);

/* How far a step is; also for those without readings. */
enum progress session_progress(const struct session *session, enum step step);

/* ---- Not kept yet ---- */

enum { SESSION_WHAT_SIZE = 24, SESSION_LABEL_SIZE = 64 };

/*
 * What was typed and is not in the book: the book was locked or the drive full,
 * or the text is none that the place takes.  It is held until the same place is
 * kept or it is dropped, and lies in a file beside the book meanwhile.
 * session_type() and session_type_field() hold what may be kept later by
 * themselves; a front end holds the rest.
 */
struct session_pending {
	struct uid call;               /* of which call; none: the open one */
	bool is_field;                 /* a field */
	enum field field;              /* which */
	bool is_line;                  /* a place that only the front end knows; else a reading */
	char what[SESSION_WHAT_SIZE];  /* of such a place: the kind of thing */
	struct uid uid;                /* which one */
	char label[SESSION_LABEL_SIZE]; /* and of it */
	int which;                     /* of several alike */
	enum stage stage;              /* of the reading */
	enum reading reading;          /* which */
	char text[NOTE_SIZE];          /* as typed */
	char why[sizeof((struct error *)0)->text]; /* it is not kept; "" not known any more */
	bool refused;                  /* to be corrected: trying again does not help */
	bool recovered;                /* of an earlier run: to be looked at, not tried by itself */
};

size_t session_pending_count(const struct session *session);

/* One of them; NULL past the end.  Borrowed. */
const struct session_pending *session_pending_at(const struct session *session, size_t index);

/* What is held for a place (its text does not matter); NULL: nothing. */
const struct session_pending *session_pending_find(const struct session *session,
                                                   const struct session_pending *place);

/* What the place is called on the page. */
const char *session_pending_label(const struct session_pending *pending);

/* Holds a text, instead of what was held for the place; gives one up. */
enum status session_hold(struct session *session, const struct session_pending *pending,
                         struct error *error);
void session_pending_drop(struct session *session, size_t index);

/* Gives up what is held for a place, if anything is. */
void session_pending_drop_place(struct session *session, const struct session_pending *place);

/* Whether what failed so may succeed when it is tried again. */
bool session_may_keep_later(enum status status);

/* Whether something of the open call is to be tried again. */
bool session_is_waiting(const struct session *session);

/*
 * Tries to keep the fields and readings held for the open call, in order; stops
 * at the first that has to wait.  STATUS_OK: nothing of it is left to try.
 */
enum status session_retry(struct session *session, struct error *error);

/*
 * Writes what is held into a file beside the book (BOOK.unkept), or removes
 * that when nothing is.  To be called when session_is_spool_due(), and before
 * the program ends, whatever ends it.  The next session finds it there; what
 * another program holds in that file stays.
 */
enum status session_spool(struct session *session, struct error *error);

/* Whether that file is behind what is held. */
bool session_is_spool_due(const struct session *session);

/* ---- Questions of a merge ---- */

/* Fields of the open call that two books changed without knowing of each other. */
size_t session_question_count(const struct session *session);

/* One of them; NULL past the end.  Borrowed until the next change. */
const struct store_question *session_question_at(const struct session *session, size_t index);

/* Answers it: the value that counts now stays, or the other one counts. */
enum status session_answer(struct session *session, size_t index, bool keep_now,
                           struct error *error);

/* ---- Changes of the open call, from the book's trail ---- */

/* All of them, newest first, an acceptance as one; the list is the caller's (free). */
enum status session_changes(struct session *session, struct store_entry **list, size_t *count,
                            struct error *error);

/* Takes one of them back; STATUS_REFUSED where its field was changed again since. */
enum status session_take_back(struct session *session, const struct store_entry *entry,
                              struct error *error);

/* ---- The office ---- */

/* How the book stands to the firm's office. */
struct session_office {
	bool is_built;     /* this program can meet an office at all */
	bool is_named;     /* the settings name it, and this program can meet it */
	int64_t waiting;   /* changes that it does not have yet */
	wall_time met_at;  /* when it was last met to the end; WALL_TIME_NONE: never */
};

/* From the book alone; the office is met by another run of the program (padside sync). */
enum status session_office(struct session *session, struct session_office *office,
                           struct error *error);

/* ---- Whose call, which unit ---- */

/*
 * Moves the open call to another customer, or unit (with its site and
 * customer); NULL or none: stays.  One change to take back.
 */
enum status session_move_call(struct session *session, const struct uid *customer,
                              const struct uid *system, struct error *error);

/*
 * The same for any call of the book.  Of the open one, what was typed for a
 * customer or an address that only this call had comes along: it fills what
 * the other record does not say, and what differs is written into the office
 * note.  Only the open call's moving can be taken back by session_undo().
 */
enum status session_move_visit(struct session *session, const struct uid *call,
                               const struct uid *customer, const struct uid *system,
                               struct error *error);

/* Whose a call of the book is, and whether it is closed. */
struct session_whose {
	struct uid call;                   /* which one */
	struct uid customer, site, system; /* of whom, where, of which unit */
	bool is_closed;                    /* finished */
};

enum status session_find_whose(struct session *session, const struct uid *call,
                               struct session_whose *whose, struct error *error);

/* Moves a call back to where session_find_whose() found it. */
enum status session_move_back(struct session *session, const struct session_whose *whose,
                              struct error *error);

/* Joins two records of one customer, site or system: all of `from` is `into`'s from now on. */
enum status session_join(struct session *session, enum store_kind kind, const struct uid *from,
                         const struct uid *into, struct error *error);

/* Takes a joining back. */
enum status session_part_again(struct session *session, const struct uid *uid,
                               struct error *error);

/* Takes out what was made by mistake (store_take_out), and brings it back. */
enum status session_take_out(struct session *session, const struct uid *uid, struct error *error);
enum status session_bring_back(struct session *session, const struct uid *uid,
                               struct error *error);

/* ---- Lists ---- */

/*
 * Keeps an element of a list of the open call: by its uid, or as a new one.
 * `element` is of that list.  One that is outside its limits is refused.
 */
enum status session_put(struct session *session, enum call_list list, const void *element,
                        struct error *error);

/* Takes the element at `index` out. */
enum status session_remove(struct session *session, enum call_list list, size_t index,
                           struct error *error);

/* The same, by name. */
enum status session_put_charge(struct session *session, const struct charge_entry *entry,
                               struct error *error);
enum status session_put_work(struct session *session, const struct work_line *line,
                             struct error *error);
enum status session_put_offer(struct session *session, const struct offer *offer,
                              struct error *error);
enum status session_put_watch(struct session *session, const struct watch_item *item,
                              struct error *error);

enum status session_remove_charge(struct session *session, size_t index, struct error *error);
enum status session_remove_work(struct session *session, size_t index, struct error *error);
enum status session_remove_offer(struct session *session, size_t index, struct error *error);
enum status session_remove_watch(struct session *session, size_t index, struct error *error);

/* Keeps taxes, discount, deposit and energy figures. */
enum status session_put_billing(struct session *session, const struct billing *billing,
                                struct error *error);

/* What is still to be written down before the report is handed over (lacks.h). */
enum paper_lack session_report_lacks(const struct session *session);

/* What the charge log says: settled or not, how much more to move, how long to wait. */
void session_charging(const struct session *session, struct charging *charging);

/* ---- Earlier visits ---- */

/*
 * Watch items that other calls had noted on this system when the visit began, and it left open,
 * newest first; on a visit that is over some of them may have been closed since.
 */
size_t session_open_items(const struct session *session);
const struct watch_item *session_open_item(const struct session *session, size_t index);

/* Closes one of them as dealt with; session_undo() opens it again. */
enum status session_close_item(struct session *session, size_t index, struct error *error);

#endif
