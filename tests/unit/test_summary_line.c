/* One line each of what was found and done. */
#include <check.h>
#include <string.h>

#include <padside/app/summary_line.h>
#include <padside/base/text.h>

#include "support/calls.h"

Suite *summary_line_suite(void);

static char line[LINE_SIZE];

/* Whose tests of tightness are told; most have none. */
static struct call tested;

static bool is_seen_cooling = true;
static const char *oil = "";
static int contradictions = 0;

static void describe(const struct finding *findings, int count, double healthy)
{
	static struct assessment assessment;
	struct value value;
	struct error error;
	struct diagnosis *found = &assessment.diagnoses[STAGE_AS_FOUND];

	*found = (struct diagnosis){ .finding_count = count, .healthy = healthy,
	                              .is_seen_cooling = is_seen_cooling,
	                              .contradiction_count = contradictions };
	memcpy(found->findings, findings, (size_t)count * sizeof *findings);
	ck_assert(reading_parse(READING_OIL_CONDITION, oil, UNITS_US, &value, &error) == STATUS_OK);
	visit_set(&tested.visit, STAGE_AS_FOUND, READING_OIL_CONDITION, &value);
	summary_line_found(&tested, &assessment, line, sizeof line);
}

START_TEST(what_is_to_be_acted_on_comes_first)
{
	const struct finding findings[] = {
		{ .fault = FAULT_UNDERCHARGE, .level = LEVEL_ACT, .probability = 0.9 },
		{ .fault = FAULT_INSULATION_WEAK, .level = LEVEL_WATCH, .probability = 0.6 },
		{ .fault = FAULT_LOCKED_ROTOR, .level = LEVEL_ACT, .basis = BASIS_MEASURED },
		/* Less likely than not: the report does not call it found either. */
		{ .fault = FAULT_LOW_OUTDOOR_AIRFLOW, .level = LEVEL_ACT, .basis = BASIS_INFERRED,
		  .probability = 0.23 },
	};

	describe(findings, 4, 0.02);
	ck_assert_str_eq(line, "low refrigerant charge; compressor mechanically locked");
}
END_TEST

START_TEST(without_that_what_is_to_be_watched)
{
	struct finding finding = {
		.fault = FAULT_INSULATION_WEAK, .level = LEVEL_WATCH, .probability = 0.6,
	};

	describe(&finding, 1, 0.9);
	ck_assert_str_eq(line, "to watch: insulation low");
	finding.level = LEVEL_NOTE;
	describe(&finding, 1, 0.9);
	ck_assert_str_eq(line, "in order");
	describe(&finding, 1, 0);
	ck_assert_str_eq(line, "");
}
END_TEST

/* Beside gauges that are all good nothing is to be watched for a mere possibility (reader's eyes). */
START_TEST(what_is_only_possible_within_every_range_is_in_order)
{
	struct finding finding = {
		.fault = FAULT_NO_CONTROL_VOLTAGE, .level = LEVEL_WATCH, .probability = 0.4,
		.evidence = { { .reading = READING_CONTROL_VOLTAGE, .value = 25, .leans = 0.5 } },
		.evidence_count = 1,
	};

	describe(&finding, 1, 0.6);
	ck_assert_str_eq(line, "in order");
	finding.evidence[0].value = 18;
	describe(&finding, 1, 0.6);
	ck_assert(strncmp(line, "to watch: ", strlen("to watch: ")) == 0);
	finding.evidence[0].value = 25;
	finding.probability = 0.6;
	describe(&finding, 1, 0.6);
	ck_assert(strncmp(line, "to watch: ", strlen("to watch: ")) == 0);
}
END_TEST

/* Acid oil, and readings that cannot all be right, are nobody's order (common practice). */
START_TEST(what_is_noted_beside_the_findings_is_not_in_order)
{
	struct finding none = { .fault = FAULT_NONE };

	describe(&none, 0, 0.95);
	ck_assert_str_eq(line, "in order");
	oil = "acid";
	describe(&none, 0, 0.95);
	ck_assert_str_eq(line, "");
	oil = "";
	contradictions = 1;
	describe(&none, 0, 0.95);
	contradictions = 0;
	ck_assert_str_eq(line, "");
}
END_TEST

/* Four answers and a voltage were called "in order". */
START_TEST(what_was_not_seen_cooling_is_not_in_order)
{
	struct finding none = { .fault = FAULT_NONE };

	is_seen_cooling = false;
	describe(&none, 0, 0.95);
	is_seen_cooling = true;
	ck_assert_str_eq(line, "");
}
END_TEST

/* A vacuum that rose from 400 to 2600 microns was listed as "in order". */
START_TEST(a_test_that_did_not_hold_is_not_in_order)
{
	struct finding none = { .fault = FAULT_NONE };

	call_init(&tested);
	for (int i = 0; i < 2; i++) {
		struct tightness_entry *entry = call_list_add(&tested, LIST_TIGHTNESS);
		ck_assert_ptr_nonnull(entry);
		entry->kind = TIGHTNESS_VACUUM;
		entry->at = 1784016300 + 900 * i;
		entry->microns = (struct value){ .state = VALUE_TAKEN, .number = i ? 2600 : 400 };
	}
	describe(&none, 0, 0.95);
	ck_assert_str_eq(line, "vacuum not held");
	call_done(&tested);
	call_init(&tested);
}
END_TEST

static void add_work(struct call *call, enum work_kind kind, const char *description, bool no_charge)
{
	struct work_line *work = call_add_work(call);

	ck_assert_ptr_nonnull(work);
	work->kind = kind;
	work->no_charge = no_charge;
	text_copy(work->description, sizeof work->description, description);
}

START_TEST(charged_parts_say_what_was_done)
{
	struct call call;

	call_init(&call);
	summary_line_done(&call, line, sizeof line);
	ck_assert_str_eq(line, "");
	add_work(&call, WORK_FEE, "Diagnosis", false);
	add_work(&call, WORK_PART, "Filter", true);
	summary_line_done(&call, line, sizeof line);
	ck_assert_str_eq(line, "Diagnosis");
	add_work(&call, WORK_PART, "Capacitor", false);
	add_work(&call, WORK_REFRIGERANT, "R-410A", false);
	summary_line_done(&call, line, sizeof line);
	ck_assert_str_eq(line, "Capacitor; R-410A");
	add_work(&call, WORK_LABOUR, "Wash the condenser, hours", false);
	add_work(&call, WORK_REFRIGERANT, "Refrigerant R-410A, ounce", false);
	call.work[call.work_count - 1].quantity = 8500;
	summary_line_done(&call, line, sizeof line);
	ck_assert_str_eq(line, "Wash the condenser; Capacitor; R-410A; Refrigerant R-410A, 8.5 oz");
	call_done(&call);
}
END_TEST

/* Four lines of copper and rod had pushed the repair itself out of the line. */
START_TEST(work_stands_before_parts)
{
	struct call call;

	call_init(&call);
	add_work(&call, WORK_FEE, "Spring check", false);
	add_work(&call, WORK_LABOUR, "Outdoor coil washed", true);
	summary_line_done(&call, line, sizeof line);
	ck_assert_str_eq(line, "Outdoor coil washed");
	add_work(&call, WORK_PART, "Copper, fittings, brazing rod", false);
	add_work(&call, WORK_LABOUR, "Repair the leak", false);
	/* By these a past ends: they are never cut. */
	add_work(&call, WORK_PART, "Indoor coil, 2.5 ton", false);
	summary_line_done(&call, line, sizeof line);
	ck_assert_str_eq(line, "Indoor coil, 2.5 ton; Outdoor coil washed; Repair the leak; "
	                 "Copper, fittings, brazing rod");
	call_done(&call);
}
END_TEST

/* A line holds 159 letters; what is longer ends at a whole word with "…", never in the midst of one. */
START_TEST(a_line_that_is_too_long_says_so)
{
	for (int extra = 0; extra < 3; extra++) {
		struct call call;
		char first[120], second[80];
		call_init(&call);
		memset(first, 'a', sizeof first);
		memset(second, 'b', sizeof second);
		first[100] = '\0';
		second[LINE_SIZE - 1 - 100 - 2 + extra] = '\0';
		add_work(&call, WORK_PART, first, false);
		add_work(&call, WORK_PART, second, false);
		summary_line_done(&call, line, sizeof line);
		if (extra == 0) {
			ck_assert_uint_eq(strlen(line), LINE_SIZE - 1);
			ck_assert_ptr_null(strstr(line, "…"));
		} else {
			ck_assert_uint_eq(strlen(line), 100 + strlen("; …"));
			ck_assert_str_eq(line + 100, "; …");
		}
		call_done(&call);
	}
}
END_TEST

static void write_leak(const char *place)
{
	struct value value;
	struct error error;

	ck_assert(reading_parse(READING_LEAK_PLACE, place, UNITS_US, &value, &error) == STATUS_OK);
	visit_set(&tested.visit, STAGE_AS_FOUND, READING_LEAK_PLACE, &value);
}

/* The visit that replaced a leaking coil was listed as "in order". */
START_TEST(a_leak_that_was_found_is_found)
{
	struct finding none = { .fault = FAULT_NONE };

	write_leak("indoor coil, U-bend");
	describe(&none, 0, 0.95);
	ck_assert_str_eq(line, "leak at indoor coil, U-bend");
	write_leak("none found");
	describe(&none, 0, 0.95);
	ck_assert_str_eq(line, "in order");
	write_leak("");
}
END_TEST

/* A charge that was topped up and read again was listed as "to watch". */
START_TEST(what_is_good_after_the_work_is_not_to_watch)
{
	struct finding finding = { .fault = FAULT_UNDERCHARGE, .level = LEVEL_WATCH, .probability = 0.6,
		.after_work = AFTER_WORK_GONE };

	describe(&finding, 1, 0.2);
	ck_assert_str_eq(line, "low refrigerant charge, good after the work");
	finding.after_work = AFTER_WORK_NOT_TESTED;
	describe(&finding, 1, 0.2);
	ck_assert_str_eq(line, "to watch: low refrigerant charge");
}
END_TEST

Suite *summary_line_suite(void)
{
	Suite *suite = suite_create("lines");
	TCase *tcase = tcase_create("lines");

	tcase_add_test(tcase, what_is_to_be_acted_on_comes_first);
	tcase_add_test(tcase, without_that_what_is_to_be_watched);
	tcase_add_test(tcase, what_is_only_possible_within_every_range_is_in_order);
	tcase_add_test(tcase, what_was_not_seen_cooling_is_not_in_order);
	tcase_add_test(tcase, what_is_noted_beside_the_findings_is_not_in_order);
	tcase_add_test(tcase, a_test_that_did_not_hold_is_not_in_order);
	tcase_add_test(tcase, charged_parts_say_what_was_done);
	tcase_add_test(tcase, work_stands_before_parts);
	tcase_add_test(tcase, a_line_that_is_too_long_says_so);
	tcase_add_test(tcase, a_leak_that_was_found_is_found);
	tcase_add_test(tcase, what_is_good_after_the_work_is_not_to_watch);
	suite_add_tcase(suite, tcase);
	return suite;
}
