#ifndef PADSIDE_CALL_H
#define PADSIDE_CALL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <padside/base/clock.h>
#include <padside/base/uid.h>
#include <padside/model/visit.h>

/*
 * One whole service call in memory: who, where, which machine, what was read,
 * what was moved, done, offered and paid.  The store loads and saves it, the
 * report prints it, JSON carries it.  Plain data plus four lists.
 *
 * Text is UTF-8 in fixed fields; what does not fit is refused by the session
 * with a sentence, never cut silently.
 */

enum {
	NAME_SIZE = 96, PHONE_SIZE = 40, EMAIL_SIZE = 96, ADDRESS_SIZE = 160,
	COMPLAINT_SIZE = 512, NOTE_SIZE = 1024, LINE_SIZE = 160, CYLINDER_SIZE = 32
};

/* Money is integer cents; quantities are integer thousandths. */
typedef int64_t cents;
typedef int64_t thousandths;
typedef int64_t millipercent; /* thousandths of a percent: 8875 is 8.875 % */

struct customer {
	struct uid uid;         /* none until the book has it */
	char name[NAME_SIZE];   /* as the customer writes it */
	char phone[PHONE_SIZE]; /* as written */
	char email[EMAIL_SIZE]; /* as written */
};

struct site {
	struct uid uid;             /* none until the book has it */
	char address[ADDRESS_SIZE]; /* one line */
};

struct system {
	struct uid uid;       /* none until the book has it */
	char name[NAME_SIZE]; /* e.g. "upstairs"; may be empty */
};

/* The readings that a charge-log entry may carry. */
enum charge_reading {
	CHARGE_SUCTION_PRESSURE, CHARGE_SUCTION_LINE_TEMP, CHARGE_LIQUID_PRESSURE,
	CHARGE_LIQUID_LINE_TEMP, CHARGE_OUTDOOR_DB, CHARGE_RETURN_WB, CHARGE_READING_COUNT
};

/* The catalogue's row of each. */
enum reading charge_reading_id(enum charge_reading reading);

struct charge_entry {
	struct uid uid;                            /* globally unique */
	wall_time at;                              /* when */
	double added_oz;                           /* 0 or more; canonical unit of factory_charge */
	double recovered_oz;                       /* 0 or more */
	char cylinder[CYLINDER_SIZE];              /* label of the cylinder; may be empty */
	char note[LINE_SIZE];                      /* may be empty */
	struct value values[CHARGE_READING_COUNT]; /* readings at that time */
};

enum work_kind { WORK_LABOUR, WORK_PART, WORK_REFRIGERANT, WORK_FEE, WORK_KIND_COUNT };

/* "labour", "part", "refrigerant", "fee": stable words. */
const char *work_kind_key(enum work_kind kind);
bool work_kind_from_key(const char *key, enum work_kind *kind);

struct work_line {
	struct uid uid;              /* globally unique */
	enum work_kind kind;         /* which tax applies */
	char description[LINE_SIZE]; /* what the customer reads */
	thousandths quantity;        /* 1000 = 1 */
	cents unit_price;            /* per one */
	bool no_charge;              /* shown at its price, charged at 0 */
	char note[LINE_SIZE];        /* for the office only */
};

enum decision { DECISION_NONE, DECISION_ACCEPTED, DECISION_DECLINED };

/* "none", "accepted", "declined": stable words. */
const char *decision_key(enum decision decision);
bool decision_from_key(const char *key, enum decision *decision);

/* One of the choices that the customer was given. */
struct offer {
	struct uid uid;            /* globally unique */
	char title[LINE_SIZE];     /* what is done, in the customer's words */
	cents price_low;           /* lowest price */
	cents price_high;          /* highest; equal to the lowest when fixed */
	double years_low;          /* how long it may last, shortest; 0 not said */
	double years_high;         /* longest */
	double seer;               /* of the machine under this choice; 0 not said */
	enum decision decision;    /* what the customer said */
	char decided_by[NAME_SIZE]; /* who said it */
	wall_time decided_at;      /* when */
	char note[LINE_SIZE];      /* may be empty */
};

/* Something that works today and is expected to fail next. */
struct watch_item {
	struct uid uid;       /* globally unique */
	char fault[48];       /* fault id, "" when the technician wrote it by hand */
	char text[LINE_SIZE]; /* one line */
	wall_time noted_at;   /* when */
	wall_time closed_at;  /* WALL_TIME_NONE while open */
};

/* The most that a call takes; the least is 0. */
enum { BILLING_MOST_PERCENT = 100, BILLING_MOST_HOURS = 8784, BILLING_MOST_ENERGY_RATE = 1000 };

struct billing {
	millipercent tax[WORK_KIND_COUNT]; /* per line kind */
	millipercent discount;             /* off every charged line, before tax */
	cents deposit;                     /* already paid */
	double cooling_hours;              /* full-load hours a year; 0 not said */
	double energy_rate;                /* cents per kWh; 0 not said */
};

struct call {
	struct uid uid;                 /* none until the book has it */
	struct customer customer;       /* who */
	struct site site;               /* where; its altitude is in the visit */
	struct system system;           /* which machine; its nameplate is in the visit */
	char complaint[COMPLAINT_SIZE]; /* in the customer's words */
	char summary[NOTE_SIZE];        /* what the technician tells the customer */
	char office_note[NOTE_SIZE];    /* never on the customer's paper */
	wall_time opened_at;            /* when the call began */
	wall_time closed_at;            /* WALL_TIME_NONE while open */
	wall_time unsafe_at;            /* first resistance reading before the machine was made safe */
	struct visit visit;             /* every reading */
	struct billing billing;         /* taxes, discount, deposit, energy */
	struct charge_entry *charge;    /* the charge log in time order; owned */
	size_t charge_count;            /* entries in it */
	struct work_line *work;         /* in the order of the paper; owned */
	size_t work_count;              /* lines in it */
	struct offer *offers;           /* in the order they were given; owned */
	size_t offer_count;             /* offers in it */
	struct watch_item *watch;       /* noted on this call; owned */
	size_t watch_count;             /* items in it */
};

/* Makes an empty call: no ids, no times, no lists. */
void call_init(struct call *call);

/* Frees the lists and makes it empty again. */
void call_done(struct call *call);

/*
 * Each adds an empty element at the end of a list, with a new uid, and returns
 * it (valid until the next addition), or NULL when memory ran out.
 */
struct charge_entry *call_add_charge(struct call *call);
struct work_line *call_add_work(struct call *call);
struct offer *call_add_offer(struct call *call);
struct watch_item *call_add_watch(struct call *call);

/* Each removes the element at `index` (asserted to exist). */
void call_remove_charge(struct call *call, size_t index);
void call_remove_work(struct call *call, size_t index);
void call_remove_offer(struct call *call, size_t index);
void call_remove_watch(struct call *call, size_t index);

#endif
