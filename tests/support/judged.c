/*
 * Calls in a line, for the tests of the diagnosis.
 */
#include "support/judged.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/calc/refrigerant.h>

static void put(struct visit *visit, enum stage stage, const char *key, const char *typed)
{
	enum reading reading = reading_from_key(key);
	struct value value;
	struct error error;

	ck_assert_msg(reading != READING_NONE, "no reading \"%s\"", key);
	ck_assert_msg(reading_parse(reading, typed, UNITS_US, &value, &error) == STATUS_OK, "%s=%s",
	              key, typed);
	visit_set(visit, stage, reading, &value);
}

static void put_all(struct visit *visit, enum stage stage, const char *readings)
{
	char text[2048], *rest = text;

	ck_assert_uint_lt((unsigned)strlen(readings), sizeof text);
	snprintf(text, sizeof text, "%s", readings);
	for (char *item = strtok_r(rest, ",\n", &rest); item; item = strtok_r(NULL, ",\n", &rest)) {
		item += strspn(item, " \t");
		char *value = strchr(item, '=');
		if (*item == '\0')
			continue;
		ck_assert_msg(value != NULL, "\"%s\" is not key=value", item);
		*value++ = '\0';
		put(visit, stage, item, value);
	}
}

static void judge_again(struct judged *judged, enum stage stage)
{
	struct call call;

	call_init(&call);
	call.visit = judged->visit;
	assessment_make(&(struct assessment_input){ .call = &call, .with_before = true },
	                &judged->assessment);
	judged->set = judged->assessment.figures[stage];
	judged->diagnosis = judged->assessment.diagnoses[stage];
}

void judge(struct judged *judged, enum stage stage, const char *readings)
{
	visit_init(&judged->visit);
	judge_more(judged, stage, readings);
}

void judge_more(struct judged *judged, enum stage stage, const char *readings)
{
	put_all(&judged->visit, stage, readings);
	judge_again(judged, stage);
}

const struct finding *judged_finding(const struct judged *judged, enum fault fault)
{
	for (int i = 0; i < judged->diagnosis.finding_count; i++)
		if (judged->diagnosis.findings[i].fault == fault)
			return &judged->diagnosis.findings[i];
	return NULL;
}

double judged_probability(const struct judged *judged, enum fault fault)
{
	const struct finding *finding = judged_finding(judged, fault);

	return finding ? finding->probability : 0;
}

enum fault judged_first(const struct judged *judged)
{
	return judged->diagnosis.finding_count > 0 ? judged->diagnosis.findings[0].fault : FAULT_NONE;
}

double judged_lean(const struct judged *judged, enum fault fault, enum figure figure,
                   enum reading reading)
{
	const struct finding *finding = judged_finding(judged, fault);

	for (int i = 0; finding && i < finding->evidence_count; i++)
		if (finding->evidence[i].figure == figure && finding->evidence[i].reading == reading)
			return finding->evidence[i].leans;
	return NAN;
}

static void add(char *text, size_t size, const char *key, double number)
{
	size_t used = strlen(text);

	if (!isnan(number))
		snprintf(text + used, size - used, ", %s=%.3f", key, number);
}

void judge_circuit(struct judged *judged, const char *system, const struct circuit_case *given)
{
	char text[1024];
	double low, high;

	ck_assert(refrigerant_dew_pressure(REFRIGERANT_R410A, given->suction, &low) == STATUS_OK);
	ck_assert(refrigerant_bubble_pressure(REFRIGERANT_R410A, given->condensing, &high) == STATUS_OK);
	snprintf(text, sizeof text, "refrigerant=R-410A, compressor_state=runs, %s", system);
	add(text, sizeof text, "outdoor_db", given->outdoor);
	add(text, sizeof text, "return_db", given->return_db);
	add(text, sizeof text, "return_wb", given->return_wb);
	add(text, sizeof text, "suction_pressure", low - 14.696);
	add(text, sizeof text, "suction_line_temp", given->suction + given->superheat);
	add(text, sizeof text, "liquid_pressure", high - 14.696);
	add(text, sizeof text, "liquid_line_temp", given->condensing - given->subcooling);
	add(text, sizeof text, "supply_db", given->return_db - given->split);
	judge(judged, STAGE_AS_FOUND, text);
}
