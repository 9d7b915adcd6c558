/*
 * The readings beside what each explanation predicts, by keys.
 *
 * Source of the readings: common practice; low suction pressure and high
 * superheat with little subcooling on an orifice are a low charge.
 */
#include <check.h>
#include <string.h>

#include "support/desk.h"

Suite *predictions_suite(void);

static struct desk desk;

static void write_plate(void)
{
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_write(&desk, "metering", "fixed");
	desk_write(&desk, "nominal capacity", "3");
	desk_write(&desk, "SEER", "13");
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "runs");
}

static void with_little_charge(void)
{
	desk_open(&desk);
	write_plate();
	desk_keys(&desk, "F9");
	desk_write(&desk, "return dry", "78");
	desk_write(&desk, "return wet", "64");
	desk_write(&desk, "supply dry", "64");
	desk_keys(&desk, "F8");
	desk_write(&desk, "outdoor", "92");
	desk_write(&desk, "suction pressure", "98");
	desk_write(&desk, "suction line", "66");
	desk_write(&desk, "liquid pressure", "325");
	desk_write(&desk, "liquid line", "102");
}

static void put_away(void)
{
	desk_close(&desk);
}

static const struct predictions *shown(void)
{
	return &session_diagnosis(desk.session, STAGE_AS_FOUND)->predictions;
}

static int agreeing(const struct prediction *prediction)
{
	int agree = 0;

	for (int i = 0; i < prediction->count; i++)
		agree += prediction->list[i].agrees;
	return agree;
}

static const struct prediction *explanation(enum fault fault)
{
	for (int i = 0; i < shown()->count; i++)
		if (shown()->list[i].first == fault && shown()->list[i].second == FAULT_NONE)
			return &shown()->list[i];
	ck_abort_msg("no such explanation");
	return NULL;
}

START_TEST(the_page_is_one_key_from_the_findings_and_back)
{
	desk_keys(&desk, "F10 'p'");
	ck_assert(desk_shows(&desk, "Read and predicted, as found"));
	ck_assert(desk_shows(&desk, "low refrigerant charge"));
	ck_assert(desk_shows(&desk, "98.0 psig"));
	ck_assert(desk_shows(&desk, "Esc back"));
	desk_keys(&desk, "Esc");
	ck_assert(desk_shows(&desk, "Findings, as found"));
}
END_TEST

START_TEST(what_fits_agrees_more_than_a_sound_unit)
{
	ck_assert_int_gt(agreeing(explanation(FAULT_UNDERCHARGE)), agreeing(explanation(FAULT_NONE)));
	ck_assert_int_eq(agreeing(explanation(FAULT_UNDERCHARGE)), explanation(FAULT_UNDERCHARGE)->count);
	desk_keys(&desk, "F10 'p'");
	ck_assert(desk_shows(&desk, "5 of 5"));
}
END_TEST

START_TEST(explanations_that_do_not_fit_are_reached)
{
	workbook_resize(desk.workbook, 20, 60);
	desk_keys(&desk, "F10 'p'");
	ck_assert(!desk_shows(&desk, "a sound unit"));
	for (int i = 1; i < MOST_PREDICTIONS && !desk_shows(&desk, "a sound unit"); i++)
		desk_keys(&desk, "Right");
	ck_assert(desk_shows(&desk, "a sound unit"));
	desk_keys(&desk, "Left Left Left Left");
	ck_assert(desk_shows(&desk, "charge"));
}
END_TEST

START_TEST(enter_goes_to_the_reading)
{
	desk_keys(&desk, "F10 'p' Down Enter");
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_REFRIGERANT);
	desk_keys(&desk, "'330' Enter");
	ck_assert_double_eq(visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND,
	                                READING_LIQUID_PRESSURE)->number, 330);
}
END_TEST

START_TEST(the_numbers_follow_the_readers_units)
{
	desk_keys(&desk, "F10 'p' Ctrl+T");
	ck_assert(desk_shows(&desk, "kPa"));
	ck_assert(!desk_shows(&desk, "psig"));
	ck_assert(!desk_shows(&desk, "°F"));
}
END_TEST

START_TEST(the_page_at_both_sizes)
{
	desk_keys(&desk, "F10 'p'");
	desk_look(&desk, "predictions", false);
	desk_keys(&desk, "Ctrl+T");
	desk_look(&desk, "predictions-si", false);
}
END_TEST

START_TEST(nothing_read_has_nothing_beside_it)
{
	desk_keys(&desk, "Ctrl+B Ctrl+N 'Otto Brandt' Enter F10 'p'");
	ck_assert(desk_shows(&desk, "Nothing to compare"));
	desk_keys(&desk, "Enter Down Left Right Esc");
	ck_assert(desk_shows(&desk, "Findings, as found"));
}
END_TEST

/* Liquid warmer than what condenses in it while the suction floods: no fault does that. */
START_TEST(what_nothing_explains_is_said)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "180");
	desk_write(&desk, "suction line", "95");
	desk_write(&desk, "liquid pressure", "260");
	desk_write(&desk, "liquid line", "70");
	desk_keys(&desk, "F10 'p'");
	ck_assert(session_diagnosis(desk.session, STAGE_AS_FOUND)->unexplained > 0.5);
	ck_assert(desk_shows(&desk, "cannot tell: no known fault explains these readings"));
}
END_TEST

/* Beside "run capacitor weak" stood "cannot tell", as if nothing had been found. */
START_TEST(a_finding_is_told_apart_from_what_fits_nothing)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "60");
	desk_write(&desk, "suction line", "20");
	desk_write(&desk, "liquid pressure", "560");
	desk_write(&desk, "liquid line", "137");
	desk_keys(&desk, "F9");
	desk_write(&desk, "supply dry bulb", "44");
	ck_assert(session_diagnosis(desk.session, STAGE_AS_FOUND)->unexplained > 0.5);
	ck_assert(!desk_shows(&desk, "no known fault"));
	desk_keys(&desk, "F3");
	desk_write(&desk, "run capacitor, rated", "35");
	desk_keys(&desk, "F5");
	desk_write(&desk, "run capacitor", "28");
	ck_assert(desk_shows(&desk, "; the other readings fit no one fault"));
}
END_TEST

/* Pressures and pipes had been read, and the page asked for them. */
START_TEST(on_ice_it_says_why_nothing_is_compared)
{
	desk_keys(&desk, "F9");
	desk_write(&desk, "indoor coil", "iced");
	desk_keys(&desk, "F10 'p'");
	ck_assert(desk_shows(&desk, "Nothing to compare: the coil was iced."));
}
END_TEST

Suite *predictions_suite(void)
{
	Suite *suite = suite_create("predictions");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, with_little_charge, put_away);
	tcase_add_test(keys, the_page_is_one_key_from_the_findings_and_back);
	tcase_add_test(keys, what_fits_agrees_more_than_a_sound_unit);
	tcase_add_test(keys, explanations_that_do_not_fit_are_reached);
	tcase_add_test(keys, on_ice_it_says_why_nothing_is_compared);
	tcase_add_test(keys, enter_goes_to_the_reading);
	tcase_add_test(keys, the_numbers_follow_the_readers_units);
	tcase_add_test(keys, the_page_at_both_sizes);
	tcase_add_test(keys, nothing_read_has_nothing_beside_it);
	tcase_add_test(keys, what_nothing_explains_is_said);
	tcase_add_test(keys, a_finding_is_told_apart_from_what_fits_nothing);
	suite_add_tcase(suite, keys);
	return suite;
}
