/* What a few letters stand for, by place, and one's own from their file. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <padside/app/short_texts.h>

#include "support/scratch.h"

Suite *short_texts_suite(void);

static char folder[SCRATCH_SIZE];
static char path[160];

static void set_up(void)
{
	scratch_make(folder);
	snprintf(path, sizeof path, "%s/padside", folder);
	ck_assert_int_eq(mkdir(path, 0700), 0);
	snprintf(path, sizeof path, "%s/padside/short-texts", folder);
	setenv("XDG_CONFIG_HOME", folder, 1);
	short_texts_read();
}

static void tear_down(void)
{
	unlink(path);
	snprintf(path, sizeof path, "%s/padside", folder);
	rmdir(path);
	scratch_remove(folder);
	short_texts_read();
}

static void write_own(const char *lines)
{
	FILE *file = fopen(path, "w");

	ck_assert_ptr_nonnull(file);
	fputs(lines, file);
	fclose(file);
	short_texts_read();
}

static void assert_stands_for(enum short_place place, const char *typed, const char *text)
{
	char out[256];

	ck_assert_msg(short_texts_expand(place, typed, out, sizeof out), "%s", typed);
	ck_assert_str_eq(out, text);
}

static void assert_stays(enum short_place place, const char *typed)
{
	char out[256];

	ck_assert_msg(!short_texts_expand(place, typed, out, sizeof out), "%s: %s", typed, out);
	ck_assert_str_eq(out, typed);
}

START_TEST(letters_stand_for_a_sentence_where_they_belong)
{
	assert_stands_for(SHORT_COMPLAINT, "nc", "No cooling.");
	assert_stands_for(SHORT_COMPLAINT, "NC", "No cooling.");
	assert_stands_for(SHORT_COMPLAINT, "tune", "Seasonal check.");
	assert_stays(SHORT_DONE, "nc");
	assert_stays(SHORT_OPTION, "nc");
	assert_stays(SHORT_WORK, "nc");
	assert_stands_for(SHORT_DONE, "drn", "The condensate drain was blocked and was cleared.");
	assert_stands_for(SHORT_OPTION, "drn", "Clear the condensate drain.");
	assert_stands_for(SHORT_WORK, "drn", "Cleared the condensate drain.");
	assert_stands_for(SHORT_WORK, "filt", "Replaced the air filter.");
	assert_stays(SHORT_COMPLAINT, "drn");
}
END_TEST

START_TEST(several_stand_behind_each_other)
{
	assert_stands_for(SHORT_COMPLAINT, "nc hum",
	                  "No cooling. The outdoor unit hums and does not start.");
	assert_stands_for(SHORT_COMPLAINT, "nc  hum ",
	                  "No cooling. The outdoor unit hums and does not start.");
	assert_stays(SHORT_COMPLAINT, "nc since noon");
	assert_stays(SHORT_COMPLAINT, "since nc");
	assert_stays(SHORT_COMPLAINT, "");
	assert_stays(SHORT_COMPLAINT, "  ");
	assert_stays(SHORT_COMPLAINT, "abcdefghijklmnopqrstuvwxyz");
}
END_TEST

/* What has no room stays as it was typed. */
START_TEST(a_sentence_without_room_is_not_cut)
{
	char out[16];

	ck_assert(short_texts_expand(SHORT_COMPLAINT, "nc", out, sizeof "No cooling."));
	ck_assert_str_eq(out, "No cooling.");
	ck_assert(!short_texts_expand(SHORT_COMPLAINT, "nc", out, sizeof "No cooling." - 1));
	ck_assert_str_eq(out, "nc");
}
END_TEST

START_TEST(ones_own_belong_everywhere_and_win)
{
	write_own("# my own\n"
	          "  gate =  Gate code at the office.\t\r\n"
	          "nc = It is too warm upstairs.\n"
	          "no equals sign\n"
	          "= nothing before\n"
	          "nothing =\n"
	          "two words = are none\n"
	          "  # late = comment\n"
	          "abcdefghijklmno = fifteen letters\n"
	          "abcdefghijklmnop = sixteen letters\n"
	          "last = 1 = 2");
	assert_stands_for(SHORT_COMPLAINT, "nc", "It is too warm upstairs.");
	assert_stands_for(SHORT_DONE, "nc", "It is too warm upstairs.");
	assert_stands_for(SHORT_OPTION, "gate", "Gate code at the office.");
	assert_stands_for(SHORT_WORK, "last", "1 = 2");
	assert_stands_for(SHORT_WORK, "abcdefghijklmno", "fifteen letters");
	assert_stays(SHORT_WORK, "abcdefghijklmnop");
	assert_stays(SHORT_WORK, "nothing");
	assert_stays(SHORT_WORK, "two");
	assert_stays(SHORT_WORK, "#");
	assert_stands_for(SHORT_COMPLAINT, "hum", "The outdoor unit hums and does not start.");
}
END_TEST

static size_t count(enum short_place place)
{
	const char *letters, *text;
	size_t found = 0;

	while (short_texts_at(place, found, &letters, &text)) {
		ck_assert_str_ne(letters, "");
		ck_assert_str_ne(text, "");
		found++;
	}
	return found;
}

START_TEST(ones_own_stand_before_the_others_in_the_list)
{
	const char *letters, *text;
	size_t without = count(SHORT_COMPLAINT);

	ck_assert_uint_eq(without, 10);
	ck_assert(short_texts_at(SHORT_COMPLAINT, 0, &letters, &text));
	ck_assert_str_eq(letters, "nc");
	ck_assert(short_texts_at(SHORT_COMPLAINT, 9, &letters, &text));
	ck_assert_str_eq(letters, "tune");
	write_own("one = 1\ntwo = 2\n");
	ck_assert_uint_eq(count(SHORT_COMPLAINT), 12);
	ck_assert(short_texts_at(SHORT_COMPLAINT, 1, &letters, &text));
	ck_assert_str_eq(letters, "two");
	ck_assert_str_eq(text, "2");
	ck_assert(short_texts_at(SHORT_COMPLAINT, 2, &letters, &text));
	ck_assert_str_eq(letters, "nc");
}
END_TEST

/* Two hundred of one's own are read. */
START_TEST(of_very_many_the_first_are_read)
{
	FILE *file = fopen(path, "w");

	for (int i = 1; i <= 202; i++)
		fprintf(file, "s%d = sentence %d\n", i, i);
	fclose(file);
	short_texts_read();
	assert_stands_for(SHORT_WORK, "s200", "sentence 200");
	assert_stays(SHORT_WORK, "s201");
}
END_TEST

/* Without XDG_CONFIG_HOME the file lies in .config at home; without either there is none. */
START_TEST(the_file_lies_where_settings_lie)
{
	char home[SCRATCH_SIZE], place[200];

	scratch_make(home);
	write_own("one = 1\n");
	snprintf(place, sizeof place, "%s/.config", home);
	ck_assert_int_eq(symlink(folder, place), 0);
	setenv("XDG_CONFIG_HOME", "", 1);
	setenv("HOME", home, 1);
	short_texts_read();
	assert_stands_for(SHORT_WORK, "one", "1");
	unsetenv("HOME");
	unsetenv("XDG_CONFIG_HOME");
	short_texts_read();
	assert_stays(SHORT_WORK, "one");
	unlink(place);
	scratch_remove(home);
}
END_TEST

Suite *short_texts_suite(void)
{
	Suite *suite = suite_create("short_texts");
	TCase *tests = tcase_create("short_texts");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, letters_stand_for_a_sentence_where_they_belong);
	tcase_add_test(tests, several_stand_behind_each_other);
	tcase_add_test(tests, a_sentence_without_room_is_not_cut);
	tcase_add_test(tests, ones_own_belong_everywhere_and_win);
	tcase_add_test(tests, ones_own_stand_before_the_others_in_the_list);
	tcase_add_test(tests, of_very_many_the_first_are_read);
	tcase_add_test(tests, the_file_lies_where_settings_lie);
	suite_add_tcase(suite, tests);
	return suite;
}
