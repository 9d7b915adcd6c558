/*
 * The store as it is built where there is no libpq: it meets no office, says so, and hands over
 * nothing.  The files are compiled here once more, under other names; tests/store/bare tries the
 * whole program.
 */
#undef HAVE_LIBPQ
#define store_sync_state bare_sync_state
#define store_sync bare_sync
#define store_sync_fetch bare_sync_fetch
#define store_sync_find bare_sync_find
#define store_office_init bare_office_init
#define sync_is_built bare_sync_is_built
#define office_not_built bare_office_not_built

#include "../../src/store/sync.c"
#include "../../src/store/office.c"

#include <check.h>

Suite *bare_suite(void);

static const char words[] = "this padside was built without libpq, so it cannot meet an office server; "
	"nothing was changed; build it again with libpq installed";

START_TEST(nothing_is_met_without_libpq)
{
	static const struct sync_report nothing = { 0 };
	struct sync_report report = { .sent = 1 };
	struct office_customer *list = (struct office_customer *)&report;
	struct error error = { .text = "" };
	size_t count = 1;
	int applied = 1;

	ck_assert(!sync_is_built());
	ck_assert_int_eq(store_sync(NULL, "firm", NULL, NULL, NULL, &report, &error), STATUS_NOT_APPLICABLE);
	ck_assert_str_eq(error.text, words);
	ck_assert_mem_eq(&report, &nothing, sizeof nothing);
	ck_assert_int_eq(store_sync_find(NULL, "firm", NULL, "x", 1, &list, &count, &error), STATUS_NOT_APPLICABLE);
	ck_assert_ptr_null(list);
	ck_assert_uint_eq(count, 0);
	ck_assert_int_eq(store_office_init("firm", NULL, &applied, &error), STATUS_NOT_APPLICABLE);
	ck_assert_int_eq(applied, 0);
}
END_TEST

Suite *bare_suite(void)
{
	Suite *suite = suite_create("bare");
	TCase *tests = tcase_create("bare");

	tcase_add_test(tests, nothing_is_met_without_libpq);
	suite_add_tcase(suite, tests);
	return suite;
}
