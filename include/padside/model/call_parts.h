#ifndef PADSIDE_CALL_PARTS_H
#define PADSIDE_CALL_PARTS_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/units.h>
#include <padside/model/call.h>

/*
 * What a call consists of, as tables: its parts, and the members of each by
 * key.  JSON, the book and its trail of changes are driven by them, so that a
 * new member of a call is a member of its struct and one row here.  Readings
 * are not among them: those are the catalogue's.
 */

enum call_form {
	FORM_TEXT,           /* char[size], UTF-8 */
	FORM_TIME,           /* wall_time */
	FORM_CENTS,          /* cents */
	FORM_QUANTITY,       /* thousandths */
	FORM_PERCENT,        /* millipercent */
	FORM_AMOUNT,         /* double in `unit`, 0 not said */
	FORM_MEASURED,       /* struct value in `unit`, may be not taken */
	FORM_FLAG,           /* bool */
	FORM_WORK_KIND,      /* enum work_kind */
	FORM_DECISION,       /* enum decision */
	FORM_VERDICT,        /* enum judgement_verdict */
	FORM_TIGHTNESS_KIND, /* enum tightness_kind */
	FORM_REFRIGERANT,    /* enum choice of the refrigerants */
	CALL_FORM_COUNT
};

struct call_member {
	const char *key;     /* stable word: in JSON, in the book */
	enum call_form form; /* what it is */
	size_t offset;       /* within the part's struct */
	size_t size;         /* of a text, with its NUL */
	enum unit unit;      /* canonical, of FORM_AMOUNT and FORM_MEASURED */
	double low, high;    /* of a number, as JSON has it (money in whole units, percent) */
	bool always;         /* written to JSON even when it is empty */
	const char *label;   /* in words, where they are not the key's own; NULL */
};

enum call_part {
	PART_CUSTOMER, PART_SITE, PART_SYSTEM, PART_CALL, PART_BILLING, PART_TAX,
	PART_CHARGE, PART_WORK, PART_OFFERS, PART_WATCH, PART_JUDGEMENTS, PART_TIGHTNESS,
	PART_CYLINDERS, CALL_PART_COUNT
};

struct call_part_info {
	const char *key;                   /* stable word: in JSON */
	const char *word;                  /* of one element, for sentences: "a line of the work" */
	const struct call_member *members; /* ends with a key of NULL */
	size_t offset;                     /* of its struct within struct call; of a list 0 */
	bool is_list;                      /* a list of the call */
	enum call_list list;               /* which */
	bool has_charge_readings;          /* its elements carry the readings of the charge log */
};

const struct call_part_info *call_part_info(enum call_part part);

/* The part of a list. */
enum call_part call_part_of_list(enum call_list list);

/* The member of a part with that key, or NULL. */
const struct call_member *call_member_find(enum call_part part, const char *key);

/* Large enough for any member as text. */
enum { MEMBER_TEXT_SIZE = NOTE_SIZE };

/*
 * A member as exact text, "" when it is empty: times as clock_format(), money,
 * quantities and percentages as whole cents and thousandths, numbers with every
 * digit in the canonical unit, flags as "1", choices as their words.  `part` is
 * the struct that holds the member.
 */
void call_member_format(const struct call_member *member, const void *part, char *text,
                        size_t size);

/*
 * Reads that back; "" makes the member empty.  Returns false, with the member
 * as it was, when the text is none of the kind, is too long, or is outside
 * the member's limits.
 */
bool call_member_parse(const struct call_member *member, void *part, const char *text);

#endif
