/*
 * Tours: pages walked through by keys, and every cell that changes.
 *
 * A tour is a golden file with its own script: its first line says on which
 * book it begins, a line that starts with "> " is a step, and what stands below
 * a step is what the page shows then.  Of the first page and behind a change of
 * size everything stands there, later only the lines that are another:
 *
 *	7|words of row 7    7:their inks    7_what is underlined there
 *
 * Of the inks "f20" is twenty times f, and plain ink is blank.  Then the cursor
 * where it moved, what can be clicked ("4,0+79=0": row 4, 79 columns from 0 on)
 * and how long the program waits where that changed, and what the last key was
 * taken for.
 *
 *	> Down 'text' Enter     keys, then a look
 *	> each Down Down        a look behind each key
 *	> write phone = 5550    down to the row of that label; "go phone" only goes there
 *	> size 20 60            another size of the window; "plain" and it has no UTF-8
 *	> click 5 20            row and column, from 0
 *	> wheel up              or down
 *	> wait 15               minutes pass, and the clock ticks
 *	> setting currency €    as `padside settings` sets it
 *	> break price_item      a table of the book (of "file") is not there; "mend" and it is again
 *
 * For a new tour write its steps, run it and read what is left in build/golden/.
 */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <padside/app/settings.h>

#include "support/canvas_dump.h"
#include "support/demo.h"
#include "support/desk.h"
#include "support/golden.h"
#include "support/scratch.h"
#include "tui/workbook_parts.h"

Suite *tours_suite(void);

static const char *const tours[] = {
	"book", "records", "customers", "history", "sheets", "sheets-narrow", "sheets-wide", "sheets-si",
	"writing", "margin", "findings", "judging", "options", "work", "charge", "money", "paper", "go",
	"help", "compare", "tightness", "cylinders", "checklist", "changes", "closed", "so-far", "clicks",
	"anywhere", "known", "slips", "limits", "spring", "settle", "unpriced", "lists",
	"leaving", "watch", "odd", "broken", "sizes", "season", "noted",
};

enum { TOURS = sizeof tours / sizeof *tours, MOST_ROWS = 60, STEP_SIZE = 2048 };

/* What a look saw: the lines of the page, of its inks and of what is underlined. */
struct picture {
	int rows;                  /* of the page */
	char *lines[3][MOST_ROWS]; /* NULL: empty */
	char cursor[64];           /* where it stands, in words */
	char *clicks;              /* which cells can be clicked, in words */
	int wait;                  /* milliseconds until something changes by itself */
};

static const char kinds[3] = { '|', ':', '_' };

static struct desk desk;
static struct picture seen; /* last */
static bool shows_so_far, shows_clicks;
static char folder[SCRATCH_SIZE]; /* that reports are written into */

/* ---- Looking ---- */

static char *take_line(const char **at)
{
	size_t length = strcspn(*at, "\n");
	char *line = length > 0 ? strndup(*at, length) : NULL;

	*at += length;
	*at += **at == '\n';
	return line;
}

static void take_lines(char **lines, int rows, const char **at)
{
	for (int i = 0; i < rows; i++)
		lines[i] = take_line(at);
}

/* "fffffffff  yy" is "f9  yy"; plain ink stands there as blank, and behind it nothing. */
static char *shorten(const char *inks)
{
	struct text text;
	size_t length = 0;

	text_init(&text);
	for (const char *at = inks; at && *at; at += length) {
		char ink = *at == '.' ? ' ' : *at;
		for (length = 1; at[length] == *at || (ink == ' ' && strchr(" .", at[length]) && at[length]);)
			length++;
		if (ink == ' ' && at[length] == '\0')
			break;
		if (length > 3)
			text_add_format(&text, "%c%zu", ink, length);
		else
			text_add_format(&text, "%.*s", (int)length, ink == ' ' ? "   " : at);
	}
	char *line = text.length > 0 ? strdup(text_get(&text)) : NULL;
	text_done(&text);
	return line;
}

static void take_inks(char **lines, int rows, const char **at)
{
	take_lines(lines, rows, at);
	for (int i = 0; i < rows; i++) {
		char *whole = lines[i];
		lines[i] = shorten(whole);
		free(whole);
	}
}

/* Whether a place to click is the next row of a list behind another one. */
static bool follows(const struct hot *hot, const struct hot *before)
{
	return hot->row == before->row + 1 && hot->column == before->column &&
	       hot->width == before->width && hot->which == before->which + 1;
}

/* "4,0+79=0 to 12": from row 4, column 0, 79 columns wide, is 0, and so on below it to 12. */
static char *describe_clicks(void)
{
	const struct hot *hot = desk.workbook->hot;
	int count = desk.workbook->hot_count;
	struct text text;

	text_init(&text);
	for (int i = 0, end; i < count; i = end) {
		for (end = i + 1; end < count && follows(&hot[end], &hot[end - 1]);)
			end++;
		text_add_format(&text, " %d,%d+%d=%d", hot[i].row, hot[i].column, hot[i].width, hot[i].which);
		if (end > i + 1)
			text_add_format(&text, " to %d", hot[end - 1].which);
	}
	char *words = strdup(text_get(&text));
	text_done(&text);
	return words;
}

static struct picture look(void)
{
	struct picture picture = { .wait = workbook_wait(desk.workbook) };
	struct text text;

	workbook_draw(desk.workbook);
	struct canvas *canvas = workbook_canvas(desk.workbook);
	picture.rows = canvas_rows(canvas);
	picture.clicks = describe_clicks();
	ck_assert_int_le(picture.rows, MOST_ROWS);
	if (!shows_so_far && session_call(desk.session))
		canvas_fill(canvas, area_rows(canvas_area(canvas), picture.rows - 1, 1), INK_PLAIN, ' ');
	text_init(&text);
	canvas_dump(canvas, &text);
	const char *at = text_get(&text);
	take_lines(picture.lines[0], picture.rows, &at);
	text_clear(&text);
	canvas_dump_ink(canvas, &text);
	at = text_get(&text);
	take_inks(picture.lines[1], picture.rows, &at);
	char *next = take_line(&at);
	if (next && strcmp(next, "underlined:") == 0) {
		take_inks(picture.lines[2], picture.rows, &at);
		free(next);
		next = take_line(&at);
	}
	snprintf(picture.cursor, sizeof picture.cursor, "%s", next);
	free(next);
	text_done(&text);
	return picture;
}

static void forget(struct picture *picture)
{
	for (int i = 0; i < 3; i++)
		for (int row = 0; row < picture->rows; row++)
			free(picture->lines[i][row]);
	free(picture->clicks);
	*picture = (struct picture){ .rows = 0 };
}

static bool is_same(const char *line, const char *other)
{
	return strcmp(line ? line : "", other ? other : "") == 0;
}

/* Of a call that was begun on the tour. */
static void hide_call_number(char *line)
{
	static const char label[] = "Call number  ";
	char *at = line ? strstr(line, label) : NULL;

	if (at)
		memset(at + sizeof label - 1, '#', strspn(at + sizeof label - 1, "0123456789abcdef-"));
}

/* What has another name on every run: the folder is "~" here, the number of a new call "####". */
static void hide_names(struct picture *picture)
{
	for (int row = 0; row < picture->rows; row++) {
		char *line = picture->lines[0][row];
		char *at = line && *folder ? strstr(line, folder) : NULL;
		hide_call_number(line);
		if (!at)
			continue;
		const char *rest = at + strlen(folder);
		*at = '~';
		memmove(at + 1, rest, strlen(rest) + 1);
		free(picture->lines[1][row]);
		picture->lines[1][row] = NULL;
	}
}

/* Adds what is another than at the last look. */
static void tell(struct text *drawn)
{
	struct picture now = look();

	hide_names(&now);
	/* Of another size everything is new. */
	if (now.rows != seen.rows)
		forget(&seen);
	for (int row = 0; row < now.rows; row++)
		for (int i = 0; i < 3; i++)
			if (!is_same(now.lines[i][row], seen.lines[i][row]))
				text_add_format(drawn, "%2d%c%s\n", row, kinds[i],
				                now.lines[i][row] ? now.lines[i][row] : "");
	if (strcmp(now.cursor, seen.cursor) != 0)
		text_add_format(drawn, "%s\n", now.cursor);
	if (shows_clicks && !is_same(now.clicks, seen.clicks))
		text_add_format(drawn, "clicks:%s\n", now.clicks);
	if (now.wait != seen.wait)
		text_add_format(drawn, "waits %d ms\n", now.wait);
	forget(&seen);
	seen = now;
}

static void tell_done(struct text *drawn)
{
	enum request done = desk.done;

	if (done == REQUEST_NONE)
		text_add(drawn, "= nothing\n");
	else if (done == REQUEST_TYPE)
		text_add(drawn, "= type\n");
	else
		text_add_format(drawn, "= %s: %s\n", request_place_title(request_info(done)->place),
		                request_info(done)->key);
}

/* ---- Steps ---- */

/* The keys of a step one by one; a text between quotes stays together. */
static void each_key(const char *keys, struct text *drawn)
{
	while (*(keys += strspn(keys, " "))) {
		size_t length = *keys == '\'' ? strcspn(keys + 1, "'") + 2 : strcspn(keys, " ");
		char key[STEP_SIZE];
		snprintf(key, sizeof key, "%.*s", (int)length, keys);
		desk_keys(&desk, key);
		text_add_format(drawn, "%s\n", key);
		tell(drawn);
		tell_done(drawn);
		keys += length;
	}
}

static void resize(const char *size)
{
	int rows = 0, columns = 0;

	ck_assert_int_eq(sscanf(size, "%d %d", &rows, &columns), 2);
	if (strstr(size, "plain")) {
		workbook_free(desk.workbook);
		desk.workbook = workbook_new(desk.session, rows, columns, true);
		ck_assert_ptr_nonnull(desk.workbook);
		desk.done = REQUEST_NONE;
	}
	workbook_resize(desk.workbook, rows, columns);
	forget(&seen);
}

static void click(const char *place)
{
	int row = 0, column = 0;

	ck_assert_int_eq(sscanf(place, "%d %d", &row, &column), 2);
	desk.done = workbook_press(desk.workbook, key_click(row, column));
}

static void write_row(const char *words)
{
	char label[64];
	const char *equals = strstr(words, " = ");

	ck_assert_ptr_nonnull(equals);
	snprintf(label, sizeof label, "%.*s", (int)(equals - words), words);
	desk_write(&desk, label, equals + 3);
}

static void set(const char *words)
{
	char key[64];
	struct error error;
	size_t length = strcspn(words, " ");

	snprintf(key, sizeof key, "%.*s", (int)length, words);
	ck_assert_msg(setting_put(desk.store, setting_from_key(key), words + length + 1, &error) ==
	              STATUS_OK, "%s", error.text);
}

/* Of a book in a file: one table of it is not where it was, or is again. */
static void rename_table(const char *before, const char *table, const char *behind)
{
	char path[SCRATCH_SIZE + 16], sql[160];
	sqlite3 *book;

	snprintf(path, sizeof path, "%s/truck.db", folder);
	snprintf(sql, sizeof sql, "ALTER TABLE %s%s RENAME TO %s%s", before, table, behind, table);
	ck_assert_int_eq(sqlite3_open(path, &book), SQLITE_OK);
	ck_assert_msg(sqlite3_exec(book, sql, NULL, NULL, NULL) == SQLITE_OK, "%s", sqlite3_errmsg(book));
	sqlite3_close(book);
}

static void break_table(const char *table)
{
	rename_table("", table, "broken_");
}

static void mend_table(const char *table)
{
	rename_table("broken_", table, "");
}

static void turn_wheel(const char *words)
{
	enum press press = strcmp(words, "up") == 0 ? PRESS_WHEEL_UP : PRESS_WHEEL_DOWN;

	desk.done = workbook_press(desk.workbook, key_press(press));
}

static void go_to_row(const char *label)
{
	desk_go(&desk, label);
}

static void pass_time(const char *minutes)
{
	desk_wait(&desk, atoi(minutes));
	workbook_tick(desk.workbook);
}

static void step(const char *words, struct text *drawn)
{
	static const struct {
		const char *word;                /* that the step begins with */
		void (*take)(const char *words); /* what stands behind it */
	} kinds_of_steps[] = {
		{ "size ", resize }, { "click ", click }, { "wheel ", turn_wheel }, { "go ", go_to_row },
		{ "write ", write_row }, { "setting ", set }, { "wait ", pass_time },
		{ "break ", break_table }, { "mend ", mend_table },
	};
	bool is_taken = false;

	if (strncmp(words, "each ", 5) == 0) {
		each_key(words + 5, drawn);
		return;
	}
	for (size_t i = 0; i < sizeof kinds_of_steps / sizeof *kinds_of_steps && !is_taken; i++) {
		size_t length = strlen(kinds_of_steps[i].word);
		is_taken = strncmp(words, kinds_of_steps[i].word, length) == 0;
		if (is_taken)
			kinds_of_steps[i].take(words + length);
	}
	if (!is_taken)
		desk_keys(&desk, words);
	tell(drawn);
	if (strncmp(words, "size ", 5) != 0)
		tell_done(drawn);
}

/* ---- Tours ---- */

/* The book that it begins on; "so far" with that line, "clicks" with what can be clicked. */
static void begin(const char *head)
{
	char path[SCRATCH_SIZE + 16];

	snprintf(path, sizeof path, "%s/truck.db", folder);
	if (strncmp(head, "demo", 4) == 0)
		desk_open_demo(&desk);
	else if (strncmp(head, "file", 4) == 0)
		desk_open_book(&desk, path);
	else if (strncmp(head, "empty", 5) == 0)
		desk_open_book(&desk, "");
	else
		desk_open(&desk);
	if (strncmp(head, "both", 4) == 0 || strncmp(head, "file", 4) == 0) {
		demo_fill(desk.store);
		desk_keys(&desk, "Tab Tab");
	} else if (strncmp(head, "call", 4) == 0)
		desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter");
	shows_so_far = strstr(head, "so far") != NULL;
	shows_clicks = strstr(head, "clicks") != NULL;
}

static void read_line(FILE *file, char line[STEP_SIZE])
{
	ck_assert_ptr_nonnull(fgets(line, STEP_SIZE, file));
	line[strcspn(line, "\n")] = '\0';
}

static void walk(FILE *file, struct text *drawn)
{
	char line[STEP_SIZE], home[256];

	read_line(file, line);
	text_add_format(drawn, "%s\n", line);
	/* Reports are written into a folder of the tour's own. */
	ck_assert_ptr_nonnull(getcwd(home, sizeof home));
	scratch_make(folder);
	begin(line);
	ck_assert_int_eq(chdir(folder), 0);
	tell(drawn);
	while (fgets(line, sizeof line, file)) {
		line[strcspn(line, "\n")] = '\0';
		if (strncmp(line, "> ", 2) != 0)
			continue;
		text_add_format(drawn, "%s\n", line);
		step(line + 2, drawn);
	}
	ck_assert_int_eq(chdir(home), 0);
	desk_close(&desk);
	scratch_remove(folder);
	forget(&seen);
}

START_TEST(every_step_shows_what_it_should)
{
	char name[64], path[128];
	struct text drawn;

	snprintf(name, sizeof name, "tour-%s.txt", tours[_i]);
	snprintf(path, sizeof path, "tests/screens/golden/%s", name);
	FILE *file = fopen(path, "r");
	ck_assert_msg(file != NULL, "no tour %s", path);
	text_init(&drawn);
	walk(file, &drawn);
	fclose(file);
	golden_check_text("screens/golden", name, text_get(&drawn));
	text_done(&drawn);
}
END_TEST

Suite *tours_suite(void)
{
	Suite *suite = suite_create("tours");
	TCase *all = tcase_create("tours");

	tcase_set_timeout(all, 60);
	tcase_add_loop_test(all, every_step_shows_what_it_should, 0, TOURS);
	suite_add_tcase(suite, all);
	return suite;
}
