/*
 * The words of an assessment: how strongly evidence speaks, how a finding stands, what charging
 * says, in both systems of units.  The words are the project's own; conversions are exact by
 * definition (1 oz = 28.3495 g, 1 psi = 6.8948 kPa: NIST SP 811).
 */
#include <check.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/report/wording.h>

Suite *wording_suite(void);

static char out[WORDING_SIZE];

static const struct {
	double leans;
	const char *words;
} strengths[] = {
	{ 5, "strong evidence for it" }, { 1.0, "strong evidence for it" }, { 0.99, "evidence for it" },
	{ 0.3, "evidence for it" }, { 0.29, "weak evidence for it" }, { 0.1, "weak evidence for it" },
	{ 0.09, "neutral" }, { 0, "neutral" }, { -0.1, "neutral" }, { -0.11, "weak evidence against it" },
	{ -0.3, "weak evidence against it" }, { -0.31, "evidence against it" },
	{ -1.0, "evidence against it" }, { -1.01, "strong evidence against it" },
	{ -9, "strong evidence against it" },
};

START_TEST(evidence_is_as_strong_as_it_leans)
{
	ck_assert_str_eq(wording_strength(strengths[_i].leans), strengths[_i].words);
}
END_TEST

START_TEST(a_finding_stands_as_it_was_decided)
{
	struct finding finding = { .basis = BASIS_MEASURED };
	struct call call;

	call_init(&call);
	struct judgement *judgements = call_list_add(&call, LIST_JUDGEMENTS);
	ck_assert_ptr_nonnull(judgements);
	wording_standing(&finding, &call, true, out, sizeof out);
	ck_assert_str_eq(out, "measured");
	finding.basis = BASIS_INFERRED;
	wording_standing(&finding, &call, true, out, sizeof out);
	ck_assert_str_eq(out, "");
	finding.is_judged = true;
	judgements[0].verdict = JUDGEMENT_RULED_OUT;
	wording_standing(&finding, &call, true, out, sizeof out);
	ck_assert_str_eq(out, "ruled out by the technician");
	judgements[0].verdict = JUDGEMENT_WATCH;
	text_copy(judgements[0].by, sizeof judgements[0].by, "A. Kern");
	text_copy(judgements[0].why, sizeof judgements[0].why, "shell was hot");
	wording_standing(&finding, &call, true, out, sizeof out);
	ck_assert_str_eq(out, "set to watch by A. Kern: shell was hot");
	call_done(&call);
}
END_TEST

START_TEST(after_the_work_a_finding_is_gone_or_not)
{
	static const struct {
		enum after_work after_work;
		const char *words;
	} rows[] = {
		{ AFTER_WORK_NONE, "" }, { AFTER_WORK_GONE, "gone, measured again" },
		{ AFTER_WORK_STILL_THERE, "still there" }, { AFTER_WORK_NOT_TESTED, "not tested again" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct finding finding = { .after_work = rows[i].after_work };
		ck_assert_str_eq(wording_after_work(&finding), rows[i].words);
	}
}
END_TEST

/* A filter is looked at, a capacitor is measured: what leans against a finding counts for neither. */
START_TEST(what_was_only_looked_at_is_seen_again)
{
	struct finding finding = { .after_work = AFTER_WORK_GONE, .evidence_count = 2, .evidence = {
		{ .reading = READING_FILTER_CONDITION, .leans = 1 },
		{ .reading = READING_COMMON_AMPS, .leans = -1 },
	} };

	ck_assert_str_eq(wording_after_work(&finding), "gone, seen again");
	finding.evidence[1].leans = 1;
	ck_assert_str_eq(wording_after_work(&finding), "gone, measured again");
	finding.evidence[1] = (struct evidence){ .figure = FIGURE_SUPERHEAT, .leans = 1 };
	ck_assert_str_eq(wording_after_work(&finding), "gone, measured again");
	finding.after_work = AFTER_WORK_STILL_THERE;
	ck_assert_str_eq(wording_after_work(&finding), "still there");
}
END_TEST

START_TEST(what_nothing_explains_is_said)
{
	struct diagnosis diagnosis = { .unexplained = 0.5 };

	ck_assert_str_eq(wording_unexplained(&diagnosis), "");
	diagnosis.unexplained = 0.51;
	ck_assert_ptr_nonnull(strstr(wording_unexplained(&diagnosis), "cannot tell"));
}
END_TEST

START_TEST(explanations_and_predictions_in_the_readers_units)
{
	struct prediction prediction = { .first = FAULT_UNDERCHARGE };
	struct predicted predicted = { .reading = READING_SUCTION_PRESSURE, .value = 121.3,
	                               .plus_minus = 6.1 };

	wording_explanation(&prediction, out, sizeof out);
	ck_assert_str_eq(out, "low refrigerant charge");
	prediction.second = FAULT_LOW_INDOOR_AIRFLOW;
	wording_explanation(&prediction, out, sizeof out);
	ck_assert_str_eq(out, "low refrigerant charge with too little indoor airflow");
	wording_explanation(&(struct prediction){ .first = FAULT_NONE }, out, sizeof out);
	ck_assert_str_eq(out, "a sound unit");
	wording_predicted(&predicted, UNITS_US, out, sizeof out);
	ck_assert_str_eq(out, "121.3 ±6.1");
	wording_predicted(&predicted, UNITS_SI, out, sizeof out);
	ck_assert_str_eq(out, "836 ±42");
}
END_TEST

START_TEST(a_difference_from_the_past_has_no_offset)
{
	struct own_difference own = { .figure = FIGURE_CONDENSER_OVER_OUTDOOR, .difference = 9,
	                              .visits = 2 };

	wording_own(&own, UNITS_US, out, sizeof out);
	ck_assert_str_eq(out, "condensing over ambient 9.0 °F above this unit's own, 2 visits");
	wording_own(&own, UNITS_SI, out, sizeof out);
	ck_assert_str_eq(out, "condensing over ambient 5.0 K above this unit's own, 2 visits");
	own = (struct own_difference){ .reading = READING_LIQUID_LINE_TEMP, .difference = -9, .visits = 1 };
	wording_own(&own, UNITS_SI, out, sizeof out);
	ck_assert_str_eq(out, "liquid line temperature 5.0 K below this unit's own, 1 visit");
}
END_TEST

static const struct {
	struct charging charging;
	enum unit_system units;
	const char *words;
} chargings[] = {
	{ { .status = STATUS_MISSING }, UNITS_US, "no target: outdoor dry bulb and return wet bulb are "
	  "needed" },
	{ { .status = STATUS_MISSING, .mode = CHARGE_BY_SUBCOOLING }, UNITS_US,
	  "no target: the nameplate's subcooling is needed" },
	{ { .status = STATUS_TABLE_DASH }, UNITS_US, "no target in this weather: weigh the charge in" },
	{ { .status = STATUS_NOT_APPLICABLE }, UNITS_US,
	  "inverter: charge by weight or by the maker's table" },
	{ { .possible = true, .now_f = 9, .advice = { .verdict = CHARGE_HOLD } }, UNITS_US,
	  "superheat 9.0 °F is at its target: leave the charge as it is" },
	{ { .possible = true, .now_f = 9, .mode = CHARGE_BY_SUBCOOLING, .advice = { .verdict = CHARGE_HOLD } },
	  UNITS_SI, "subcooling 5.0 K is at its target: leave the charge as it is" },
	{ { .possible = true, .mode = CHARGE_BY_SUBCOOLING, .advice = { .verdict = CHARGE_NO_ANSWER } },
	  UNITS_US, "subcooling does not follow the refrigerant: look for another fault" },
	{ { .possible = true, .advice = { .verdict = CHARGE_WAIT, .wait_minutes = 8 } }, UNITS_US,
	  "not settled: read again in 8 min" },
	{ { .possible = true, .advice = { .verdict = CHARGE_FIX_AIRFLOW } }, UNITS_US,
	  "repair first: airflow; the charge cannot be judged before" },
	{ { .possible = true, .first = FAULT_FILTER_BLOCKED, .advice = { .verdict = CHARGE_FIX_AIRFLOW } },
	  UNITS_US, "repair first: air filter dirty or blocked; the charge cannot be judged before" },
	{ { .possible = true, .advice = { .verdict = CHARGE_ADD, .move_oz = 6.5, .total_oz = 13.2,
	    .total_plus_minus_oz = 7.6, .wait_minutes = 10, .may_overshoot = true } }, UNITS_US,
	  "add 6.5 oz, wait 10 min, read again; in all 13 oz ±8 oz (95 %); all at once could pass the "
	  "target" },
	{ { .possible = true, .advice = { .verdict = CHARGE_RECOVER, .move_oz = -6.5, .total_oz = -13.2,
	    .total_plus_minus_oz = 7.6, .wait_minutes = 10, .has_overshot = true, .is_much = true } },
	  UNITS_SI, "recover 184 g, wait 10 min, read again; in all 374 g ±215 g (95 %); the last step "
	  "passed the target; a lot was moved: weigh it in" },
};

START_TEST(charging_is_said_in_ounces_and_grams)
{
	wording_charging(&chargings[_i].charging, chargings[_i].units, out, sizeof out);
	ck_assert_str_eq(out, chargings[_i].words);
}
END_TEST

static const struct {
	struct next_check check;
	const char *words;
} checks[] = {
	{ { .reading = READING_COMPRESSOR_STATE, .reason = CHECK_PART },
	  "whether the fault is electrical or in the refrigerant" },
	{ { .reading = READING_REVERSING_VALVE_OUT_TEMP, .reason = CHECK_PART },
	  "whether the reversing valve leaks" },
	{ { .reading = READING_LEAK_PLACE, .reason = CHECK_CAUSE, .between = { FAULT_UNDERCHARGE } },
	  "where the refrigerant went: search for the leak before adding any" },
	{ { .reading = READING_SUCTION_LINE_TEMP, .reason = CHECK_TELL_APART,
	    .between = { FAULT_UNDERCHARGE, FAULT_LIQUID_RESTRICTION } },
	  "low refrigerant charge or restriction in the liquid line" },
	{ { .reading = READING_SUCTION_LINE_TEMP, .reason = CHECK_TELL_APART },
	  "whether the circuit is sound" },
	{ { .reading = READING_COMPRESSOR_CAPACITANCE, .reason = CHECK_PROVE,
	    .between = { FAULT_COMPRESSOR_CAPACITOR_FAILED } },
	  "whether this is repaired: run capacitor failed" },
};

START_TEST(a_next_check_says_what_it_answers)
{
	wording_next_check(&checks[_i].check, out, sizeof out);
	ck_assert_str_eq(out, checks[_i].words);
}
END_TEST

/* Cut at a whole character: ± has two bytes. */
START_TEST(a_clause_that_is_cut_ends_with_a_whole_character)
{
	struct predicted predicted = { .reading = READING_SUCTION_PRESSURE, .value = 121.3,
	                               .plus_minus = 6.1 };

	wording_predicted(&predicted, UNITS_US, out, 8);
	ck_assert_str_eq(out, "121.3 ");
}
END_TEST

Suite *wording_suite(void)
{
	Suite *suite = suite_create("wording");
	TCase *tests = tcase_create("wording");

	tcase_add_loop_test(tests, evidence_is_as_strong_as_it_leans, 0,
	                    sizeof strengths / sizeof *strengths);
	tcase_add_test(tests, a_finding_stands_as_it_was_decided);
	tcase_add_test(tests, after_the_work_a_finding_is_gone_or_not);
	tcase_add_test(tests, what_was_only_looked_at_is_seen_again);
	tcase_add_test(tests, what_nothing_explains_is_said);
	tcase_add_test(tests, explanations_and_predictions_in_the_readers_units);
	tcase_add_test(tests, a_difference_from_the_past_has_no_offset);
	tcase_add_loop_test(tests, charging_is_said_in_ounces_and_grams, 0,
	                    sizeof chargings / sizeof *chargings);
	tcase_add_loop_test(tests, a_next_check_says_what_it_answers, 0, sizeof checks / sizeof *checks);
	tcase_add_test(tests, a_clause_that_is_cut_ends_with_a_whole_character);
	suite_add_tcase(suite, tests);
	return suite;
}
