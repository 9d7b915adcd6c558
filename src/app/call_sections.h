#ifndef APP_CALL_SECTIONS_H
#define APP_CALL_SECTIONS_H

#include <stdbool.h>

#include <padside/app/call_json.h>
#include <padside/base/json.h>
#include <padside/model/call_parts.h>

/*
 * The sections of a call's document, for what reads and writes it
 * (call_json.c, call_json_members.c) and what describes it (call_schema.c).
 */

enum section {
	SECTION_CUSTOMER, SECTION_SITE, SECTION_SYSTEM, SECTION_CALL, SECTION_AS_FOUND,
	SECTION_AS_LEFT, SECTION_CHARGE, SECTION_WORK, SECTION_CHOICES, SECTION_WATCH,
	SECTION_JUDGEMENT, SECTION_TIGHTNESS, SECTION_CYLINDER, SECTION_BILLING, SECTION_TAKEN_AT,
	SECTION_COUNT
};

struct section_row {
	const char *key;     /* in the document */
	enum call_part part; /* whose members it has; CALL_PART_COUNT: none */
	bool has_uid;        /* `uid` is a member too */
	bool has_readings;   /* readings stand beside the members */
	enum scope scope;    /* of those */
	enum stage stage;    /* of those */
};

extern const struct section_row call_json_sections[SECTION_COUNT];

/* Says why an item is refused, behind its path; STATUS_BAD_INPUT. */
enum status call_json_refuse(const struct json_item *item, const char *why, struct error *error);

/* Reads an id; null leaves it as it is. */
enum status call_json_read_uid(const struct json_item *item, struct uid *uid, struct error *error);

/* Reads a member of `target`, and writes one of `source`, whose exact text is `exact`. */
enum status call_json_read_member(const struct call_member *member, void *target,
                                  const struct json_item *item, struct error *error);
void call_json_write_member(const struct call_member *member, const void *source,
                            const char *exact, struct text *text);

/* Reads a reading as numbers, words or what was typed; errors name the member. */
enum status call_json_read_value(enum reading reading, const struct json_item *item,
                                 struct value *value, struct error *error);

void call_json_write_value(enum reading reading, const struct value *value, struct text *text);

/* A moment, "2026-06-03T09:12". */
enum status call_json_read_time(const struct json_item *item, wall_time *time, struct error *error);
void call_json_write_time(wall_time time, struct text *text);

/* Where the reading of "earlier" is. */
struct earlier_intake {
	struct earlier *earlier; /* being filled */
	enum stage stage;        /* whose readings are at hand */
};

/* Takes one item within "earlier". */
enum status earlier_take(struct earlier_intake *at, const struct json_item *item,
                         struct error *error);

#endif
