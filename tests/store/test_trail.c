/*
 * The trail: books that were written in apart come to the same content,
 * whatever the order in which they are brought together.
 *
 * What is asked of the union is what is asked of a state-based replicated data
 * type (M. Shapiro and others, "Conflict-free Replicated Data Types", 2011):
 * it commutes, associates, is idempotent.  Cases that have a name, and a few
 * histories for every change of the store, are in test_apart.c.
 */
#include <check.h>
#include <stdint.h>

#include "support/books.h"

Suite *trail_suite(void);

enum { HISTORIES = 500, PARTS = 10 };

START_TEST(books_come_to_the_same_content_in_whatever_order_they_meet)
{
	for (int i = 0; i < HISTORIES / PARTS; i++)
		books_live((uint64_t)(_i * HISTORIES / PARTS + i) + 1, false);
}
END_TEST

START_TEST(books_come_to_the_same_content_when_one_was_copied_by_hand)
{
	for (int i = 0; i < HISTORIES / PARTS / 2; i++)
		books_live((uint64_t)(_i * HISTORIES / PARTS + i) + 1000001, true);
}
END_TEST

Suite *trail_suite(void)
{
	Suite *suite = suite_create("trail");
	TCase *tests = tcase_create("trail"), *copied = tcase_create("copied by hand");

	tcase_set_timeout(tests, 120);
	tcase_add_checked_fixture(tests, books_set_up, books_tear_down);
	tcase_add_loop_test(tests, books_come_to_the_same_content_in_whatever_order_they_meet, 0, PARTS);
	tcase_set_timeout(copied, 120);
	tcase_add_checked_fixture(copied, books_set_up, books_tear_down);
	tcase_add_loop_test(copied, books_come_to_the_same_content_when_one_was_copied_by_hand, 0, PARTS);
	suite_add_tcase(suite, tests);
	suite_add_tcase(suite, copied);
	return suite;
}
