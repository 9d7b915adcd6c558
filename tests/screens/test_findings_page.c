/* What is noted beside the findings stands among them, in the words of the report. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/session.h>

#include "support/desk.h"

Suite *findings_page_suite(void);

static struct desk desk;

static void with_a_call(void)
{
	desk_open_on_call(&desk);
}

static void put_away(void)
{
	desk_close(&desk);
}

/* NEC 440.22: the nameplate's largest device is the limit. */
static void fit_a_large_breaker(void)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "max. overcurrent device", "30");
	desk_write(&desk, "breaker or fuse fitted", "50");
}

START_TEST(a_breaker_that_is_too_large_stands_on_the_page_with_what_to_do)
{
	fit_a_large_breaker();
	desk_keys(&desk, "F10");
	ck_assert(desk_shows(&desk, "noted             act    breaker or fuse fitted: 50 A"));
	ck_assert(desk_shows(&desk, "Breaker or fuse fitted: 50 A. It is larger than the nameplate"));
	ck_assert(desk_shows(&desk, "A licensed electrician"));
	ck_assert(desk_shows(&desk, "so far: noted: breaker or fuse fitted"));
	ck_assert(!desk_shows(&desk, "Too little was read"));
}
END_TEST

/* Each row with a caution has it over what to do, whatever else is found. */
START_TEST(oil_stands_behind_the_findings_with_its_caution)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "compressor motor", "psc");
	desk_write(&desk, "run capacitor", "45");
	desk_keys(&desk, "F5");
	desk_write(&desk, "run capacitor", "27");
	desk_keys(&desk, "F8");
	desk_write(&desk, "oil", "acid, dark");
	desk_keys(&desk, "F10");
	ck_assert(desk_shows(&desk, "act    run capacitor failed"));
	ck_assert(desk_shows(&desk, "noted             watch  oil: acid, dark"));
	ck_assert(!desk_shows(&desk, "gloves and glasses"));
	desk_keys(&desk, "End");
	ck_assert(desk_shows(&desk, "careful  Burnt oil is acid: gloves and glasses"));
	ck_assert(desk_shows(&desk, "do       Oil: acid, dark."));
}
END_TEST

/* Whatever the report notes for the office the page has, word for word. */
START_TEST(the_page_notes_what_the_report_notes)
{
	struct noted noted;
	int count = 0;

	fit_a_large_breaker();
	desk_keys(&desk, "F5");
	desk_write(&desk, "board fault code", "33");
	desk_keys(&desk, "F8");
	desk_write(&desk, "oil", "clear");
	desk_keys(&desk, "F10 Home");
	for (int i = 0; i < NOTED_ROWS; i++) {
		if (!session_noted(desk.session, i, &noted))
			continue;
		char start[41];
		snprintf(start, sizeof start, "%.40s", noted.office);
		ck_assert_msg(desk_shows(&desk, start), "not on the page: %s", start);
		desk_keys(&desk, "Down");
		count++;
	}
	ck_assert_int_eq(count, 3);
}
END_TEST

START_TEST(what_is_noted_is_not_judged)
{
	fit_a_large_breaker();
	desk_keys(&desk, "F10 c x w");
	ck_assert_uint_eq(call_list_count(desk_call(&desk), LIST_JUDGEMENTS), 0);
	ck_assert(desk_shows(&desk, "is noted, not a finding"));
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "is noted, not a finding"));
}
END_TEST

/* A click, and going from one stage to the other, keep to lines that are there. */
START_TEST(what_is_noted_stands_on_both_stages)
{
	fit_a_large_breaker();
	desk_keys(&desk, "F10 Right");
	ck_assert(desk_shows(&desk, "Findings, as left"));
	ck_assert(desk_shows(&desk, "noted             act    breaker or fuse fitted: 50 A"));
	desk_keys(&desk, "Left Down Down");
	ck_assert(desk_shows(&desk, "Breaker or fuse fitted: 50 A. It is larger than the nameplate"));
}
END_TEST

Suite *findings_page_suite(void)
{
	Suite *suite = suite_create("findings_page");
	TCase *notes = tcase_create("noted");

	tcase_add_checked_fixture(notes, with_a_call, put_away);
	tcase_add_test(notes, a_breaker_that_is_too_large_stands_on_the_page_with_what_to_do);
	tcase_add_test(notes, oil_stands_behind_the_findings_with_its_caution);
	tcase_add_test(notes, the_page_notes_what_the_report_notes);
	tcase_add_test(notes, what_is_noted_is_not_judged);
	tcase_add_test(notes, what_is_noted_stands_on_both_stages);
	suite_add_tcase(suite, notes);
	return suite;
}
