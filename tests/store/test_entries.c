/* Entries of the trail: their checksums, their stamps, which of them can be read, who knew of whom. */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/parts.h"
#include "store/trail.h"
#include "support/books.h"
#include "support/calls.h"

Suite *entries_suite(void);

static const char one_uid[] = "018064fd-db40-79b4-8cc8-349363c45022";
static const char other_uid[] = "0187e0ad-cfa0-759f-b23f-c8415de8da7c";

static struct error error;
static struct store *store;
static struct call call;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void set_up(void)
{
	books_set_up();
	books_open(1);
	store = books[0];
	call_init(&call);
	snprintf(call.complaint, sizeof call.complaint, "no cooling");
	call_add_work(&call)->unit_price = 100;
	assert_ok(store_call_record(store, &call, &error));
}

static void tear_down(void)
{
	call_done(&call);
	books_close();
	books_tear_down();
}

/* ---- Checksums ---- */

/* The expected numbers are zlib's crc32() of the same bytes; numbers are eight, the lowest first. */
START_TEST(a_checksum_is_the_crc_of_all_that_is_written)
{
	struct entry entry = {
		.stamp = INT64_C(115964116992), .book = INT64_C(0x123456789abc), .number = 17,
		.technician = "Ann Vega", .new = "no cooling", .at = 1780477920,
	};

	ck_assert_int_eq(texts_sum("123456789", ""), -587017689);
	ck_assert_int_eq(texts_sum("found it", "done it"), 1012679902);
	ck_assert_int_eq(texts_sum("", ""), 1104745215);
	ck_assert_int_eq(texts_sum("a text that is longer than eight bytes, and then some", "µ"), 1895997663);
	ck_assert_int_eq(book_sum(INT64_C(0x123456789abc)), -1626695460);
	ck_assert_int_eq(book_sum(1), -1450647561);
	ck_assert_uint_eq(thing_seed(THING_CALL, one_uid, NULL), 0xec93b674);
	ck_assert_uint_eq(thing_seed(6, one_uid, other_uid), 0xc0118449);
	ck_assert_uint_eq(name_seed("complaint"), 0x96a97043);
	ck_assert_uint_eq(entry_sum(0xec93b674, 0x96a97043, &entry), 0x6863e53a);
	entry.technician = "";
	entry.old = entry.new;
	entry.new = NULL;
	entry.at = WALL_TIME_NONE;
	ck_assert_uint_eq(entry_sum(0xec93b674, 0x96a97043, &entry), 0x11ac4370);
}
END_TEST

/* ---- Which can be read ---- */

static struct thing thing_of(enum thing_kind kind, int number)
{
	struct thing thing = { .id = 1, .kind = kind, .number = number };

	snprintf(thing.uid.text, sizeof thing.uid.text, "%s", one_uid);
	thing.seed = thing_seed(number, one_uid, NULL);
	return thing;
}

/* What is said of an entry, and whether it is read. */
static bool look(const struct thing *thing, struct entry *entry, uint32_t off, struct text *wrong)
{
	struct checker *checker = checker_new();

	const struct field_meaning *meaning = field_meaning(store, entry->field);
	uint32_t sum = entry_sum(thing->seed, meaning ? meaning->seed : 0, entry);
	text_clear(wrong);
	bool is_read = checker_look(checker, store, thing, entry, sum + off, wrong);
	checker_free(checker);
	return is_read;
}

static int field_named(const char *name)
{
	int id;

	assert_ok(field_of_name(store, name, &id, &error));
	return id;
}

static const char long_value[] = "a value that is longer than what a terminal takes in one line of it, and more";

static const struct {
	enum thing_kind kind;
	const char *field, *value;
	bool is_read;
	const char *wrong;
} values[] = {
	{ THING_CALL, "complaint", "no cooling", true, "" },
	{ THING_CALL, "complaint", NULL, true, "" },
	{ THING_CALL, "opened_at", "2026-06-01T08:00:00", true, "" },
	{ THING_CALL, "opened_at", "yesterday", false, "" },
	{ THING_CALL, "deposit", "100", true, "" },
	{ THING_CALL, "deposit", "1.5", false, "" },
	{ THING_CALL, "customer", "0187e0ad-cfa0-759f-b23f-c8415de8da7c", true, "" },
	{ THING_CALL, "customer", "somebody", false, "" },
	{ THING_CALL, "address", "a field of something else", false, "" },
	{ THING_CALL, "a field of tomorrow", "x", false, "" },
	{ THING_CALL, "as_found.outdoor_db", "95", true, "" },
	{ THING_CALL, "as_found.outdoor_db", NULL, true, "" },
	{ THING_CALL, "as_found.outdoor_db", "95000", false, "" },
	{ THING_CALL, "as_found.outdoor_db", "OL", false, "" },
	{ THING_CALL, "as_found.common_run_resistance", "OL", true, "" },
	{ THING_CALL, "as_found.disconnect_locked", "yes", true, "" },
	{ THING_CALL, "as_found.disconnect_locked", "no", true, "" },
	{ THING_CALL, "as_found.disconnect_locked", "perhaps", false, "" },
	{ THING_CALL, "as_left.compressor_state", "runs", true, "" },
	{ THING_CALL, "as_left.compressor_state", "flies", false, "" },
	{ THING_SITE, "as_found.outdoor_db", "95", false, "" },
	{ THING_SITE, "address", "12 Oak Street", true, "" },
	{ THING_LISTS + LIST_WORK, "kind", "part", true, "" },
	{ THING_LISTS + LIST_WORK, "kind", "gift", false, "" },
	{ THING_LISTS + LIST_WORK, "position", "1", true, "" },
	{ THING_LISTS + LIST_WORK, "position", "123456789012345678", true, "" },
	{ THING_LISTS + LIST_WORK, "position", "1234567890123456789", false, "" },
	{ THING_LISTS + LIST_WORK, "position", "-1", false, "" },
	{ THING_LISTS + LIST_WORK, "position", "", false, "" },
	{ THING_LISTS + LIST_WORK, "outdoor_db", "95", false, "" },
	{ THING_LISTS + LIST_CHARGE, "outdoor_db", "95", true, "" },
	{ THING_LISTS + LIST_CHARGE, "outdoor_db", "95000", false, "" },
	{ THING_LISTS + LIST_CHARGE, "outdoor_db", "hot", false, "" },
	{ THING_LISTS + LIST_JUDGEMENTS, "verdict", "confirmed", true, "" },
	{ THING_LISTS + LIST_JUDGEMENTS, "verdict", "guessed", false, "" },
	{ THING_LISTS + LIST_TIGHTNESS, "kind", "vacuum", true, "" },
	{ THING_LISTS + LIST_TIGHTNESS, "kind", "part", false, "" },
	{ THING_CALL, "removed", "1", true, "" },
	{ THING_CALL, "removed", NULL, true, "" },
	{ THING_LISTS + LIST_WORK, "removed", "1", true, "" },
	{ THING_CALL, "removed", "2", true, "call U: removed has a value that cannot be read (2)" },
	{ THING_CUSTOMER, "joined", "0187e0ad-cfa0-759f-b23f-c8415de8da7c", true, "" },
	{ THING_SITE, "joined", "0187e0ad-cfa0-759f-b23f-c8415de8da7c", true, "" },
	{ THING_SYSTEM, "joined", "0187e0ad-cfa0-759f-b23f-c8415de8da7c", true, "" },
	{ THING_SYSTEM, "joined", NULL, true, "" },
	{ THING_CUSTOMER, "joined", "x", true, "customer U: joined has a value that cannot be read (x)" },
	{ THING_CALL, "joined", "0187e0ad-cfa0-759f-b23f-c8415de8da7c", true,
	  "call U: joined has a value that cannot be read (0187e0ad-cfa0-759f-b23f-c8415de8da7c)" },
	{ THING_BOOK, "joined", "0187e0ad-cfa0-759f-b23f-c8415de8da7c", true,
	  "book U: joined has a value that cannot be read (0187e0ad-cfa0-759f-b23f-c8415de8da7c)" },
	{ THING_BOOK, "met", "0", true, "" },
	{ THING_BOOK, "met", "123456789012345678", true, "" },
	{ THING_BOOK, "met", "1234567890123456789", true, "book U: met has a value that cannot be read (1234567890123456789)" },
	{ THING_BOOK, "met", "", true, "book U: met has a value that cannot be read ()" },
	{ THING_BOOK, "met", long_value, true,
	  "book U: met has a value that cannot be read (a value that is longer than what a terminal takes in one lin)" },
	{ THING_SITE, "met", "5", true, "site U: met has a value that cannot be read (5)" },
};

START_TEST(each_value_is_read_or_not_or_wrong)
{
	struct text wrong, said;

	text_init(&wrong);
	text_init(&said);
	for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
		struct thing thing = thing_of(values[i].kind, (int)values[i].kind);
		struct entry entry = {
			.field = field_named(values[i].field), .stamp = 1, .book = 0, .number = 1, .technician = "",
			.new = values[i].value, .at = WALL_TIME_NONE,
		};
		bool is_read = look(&thing, &entry, 0, &wrong);
		text_clear(&said);
		for (const char *at = text_get(&wrong); *at;) {
			bool is_uid = strncmp(at, one_uid, strlen(one_uid)) == 0;
			text_add_char(&said, is_uid ? 'U' : *at);
			at += is_uid ? strlen(one_uid) : 1;
		}
		ck_assert_msg(is_read == values[i].is_read && strcmp(text_get(&said), values[i].wrong) == 0,
		              "%s of %s: %d %s", values[i].value ? values[i].value : "nothing", values[i].field, is_read,
		              text_get(&said));
	}
	text_done(&wrong);
	text_done(&said);
}
END_TEST

START_TEST(an_entry_that_is_not_whole_or_has_no_place_is_wrong)
{
	struct thing thing = thing_of(THING_CALL, THING_CALL), newer = thing_of(THING_NEWER, 99);
	const struct entry sound = { .field = field_named("complaint"), .stamp = 1, .number = 1,
	                             .technician = "", .new = "x", .at = WALL_TIME_NONE };
	struct entry entry = sound;
	char words[160];
	struct text wrong;

	text_init(&wrong);
	ck_assert(look(&thing, &entry, 0, &wrong));
	ck_assert_str_eq(text_get(&wrong), "");
	snprintf(words, sizeof words, "call %s: complaint is not as it was written: its checksum "
	         "differs", one_uid);
	look(&thing, &entry, 1, &wrong);
	ck_assert_str_eq(text_get(&wrong), words);
	snprintf(words, sizeof words, "call %s: complaint has no place in the trail", one_uid);
	entry.stamp = 0;
	look(&thing, &entry, 0, &wrong);
	ck_assert_str_eq(text_get(&wrong), words);
	entry = sound;
	entry.number = 0;
	look(&thing, &entry, 0, &wrong);
	ck_assert_str_eq(text_get(&wrong), words);
	entry = sound;
	entry.book = -1;
	look(&thing, &entry, 0, &wrong);
	ck_assert_str_eq(text_get(&wrong), words);
	/* Of what only a newer program knows, nothing is read and nothing is wrong. */
	entry = sound;
	ck_assert(!look(&newer, &entry, 0, &wrong));
	ck_assert_str_eq(text_get(&wrong), "");
	snprintf(words, sizeof words, "thing of a newer program %s: complaint is not as it was "
	         "written: its checksum differs", one_uid);
	ck_assert(!look(&newer, &entry, 1, &wrong));
	ck_assert_str_eq(text_get(&wrong), words);
	snprintf(words, sizeof words, "call %s: a field is not known", one_uid);
	entry.field = 5000;
	ck_assert(!look(&thing, &entry, 0, &wrong));
	ck_assert_str_eq(text_get(&wrong), words);
	text_done(&wrong);
}
END_TEST

/* ---- Stamps and numbers ---- */

/* The stamps behind the wall's milliseconds and the numbers of the call's entries, in their order. */
static void read_stamps(int64_t *stamps, int most)
{
	sqlite3 *db;
	sqlite3_stmt *row;
	int count = 0;

	ck_assert_int_eq(sqlite3_open(books_paths[0], &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, "SELECT stamp, number FROM entry ORDER BY number", -1, &row, NULL),
	                 SQLITE_OK);
	while (sqlite3_step(row) == SQLITE_ROW) {
		ck_assert_int_eq(sqlite3_column_int(row, 1), count + 1);
		ck_assert_int_lt(count, most);
		stamps[count++] = sqlite3_column_int64(row, 0);
	}
	ck_assert_int_eq(count, most);
	sqlite3_finalize(row);
	sqlite3_close(db);
}

static void set_summary(const char *summary)
{
	struct call after = call;

	snprintf(after.summary, sizeof after.summary, "%s", summary);
	assert_ok(store_call_change(store, &call, &after, &error));
	snprintf(call.summary, sizeof call.summary, "%s", summary);
}

/* The wall's milliseconds times 65536 where they are later, else one more than the latest. */
START_TEST(a_stamp_is_the_time_or_one_more_than_the_latest)
{
	enum { FIRST = 12 };
	int64_t stamps[FIRST + 5], wall = books_now * 1000 * 65536;

	read_stamps(stamps, FIRST);
	for (int i = 0; i < FIRST; i++)
		ck_assert_int_eq(stamps[i], wall + i);
	books_now += 60;
	set_summary("a minute later");
	set_summary("in the same second");
	books_now -= 3600;
	set_summary("the clock was put back");
	store_close(store);
	assert_ok(store_open(books_paths[0], STORE_EXISTING, &books_clock, &books[0], &error));
	store = books[0];
	set_summary("and the program started again");
	books_now += 7200;
	set_summary("and put right");
	read_stamps(stamps, FIRST + 5);
	wall += INT64_C(60) * 1000 * 65536;
	ck_assert_int_eq(stamps[FIRST], wall);
	ck_assert_int_eq(stamps[FIRST + 1], wall + 1);
	ck_assert_int_eq(stamps[FIRST + 2], wall + 2);
	ck_assert_int_eq(stamps[FIRST + 3], wall + 3);
	ck_assert_int_eq(stamps[FIRST + 4], wall + INT64_C(3600) * 1000 * 65536);
}
END_TEST

/* ---- Who knew of whom ---- */

/* Book 5 knew of book 6 up to 10 from its entry 20 on, and up to 12 from 30 on. */
START_TEST(who_knew_of_whom_is_told_by_numbers)
{
	static const struct {
		int64_t book, number, stamp, other, other_number, other_stamp;
		bool knew;
	} rows[] = {
		{ 5, 19, 0, 6, 1, 0, false }, { 5, 20, 0, 6, 10, 0, true }, { 5, 20, 0, 6, 11, 0, false },
		{ 5, 29, 0, 6, 11, 0, false }, { 5, 30, 0, 6, 11, 0, true }, { 5, 30, 0, 6, 12, 0, true },
		{ 5, 31, 0, 6, 13, 0, false }, { 6, 99, 0, 5, 1, 0, false }, { 5, 99, 0, 7, 1, 0, false },
		/* A book knows what it wrote before. */
		{ 5, 8, 0, 5, 7, 9, true }, { 5, 7, 9, 5, 7, 0, false }, { 5, 7, 9, 5, 8, 0, false },
		/* What was there before there was a trail is in the order of its stamps, and all know it. */
		{ 0, 1, 9, 0, 2, 8, true }, { 0, 2, 8, 0, 1, 8, false }, { 0, 2, 8, 0, 1, 9, false },
		{ 5, 1, 1, 0, 99, 99, true }, { 0, 99, 99, 5, 1, 1, false },
	};

	assert_ok(store_begin(store, &error));
	assert_ok(book_script(store, "INSERT INTO met (book, other, number, upto) VALUES (5, 6, 20, 10), "
	                      "(5, 6, 30, 12)", &error));
	assert_ok(store_end(store, STATUS_OK, &error));
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		ck_assert_msg(trail_knew(store, rows[i].book, rows[i].number, rows[i].stamp, rows[i].other,
		                         rows[i].other_number, rows[i].other_stamp) == rows[i].knew, "row %zu", i);
}
END_TEST

/* ---- What a thing consists of ---- */

static void add_shape(struct text *text, enum thing_kind kind)
{
	static const char *const kinds[] = { "", ">", "~", "#" };
	const struct shape *shape = &store->shapes[kind];

	text_add_format(text, "%s %s:", thing_word(kind), shape->table);
	for (int i = 0; i < shape->count; i++) {
		const struct shape_column *column = &shape->columns[i];
		const char *empty = shape_empty(column);
		text_add_format(text, " %s%s", kinds[column->kind], column->name);
		if (column->kind == COLUMN_REFERENCE)
			text_add_format(text, "(%s)", thing_word(column->refers));
		if (!empty || *empty)
			text_add_format(text, "=%s", empty ? empty : "NULL");
	}
	text_add(text, "\n");
}

/* Each table with its columns: > refers, ~ is a reading, # a place; and what stands there for nothing. */
START_TEST(the_tables_of_a_book_have_these_columns)
{
	static const char wanted[] =
		"customer customer: name phone email\n"
		"site site: >customer(customer)=0 address\n"
		"system system: >site(site)=0 name\n"
		"call call: >customer(customer)=0 >site(site)=0 >system(system)=0 complaint "
		"summary office_note opened_at closed_at=NULL unsafe_at=NULL planned_at=NULL "
		"access_note job_number technician licence certification arrived_at=NULL "
		"left_at=NULL authorised_by authorised_at=NULL authorised_amount=0 accepted_by "
		"accepted_at=NULL accepted_total=0 payment_terms billed_at=NULL checklist "
		"discount=0 deposit=0 cooling_hours=0 energy_rate=0 tax_labour=0 tax_part=0 "
		"tax_refrigerant=0 tax_fee=0\n"
		"charge_log charge_entry: at=NULL added=0 recovered=0 cylinder note "
		"~suction_pressure=NULL ~suction_line_temp=NULL ~liquid_pressure=NULL "
		"~liquid_line_temp=NULL ~outdoor_db=NULL ~return_wb=NULL #position=0\n"
		"work work_line: kind=labour description quantity=0 unit_price=0 no_charge=0 "
		"note #position=0\n"
		"choices offer: title price_low=0 price_high=0 years_low=0 years_high=0 seer=0 "
		"decision=none decided_by decided_at=NULL note #position=0\n"
		"watch watch_item: fault text noted_at=NULL closed_at=NULL #position=0\n"
		"judgement judgement: fault verdict=confirmed why by at=NULL #position=0\n"
		"tightness tightness: kind=nitrogen at=NULL pressure=NULL temperature=NULL "
		"microns=NULL amount=NULL cylinder note #position=0\n"
		"cylinder cylinder: name refrigerant water_capacity=0 tare=0 weight=0 "
		"test_date=NULL went_to #position=0\n";
	struct text text;

	text_init(&text);
	for (int kind = THING_CUSTOMER; kind < THING_KIND_COUNT; kind++)
		add_shape(&text, (enum thing_kind)kind);
	ck_assert_str_eq(text_get(&text), wanted);
	text_done(&text);
	ck_assert_str_eq(thing_word(THING_BOOK), "book");
	ck_assert_str_eq(thing_word(THING_NEWER), "thing of a newer program");
}
END_TEST

/* ---- What SQLite answers ---- */

START_TEST(each_answer_of_sqlite_is_a_sentence_of_ours)
{
	static const struct {
		int code;
		enum status status;
	} rows[] = {
		{ SQLITE_IOERR_NOMEM, STATUS_NO_MEMORY }, { SQLITE_CONSTRAINT_UNIQUE, STATUS_EXISTS },
		{ SQLITE_CONSTRAINT_PRIMARYKEY, STATUS_EXISTS }, { SQLITE_FULL, STATUS_FULL },
		{ SQLITE_IOERR, STATUS_IO }, { SQLITE_IOERR_FSYNC, STATUS_IO }, { SQLITE_READONLY, STATUS_READ_ONLY },
		{ SQLITE_READONLY_DIRECTORY, STATUS_READ_ONLY }, { SQLITE_PERM, STATUS_READ_ONLY },
		{ SQLITE_CORRUPT, STATUS_DAMAGED }, { SQLITE_CORRUPT_INDEX, STATUS_DAMAGED },
		{ SQLITE_NOTADB, STATUS_NOT_A_BOOK }, { SQLITE_CANTOPEN, STATUS_CANNOT_OPEN },
		{ SQLITE_CANTOPEN_ISDIR, STATUS_CANNOT_OPEN }, { SQLITE_AUTH, STATUS_CANNOT_OPEN },
		{ SQLITE_BUSY, STATUS_BUSY }, { SQLITE_BUSY_SNAPSHOT, STATUS_BUSY }, { SQLITE_LOCKED, STATUS_BUSY },
		{ SQLITE_PROTOCOL, STATUS_BUSY }, { SQLITE_NOMEM, STATUS_NO_MEMORY },
		{ SQLITE_CONSTRAINT, STATUS_REFUSED }, { SQLITE_CONSTRAINT_NOTNULL, STATUS_REFUSED },
		{ SQLITE_TOOBIG, STATUS_REFUSED }, { SQLITE_MISMATCH, STATUS_REFUSED },
		{ SQLITE_INTERNAL, STATUS_UNEXPECTED }, { SQLITE_MISUSE, STATUS_UNEXPECTED },
	};
	char words[320];

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ck_assert_msg(book_refuse("/a/b.db", rows[i].code, &error) == rows[i].status, "%d", rows[i].code);
		snprintf(words, sizeof words, "the book /a/b.db: %s", status_sentence(rows[i].status));
		ck_assert_str_eq(error.text, words);
	}
	/* A book in memory has no name. */
	ck_assert_int_eq(book_refuse("", SQLITE_FULL, &error), STATUS_FULL);
	ck_assert_str_eq(error.text, "the book: the drive is full; what is shown as kept is safe; free some "
	                 "space, then enter this again");
}
END_TEST

/* ---- Values as text ---- */

static void assert_none(enum reading reading, const char *text)
{
	struct value value = { .number = 5 };
	char words[120];

	snprintf(words, sizeof words, "%s has a value that cannot be read", reading_info(reading)->key);
	ck_assert_msg(!value_from_text(reading, text, &value, &error), "%s: %s", reading_info(reading)->key, text);
	ck_assert_str_eq(error.text, words);
	ck_assert_double_eq(value.number, 5);
}

/* Each word of its own list and no other; a number that is one; yes and no; OL of resistances alone. */
START_TEST(every_word_of_a_reading_is_read_and_no_other)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		const struct reading_info *info = reading_info(reading);
		struct value value;
		bool is_number = info->kind == KIND_NUMBER || info->kind == KIND_RESISTANCE;
		ck_assert_int_eq(value_is_number(reading), is_number);
		if (is_number) {
			ck_assert(value_from_text(reading, "12.5", &value, &error));
			ck_assert_double_eq(value.number, 12.5);
			ck_assert_int_eq(value.state, VALUE_TAKEN);
			ck_assert_int_eq(value.taken_at, WALL_TIME_NONE);
			assert_none(reading, "12.5 x");
			assert_none(reading, "");
		}
		if (info->kind == KIND_RESISTANCE) {
			ck_assert(value_from_text(reading, "OL", &value, &error));
			ck_assert_int_eq(value.state, VALUE_OVER_LIMIT);
		} else if (info->kind != KIND_TEXT && info->kind != KIND_DATE) {
			assert_none(reading, "OL");
		}
		if (info->kind == KIND_YES_NO) {
			ck_assert(value_from_text(reading, "yes", &value, &error));
			ck_assert_double_eq(value.number, 1);
			ck_assert(value_from_text(reading, "no", &value, &error));
			ck_assert_double_eq(value.number, 0);
			assert_none(reading, "1");
		}
		if (info->kind != KIND_CHOICE)
			continue;
		int first = (int)choice_first(info->choices), end = first + choice_count(info->choices);
		for (int choice = first; choice < end; choice++) {
			ck_assert(value_from_text(reading, choice_key((enum choice)choice), &value, &error));
			ck_assert_int_eq(value.choice, choice);
		}
		assert_none(reading, "none of these");
	}
}
END_TEST

/* Limits may have become narrower since it was kept. */
START_TEST(a_number_outside_its_limits_stays_as_doubtful)
{
	struct value value;

	ck_assert(value_from_text(READING_OUTDOOR_DB, "95000", &value, &error));
	ck_assert_double_eq(value.number, 95000);
	ck_assert(value.doubtful);
	ck_assert(!value_is_within(READING_OUTDOOR_DB, &value));
	ck_assert(value_from_text(READING_OUTDOOR_DB, "95", &value, &error));
	ck_assert(!value.doubtful);
	ck_assert(value_is_within(READING_OUTDOOR_DB, &value));
	value.state = VALUE_NOT_TAKEN;
	value.number = 95000;
	ck_assert(value_is_within(READING_OUTDOOR_DB, &value));
}
END_TEST

/* Readings of the unit and of the site have one word for both stages. */
START_TEST(a_reading_stands_under_the_word_of_its_scope)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		enum scope scope = reading_info(reading)->scope;
		ck_assert_str_eq(value_stage_word(STAGE_AS_FOUND, reading),
		                 scope == SCOPE_SITE ? "site" : scope == SCOPE_SYSTEM ? "system" : "as_found");
		ck_assert_str_eq(value_stage_word(STAGE_AS_LEFT, reading),
		                 scope == SCOPE_SITE ? "site" : scope == SCOPE_SYSTEM ? "system" : "as_left");
	}
}
END_TEST

/* Fields that a program sees first in another's entries are told to be numbers where they are. */
START_TEST(a_field_is_a_number_by_its_name)
{
	static const struct {
		const char *name;
		int is_number;
	} rows[] = {
		{ "as_left.outdoor_db", 1 }, { "as_left.common_run_resistance", 1 }, { "as_left.compressor_state", 0 },
		{ "system.factory_charge", 1 }, { "system.model", 0 }, { "site.altitude", 1 }, { "return_wb", 1 },
		{ "price_low", 0 }, { "as_found.no_such_reading", 0 }, { "site.outdoor_db", 0 }, { "nothing.at_all", 0 },
	};
	int ids[sizeof rows / sizeof *rows], again;

	assert_ok(store_begin(store, &error));
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		assert_ok(field_of_name(store, rows[i].name, &ids[i], &error));
		assert_ok(field_of_name(store, rows[i].name, &again, &error));
		ck_assert_int_eq(again, ids[i]);
		ck_assert_str_eq(field_meaning(store, ids[i])->name, rows[i].name);
	}
	assert_ok(store_end(store, STATUS_OK, &error));
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		sqlite3_stmt *row = book_query(store, "SELECT is_number FROM field WHERE name = ?1", "s", rows[i].name);
		ck_assert(book_next(store, row));
		ck_assert_msg(sqlite3_column_int(row, 0) == rows[i].is_number, "%s", rows[i].name);
		book_stop(row);
	}
	ck_assert_ptr_null(field_meaning(store, 0));
	ck_assert_ptr_null(field_meaning(store, -1));
	ck_assert_ptr_null(field_meaning(store, ids[10] + 1));
	assert_ok(field_find(store, "not there", false, false, &again, &error));
	ck_assert_int_eq(again, 0);
}
END_TEST

/* ---- How SQLite is held ---- */

/* What hardens a connection: the tables behind the index of words, and names that are no names. */
START_TEST(a_book_is_open_to_no_slip_of_sql)
{
	static const char *const slips[] = {
		"DELETE FROM customer_search_content", "SELECT \"no such column\" FROM call",
		"PRAGMA writable_schema = ON; DELETE FROM sqlite_schema",
		"INSERT INTO call (id, uid) VALUES (5000, 'x'), (5000, 'x')",
	};

	for (size_t i = 0; i < sizeof slips / sizeof *slips; i++)
		ck_assert_msg(book_script(store, slips[i], &error) != STATUS_OK, "%s", slips[i]);
}
END_TEST

/* ---- Changes within changes ---- */

/* What fails within undoes all, even where nobody told the outer one. */
START_TEST(a_failure_within_undoes_the_whole)
{
	char value[32];

	assert_ok(store_begin(store, &error));
	assert_ok(store_setting_set(store, "company", "Larkmere", &error));
	assert_ok(store_begin(store, &error));
	ck_assert_int_eq(store_end(store, STATUS_EXISTS, &error), STATUS_EXISTS);
	ck_assert_int_eq(store_end(store, STATUS_OK, &error), STATUS_EXISTS);
	ck_assert_ptr_nonnull(strstr(error.text, ": it is there already; nothing was changed"));
	assert_ok(store_setting_get(store, "company", value, sizeof value, &error));
	ck_assert_str_eq(value, "");
	/* The next change is its own. */
	assert_ok(store_begin(store, &error));
	assert_ok(store_begin(store, &error));
	assert_ok(store_setting_set(store, "company", "Larkmere", &error));
	assert_ok(store_end(store, STATUS_OK, &error));
	assert_ok(store_end(store, STATUS_OK, &error));
	assert_ok(store_setting_get(store, "company", value, sizeof value, &error));
	ck_assert_str_eq(value, "Larkmere");
}
END_TEST

/*
 * A drive that is full, or memory that runs out, loses the change that runs: whoever missed it,
 * nothing runs in it any more, and the end says so.
 */
START_TEST(a_failure_that_was_missed_loses_the_change)
{
	static const char big[] = "INSERT INTO setting (key, value, sum) VALUES ('big', hex(zeroblob(9000000)), 0)";
	static const char small[] = "INSERT INTO setting (key, value, sum) VALUES ('small', 'x', 0)";
	enum status wanted = _i ? STATUS_NO_MEMORY : STATUS_FULL;
	char value[8], words[320];

	assert_ok(store_begin(store, &error));
	if (_i)
		sqlite3_hard_heap_limit64(sqlite3_memory_used() + 2000000);
	else
		assert_ok(book_script(store, "PRAGMA max_page_count = 1", &error));
	ck_assert_int_eq(book_run(store, &error, big, ""), wanted);
	sqlite3_hard_heap_limit64(0);
	assert_ok(book_outcome(store, &error) == STATUS_OK ? STATUS_UNEXPECTED : STATUS_OK);
	ck_assert_int_eq(book_run(store, &error, small, ""), wanted);
	ck_assert_int_eq(book_script(store, small, &error), wanted);
	ck_assert_ptr_null(book_query(store, "SELECT 1", ""));
	ck_assert_int_eq(store_end(store, STATUS_OK, &error), wanted);
	snprintf(words, sizeof words, "the book %s: %s", books_paths[0], status_sentence(wanted));
	ck_assert_str_eq(error.text, words);
	assert_ok(book_script(store, "PRAGMA max_page_count = 100000", &error));
	assert_ok(store_setting_get(store, "small", value, sizeof value, &error));
	ck_assert_str_eq(value, "");
	assert_ok(store_setting_set(store, "small", "x", &error));
}
END_TEST

/* What was begun and undone leaves no number behind, and no id of a book. */
START_TEST(what_is_undone_takes_no_number)
{
	int64_t own, number, again, next;

	assert_ok(trail_own(store, &own, &number, &error));
	assert_ok(store_begin(store, &error));
	set_summary("not kept");
	ck_assert_int_eq(store_end(store, STATUS_EXISTS, &error), STATUS_EXISTS);
	assert_ok(trail_own(store, &again, &next, &error));
	ck_assert_int_eq(again, own);
	ck_assert_int_eq(next, number);
	snprintf(call.summary, sizeof call.summary, "%s", "");
	set_summary("kept");
	assert_ok(trail_own(store, &again, &next, &error));
	ck_assert_int_eq(next, number + 1);
}
END_TEST

Suite *entries_suite(void)
{
	Suite *suite = suite_create("entries");
	TCase *tests = tcase_create("entries");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, a_checksum_is_the_crc_of_all_that_is_written);
	tcase_add_test(tests, each_value_is_read_or_not_or_wrong);
	tcase_add_test(tests, an_entry_that_is_not_whole_or_has_no_place_is_wrong);
	tcase_add_test(tests, a_stamp_is_the_time_or_one_more_than_the_latest);
	tcase_add_test(tests, who_knew_of_whom_is_told_by_numbers);
	tcase_add_test(tests, the_tables_of_a_book_have_these_columns);
	tcase_add_test(tests, each_answer_of_sqlite_is_a_sentence_of_ours);
	tcase_add_test(tests, every_word_of_a_reading_is_read_and_no_other);
	tcase_add_test(tests, a_number_outside_its_limits_stays_as_doubtful);
	tcase_add_test(tests, a_reading_stands_under_the_word_of_its_scope);
	tcase_add_test(tests, a_field_is_a_number_by_its_name);
	tcase_add_test(tests, a_book_is_open_to_no_slip_of_sql);
	tcase_add_test(tests, a_failure_within_undoes_the_whole);
	tcase_add_loop_test(tests, a_failure_that_was_missed_loses_the_change, 0, 2);
	tcase_add_test(tests, what_is_undone_takes_no_number);
	suite_add_tcase(suite, tests);
	return suite;
}
