#ifndef APP_SESSION_PARTS_H
#define APP_SESSION_PARTS_H

#include <padside/app/session.h>
#include <padside/diagnose/assessment.h>

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
	CHANGE_ITEM      /* a watch item of an earlier call was closed */
};

/* One change that can be taken back. */
struct change {
	enum change_kind kind;       /* which of the members below count */
	enum field field;            /* which text */
	enum stage stage;            /* of the reading */
	enum reading reading;        /* which reading */
	enum call_list list;         /* which list */
	struct uid uid;              /* of the element */
	union {
		struct value value;      /* the reading */
		char text[NOTE_SIZE];    /* the text */
		union element element;   /* the element, the billing */
	} before;                    /* what was there */
};

enum { MOST_CHANGES = 64 };

struct session {
	struct store *store;                       /* the book; not owned */
	struct clock clock;                        /* where the time comes from */
	enum unit_system units;                    /* typed and shown */
	bool is_open;                              /* `call` holds an open call */
	struct call call;                          /* as the book has it */
	struct assessment assessment;              /* of its readings */
	struct change changes[MOST_CHANGES];       /* newest last, a ring */
	size_t change_first, change_count;         /* where it starts, how many */
	struct watch_item *items;                  /* open items of earlier calls; owned */
	size_t item_count;                         /* of them */
	char shown[FIELD_COUNT][FIELD_SHOWN_SIZE]; /* times and amounts as people read them */
	char found_line[LINE_SIZE];                /* as last saved with the call */
	char done_line[LINE_SIZE];                 /* likewise */
};

/* A place for one more change; the oldest goes when there are too many. */
struct change *session_push_change(struct session *session);

/* Keeps the two lines for lists, where they are others now. */
void session_keep_lines(struct session *session);

/* Takes a change of a list back; `what` says which element. */
enum status session_undo_list(struct session *session, const struct change *change, char *what,
                              size_t size, struct error *error);

#endif
