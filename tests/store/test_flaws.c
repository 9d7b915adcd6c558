/* Every way in which a book can be wrong, and the whole of what is said of it. */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/trail.h"
#include "support/books.h"
#include "support/calls.h"
#include "support/listed.h"
#include "support/scratch.h"

Suite *flaws_suite(void);

enum { NAMES = 20 };

static struct error error;
static struct call ada, bob;
static char clean[BOOKS_PATH_SIZE + 8];

/* What random ids are called in the expected words. */
static struct {
	char id[UID_SIZE];
	const char *name;
} names[NAMES];
static int name_count;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void name(const char *id, const char *what)
{
	ck_assert_int_lt(name_count, NAMES);
	snprintf(names[name_count].id, UID_SIZE, "%s", id);
	names[name_count++].name = what;
}

/* The sentence with names instead of ids. */
static void add_named(struct text *text, const char *sentence)
{
	while (*sentence) {
		int i = 0;
		while (i < name_count && strncmp(sentence, names[i].id, strlen(names[i].id)) != 0)
			i++;
		if (i < name_count) {
			text_add(text, names[i].name);
			sentence += strlen(names[i].id);
		} else {
			text_add_char(text, *sentence++);
		}
	}
}

static void run_sql(const char *path, const char *sql)
{
	sqlite3 *db;
	char *why = NULL;

	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, &why) == SQLITE_OK, "%s: %s", sql, why);
	ck_assert_int_eq(sqlite3_close(db), SQLITE_OK);
}

static void name_book(int book, const char *what)
{
	int64_t own, number;
	char id[16];

	assert_ok(trail_own(books[book], &own, &number, &error));
	snprintf(id, sizeof id, "%012llx", (unsigned long long)own);
	name(id, what);
}

static void set_summary(int book, const char *summary)
{
	struct call call, after;

	call_init(&call);
	assert_ok(store_call_load(books[book], ada.uid.text, &call, &error));
	after = call;
	snprintf(after.summary, sizeof after.summary, "%s", summary);
	assert_ok(store_call_change(books[book], &call, &after, &error));
	call_done(&call);
}

static void put_line(enum call_list list, const char *what, void *line)
{
	*(struct uid *)line = uid_new();
	name(((struct uid *)line)->text, what);
	assert_ok(store_list_put(books[0], &ada.uid, list, line, &error));
}

static void put_lines(void)
{
	struct charge_entry entry = { .at = books_now, .added_oz = 3.5 };
	struct work_line line = { .kind = WORK_PART, .quantity = 1500, .unit_price = 3450, .description = "capacitor" };
	struct offer offer = { .title = "new unit", .price_low = 100, .price_high = 200, .decided_at = WALL_TIME_NONE };
	struct watch_item item = { .noted_at = books_now, .closed_at = WALL_TIME_NONE, .text = "pitted" };
	struct judgement judgement = { .fault = "undercharge", .at = books_now };
	struct tightness_entry test = { .kind = TIGHTNESS_NITROGEN, .at = books_now };
	struct cylinder cylinder = { .name = "C-7", .test_date = WALL_TIME_NONE };

	entry.values[CHARGE_OUTDOOR_DB] = (struct value){ .state = VALUE_TAKEN, .number = 91.5 };
	put_line(LIST_CHARGE, "CHARGE", &entry);
	put_line(LIST_WORK, "WORK", &line);
	put_line(LIST_OFFERS, "OFFER", &offer);
	put_line(LIST_WATCH, "WATCH", &item);
	put_line(LIST_JUDGEMENTS, "JUDGEMENT", &judgement);
	put_line(LIST_TIGHTNESS, "TIGHTNESS", &test);
	put_line(LIST_CYLINDERS, "CYLINDER", &cylinder);
	assert_ok(store_list_remove(books[0], LIST_WATCH, &item.uid, &error));
}

static void record(struct call *call, const char *who, const char *const what[4])
{
	call_init(call);
	snprintf(call->customer.name, sizeof call->customer.name, "%s", who);
	snprintf(call->site.address, sizeof call->site.address, "%s's house", who);
	snprintf(call->complaint, sizeof call->complaint, "no cooling");
	assert_ok(store_call_record(books[0], call, &error));
	name(call->uid.text, what[0]);
	name(call->customer.uid.text, what[1]);
	name(call->site.uid.text, what[2]);
	name(call->system.uid.text, what[3]);
}

static void set(enum reading reading, const char *typed)
{
	struct value value;

	assert_ok(reading_parse(reading, typed, UNITS_US, &value, &error));
	value.taken_at = books_now;
	assert_ok(store_value_set(books[0], &ada.uid, STAGE_AS_FOUND, reading, &value, &error));
}

/* Two calls with all that a book can have, a join, a removal, and a question between two books. */
static void set_up(void)
{
	static const char *const of_ada[] = { "CALL", "CUSTOMER", "SITE", "SYSTEM" };
	static const char *const of_bob[] = { "CALL2", "CUSTOMER2", "SITE2", "SYSTEM2" };
	struct price_item price = { .kind = WORK_PART, .code = "C45", .unit_price = 3450, .description = "capacitor" };

	books_set_up();
	books_open(2);
	name_count = 0;
	record(&ada, "Ada", of_ada);
	record(&bob, "Bob", of_bob);
	put_lines();
	set(READING_SUCTION_PRESSURE, "60");
	assert_ok(store_setting_set(books[0], "technician", "Ann", &error));
	set(READING_SERIAL, "SN-1");
	assert_ok(store_setting_set(books[0], "technician", "", &error));
	assert_ok(store_join(books[0], STORE_CUSTOMER, &bob.customer.uid, &ada.customer.uid, &error));
	assert_ok(store_call_save_lines(books[0], &ada.uid, "found it", "done it", &error));
	assert_ok(store_prices_replace(books[0], &price, 1, &error));
	assert_ok(store_setting_set(books[0], "company", "Larkmere", &error));
	books_merged(1, 0);
	books_now += 60;
	set_summary(0, "ours");
	set_summary(1, "theirs");
	books_merged(0, 1);
	name_book(0, "OURS");
	name_book(1, "THEIRS");
	assert_ok(store_call_save_lines(books[0], &ada.uid, "found it", "done it", &error));
	snprintf(clean, sizeof clean, "%s.clean", books_paths[0]);
	store_close(books[0]);
	run_sql(books_paths[0], "PRAGMA wal_checkpoint(TRUNCATE); DROP TRIGGER entry_is_kept; "
	        "DROP TRIGGER entry_stays");
	scratch_copy(books_paths[0], clean);
	assert_ok(store_open(books_paths[0], STORE_EXISTING, &books_clock, &books[0], &error));
}

static void tear_down(void)
{
	books_close();
	books_tear_down();
}

/* The book as it was, with the damage that `sql` does. */
static void damage(const char *sql)
{
	store_close(books[0]);
	scratch_copy(clean, books_paths[0]);
	run_sql(books_paths[0], sql);
	assert_ok(store_open(books_paths[0], STORE_EXISTING, &books_clock, &books[0], &error));
}

static void verify(int limit, struct text *said)
{
	struct store_flaw *flaws;
	size_t count;

	text_clear(said);
	assert_ok(store_verify(books[0], limit, &flaws, &count, &error));
	ck_assert(limit == 0 || count <= (size_t)limit);
	for (size_t i = 0; i < count; i++) {
		add_named(said, flaws[i].sentence);
		text_add(said, i + 1 < count ? "\n" : "");
	}
	free(flaws);
}

#define FIELD(name) "(SELECT id FROM field WHERE name = '" name "')"
#define WRITTEN " is not as it was written: its checksum differs"
#define COUNTED "The changes made in the book OURS are not those that it counted"

static const struct {
	const char *sql, *says;
} rows[] = {
	{ "SELECT 1", "" },
	{ "UPDATE entry SET new = '61' WHERE field = " FIELD("as_found.suction_pressure"),
	  "call CALL: as_found.suction_pressure" WRITTEN },
	{ "UPDATE entry SET old = '61' WHERE field = " FIELD("as_found.suction_pressure"),
	  "call CALL: as_found.suction_pressure" WRITTEN },
	{ "UPDATE entry SET at = at + 1 WHERE field = " FIELD("as_found.suction_pressure"),
	  "call CALL: as_found.suction_pressure" WRITTEN },
	{ "UPDATE entry SET at = NULL WHERE field = " FIELD("as_found.suction_pressure"),
	  "call CALL: as_found.suction_pressure" WRITTEN },
	{ "UPDATE entry SET technician = (SELECT id FROM technician WHERE name = 'Ann') WHERE field = "
	  FIELD("as_found.suction_pressure"), "call CALL: as_found.suction_pressure" WRITTEN },
	{ "UPDATE entry SET sum = sum + 1 WHERE field = " FIELD("as_found.suction_pressure"),
	  "call CALL: as_found.suction_pressure" WRITTEN "\n"
	  COUNTED },
	{ "UPDATE entry SET number = 1000 WHERE field = " FIELD("as_found.suction_pressure"),
	  "call CALL: as_found.suction_pressure" WRITTEN "\n"
	  "The book OURS does not end where its changes end" },
	{ "DELETE FROM entry WHERE field = " FIELD("as_found.suction_pressure"),
	  "Of the 50 changes made in the book OURS, 49 are there" },
	{ "DELETE FROM technician WHERE name = 'Ann'",
	  "A change names a technician who is not in the book\n"
	  "call CALL: system.serial" WRITTEN },
	{ "UPDATE technician SET name = 'Eve' WHERE name = 'Ann'",
	  "call CALL: system.serial" WRITTEN },
	{ "DELETE FROM field WHERE name = 'description'",
	  "work WORK: a field is not known\n"
	  "work_line WORK: its description is not what its trail of changes ends at ()" },
	{ "DELETE FROM thing WHERE kind = 6",
	  "The trail has changes of something that is not there\n"
	  "1 rows of work_line have no trail" },
	{ "UPDATE thing SET kind = 7 WHERE kind = 6",
	  "choices WORK: position" WRITTEN "\n"
	  "choices WORK: kind" WRITTEN "\n"
	  "choices WORK: description" WRITTEN "\n"
	  "choices WORK: quantity" WRITTEN "\n"
	  "choices WORK: unit_price" WRITTEN "\n"
	  "offer WORK is not there, but its trail says otherwise\n"
	  "1 rows of work_line have no trail" },
	{ "UPDATE thing SET kind = 99 WHERE kind = 6",
	  "thing of a newer program WORK: position" WRITTEN "\n"
	  "thing of a newer program WORK: kind" WRITTEN "\n"
	  "thing of a newer program WORK: description" WRITTEN "\n"
	  "thing of a newer program WORK: quantity" WRITTEN "\n"
	  "thing of a newer program WORK: unit_price" WRITTEN "\n"
	  "1 rows of work_line have no trail" },
	{ "DELETE FROM book WHERE id NOT IN (SELECT book FROM own)",
	  "2 changes name a book that is not in the list" },
	{ "UPDATE book SET stamp = stamp + 1 WHERE id IN (SELECT book FROM own)",
	  "The book OURS does not end where its changes end" },
	{ "UPDATE book SET stamp = stamp - 1 WHERE id IN (SELECT book FROM own)",
	  "The book OURS does not end where its changes end" },
	{ "UPDATE book SET number = number + 1 WHERE id IN (SELECT book FROM own)",
	  "The book OURS does not end where its changes end" },
	{ "UPDATE book SET digest = digest + 1 WHERE id IN (SELECT book FROM own)", COUNTED },
	{ "INSERT INTO book (id, number, stamp) VALUES (77, 5, 5)",
	  "The changes of 1 books are missing" },
	{ "INSERT INTO book (id, number, stamp) VALUES (77, 5, 5), (78, 1, 5)",
	  "The changes of 2 books are missing" },
	{ "INSERT INTO book (id, number, stamp) VALUES (77, 0, 0)", "" },
	{ "INSERT INTO book (id, number, stamp) VALUES (0, 0, 5)",
	  "The changes of 1 books are missing" },
	{ "UPDATE own SET sum = sum + 1", "The id of this book is not as it was written" },
	{ "DELETE FROM own; INSERT INTO own (book, sum) VALUES (77, 5)",
	  "The id of this book is not as it was written" },
	{ "DELETE FROM own", "" },
	{ "INSERT INTO customer (id, uid) VALUES (900, 'x')",
	  "1 rows of customer have no trail\n"
	  "1 customers are missing from the search list, or wrong in it" },
	{ "INSERT INTO site (id, uid) VALUES (900, 'x'), (901, 'y')",
	  "2 rows of site have no trail" },
	{ "INSERT INTO system (id, uid) VALUES (900, 'x')", "1 rows of system have no trail" },
	{ "INSERT INTO call (id, uid) VALUES (900, 'x')", "1 rows of call have no trail" },
	{ "INSERT INTO charge_entry (id, call) VALUES (900, 1)",
	  "1 rows of charge_entry have no trail" },
	{ "INSERT INTO work_line (id, call) VALUES (900, 1)",
	  "1 rows of work_line have no trail" },
	{ "INSERT INTO offer (id, call) VALUES (900, 1)", "1 rows of offer have no trail" },
	{ "INSERT INTO watch_item (id, call) VALUES (900, 1)",
	  "1 rows of watch_item have no trail" },
	{ "INSERT INTO judgement (id, call) VALUES (900, 1)",
	  "1 rows of judgement have no trail" },
	{ "INSERT INTO tightness (id, call) VALUES (900, 1)",
	  "1 rows of tightness have no trail" },
	{ "INSERT INTO cylinder (id, call) VALUES (900, 1)", "1 rows of cylinder have no trail" },
	{ "UPDATE customer SET uid = 'x' WHERE name = 'Ada'", "1 rows of customer have no trail" },
	{ "UPDATE work_line SET call = call + 1", "1 rows of work_line have no trail" },
	{ "DELETE FROM customer WHERE name = 'Ada'",
	  "customer CUSTOMER is not there, but its trail says otherwise" },
	{ "DELETE FROM site WHERE address = 'Ada''s house'",
	  "site SITE is not there, but its trail says otherwise\n"
	  "1 customers are missing from the search list, or wrong in it" },
	{ "DELETE FROM system",
	  "system SYSTEM is not there, but its trail says otherwise\n"
	  "system SYSTEM2 is not there, but its trail says otherwise\n"
	  "1 customers are missing from the search list, or wrong in it" },
	{ "DELETE FROM call WHERE summary = ''",
	  "call CALL2 is not there, but its trail says otherwise" },
	{ "DELETE FROM work_line", "work_line WORK is not there, but its trail says otherwise" },
	{ "UPDATE customer SET name = 'Eve' WHERE name = 'Ada'",
	  "customer CUSTOMER: its name is not what its trail of changes ends at (Ada)\n"
	  "1 customers are missing from the search list, or wrong in it" },
	{ "UPDATE customer SET phone = '1' WHERE name = 'Ada'",
	  "customer CUSTOMER: its phone is not what its trail of changes ends at ()\n"
	  "1 customers are missing from the search list, or wrong in it" },
	{ "UPDATE call SET complaint = 'x' WHERE summary <> ''",
	  "call CALL: its complaint is not what its trail of changes ends at (no cooling)" },
	{ "UPDATE call SET closed_at = '2026-01-01T00:00:00' WHERE summary <> ''",
	  "call CALL: its closed_at is not what its trail of changes ends at (nothing)" },
	{ "UPDATE call SET opened_at = '' WHERE summary <> ''",
	  "call CALL: its opened_at is not what its trail of changes ends at (2026-06-03T09:00:00)" },
	{ "UPDATE call SET site = 0 WHERE summary <> ''",
	  "call CALL: its site is not what its trail of changes ends at (2)" },
	{ "UPDATE call SET deposit = 1 WHERE summary <> ''",
	  "call CALL: its deposit is not what its trail of changes ends at (0)" },
	{ "UPDATE charge_entry SET added = 3.25",
	  "charge_entry CHARGE: its added is not what its trail of changes ends at (3.5)" },
	{ "UPDATE charge_entry SET outdoor_db = NULL",
	  "charge_entry CHARGE: its outdoor_db is not what its trail of changes ends at (91.5)" },
	{ "UPDATE charge_entry SET suction_pressure = 1",
	  "charge_entry CHARGE: its suction_pressure is not what its trail of changes ends at (nothing)" },
	{ "UPDATE charge_entry SET position = 2",
	  "charge_entry CHARGE: its position is not what its trail of changes ends at (1)" },
	{ "UPDATE field SET is_number = 1 - is_number WHERE name IN ('complaint', 'outdoor_db', "
	  "'as_found.suction_pressure', 'system.serial')",
	  "The field complaint is not as it was written\n"
	  "The field outdoor_db is not as it was written\n"
	  "The field as_found.suction_pressure is not as it was written\n"
	  "The field system.serial is not as it was written" },
	{ "UPDATE setting SET value = 'x' WHERE key = 'company'", "The setting company" WRITTEN },
	{ "UPDATE setting SET sum = -1 WHERE key = 'company'", "" },
	{ "UPDATE price_item SET unit_price = 3451", "The price C45" WRITTEN },
	{ "UPDATE price_item SET description = 'x'", "The price C45" WRITTEN },
	{ "UPDATE call SET found_line = 'x' WHERE summary <> ''",
	  "The line of call CALL" WRITTEN },
	{ "UPDATE call SET done_line = 'x' WHERE summary <> ''", "The line of call CALL" WRITTEN },
	{ "UPDATE call SET found_line = '', done_line = '' WHERE summary <> ''",
	  "The line of call CALL" WRITTEN },
	{ "UPDATE call SET found_line = 'x', lines_sum = -1 WHERE summary <> ''", "" },
	{ "UPDATE call SET found_line = 'x' WHERE summary = ''",
	  "The line of call CALL2" WRITTEN },
	{ "DELETE FROM question", "call CALL: the question does not match what two books changed" },
	{ "INSERT INTO question SELECT thing, field FROM entry WHERE field = " FIELD("as_found.suction_pressure"),
	  "call CALL: the question does not match what two books changed" },
	{ "UPDATE question SET field = " FIELD("complaint"),
	  "call CALL: the question does not match what two books changed; call CALL: the question "
	  "does not match what two books changed" },
	{ "DELETE FROM removed",
	  "watch WATCH: whether it was taken out is not what its trail says" },
	{ "UPDATE removed SET kind = kind + 1",
	  "watch WATCH: whether it was taken out is not what its trail says" },
	{ "UPDATE removed SET call = NULL",
	  "watch WATCH: whether it was taken out is not what its trail says" },
	{ "INSERT INTO removed SELECT id, kind, call FROM thing WHERE kind = 6",
	  "work WORK: whether it was taken out is not what its trail says" },
	{ "DELETE FROM joined",
	  "customer CUSTOMER2: what it was joined into is not what its trail says\n"
	  "site SITE2: its customer is not what its trail of changes ends at (5)\n"
	  "call CALL2: its customer is not what its trail of changes ends at (5)\n"
	  "1 customers are missing from the search list, or wrong in it" },
	{ "UPDATE joined SET other = (SELECT max(id) FROM site)",
	  "customer CUSTOMER2: what it was joined into is not what its trail says\n"
	  "site SITE2: its customer is not what its trail of changes ends at (6)\n"
	  "call CALL2: its customer is not what its trail of changes ends at (6)" },
	{ "UPDATE joined SET other = 5000",
	  "customer CUSTOMER2: what it was joined into is not what its trail says\n"
	  "site SITE2: its customer is not what its trail of changes ends at (5)\n"
	  "call CALL2: its customer is not what its trail of changes ends at (5)" },
	{ "INSERT INTO joined SELECT max(id), min(id) FROM site",
	  "site SITE2: what it was joined into is not what its trail says\n"
	  "system SYSTEM2: its site is not what its trail of changes ends at (2)\n"
	  "call CALL2: its site is not what its trail of changes ends at (2)" },
	{ "DELETE FROM met",
	  "what the book THEIRS knew of others is not as it was written\n"
	  "what the book OURS knew of others is not as it was written" },
	{ "UPDATE met SET upto = upto + 1",
	  "call CALL: the question does not match what two books changed\n"
	  "what the book THEIRS knew of others is not as it was written\n"
	  "what the book OURS knew of others is not as it was written" },
	{ "UPDATE met SET upto = upto - 1",
	  "what the book THEIRS knew of others is not as it was written\n"
	  "what the book OURS knew of others is not as it was written" },
	{ "UPDATE met SET number = number + 1",
	  "what the book THEIRS knew of others is not as it was written\n"
	  "what the book OURS knew of others is not as it was written" },
	{ "UPDATE met SET book = 78",
	  "what the book THEIRS knew of others is not as it was written\n"
	  "what the book OURS knew of others is not as it was written" },
	{ "DELETE FROM customer_search", "1 customers are missing from the search list, or wrong in it" },
	{ "UPDATE customer SET found_as = found_as + 1 WHERE name = 'Ada'",
	  "1 customers are missing from the search list, or wrong in it" },
	{ "DELETE FROM customer_site", "" },
	{ "UPDATE customer_search_content SET c0 = 'x'",
	  "The search list of customers is damaged\n1 customers are missing from the search list, or wrong in it" },
	{ "UPDATE customer_search_data SET block = x'00000000' WHERE id > 10",
	  "The search list of customers is damaged" },
	{ "UPDATE system SET serial = 'SN-2' WHERE serial = 'SN-1'",
	  "1 customers are missing from the search list, or wrong in it" },
};

START_TEST(what_is_wrong_is_said_whole)
{
	struct text said;

	text_init(&said);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		damage(rows[i].sql);
		verify(0, &said);
		ck_assert_msg(strcmp(text_get(&said), rows[i].says) == 0, "%s: %s", rows[i].sql, text_get(&said));
	}
	text_done(&said);
}
END_TEST

/* Who only reads the book looks at its words as far as that goes. */
START_TEST(a_book_that_is_only_read_is_checked_too)
{
	struct text said;

	text_init(&said);
	damage("UPDATE setting SET value = 'x' WHERE key = 'company'");
	store_close(books[0]);
	assert_ok(store_open(books_paths[0], STORE_READ_ONLY, &books_clock, &books[0], &error));
	verify(0, &said);
	ck_assert_str_eq(text_get(&said), "The setting company" WRITTEN);
	text_done(&said);
}
END_TEST

START_TEST(no_more_is_said_than_is_asked_for)
{
	struct text said;

	text_init(&said);
	damage("UPDATE setting SET value = 'x'; UPDATE price_item SET description = 'x'; "
	       "DELETE FROM customer_search");
	verify(1, &said);
	ck_assert_str_eq(text_get(&said), "1 customers are missing from the search list, or wrong in it");
	verify(2, &said);
	ck_assert_str_eq(text_get(&said), "1 customers are missing from the search list, or wrong in it\n"
	                 "The setting company" WRITTEN);
	text_done(&said);
}
END_TEST

/* What verify says of an entry, no merge takes. */
static const struct {
	const char *sql, *says;
} refused[] = {
	{ "UPDATE entry SET new = '61' WHERE field = " FIELD("as_found.suction_pressure"),
	  "call CALL: as_found.suction_pressure" WRITTEN },
	{ "UPDATE entry SET sum = sum + 1 WHERE field = " FIELD("as_found.suction_pressure"),
	  "call CALL: as_found.suction_pressure" WRITTEN },
	{ "UPDATE technician SET name = 'Eve' WHERE name = 'Ann'", "call CALL: system.serial" WRITTEN },
	{ "DELETE FROM technician WHERE name = 'Ann'", "a change names a technician who is not in the book" },
	{ "DELETE FROM field WHERE name = 'description'", "a change is of a field that is not there" },
	{ "DELETE FROM thing WHERE kind = 6", "a change is of something that is not there" },
	{ "UPDATE entry SET thing = 5000 WHERE thing IN (SELECT id FROM thing WHERE kind = 6)",
	  "a change is of something that is not there" },
	{ "UPDATE entry SET thing = -1 WHERE thing IN (SELECT id FROM thing WHERE kind = 6)",
	  "a change is of something that is not there" },
	{ "UPDATE thing SET uid = 'x' WHERE kind = 6", "something in it has no id" },
	{ "UPDATE thing SET call = NULL WHERE kind = 6", "something in it has no id" },
	{ "UPDATE thing SET call = 1 WHERE kind = 1", "something in it has no id" },
	{ "UPDATE thing SET kind = 7 WHERE kind = 6", "choices WORK: position" WRITTEN },
	{ "UPDATE thing SET kind = 99 WHERE kind = 6", "thing of a newer program WORK: position" WRITTEN },
};

static void assert_not_taken(struct store *into, const char *sql, const char *says)
{
	static const struct merge_report nothing = { 0 };
	struct merge_report report;
	struct text said, wanted;

	text_init(&said);
	text_init(&wanted);
	text_add_format(&wanted, "the book %s: %s; nothing was taken from it; padside verify says more",
	                books_paths[0], says);
	ck_assert_msg(store_merge(into, books_paths[0], &report, &error) == STATUS_DAMAGED, "%s", sql);
	ck_assert_mem_eq(&report, &nothing, sizeof nothing);
	add_named(&said, error.text);
	ck_assert_str_eq(text_get(&said), text_get(&wanted));
	ck_assert_int_eq(listed_customers(into, "", NULL), 0);
	listed_sound(into, sql);
	text_done(&said);
	text_done(&wanted);
}

START_TEST(nothing_is_taken_from_a_book_that_is_wrong)
{
	char path[BOOKS_PATH_SIZE + 8];
	struct store *fresh;

	snprintf(path, sizeof path, "%s.fresh", books_paths[0]);
	assert_ok(store_open(path, STORE_CREATE, &books_clock, &fresh, &error));
	for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
		damage(refused[i].sql);
		assert_not_taken(fresh, refused[i].sql, refused[i].says);
	}
	damage("SELECT 1");
	struct merge_report report;
	assert_ok(store_merge(fresh, books_paths[0], &report, &error));
	ck_assert_int_eq(report.calls, 2);
	ck_assert_int_eq(report.customers, 2);
	ck_assert_int_eq(report.sites, 2);
	ck_assert_int_eq(report.systems, 2);
	ck_assert_int_eq(report.readings, 2);
	ck_assert_int_eq(report.lines, 6);
	ck_assert_int_eq(report.removed, 0);
	ck_assert_int_eq(report.changes, 50);
	listed_sound(fresh, "taken");
	store_close(fresh);
}
END_TEST

START_TEST(an_id_that_is_something_else_here_is_not_taken)
{
	char path[BOOKS_PATH_SIZE + 8], sql[120];
	struct store *fresh;
	struct merge_report report;
	struct uid customer = ada.customer.uid;

	damage("SELECT 1");
	snprintf(path, sizeof path, "%s.fresh", books_paths[0]);
	assert_ok(store_open(path, STORE_CREATE, &books_clock, &fresh, &error));
	snprintf(sql, sizeof sql, "INSERT INTO thing (uid, kind) VALUES ('%s', 2)", customer.text);
	run_sql(path, sql);
	ck_assert_int_eq(store_merge(fresh, books_paths[0], &report, &error), STATUS_DAMAGED);
	ck_assert_ptr_nonnull(strstr(error.text, ": an id in it is here of something else; nothing was taken"));
	store_close(fresh);
}
END_TEST

Suite *flaws_suite(void)
{
	Suite *suite = suite_create("flaws");
	TCase *tests = tcase_create("flaws");

	tcase_set_timeout(tests, 60);
	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, what_is_wrong_is_said_whole);
	tcase_add_test(tests, a_book_that_is_only_read_is_checked_too);
	tcase_add_test(tests, no_more_is_said_than_is_asked_for);
	tcase_add_test(tests, an_id_that_is_something_else_here_is_not_taken);
	tcase_add_test(tests, nothing_is_taken_from_a_book_that_is_wrong);
	suite_add_tcase(suite, tests);
	return suite;
}
