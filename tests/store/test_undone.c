/* What is told when something is taken back or made again, and what is there then. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/session.h>
#include <padside/app/session_same.h>
#include <padside/base/text.h>
#include <padside/model/call_parts.h>

#include "support/scratch.h"

Suite *undone_suite(void);

static char folder[SCRATCH_SIZE];
static char path[96];
static wall_time now;
static struct error error;
static struct store *books[2];
static struct session *desks[2];
static char what[SESSION_UNDONE_SIZE];

static const char nothing_to_make[] =
	"nothing was taken back that could be made again; a new change ends that";

static wall_time test_now(void *context)
{
	(void)context;
	return now;
}

static const struct clock test_clock = { .now = test_now };

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void assert_refused(enum status status, enum status wanted, const char *says)
{
	ck_assert_int_eq(status, wanted);
	ck_assert_str_eq(error.text, says);
}

static void set_up(void)
{
	scratch_make(folder);
	snprintf(path, sizeof path, "%s/book.db", folder);
	ck_assert(clock_parse("2026-07-14T08:05", &now));
	for (int i = 0; i < 2; i++) {
		assert_ok(store_open(path, STORE_CREATE, &test_clock, &books[i], &error));
		assert_ok(session_new(books[i], &test_clock, UNITS_US, &desks[i], &error));
	}
	assert_ok(session_start(desks[0], NULL, NULL, NULL, &error));
	assert_ok(session_open(desks[1], session_call(desks[0])->uid.text, &error));
}

static void tear_down(void)
{
	for (int i = 0; i < 2; i++) {
		session_free(desks[i]);
		store_close(books[i]);
	}
	scratch_remove(folder);
}

static const struct call *call_at(int desk)
{
	assert_ok(session_refresh(desks[desk], NULL, &error));
	return session_call(desks[desk]);
}

static enum status undo(void)
{
	return session_undo(desks[0], what, sizeof what, &error);
}

static enum status redo(void)
{
	return session_redo(desks[0], what, sizeof what, &error);
}

static void assert_undone(const char *says)
{
	assert_ok(undo());
	ck_assert_str_eq(what, says);
}

static void assert_redone(const char *says)
{
	assert_ok(redo());
	ck_assert_str_eq(what, says);
}

static void type(int desk, enum stage stage, enum reading reading, const char *typed)
{
	assert_ok(session_refresh(desks[desk], NULL, &error));
	assert_ok(session_type(desks[desk], stage, reading, typed, &error));
}

/* ---- Lists ---- */

union line {
	struct uid uid;
	struct charge_entry charge;
	struct work_line work;
	struct offer offer;
	struct watch_item watch;
	struct judgement judgement;
	struct tightness_entry tightness;
	struct cylinder cylinder;
};

static const char *const samples[CALL_FORM_COUNT] = {
	[FORM_TEXT] = "Other words.", [FORM_TIME] = "2026-07-14T09:30:15", [FORM_CENTS] = "123456",
	[FORM_QUANTITY] = "1500", [FORM_PERCENT] = "8875", [FORM_AMOUNT] = "12", [FORM_MEASURED] = "75",
	[FORM_FLAG] = "1", [FORM_WORK_KIND] = "fee", [FORM_DECISION] = "declined",
	[FORM_VERDICT] = "ruled_out", [FORM_TIGHTNESS_KIND] = "weigh_in", [FORM_REFRIGERANT] = "R-32",
};

/* The first text of a line says what it is. */
static void put_first(enum call_list list, const char *name)
{
	const struct call_part_info *part = call_part_info(call_part_of_list(list));
	union line line;

	call_element_init(list, &line);
	for (const struct call_member *member = part->members; member->key && *name; member++)
		if (member->form == FORM_TEXT) {
			ck_assert(call_member_parse(member, &line, name));
			break;
		}
	assert_ok(session_put(desks[0], list, &line, &error));
}

static void copy_line(int desk, enum call_list list, size_t index, union line *line)
{
	memcpy(line, call_list_at(call_at(desk), list, index), call_list_size(list));
}

static const char *exact_of(int desk, enum call_list list, const struct call_member *member)
{
	static char exact[MEMBER_TEXT_SIZE];

	call_member_format(member, call_list_at(call_at(desk), list, 0), exact, sizeof exact);
	return exact;
}

/* Changes a member of the only line, takes that back and makes it again; both desks see it. */
static void change_member(enum call_list list, const struct call_member *member,
                          struct text *lines)
{
	char before[MEMBER_TEXT_SIZE], after[MEMBER_TEXT_SIZE];
	union line line;

	copy_line(0, list, 0, &line);
	text_copy(before, sizeof before, exact_of(0, list, member));
	ck_assert_msg(call_member_parse(member, &line, samples[member->form]), "%s", member->key);
	assert_ok(session_put(desks[0], list, &line, &error));
	text_copy(after, sizeof after, exact_of(0, list, member));
	ck_assert_str_ne(after, before);
	assert_ok(undo());
	text_add_format(lines, "%s\n", what);
	ck_assert_str_eq(exact_of(0, list, member), before);
	ck_assert_str_eq(exact_of(1, list, member), before);
	assert_ok(redo());
	ck_assert_str_eq(exact_of(0, list, member), after);
	ck_assert_str_eq(exact_of(1, list, member), after);
	assert_ok(undo());
}

static const char member_words[] =
	"a line of the charge log, First words, time (work): now empty, was 2026-07-14 09:30\n"
	"a line of the charge log, First words, added (work): now empty, was 12.00 oz\n"
	"a line of the charge log, First words, recovered (work): now empty, was 12.00 oz\n"
	"a line of the charge log, First words, cylinder (work): now First words., was Other words.\n"
	"a line of the charge log, First words, note (work): now empty, was Other words.\n"
	"a line of the work, First words, kind (work): now labour, was fee\n"
	"a line of the work, First words, what (work): now First words., was Other words.\n"
	"a line of the work, First words, quantity (work): now 1, was 1.5\n"
	"a line of the work, First words, each (work): now empty, was 1,234.56\n"
	"a line of the work, First words, free (work): now empty, was yes\n"
	"a line of the work, First words, note (work): now empty, was Other words.\n"
	"an option, First words, what is done (options): now First words., was Other words.\n"
	"an option, First words, price from (options): now empty, was 1,234.56\n"
	"an option, First words, price to (options): now empty, was 1,234.56\n"
	"an option, First words, lasts from, years (options): now empty, was 12\n"
	"an option, First words, lasts to, years (options): now empty, was 12\n"
	"an option, First words, SEER (options): now empty, was 12\n"
	"an option, First words, decision (options): now none, was declined\n"
	"an option, First words, said by (options): now empty, was Other words.\n"
	"an option, First words, said at (options): now empty, was 2026-07-14 09:30\n"
	"an option, First words, note (options): now empty, was Other words.\n"
	"a watch item, First words, fault (findings): now First words., was Other words.\n"
	"a watch item, First words, text (findings): now empty, was Other words.\n"
	"a watch item, First words, noted (findings): now empty, was 2026-07-14 09:30\n"
	"a watch item, First words, dealt with (findings): now empty, was 2026-07-14 09:30\n"
	"a judgement, First words, fault (findings): now First words., was Other words.\n"
	"a judgement, First words, verdict (findings): now confirmed, was ruled out\n"
	"a judgement, First words, why (findings): now empty, was Other words.\n"
	"a judgement, First words, by (findings): now empty, was Other words.\n"
	"a judgement, First words, time (findings): now empty, was 2026-07-14 09:30\n"
	"a line of the tightness log, First words, what (charge): now nitrogen, was weigh in\n"
	"a line of the tightness log, First words, time (charge): now empty, was 2026-07-14 09:30\n"
	"a line of the tightness log, First words, pressure (charge): now empty, was 75.00 psig\n"
	"a line of the tightness log, First words, temperature (charge): now empty, was 75.00 °F\n"
	"a line of the tightness log, First words, microns (charge): now empty, was 75\n"
	"a line of the tightness log, First words, weighed in (charge): now empty, was 75.00 oz\n"
	"a line of the tightness log, First words, cylinder (charge): now First words., was Other words.\n"
	"a line of the tightness log, First words, note (charge): now empty, was Other words.\n"
	"a cylinder, First words, label (charge): now First words., was Other words.\n"
	"a cylinder, First words, holds (charge): now empty, was R-32\n"
	"a cylinder, First words, water capacity (charge): now empty, was 12.00 lb\n"
	"a cylinder, First words, tare (charge): now empty, was 12.00 lb\n"
	"a cylinder, First words, weight (charge): now empty, was 12.00 lb\n"
	"a cylinder, First words, tested (charge): now empty, was 2026-07-14 09:30\n"
	"a cylinder, First words, gas went to (charge): now empty, was Other words.\n";

START_TEST(each_member_of_each_line_is_taken_back_and_made_again)
{
	struct text lines;

	text_init(&lines);
	for (int i = 0; i < CALL_LIST_COUNT; i++) {
		enum call_list list = (enum call_list)i;
		put_first(list, "First words.");
		const struct call_part_info *part = call_part_info(call_part_of_list(list));
		for (const struct call_member *member = part->members; member->key; member++)
			change_member(list, member, &lines);
	}
	ck_assert_str_eq(text_get(&lines), member_words);
	text_done(&lines);
}
END_TEST

static const char line_words[] =
	"a line of the charge log, First words (work): taken out\n"
	"a line of the charge log, First words (work): there again\n"
	"a line of the work, First words (work): taken out\n"
	"a line of the work, First words (work): there again\n"
	"an option, First words (options): taken out\n"
	"an option, First words (options): there again\n"
	"a watch item, First words (findings): taken out\n"
	"a watch item, First words (findings): there again\n"
	"a judgement, First words (findings): taken out\n"
	"a judgement, First words (findings): there again\n"
	"a line of the tightness log, First words (charge): taken out\n"
	"a line of the tightness log, First words (charge): there again\n"
	"a cylinder, First words (charge): taken out\n"
	"a cylinder, First words (charge): there again\n"
	"a line of the work (work): taken out\n"
	"a line of the work (work): there again\n"
	"a line of the work, . (work): taken out\n"
	"a line of the work, . (work): there again\n";

static void assert_count(enum call_list list, size_t count)
{
	ck_assert_uint_eq(call_list_count(call_at(0), list), count);
	ck_assert_uint_eq(call_list_count(call_at(1), list), count);
}

/* A line that came goes and comes; one that was taken out comes, and goes. */
static void put_and_take_out(enum call_list list, const char *name, struct text *lines)
{
	put_first(list, name);
	assert_ok(undo());
	assert_count(list, 0);
	text_add_format(lines, "%s\n", what);
	assert_ok(redo());
	assert_count(list, 1);
	text_add_format(lines, "%s\n", what);
	assert_ok(session_remove(desks[0], list, 0, &error));
	assert_count(list, 0);
	assert_ok(undo());
	assert_count(list, 1);
	assert_ok(redo());
	assert_count(list, 0);
}

START_TEST(each_line_is_taken_out_and_comes_back)
{
	struct text lines;

	text_init(&lines);
	for (int i = 0; i < CALL_LIST_COUNT; i++)
		put_and_take_out((enum call_list)i, "First words.", &lines);
	/* What says nothing has no name; a full stop alone is one. */
	put_and_take_out(LIST_WORK, "", &lines);
	put_and_take_out(LIST_WORK, ".", &lines);
	ck_assert_str_eq(text_get(&lines), line_words);
	text_done(&lines);
}
END_TEST

/* Another program changed the same member since: that stays, the change is not offered again. */
START_TEST(a_member_that_another_changed_since_stays)
{
	for (int i = 0; i < CALL_LIST_COUNT; i++) {
		enum call_list list = (enum call_list)i;
		const struct call_part_info *part = call_part_info(call_part_of_list(list));
		const struct call_member *member = part->members;
		char says[160];
		union line line;
		while (member->form != FORM_TEXT)
			member++;
		put_first(list, "First words.");
		copy_line(0, list, 0, &line);
		ck_assert(call_member_parse(member, &line, "Second words."));
		assert_ok(session_put(desks[0], list, &line, &error));
		copy_line(1, list, 0, &line);
		ck_assert(call_member_parse(member, &line, "Third words."));
		assert_ok(session_put(desks[1], list, &line, &error));
		snprintf(says, sizeof says, "%s was changed elsewhere since; nothing was taken back",
		         part->word);
		assert_refused(undo(), STATUS_REFUSED, says);
		ck_assert_str_eq(exact_of(0, list, member), "Third words.");
		/* The line itself came from here, but it is another's too by now. */
		assert_refused(undo(), STATUS_REFUSED, says);
		assert_count(list, 1);
		assert_refused(undo(), STATUS_NOT_FOUND, "nothing was changed since the call was opened");
	}
}
END_TEST

START_TEST(a_line_that_another_took_out_or_brought_back_stays_so)
{
	union line line;

	put_first(LIST_WORK, "Run capacitor");
	copy_line(0, LIST_WORK, 0, &line);
	line.work.quantity = 2000;
	assert_ok(session_put_work(desks[0], &line.work, &error));
	assert_count(LIST_WORK, 1);
	assert_ok(session_remove_work(desks[1], 0, &error));
	assert_refused(undo(), STATUS_REFUSED,
	               "a line of the work was changed elsewhere since; nothing was taken back");
	assert_refused(undo(), STATUS_REFUSED,
	               "a line of the work was changed elsewhere since; nothing was taken back");
	/* Taken out here, written again there. */
	put_first(LIST_WORK, "Contactor");
	copy_line(0, LIST_WORK, 0, &line);
	assert_ok(session_remove_work(desks[0], 0, &error));
	assert_count(LIST_WORK, 0);
	assert_ok(session_put_work(desks[1], &line.work, &error));
	assert_refused(undo(), STATUS_REFUSED,
	               "a line of the work was changed elsewhere since; nothing was taken back");
	assert_count(LIST_WORK, 1);
}
END_TEST

/* The readings of an entry of the charge log are part of it. */
START_TEST(each_reading_of_the_charge_log_is_taken_back)
{
	put_first(LIST_CHARGE, "C-7");
	for (int i = 0; i < CHARGE_READING_COUNT; i++) {
		union line line;
		copy_line(0, LIST_CHARGE, 0, &line);
		line.charge.values[i] = (struct value){ .state = VALUE_TAKEN, .number = 50 + i, .taken_at = now };
		assert_ok(session_put_charge(desks[0], &line.charge, &error));
		assert_undone("a line of the charge log, C-7 (work)");
		ck_assert_int_eq(call_at(1)->charge[0].values[i].state, VALUE_NOT_TAKEN);
		assert_ok(redo());
		ck_assert_double_eq(call_at(1)->charge[0].values[i].number, 50 + i);
		/* Another writes over it: that stays. */
		copy_line(1, LIST_CHARGE, 0, &line);
		line.charge.values[i].number = 90 + i;
		assert_ok(session_put_charge(desks[1], &line.charge, &error));
		assert_refused(undo(), STATUS_REFUSED,
		               "a line of the charge log was changed elsewhere since; nothing was taken back");
		ck_assert_double_eq(call_at(0)->charge[0].values[i].number, 90 + i);
	}
}
END_TEST

/* Both wrote in one entry of the charge log, each another reading: both stay. */
START_TEST(two_on_one_entry_of_the_charge_log_keep_both_readings)
{
	enum { LAST = CHARGE_READING_COUNT - 1 };
	union line mine, theirs;

	put_first(LIST_CHARGE, "C-7");
	copy_line(0, LIST_CHARGE, 0, &mine);
	copy_line(1, LIST_CHARGE, 0, &theirs);
	mine.charge.values[0] = (struct value){ .state = VALUE_TAKEN, .number = 50, .taken_at = now };
	theirs.charge.values[LAST] = (struct value){ .state = VALUE_TAKEN, .number = 60, .taken_at = now };
	assert_ok(session_put_charge(desks[1], &theirs.charge, &error));
	assert_ok(session_put_charge(desks[0], &mine.charge, &error));
	for (int i = 0; i < 2; i++) {
		ck_assert_double_eq(call_at(i)->charge[0].values[0].number, 50);
		ck_assert_double_eq(call_at(i)->charge[0].values[LAST].number, 60);
	}
	assert_ok(undo());
	ck_assert_int_eq(call_at(1)->charge[0].values[0].state, VALUE_NOT_TAKEN);
	ck_assert_double_eq(call_at(1)->charge[0].values[LAST].number, 60);
}
END_TEST

/* ---- Readings and fields ---- */

START_TEST(a_reading_is_told_with_its_column_and_sheet)
{
	type(0, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118");
	type(0, STAGE_AS_LEFT, READING_SUCTION_PRESSURE, "121");
	type(0, STAGE_AS_LEFT, READING_SUCTION_PRESSURE, "122");
	type(0, STAGE_AS_FOUND, READING_LEFT_LOCKED, "yes");
	type(0, STAGE_AS_FOUND, READING_ALTITUDE, "600");
	type(0, STAGE_AS_FOUND, READING_REFRIGERANT, "R-32");
	assert_undone("refrigerant (plate): now empty, was R-32");
	assert_undone("altitude (call): now empty, was 600 ft");
	assert_undone("left off, locked, tagged (safe): now empty, was yes");
	assert_undone("suction pressure as left (charge): now 121.0 psig, was 122.0 psig");
	assert_undone("suction pressure as left (charge): now empty, was 121.0 psig");
	session_set_units(desks[0], UNITS_SI);
	assert_undone("suction pressure as found (charge): now empty, was 814 kPa");
	assert_refused(undo(), STATUS_NOT_FOUND,
	               "all that was changed since the call was opened is taken back");
	assert_redone("suction pressure as found (charge): now 814 kPa, was empty");
}
END_TEST

START_TEST(a_reading_that_another_changed_since_stays)
{
	type(0, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118");
	type(1, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "60");
	assert_refused(undo(), STATUS_REFUSED,
	               "suction pressure was changed elsewhere since; nothing was taken back");
	assert_refused(undo(), STATUS_NOT_FOUND, "nothing was changed since the call was opened");
	/* Nor is it made again over another's. */
	type(0, STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "300");
	assert_ok(undo());
	type(1, STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "310");
	assert_refused(redo(), STATUS_REFUSED,
	               "liquid pressure was changed elsewhere since; nothing was taken back");
	assert_refused(redo(), STATUS_NOT_FOUND, nothing_to_make);
}
END_TEST

static const char field_words[] =
	"customer (call): now empty, was Words.\n"
	"phone (call): now empty, was Words.\n"
	"mail (call): now empty, was Words.\n"
	"address (call): now empty, was Words.\n"
	"unit name (call): now empty, was Words.\n"
	"complaint (call): now empty, was Words.\n"
	"in plain words (report): now empty, was Words.\n"
	"note for the office (report): now empty, was Words.\n"
	"planned for (call): now empty, was 2026-07-14 09:30\n"
	"access (call): now empty, was Words.\n"
	"job number (call): now empty, was Words.\n"
	"technician (call): now empty, was Words.\n"
	"licence (call): now empty, was Words.\n"
	"certification (call): now empty, was Words.\n"
	"arrived (call): now empty, was 2026-07-14 09:30\n"
	"left (call): now empty, was 2026-07-14 09:30\n"
	"authorised by (call): now empty, was Words.\n"
	"authorised at (call): now empty, was 2026-07-14 09:30\n"
	"authorised up to (call): now empty, was 350.00\n"
	"accepted by (report): now empty, was Words.\n"
	"accepted at: now 2026-07-14 08:05, was 2026-07-14 09:30\n"
	"accepted total: now empty, was 350.00\n"
	"payment terms (report): now empty, was Words.\n"
	"tune-up list: now empty, was Words.\n"
	"billed: now empty, was 2026-07-14 09:30\n";

/* An amount was told in cents, and a time as the book writes it. */
START_TEST(each_field_is_told_with_its_sheet)
{
	struct text lines;

	text_init(&lines);
	for (int i = 0; i < FIELD_COUNT; i++) {
		enum field field = (enum field)i;
		const char *typed = field_info(field)->is_text ? "Words." : "09:30";
		char before[NOTE_SIZE];
		text_copy(before, sizeof before, session_field(desks[0], field));
		if (session_type_field(desks[0], field, typed, &error) != STATUS_OK)
			assert_ok(session_type_field(desks[0], field, "350", &error));
		assert_ok(undo());
		text_add_format(&lines, "%s\n", what);
		ck_assert_str_eq(session_field(desks[0], field), before);
		assert_ok(redo());
		ck_assert_str_ne(session_field(desks[0], field), before);
		call_at(1);
		ck_assert_str_eq(session_field(desks[1], field), session_field(desks[0], field));
	}
	ck_assert_str_eq(text_get(&lines), field_words);
	text_done(&lines);
}
END_TEST

START_TEST(a_field_that_another_changed_since_stays)
{
	assert_ok(session_type_field(desks[0], FIELD_COMPLAINT, "warm", &error));
	call_at(1);
	assert_ok(session_type_field(desks[1], FIELD_COMPLAINT, "hums", &error));
	assert_refused(undo(), STATUS_REFUSED,
	               "complaint was changed elsewhere since; nothing was taken back");
	call_at(0);
	ck_assert_str_eq(session_field(desks[0], FIELD_COMPLAINT), "hums");
}
END_TEST

/* A long value is cut, so that what stands there now and what stood there are both seen. */
START_TEST(a_long_text_is_cut_where_it_is_told)
{
	assert_ok(session_type_field(desks[0], FIELD_COMPLAINT,
	                             "The outdoor unit hums and does not start since noon.", &error));
	assert_ok(session_type_field(desks[0], FIELD_COMPLAINT, "warm", &error));
	assert_undone("complaint (call): now The outdoor unit hums and does not star, was warm");
}
END_TEST

/* ---- Billing, acceptance ---- */

static void put_billing(int desk, int member, int value)
{
	struct billing billing = call_at(desk)->billing;

	switch (member) {
	case 0:
		billing.discount = value;
		break;
	case 1:
		billing.deposit = value;
		break;
	case 2:
		billing.cooling_hours = value;
		break;
	case 3:
		billing.energy_rate = value;
		break;
	default:
		billing.tax[member - 4] = value;
		break;
	}
	assert_ok(session_put_billing(desks[desk], &billing, &error));
}

static double billing_at(int desk, int member)
{
	const struct billing *billing = &call_at(desk)->billing;
	const double values[] = {
		(double)billing->discount, (double)billing->deposit, billing->cooling_hours,
		billing->energy_rate, (double)billing->tax[0], (double)billing->tax[1],
		(double)billing->tax[2], (double)billing->tax[3],
	};

	return values[member];
}

START_TEST(each_member_of_the_billing_is_taken_back_by_itself)
{
	enum { MEMBERS = 4 + WORK_KIND_COUNT };

	for (int i = 0; i < MEMBERS; i++) {
		int other = (i + 1) % MEMBERS;
		put_billing(0, i, 50);
		put_billing(1, other, 70);
		assert_undone("discount, taxes, deposit (work)");
		ck_assert_double_eq(billing_at(1, i), 0);
		ck_assert_double_eq(billing_at(1, other), 70);
		assert_redone("discount, taxes, deposit (work)");
		ck_assert_double_eq(billing_at(1, i), 50);
		put_billing(1, i, 60);
		assert_refused(undo(), STATUS_REFUSED,
		               "discount, taxes or deposit was changed elsewhere since; nothing was taken back");
		ck_assert_double_eq(billing_at(0, i), 60);
		put_billing(1, i, 0);
		put_billing(1, other, 0);
	}
}
END_TEST

/* Both typed in the billing without seeing each other: each keeps what was changed there. */
START_TEST(two_on_one_billing_keep_both_members)
{
	struct billing mine = call_at(0)->billing, theirs = call_at(1)->billing;

	mine.tax[WORK_PART] = 8875;
	theirs.deposit = 5000;
	assert_ok(session_put_billing(desks[1], &theirs, &error));
	assert_ok(session_put_billing(desks[0], &mine, &error));
	ck_assert_int_eq(call_at(1)->billing.tax[WORK_PART], 8875);
	ck_assert_int_eq(call_at(1)->billing.deposit, 5000);
	ck_assert_int_eq(call_at(0)->billing.deposit, 5000);
}
END_TEST

static void assert_acceptance(int desk, const char *by, wall_time at, cents total)
{
	const struct call *call = call_at(desk);

	ck_assert_str_eq(call->accepted_by, by);
	ck_assert_int_eq(call->accepted_at, at);
	ck_assert_int_eq(call->accepted_total, total);
}

static size_t count_changes(const char *field)
{
	struct store_entry *list;
	size_t count, found = 0;

	assert_ok(session_changes(desks[0], &list, &count, &error));
	for (size_t i = 0; i < count; i++)
		found += strcmp(list[i].field, field) == 0;
	free(list);
	return found;
}

static void take_back_first(const char *field, enum status status)
{
	struct store_entry *list;
	size_t count, at = 0;

	assert_ok(session_changes(desks[0], &list, &count, &error));
	while (at < count && strcmp(list[at].field, field) != 0)
		at++;
	ck_assert_uint_lt(at, count);
	enum status got = session_take_back(desks[0], &list[at], &error);
	ck_assert_msg(got == status, "%d %s", got, error.text);
	free(list);
}

static void with_a_line(cents price)
{
	struct work_line line = { .description = "Run capacitor", .quantity = 1000, .unit_price = price };

	assert_ok(session_put_work(desks[0], &line, &error));
}

/* Two acceptances behind each other are two entries, each with its own time and total. */
START_TEST(acceptances_are_taken_back_one_by_one_from_the_list)
{
	wall_time first = now;

	with_a_line(9500);
	assert_ok(session_type_field(desks[0], FIELD_ACCEPTED_BY, "M. Quill", &error));
	now += 60;
	assert_ok(session_type_field(desks[0], FIELD_ACCEPTED_BY, "B. Quill", &error));
	assert_acceptance(1, "B. Quill", now, 9500);
	ck_assert_uint_eq(count_changes("accepted_by"), 2);
	ck_assert_uint_eq(count_changes("accepted_at"), 0);
	ck_assert_uint_eq(count_changes("accepted_total"), 0);
	take_back_first("accepted_by", STATUS_OK);
	assert_acceptance(0, "M. Quill", first, 9500);
	assert_acceptance(1, "M. Quill", first, 9500);
	assert_undone("accepted by (report): now B. Quill, was M. Quill");
	assert_acceptance(1, "B. Quill", now, 9500);
	assert_redone("accepted by (report): now M. Quill, was B. Quill");
	assert_acceptance(1, "M. Quill", first, 9500);
}
END_TEST

/* Nothing was sold yet: the name brings a time and no total. */
START_TEST(an_acceptance_of_no_work_has_no_total)
{
	assert_ok(session_type_field(desks[0], FIELD_ACCEPTED_BY, "M. Quill", &error));
	assert_acceptance(1, "M. Quill", now, 0);
	ck_assert_uint_eq(count_changes("accepted_at"), 0);
	assert_ok(undo());
	assert_acceptance(1, "", WALL_TIME_NONE, 0);
	/* A credit is no total either. */
	with_a_line(-500);
	assert_ok(session_type_field(desks[0], FIELD_ACCEPTED_BY, "M. Quill", &error));
	assert_acceptance(1, "M. Quill", now, 0);
}
END_TEST

/* The time alone was corrected: that is a change of its own. */
START_TEST(a_time_of_acceptance_that_is_typed_stands_for_itself)
{
	assert_ok(session_type_field(desks[0], FIELD_ACCEPTED_BY, "M. Quill", &error));
	assert_ok(session_type_field(desks[0], FIELD_SUMMARY, "All is well.", &error));
	assert_ok(session_type_field(desks[0], FIELD_ACCEPTED_AT, "07:30", &error));
	ck_assert_uint_eq(count_changes("accepted_by"), 1);
	ck_assert_uint_eq(count_changes("accepted_at"), 1);
	take_back_first("accepted_at", STATUS_OK);
	assert_acceptance(1, "M. Quill", now, 0);
	assert_undone("accepted at");
}
END_TEST

START_TEST(each_of_the_three_of_an_acceptance_that_another_changed_stays)
{
	static const enum field fields[] = { FIELD_ACCEPTED_BY, FIELD_ACCEPTED_AT, FIELD_ACCEPTED_TOTAL };
	static const char *const typed[] = { "B. Quill", "07:30", "12.34" };

	with_a_line(9500);
	for (int i = 0; i < 3; i++) {
		assert_ok(session_type_field(desks[0], FIELD_ACCEPTED_BY, "M. Quill", &error));
		call_at(1);
		assert_ok(session_type_field(desks[1], fields[i], typed[i], &error));
		assert_refused(undo(), STATUS_REFUSED,
		               "the acceptance was changed elsewhere since; nothing was taken back");
		ck_assert_str_eq(call_at(0)->accepted_by, i == 0 ? "B. Quill" : "M. Quill");
		assert_ok(session_type_field(desks[0], FIELD_ACCEPTED_BY, "", &error));
	}
}
END_TEST

/* ---- Several as one, many, items, moves ---- */

static void fill(int count, const char *says)
{
	static const enum reading readings[] = {
		READING_SUCTION_PRESSURE, READING_LIQUID_PRESSURE, READING_SUCTION_LINE_TEMP,
	};
	int filled, held;

	for (int i = 0; i < 3; i++)
		type(0, STAGE_AS_LEFT, readings[i], i < count ? "" : "90");
	assert_ok(session_take_all_same(desks[0], STEP_REFRIGERANT, &filled, &held, &error));
	ck_assert_int_eq(filled, count);
	assert_undone(says);
	for (int i = 0; i < 3; i++)
		ck_assert_int_eq(visit_has(&call_at(1)->visit, STAGE_AS_LEFT, readings[i]), i >= count);
	assert_ok(redo());
	for (int i = 0; i < 3; i++)
		ck_assert(visit_has(&call_at(1)->visit, STAGE_AS_LEFT, readings[i]));
	assert_ok(undo());
	for (int i = 0; i < 3; i++)
		ck_assert_int_eq(visit_has(&call_at(1)->visit, STAGE_AS_LEFT, readings[i]), i >= count);
}

START_TEST(what_was_filled_at_once_is_taken_back_at_once)
{
	type(0, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118");
	type(0, STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "300");
	type(0, STAGE_AS_FOUND, READING_SUCTION_LINE_TEMP, "52");
	fill(1, "suction pressure as left (charge): now empty, was 118.0 psig");
	fill(2, "suction pressure as left (charge): now empty, was 118.0 psig; and 1 more");
	fill(3, "suction pressure as left (charge): now empty, was 118.0 psig; and 2 more");
}
END_TEST

START_TEST(a_value_that_moved_goes_back_in_one_step)
{
	type(0, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "300");
	assert_ok(session_move_value(desks[0], STAGE_AS_FOUND, READING_SUCTION_PRESSURE, STAGE_AS_FOUND,
	                             READING_LIQUID_PRESSURE, &error));
	assert_undone("suction pressure as found (charge): now 300.0 psig, was empty; and 1 more");
	ck_assert(visit_has(&call_at(1)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	ck_assert(!visit_has(&call_at(1)->visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE));
	assert_undone("suction pressure as found (charge): now empty, was 300.0 psig");
	assert_ok(redo());
	assert_ok(redo());
	ck_assert(!visit_has(&call_at(1)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	ck_assert(visit_has(&call_at(1)->visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE));
}
END_TEST

/* Sixty-four changes can be taken back; older ones stand in the list alone. */
START_TEST(of_very_many_changes_the_last_are_taken_back)
{
	enum { MOST = 64, TYPED = MOST + 6 };
	char text[64];

	for (int i = 1; i <= TYPED; i++) {
		snprintf(text, sizeof text, "%d", i);
		assert_ok(session_type_field(desks[0], FIELD_COMPLAINT, text, &error));
	}
	for (int i = TYPED - 1; i >= TYPED - MOST; i--) {
		snprintf(text, sizeof text, "complaint (call): now %d, was %d", i, i + 1);
		assert_undone(text);
	}
	assert_refused(undo(), STATUS_NOT_FOUND,
	               "all that was changed since the call was opened is taken back");
	ck_assert_str_eq(session_field(desks[0], FIELD_COMPLAINT), "6");
	for (int i = 0; i < MOST; i++)
		assert_ok(redo());
	ck_assert_str_eq(session_field(desks[0], FIELD_COMPLAINT), "70");
	assert_refused(redo(), STATUS_NOT_FOUND, nothing_to_make);
}
END_TEST

START_TEST(an_item_of_an_earlier_call_is_closed_again_and_again)
{
	struct watch_item item = { .text = "weigh the charge in autumn", .noted_at = now,
	                           .closed_at = WALL_TIME_NONE };
	const struct uid customer = call_at(0)->customer.uid, site = call_at(0)->site.uid,
	                 system = call_at(0)->system.uid;

	assert_ok(session_put_watch(desks[0], &item, &error));
	item.text[0] = 'W';
	assert_ok(session_put_watch(desks[0], &item, &error));
	now += 86400;
	assert_ok(session_start(desks[0], &customer, &site, &system, &error));
	ck_assert_uint_eq(session_open_items(desks[0]), 2);
	struct uid first = session_open_item(desks[0], 0)->uid;
	struct uid second = session_open_item(desks[0], 1)->uid;
	char says[sizeof item.text + 16];
	snprintf(says, sizeof says, "%s (call)", session_open_item(desks[0], 1)->text);
	assert_ok(session_close_item(desks[0], 1, &error));
	ck_assert_uint_eq(session_open_items(desks[0]), 1);
	ck_assert_str_eq(session_open_item(desks[0], 0)->uid.text, first.text);
	assert_undone(says);
	ck_assert_uint_eq(session_open_items(desks[0]), 2);
	ck_assert_str_eq(session_open_item(desks[0], 1)->uid.text, second.text);
	says[strlen(says) - strlen(" (call)")] = '\0';
	assert_redone(says);
	ck_assert_uint_eq(session_open_items(desks[0]), 1);
	ck_assert_str_eq(session_open_item(desks[0], 0)->uid.text, first.text);
}
END_TEST

START_TEST(a_move_and_an_entry_of_the_list_are_told)
{
	assert_ok(session_type_field(desks[0], FIELD_CUSTOMER_NAME, "Ada", &error));
	struct uid ada = call_at(0)->customer.uid, unit = call_at(0)->system.uid;
	assert_ok(session_start(desks[0], NULL, NULL, NULL, &error));
	struct uid other = call_at(0)->customer.uid, site = call_at(0)->site.uid;
	assert_ok(session_move_call(desks[0], NULL, &unit, &error));
	ck_assert_str_eq(call_at(0)->customer.uid.text, ada.text);
	assert_undone("the call's customer and unit");
	ck_assert_str_eq(call_at(0)->customer.uid.text, other.text);
	ck_assert_str_eq(call_at(0)->site.uid.text, site.text);
	assert_redone("the call's customer and unit");
	ck_assert_str_eq(call_at(0)->customer.uid.text, ada.text);
	ck_assert_str_eq(call_at(0)->system.uid.text, unit.text);
	type(0, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118");
	take_back_first("as_found.suction_pressure", STATUS_OK);
	ck_assert(!visit_has(&call_at(0)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	assert_undone("suction pressure as found");
	ck_assert(visit_has(&call_at(0)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	assert_redone("suction pressure as found");
	ck_assert(!visit_has(&call_at(0)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
}
END_TEST

Suite *undone_suite(void)
{
	Suite *suite = suite_create("undone");
	TCase *tests = tcase_create("undone");

	tcase_set_timeout(tests, 60);
	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, each_member_of_each_line_is_taken_back_and_made_again);
	tcase_add_test(tests, each_line_is_taken_out_and_comes_back);
	tcase_add_test(tests, a_member_that_another_changed_since_stays);
	tcase_add_test(tests, a_line_that_another_took_out_or_brought_back_stays_so);
	tcase_add_test(tests, each_reading_of_the_charge_log_is_taken_back);
	tcase_add_test(tests, two_on_one_entry_of_the_charge_log_keep_both_readings);
	tcase_add_test(tests, a_reading_is_told_with_its_column_and_sheet);
	tcase_add_test(tests, a_reading_that_another_changed_since_stays);
	tcase_add_test(tests, each_field_is_told_with_its_sheet);
	tcase_add_test(tests, a_field_that_another_changed_since_stays);
	tcase_add_test(tests, a_long_text_is_cut_where_it_is_told);
	tcase_add_test(tests, each_member_of_the_billing_is_taken_back_by_itself);
	tcase_add_test(tests, two_on_one_billing_keep_both_members);
	tcase_add_test(tests, acceptances_are_taken_back_one_by_one_from_the_list);
	tcase_add_test(tests, an_acceptance_of_no_work_has_no_total);
	tcase_add_test(tests, a_time_of_acceptance_that_is_typed_stands_for_itself);
	tcase_add_test(tests, each_of_the_three_of_an_acceptance_that_another_changed_stays);
	tcase_add_test(tests, what_was_filled_at_once_is_taken_back_at_once);
	tcase_add_test(tests, a_value_that_moved_goes_back_in_one_step);
	tcase_add_test(tests, of_very_many_changes_the_last_are_taken_back);
	tcase_add_test(tests, an_item_of_an_earlier_call_is_closed_again_and_again);
	tcase_add_test(tests, a_move_and_an_entry_of_the_list_are_told);
	suite_add_tcase(suite, tests);
	return suite;
}
