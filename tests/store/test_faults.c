/*
 * A drive that fails.  A layer under SQLite (its "VFS") counts what is asked of
 * the drive and fails at one chosen moment, once or from then on.  At every
 * moment in turn: no crash, one sentence, the book is sound afterwards, and
 * what was answered as kept is there.
 */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include <padside/store/store.h>

#include "support/calls.h"
#include "support/listed.h"
#include "support/scratch.h"

Suite *faults_suite(void);

/* ---- The failing drive ---- */

enum way { FAIL_ONCE, FAIL_FROM_THEN_ON, DRIVE_FULL };

static struct {
	sqlite3_vfs vfs;   /* ours, registered as the default */
	sqlite3_vfs *real; /* the one below */
	enum way way;      /* how it fails */
	int moment;        /* which request fails; 0 none */
	int asked;         /* requests so far */
	int failed;        /* requests failed so far */
} drive;

struct drive_file {
	sqlite3_file base;  /* what SQLite sees */
	sqlite3_file *real; /* behind this struct in the same memory */
};

/* Whether this request is to fail; only those that write can find the drive full. */
static bool fails(bool writes)
{
	if (drive.moment == 0 || (drive.way == DRIVE_FULL && !writes))
		return false;
	drive.asked++;
	bool now = drive.way == FAIL_ONCE ? drive.asked == drive.moment : drive.asked >= drive.moment;
	drive.failed += now;
	return now;
}

static sqlite3_file *real(sqlite3_file *file)
{
	return ((struct drive_file *)file)->real;
}

static int drive_close(sqlite3_file *file)
{
	return real(file)->pMethods->xClose(real(file));
}

static int drive_read(sqlite3_file *file, void *to, int size, sqlite3_int64 at)
{
	return fails(false) ? SQLITE_IOERR_READ : real(file)->pMethods->xRead(real(file), to, size, at);
}

static int drive_write(sqlite3_file *file, const void *from, int size, sqlite3_int64 at)
{
	if (fails(true))
		return drive.way == DRIVE_FULL ? SQLITE_FULL : SQLITE_IOERR_WRITE;
	return real(file)->pMethods->xWrite(real(file), from, size, at);
}

static int drive_truncate(sqlite3_file *file, sqlite3_int64 size)
{
	return fails(false) ? SQLITE_IOERR_TRUNCATE : real(file)->pMethods->xTruncate(real(file), size);
}

/* Power is not cut here, so that the test need not wait for the real drive. */
static int drive_sync(sqlite3_file *file, int flags)
{
	(void)file;
	(void)flags;
	return fails(false) ? SQLITE_IOERR_FSYNC : SQLITE_OK;
}

static int drive_size(sqlite3_file *file, sqlite3_int64 *size)
{
	return fails(false) ? SQLITE_IOERR_FSTAT : real(file)->pMethods->xFileSize(real(file), size);
}

static int drive_lock(sqlite3_file *file, int lock)
{
	return fails(false) ? SQLITE_IOERR_LOCK : real(file)->pMethods->xLock(real(file), lock);
}

static int drive_unlock(sqlite3_file *file, int lock)
{
	return real(file)->pMethods->xUnlock(real(file), lock);
}

static int drive_check_lock(sqlite3_file *file, int *out)
{
	return real(file)->pMethods->xCheckReservedLock(real(file), out);
}

static int drive_control(sqlite3_file *file, int what, void *with)
{
	return real(file)->pMethods->xFileControl(real(file), what, with);
}

static int drive_sector(sqlite3_file *file)
{
	return real(file)->pMethods->xSectorSize(real(file));
}

static int drive_character(sqlite3_file *file)
{
	return real(file)->pMethods->xDeviceCharacteristics(real(file));
}

static int drive_shm_map(sqlite3_file *file, int page, int size, int extend, void volatile **out)
{
	return fails(true) ? SQLITE_IOERR_SHMMAP
	                   : real(file)->pMethods->xShmMap(real(file), page, size, extend, out);
}

static int drive_shm_lock(sqlite3_file *file, int offset, int count, int flags)
{
	return real(file)->pMethods->xShmLock(real(file), offset, count, flags);
}

static void drive_shm_barrier(sqlite3_file *file)
{
	real(file)->pMethods->xShmBarrier(real(file));
}

static int drive_shm_unmap(sqlite3_file *file, int remove)
{
	return real(file)->pMethods->xShmUnmap(real(file), remove);
}

static const sqlite3_io_methods drive_methods = {
	.iVersion = 2, .xClose = drive_close, .xRead = drive_read, .xWrite = drive_write,
	.xTruncate = drive_truncate, .xSync = drive_sync, .xFileSize = drive_size,
	.xLock = drive_lock, .xUnlock = drive_unlock, .xCheckReservedLock = drive_check_lock,
	.xFileControl = drive_control, .xSectorSize = drive_sector,
	.xDeviceCharacteristics = drive_character, .xShmMap = drive_shm_map,
	.xShmLock = drive_shm_lock, .xShmBarrier = drive_shm_barrier, .xShmUnmap = drive_shm_unmap,
};

static int drive_open(sqlite3_vfs *vfs, sqlite3_filename name, sqlite3_file *file, int flags,
                      int *flags_out)
{
	struct drive_file *opened = (struct drive_file *)file;

	(void)vfs;
	opened->base.pMethods = NULL;
	opened->real = (sqlite3_file *)(opened + 1);
	if (fails(false))
		return SQLITE_CANTOPEN;
	int code = drive.real->xOpen(drive.real, name, opened->real, flags, flags_out);
	if (opened->real->pMethods)
		opened->base.pMethods = &drive_methods;
	return code;
}

static int drive_delete(sqlite3_vfs *vfs, const char *name, int sync)
{
	(void)vfs;
	return fails(false) ? SQLITE_IOERR_DELETE : drive.real->xDelete(drive.real, name, sync);
}

static int drive_access(sqlite3_vfs *vfs, const char *name, int flags, int *out)
{
	(void)vfs;
	return fails(false) ? SQLITE_IOERR_ACCESS : drive.real->xAccess(drive.real, name, flags, out);
}

static void put_drive_below(void)
{
	drive.real = sqlite3_vfs_find(NULL);
	drive.vfs = *drive.real;
	drive.vfs.zName = "failing-drive";
	drive.vfs.szOsFile = (int)sizeof(struct drive_file) + drive.real->szOsFile;
	drive.vfs.xOpen = drive_open;
	drive.vfs.xDelete = drive_delete;
	drive.vfs.xAccess = drive_access;
	drive.moment = 0;
	ck_assert_int_eq(sqlite3_vfs_register(&drive.vfs, 1), SQLITE_OK);
}

static void take_drive_away(void)
{
	sqlite3_vfs_unregister(&drive.vfs);
	sqlite3_vfs_register(drive.real, 1);
}

/* ---- A book on it ---- */

static char folder[SCRATCH_SIZE];
static char master[96], book[96];
static struct call call;
static struct error error;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "moment %d: %s", drive.moment, error.text);
}

static struct value pressure(double number)
{
	struct value value;

	assert_ok(reading_from_number(READING_SUCTION_PRESSURE, number, UNITS_US, &value, &error));
	return value;
}

static enum status set_pressure(struct store *store, double number)
{
	struct value value = pressure(number);

	return store_value_set(store, &call.uid, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, &value, &error);
}

static void set_up(void)
{
	struct store *store;

	scratch_make(folder);
	snprintf(master, sizeof master, "%s/master.db", folder);
	snprintf(book, sizeof book, "%s/book.db", folder);
	put_drive_below();
	assert_ok(store_open(master, STORE_CREATE, &clock_of_machine, &store, &error));
	call_init(&call);
	assert_ok(store_call_create(store, &call, &error));
	assert_ok(set_pressure(store, 60));
	store_close(store);
}

static void tear_down(void)
{
	take_drive_away();
	call_done(&call);
	scratch_remove(folder);
}

static void copy_master(void)
{
	char beside[sizeof book + 8];

	snprintf(beside, sizeof beside, "%s-wal", book);
	unlink(beside);
	snprintf(beside, sizeof beside, "%s-shm", book);
	unlink(beside);
	scratch_copy(master, book);
}

/* One sentence that says what to do. */
static void assert_sentence(void)
{
	ck_assert_msg(error.status != STATUS_OK && error.status != STATUS_UNEXPECTED &&
	              error.status != STATUS_DAMAGED, "moment %d: %s", drive.moment, error.text);
	ck_assert_msg(strchr(error.text, ';') != NULL, "moment %d: %s", drive.moment, error.text);
}

/* Works on the failing drive; returns the last pressure that was answered as kept. */
static int work_on_book(void)
{
	struct store *store;
	int kept = 60;

	error.text[0] = '\0';
	if (store_open(book, STORE_EXISTING, &clock_of_machine, &store, &error) != STATUS_OK) {
		assert_sentence();
		return kept;
	}
	for (int number = 61; number < 64; number++)
		if (set_pressure(store, number) == STATUS_OK)
			kept = number;
		else
			assert_sentence();
	store_close(store);
	return kept;
}

static void assert_sound(struct store *store)
{
	char when[40];

	snprintf(when, sizeof when, "moment %d", drive.moment);
	listed_sound(store, when);
}

/* A value that was not answered as kept may still have come through. */
static void assert_kept(int kept)
{
	struct store *store;
	struct call back;
	double number;

	call_init(&back);
	assert_ok(store_open(book, STORE_EXISTING, &clock_of_machine, &store, &error));
	assert_sound(store);
	assert_ok(store_call_load(store, call.uid.text, &back, &error));
	assert_ok(visit_number(&back.visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, &number));
	ck_assert_msg(number >= kept, "moment %d: kept %d, found %g", drive.moment, kept, number);
	store_close(store);
	call_done(&back);
}

START_TEST(whenever_the_drive_fails_nothing_kept_is_lost)
{
	int moment = 0;

	do {
		copy_master();
		drive.way = (enum way)_i;
		drive.moment = ++moment;
		drive.asked = drive.failed = 0;
		int kept = work_on_book();
		drive.moment = 0;
		assert_kept(kept);
	} while (drive.failed > 0 && moment < 2000);
	/* The whole of the work was gone through. */
	ck_assert_int_gt(moment, drive.way == DRIVE_FULL ? 5 : 40);
	ck_assert_int_lt(moment, 2000);
}
END_TEST

static int count_calls(void)
{
	const struct call_filter filter = { .since = WALL_TIME_NONE };
	struct store *store;

	assert_ok(store_open(book, STORE_EXISTING, &clock_of_machine, &store, &error));
	assert_sound(store);
	int count = listed_calls(store, &filter, NULL);
	store_close(store);
	return count;
}

static bool merge_into_book(const char *other)
{
	struct merge_report report;
	struct store *store;

	if (store_open(book, STORE_EXISTING, &clock_of_machine, &store, &error) != STATUS_OK) {
		assert_sentence();
		return false;
	}
	bool merged = store_merge(store, other, &report, &error) == STATUS_OK;
	if (!merged)
		assert_sentence();
	store_close(store);
	return merged;
}

/* All of the other book, or nothing; what was said to be brought in is. */
START_TEST(whenever_the_drive_fails_a_merge_is_whole_or_not_there)
{
	char other[sizeof book];
	struct store *store;
	struct call theirs;
	int moment = 0;

	snprintf(other, sizeof other, "%s/other.db", folder);
	assert_ok(store_open(other, STORE_CREATE, &clock_of_machine, &store, &error));
	for (int i = 0; i < 3; i++) {
		call_init(&theirs);
		call_add_work(&theirs)->unit_price = 100;
		assert_ok(store_call_create(store, &theirs, &error));
		call_done(&theirs);
	}
	store_close(store);
	do {
		copy_master();
		drive.way = (enum way)_i;
		drive.moment = ++moment;
		drive.asked = drive.failed = 0;
		bool merged = merge_into_book(other);
		drive.moment = 0;
		int count = count_calls();
		ck_assert_msg(count == 4 || (!merged && count == 1), "moment %d: %d calls", moment, count);
	} while (drive.failed > 0 && moment < 2000);
	ck_assert_int_gt(moment, drive.way == DRIVE_FULL ? 5 : 40);
}
END_TEST

Suite *faults_suite(void)
{
	Suite *suite = suite_create("faults");
	TCase *tests = tcase_create("faults");

	tcase_set_timeout(tests, 60);
	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_loop_test(tests, whenever_the_drive_fails_nothing_kept_is_lost, FAIL_ONCE, DRIVE_FULL + 1);
	tcase_add_loop_test(tests, whenever_the_drive_fails_a_merge_is_whole_or_not_there, FAIL_ONCE,
	                    DRIVE_FULL + 1);
	suite_add_tcase(suite, tests);
	return suite;
}
