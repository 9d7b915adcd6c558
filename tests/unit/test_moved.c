/*
 * One filling may stand in two logs.  What is alike: common practice, a scale rounds to an ounce.
 */
#include <check.h>
#include <math.h>

#include <padside/model/moved.h>

#include "support/calls.h"

Suite *moved_suite(void);

enum { MOST = 4 };

/*
 * Amounts of the charge log and of the weigh-ins, ended by 0 (NAN: a look at nitrogen between them);
 * what all of it comes to.
 */
static const struct {
	double charge[MOST], weighed[MOST];
	double added;
	bool doubtful; /* a weigh-in may be one with what the charge log has */
} rows[] = {
	{ { 132 }, { 132 }, 132, false },
	{ { 131.5 }, { 132 }, 131.5, false },
	{ { 131 }, { 132 }, 131, false },
	{ { 130.9 }, { 132 }, 262.9, true },
	{ { 92 }, { 96 }, 188, true },
	{ { 60 }, { 96 }, 156, false },
	{ { 60, 36, 4 }, { 96 }, 100, false },
	{ { 4, 60, 36 }, { 96.5 }, 100, false },
	{ { 96, 4 }, { 60, 36 }, 100, false },
	{ { 96 }, { 60, 36, 7 }, 103, false },
	{ { 4, 96 }, { 60, 36 }, 100, false },
	{ { 96, 4 }, { 60, 40 }, 100, false },
	{ { 2 }, { 3 }, 5, false },
	{ { 0 }, { 40, 8 }, 48, false },
	{ { 44 }, { 20, NAN, NAN, 24 }, 44, false },
	{ { 46 }, { 20, NAN, NAN, 24 }, 90, false },
};

START_TEST(what_stands_in_both_logs_counts_once)
{
	struct tightness_entry weighed[MOST];
	struct call call;
	struct moved moved;
	bool doubtful = false;

	call_init(&call);
	for (int i = 0; i < MOST && rows[_i].charge[i] > 0; i++)
		call_add_charge(&call)->added_oz = rows[_i].charge[i];
	for (int i = 0; i < MOST && rows[_i].weighed[i] != 0; i++) {
		bool is_nitrogen = isnan(rows[_i].weighed[i]);
		weighed[call.tightness_count++] = (struct tightness_entry){
			.kind = is_nitrogen ? TIGHTNESS_NITROGEN : TIGHTNESS_WEIGH_IN,
			.amount = { .state = is_nitrogen ? VALUE_NOT_TAKEN : VALUE_TAKEN,
			            .number = is_nitrogen ? 0 : rows[_i].weighed[i] },
		};
	}
	call.tightness = weighed;
	moved_work_out(&call, &moved);
	ck_assert_double_eq_tol(moved.added_oz, rows[_i].added, 1e-9);
	for (size_t i = 0; i < call.tightness_count; i++)
		doubtful = doubtful || moved_is_doubtful(&call, &call.tightness[i]);
	ck_assert(doubtful == rows[_i].doubtful);
	call.tightness = NULL;
	call.tightness_count = 0;
	call_done(&call);
}
END_TEST

Suite *moved_suite(void)
{
	Suite *suite = suite_create("moved");
	TCase *tests = tcase_create("moved");

	tcase_add_loop_test(tests, what_stands_in_both_logs_counts_once, 0,
	                    sizeof rows / sizeof *rows);
	suite_add_tcase(suite, tests);
	return suite;
}
