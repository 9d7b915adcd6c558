/* The book: kept values, trails, rights, refusals, finding. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <padside/store.h>

Suite *store_suite(void);

/* ---- A scratch folder and a clock that the tests set ---- */

static char folder[64];
static char book_path[96];
static wall_time time_now;
static struct store *store;
static struct error error;

static wall_time test_now(void *context)
{
	(void)context;
	return time_now;
}

static const struct clock test_clock = { .now = test_now };

static void set_time(const char *text)
{
	ck_assert(clock_parse(text, &time_now));
}

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static struct store *open_book(const char *path, enum store_mode mode)
{
	struct store *opened;

	assert_ok(store_open(path, mode, &test_clock, &opened, &error));
	return opened;
}

static void set_up(void)
{
	snprintf(folder, sizeof folder, "/tmp/padside-test-XXXXXX");
	ck_assert_ptr_nonnull(mkdtemp(folder));
	snprintf(book_path, sizeof book_path, "%s/deep/er/book.db", folder);
	set_time("2026-06-03T09:12:00");
	store = open_book(book_path, STORE_CREATE);
}

static void tear_down(void)
{
	char command[128];

	store_close(store);
	snprintf(command, sizeof command, "rm -rf '%s'", folder);
	ck_assert_int_eq(system(command), 0);
}

static struct value typed(enum reading reading, const char *text)
{
	struct value value;

	assert_ok(reading_parse(reading, text, UNITS_US, &value, &error));
	value.taken_at = time_now;
	return value;
}

static void set(const struct uid *call, enum stage stage, enum reading reading, const char *text)
{
	struct value value = typed(reading, text);

	assert_ok(store_value_set(store, call, stage, reading, &value, &error));
}

static void new_call(struct call *call, const char *name)
{
	call_init(call);
	snprintf(call->customer.name, sizeof call->customer.name, "%s", name);
	snprintf(call->site.address, sizeof call->site.address, "12 Oak Street");
	snprintf(call->complaint, sizeof call->complaint, "no cooling");
	assert_ok(store_call_create(store, call, &error));
}

/* ---- Opening ---- */

static int mode_of(const char *path)
{
	struct stat found;

	ck_assert_msg(stat(path, &found) == 0, "%s", path);
	return (int)(found.st_mode & 0777);
}

START_TEST(a_book_is_its_owners_alone)
{
	char path[128];

	ck_assert_int_eq(mode_of(book_path), 0600);
	snprintf(path, sizeof path, "%s-wal", book_path);
	ck_assert_int_eq(mode_of(path), 0600);
	snprintf(path, sizeof path, "%s-shm", book_path);
	ck_assert_int_eq(mode_of(path), 0600);
	snprintf(path, sizeof path, "%s/deep", folder);
	ck_assert_int_eq(mode_of(path), 0700);
	snprintf(path, sizeof path, "%s/deep/er", folder);
	ck_assert_int_eq(mode_of(path), 0700);
	store_close(store);
	ck_assert_int_eq(chmod(book_path, 0644), 0);
	store = open_book(book_path, STORE_EXISTING);
	ck_assert_int_eq(mode_of(book_path), 0600);
}
END_TEST

/* ---- Calls and values ---- */

START_TEST(a_call_comes_back_as_it_was_stored)
{
	struct call call, back;

	new_call(&call, "Ada \"Q\" O'Neil'); DROP TABLE call;--");
	ck_assert(uid_is_valid(call.uid.text));
	call_init(&back);
	assert_ok(store_call_load(store, call.uid.text, &back, &error));
	ck_assert_str_eq(back.customer.name, call.customer.name);
	ck_assert_str_eq(back.site.address, "12 Oak Street");
	ck_assert_str_eq(back.complaint, "no cooling");
	ck_assert_int_eq(back.opened_at, time_now);
	ck_assert_int_eq(back.closed_at, WALL_TIME_NONE);
	call_done(&call);
	call_done(&back);
}
END_TEST

static struct value sample(enum reading reading)
{
	const struct reading_info *info = reading_info(reading);
	struct value value;

	if (info->kind == KIND_CHOICE)
		return typed(reading, choice_key(choice_first(info->choices)));
	if (info->kind == KIND_YES_NO)
		return typed(reading, "yes");
	if (info->kind == KIND_TEXT)
		return typed(reading, "'; DROP TABLE call; -- \"µ\" 🔧");
	assert_ok(reading_from_number(reading, info->hard.low + (info->hard.high - info->hard.low) / 3,
	                              UNITS_US, &value, &error));
	value.taken_at = time_now;
	return value;
}

/* parse, store, close, open, load: the same to the last bit, for every row of the catalogue. */
START_TEST(every_reading_is_kept_exactly)
{
	struct call call, back;
	char text[VALUE_TEXT_SIZE], again[VALUE_TEXT_SIZE];

	new_call(&call, "Ada");
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		struct value value = sample((enum reading)i);
		assert_ok(store_value_set(store, &call.uid, STAGE_AS_LEFT, (enum reading)i, &value, &error));
		if (reading_info((enum reading)i)->kind == KIND_RESISTANCE)
			set(&call.uid, STAGE_AS_FOUND, (enum reading)i, "OL");
	}
	store_close(store);
	store = open_book(book_path, STORE_EXISTING);
	call_init(&back);
	assert_ok(store_call_load(store, call.uid.text, &back, &error));
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		struct value value = sample(reading);
		const struct value *kept = visit_value(&back.visit, STAGE_AS_LEFT, reading);
		ck_assert_int_eq(kept->state, VALUE_TAKEN);
		reading_format_exact(reading, &value, text, sizeof text);
		reading_format_exact(reading, kept, again, sizeof again);
		ck_assert_str_eq(text, again);
		ck_assert_double_eq(kept->number, value.number);
		ck_assert_int_eq(kept->doubtful, value.doubtful);
		ck_assert_int_eq(kept->taken_at, time_now);
		if (reading_info(reading)->kind == KIND_RESISTANCE)
			ck_assert_int_eq(visit_value(&back.visit, STAGE_AS_FOUND, reading)->state, VALUE_OVER_LIMIT);
	}
	call_done(&call);
	call_done(&back);
}
END_TEST

struct trail {
	int count;                      /* changes */
	struct store_change changes[8]; /* the first of them */
};

static bool note_change(const struct store_change *change, void *context)
{
	struct trail *trail = context;

	if (trail->count < 8)
		trail->changes[trail->count] = *change;
	trail->count++;
	return true;
}

START_TEST(every_change_leaves_its_line)
{
	struct call call;
	struct trail trail = { .count = 0 };

	new_call(&call, "Ada");
	set(&call.uid, STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, "1.2");
	set(&call.uid, STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, "1.2");
	set_time("2026-06-03T09:20:00");
	set(&call.uid, STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, "OL");
	set_time("2026-06-03T09:21:00");
	set(&call.uid, STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, "");
	assert_ok(store_call_changes(store, &call.uid, note_change, &trail, &error));
	ck_assert_int_eq(trail.count, 3);
	ck_assert_str_eq(trail.changes[0].old_value, "");
	ck_assert_str_eq(trail.changes[0].new_value, "1.2");
	ck_assert_str_eq(trail.changes[1].old_value, "1.2");
	ck_assert_str_eq(trail.changes[1].new_value, "OL");
	ck_assert_str_eq(trail.changes[2].new_value, "");
	ck_assert_str_eq(trail.changes[2].key, "common_run_resistance");
	ck_assert_int_eq(trail.changes[2].changed_at, time_now);
	call_done(&call);
}
END_TEST

Suite *store_suite(void)
{
	Suite *suite = suite_create("store");
	TCase *tests = tcase_create("store");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, a_book_is_its_owners_alone);
	tcase_add_test(tests, a_call_comes_back_as_it_was_stored);
	tcase_add_test(tests, every_reading_is_kept_exactly);
	tcase_add_test(tests, every_change_leaves_its_line);
	suite_add_tcase(suite, tests);
	return suite;
}
