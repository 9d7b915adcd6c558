/*
 * The terminal, tested on a pseudo terminal: a child opens the screen and
 * tells through a pipe which keys it got; the parent plays the terminal.
 */
#include <check.h>
#include <fcntl.h>
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

#define NCURSES_WIDECHAR 1
#include <curses.h>

#include <padside/base/text.h>

#include "support/golden.h"
#include "support/key_name.h"
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

/*
 * Whatever the description of the terminal says: as xterm, rxvt, the text console of Linux and
 * terminals behind ssh and multiplexers send them (console_codes(4); xterm's control sequences,
 * "PC-Style Function Keys"; rxvt's reference, "Key Codes").
 */
START_TEST(every_sequence_is_its_key)
{
	static const struct {
		const char *key;       /* as told */
		const char *bytes[6];  /* the ways to send it; NULL behind the last */
	} keys[] = {
		{ "Up", { "\033[A", "\033OA" } }, { "Down", { "\033[B", "\033OB" } },
		{ "Right", { "\033[C", "\033OC" } }, { "Left", { "\033[D", "\033OD" } },
		{ "Home", { "\033[H", "\033OH", "\033[1~", "\033[7~" } },
		{ "End", { "\033[F", "\033OF", "\033[4~", "\033[8~" } },
		{ "Ins", { "\033[2~" } }, { "Del", { "\033[3~" } },
		{ "PgUp", { "\033[5~" } }, { "PgDn", { "\033[6~" } },
		{ "Shift+Tab", { "\033[Z" } }, { "Enter", { "\033OM", "\r", "\n" } },
		{ "Ctrl+Left", { "\033[1;5D", "\033[1;3D", "\033Od", "\033[5D" } },
		{ "Ctrl+Right", { "\033[1;5C", "\033[1;3C", "\033Oc", "\033[5C" } },
		{ "F1", { "\033OP", "\033[11~", "\033[[A" } }, { "F2", { "\033OQ", "\033[12~", "\033[[B" } },
		{ "F3", { "\033OR", "\033[13~", "\033[[C" } }, { "F4", { "\033OS", "\033[14~", "\033[[D" } },
		{ "F5", { "\033[15~", "\033[[E" } }, { "F6", { "\033[17~" } }, { "F7", { "\033[18~" } },
		{ "F8", { "\033[19~" } }, { "F9", { "\033[20~" } }, { "F10", { "\033[21~" } },
		{ "F11", { "\033[23~" } }, { "F12", { "\033[24~" } },
		{ "Backspace", { "\x7f", "\b" } }, { "Tab", { "\t" } }, { "Space", { " " } },
		{ "Alt+!", { "\033!" } }, { "Alt+~", { "\033~" } }, { "Alt+.", { "\033." } },
		{ "Alt+-", { "\033-" } }, { "Ctrl+A", { "\x01" } }, { "Ctrl+Y", { "\x19" } },
		{ "Ctrl+\\", { "\x1c" } }, { "Ctrl+]", { "\x1d" } }, { "Ctrl+_", { "\x1f" } },
	};
	static const char *const terms[] = { "xterm-256color", "linux", "vt100" };
	struct stage stage;

	open_stage(&stage, terms[_i], "C.UTF-8");
	for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
		for (size_t j = 0; j < 6 && keys[i].bytes[j]; j++) {
			send_bytes(&stage, keys[i].bytes[j]);
			ck_assert_msg(strcmp(next_line(&stage), keys[i].key) == 0, "%s, %s the %zu.: %s", terms[_i],
			              keys[i].key, j + 1, stage.line);
		}
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

/* A character that Escape stands before is Alt; a space or a control key is none. */
START_TEST(escape_before_another_key_is_both)
{
	struct stage stage;

	open_stage(&stage, "xterm-256color", "C.UTF-8");
	send_bytes(&stage, "\033 \033\rx");
	ck_assert_str_eq(next_line(&stage), "Esc");
	ck_assert_str_eq(next_line(&stage), "Space");
	ck_assert_str_eq(next_line(&stage), "Esc");
	ck_assert_str_eq(next_line(&stage), "Enter");
	ck_assert_str_eq(next_line(&stage), "x");
	/* What nobody knows is read over to its end, and no letter of it is typed. */
	send_bytes(&stage, "\033[99;5~y\033[?1@z\033O0~a");
	ck_assert_str_eq(next_line(&stage), "y");
	ck_assert_str_eq(next_line(&stage), "z");
	ck_assert_str_eq(next_line(&stage), "a");
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}
END_TEST

/* UTF-8 of one to four bytes, at both ends of each (RFC 3629, 4); what breaks off is one mark. */
START_TEST(characters_of_every_length_arrive)
{
	static const char *const letters[] = {
		"~", "\xc2\xa1", "\xdf\xbf", "\xe0\xa0\x80", "\xef\xbf\xbd", "\xf0\x90\x80\x80",
		"\xf3\xb0\x80\x80",
	};
	struct stage stage;

	open_stage(&stage, "xterm-256color", "C.UTF-8");
	for (size_t i = 0; i < sizeof letters / sizeof *letters; i++) {
		send_bytes(&stage, letters[i]);
		ck_assert_str_eq(next_line(&stage), letters[i]);
	}
	send_bytes(&stage, "\xf5" "a\xe2\x82" "b");
	ck_assert_str_eq(next_line(&stage), "\xef\xbf\xbd");
	ck_assert_str_eq(next_line(&stage), "a");
	ck_assert_str_eq(next_line(&stage), "b");
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
		/*
		 * In one piece with the end of the paste, as a quick hand or a script sends it; what only
		 * begins like that end is none.
		 */
		static const char behind[] = "\033[20x\033[\033[201~\r\033[A\303\251q\033OP";
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

/* ---- What an ink is on a terminal ---- */

static const char *const ink_names[INK_COUNT] = {
#define INK(id, ...) [INK_##id] = #id,
#include "tui/ink.def"
#undef INK
};

/* Each ink as it is, reversed, and underlined, a row each: "BAD/ BAD- BAD_". */
static void draw_inks(struct canvas *canvas)
{
	struct area area = canvas_area(canvas);

	canvas_clear(canvas);
	for (int i = 0; i < INK_COUNT; i++) {
		unsigned ink = (unsigned)i;
		canvas_format(canvas, area, i, 0, ink, "%s/", ink_names[i]);
		canvas_format(canvas, area, i, 20, ink | STYLE_REVERSE, "%s-", ink_names[i]);
		canvas_format(canvas, area, i, 40, ink | STYLE_UNDERLINE, "%s_", ink_names[i]);
	}
}

/* The child: shows the inks and waits to be closed. */
static void run_inks(int keys, enum tui_theme theme)
{
	struct error error = { .text = "" };

	setlocale(LC_CTYPE, "C.UTF-8");
	if (curses_open(theme, &error) != STATUS_OK)
		_exit(2);
	struct canvas *canvas = canvas_new(24, 80, curses_is_plain());
	draw_inks(canvas);
	curses_show(canvas);
	dprintf(keys, "open 24 80\n");
	while (curses_read_key(5000).press != PRESS_CLOSE)
		;
	canvas_free(canvas);
	curses_close();
	dprintf(keys, "close\n");
	_exit(0);
}

/* What the terminal writes with, by the attributes it was told (ECMA-48, 8.3.117 SGR). */
struct pen {
	char colour[32];                /* "" its own */
	bool bold, underline, reversed; /* and so */
};

/* One attribute, and of a colour what belongs to it; returns what stands behind. */
static const char *take_attribute(struct pen *pen, const char *at)
{
	char *end;
	long number = strtol(at, &end, 10);

	if (number == 0)
		*pen = (struct pen){ .colour = "" };
	pen->bold = pen->bold ? number != 22 : number == 1;
	pen->underline = pen->underline ? number != 24 : number == 4;
	pen->reversed = pen->reversed ? number != 27 : number == 7;
	if (number == 39)
		pen->colour[0] = '\0';
	if ((number >= 30 && number < 38) || (number >= 90 && number < 98))
		snprintf(pen->colour, sizeof pen->colour, "%ld", number);
	if (number == 38) {
		size_t length = strcspn(end, "m");
		snprintf(pen->colour, sizeof pen->colour, "38%.*s", (int)length, end);
		end += length;
	}
	return *end == ';' ? end + 1 : end;
}

/* Takes a sequence that begins at `at`; returns what stands behind. */
static const char *take_sequence(struct pen *pen, const char *at)
{
	const char *begin = at + 2, *end;

	if (at[1] == '(' || at[1] == ')')
		return at + 3;
	if (at[1] != '[')
		return at + 2;
	end = begin + strspn(begin, "0123456789;:?<>=!");
	if (*end == 'm' && begin == end)
		*pen = (struct pen){ .colour = "" };
	while (*end == 'm' && begin < end)
		begin = take_attribute(pen, begin);
	return end + 1;
}

/* "BAD/ 38;5;124 bold", a line a word. */
static void describe_inks(const char *output, struct text *text)
{
	struct pen pen = { .colour = "" };
	char word[32];

	for (const char *at = output; *at;) {
		size_t length = strspn(at, "ABCDEFGHIJKLMNOPQRSTUVWXYZ_");
		if (*at == '\033') {
			at = take_sequence(&pen, at);
			continue;
		}
		/* The underline behind the word is taken with it. */
		length += length > 0 && at[length] && strchr("/-", at[length]);
		if (length > 2) {
			snprintf(word, sizeof word, "%.*s", (int)length, at);
			text_add_format(text, "  %-14s%s%s%s%s%s\n", word, pen.colour, pen.bold ? " bold" : "",
			                pen.underline ? " underlined" : "", pen.reversed ? " reversed" : "",
			                *pen.colour || pen.bold || pen.underline || pen.reversed ? "" : " plain");
		}
		at += length > 0 ? length : 1;
	}
}

static void look_at_inks(const char *term, enum tui_theme theme, const char *ground,
                         struct text *text)
{
	struct winsize size = { .ws_row = 24, .ws_col = 80 };
	char output[32768];
	struct stage stage;
	int ends[2];

	ck_assert_int_eq(pipe(ends), 0);
	setenv("COLORFGBG", ground, 1);
	stage.child = forkpty(&stage.terminal, NULL, NULL, &size);
	ck_assert_int_ge(stage.child, 0);
	if (stage.child == 0) {
		setenv("TERM", term, 1);
		unsetenv("LC_ALL");
		run_inks(ends[1], theme);
	}
	close(ends[1]);
	stage.keys = ends[0];
	ck_assert_str_eq(next_line(&stage), "open 24 80");
	take_output(&stage, output, sizeof output);
	describe_inks(output, text);
	kill(stage.child, SIGTERM);
	end_stage(&stage);
	close(stage.terminal);
}

/* Every ink on every kind of terminal, on grounds that are known and that are not. */
START_TEST(every_ink_is_what_its_table_says)
{
	static const struct {
		const char *term;     /* kind of terminal */
		enum tui_theme theme; /* asked for */
		const char *ground;   /* COLORFGBG */
	} ways[] = {
		{ "xterm-256color", TUI_THEME_AUTO, "" }, { "xterm-256color", TUI_THEME_LIGHT, "" },
		{ "xterm-256color", TUI_THEME_DARK, "" }, { "xterm-256color", TUI_THEME_MONO, "" },
		{ "xterm-256color", TUI_THEME_AUTO, "0;7" }, { "xterm-256color", TUI_THEME_AUTO, "0;8" },
		{ "xterm-256color", TUI_THEME_AUTO, "0;9" }, { "xterm-256color", TUI_THEME_AUTO, "7;default" },
		{ "xterm", TUI_THEME_AUTO, "" }, { "xterm", TUI_THEME_LIGHT, "" },
		{ "xterm", TUI_THEME_DARK, "" }, { "xterm-16color", TUI_THEME_LIGHT, "" },
		{ "xterm-16color", TUI_THEME_DARK, "" }, { "linux", TUI_THEME_AUTO, "" },
		{ "vt100", TUI_THEME_DARK, "" },
	};
	static const char *const themes[TUI_THEME_COUNT] = {
		[TUI_THEME_AUTO] = "auto", [TUI_THEME_LIGHT] = "light", [TUI_THEME_DARK] = "dark",
		[TUI_THEME_MONO] = "mono",
	};
	struct text text;

	unsetenv("NO_COLOR");
	text_init(&text);
	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
		text_add_format(&text, "%s, %s, ground \"%s\"\n", ways[i].term, themes[ways[i].theme],
		                ways[i].ground);
		look_at_inks(ways[i].term, ways[i].theme, ways[i].ground, &text);
	}
	golden_check_text("screens/golden", "terminal-inks.txt", text_get(&text));
	text_done(&text);
}
END_TEST

/* ---- What the library was handed ---- */

/* Draws something at random over what is there: letters, wide ones, marks, blanks. */
static void scribble(struct canvas *canvas)
{
	static const char *const words[] = {
		"plain words", "漢字漢字漢字", "a漢b字c", "e\xcc\x81 u\xcc\x88", "±1.4 °F", "─────", " ", "字", "x",
		"\xf0\x9f\x98\x80 face", "           ",
	};
	struct area area = canvas_area(canvas);
	int times = 1 + rand() % 6;

	for (int i = 0; i < times; i++)
		canvas_put(canvas, area, rand() % area.rows, rand() % area.columns,
		           (unsigned)(rand() % INK_COUNT) | (rand() % 4 ? 0 : STYLE_REVERSE) |
		           (rand() % 4 ? 0 : STYLE_UNDERLINE), words[rand() % (int)(sizeof words / sizeof *words)]);
}

/* The first cell that the library has another way than the canvas; false for none. */
static bool find_other(const struct canvas *canvas, char *words, size_t size)
{
	int rows, columns;

	curses_size(&rows, &columns);
	for (int row = 0; row < rows; row++)
		for (int column = 0; column < columns; column++) {
			const struct canvas_cell *cell = canvas_at(canvas, row, column);
			/* Half of a wide letter at the edge of the window is blank. */
			bool is_half = cell->width == 2 && column + 1 == columns;
			uint32_t wanted = is_half ? ' ' : cell->character, mark = is_half ? 0 : cell->mark;
			wchar_t letters[CCHARW_MAX + 1] = { 0 };
			attr_t attributes;
			short pair;
			cchar_t drawn;
			mvin_wch(row, column, &drawn);
			getcchar(&drawn, letters, &attributes, &pair, NULL);
			bool reversed = (cell->style & STYLE_REVERSE) != 0;
			bool is_plain = (cell->style & STYLE_INK) == INK_PLAIN;
			/* The right half has no letter of its own. */
			if (cell->width == 0 || ((uint32_t)letters[0] == wanted && (uint32_t)letters[1] == mark &&
			                         (!is_plain || reversed == ((attributes & A_REVERSE) != 0))))
				continue;
			snprintf(words, size, "row %d, column %d: %x %x for %x %x", row, column,
			         (unsigned)letters[0], (unsigned)letters[1], wanted, mark);
			return true;
		}
	return false;
}

/* The child: many pages, each another by a few words; tells the first cell that is wrong. */
static void run_scribbles(int keys)
{
	struct error error = { .text = "" };
	char words[200] = "";

	setlocale(LC_CTYPE, "C.UTF-8");
	if (curses_open(TUI_THEME_AUTO, &error) != STATUS_OK)
		_exit(2);
	struct canvas *canvas = canvas_new(5, 24, false);
	srand(11);
	for (int i = 0; i < 3000 && !*words; i++) {
		if (i % 50 == 0)
			canvas_clear(canvas);
		scribble(canvas);
		canvas_set_cursor(canvas, canvas_area(canvas), rand() % 7, rand() % 30);
		struct canvas_cursor cursor = canvas_get_cursor(canvas);
		curses_show(canvas);
		int row, column;
		getyx(stdscr, row, column);
		if (cursor.visible && cursor.row < getmaxy(stdscr) && cursor.column < getmaxx(stdscr) &&
		    (row != cursor.row || column != cursor.column))
			snprintf(words, sizeof words, "cursor at %d %d for %d %d", row, column, cursor.row, cursor.column);
		else
			find_other(canvas, words, sizeof words);
	}
	canvas_free(canvas);
	curses_close();
	dprintf(keys, "%s\n", *words ? words : "the same");
	_exit(0);
}

/* Whatever was changed, the library has the page, as much of it as the window shows. */
START_TEST(what_is_handed_on_is_the_page)
{
	struct winsize size = { .ws_row = _i ? 4 : 5, .ws_col = _i ? 21 : 24 };
	char output[4096];
	struct stage stage;
	int ends[2];

	ck_assert_int_eq(pipe(ends), 0);
	stage.child = forkpty(&stage.terminal, NULL, NULL, &size);
	ck_assert_int_ge(stage.child, 0);
	if (stage.child == 0) {
		setenv("TERM", "xterm-256color", 1);
		unsetenv("LC_ALL");
		run_scribbles(ends[1]);
	}
	close(ends[1]);
	stage.keys = ends[0];
	while (read(stage.terminal, output, sizeof output) > 0)
		;
	ck_assert_str_eq(next_line(&stage), "the same");
	waitpid(stage.child, NULL, 0);
	close(stage.terminal);
	close(stage.keys);
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

/* A terminal to read from and a file to write into are no terminal, nor the other way. */
START_TEST(half_a_terminal_is_none)
{
	struct stage stage;
	int ends[2];

	ck_assert_int_eq(pipe(ends), 0);
	stage.child = forkpty(&stage.terminal, NULL, NULL, NULL);
	ck_assert_int_ge(stage.child, 0);
	if (stage.child == 0) {
		struct error error = { .text = "" };
		setenv("TERM", "xterm", 1);
		int file = open("/dev/null", O_RDWR);
		dup2(file, _i ? STDIN_FILENO : STDOUT_FILENO);
		curses_check(&error);
		dprintf(ends[1], "%s\n", error.text);
		_exit(0);
	}
	stage.keys = ends[0];
	ck_assert_str_eq(next_line(&stage), "The workbook needs a terminal to write on; nothing was changed. "
	                 "See padside --help for what works without one.");
	waitpid(stage.child, NULL, 0);
	close(stage.terminal);
	close(ends[0]);
	close(ends[1]);
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
	refuse_kind("dumb", "cannot show full pages");
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
	/* Found by random bytes: a number beyond all was some function key. */
	ck_assert(!key_from_name("F64444444444444444444444444444444", &key));
	ck_assert(!key_from_name("F1x", &key));
	ck_assert(!key_from_name("", &key));
}
END_TEST

Suite *curses_suite(void)
{
	Suite *suite = suite_create("curses");
	TCase *tests = tcase_create("curses");

	tcase_set_timeout(tests, 60);
	tcase_add_test(tests, keys_arrive_as_what_they_are);
	tcase_add_loop_test(tests, every_sequence_is_its_key, 0, 3);
	tcase_add_test(tests, escape_before_another_key_is_both);
	tcase_add_test(tests, characters_of_every_length_arrive);
	tcase_add_test(tests, a_character_may_come_in_pieces);
	tcase_add_test(tests, a_paste_is_text_and_never_a_command);
	tcase_add_test(tests, a_long_paste_is_cut_and_what_follows_is_heard);
	tcase_add_test(tests, a_paste_without_end_is_over_after_silence);
	tcase_add_test(tests, only_what_changed_is_written);
	tcase_add_test(tests, resizing_draws_again_at_the_new_size);
	tcase_add_test(tests, colours_are_those_of_the_terminal);
	tcase_add_test(tests, every_ink_is_what_its_table_says);
	tcase_add_loop_test(tests, what_is_handed_on_is_the_page, 0, 2);
	tcase_add_test(tests, without_utf8_everything_is_ascii);
	tcase_add_test(tests, without_utf8_letters_are_still_those_that_were_typed);
	tcase_add_test(tests, without_utf8_a_letter_of_one_byte_is_kept);
	tcase_add_test(tests, the_mouse_is_heard);
	tcase_add_test(tests, a_vanished_terminal_closes);
	tcase_add_test(tests, no_terminal_is_refused_with_a_sentence);
	tcase_add_loop_test(tests, half_a_terminal_is_none, 0, 2);
	tcase_add_test(tests, a_terminal_that_cannot_be_drawn_on_is_refused_with_a_sentence);
	tcase_add_test(tests, key_names_go_both_ways);
	suite_add_tcase(suite, tests);
	return suite;
}
