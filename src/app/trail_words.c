/*
 * Fields and values of the trail in words.
 */
#include <padside/app/trail_words.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/session.h>
#include <padside/base/number.h>
#include <padside/base/text.h>
#include <padside/model/call_parts.h>
#include <padside/model/money.h>

/* Whose members a thing has that is no line of a list. */
static const struct {
	const char *what;    /* the thing */
	const char *prefix;  /* before the members' keys */
	enum call_part part; /* whose */
} parts[] = {
	{ "customer", "", PART_CUSTOMER }, { "site", "", PART_SITE }, { "system", "", PART_SYSTEM },
	{ "call", "", PART_CALL }, { "call", "", PART_BILLING }, { "call", "tax_", PART_TAX },
};

/* The list whose line a thing is; CALL_PART_COUNT for none. */
static enum call_part line_part(const char *what)
{
	enum call_part part = PART_CHARGE;

	while (part < CALL_PART_COUNT && strcmp(call_part_info(part)->key, what) != 0)
		part++;
	return part;
}

static const struct call_member *find_member(const char *what, const char *field)
{
	enum call_part line = line_part(what);
	const struct call_member *member = NULL;

	if (line < CALL_PART_COUNT)
		return call_member_find(line, field);
	for (size_t i = 0; i < sizeof parts / sizeof *parts && !member; i++) {
		size_t length = strlen(parts[i].prefix);
		if (strcmp(parts[i].what, what) == 0 && strncmp(parts[i].prefix, field, length) == 0)
			member = call_member_find(parts[i].part, field + length);
	}
	return member;
}

/* "as_found.suction_pressure", or the bare key in a line of the charge log. */
static enum reading find_reading(const char *what, const char *field)
{
	const char *dot = strchr(field, '.');

	if (dot)
		return reading_from_key(dot + 1);
	return strcmp(what, call_part_info(PART_CHARGE)->key) == 0 ? reading_from_key(field)
	                                                           : READING_NONE;
}

/* The stage that a field belongs to; STAGE_COUNT: none. */
static enum stage stage_of(const char *field)
{
	int stage = 0;

	for (; stage < STAGE_COUNT; stage++) {
		const char *key = stage_key((enum stage)stage);
		if (strncmp(field, key, strlen(key)) == 0 && field[strlen(key)] == '.')
			break;
	}
	return (enum stage)stage;
}

/* What the page calls the fields that are typed there. */
static const struct {
	const char *member; /* "customer.name", "complaint" */
	const char *label;  /* on the page */
} fields[] = {
#define FIELD(id, member, label, help) { #member, label },
#include <padside/app/fields.def>
#undef FIELD
};

static const char *find_label(const char *what, const char *field)
{
	const struct call_member *member = find_member(what, field);
	char name[TRAIL_LABEL_SIZE];

	snprintf(name, sizeof name, "%s%s%s", strcmp(what, "call") == 0 ? "" : what,
	         strcmp(what, "call") == 0 ? "" : ".", field);
	for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
		if (strcmp(fields[i].member, name) == 0)
			return fields[i].label;
	return member ? member->label : NULL;
}

/* "decided_by" as "decided by". */
static void add_key(const char *key, char *out, size_t size)
{
	text_copy(out, size, key);
	for (char *at = out; *at; at++)
		if (*at == '_')
			*at = ' ';
}

void trail_words_field(const char *what, const char *field, char *out, size_t size)
{
	enum reading reading = find_reading(what, field);
	enum call_part line = line_part(what);
	char words[TRAIL_LABEL_SIZE];
	enum stage stage = stage_of(field);
	const char *label = find_label(what, field);

	if (reading != READING_NONE && stage < STAGE_COUNT)
		snprintf(words, sizeof words, "%s %s", reading_info(reading)->label, stage_words(stage));
	else if (reading != READING_NONE)
		text_copy(words, sizeof words, reading_info(reading)->label);
	else if (strcmp(field, "removed") == 0)
		text_copy(words, sizeof words, "taken out");
	else if (label)
		text_copy(words, sizeof words, label);
	else
		add_key(field, words, sizeof words);
	if (line < CALL_PART_COUNT)
		snprintf(out, size, "%s: %s", call_part_info(line)->word, words);
	else if (strcmp(what, "call") != 0 && !label)
		snprintf(out, size, "%s: %s", what, words);
	else
		text_copy(out, size, words);
}

static void show_member(const struct call_member *member, const char *exact,
                        enum unit_system units, char *out, size_t size)
{
	enum unit shown = unit_shown(member->unit, units);
	const char *rest;
	double number;

	text_copy(out, size, exact);
	switch (member->form) {
	case FORM_TIME:
		if (strlen(out) > 16) {
			out[10] = ' ';
			out[16] = '\0';
		}
		break;
	case FORM_CENTS:
		money_format(strtoll(exact, NULL, 10), out, size);
		break;
	case FORM_QUANTITY:
		money_format_quantity(strtoll(exact, NULL, 10), out, size);
		break;
	case FORM_PERCENT:
		money_format_percent(strtoll(exact, NULL, 10), out, size);
		snprintf(out + strlen(out), size - strlen(out), " %%");
		break;
	case FORM_AMOUNT:
	case FORM_MEASURED:
		if (!number_parse(exact, &number, &rest))
			break;
		if (member->unit == UNIT_NONE) {
			snprintf(out, size, "%.6g", number);
			break;
		}
		number_format(unit_convert(number, member->unit, shown), 2, out, size);
		snprintf(out + strlen(out), size - strlen(out), " %s", unit_symbol(shown, false));
		break;
	case FORM_FLAG:
		text_copy(out, size, strcmp(exact, "1") == 0 || strcmp(exact, "true") == 0 ? "yes" : "no");
		break;
	default:
		break;
	}
}

void trail_words_value(const char *what, const char *field, const char *exact,
                       enum unit_system units, char *out, size_t size)
{
	enum reading reading = find_reading(what, field);
	struct value value;
	struct error ignored;
	const struct call_member *member = find_member(what, field);

	if (!*exact)
		text_copy(out, size, "nothing");
	else if (strcmp(field, "removed") == 0)
		text_copy(out, size, "yes");
	else if (reading != READING_NONE &&
	         reading_parse(reading, exact, UNITS_US, &value, &ignored) == STATUS_OK)
		reading_format(reading, &value, units, VALUE_FORM_WITH_UNIT, out, size);
	else if (fault_from_key(exact) != FAULT_NONE && strcmp(field, "fault") == 0)
		text_copy(out, size, fault_info(fault_from_key(exact))->label);
	else if (member && (member->form == FORM_VERDICT || member->form == FORM_TIGHTNESS_KIND))
		add_key(exact, out, size);
	else if (member && reading == READING_NONE)
		show_member(member, exact, units, out, size);
	else
		text_copy(out, size, exact);
}
