/* Where a book lies and what is no book; copies; what the book knows already; lists, many at once. */
#include <check.h>
#include <errno.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <padside/base/text.h>
#include <padside/store/store.h>

#include "store/book.h"
#include "support/at_rest.h"
#include "support/books.h"
#include "support/calls.h"
#include "support/listed.h"
#include "support/scratch.h"

Suite *keeping_suite(void);

static struct error error;
static struct store *store;
static char folder[SCRATCH_SIZE];

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void set_up(void)
{
	books_set_up();
	books_open(2);
	store = books[0];
	scratch_make(folder);
}

static void tear_down(void)
{
	scratch_remove(folder);
	books_close();
	books_tear_down();
}

static void in_folder(const char *name, char *path, size_t size)
{
	snprintf(path, size, "%s/%s", folder, name);
}

static void write_file(const char *path, const void *bytes, size_t length)
{
	FILE *file = fopen(path, "wb");

	ck_assert_ptr_nonnull(file);
	ck_assert_uint_eq(fwrite(bytes, 1, length, file), length);
	ck_assert_int_eq(fclose(file), 0);
}

static void assert_opens(const char *path, enum store_mode mode)
{
	struct store *opened;

	enum status status = store_open(path, mode, &books_clock, &opened, &error);
	ck_assert_msg(status == STATUS_OK, "%s: %s", path, error.text);
	at_rest(opened);
	store_close(opened);
}

/* For each way of opening it; `words` stands behind the path. */
static void assert_no_book(const char *path, enum status wanted, const char *words)
{
	struct store *opened = (struct store *)&error;
	char sentence[400];

	snprintf(sentence, sizeof sentence, words, path);
	for (int mode = STORE_CREATE; mode <= STORE_READ_ONLY; mode++) {
		ck_assert_int_eq(store_open(path, (enum store_mode)mode, &books_clock, &opened, &error), wanted);
		ck_assert_str_eq(error.text, sentence);
		ck_assert_ptr_null(opened);
	}
}

#define NO_BOOK "the book %s: it is not a book of padside; nothing was changed; check the file's name"

/* ---- What is no book ---- */

/* The first hundred bytes are SQLite's header (its "Database File Format", 1.3). */
START_TEST(a_file_is_a_book_by_its_first_bytes)
{
	unsigned char header[100] = "SQLite format 3";
	char path[128];

	in_folder("file.db", path, sizeof path);
	write_file(path, header, 0);
	assert_no_book(path, STATUS_NOT_A_BOOK, "%s is empty, no book; nothing was changed; name another file, or "
	               "remove it to begin a new book");
	header[63] = 11;
	header[68] = 0x70;
	header[69] = 0x61;
	header[70] = 0x64;
	header[71] = 0x73;
	write_file(path, header, 99);
	assert_no_book(path, STATUS_NOT_A_BOOK, NO_BOOK);
	header[60] = 1;
	write_file(path, header, 100);
	assert_no_book(path, STATUS_NEWER, "the book %s: it was written by a newer padside; nothing was changed; bring "
	               "this program up to date");
	header[60] = header[63] = 0;
	write_file(path, header, 100);
	assert_no_book(path, STATUS_NOT_A_BOOK, NO_BOOK);
	for (int i = 68; i < 72; i++) {
		header[63] = 11;
		header[i]++;
		write_file(path, header, 100);
		assert_no_book(path, STATUS_NOT_A_BOOK, NO_BOOK);
		header[i]--;
	}
	header[15] = 'x';
	write_file(path, header, 100);
	assert_no_book(path, STATUS_NOT_A_BOOK, NO_BOOK);
}
END_TEST

static void set_version(const char *path, int version)
{
	char sql[64];
	sqlite3 *db;

	snprintf(sql, sizeof sql, "PRAGMA user_version = %d", version);
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_exec(db, sql, NULL, NULL, NULL), SQLITE_OK);
	sqlite3_close(db);
}

static int version_of(const char *path)
{
	sqlite3 *db;
	sqlite3_stmt *row;

	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, "PRAGMA user_version", -1, &row, NULL), SQLITE_OK);
	ck_assert_int_eq(sqlite3_step(row), SQLITE_ROW);
	int version = sqlite3_column_int(row, 0);
	sqlite3_finalize(row);
	sqlite3_close(db);
	return version;
}

START_TEST(the_next_version_is_newer_and_this_one_is_not)
{
	int version = version_of(books_paths[1]);

	store_close(books[1]);
	ck_assert_int_gt(version, 10);
	set_version(books_paths[1], version + 1);
	assert_no_book(books_paths[1], STATUS_NEWER, "the book %s: it was written by a newer padside; nothing was "
	               "changed; bring this program up to date");
	set_version(books_paths[1], version);
	assert_ok(store_open(books_paths[1], STORE_EXISTING, &books_clock, &books[1], &error));
}
END_TEST

/* While changes lie beside the file its header may be of before: SQLite tells. */
START_TEST(a_version_that_lies_beside_the_file_counts)
{
	int version = version_of(books_paths[0]);
	char copy[128], beside[136];
	struct store *opened;

	/* The book is open: what is written stands beside it. */
	set_version(books_paths[0], version + 1);
	in_folder("copy.db", copy, sizeof copy);
	scratch_copy(books_paths[0], copy);
	snprintf(beside, sizeof beside, "%s-wal", books_paths[0]);
	char target[136];
	snprintf(target, sizeof target, "%s-wal", copy);
	scratch_copy(beside, target);
	ck_assert_int_eq(store_open(copy, STORE_EXISTING, &books_clock, &opened, &error), STATUS_NEWER);
	set_version(books_paths[0], version);
}
END_TEST

/* A book of another program that is in use, with changes beside it, is none of ours. */
START_TEST(what_lies_beside_a_foreign_file_makes_it_no_book)
{
	static const char *const made[] = { "CREATE TABLE recipe (name)", "PRAGMA user_version = 3" };
	char path[128], copy[128], beside[136], target[136];
	sqlite3 *db;

	in_folder("foreign.db", path, sizeof path);
	in_folder("copy.db", copy, sizeof copy);
	snprintf(beside, sizeof beside, "%s-wal", path);
	snprintf(target, sizeof target, "%s-wal", copy);
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_exec(db, "PRAGMA journal_mode = WAL", NULL, NULL, NULL), SQLITE_OK);
	ck_assert_int_eq(sqlite3_exec(db, made[_i], NULL, NULL, NULL), SQLITE_OK);
	scratch_copy(path, copy);
	scratch_copy(beside, target);
	sqlite3_close(db);
	struct store *opened;
	ck_assert_int_eq(store_open(copy, STORE_CREATE, &books_clock, &opened, &error), STATUS_NOT_A_BOOK);
	ck_assert_int_eq(store_open(copy, STORE_READ_ONLY, &books_clock, &opened, &error), STATUS_NOT_A_BOOK);
}
END_TEST

/* ---- Writing beside others ---- */

/* Another program that writes for a moment is waited for; who is told not to wait does not. */
START_TEST(who_writes_waits_for_another_writer)
{
	int begun[2], seen[2], status;
	char byte = 0;

	ck_assert_int_eq(pipe(begun), 0);
	ck_assert_int_eq(pipe(seen), 0);
	pid_t child = fork();
	ck_assert_int_ge(child, 0);
	if (child == 0) {
		sqlite3 *db;
		bool ok = sqlite3_open(books_paths[0], &db) == SQLITE_OK &&
		          sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL) == SQLITE_OK &&
		          write(begun[1], "x", 1) == 1 && read(seen[0], &byte, 1) == 1;
		usleep(300 * 1000);
		_exit(ok && sqlite3_exec(db, "COMMIT", NULL, NULL, NULL) == SQLITE_OK ? 0 : 1);
	}
	ck_assert_int_eq(read(begun[0], &byte, 1), 1);
	store_set_patience(books[0], 0);
	ck_assert_int_eq(store_setting_set(books[0], "company", "Larkmere", &error), STATUS_BUSY);
	struct store *other;
	assert_ok(store_open(books_paths[0], STORE_EXISTING, &books_clock, &other, &error));
	ck_assert_int_eq(write(seen[1], "x", 1), 1);
	assert_ok(store_setting_set(other, "company", "Larkmere", &error));
	store_close(other);
	ck_assert_int_eq(waitpid(child, &status, 0), child);
	ck_assert_int_eq(status, 0);
	for (int i = 0; i < 2; i++) {
		close(begun[i]);
		close(seen[i]);
	}
}
END_TEST

/* ---- Folders ---- */

START_TEST(folders_are_made_also_beside_where_one_is)
{
	char before[256], words[400], path[160];
	struct store *opened;

	ck_assert_ptr_nonnull(getcwd(before, sizeof before));
	ck_assert_int_eq(chdir(folder), 0);
	/* Of one letter, by a path that begins with it. */
	assert_opens("d/e/book.db", STORE_CREATE);
	assert_opens("d/e/book.db", STORE_EXISTING);
	assert_opens("./d//f/book.db", STORE_CREATE);
	assert_opens("book.db", STORE_CREATE);
	ck_assert_int_eq(store_open("", STORE_CREATE, &books_clock, &opened, &error), STATUS_CANNOT_OPEN);
	ck_assert_str_eq(error.text, "the book: it cannot be opened; nothing was changed; check its name, its folder "
	                 "and your permissions");
	ck_assert_int_eq(chdir(before), 0);
	in_folder("book.db/sub/book.db", path, sizeof path);
	snprintf(words, sizeof words, "the folder %s/book.db/sub cannot be made: Not a directory; nothing was changed; "
	         "choose another place with --book", folder);
	ck_assert_int_eq(store_open(path, STORE_CREATE, &books_clock, &opened, &error), STATUS_CANNOT_OPEN);
	ck_assert_str_eq(error.text, words);
	in_folder("nowhere/book.db", path, sizeof path);
	assert_no_book(folder, STATUS_CANNOT_OPEN, "the book %s: it cannot be opened; nothing was changed; check its "
	               "name, its folder and your permissions");
	ck_assert_int_eq(store_open(path, STORE_EXISTING, &books_clock, &opened, &error), STATUS_CANNOT_OPEN);
}
END_TEST

/* Rights that were there for the owner stay as they are; those of others go. */
START_TEST(others_rights_are_taken_from_a_book_and_its_owners_are_not)
{
	static const int rights[][2] = { { 0644, 0600 }, { 0666, 0600 }, { 0777, 0700 }, { 0600, 0600 }, { 0610, 0600 },
	                                 { 0601, 0600 } };
	struct stat found;

	store_close(books[1]);
	for (size_t i = 0; i < sizeof rights / sizeof *rights; i++) {
		ck_assert_int_eq(chmod(books_paths[1], (mode_t)rights[i][0]), 0);
		/* Who only reads changes nothing, the rights neither. */
		assert_opens(books_paths[1], STORE_READ_ONLY);
		ck_assert_int_eq(stat(books_paths[1], &found), 0);
		ck_assert_int_eq((int)(found.st_mode & 0777), rights[i][0]);
		assert_opens(books_paths[1], STORE_EXISTING);
		ck_assert_int_eq(stat(books_paths[1], &found), 0);
		ck_assert_int_eq((int)(found.st_mode & 0777), rights[i][1]);
	}
	assert_ok(store_open(books_paths[1], STORE_EXISTING, &books_clock, &books[1], &error));
}
END_TEST

START_TEST(a_book_that_another_program_makes_is_waited_for)
{
	char path[128], part[136];

	in_folder("new.db", path, sizeof path);
	snprintf(part, sizeof part, "%s.part", path);
	pid_t child = fork();
	ck_assert_int_ge(child, 0);
	if (child == 0) {
		FILE *file = fopen(part, "w");
		if (!file || flock(fileno(file), LOCK_EX) != 0)
			_exit(1);
		usleep(400 * 1000);
		_exit(0);
	}
	for (int i = 0; i < 200 && access(part, F_OK) != 0; i++)
		usleep(1000);
	usleep(20 * 1000);
	assert_opens(path, STORE_CREATE);
	int status;
	ck_assert_int_eq(waitpid(child, &status, 0), child);
	ck_assert_int_eq(status, 0);
}
END_TEST

/* ---- Copies ---- */

static void fill(int calls)
{
	struct call call;

	assert_ok(store_begin(store, &error));
	for (int i = 0; i < calls; i++) {
		call_init(&call);
		snprintf(call.customer.name, sizeof call.customer.name, "Customer %03d", i);
		snprintf(call.site.address, sizeof call.site.address, "%d Oak Street", i);
		assert_ok(store_call_record(store, &call, &error));
	}
	assert_ok(store_end(store, STATUS_OK, &error));
}

/* No file may become longer than that: as on a drive that is full. */
static void limit_files(rlim_t bytes)
{
	struct rlimit limit;

	ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &limit), 0);
	limit.rlim_cur = bytes;
	ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
}

START_TEST(a_backup_that_cannot_be_written_is_not_there)
{
	char path[128], part[136];

	fill(20);
	in_folder("copy.db", path, sizeof path);
	snprintf(part, sizeof part, "%s.part", path);
	signal(SIGXFSZ, SIG_IGN);
	limit_files(16384);
	enum status status = store_backup(store, path, &error);
	limit_files(RLIM_INFINITY);
	ck_assert_msg(status == STATUS_IO || status == STATUS_FULL, "%d", (int)status);
	ck_assert_int_ne(access(path, F_OK), 0);
	ck_assert_int_ne(access(part, F_OK), 0);
	at_rest(store);
	assert_ok(store_backup(store, path, &error));
	ck_assert_int_eq(store_backup(store, path, &error), STATUS_EXISTS);
	char words[200];
	snprintf(words, sizeof words, "%s is there already; nothing was written; choose another name", path);
	ck_assert_str_eq(error.text, words);
}
END_TEST

/* What a drive does not take is not kept, nor anything that was written with it. */
START_TEST(a_change_that_the_drive_does_not_take_is_undone)
{
	char value[16];

	fill(2);
	signal(SIGXFSZ, SIG_IGN);
	limit_files(32);
	ck_assert_int_eq(store_setting_set(store, "company", "Larkmere", &error), STATUS_IO);
	limit_files(RLIM_INFINITY);
	at_rest(store);
	assert_ok(store_setting_get(store, "company", value, sizeof value, &error));
	ck_assert_str_eq(value, "");
	listed_sound(store, "");
	assert_ok(store_setting_set(store, "company", "Larkmere", &error));
}
END_TEST

/* A copy has no id until something is written in it; and then one of its own. */
START_TEST(a_copy_is_another_book)
{
	char path[128];
	sqlite3 *db;
	sqlite3_stmt *row;

	fill(1);
	in_folder("copy.db", path, sizeof path);
	assert_ok(store_backup(store, path, &error));
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, "SELECT count(*) FROM own", -1, &row, NULL), SQLITE_OK);
	ck_assert_int_eq(sqlite3_step(row), SQLITE_ROW);
	ck_assert_int_eq(sqlite3_column_int(row, 0), 0);
	sqlite3_finalize(row);
	sqlite3_close(db);
}
END_TEST

/* ---- What the book knows already ---- */

static void load(const char *uid, struct call *call)
{
	call_init(call);
	assert_ok(store_call_load(store, uid, call, &error));
}

/* A call from a file: what the book knows of a customer stays, blanks are filled in. */
START_TEST(a_known_customer_keeps_what_the_book_knows)
{
	struct call first, second, back;

	call_init(&first);
	snprintf(first.customer.name, sizeof first.customer.name, "Ada");
	snprintf(first.site.address, sizeof first.site.address, "12 Oak Street");
	assert_ok(store_call_record(store, &first, &error));
	call_init(&second);
	second.customer.uid = first.customer.uid;
	second.site.uid = first.site.uid;
	snprintf(second.customer.name, sizeof second.customer.name, "Somebody else");
	snprintf(second.customer.email, sizeof second.customer.email, "ada@example.com");
	snprintf(second.site.address, sizeof second.site.address, "another street");
	assert_ok(store_call_record(store, &second, &error));
	load(second.uid.text, &back);
	ck_assert_str_eq(back.customer.name, "Ada");
	ck_assert_str_eq(back.customer.email, "ada@example.com");
	ck_assert_str_eq(back.customer.phone, "");
	ck_assert_str_eq(back.site.address, "12 Oak Street");
	/* Chosen on the call's page it is as it stands there; a blank is a blank. */
	struct call third = back;
	third.uid = (struct uid){ .text = "" };
	third.system.uid = (struct uid){ .text = "" };
	third.site.uid = (struct uid){ .text = "" };
	third.customer.uid = (struct uid){ .text = "" };
	assert_ok(store_call_record(store, &third, &error));
	struct call after = third;
	after.customer = back.customer;
	snprintf(after.customer.name, sizeof after.customer.name, "Ada Q.");
	after.customer.email[0] = '\0';
	assert_ok(store_call_change(store, &third, &after, &error));
	call_done(&back);
	load(third.uid.text, &back);
	ck_assert_str_eq(back.customer.name, "Ada Q.");
	ck_assert_str_eq(back.customer.email, "");
	ck_assert_str_eq(back.customer.uid.text, first.customer.uid.text);
	listed_sound(store, "");
	call_done(&back);
	call_done(&first);
	call_done(&second);
}
END_TEST

static void set(const struct uid *call, enum stage stage, enum reading reading, const char *typed)
{
	struct value value;

	assert_ok(reading_parse(reading, typed, UNITS_US, &value, &error));
	value.taken_at = books_now;
	assert_ok(store_value_set(store, call, stage, reading, &value, &error));
}

/* The unit's nameplate is of its own latest call, the site's readings of the site's. */
START_TEST(a_new_call_takes_over_what_belongs_to_the_unit_and_to_the_site)
{
	struct call first, other, next;

	call_init(&first);
	assert_ok(store_call_record(store, &first, &error));
	set(&first.uid, STAGE_AS_FOUND, READING_MODEL, "MOD-1");
	set(&first.uid, STAGE_AS_FOUND, READING_ALTITUDE, "500");
	set(&first.uid, STAGE_AS_FOUND, READING_OUTDOOR_DB, "95");
	books_now += 60;
	call_init(&other);
	other.site.uid = first.site.uid;
	assert_ok(store_call_record(store, &other, &error));
	set(&other.uid, STAGE_AS_FOUND, READING_MODEL, "MOD-2");
	set(&other.uid, STAGE_AS_FOUND, READING_ALTITUDE, "600");
	books_now += 60;
	call_init(&next);
	next.system.uid = first.system.uid;
	assert_ok(store_call_create(store, &next, &error));
	ck_assert_str_eq(visit_value(&next.visit, STAGE_AS_FOUND, READING_MODEL)->text, "MOD-1");
	ck_assert_double_eq(visit_value(&next.visit, STAGE_AS_FOUND, READING_ALTITUDE)->number, 600);
	ck_assert(!visit_has(&next.visit, STAGE_AS_FOUND, READING_OUTDOOR_DB));
	ck_assert_int_eq(next.opened_at, books_now);
	call_done(&next);
	/* What the call says itself stays; and when it began. */
	call_init(&next);
	next.system.uid = first.system.uid;
	next.opened_at = books_now - 30;
	struct value value;
	assert_ok(reading_parse(READING_MODEL, "MOD-3", UNITS_US, &value, &error));
	visit_set(&next.visit, STAGE_AS_FOUND, READING_MODEL, &value);
	assert_ok(store_call_create(store, &next, &error));
	ck_assert_str_eq(visit_value(&next.visit, STAGE_AS_FOUND, READING_MODEL)->text, "MOD-3");
	ck_assert_int_eq(next.opened_at, books_now - 30);
	call_done(&next);
	/* A new unit at the site takes over what is the site's alone. */
	call_init(&next);
	next.site.uid = first.site.uid;
	assert_ok(store_call_create(store, &next, &error));
	ck_assert(!visit_has(&next.visit, STAGE_AS_FOUND, READING_MODEL));
	ck_assert(visit_has(&next.visit, STAGE_AS_FOUND, READING_ALTITUDE));
	call_done(&next);
	call_done(&first);
	call_done(&other);
}
END_TEST

/* ---- Lists ---- */

/* In every list a new line comes behind the last, one that comes back in its place. */
START_TEST(lines_keep_their_places_in_every_list)
{
	struct call call;

	call_init(&call);
	assert_ok(store_call_record(store, &call, &error));
	for (int i = 0; i < CALL_LIST_COUNT; i++) {
		enum call_list list = (enum call_list)i;
		struct call back;
		struct uid uids[4];
		for (int j = 0; j < 4; j++) {
			struct call lines;
			call_init(&lines);
			void *line = call_list_add(&lines, list);
			/* Their ids count down, so that it is the place that orders them. */
			char uid[64];
			snprintf(uid, sizeof uid, "018064fd-0000-7000-8000-0000000%02d%03d", i, 900 - j);
			text_copy(uids[j].text, UID_SIZE, uid);
			*(struct uid *)line = uids[j];
			assert_ok(store_list_put(store, &call.uid, list, line, &error));
			if (j == 2) {
				assert_ok(store_list_remove(store, list, &uids[1], &error));
				assert_ok(store_list_put(store, &call.uid, list, line, &error));
			}
			call_done(&lines);
		}
		load(call.uid.text, &back);
		ck_assert_uint_eq(call_list_count(&back, list), 3);
		ck_assert_str_eq(((struct uid *)call_list_at(&back, list, 0))->text, uids[0].text);
		ck_assert_str_eq(((struct uid *)call_list_at(&back, list, 1))->text, uids[2].text);
		ck_assert_str_eq(((struct uid *)call_list_at(&back, list, 2))->text, uids[3].text);
		void *line = call_list_add(&back, list);
		*(struct uid *)line = uids[1];
		assert_ok(store_list_put(store, &call.uid, list, line, &error));
		call_done(&back);
		load(call.uid.text, &back);
		ck_assert_uint_eq(call_list_count(&back, list), 4);
		ck_assert_str_eq(((struct uid *)call_list_at(&back, list, 1))->text, uids[1].text);
		call_done(&back);
	}
	listed_sound(store, "");
	call_done(&call);
}
END_TEST

/* A call from a file: lines without ids get some, and stand at 1, 2, 3. */
START_TEST(lines_of_a_recorded_call_get_ids_and_places)
{
	struct call call, back;
	sqlite3 *db;
	sqlite3_stmt *row;

	call_init(&call);
	for (int i = 0; i < CALL_LIST_COUNT; i++)
		for (int j = 0; j < 3; j++)
			*(struct uid *)call_list_add(&call, (enum call_list)i) = (struct uid){ .text = "" };
	assert_ok(store_call_record(store, &call, &error));
	load(call.uid.text, &back);
	for (int i = 0; i < CALL_LIST_COUNT; i++)
		for (size_t j = 0; j < 3; j++) {
			const struct uid *uid = call_list_at(&back, (enum call_list)i, j);
			ck_assert(uid_is_valid(uid->text));
			ck_assert_str_eq(uid->text, ((struct uid *)call_list_at(&call, (enum call_list)i, j))->text);
		}
	ck_assert_int_eq(sqlite3_open(books_paths[0], &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, "SELECT group_concat(position, ' ') FROM (SELECT position FROM work_line "
	                                    "ORDER BY position)", -1, &row, NULL), SQLITE_OK);
	ck_assert_int_eq(sqlite3_step(row), SQLITE_ROW);
	ck_assert_str_eq((const char *)sqlite3_column_text(row, 0), "1 2 3");
	sqlite3_finalize(row);
	sqlite3_close(db);
	listed_sound(store, "");
	call_done(&back);
	call_done(&call);
}
END_TEST

START_TEST(a_watch_item_is_closed_and_opened_again)
{
	struct watch_item item = { .uid = uid_new(), .noted_at = books_now, .closed_at = WALL_TIME_NONE };
	struct call call, back;

	call_init(&call);
	assert_ok(store_call_record(store, &call, &error));
	assert_ok(store_list_put(store, &call.uid, LIST_WATCH, &item, &error));
	for (int i = 0; i < 2; i++) {
		wall_time closed = i == 0 ? books_now + 60 : WALL_TIME_NONE;
		assert_ok(store_watch_close(store, &item.uid, closed, &error));
		load(call.uid.text, &back);
		ck_assert_int_eq(back.watch[0].closed_at, closed);
		call_done(&back);
	}
	call_done(&call);
}
END_TEST

/* ---- Many at once ---- */

/* More than a hundred customers and units in one change: each is found, by name, address and plate. */
START_TEST(many_that_came_at_once_are_all_found)
{
	enum { MANY = 140 };
	char typed[32];

	assert_ok(store_begin(store, &error));
	for (int i = 0; i < MANY; i++) {
		struct call call;
		struct value value;
		call_init(&call);
		snprintf(call.customer.name, sizeof call.customer.name, "Customer %03d", i);
		snprintf(typed, sizeof typed, "SN-%03d", i);
		assert_ok(reading_parse(READING_SERIAL, typed, UNITS_US, &value, &error));
		visit_set(&call.visit, STAGE_AS_FOUND, READING_SERIAL, &value);
		assert_ok(store_call_record(store, &call, &error));
		call_done(&call);
	}
	assert_ok(store_end(store, STATUS_OK, &error));
	listed_sound(store, "");
	ck_assert_int_eq(books_merged(1, 0).customers, MANY);
	for (int book = 0; book < 2; book++)
		for (int i = 0; i < MANY; i++) {
			struct customer_line found;
			snprintf(typed, sizeof typed, "sn-%03d", i);
			ck_assert_int_eq(listed_customers(books[book], typed, &found), 1);
			snprintf(typed, sizeof typed, "Customer %03d", i);
			ck_assert_str_eq(found.customer.name, typed);
		}
	listed_sound(books[1], "");
}
END_TEST

/* ---- The ledger ---- */

static void add_call(const char *name, const char *unit, const struct uid *system, const char *opened,
                     struct call *call)
{
	call_init(call);
	if (system)
		call->system.uid = *system;
	snprintf(call->customer.name, sizeof call->customer.name, "%s", name);
	snprintf(call->system.name, sizeof call->system.name, "%s", unit);
	ck_assert(clock_parse(opened, &call->opened_at));
	assert_ok(store_call_record(store, call, &error));
}

static void move_charge(const struct uid *call, double added, double recovered, const char *cylinder)
{
	struct charge_entry entry = { .uid = uid_new(), .at = WALL_TIME_NONE, .added_oz = added, .recovered_oz = recovered };

	snprintf(entry.cylinder, sizeof entry.cylinder, "%s", cylinder);
	assert_ok(store_list_put(store, call, LIST_CHARGE, &entry, &error));
}

static void write_made_up(const struct uid *system, struct text *out)
{
	struct made_up_line *list;
	size_t count;

	text_clear(out);
	assert_ok(store_made_up(store, system, &list, &count, &error));
	for (size_t i = 0; i < count; i++)
		text_add_format(out, "%s|%s|%d|%g of %g|%g %g %g%s%s\n", list[i].words, list[i].refrigerant, list[i].year,
		                list[i].made_up_oz, list[i].charge_oz, list[i].line_ft, list[i].precharged_ft,
		                list[i].oz_per_ft, list[i].leak_found ? " leak" : "", list[i].after_repair ? " tested" : "");
	free(list);
}

START_TEST(the_ledger_says_what_each_unit_made_up_by_year)
{
	static const char *const bys[] = {
		"Ada, roof|R-410A|19 3 4;Bob|R-22|0 40 1;Bob|R-410A|2 0 1;",
		"2025|R-410A|4 0 1;2026|R-22|0 40 1;2026|R-410A|17 3 4;",
		"|R-410A|2 0 1;C-1|R-22|0 40 1;C-1|R-410A|19 3 4;",
	};
	static const struct uid none;
	struct tightness_entry test = { .uid = uid_new(), .kind = TIGHTNESS_NITROGEN, .at = WALL_TIME_NONE };
	struct call ada, again, third, bob, bob_again;
	struct text text;

	text_init(&text);
	add_call("Ada", "roof", NULL, "2025-06-01T08:00", &ada);
	add_call("Ada", "roof", &ada.system.uid, "2026-06-01T08:00", &again);
	add_call("Ada", "roof", &ada.system.uid, "2026-07-01T08:00", &third);
	add_call("Bob", "", NULL, "2026-06-01T08:00", &bob);
	add_call("Bob", "", &bob.system.uid, "2026-06-02T08:00", &bob_again);
	set(&ada.uid, STAGE_AS_FOUND, READING_REFRIGERANT, "R-410A");
	set(&again.uid, STAGE_AS_FOUND, READING_REFRIGERANT, "R-410A");
	set(&third.uid, STAGE_AS_FOUND, READING_REFRIGERANT, "R-410A");
	set(&bob.uid, STAGE_AS_FOUND, READING_REFRIGERANT, "R-22");
	set(&bob_again.uid, STAGE_AS_FOUND, READING_REFRIGERANT, "R-410A");
	set(&again.uid, STAGE_AS_FOUND, READING_FACTORY_CHARGE, "98");
	set(&again.uid, STAGE_AS_FOUND, READING_LINE_SET_LENGTH, "40");
	set(&again.uid, STAGE_AS_FOUND, READING_PRECHARGED_LENGTH, "15");
	set(&again.uid, STAGE_AS_FOUND, READING_CHARGE_PER_LENGTH, "0.6");
	set(&third.uid, STAGE_AS_LEFT, READING_LEAK_PLACE, "service valve");
	assert_ok(store_list_put(store, &again.uid, LIST_TIGHTNESS, &test, &error));
	move_charge(&ada.uid, 4, 0, "C-1");
	move_charge(&again.uid, 8, 0, "C-1");
	move_charge(&again.uid, 4, 3, "C-1");
	move_charge(&third.uid, 3, 0, "C-1");
	move_charge(&bob.uid, 0, 40, "C-1");
	move_charge(&bob_again.uid, 2, 0, "");
	for (int by = LEDGER_BY_SYSTEM; by <= LEDGER_BY_CYLINDER; by++) {
		struct ledger_line *list;
		size_t count;
		text_clear(&text);
		assert_ok(store_ledger(store, (enum ledger_by)by, &list, &count, &error));
		for (size_t i = 0; i < count; i++) {
			text_add_format(&text, "%s|%s|%g %g %d;", list[i].words, list[i].refrigerant, list[i].added_oz,
			                list[i].recovered_oz, list[i].entries);
			if (by == LEDGER_BY_SYSTEM)
				ck_assert(uid_is_valid(list[i].key));
			else
				ck_assert_str_eq(list[i].key, list[i].words);
		}
		free(list);
		ck_assert_str_eq(text_get(&text), bys[by]);
	}
	write_made_up(&none, &text);
	ck_assert_str_eq(text_get(&text), "Ada, roof|R-410A|2025|4 of 0|-1 -1 -1\n"
	                 "Ada, roof|R-410A|2026|12 of 98|40 15 0.6 leak tested\n"
	                 "Bob|R-410A|2026|2 of 0|-1 -1 -1\n");
	write_made_up(&bob.system.uid, &text);
	ck_assert_str_eq(text_get(&text), "Bob|R-410A|2026|2 of 0|-1 -1 -1\n");
	/* Up to the year in which it was made it is its first filling. */
	set(&ada.uid, STAGE_AS_FOUND, READING_MANUFACTURE_YEAR, "2025");
	write_made_up(&none, &text);
	ck_assert_ptr_null(strstr(text_get(&text), "|2025|"));
	ck_assert_ptr_nonnull(strstr(text_get(&text), "Ada, roof|R-410A|2026|12 of 98"));
	text_done(&text);
}
END_TEST

/*
 * A drive that is full in the middle of a change keeps nothing of it, though whoever wrote missed the
 * failure (sqlite.org, lang_transaction: after SQLITE_FULL the rest may be kept by itself).
 */
START_TEST(a_full_drive_keeps_nothing_of_a_change)
{
	char value[64] = "";

	assert_ok(store_setting_set(store, "deposit", "1", &error));
	assert_ok(store_begin(store, &error));
	assert_ok(store_setting_set(store, "deposit", "2", &error));
	/* As large as the book may be: what it has now. */
	assert_ok(book_script(store, "PRAGMA max_page_count = 1", &error));
	ck_assert_int_eq(book_script(store, "CREATE TABLE large (bytes); "
	                             "INSERT INTO large VALUES (zeroblob(4000000))", &error), STATUS_FULL);
	ck_assert_int_ne(store_setting_set(store, "deposit", "3", &error), STATUS_OK);
	ck_assert_int_eq(store_end(store, STATUS_OK, &error), STATUS_FULL);
	assert_ok(book_script(store, "PRAGMA max_page_count = 1000000", &error));
	assert_ok(store_setting_get(store, "deposit", value, sizeof value, &error));
	ck_assert_str_eq(value, "1");
}
END_TEST

Suite *keeping_suite(void)
{
	Suite *suite = suite_create("keeping");
	TCase *tests = tcase_create("keeping");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, a_file_is_a_book_by_its_first_bytes);
	tcase_add_test(tests, the_next_version_is_newer_and_this_one_is_not);
	tcase_add_test(tests, a_version_that_lies_beside_the_file_counts);
	tcase_add_loop_test(tests, what_lies_beside_a_foreign_file_makes_it_no_book, 0, 2);
	tcase_add_test(tests, who_writes_waits_for_another_writer);
	tcase_add_test(tests, folders_are_made_also_beside_where_one_is);
	tcase_add_test(tests, others_rights_are_taken_from_a_book_and_its_owners_are_not);
	tcase_add_test(tests, a_book_that_another_program_makes_is_waited_for);
	tcase_add_test(tests, a_backup_that_cannot_be_written_is_not_there);
	tcase_add_test(tests, a_change_that_the_drive_does_not_take_is_undone);
	tcase_add_test(tests, a_copy_is_another_book);
	tcase_add_test(tests, a_known_customer_keeps_what_the_book_knows);
	tcase_add_test(tests, a_new_call_takes_over_what_belongs_to_the_unit_and_to_the_site);
	tcase_add_test(tests, lines_keep_their_places_in_every_list);
	tcase_add_test(tests, lines_of_a_recorded_call_get_ids_and_places);
	tcase_add_test(tests, a_watch_item_is_closed_and_opened_again);
	tcase_add_test(tests, many_that_came_at_once_are_all_found);
	tcase_add_test(tests, the_ledger_says_what_each_unit_made_up_by_year);
	tcase_add_test(tests, a_full_drive_keeps_nothing_of_a_change);
	suite_add_tcase(suite, tests);
	return suite;
}
