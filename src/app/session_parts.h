#ifndef APP_SESSION_PARTS_H
#define APP_SESSION_PARTS_H

#include <padside/app/session.h>
#include <padside/diagnose/assessment.h>
#include <padside/model/call_parts.h>

/* What the files of the session share. */

/* One element of any of them, or the billing. */
union element {
	struct charge_entry charge;
	struct work_line work;
	struct offer offer;
	struct watch_item watch;
	struct judgement judgement;
	struct tightness_entry tightness;
	struct cylinder cylinder;
	struct billing billing;
};

enum change_kind {
	CHANGE_READING, CHANGE_FIELD, CHANGE_BILLING,
	CHANGE_LIST_PUT, /* an element was there and is another now */
	CHANGE_LIST_ADD, /* an element came */
	CHANGE_LIST_OUT, /* an element was taken out */
	CHANGE_ITEM,     /* a watch item of an earlier call was closed */
	CHANGE_ACCEPTED, /* the customer accepted the work, or did no more */
	CHANGE_MOVED,    /* the call went to another customer or unit */
	CHANGE_ENTRY     /* one entry of the trail was taken back: exact texts of one field */
};

/* The customer's acceptance of the work. */
struct acceptance {
	char by[NAME_SIZE]; /* who; "" nobody */
	wall_time at;       /* when */
	cents total;        /* at which total; 0 not said */
};

/* What stood there, or stands there now. */
union content {
	struct value value;           /* the reading */
	char text[NOTE_SIZE];         /* the field, as exact text */
	union element element;        /* the element, the billing */
	struct acceptance acceptance; /* of the work */
	struct uid people[3];         /* customer, site, system */
};

/* One change that can be taken back. */
struct change {
	enum change_kind kind;       /* which of the members below count */
	enum field field;            /* which text */
	enum stage stage;            /* of the reading */
	enum reading reading;        /* which reading */
	enum call_list list;         /* which list */
	struct uid uid;              /* of the element, of the thing of an entry */
	char name[64];               /* of an entry's field */
	char words[NAME_SIZE];       /* what that is called */
	union content before, after; /* what was there, and what was kept */
	bool with_next;              /* it is taken back together with the change before it */
};

enum { MOST_CHANGES = 64 };

struct session {
	struct store *store;                       /* the book; not owned */
	struct clock clock;                        /* where the time comes from */
	enum unit_system units;                    /* typed and shown */
	bool is_open;                              /* `call` holds an open call */
	struct call call;                          /* as the book has it */
	struct past past;                          /* of its unit, before the call */
	struct assessment assessment;              /* of its readings */
	struct call draft;                         /* the call while it is being changed */
	struct assessment next;                    /* of the draft */
	int64_t version;                           /* of the book when last looked at */
	struct change changes[MOST_CHANGES];       /* newest last, a ring */
	size_t change_first, change_count;         /* where it starts, how many */
	size_t undone_count;                       /* behind them: taken back, can be made again */
	struct watch_item *items;                  /* open items of earlier calls; owned */
	size_t item_count;                         /* of them */
	char shown[FIELD_COUNT][FIELD_SHOWN_SIZE]; /* times and amounts as people read them */
	char found_line[LINE_SIZE];                /* as saved with the call */
	char done_line[LINE_SIZE];                 /* likewise */
	bool lines_stand;                          /* they are; else they are to be saved */
	struct store_question *questions;          /* open ones of the call; owned */
	size_t question_count;                     /* of them */
	struct session_pending *pending;           /* typed and not kept yet; owned */
	size_t pending_count;                      /* of them */
	struct session_pending *ours;              /* places ever held here, for the file; owned */
	size_t ours_count;                         /* of them */
	bool spool_due;                            /* the file is behind */
	int64_t seen;                              /* the book's version when last asked for it */
};

/* ---- session_state.c ---- */

/* Takes over the call that was loaded into `call`. */
enum status session_enter(struct session *session, struct error *error);

/* Reads the open questions again. */
enum status session_load_questions(struct session *session, struct error *error);

/* Reads the open call again, whoever wrote in it. */
enum status session_read_again(struct session *session, struct error *error);

/* Reads the open watch items of earlier calls again. */
enum status session_load_items(struct session *session, struct error *error);

/*
 * A change: begin, write to the book and change `draft` the same way, end.
 * session_end() always ends it; only where it answers STATUS_OK the draft is
 * the call, and in the book.
 */
enum status session_begin(struct session *session, struct error *error);
enum status session_end(struct session *session, enum status status, struct error *error);

/* A place for one more change that can be taken back; the oldest goes when there are too many. */
struct change *session_push_change(struct session *session);

bool session_is_same_value(const struct value *a, const struct value *b);
bool session_is_same_part(enum call_part part, const void *a, const void *b);
bool session_is_same_element(enum call_list list, const void *a, const void *b);

/*
 * `given` was made of `base` here, which is `now` in the book: what was not
 * changed here becomes as the book has it.
 */
void session_follow_part(enum call_part part, const void *base, const void *now, void *given);
void session_follow_element(enum call_list list, const void *base, const void *now, void *given);

/* Reads the open call again after the trail was written, and saves its lines for lists. */
enum status session_look_again(struct session *session, struct error *error);

/* ---- session_acceptance.c ---- */

/* Somebody accepts the work, now and at its total; "" is nobody. */
enum status session_accept(struct session *session, const char *by, struct error *error);

/* Whether a change is of the name that accepted: what stands under it is part of it. */
bool session_is_acceptance(const struct store_entry *entry);

/* Makes one entry of each acceptance in a list of changes. */
void session_join_acceptances(struct store_entry *list, size_t *count);

/* Takes such an entry back, with what stands under the name. */
enum status session_take_acceptance_back(struct session *session, const struct store_entry *name,
                                         struct error *error);

/* Within one change, taken back as one: values as left, with the times that they have. */
enum status session_fill_left(struct session *session, const enum reading *readings,
                              const struct value *values, int count, struct error *error);

/* What a change was of, where that stands, and what stands there now that it is taken back. */
void session_tell_undone(const struct session *session, const struct change *change, char *what,
                         size_t size);

/* ---- The rest, below session_undo.c ---- */

void session_show_fields(struct session *session);

/* A field's exact text, and back; false when it does not take that.  Its form. */
void session_format_field(const struct call *call, enum field field, char *exact, size_t size);
bool session_parse_field(struct call *call, enum field field, const char *exact);
enum call_form session_field_form(enum field field);

/* Its exact text as a person reads it; "" for none. */
void session_field_words(enum field field, const char *exact, enum unit_system units, char *out,
                         size_t size);

enum status session_keep_field(struct session *session, enum field field, const char *exact,
                               struct error *error);
enum status session_keep_value(struct session *session, enum stage stage, enum reading reading,
                               const struct value *value, struct error *error);
enum status session_keep_billing(struct session *session, const struct billing *billing,
                                 struct error *error);
enum status session_reopen_item(struct session *session, const struct uid *item,
                                struct error *error);
enum status session_shut_item(struct session *session, const struct uid *item,
                              struct error *error);
/* Turns a field of the trail from one exact text to another and reads the call again. */
enum status session_turn_field(struct session *session, const struct uid *thing, const char *field,
                               const char *from, const char *to, struct error *error);
enum status session_undo_list(struct session *session, const struct change *change,
                              struct error *error);
enum status session_undo_acceptance(struct session *session, const struct change *change,
                                    struct error *error);
enum status session_undo_move(struct session *session, const struct change *change,
                              struct error *error);

/*
 * How the keeping of something typed went: what could not be kept for now is
 * held, what was kept is held no more.  Returns the status.
 */
enum status session_note_outcome(struct session *session, const struct session_pending *place,
                                 const char *typed, enum status status, struct error *error);

/* Whether it waits to be kept in the open call by itself. */
bool session_is_to_try(const struct session *session, const struct session_pending *pending);

/* Whether both are of one place of one call. */
bool session_is_same_place(const struct session_pending *a, const struct session_pending *b);

/* ---- session_unkept.c ---- */

/* Takes in what an earlier run could not keep. */
void session_read_spool(struct session *session);

/* Whether two phone numbers are one, however each is written (session_find.c). */
bool session_is_same_number(const char *a, const char *b);

#endif
