#ifndef APP_CALL_SECTIONS_H
#define APP_CALL_SECTIONS_H

#include <stdbool.h>

#include <padside/model/call_parts.h>

/*
 * The sections of a call's document, for what reads and writes it
 * (call_json.c) and what describes it (call_schema.c).
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

#endif
