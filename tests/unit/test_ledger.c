/* What a line of the ledger says: the line set's charge, the share, what was done. */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/app/ledger.h>

Suite *ledger_suite(void);

/* 15 ft beyond those that the unit was charged for, at 0.6 oz a foot: 9 oz. */
static const struct made_up_line line = {
	.made_up_oz = 10.9, .charge_oz = 100, .line_ft = 30, .precharged_ft = 15, .oz_per_ft = 0.6,
};

START_TEST(a_line_set_adds_to_the_charge)
{
	struct made_up_line other = line;

	ck_assert_double_eq_tol(ledger_line_set(&line), 9, 1e-9);
	ck_assert_double_eq_tol(ledger_share(&line), 10, 1e-9);
	other.line_ft = 15;
	ck_assert_double_eq_tol(ledger_line_set(&other), 0, 1e-9);
	other.oz_per_ft = 0;
	ck_assert_double_eq_tol(ledger_line_set(&other), 0, 1e-9);
}
END_TEST

/* What is not known of it leaves the factory charge alone. */
START_TEST(an_unknown_line_set_leaves_the_factory_charge)
{
	for (int i = 0; i < 3; i++) {
		struct made_up_line other = line;
		double *members[] = { &other.line_ft, &other.precharged_ft, &other.oz_per_ft };
		*members[i] = -1;
		ck_assert(isnan(ledger_line_set(&other)));
		ck_assert_double_eq_tol(ledger_share(&other), 10.9, 1e-9);
	}
}
END_TEST

START_TEST(without_a_factory_charge_there_is_no_share)
{
	struct made_up_line other = line;

	other.charge_oz = 0;
	ck_assert(isnan(ledger_share(&other)));
	other.charge_oz = -1;
	ck_assert(isnan(ledger_share(&other)));
	other = line;
	other.made_up_oz = 0;
	ck_assert_double_eq(ledger_share(&other), 0);
}
END_TEST

START_TEST(what_was_done_is_told_in_words)
{
	static const char *const words[] = {
		"", "leak found", "leak tested or evacuated", "leak found, leak tested or evacuated",
	};

	for (int i = 0; i < 4; i++) {
		struct made_up_line other = line;
		other.leak_found = i & 1;
		other.after_repair = i & 2;
		ck_assert_str_eq(ledger_marks(&other), words[i]);
	}
	ck_assert_str_eq(ledger_by_key(LEDGER_BY_SYSTEM), "system");
	ck_assert_str_eq(ledger_by_key(LEDGER_BY_YEAR), "year");
	ck_assert_str_eq(ledger_by_key(LEDGER_BY_CYLINDER), "cylinder");
}
END_TEST

Suite *ledger_suite(void)
{
	Suite *suite = suite_create("ledger");
	TCase *tests = tcase_create("ledger");

	tcase_add_test(tests, a_line_set_adds_to_the_charge);
	tcase_add_test(tests, an_unknown_line_set_leaves_the_factory_charge);
	tcase_add_test(tests, without_a_factory_charge_there_is_no_share);
	tcase_add_test(tests, what_was_done_is_told_in_words);
	suite_add_tcase(suite, tests);
	return suite;
}
