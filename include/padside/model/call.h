#ifndef PADSIDE_CALL_H
#define PADSIDE_CALL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <padside/base/clock.h>
#include <padside/base/uid.h>
#include <padside/model/visit.h>

/*
 * One whole service call in memory: who, where, which unit, what was read,
 * what was moved, done, offered and paid.  The store loads and saves it, the
 * report prints it, JSON carries it.  Plain data plus lists; what members it
 * has, by key, is told by <padside/model/call_parts.h>.
 *
 * Text is UTF-8 in fixed fields; what does not fit is refused by the session
 * with a sentence, never cut silently.
 */

enum {
	NAME_SIZE = 96, PHONE_SIZE = 40, EMAIL_SIZE = 96, ADDRESS_SIZE = 160,
	COMPLAINT_SIZE = 512, NOTE_SIZE = 1024, LINE_SIZE = 160, CYLINDER_SIZE = 32,
	NUMBER_TEXT_SIZE = 40, FAULT_ID_SIZE = 48
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
	double seer;               /* of the unit under this choice; 0 not said */
	enum decision decision;    /* what the customer said */
	char decided_by[NAME_SIZE]; /* who said it */
	wall_time decided_at;      /* when */
	char note[LINE_SIZE];      /* may be empty */
};

/* An option of an earlier call, and what else stands on that call. */
struct past_offer {
	struct offer offer;          /* as it was offered and decided */
	wall_time offered_at;        /* when its call began */
	bool is_other_taken;         /* another option of that call was accepted, for a price */
	char office_note[NOTE_SIZE]; /* of its call */
	struct uid system;           /* the unit of its call; none when there is none */
	char unit_out[CLOCK_TEXT_SIZE]; /* the day that unit went for good; "" as far as known */
};

/*
 * What became of an option: "accepted", "declined", "not decided yet"; "not chosen" where another
 * one was taken, which declines nothing.  Static.
 */
const char *offer_outcome(const struct offer *offer, bool is_other_taken);

/* Something that works today and is expected to fail next. */
struct watch_item {
	struct uid uid;       /* globally unique */
	char fault[FAULT_ID_SIZE]; /* fault id, "" when the technician wrote it by hand */
	char text[LINE_SIZE]; /* one line */
	wall_time noted_at;   /* when */
	wall_time closed_at;  /* WALL_TIME_NONE while open */
};

/* The most that a call takes; the least is 0. */
enum { BILLING_MOST_PERCENT = 100, BILLING_MOST_HOURS = 8784, BILLING_MOST_ENERGY_RATE = 1000 };

enum judgement_verdict { JUDGEMENT_CONFIRMED, JUDGEMENT_RULED_OUT, JUDGEMENT_WATCH,
                         JUDGEMENT_VERDICT_COUNT };

/* "confirmed", "ruled_out", "watch": stable words. */
const char *judgement_verdict_key(enum judgement_verdict verdict);
bool judgement_verdict_from_key(const char *key, enum judgement_verdict *verdict);

/* What the technician decided about a fault that was found or suspected. */
struct judgement {
	struct uid uid;            /* globally unique */
	char fault[FAULT_ID_SIZE]; /* fault id */
	enum judgement_verdict verdict;      /* what was decided */
	char why[LINE_SIZE];       /* on what grounds; may be empty */
	char by[NAME_SIZE];        /* who decided; may be empty */
	wall_time at;              /* when */
};

enum tightness_kind {
	TIGHTNESS_NITROGEN, TIGHTNESS_VACUUM, TIGHTNESS_WEIGH_IN, TIGHTNESS_KIND_COUNT
};

/* "nitrogen", "vacuum", "weigh_in": stable words. */
const char *tightness_kind_key(enum tightness_kind kind);
bool tightness_kind_from_key(const char *key, enum tightness_kind *kind);

/*
 * One entry of the tightness log: nitrogen pressure over time, vacuum over
 * time, refrigerant weighed in.  What was not measured is VALUE_NOT_TAKEN.
 */
struct tightness_entry {
	struct uid uid;            /* globally unique */
	enum tightness_kind kind;  /* which part of the log */
	wall_time at;              /* when */
	struct value pressure;     /* psig */
	struct value temperature;  /* °F, of the gas: at the pipe, or outdoors */
	struct value microns;      /* µm Hg absolute */
	struct value amount;       /* oz weighed in */
	char cylinder[CYLINDER_SIZE]; /* label of the one that it came from; may be empty */
	char note[LINE_SIZE];      /* may be empty */
};

/* A cylinder that was used on this call, as it stood. */
struct cylinder {
	struct uid uid;              /* globally unique */
	char name[CYLINDER_SIZE];    /* its label, as in the charge log */
	enum choice refrigerant;     /* what is in it; CHOICE_NONE not said */
	double water_capacity_lb;    /* as stamped; 0 not said */
	double tare_lb;              /* empty, as stamped; 0 not said */
	double weight_lb;            /* as weighed now; 0 not said */
	wall_time test_date;         /* of the last pressure test, as stamped */
	char went_to[LINE_SIZE];     /* where the gas recovered into it went; may be empty */
};

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
	struct system system;           /* which unit; its nameplate is in the visit */
	char complaint[COMPLAINT_SIZE]; /* in the customer's words */
	char summary[NOTE_SIZE];        /* what the technician tells the customer */
	char office_note[NOTE_SIZE];    /* never on the customer's paper */
	wall_time opened_at;            /* when the call began */
	wall_time closed_at;            /* WALL_TIME_NONE while open */
	wall_time unsafe_at;            /* first resistance reading before the unit was made safe */
	wall_time planned_at;           /* when the call is planned for; WALL_TIME_NONE not planned */
	wall_time arrived_at;           /* at the site */
	wall_time left_at;              /* from the site */
	char access_note[COMPLAINT_SIZE]; /* gate code, dog, key */
	char job_number[NUMBER_TEXT_SIZE]; /* of the firm */
	char technician[NAME_SIZE];     /* who works on it */
	char licence[NUMBER_TEXT_SIZE]; /* licence number of the technician or the firm */
	char certification[NUMBER_TEXT_SIZE]; /* for refrigerant */
	char authorised_by[NAME_SIZE];  /* who allowed the work */
	wall_time authorised_at;        /* when */
	cents authorised_amount;        /* up to how much; 0 not said */
	char accepted_by[NAME_SIZE];    /* who accepted the work */
	wall_time accepted_at;          /* when */
	cents accepted_total;           /* at which total; 0 not said */
	char payment_terms[LINE_SIZE];  /* as printed */
	wall_time billed_at;            /* when the office billed it; WALL_TIME_NONE not billed */
	char checklist[NOTE_SIZE];      /* what this visit takes, as model/checklist.h reads it */
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
	struct judgement *judgements;   /* in the order they were made; owned */
	size_t judgement_count;         /* of them */
	struct tightness_entry *tightness; /* the tightness log in time order; owned */
	size_t tightness_count;         /* entries in it */
	struct cylinder *cylinders;     /* used on this call; owned */
	size_t cylinder_count;          /* of them */
};

/* Makes an empty call: no ids, no times, no lists. */
void call_init(struct call *call);

/* Frees the lists and makes it empty again. */
void call_done(struct call *call);

/*
 * The lists of a call.  Every element begins with its uid.
 */
enum call_list {
	LIST_CHARGE, LIST_WORK, LIST_OFFERS, LIST_WATCH, LIST_JUDGEMENTS, LIST_TIGHTNESS,
	LIST_CYLINDERS, CALL_LIST_COUNT
};

/* The first element of a list, or NULL when it is empty; how many there are; the size of one. */
void *call_list_items(const struct call *call, enum call_list list);
size_t call_list_count(const struct call *call, enum call_list list);
size_t call_list_size(enum call_list list);

/* The element at `index`, or NULL past the end. */
void *call_list_at(const struct call *call, enum call_list list, size_t index);

/* Where the element with that uid stands; the count when it is not there. */
size_t call_list_find(const struct call *call, enum call_list list, const struct uid *uid);

/* Makes an element empty, without a uid. */
void call_element_init(enum call_list list, void *element);

/*
 * Adds an empty element at the end, with a new uid, and returns it (valid
 * until the next addition), or NULL when memory ran out.
 */
void *call_list_add(struct call *call, enum call_list list);

/* Removes the element at `index` (asserted to exist). */
void call_list_remove(struct call *call, enum call_list list, size_t index);

/*
 * Puts the element at `index` where it belongs in a list that is kept in time
 * order (charge and tightness log), those without a time last; leaves it in others.
 */
void call_list_place(struct call *call, enum call_list list, size_t index);

/* Puts a whole list into the order of time where it is kept so; equal ones stay as they came. */
void call_list_sort(struct call *call, enum call_list list);

/*
 * Copies a call with its lists into `copy`, which must be empty; false: no memory, it stays empty.
 */
bool call_copy(const struct call *call, struct call *copy);

/* Whether one of a call's options was accepted; to wait costs nothing and takes none. */
bool call_takes_an_option(const struct call *call);

/*
 * Whether a watch item was still open at the end of the day on which the call's visit ended; of a
 * call that goes on, whether it is open.
 */
bool call_leaves_open(const struct call *call, const struct watch_item *item);

#endif
