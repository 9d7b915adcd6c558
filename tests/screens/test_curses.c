/*
 * The terminal, tested on a pseudo terminal: a child opens the screen and
 * tells through a pipe which keys it got; the parent plays the terminal.
 */
#include <check.h>
#include <locale.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include "tui/curses.h"

Suite *curses_suite(void);

struct stage {
	pid_t child;    /* runs the screen */
	int terminal;   /* the terminal's side of it */
	int keys;       /* what the child tells: one line a key */
	char line[256]; /* the line read last */
};

/* Draws the size and the number of keys so far. */
static void draw(struct canvas *canvas, int count)
{
	struct area area = canvas_area(canvas);

	canvas_clear(canvas);
	canvas_format(canvas, area, 0, 0, INK_TITLE, "%d×%d 漢字 %d", area.rows, area.columns, count);
	canvas_put(canvas, area, 1, 0, INK_BAD, "high: 21.0 ±1.4 °F");
	canvas_fill(canvas, area_part(area, area.rows - 1, 0, 1, area.columns), INK_RULE, '=');
	canvas_set_cursor(canvas, area, 1, 3);
}

static void tell(FILE *report, struct key key)
{
	char name[KEY_NAME_SIZE];

	if (key.press == PRESS_NOTHING)
		return;
	key_write_name(key, name, sizeof name);
	if (key.press == PRESS_RESIZE)
		text_copy(name, sizeof name, "resize");
	if (key.press == PRESS_CLOSE)
		text_copy(name, sizeof name, "close");
	if (key.press == PRESS_CLICK)
		snprintf(name, sizeof name, "click %d %d", key.row, key.column);
	if (key.press == PRESS_WHEEL_UP || key.press == PRESS_WHEEL_DOWN)
		text_copy(name, sizeof name, key.press == PRESS_WHEEL_UP ? "wheel up" : "wheel down");
	fprintf(report, "%s%s\n", key.pasted ? "pasted " : "", name);
	fflush(report);
}

/* The child: shows a canvas and tells every key until it is closed. */
static void run_screen(int keys, const char *locale)
{
	struct key key = key_press(PRESS_NOTHING);
	FILE *report = fdopen(keys, "w");
	struct error error = { .text = "" };
	int rows, columns;

	setlocale(LC_CTYPE, locale);
	if (!report || curses_open(TUI_THEME_AUTO, &error) != STATUS_OK)
		_exit(2);
	struct canvas *canvas = canvas_new(24, 80, curses_is_plain());
	for (int count = 0; canvas && key.press != PRESS_CLOSE; count++) {
		curses_size(&rows, &columns);
		if (rows != canvas_rows(canvas) || columns != canvas_columns(canvas))
			canvas_resize(canvas, rows, columns);
		draw(canvas, count);
		if (!curses_is_pasting())
			curses_show(canvas);
		if (count == 0)
			fprintf(report, "open %d %d\n", rows, columns);
		fflush(report);
		key = curses_read_key(5000);
		tell(report, key);
	}
	canvas_free(canvas);
	curses_close();
	_exit(0);
}

static const char *next_line(struct stage *stage)
{
	size_t length = 0;
	struct pollfd source = { .fd = stage->keys, .events = POLLIN };

	while (length + 1 < sizeof stage->line) {
		if (poll(&source, 1, 5000) <= 0 || read(stage->keys, &stage->line[length], 1) != 1)
			break;
		if (stage->line[length] == '\n')
			break;
		length++;
	}
	stage->line[length] = '\0';
	return stage->line;
}

static void open_stage(struct stage *stage, const char *term, const char *locale)
{
	struct winsize size = { .ws_row = 24, .ws_col = 80 };
	int ends[2];

	ck_assert_int_eq(pipe(ends), 0);
	stage->child = forkpty(&stage->terminal, NULL, NULL, &size);
	ck_assert_int_ge(stage->child, 0);
	if (stage->child == 0) {
		close(ends[0]);
		setenv("TERM", term, 1);
		unsetenv("LC_ALL");
		run_screen(ends[1], locale);
	}
	close(ends[1]);
	stage->keys = ends[0];
	ck_assert_str_eq(next_line(stage), "open 24 80");
}

/* What the screen has written, until it is quiet for a moment. */
static size_t take_output(struct stage *stage, char *output, size_t size)
{
	struct pollfd source = { .fd = stage->terminal, .events = POLLIN };
	size_t length = 0;

	while (length + 1 < size && poll(&source, 1, 100) > 0) {
		ssize_t count = read(stage->terminal, output + length, size - length - 1);
		if (count <= 0)
			break;
		length += (size_t)count;
	}
	output[length] = '\0';
	return length;
}

static void send_bytes(struct stage *stage, const char *bytes)
{
	ck_assert_int_eq((int)write(stage->terminal, bytes, strlen(bytes)), (int)strlen(bytes));
}

/* The child ends by itself and well. */
static void end_stage(struct stage *stage)
{
	int status;

	ck_assert_str_eq(next_line(stage), "close");
	ck_assert_int_eq(waitpid(stage->child, &status, 0), stage->child);
	ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
	close(stage->keys);
}

START_TEST(keys_arrive_as_what_they_are)
{
	static const struct {
		const char *bytes; /* from the terminal */
		const char *key;   /* as told */
	} keys[] = {
		{ "a", "a" }, { "°", "°" }, { "漢", "漢" }, { " ", "Space" },
		{ "\r", "Enter" }, { "\t", "Tab" }, { "\033[Z", "Shift+Tab" },
		{ "\x7f", "Backspace" }, { "\b", "Backspace" }, { "\033[3~", "Del" },
		{ "\033[A", "Up" }, { "\033OB", "Down" }, { "\033[C", "Right" }, { "\033OD", "Left" },
		{ "\033[1;5D", "Ctrl+Left" }, { "\033[1;5C", "Ctrl+Right" },
		{ "\033[H", "Home" }, { "\033[4~", "End" }, { "\033[5~", "PgUp" },
		{ "\033[6~", "PgDn" }, { "\033OP", "F1" }, { "\033[24~", "F12" },
		{ "\x12", "Ctrl+R" }, { "\x03", "Ctrl+C" }, { "\x13", "Ctrl+S" },
		{ "\033s", "Alt+S" }, { "\033", "Esc" }, { "\033[99;99u?", "?" },
		{ "\xff", "\xef\xbf\xbd" }, { "\xc2" "a", "a" }, { "\x1a", "resize" },
	};
	struct stage stage;

	open_stage(&stage, "xterm-256color", "C.UTF-8");
	for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
		send_bytes(&stage, keys[i].bytes);
		ck_assert_str_eq(next_line(&stage), keys[i].key);
	}
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

START_TEST(a_character_may_come_in_pieces)
{
	struct stage stage;

	open_stage(&stage, "xterm", "C.UTF-8");
	send_bytes(&stage, "\xc2");
	usleep(30000);
	send_bytes(&stage, "\xb0");
	ck_assert_str_eq(next_line(&stage), "°");
	kill(stage.child, SIGHUP);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

START_TEST(a_paste_is_text_and_never_a_command)
{
	static const char *const told[] = {
		"pasted a", "pasted Space", "pasted b", "pasted Space", "pasted [", "pasted A",
		"pasted °", "Enter",
	};
	struct stage stage;

	open_stage(&stage, "xterm-256color", "C.UTF-8");
	send_bytes(&stage, "\033[200~a\rb\t\x03\033[9A°\033[201~\r");
	for (size_t i = 0; i < 6; i++) {
		const char *line = next_line(&stage);
		/* The escape is dropped; what follows it is only text. */
		if (strcmp(line, "pasted 9") == 0)
			line = next_line(&stage);
		ck_assert_str_eq(line, told[i]);
	}
	ck_assert_str_eq(next_line(&stage), told[6]);
	ck_assert_str_eq(next_line(&stage), told[7]);
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

/* Of a long paste as much as any text could hold is handed on, and the key behind it is heard. */
START_TEST(a_long_paste_is_cut_and_what_follows_is_heard)
{
	enum { PIECES = 50 };
	char piece[1001];
	struct stage stage;
	int keys = 0;

	memset(piece, 'x', sizeof piece - 1);
	piece[sizeof piece - 1] = '\0';
	open_stage(&stage, "xterm-256color", "C.UTF-8");
	pid_t writer = fork();
	if (writer == 0) {
		ssize_t written = write(stage.terminal, "\033[200~", 6);
		for (int i = 0; i < PIECES && written > 0; i++)
			written = write(stage.terminal, piece, sizeof piece - 1);
		/* In one piece with the end of the paste, as a quick hand or a script sends it. */
		static const char behind[] = "end\033[201~\r\033[A\303\251q\033OP";
		written = written > 0 ? write(stage.terminal, behind, sizeof behind - 1) : 0;
		_exit(written == sizeof behind - 1 ? 0 : 1);
	}
	while (strcmp(next_line(&stage), "pasted x") == 0)
		keys++;
	ck_assert_str_eq(stage.line, "Enter");
	ck_assert_int_eq(keys, 4096);
	ck_assert_str_eq(next_line(&stage), "Up");
	ck_assert_str_eq(next_line(&stage), "é");
	ck_assert_str_eq(next_line(&stage), "q");
	ck_assert_str_eq(next_line(&stage), "F1");
	waitpid(writer, NULL, 0);
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

START_TEST(a_paste_without_end_is_over_after_silence)
{
	struct stage stage;

	open_stage(&stage, "xterm-256color", "C.UTF-8");
	send_bytes(&stage, "\033[200~a");
	ck_assert_str_eq(next_line(&stage), "pasted a");
	usleep(700000);
	send_bytes(&stage, "\r");
	ck_assert_str_eq(next_line(&stage), "Enter");
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

START_TEST(only_what_changed_is_written)
{
	char output[16384];
	struct stage stage;

	open_stage(&stage, "xterm-256color", "C.UTF-8");
	size_t whole = take_output(&stage, output, sizeof output);
	ck_assert_ptr_nonnull(strstr(output, "24×80 漢字 0"));
	ck_assert_ptr_nonnull(strstr(output, "±1.4"));
	ck_assert_ptr_nonnull(strstr(output, "\033[?2004h"));
	send_bytes(&stage, "x");
	ck_assert_str_eq(next_line(&stage), "x");
	size_t changed = take_output(&stage, output, sizeof output);
	ck_assert_ptr_nonnull(strstr(output, "1"));
	ck_assert_ptr_null(strstr(output, "±1.4"));
	ck_assert_uint_lt(changed, 60);
	ck_assert_uint_gt(whole, 5 * changed);
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	take_output(&stage, output, sizeof output);
	ck_assert_ptr_nonnull(strstr(output, "\033[?2004l"));
	ck_assert_ptr_nonnull(strstr(output, "\033[?1049l"));
	close(stage.terminal);
}
END_TEST

START_TEST(resizing_draws_again_at_the_new_size)
{
	struct winsize size = { .ws_row = 30, .ws_col = 100 };
	char output[32768];
	struct stage stage;

	open_stage(&stage, "xterm-256color", "C.UTF-8");
	take_output(&stage, output, sizeof output);
	ck_assert_int_eq(ioctl(stage.terminal, TIOCSWINSZ, &size), 0);
	ck_assert_str_eq(next_line(&stage), "resize");
	take_output(&stage, output, sizeof output);
	ck_assert_ptr_nonnull(strstr(output, "30×100"));
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

/* Whether what was written up to a place leaves the terminal writing bold. */
static bool is_bold(const char *output, const char *place)
{
	bool bold = false;

	for (const char *at = output; (at = strstr(at, "\033[")) != NULL && at < place;) {
		const char *end = at + 2 + strspn(at + 2, "0123456789;");
		for (at += 2; *end == 'm' && at <= end; at += strcspn(at, ";m") + 1) {
			int number = atoi(at);
			bold = number == 1 || (bold && number != 0);
		}
		at = end;
	}
	return bold;
}

START_TEST(colours_are_those_of_the_terminal)
{
	static const struct {
		const char *term;   /* kind of terminal */
		const char *red;    /* how INK_BAD sets its colour */
		bool no_color;      /* NO_COLOR is set */
		const char *ground; /* COLORFGBG */
	} terminals[] = {
		/* The ground is not known: what can be read on both. */
		{ "xterm-256color", "38;5;131", false, "" },
		{ "xterm-direct", "38:2::175:95:95", false, "" },
		{ "xterm", NULL, false, "" },
		/* Known: a light one, a dark one. */
		{ "xterm-256color", "38;5;124", false, "0;15" },
		{ "xterm-256color", "38;5;209", false, "15;0" },
		{ "xterm-direct", "38:2::175:0:0", false, "0;15" },
		{ "xterm", "31", false, "0;15" },
		{ "xterm-16color", "91", false, "15;0" },
		{ "linux", "33", false, "" },
		{ "vt100", NULL, false, "" },
		{ "xterm-256color", NULL, true, "" },
	};
	char output[16384];
	struct stage stage;

	for (size_t i = 0; i < sizeof terminals / sizeof *terminals; i++) {
		setenv("NO_COLOR", terminals[i].no_color ? "1" : "", 1);
		setenv("COLORFGBG", terminals[i].ground, 1);
		open_stage(&stage, terminals[i].term, "C.UTF-8");
		take_output(&stage, output, sizeof output);
		if (terminals[i].red)
			ck_assert_msg(strstr(output, terminals[i].red) != NULL, "%s on \"%s\"", terminals[i].term,
			              terminals[i].ground);
		else
			ck_assert(!strstr(output, "38;5;") && !strstr(output, "[31") && !strstr(output, "[33"));
		const char *high = strstr(output, "high");
		ck_assert_ptr_nonnull(high);
		/* Bold would make eight-colour red brighter: 4.0 to 1 on white. */
		ck_assert(strcmp(terminals[i].term, "xterm") != 0 || !terminals[i].red ||
		          !is_bold(output, high));
		kill(stage.child, SIGTERM);
		end_stage(&stage);
		close(stage.terminal);
	}
}
END_TEST

START_TEST(without_utf8_everything_is_ascii)
{
	char output[16384];
	struct stage stage;

	open_stage(&stage, "xterm", "C");
	size_t length = take_output(&stage, output, sizeof output);
	ck_assert_ptr_nonnull(strstr(output, "21.0 +-1.4 F"));
	for (size_t i = 0; i < length; i++)
		ck_assert((unsigned char)output[i] < 0x80);
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

/* Letters that cannot be shown there are still letters: kept as typed, shown as "?". */
START_TEST(without_utf8_letters_are_still_those_that_were_typed)
{
	static const char *const letters[] = { "é", "ß", "漢", "°", "a" };
	struct stage stage;

	open_stage(&stage, "xterm", "C");
	for (size_t i = 0; i < sizeof letters / sizeof *letters; i++) {
		send_bytes(&stage, letters[i]);
		ck_assert_str_eq(next_line(&stage), letters[i]);
	}
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

/* A byte that is no UTF-8 is a letter of Latin-1 (ISO 8859-1: 0xe9 é, 0xdf ß, 0xfc ü, 0xb0 °). */
START_TEST(without_utf8_a_letter_of_one_byte_is_kept)
{
	static const char *const told[] = {
		"b", "é", "t", "ü", "ß", "e", "é", "Enter", "°", "C", "é", "ü",
	};
	struct stage stage;

	open_stage(&stage, "xterm", "C");
	send_bytes(&stage, "b\xe9t\xfc\xdf" "e\xe9\r\xb0" "C\xc3\xa9\xfc");
	for (size_t i = 0; i < sizeof told / sizeof *told; i++)
		ck_assert_str_eq(next_line(&stage), told[i]);
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

/* In the two ways in which terminals tell it (xterm's control sequences, "Mouse Tracking"). */
START_TEST(the_mouse_is_heard)
{
	static const struct {
		const char *term;                /* kind of terminal */
		const char *click, *release;     /* of the first button at row 5, column 10, from 0 */
		const char *wheel_up, *wheel_down;
	} ways[] = {
		{ "xterm-256color", "\033[<0;11;6M", "\033[<0;11;6m", "\033[<64;11;6M", "\033[<65;11;6M" },
		{ "screen-256color", "\033[M +&", "\033[M#+&", "\033[M`+&", "\033[Ma+&" },
	};
	struct stage stage;

	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
		open_stage(&stage, ways[i].term, "C.UTF-8");
		send_bytes(&stage, ways[i].click);
		ck_assert_str_eq(next_line(&stage), "click 5 10");
		send_bytes(&stage, ways[i].release);
		send_bytes(&stage, ways[i].wheel_up);
		ck_assert_str_eq(next_line(&stage), "wheel up");
		send_bytes(&stage, ways[i].wheel_down);
		ck_assert_str_eq(next_line(&stage), "wheel down");
		kill(stage.child, SIGTERM);
		end_stage(&stage);
		close(stage.terminal);
	}
}
END_TEST

START_TEST(a_vanished_terminal_closes)
{
	struct stage stage;

	open_stage(&stage, "xterm", "C.UTF-8");
	close(stage.terminal);
	end_stage(&stage);
}
END_TEST

START_TEST(no_terminal_is_refused_with_a_sentence)
{
	struct error error = { .text = "" };
	int null[2];

	ck_assert_int_eq(pipe(null), 0);
	ck_assert_int_eq(dup2(null[0], STDIN_FILENO), STDIN_FILENO);
	ck_assert_int_eq(curses_open(TUI_THEME_AUTO, &error), STATUS_NO_TERMINAL);
	ck_assert_ptr_nonnull(strstr(error.text, "needs a terminal"));
	curses_close();
}
END_TEST

/* On a pseudo terminal: the child tells the sentence. */
static void refuse_kind(const char *term, const char *expected)
{
	struct stage stage;
	int ends[2];

	ck_assert_int_eq(pipe(ends), 0);
	stage.child = forkpty(&stage.terminal, NULL, NULL, NULL);
	ck_assert_int_ge(stage.child, 0);
	if (stage.child == 0) {
		struct error error = { .text = "" };
		setenv("TERM", term, 1);
		enum status status = curses_open(TUI_THEME_AUTO, &error);
		dprintf(ends[1], "%s\n", error.text);
		_exit(status == STATUS_NO_TERMINAL ? 0 : 1);
	}
	stage.keys = ends[0];
	ck_assert_msg(strstr(next_line(&stage), expected) != NULL, "%s: %s", term, stage.line);
	waitpid(stage.child, NULL, 0);
	close(stage.terminal);
	close(ends[0]);
	close(ends[1]);
}

START_TEST(a_terminal_that_cannot_be_drawn_on_is_refused_with_a_sentence)
{
	refuse_kind("dumb", "has no page to draw on");
	refuse_kind("no-such-terminal", "is not known here");
	refuse_kind("", "is not known here");
}
END_TEST

START_TEST(key_names_go_both_ways)
{
	static const char *const names[] = {
		"Enter", "Esc", "Ctrl+R", "Alt+S", "F12", "Space", "Ctrl+Left", "a", "F", "°", "Shift+Tab",
	};
	char name[KEY_NAME_SIZE];
	struct key key;

	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		ck_assert(key_from_name(names[i], &key));
		key_write_name(key, name, sizeof name);
		ck_assert_str_eq(name, names[i]);
	}
	ck_assert(key_equal(key_ctrl('r'), key_ctrl('r')));
	ck_assert(!key_equal(key_ctrl('r'), key_character('r')));
	ck_assert(!key_from_name("Ctrl+", &key));
	ck_assert(!key_from_name("F13", &key));
	ck_assert(!key_from_name("", &key));
}
END_TEST

Suite *curses_suite(void)
{
	Suite *suite = suite_create("curses");
	TCase *tests = tcase_create("curses");

	tcase_set_timeout(tests, 60);
	tcase_add_test(tests, keys_arrive_as_what_they_are);
	tcase_add_test(tests, a_character_may_come_in_pieces);
	tcase_add_test(tests, a_paste_is_text_and_never_a_command);
	tcase_add_test(tests, a_long_paste_is_cut_and_what_follows_is_heard);
	tcase_add_test(tests, a_paste_without_end_is_over_after_silence);
	tcase_add_test(tests, only_what_changed_is_written);
	tcase_add_test(tests, resizing_draws_again_at_the_new_size);
	tcase_add_test(tests, colours_are_those_of_the_terminal);
	tcase_add_test(tests, without_utf8_everything_is_ascii);
	tcase_add_test(tests, without_utf8_letters_are_still_those_that_were_typed);
	tcase_add_test(tests, without_utf8_a_letter_of_one_byte_is_kept);
	tcase_add_test(tests, the_mouse_is_heard);
	tcase_add_test(tests, a_vanished_terminal_closes);
	tcase_add_test(tests, no_terminal_is_refused_with_a_sentence);
	tcase_add_test(tests, a_terminal_that_cannot_be_drawn_on_is_refused_with_a_sentence);
	tcase_add_test(tests, key_names_go_both_ways);
	suite_add_tcase(suite, tests);
	return suite;
}
