/* Files that are whole or not there: what stands at the name, and what a refusal says. */
#define _GNU_SOURCE 1 /* renameat2() */
#include <check.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <padside/base/beside.h>

#include "support/scratch.h"
#include "support/skip.h"

Suite *beside_suite(void);

static char folder[SCRATCH_SIZE];
static struct error error;

/* How the drive answers; 0: as it does. */
static struct {
	int rename_new; /* asked to rename unless the name is taken */
	int link;       /* asked for a second name */
} refusals;

/* The drive's answers: these stand before those of the C library. */
int renameat2(int from, const char *old, int to, const char *name, unsigned int flags)
{
	errno = refusals.rename_new;
	return errno ? -1 : (int)syscall(SYS_renameat2, from, old, to, name, flags);
}

int link(const char *old, const char *name)
{
	errno = refusals.link;
	return errno ? -1 : linkat(AT_FDCWD, old, AT_FDCWD, name, 0);
}

static void set_up(void)
{
	scratch_make(folder);
}

static void tear_down(void)
{
	refusals.rename_new = refusals.link = 0;
	scratch_remove(folder);
}

/* A name in the scratch folder; holds until the next but one. */
static const char *in(const char *name)
{
	static char paths[2][SCRATCH_SIZE + 64];
	static int turn;

	turn = !turn;
	snprintf(paths[turn], sizeof paths[turn], "%s/%s", folder, name);
	return paths[turn];
}

static void put(const char *path, const char *words)
{
	FILE *file = fopen(path, "w");

	ck_assert_ptr_nonnull(file);
	fputs(words, file);
	ck_assert_int_eq(fclose(file), 0);
}

static void assert_holds(const char *path, const char *words)
{
	char found[64] = "";
	FILE *file = fopen(path, "r");

	ck_assert_msg(file != NULL, "%s is not there", path);
	found[fread(found, 1, sizeof found - 1, file)] = '\0';
	fclose(file);
	ck_assert_str_eq(found, words);
}

static void begin(struct beside *beside, const char *words)
{
	ck_assert_int_eq(beside_begin(beside, in("a"), 0640, &error), STATUS_OK);
	ck_assert_int_eq(write(beside->file, words, strlen(words)), (ssize_t)strlen(words));
}

START_TEST(the_name_is_given_at_the_end)
{
	struct beside beside;
	struct stat found;

	begin(&beside, "new");
	ck_assert_int_ne(access(in("a"), F_OK), 0);
	ck_assert_int_eq(access(in("a.part"), F_OK), 0);
	ck_assert_int_eq(beside_end(&beside, false, &error), STATUS_OK);
	assert_holds(in("a"), "new");
	ck_assert_int_ne(access(in("a.part"), F_OK), 0);
	ck_assert_int_eq(stat(in("a"), &found), 0);
	ck_assert_uint_eq(found.st_mode & 0777, 0640);
}
END_TEST

/* The shell's mask takes no rights away, and an earlier part leaves nothing behind. */
START_TEST(what_a_killed_program_left_is_written_over)
{
	struct beside beside;
	struct stat found;

	put(in("a.part"), "a long line of an earlier program");
	mode_t mask = umask(0777);
	begin(&beside, "new");
	umask(mask);
	ck_assert_int_eq(fstat(beside.file, &found), 0);
	ck_assert_uint_eq(found.st_mode & 0777, 0640);
	ck_assert_int_eq(beside_end(&beside, true, &error), STATUS_OK);
	assert_holds(in("a"), "new");
}
END_TEST

START_TEST(a_name_that_is_taken_stays_unless_it_is_to_be_replaced)
{
	struct beside beside;

	put(in("a"), "old");
	begin(&beside, "new");
	ck_assert_int_eq(beside_end(&beside, false, &error), STATUS_EXISTS);
	ck_assert_ptr_nonnull(strstr(error.text, "is there already"));
	assert_holds(in("a"), "old");
	ck_assert_int_ne(access(in("a.part"), F_OK), 0);
	begin(&beside, "new");
	ck_assert_int_eq(beside_end(&beside, true, &error), STATUS_OK);
	assert_holds(in("a"), "new");
}
END_TEST

START_TEST(given_up_the_name_is_as_it_was)
{
	struct beside beside;

	put(in("a"), "old");
	begin(&beside, "new");
	beside_drop(&beside);
	assert_holds(in("a"), "old");
	ck_assert_int_ne(access(in("a.part"), F_OK), 0);
}
END_TEST

START_TEST(two_do_not_write_one_file)
{
	struct beside first, second;

	begin(&first, "first");
	ck_assert_int_eq(beside_begin(&second, in("a"), 0640, &error), STATUS_BUSY);
	ck_assert_ptr_nonnull(strstr(error.text, "another program"));
	ck_assert_int_eq(beside_end(&first, false, &error), STATUS_OK);
	assert_holds(in("a"), "first");
}
END_TEST

/* Where it cannot be written it is said whether the place is wrong or the drive. */
START_TEST(a_refusal_says_what_is_wrong)
{
	struct beside beside;

	ck_assert_int_eq(beside_begin(&beside, in("none/a"), 0640, &error), STATUS_CANNOT_OPEN);
	ck_assert_ptr_nonnull(strstr(error.text, "nothing was changed"));
	put(in("file"), "");
	ck_assert_int_eq(beside_begin(&beside, in("file/a"), 0640, &error), STATUS_CANNOT_OPEN);
	ck_assert_int_eq(mkdir(in("a.part"), 0700), 0);
	ck_assert_int_eq(beside_begin(&beside, in("a"), 0640, &error), STATUS_IO);
	/* A link in its place is not followed. */
	ck_assert_int_eq(symlink(in("file"), in("b.part")), 0);
	ck_assert_int_eq(beside_begin(&beside, in("b"), 0640, &error), STATUS_IO);
	/* Files of the kernel: no rights, or a drive that only reads. */
	if (access("/sys/kernel", F_OK) == 0)
		ck_assert_int_eq(beside_begin(&beside, "/sys/kernel/a", 0640, &error), STATUS_CANNOT_OPEN);
	/* The name of a folder that is not empty cannot be given. */
	ck_assert_int_eq(mkdir(in("c"), 0700), 0);
	put(in("c/d"), "");
	ck_assert_int_eq(beside_begin(&beside, in("c"), 0640, &error), STATUS_OK);
	ck_assert_int_eq(beside_end(&beside, true, &error), STATUS_IO);
	ck_assert_int_ne(access(in("c.part"), F_OK), 0);
}
END_TEST

/* Drives that cannot rename unless the name is taken, and what they answer to a second name. */
static const struct {
	int rename_new, link;
} old_drives[] = {
	{ EINVAL, 0 }, { ENOSYS, 0 }, { EINVAL, EPERM }, { ENOSYS, EOPNOTSUPP }, { EINVAL, ENOSYS },
};
enum { OLD_DRIVES = sizeof old_drives / sizeof *old_drives };

START_TEST(an_old_drive_gives_the_name_too)
{
	struct beside beside;

	refusals.rename_new = old_drives[_i].rename_new;
	refusals.link = old_drives[_i].link;
	begin(&beside, "new");
	ck_assert_int_eq(beside_end(&beside, false, &error), STATUS_OK);
	assert_holds(in("a"), "new");
	ck_assert_int_ne(access(in("a.part"), F_OK), 0);
}
END_TEST

START_TEST(an_old_drive_keeps_a_name_that_is_taken)
{
	struct beside beside;

	refusals.rename_new = old_drives[_i].rename_new;
	refusals.link = old_drives[_i].link;
	put(in("a"), "old");
	begin(&beside, "new");
	ck_assert_int_eq(beside_end(&beside, false, &error), STATUS_EXISTS);
	ck_assert_ptr_nonnull(strstr(error.text, "is there already"));
	assert_holds(in("a"), "old");
	ck_assert_int_ne(access(in("a.part"), F_OK), 0);
}
END_TEST

/* A drive that fails is no old drive: nothing is tried that could write over a file. */
START_TEST(a_drive_that_fails_gives_no_name)
{
	static const struct {
		int rename_new, link;
		enum status status;
	} failing[] = {
		{ EACCES, 0, STATUS_CANNOT_OPEN }, { EIO, 0, STATUS_IO }, { ENOSPC, 0, STATUS_FULL },
		{ EINVAL, EIO, STATUS_IO }, { EINVAL, ENOSPC, STATUS_FULL },
	};
	struct beside beside;

	for (size_t i = 0; i < sizeof failing / sizeof *failing; i++) {
		refusals.rename_new = failing[i].rename_new;
		refusals.link = failing[i].link;
		begin(&beside, "new");
		ck_assert_int_eq(beside_end(&beside, false, &error), failing[i].status);
		ck_assert_ptr_nonnull(strstr(error.text, "nothing was changed"));
		ck_assert_int_ne(access(in("a"), F_OK), 0);
		ck_assert_int_ne(access(in("a.part"), F_OK), 0);
	}
}
END_TEST

/* A watched folder can be read when something was written there, and not before. */
START_TEST(what_is_written_in_the_folder_is_noticed)
{
	char events[4096];
	int file = beside_watch(in("a"));

#ifdef __linux__
	ck_assert_int_ge(file, 0);
#endif
	if (file < 0) {
		skip_test("a watched folder", "this system does not tell what is written there");
		return;
	}
	ck_assert_int_lt(read(file, events, sizeof events), 0);
	put(in("b"), "x");
	ck_assert_int_gt(read(file, events, sizeof events), 0);
	close(file);
	ck_assert_int_lt(beside_watch(""), 0);
	ck_assert_int_lt(beside_watch(in("none/a")), 0);
}
END_TEST

Suite *beside_suite(void)
{
	Suite *suite = suite_create("beside");
	TCase *tests = tcase_create("beside");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, the_name_is_given_at_the_end);
	tcase_add_test(tests, what_a_killed_program_left_is_written_over);
	tcase_add_test(tests, a_name_that_is_taken_stays_unless_it_is_to_be_replaced);
	tcase_add_test(tests, given_up_the_name_is_as_it_was);
	tcase_add_test(tests, two_do_not_write_one_file);
	tcase_add_test(tests, a_refusal_says_what_is_wrong);
	tcase_add_loop_test(tests, an_old_drive_gives_the_name_too, 0, OLD_DRIVES);
	tcase_add_loop_test(tests, an_old_drive_keeps_a_name_that_is_taken, 0, OLD_DRIVES);
	tcase_add_test(tests, a_drive_that_fails_gives_no_name);
	tcase_add_test(tests, what_is_written_in_the_folder_is_noticed);
	suite_add_tcase(suite, tests);
	return suite;
}
