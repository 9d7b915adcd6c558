/* A workbook without a terminal. */
#include "support/desk.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/prices.h>

#include "support/at_rest.h"
#include "support/canvas_dump.h"
#include "support/demo.h"
#include "support/golden.h"

static wall_time tell_time(void *context)
{
	return ((struct desk *)context)->now;
}

static int64_t tell_steady(void *context)
{
	return ((struct desk *)context)->steady;
}

static void load_prices(struct desk *desk)
{
	struct error error = { .text = "" };
	size_t count;

	ck_assert_msg(prices_import(desk->store, "demo/prices.csv", &count, &error) == STATUS_OK, "%s",
	              error.text);
}

static void begin(struct desk *desk, const char *moment, const char *path,
                  void (*fill)(struct desk *desk))
{
	desk->pressed = 0;
	desk->steady = 0;
	desk->done = REQUEST_NONE;
	struct clock clock = { .now = tell_time, .steady = tell_steady, .context = desk };
	struct error error = { .text = "" };

	ck_assert(clock_parse(moment, &desk->now));
	ck_assert_msg(store_open(path, *path ? STORE_CREATE : STORE_MEMORY, &clock, &desk->store,
	                         &error) == STATUS_OK, "%s", error.text);
	if (fill)
		fill(desk);
	ck_assert(session_new(desk->store, &clock, UNITS_US, &desk->session, &error) == STATUS_OK);
	desk->workbook = workbook_new(desk->session, 24, 80, false);
	ck_assert_ptr_nonnull(desk->workbook);
}

void desk_open(struct desk *desk)
{
	begin(desk, "2026-07-14T08:05", "", load_prices);
}

void desk_open_book(struct desk *desk, const char *path)
{
	begin(desk, "2026-07-14T08:05", path, NULL);
}

void desk_open_on_call(struct desk *desk)
{
	desk_open(desk);
	desk_keys(desk, "Ctrl+N 'Mara Quill' Enter");
}

static void load_calls(struct desk *desk)
{
	demo_fill(desk->store);
}

void desk_open_demo(struct desk *desk)
{
	begin(desk, "2026-07-10T09:12", "", load_calls);
}

void desk_close(struct desk *desk)
{
	workbook_free(desk->workbook);
	session_free(desk->session);
	at_rest(desk->store);
	store_close(desk->store);
}

static void press(struct desk *desk, struct key key)
{
	desk->pressed++;
	desk->done = workbook_press(desk->workbook, key);
}

static const char *press_text(struct desk *desk, const char *at)
{
	while (*at != '\'') {
		ck_assert_msg(*at, "a text without end");
		press(desk, key_character(text_next_character(&at)));
	}
	return at + 1;
}

void desk_keys(struct desk *desk, const char *script)
{
	const char *at = script;

	while (*(at += strspn(at, " "))) {
		size_t length = strcspn(at, " ");
		char name[KEY_NAME_SIZE];
		struct key key;
		if (*at == '\'') {
			at = press_text(desk, at + 1);
			continue;
		}
		snprintf(name, sizeof name, "%.*s", (int)length, at);
		ck_assert_msg(key_from_name(name, &key), "no key %s", name);
		press(desk, key);
		at += length;
	}
}

/* Whether the label of the row under the cursor begins with `label`. */
static bool is_on(struct desk *desk, const char *label)
{
	const struct canvas *canvas = workbook_draw(desk->workbook);
	struct text row;
	bool on = false;

	/* Between the route and the sentence; the cursor's row has a reversed cell. */
	text_init(&row);
	for (int i = 2; i < canvas_rows(canvas) - 3 && !on; i++) {
		bool reversed = false;
		text_clear(&row);
		for (int j = 0; j < canvas_columns(canvas); j++) {
			const struct canvas_cell *cell = canvas_at(canvas, i, j);
			reversed = reversed || (cell->style & STYLE_REVERSE);
			if (j > 0 && cell->character)
				text_add_character(&row, cell->character);
		}
		on = reversed && strncmp(text_get(&row), label, strlen(label)) == 0;
	}
	text_done(&row);
	return on;
}

/* Goes down until the cursor is on the row; false where it stays away. */
static bool go_down(struct desk *desk, const char *label)
{
	for (int i = 0; i < 64 && !is_on(desk, label); i++)
		desk_keys(desk, "Down");
	return is_on(desk, label);
}

void desk_go(struct desk *desk, const char *label)
{
	desk_keys(desk, "Home");
	/* What is folded away is opened. */
	if (!go_down(desk, label))
		desk_keys(desk, "Alt+m Home");
	ck_assert_msg(go_down(desk, label), "no row %s", label);
}

static void write_down(struct desk *desk, const char *text)
{
	while (*text)
		press(desk, key_character(text_next_character(&text)));
	desk_keys(desk, "Enter");
}

void desk_write(struct desk *desk, const char *label, const char *text)
{
	desk_go(desk, label);
	write_down(desk, text);
}

void desk_down(struct desk *desk, const char *label, const char *text)
{
	ck_assert_msg(go_down(desk, label), "no row %s below", label);
	write_down(desk, text);
}

void desk_wait(struct desk *desk, int minutes)
{
	desk->now += 60 * minutes;
	desk->steady += 60 * minutes;
}

bool desk_shows(struct desk *desk, const char *words)
{
	struct text text;

	text_init(&text);
	canvas_dump(workbook_draw(desk->workbook), &text);
	bool shows = strstr(text_get(&text), words) != NULL;
	text_done(&text);
	return shows;
}

void desk_look(struct desk *desk, const char *name, bool with_so_far)
{
	static const struct {
		int rows, columns;
		const char *ending;
	} sizes[] = { { 24, 80, "80" }, { 40, 120, "120" } };
	enum { SIZES = sizeof sizes / sizeof *sizes };

	/* Both are drawn before the first that differs fails the test. */
	for (size_t i = 0; i < 2 * SIZES; i++) {
		char file[96];
		snprintf(file, sizeof file, "%s-%s", name, sizes[i % SIZES].ending);
		workbook_resize(desk->workbook, sizes[i % SIZES].rows, sizes[i % SIZES].columns);
		workbook_draw(desk->workbook);
		struct canvas *canvas = workbook_canvas(desk->workbook);
		if (!with_so_far)
			canvas_fill(canvas, area_rows(canvas_area(canvas), canvas_rows(canvas) - 1, 1), INK_PLAIN,
			            ' ');
		(i < SIZES ? golden_draw : golden_check)(file, canvas);
	}
	workbook_resize(desk->workbook, 24, 80);
}

const struct call *desk_call(const struct desk *desk)
{
	const struct call *call = session_call(desk->session);

	ck_assert_ptr_nonnull(call);
	return call;
}

/* Whether words begin at a cell. */
static bool stands_at(const struct canvas *canvas, int row, int column, const char *words)
{
	for (; *words && column < canvas_columns(canvas); words++, column++)
		if (canvas_at(canvas, row, column)->character != (unsigned char)*words)
			return false;
	return !*words;
}

void desk_click(struct desk *desk, const char *words)
{
	const struct canvas *canvas = workbook_draw(desk->workbook);

	for (int row = 0; row < canvas_rows(canvas); row++)
		for (int column = 0; column < canvas_columns(canvas); column++)
			if (stands_at(canvas, row, column, words)) {
				desk->done = workbook_press(desk->workbook, key_click(row, column));
				return;
			}
	ck_abort_msg("%s is not on the page", words);
}
