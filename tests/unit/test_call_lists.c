/* The lists of a call: order by time, copies, places, and what a new line starts with. */
#include <check.h>
#include <string.h>

#include <padside/app/call_json.h>
#include <padside/model/call.h>
#include <padside/model/call_parts.h>

#include "support/calls.h"

Suite *call_lists_suite(void);

static struct call call;

static void set_up(void)
{
	call_init(&call);
}

static void tear_down(void)
{
	call_done(&call);
}

static void add_charge(wall_time at, double ounces)
{
	struct charge_entry *entry = call_add_charge(&call);

	ck_assert_ptr_nonnull(entry);
	entry->at = at;
	entry->added_oz = ounces;
	call_list_place(&call, LIST_CHARGE, call.charge_count - 1);
}

static void check_order(const double *ounces, size_t count)
{
	ck_assert_uint_eq(call.charge_count, count);
	for (size_t i = 0; i < count; i++)
		ck_assert_double_eq(call.charge[i].added_oz, ounces[i]);
}

START_TEST(entries_stand_in_the_order_of_their_times)
{
	add_charge(300, 3);
	add_charge(100, 1);
	add_charge(WALL_TIME_NONE, 9);
	add_charge(200, 2);
	check_order((double[]){ 1, 2, 3, 9 }, 4);
	/* Those of one time stay in the order of typing. */
	add_charge(200, 2.5);
	check_order((double[]){ 1, 2, 2.5, 3, 9 }, 5);
	add_charge(WALL_TIME_NONE, 10);
	check_order((double[]){ 1, 2, 2.5, 3, 9, 10 }, 6);
}
END_TEST

/* One that belonged two places before was moved by one, and the call was another when read again. */
START_TEST(a_list_that_came_in_any_order_is_put_in_that_of_time)
{
	static const wall_time times[] = { 400, 500, 100, 600, 300 };

	for (int i = 0; i < 5; i++) {
		struct charge_entry *entry = call_add_charge(&call);
		ck_assert_ptr_nonnull(entry);
		entry->at = times[i];
		entry->added_oz = (double)times[i];
	}
	call_list_sort(&call, LIST_CHARGE);
	check_order((double[]){ 100, 300, 400, 500, 600 }, 5);
}
END_TEST

START_TEST(an_entry_moves_when_its_time_is_changed)
{
	for (int i = 1; i <= 4; i++)
		add_charge(100 * i, i);
	call.charge[0].at = 350;
	call_list_place(&call, LIST_CHARGE, 0);
	check_order((double[]){ 2, 3, 1, 4 }, 4);
	call.charge[3].at = 50;
	call_list_place(&call, LIST_CHARGE, 3);
	check_order((double[]){ 4, 2, 3, 1 }, 4);
	call.charge[1].at = WALL_TIME_NONE;
	call_list_place(&call, LIST_CHARGE, 1);
	check_order((double[]){ 4, 3, 1, 2 }, 4);
	/* Its id and its words go with it. */
	struct uid uid = call.charge[0].uid;
	memcpy(call.charge[0].note, "first", sizeof "first");
	call.charge[0].at = 1000;
	call_list_place(&call, LIST_CHARGE, 0);
	ck_assert_str_eq(call.charge[2].note, "first");
	ck_assert_str_eq(call.charge[2].uid.text, uid.text);
}
END_TEST

START_TEST(lines_of_work_stay_where_they_were_typed)
{
	for (int i = 0; i < 3; i++) {
		struct work_line *line = call_add_work(&call);
		ck_assert_ptr_nonnull(line);
		/* A new line is of one piece at no price. */
		ck_assert_int_eq(line->quantity, 1000);
		ck_assert_int_eq(line->unit_price, 0);
		line->unit_price = 100 - i;
		call_list_place(&call, LIST_WORK, (size_t)i);
	}
	for (int i = 0; i < 3; i++)
		ck_assert_int_eq(call.work[i].unit_price, 100 - i);
	call_list_remove(&call, LIST_WORK, 0);
	ck_assert_uint_eq(call.work_count, 2);
	ck_assert_int_eq(call.work[0].unit_price, 99);
	call_list_remove(&call, LIST_WORK, 1);
	ck_assert_uint_eq(call.work_count, 1);
	ck_assert_int_eq(call.work[0].unit_price, 99);
}
END_TEST

/* Only what has a time is kept by time: every other list stays as it was typed. */
START_TEST(only_logs_are_kept_by_time)
{
	static const char *const uids[] = { "zzzzzzzzzz", "mmmmmmmmmm", "aaaaaaaaaa" };
	enum call_list list = (enum call_list)_i;

	if (list == LIST_CHARGE || list == LIST_TIGHTNESS)
		return;
	for (size_t i = 0; i < 3; i++)
		ck_assert_ptr_nonnull(call_list_add(&call, list));
	for (size_t i = 0; i < 3; i++)
		memcpy(((struct uid *)call_list_at(&call, list, i))->text, uids[i], sizeof "zzzzzzzzzz");
	for (size_t i = 0; i < 3; i++)
		call_list_place(&call, list, i);
	for (size_t i = 0; i < 3; i++)
		ck_assert_str_eq(((struct uid *)call_list_at(&call, list, i))->text, uids[i]);
}
END_TEST

START_TEST(a_copy_stands_alone)
{
	struct call copy;

	add_charge(100, 1);
	call_add_work(&call)->unit_price = 5;
	ck_assert(call_copy(&call, &copy));
	ck_assert_uint_eq(copy.charge_count, 1);
	ck_assert_uint_eq(copy.offer_count, 0);
	ck_assert_str_eq(copy.charge[0].uid.text, call.charge[0].uid.text);
	copy.charge[0].added_oz = 7;
	copy.work[0].unit_price = 8;
	ck_assert_double_eq(call.charge[0].added_oz, 1);
	ck_assert_int_eq(call.work[0].unit_price, 5);
	call_done(&copy);
	ck_assert_uint_eq(copy.charge_count, 0);
}
END_TEST

START_TEST(a_line_is_found_by_its_id)
{
	struct uid stranger = uid_new();

	for (int list = 0; list < CALL_LIST_COUNT; list++) {
		struct uid uids[3];
		for (int i = 0; i < 3; i++) {
			void *element = call_list_add(&call, (enum call_list)list);
			ck_assert_ptr_nonnull(element);
			uids[i] = *(struct uid *)element;
			ck_assert(uid_is_valid(uids[i].text));
		}
		ck_assert_uint_eq(call_list_count(&call, (enum call_list)list), 3);
		for (size_t i = 0; i < 3; i++) {
			ck_assert_uint_eq(call_list_find(&call, (enum call_list)list, &uids[i]), i);
			struct uid *at = call_list_at(&call, (enum call_list)list, i);
			ck_assert_str_eq(at->text, uids[i].text);
		}
		ck_assert_uint_eq(call_list_find(&call, (enum call_list)list, &stranger), 3);
		ck_assert_ptr_null(call_list_at(&call, (enum call_list)list, 3));
		call_list_remove(&call, (enum call_list)list, 1);
		ck_assert_uint_eq(call_list_find(&call, (enum call_list)list, &uids[2]), 1);
		ck_assert_uint_eq(call_list_find(&call, (enum call_list)list, &uids[1]), 2);
	}
}
END_TEST

/* An amount that is nothing is empty, not a zero that somebody measured. */
START_TEST(an_amount_of_nothing_is_empty)
{
	const struct call_member *added = call_member_find(PART_CHARGE, "added");
	struct charge_entry *entry = call_add_charge(&call);
	char text[MEMBER_TEXT_SIZE];

	ck_assert_ptr_nonnull(added);
	call_member_format(added, entry, text, sizeof text);
	ck_assert_str_eq(text, "");
	entry->added_oz = 0.5;
	call_member_format(added, entry, text, sizeof text);
	ck_assert_str_eq(text, "0.5");
	ck_assert(call_member_parse(added, entry, ""));
	ck_assert_double_eq(entry->added_oz, 0);
	ck_assert(!call_member_parse(added, entry, "many"));
	ck_assert_double_eq(entry->added_oz, 0);
	ck_assert_ptr_null(call_member_find(PART_CHARGE, "no_such_member"));
	/* Quantities are kept in thousandths, of at most a million. */
	struct work_line *line = call_add_work(&call);
	const struct call_member *quantity = call_member_find(PART_WORK, "quantity");
	ck_assert(call_member_parse(quantity, line, "1000000000"));
	ck_assert_int_eq(line->quantity, 1000000000);
	ck_assert(!call_member_parse(quantity, line, "1000000001"));
	ck_assert_int_eq(line->quantity, 1000000000);
}
END_TEST

/* The words of a call are in books and files of earlier years: each is what it was, and no other. */
static const struct {
	const char *key;
	int value; /* -1: none */
} kinds[] = {
	{ "labour", WORK_LABOUR }, { "part", WORK_PART }, { "refrigerant", WORK_REFRIGERANT },
	{ "fee", WORK_FEE }, { "", -1 }, { "Labour", -1 }, { "fees", -1 },
}, decisions[] = {
	{ "none", DECISION_NONE }, { "accepted", DECISION_ACCEPTED }, { "declined", DECISION_DECLINED },
	{ "decline", -1 },
}, verdicts[] = {
	{ "confirmed", JUDGEMENT_CONFIRMED }, { "ruled_out", JUDGEMENT_RULED_OUT },
	{ "watch", JUDGEMENT_WATCH }, { "watched", -1 },
}, tests_of_tightness[] = {
	{ "nitrogen", TIGHTNESS_NITROGEN }, { "vacuum", TIGHTNESS_VACUUM },
	{ "weigh_in", TIGHTNESS_WEIGH_IN }, { "weigh", -1 },
};

#define EACH_WORD(words, type, name) \
	for (size_t i = 0; i < sizeof words / sizeof *words; i++) { \
		enum type value = (enum type)1; \
		ck_assert_int_eq(name##_from_key(words[i].key, &value), words[i].value >= 0); \
		ck_assert_int_eq((int)value, words[i].value >= 0 ? words[i].value : 1); \
		if (words[i].value >= 0) \
			ck_assert_str_eq(name##_key(value), words[i].key); \
	}

START_TEST(the_words_of_a_call_are_what_they_were)
{
	EACH_WORD(kinds, work_kind, work_kind)
	EACH_WORD(decisions, decision, decision)
	EACH_WORD(verdicts, judgement_verdict, judgement_verdict)
	EACH_WORD(tests_of_tightness, tightness_kind, tightness_kind)
}
END_TEST

/* A text that fills its member reaches no further, whatever lies behind the text that is read. */
START_TEST(a_text_keeps_to_its_member)
{
	for (int p = 0; p < CALL_PART_COUNT; p++)
		for (const struct call_member *member = call_part_info((enum call_part)p)->members;
		     member->key; member++) {
			unsigned char part[8192], before[8192];
			char text[MEMBER_TEXT_SIZE + 2];
			if (member->form != FORM_TEXT)
				continue;
			ck_assert_uint_lt(member->offset + member->size + 8, sizeof part);
			memset(part, 0xA5, sizeof part);
			memcpy(before, part, sizeof part);
			memset(text, 'x', sizeof text);
			text[member->size - 1] = '\0';
			ck_assert(call_member_parse(member, part, text));
			ck_assert_str_eq((char *)part + member->offset, text);
			memset(part + member->offset, 0xA5, member->size);
			ck_assert_mem_eq(part, before, sizeof part);
			/* One letter more is too long, and nothing is changed. */
			memset(text, 'x', sizeof text);
			text[member->size] = '\0';
			ck_assert(!call_member_parse(member, part, text));
			ck_assert_mem_eq(part, before, sizeof part);
		}
}
END_TEST

/* An entry that nothing was written in keeps what says what it is: an empty text is no lost one. */
START_TEST(what_every_entry_has_is_written_when_it_is_empty)
{
	static const char *const expected[CALL_LIST_COUNT] = {
		[LIST_CHARGE] = "}]",
		[LIST_WORK] = (", \"kind\": \"labour\", \"description\": \"\", \"quantity\": 1, "
		               "\"unit_price\": \"0.00\"}]"),
		[LIST_OFFERS] = ", \"title\": \"\", \"price_low\": \"0.00\", \"price_high\": \"0.00\"}]",
		[LIST_WATCH] = ", \"text\": \"\"}]",
		[LIST_JUDGEMENTS] = ", \"fault\": \"\", \"verdict\": \"confirmed\"}]",
		[LIST_TIGHTNESS] = ", \"kind\": \"nitrogen\"}]",
		[LIST_CYLINDERS] = ", \"name\": \"\"}]",
	};
	struct text text;

	text_init(&text);
	ck_assert_ptr_nonnull(call_list_add(&call, (enum call_list)_i));
	call_json_write(&call, &text);
	const char *entry = strstr(text_get(&text), "{\"uid\": \"");
	ck_assert_ptr_nonnull(entry);
	entry = strchr(entry + strlen("{\"uid\": \""), '"') + 1;
	ck_assert_msg(strncmp(entry, expected[_i], strlen(expected[_i])) == 0, "%s", entry);
	text_done(&text);
}
END_TEST

Suite *call_lists_suite(void)
{
	Suite *suite = suite_create("call_lists");
	TCase *tests = tcase_create("call lists");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, entries_stand_in_the_order_of_their_times);
	tcase_add_test(tests, a_list_that_came_in_any_order_is_put_in_that_of_time);
	tcase_add_test(tests, an_entry_moves_when_its_time_is_changed);
	tcase_add_test(tests, lines_of_work_stay_where_they_were_typed);
	tcase_add_loop_test(tests, only_logs_are_kept_by_time, 0, CALL_LIST_COUNT);
	tcase_add_test(tests, a_copy_stands_alone);
	tcase_add_test(tests, a_line_is_found_by_its_id);
	tcase_add_test(tests, an_amount_of_nothing_is_empty);
	tcase_add_test(tests, the_words_of_a_call_are_what_they_were);
	tcase_add_test(tests, a_text_keeps_to_its_member);
	tcase_add_loop_test(tests, what_every_entry_has_is_written_when_it_is_empty, 0, CALL_LIST_COUNT);
	suite_add_tcase(suite, tests);
	return suite;
}
