/*
 * Random keys and random sizes on the whole workbook, without a terminal:
 * nothing crashes, nothing hangs, the book stays sound and holds what the
 * screen holds.  Every other seed begins on the demo's book, so that there are
 * customers and machines with a history.  The sanitizers of `make sanitize`
 * watch; `make fuzz-keys` presses more.
 */
#include <check.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <padside/app/call_json.h>

#include "support/demo.h"
#include "support/desk.h"
#include "support/listed.h"
#include "support/scratch.h"

Suite *keys_fuzz_suite(void);

/* How many, unless PADSIDE_FUZZ_SEEDS and PADSIDE_FUZZ_KEYS say otherwise. */
enum { SEEDS = 6, KEYS = 3000 };

/* Numerical Recipes' linear congruential generator: the same keys on every machine. */
static uint32_t state;

static uint32_t next(uint32_t below)
{
	state = state * 1664525u + 1013904223u;
	return (uint32_t)(((uint64_t)state * below) >> 32);
}

static const char *const words[] = {
	"118", "4.1 bar", "OL", "7/8", "-3", "1e9", "R-410A", "fix", "yes", "12,50", "999999999999", "0x10",
	"10:35", "now", "é≥Ω", "日本", "%s%n", "part", "free", "office", "html", "capacitor", " ", "–",
};

static const char *const named[] = {
	"Enter", "Enter", "Esc", "Tab", "Shift+Tab", "Up", "Down", "Down", "Left", "Right", "Home", "End",
	"PgUp", "PgDn", "Del", "Ins", "Backspace", "Space", "F1", "F2", "F3", "F4", "F5", "F6", "F7", "F8",
	"F9", "F10", "F11", "F12", "Ctrl+P", "Ctrl+N", "Ctrl+X", "Ctrl+_", "Ctrl+T", "Ctrl+S", "Ctrl+B",
	"Ctrl+O", "Ctrl+W", "Ctrl+U", "Ctrl+K", "Alt+5", "w", "Ctrl+Left", "Ctrl+Right", "Alt+h", "Alt+d",
	"Ctrl+B", "Ctrl+O",
};

static const unsigned odd[] = {
	0, 1, 0x1b, '\n', 0x7f, 0x9b, 0xa0, 0x301, 0x200b, 0x202e, 0x6f22, 0xd800, 0xfffd, 0xffff, 0x1f600,
	0x10ffff, 0x110000, 0xffffffff,
};

static int setting(const char *name, int otherwise)
{
	const char *value = getenv(name);

	return value ? atoi(value) : otherwise;
}

/* A key that no keyboard may have. */
static struct key any_key(void)
{
	return (struct key){
		.press = (enum press)next(PRESS_PAGE_DOWN + 1),
		.character = next(2) ? odd[next(sizeof odd / sizeof *odd)] : next(128),
		.pasted = next(2),
	};
}

/* Ends the program, which is for the end of the run. */
static bool ends(struct key key)
{
	return key_equal(key, key_ctrl('q')) || key.press == PRESS_CLOSE;
}

static void press_one(struct desk *desk)
{
	struct key key;

	/* Without a call the keys would seldom find the way to a customer's page. */
	if (!session_call(desk->session) && next(8) == 0) {
		desk_keys(desk, "Esc Tab Enter");
		return;
	}
	if (next(20) == 0) {
		key = any_key();
		if (!ends(key) && key.character != '/')
			workbook_press(desk->workbook, key);
		return;
	}
	if (next(10) < 7) {
		ck_assert(key_from_name(named[next(sizeof named / sizeof *named)], &key));
		workbook_press(desk->workbook, key);
		return;
	}
	const char *at = words[next(sizeof words / sizeof *words)];
	while (*at) {
		key = key_character(text_next_character(&at));
		key.pasted = next(8) == 0;
		/* No folder but this one: what the paper is written to stays here. */
		if (key.character != '/' || workbook_step(desk->workbook) != STEP_SUMMARY)
			workbook_press(desk->workbook, key);
	}
}

/* The open call as the screen has it, and as the book gives it back, are the same. */
static void check_call(struct desk *desk)
{
	struct error error = { .text = "" };
	struct text shown, kept;

	if (!session_call(desk->session))
		return;
	struct uid uid = session_call(desk->session)->uid;
	text_init(&shown);
	text_init(&kept);
	call_json_write(session_call(desk->session), &shown);
	ck_assert_msg(session_open(desk->session, uid.text, &error) == STATUS_OK, "%s", error.text);
	call_json_write(session_call(desk->session), &kept);
	ck_assert_str_eq(text_get(&shown), text_get(&kept));
	text_done(&shown);
	text_done(&kept);
}

static void play(struct desk *desk)
{
	int keys = setting("PADSIDE_FUZZ_KEYS", KEYS);

	for (int i = 0; i < keys; i++) {
		press_one(desk);
		desk->now += (wall_time)next(90);
		if (next(40) == 0)
			workbook_resize(desk->workbook, 1 + (int)next(60), 1 + (int)next(160));
		if (next(4) == 0)
			workbook_draw(desk->workbook);
	}
	ck_assert(!workbook_is_over(desk->workbook));
	check_call(desk);
	listed_sound(desk->store, "");
}

START_TEST(random_keys_and_sizes)
{
	struct desk desk;
	char home[256], folder[SCRATCH_SIZE];

	state = (uint32_t)_i + 1;
	desk_open(&desk);
	if (_i % 2 == 1)
		demo_fill(desk.store);
	ck_assert_ptr_nonnull(getcwd(home, sizeof home));
	scratch_make(folder);
	ck_assert_int_eq(chdir(folder), 0);
	play(&desk);
	ck_assert_int_eq(chdir(home), 0);
	scratch_remove(folder);
	desk_close(&desk);
}
END_TEST

Suite *keys_fuzz_suite(void)
{
	Suite *suite = suite_create("keys fuzz");
	TCase *all = tcase_create("keys fuzz");

	tcase_set_timeout(all, 3600);
	tcase_add_loop_test(all, random_keys_and_sizes, 0, setting("PADSIDE_FUZZ_SEEDS", SEEDS));
	suite_add_tcase(suite, all);
	return suite;
}
