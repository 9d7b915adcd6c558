/* An array that grows: every item is kept, the last that is wanted says so, no memory says so. */
#include <check.h>
#include <stdint.h>
#include <stdlib.h>

#include <padside/base/gather.h>

Suite *gather_suite(void);

/* More than the first room, at it and beside it. */
static const size_t counts[] = { 1, 7, 8, 9, 63, 64, 65, 1000 };

START_TEST(every_item_is_kept)
{
	struct gather gather = { .size = sizeof(int) };

	for (int i = 0; i < (int)counts[_i]; i++)
		ck_assert(gather_add(&gather, &i));
	ck_assert_uint_eq(gather.count, counts[_i]);
	ck_assert(gather.capacity >= gather.count && !gather.failed);
	for (int i = 0; i < (int)counts[_i]; i++)
		ck_assert_int_eq(((int *)gather.items)[i], i);
	free(gather.items);
}
END_TEST

START_TEST(the_last_that_is_wanted_says_so)
{
	struct gather gather = { .size = sizeof(int), .most = counts[_i] };

	for (int i = 1; i <= (int)counts[_i]; i++)
		ck_assert_int_eq(gather_add(&gather, &i), i < (int)counts[_i]);
	ck_assert_uint_eq(gather.count, counts[_i]);
	ck_assert_int_eq(((int *)gather.items)[counts[_i] - 1], (int)counts[_i]);
	/* A few have exactly their room. */
	ck_assert(counts[_i] > 64 || gather.capacity == counts[_i]);
	free(gather.items);
}
END_TEST

START_TEST(what_no_memory_holds_is_not_added)
{
	struct gather gather = { .size = SIZE_MAX / 4 };

	ck_assert(!gather_add(&gather, ""));
	ck_assert(gather.failed);
	ck_assert_ptr_null(gather.items);
	ck_assert_uint_eq(gather.count, 0);
}
END_TEST

Suite *gather_suite(void)
{
	Suite *suite = suite_create("gather");
	TCase *tests = tcase_create("gather");

	tcase_add_loop_test(tests, every_item_is_kept, 0, sizeof counts / sizeof *counts);
	tcase_add_loop_test(tests, the_last_that_is_wanted_says_so, 0, sizeof counts / sizeof *counts);
	tcase_add_test(tests, what_no_memory_holds_is_not_added);
	suite_add_tcase(suite, tests);
	return suite;
}
