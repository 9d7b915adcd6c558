/* What the page of the tightness log says: nitrogen by the gas law, a vacuum by how it rises. */
#include <check.h>
#include <math.h>

#include <padside/model/tightness.h>

Suite *tightness_shown_suite(void);

static struct call call;
static struct tightness_told told;

static void set_up(void)
{
	call_init(&call);
}

static void tear_down(void)
{
	call_done(&call);
}

static struct value number(double value)
{
	return (struct value){ .state = isnan(value) ? VALUE_NOT_TAKEN : VALUE_TAKEN, .number = value };
}

static struct tightness_entry *add(enum tightness_kind kind, int seconds)
{
	struct tightness_entry *entry = call_list_add(&call, LIST_TIGHTNESS);

	ck_assert_ptr_nonnull(entry);
	entry->kind = kind;
	entry->at = 1784016300 + seconds;
	return entry;
}

static void add_nitrogen(int minutes, double psig, double temperature_f)
{
	struct tightness_entry *entry = add(TIGHTNESS_NITROGEN, 60 * minutes);

	entry->pressure = number(psig);
	entry->temperature = number(temperature_f);
}

START_TEST(an_empty_log_says_nothing)
{
	tightness_work_out(&call, &told);
	ck_assert(!told.has_nitrogen);
	ck_assert_int_eq(told.vacuum, VACUUM_NONE);
	/* One pressure says nothing of what was lost. */
	add_nitrogen(0, 450, 70);
	tightness_work_out(&call, &told);
	ck_assert(!told.has_nitrogen);
}
END_TEST

/*
 * The gas law at constant volume, psi a 10 °F: 3.1 at 150 psig, 8.8 at 450, 10.7 at 550; about
 * 70 °F.
 */
static const struct {
	double psig, by_ten_f;
} pressures[] = { { 150, 3.1 }, { 450, 8.8 }, { 550, 10.7 } };

START_TEST(nitrogen_is_corrected_for_the_temperature)
{
	double psig = pressures[_i].psig, change = pressures[_i].by_ten_f;

	add_nitrogen(0, psig, 70);
	add_nitrogen(45, psig - change, 60);
	tightness_work_out(&call, &told);
	ck_assert(told.has_nitrogen && told.is_corrected);
	ck_assert_double_eq_tol(told.lost_psi, 0, 0.06);
	ck_assert_int_eq(told.nitrogen_minutes, 45);
	/* The last pressure counts, and what is missing of it was lost. */
	add_nitrogen(60, psig + change - 5, 80);
	tightness_work_out(&call, &told);
	ck_assert_double_eq_tol(told.lost_psi, 5, 0.06);
	ck_assert_int_eq(told.nitrogen_minutes, 60);
	/* Without a temperature a drop is a drop; one above is no loss. */
	add_nitrogen(70, psig + 4, NAN);
	tightness_work_out(&call, &told);
	ck_assert(!told.is_corrected);
	ck_assert_double_eq_tol(told.lost_psi, -4, 1e-9);
}
END_TEST

/*
 * ± by hand: ±(1 psi + 1 %) of the gauge and ±1 °F of the thermometers; twice read on one gauge
 * the digits add as squares and its percent counts on the drop alone; at constant volume a
 * degree moves (P + 14.7) / 530 psi.
 */
static const struct {
	double from, to, plus_minus;
} readings_of_nitrogen[] = {
	{ 450, 450, 1.8808 }, /* √2 and √2 · 464.7 / 530 = 1.2400 as squares */
	{ 450, 350, 2.7140 }, /* √2 + 1 */
	{ 350, 450, 2.6030 }, /* the heat of the first: √2 · 364.7 / 530 = 0.9731 */
	{ 150, 150, 1.4809 }, /* √2 · 164.7 / 530 = 0.4395 */
};

START_TEST(what_a_drop_may_be_off)
{
	struct tightness_entry from = { .kind = TIGHTNESS_NITROGEN }, to = from;

	from.pressure = number(readings_of_nitrogen[_i].from);
	to.pressure = number(readings_of_nitrogen[_i].to);
	ck_assert_double_eq_tol(nitrogen_plus_minus(&from, &to), readings_of_nitrogen[_i].plus_minus, 0.0005);
}
END_TEST

/*
 * At or below 500 microns 15 minutes after the lowest
 * it held; a rise that levels off is moisture, a steady one a leak (Rheem P16, p. 34; Johnson
 * Controls YC4, p. 31).  Microns at seconds.
 */
static const struct {
	struct { int seconds; double microns; } looks[4];
	enum vacuum_state state;
} vacuums[] = {
	{ { { 0, 400 } }, VACUUM_WAITING },
	{ { { 0, 400 }, { 899, 480 } }, VACUUM_WAITING },
	{ { { 0, 400 }, { 899, 500 } }, VACUUM_WAITING },
	{ { { 0, 400 }, { 900, 500 } }, VACUUM_HELD },
	{ { { 0, 900 } }, VACUUM_WAITING },
	{ { { 0, 400 }, { 900, 501 } }, VACUUM_UNCLEAR },
	{ { { 0, 300 }, { 30, 600 }, { 1200, 700 } }, VACUUM_MOIST },
	/* Two minutes tell neither. */
	{ { { 0, 300 }, { 60, 600 }, { 120, 740 } }, VACUUM_UNCLEAR },
	{ { { 0, 300 }, { 60, 600 }, { 120, 760 } }, VACUUM_UNCLEAR },
	{ { { 0, 300 }, { 300, 900 }, { 600, 1500 } }, VACUUM_LEAKING },
	{ { { 0, 300 }, { 300, 900 }, { 600, 1000 }, { 900, 1600 } }, VACUUM_LEAKING },
	{ { { 0, 300 }, { 300, 900 }, { 600, 1500 }, { 900, 1600 } }, VACUUM_MOIST },
	/* The lowest counts from its last time on. */
	{ { { 0, 300 }, { 600, 300 }, { 1400, 450 } }, VACUUM_WAITING },
	{ { { 0, 800 }, { 300, 900 }, { 600, 300 }, { 1500, 450 } }, VACUUM_HELD },
};

START_TEST(a_vacuum_is_told_by_how_it_rises)
{
	for (int i = 0; i < 4 && vacuums[_i].looks[i].microns > 0; i++) {
		struct tightness_entry *entry = add(TIGHTNESS_VACUUM, vacuums[_i].looks[i].seconds);
		entry->microns = number(vacuums[_i].looks[i].microns);
	}
	tightness_work_out(&call, &told);
	ck_assert_int_eq(told.vacuum, vacuums[_i].state);
}
END_TEST

/*
 * A pressure test that fails is told as one, and the next one is judged by itself (15 minutes at
 * 150 psig: makers' installation instructions; an A2L takes 60, Trane 5TTR5018).
 */
static const struct {
	struct { int minutes; double psig, temperature_f; } looks[4];
	bool is_flammable;
	enum nitrogen_state state;
} nitrogens[] = {
	{ { { 0, 150, 70 } }, false, NITROGEN_NONE },
	{ { { 0, 150, 70 }, { 15, 120, 70 } }, false, NITROGEN_LEAKING },
	{ { { 0, 150, 70 }, { 2, 120, 70 } }, false, NITROGEN_LEAKING },
	{ { { 0, 150, 70 }, { 14, 150, 70 } }, false, NITROGEN_WAITING },
	{ { { 0, 150, 70 }, { 15, 150, 70 } }, false, NITROGEN_HELD },
	{ { { 0, 150, 70 }, { 15, 150, 70 } }, true, NITROGEN_WAITING },
	{ { { 0, 450, 70 }, { 60, 450, 70 } }, true, NITROGEN_HELD },
	/* The evening does 6 psi at most; not 30. */
	{ { { 0, 150, NAN }, { 30, 144, NAN } }, false, NITROGEN_UNCLEAR },
	{ { { 0, 150, NAN }, { 15, 120, NAN } }, false, NITROGEN_LEAKING },
	/* Repaired and filled again, to less than before. */
	{ { { 0, 150, 70 }, { 15, 120, 70 }, { 60, 145, 70 }, { 80, 145, 70 } }, false, NITROGEN_HELD },
	{ { { 0, 150, 70 }, { 15, 120, 70 }, { 60, 145, 70 } }, false, NITROGEN_NONE },
};

/* Which results say that the circuit does not hold, each alone. */
START_TEST(what_did_not_hold_is_told_by_each_result)
{
	for (int state = VACUUM_NONE; state <= VACUUM_UNCLEAR; state++) {
		struct tightness_told result = { .vacuum = (enum vacuum_state)state };
		bool rose = state == VACUUM_MOIST || state == VACUUM_LEAKING || state == VACUUM_UNCLEAR;
		ck_assert_int_eq(tightness_vacuum_did_not_hold(&result), rose);
		ck_assert_int_eq(tightness_did_not_hold(&result), rose);
		result.nitrogen = NITROGEN_LEAKING;
		ck_assert(tightness_did_not_hold(&result));
	}
}
END_TEST

START_TEST(a_pressure_test_has_a_result)
{
	if (nitrogens[_i].is_flammable)
		visit_set(&call.visit, STAGE_AS_FOUND, READING_REFRIGERANT,
		          &(struct value){ .state = VALUE_TAKEN, .choice = CHOICE_REFRIGERANT_R454B });
	for (int i = 0; i < 4 && nitrogens[_i].looks[i].psig > 0; i++)
		add_nitrogen(nitrogens[_i].looks[i].minutes, nitrogens[_i].looks[i].psig,
		             nitrogens[_i].looks[i].temperature_f);
	tightness_work_out(&call, &told);
	ck_assert_int_eq(told.nitrogen, nitrogens[_i].state);
	ck_assert(tightness_did_not_hold(&told) == (nitrogens[_i].state == NITROGEN_LEAKING));
}
END_TEST

START_TEST(each_test_ends_at_its_last_look)
{
	add_nitrogen(0, 150, 70);
	add_nitrogen(15, 120, 70);
	add_nitrogen(60, 150, 70);
	add_nitrogen(80, 150, 70);
	for (size_t i = 0; i < 4; i++)
		ck_assert_int_eq(tightness_ends_test(&call, i), i % 2);
	tightness_work_out_to(&call, 1, &told);
	ck_assert_int_eq(told.nitrogen, NITROGEN_LEAKING);
	tightness_work_out_to(&call, 3, &told);
	ck_assert_int_eq(told.nitrogen, NITROGEN_HELD);
}
END_TEST

/* A vacuum is pulled anew where the next look is lower; one that rises, or stands, goes on. */
START_TEST(a_vacuum_ends_where_it_is_pulled_anew)
{
	static const double microns[] = { 300, 300, 420, 250, 260 };
	static const bool ends[] = { false, false, true, false, true };

	for (size_t i = 0; i < 5; i++)
		add(TIGHTNESS_VACUUM, 600 * (int)i)->microns = number(microns[i]);
	for (size_t i = 0; i < 5; i++)
		ck_assert_msg(tightness_ends_test(&call, i) == ends[i], "look %zu", i);
}
END_TEST

Suite *tightness_shown_suite(void)
{
	Suite *suite = suite_create("tightness shown");
	TCase *tests = tcase_create("tightness shown");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, an_empty_log_says_nothing);
	tcase_add_loop_test(tests, nitrogen_is_corrected_for_the_temperature, 0,
	                    (int)(sizeof pressures / sizeof *pressures));
	tcase_add_loop_test(tests, what_a_drop_may_be_off, 0,
	                    (int)(sizeof readings_of_nitrogen / sizeof *readings_of_nitrogen));
	tcase_add_loop_test(tests, a_pressure_test_has_a_result, 0,
	                    (int)(sizeof nitrogens / sizeof *nitrogens));
	tcase_add_test(tests, what_did_not_hold_is_told_by_each_result);
	tcase_add_test(tests, each_test_ends_at_its_last_look);
	tcase_add_test(tests, a_vacuum_ends_where_it_is_pulled_anew);
	tcase_add_loop_test(tests, a_vacuum_is_told_by_how_it_rises, 0,
	                    (int)(sizeof vacuums / sizeof *vacuums));
	suite_add_tcase(suite, tests);
	return suite;
}
