/*
 * The terminal, by way of curses.
 *
 * Output: a copy of what was shown last tells which cells of each row have
 * changed; only those are handed to curses, which works out the bytes.
 *
 * Input: signals write a byte into a pipe, and the wait for a key watches the
 * pipe together with the terminal, so that no signal can slip in between
 * "is there a key?" and "wait for one".  UTF-8 is put together here, because a
 * character may arrive in two packets over a slow link.
 */
#include "tui/curses.h"

#include <ctype.h>
#include <errno.h>
#include <fcntl.h>
#include <langinfo.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>
#include <wchar.h>

/* setcchar() and the wide functions are asked for by this name. */
#define NCURSES_WIDECHAR 1
#include <curses.h>
#include <term.h>
/* A capability's short name for everybody, and a good name of a variable. */
#undef columns

#include <padside/base/glyph.h>

enum {
	ESCAPE_WAIT_MS = 25, /* how long the rest of an escape sequence may take */
	PASTE_WAIT_MS = 500, /* a paste whose end was lost is over after this silence */
	PASTE_MOST = 4096,   /* bytes of a paste that are handed on: more than any text holds */
	PIECES_WAIT_MS = 50, /* how long the rest of a character may take where it may be one byte */
	READ_SIZE = 4096,    /* bytes that are read over at once */
	ROW_LIMIT = 1000,    /* cells of a row, as in the canvas */
	ROOM_SIZE = 100000,  /* bytes: more than a page takes to draw */
};

/* Codes of our own for sequences that curses has no name for. */
enum {
	CODE_WORD_LEFT = KEY_MAX + 1,
	CODE_WORD_RIGHT,
	CODE_PASTE_BEGIN,
	CODE_PASTE_END,
};

enum {
	WEIGHT_NORMAL = 0,
	WEIGHT_BOLD = 2,
	WEIGHT_UNDERLINE = 4,
	WEIGHT_REVERSE = 8,
};

enum { COLOR_DEFAULT = -1 };

struct ink_look {
	short light8, dark8;              /* with 8 colours; COLOR_DEFAULT for the terminal's own */
	short dark16;                     /* with 16 */
	short light256, dark256, both256; /* with 256, of which direct colours are made too */
	int weight;                       /* with colours */
	int plain_weight;                 /* without */
};

static const struct ink_look looks[INK_COUNT] = {
#define INK(id, letter, light8_, dark8_, dark16_, light256_, dark256_, both256_, weight_, plain_) \
	[INK_##id] = { COLOR_##light8_, COLOR_##dark8_, dark16_, light256_, dark256_, both256_, \
	               WEIGHT_##weight_, WEIGHT_##plain_ },
#include "tui/ink.def"
#undef INK
};

/*
 * Sequences that terminals send for these keys, whatever the terminal
 * description says: descriptions and terminals disagree, above all through
 * ssh and terminal multiplexers.
 */
static const struct {
	const char *bytes; /* the sequence */
	int code;          /* the key */
} sequences[] = {
	{ "\033[A", KEY_UP }, { "\033OA", KEY_UP },
	{ "\033[B", KEY_DOWN }, { "\033OB", KEY_DOWN },
	{ "\033[C", KEY_RIGHT }, { "\033OC", KEY_RIGHT },
	{ "\033[D", KEY_LEFT }, { "\033OD", KEY_LEFT },
	{ "\033[H", KEY_HOME }, { "\033OH", KEY_HOME }, { "\033[1~", KEY_HOME },
	{ "\033[7~", KEY_HOME },
	{ "\033[F", KEY_END }, { "\033OF", KEY_END }, { "\033[4~", KEY_END },
	{ "\033[8~", KEY_END },
	{ "\033[2~", KEY_IC }, { "\033[3~", KEY_DC },
	{ "\033[5~", KEY_PPAGE }, { "\033[6~", KEY_NPAGE },
	{ "\033[Z", KEY_BTAB },
	{ "\033OM", KEY_ENTER },
	{ "\033[1;5D", CODE_WORD_LEFT }, { "\033[1;3D", CODE_WORD_LEFT },
	{ "\033Od", CODE_WORD_LEFT }, { "\033[5D", CODE_WORD_LEFT },
	{ "\033[1;5C", CODE_WORD_RIGHT }, { "\033[1;3C", CODE_WORD_RIGHT },
	{ "\033Oc", CODE_WORD_RIGHT }, { "\033[5C", CODE_WORD_RIGHT },
	{ "\033[200~", CODE_PASTE_BEGIN }, { "\033[201~", CODE_PASTE_END },
	{ "\033OP", KEY_F(1) }, { "\033[11~", KEY_F(1) }, { "\033[[A", KEY_F(1) },
	{ "\033OQ", KEY_F(2) }, { "\033[12~", KEY_F(2) }, { "\033[[B", KEY_F(2) },
	{ "\033OR", KEY_F(3) }, { "\033[13~", KEY_F(3) }, { "\033[[C", KEY_F(3) },
	{ "\033OS", KEY_F(4) }, { "\033[14~", KEY_F(4) }, { "\033[[D", KEY_F(4) },
	{ "\033[15~", KEY_F(5) }, { "\033[[E", KEY_F(5) },
	{ "\033[17~", KEY_F(6) }, { "\033[18~", KEY_F(7) }, { "\033[19~", KEY_F(8) },
	{ "\033[20~", KEY_F(9) }, { "\033[21~", KEY_F(10) }, { "\033[23~", KEY_F(11) },
	{ "\033[24~", KEY_F(12) },
};

/* What a key code of curses is to the screens. */
static const struct {
	int code;         /* of curses, or our own */
	enum press press; /* the key */
} presses[] = {
	{ KEY_UP, PRESS_UP }, { KEY_DOWN, PRESS_DOWN },
	{ KEY_LEFT, PRESS_LEFT }, { KEY_RIGHT, PRESS_RIGHT },
	{ KEY_HOME, PRESS_HOME }, { KEY_END, PRESS_END },
	{ KEY_PPAGE, PRESS_PAGE_UP }, { KEY_NPAGE, PRESS_PAGE_DOWN },
	{ KEY_IC, PRESS_INSERT }, { KEY_DC, PRESS_DELETE },
	{ KEY_BTAB, PRESS_BACK_TAB }, { KEY_BACKSPACE, PRESS_BACKSPACE },
	{ KEY_ENTER, PRESS_ENTER },
	{ CODE_WORD_LEFT, PRESS_WORD_LEFT }, { CODE_WORD_RIGHT, PRESS_WORD_RIGHT },
};

/* The one terminal of the process. */
static struct {
	SCREEN *screen;               /* NULL while it is not open */
	bool plain;                   /* ASCII only */
	const char *leave;            /* what brings back the page of before; NULL or -1: nothing */
	bool ansi;                    /* understands ESC [ … */
	attr_t attributes[INK_COUNT]; /* of each ink on this terminal */
	bool has_colours;             /* pair N + 1 belongs to ink N */
	struct canvas_cell *shown;    /* what is on the screen; NULL: unknown */
	int shown_rows;               /* size of `shown` */
	int shown_columns;            /* size of `shown` */
	unsigned char partial[4];     /* the beginning of a UTF-8 character */
	int partial_length;           /* bytes of it */
	bool is_broken;               /* they are no UTF-8: each is a letter */
	int back;                     /* a code that is read again; ERR: none */
	char rest[READ_SIZE];         /* what came behind a long paste */
	int rest_at, rest_end;        /* of it: what was not read yet */
	bool pasting;                 /* between the marks of a paste */
	int pasted;                   /* bytes of it so far */
	bool has_watch;               /* something else ends waiting, too */
	int watch;                    /* that */
} terminal;

/* Written by signal handlers; non-blocking at both ends. */
static int signal_pipe[2] = { -1, -1 };

static void note_signal(int number)
{
	int kept = errno;
	char byte = number == SIGWINCH ? 'w' : 'c';

	if (write(signal_pipe[1], &byte, 1) < 0)
		errno = 0; /* full: there is enough in it already */
	errno = kept;
}

static const int watched_signals[] = { SIGTERM, SIGHUP, SIGINT, SIGWINCH };

enum { WATCHED_COUNT = sizeof watched_signals / sizeof *watched_signals };

static void watch_signals(bool watch)
{
	struct sigaction action;

	memset(&action, 0, sizeof action);
	sigemptyset(&action.sa_mask);
	action.sa_handler = watch ? note_signal : SIG_DFL;
	for (int i = 0; i < WATCHED_COUNT; i++)
		sigaction(watched_signals[i], &action, NULL);
}

static bool open_signal_pipe(void)
{
	if (signal_pipe[0] >= 0)
		return true;
	if (pipe(signal_pipe) < 0)
		return false;
	for (int i = 0; i < 2; i++) {
		fcntl(signal_pipe[i], F_SETFL, O_NONBLOCK);
		fcntl(signal_pipe[i], F_SETFD, FD_CLOEXEC);
	}
	return true;
}

static attr_t weight_attributes(int weight)
{
	return ((weight & WEIGHT_BOLD) ? A_BOLD : 0) |
	       ((weight & WEIGHT_UNDERLINE) ? A_UNDERLINE : 0) |
	       ((weight & WEIGHT_REVERSE) ? A_REVERSE : 0);
}

/* The ground, where the environment says it; TUI_THEME_AUTO where not. */
static enum tui_theme find_ground(void)
{
	const char *colours = getenv("COLORFGBG"), *kind = getenv("TERM");
	const char *ground = colours ? strrchr(colours, ';') : NULL;

	if (ground && isdigit((unsigned char)ground[1])) {
		int number = atoi(ground + 1);
		return number == 7 || number >= 9 ? TUI_THEME_LIGHT : TUI_THEME_DARK;
	}
	return kind && strcmp(kind, "linux") == 0 ? TUI_THEME_DARK : TUI_THEME_AUTO;
}

/* Which theme is drawn in: as asked for, by NO_COLOR, or by the ground. */
static enum tui_theme choose_theme(enum tui_theme asked)
{
	const char *no_color = getenv("NO_COLOR");

	if (asked != TUI_THEME_AUTO)
		return asked;
	return no_color && *no_color ? TUI_THEME_MONO : find_ground();
}

/* Whether colours are numbers of red, green and blue instead of places in a table. */
static bool has_direct_colours(void)
{
	return tigetflag("RGB") > 0 || tigetnum("RGB") > 0 ||
	       (tigetstr("RGB") && tigetstr("RGB") != (char *)-1) || COLORS > 256;
}

/* A colour of the usual table of 256 as red, green and blue: its cube and its greys. */
static int direct_colour(int number)
{
	static const int steps[] = { 0, 95, 135, 175, 215, 255 };

	if (number < 16)
		return number;
	if (number >= 232)
		return (8 + 10 * (number - 232)) * 0x010101;
	number -= 16;
	return steps[number / 36] << 16 | steps[number / 6 % 6] << 8 | steps[number % 6];
}

/* The colour of an ink here; COLOR_DEFAULT for the terminal's own. */
static int colour_of(const struct ink_look *look, enum tui_theme theme)
{
	bool is_light = theme == TUI_THEME_LIGHT, is_dark = theme == TUI_THEME_DARK;

	if (COLORS >= 256) {
		int number = is_light ? look->light256 : is_dark ? look->dark256 : look->both256;
		return number >= 0 && has_direct_colours() ? direct_colour(number) : number;
	}
	if (is_light)
		return look->light8;
	return !is_dark ? COLOR_DEFAULT : COLORS >= 16 ? look->dark16 : look->dark8;
}

/* Many terminals show the first eight colours brighter when bold: too bright for a light ground. */
static int lost_weight(const struct ink_look *look, enum tui_theme theme)
{
	bool is_bright = terminal.has_colours && COLORS < 256 && theme == TUI_THEME_LIGHT &&
	                 look->light8 != COLOR_DEFAULT;

	return is_bright ? WEIGHT_BOLD : 0;
}

/* Colours on the terminal's own background. */
static void choose_inks(enum tui_theme asked)
{
	enum tui_theme theme = choose_theme(asked);

	terminal.has_colours = theme != TUI_THEME_MONO && has_colors() && start_color() == OK &&
	                       use_default_colors() == OK && COLORS >= 8 &&
	                       COLOR_PAIRS > INK_COUNT &&
	                       (COLORS >= 256 || theme != TUI_THEME_AUTO);
	for (int ink = 0; ink < INK_COUNT; ink++) {
		const struct ink_look *look = &looks[ink];

		if (terminal.has_colours)
			init_extended_pair(ink + 1, colour_of(look, theme), COLOR_DEFAULT);
		int weight = terminal.has_colours ? look->weight : look->plain_weight;
		terminal.attributes[ink] = weight_attributes(weight & ~lost_weight(look, theme));
	}
}

static void name_sequences(void)
{
	for (size_t i = 0; i < sizeof sequences / sizeof *sequences; i++)
		define_key(sequences[i].bytes, sequences[i].code);
}

/* Asks the terminal to mark pasted text, or to stop doing so. */
static void mark_pastes(bool on)
{
	if (!terminal.ansi)
		return;
	fputs(on ? "\033[?2004h" : "\033[?2004l", stdout);
	fflush(stdout);
}

/*
 * Whether there is memory to draw with.  Where the library finds none in the middle
 * of a page it ends the program or falls over, so it is asked for before.
 */
static bool has_room(void)
{
	/* volatile: a compiler may leave out memory that is only given back, and say there is some. */
	void *volatile room = malloc(ROOM_SIZE);

	free(room);
	return room != NULL;
}

static enum status refuse_without_room(struct error *error)
{
	return error_set(error, STATUS_NO_MEMORY, "There is no memory left for the screen; nothing was "
	                 "changed. Close other programs and start again.");
}

enum status curses_check(struct error *error)
{
	const char *kind = getenv("TERM");
	int found;

	if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO))
		return error_set(error, STATUS_NO_TERMINAL,
		                 "The workbook needs a terminal to write on; nothing was changed. "
		                 "See padside --help for what works without one.");
	if (!has_room())
		return refuse_without_room(error);
	if (setupterm(NULL, STDOUT_FILENO, &found) != OK)
		return error_set(error, STATUS_NO_TERMINAL,
		                 "The kind of terminal \"%.40s\" is not known here; nothing was changed. "
		                 "Set TERM, for example TERM=xterm, and start again.", kind ? kind : "");
	const char *move_cursor = tigetstr("cup");
	bool can_draw = move_cursor && move_cursor != (char *)-1;
	del_curterm(cur_term);
	if (!can_draw)
		return error_set(error, STATUS_NO_TERMINAL,
		                 "A terminal of the kind \"%.40s\" cannot show full pages; nothing was "
		                 "changed. Set TERM to what it is, for example "
		                 "TERM=xterm, and start again.", kind
		                 ? kind : "");
	return STATUS_OK;
}

enum status curses_open(enum tui_theme theme, struct error *error)
{
	enum status status = curses_check(error);

	if (status != STATUS_OK)
		return status;
	if (!open_signal_pipe())
		return error_set(error, STATUS_NO_TERMINAL,
		                 "The system has no room for another open file; nothing was changed. "
		                 "Close other programs and start again.");
	terminal.screen = has_room() ? newterm(NULL, stdout, stdin) : NULL;
	if (!terminal.screen)
		return refuse_without_room(error);
	terminal.plain = strcmp(nl_langinfo(CODESET), "UTF-8") != 0;
	const char *move_cursor = tigetstr("cup");
	terminal.ansi = move_cursor && move_cursor != (char *)-1 &&
	                strncmp(move_cursor, "\033[", 2) == 0;
	terminal.leave = tigetstr("rmcup");
	terminal.partial_length = terminal.rest_at = terminal.rest_end = 0;
	terminal.pasting = terminal.is_broken = false;
	terminal.back = ERR;
	watch_signals(true);
	set_escdelay(ESCAPE_WAIT_MS);
	raw();
	noecho();
	nonl();
	keypad(stdscr, TRUE);
	nodelay(stdscr, TRUE);
	leaveok(stdscr, FALSE);
	/* Shift with the mouse still marks text, as everywhere. */
	mousemask(BUTTON1_PRESSED | BUTTON1_CLICKED | BUTTON4_PRESSED | BUTTON5_PRESSED, NULL);
	mouseinterval(0);
	name_sequences();
	choose_inks(theme);
	mark_pastes(true);
	return STATUS_OK;
}

/* Gives the terminal back as it was, by hand where the library could not. */
static void give_back(void)
{
	if (has_room()) {
		endwin();
		return;
	}
	reset_shell_mode();
	if (terminal.leave && terminal.leave != (char *)-1)
		fputs(terminal.leave, stdout);
	fflush(stdout);
}

void curses_close(void)
{
	if (!terminal.screen)
		return;
	mark_pastes(false);
	give_back();
	/*
	 * What the library holds goes with the process: freeing it falls over where it was short once.
	 */
	terminal.screen = NULL;
	watch_signals(false);
	curses_redraw();
}

bool curses_is_console(void)
{
	const char *type = getenv("TERM");

	return type && strncmp(type, "linux", strlen("linux")) == 0;
}

bool curses_is_plain(void)
{
	return terminal.plain;
}

void curses_size(int *rows, int *columns)
{
	getmaxyx(stdscr, *rows, *columns);
}

void curses_redraw(void)
{
	free(terminal.shown);
	terminal.shown = NULL;
}

/* A cell as curses takes it. */
static void convert_cell(const struct canvas_cell *cell, cchar_t *converted)
{
	wchar_t characters[3] = { (wchar_t)cell->character, (wchar_t)cell->mark, 0 };
	unsigned ink = cell->style & STYLE_INK;
	attr_t attributes = terminal.attributes[ink < INK_COUNT ? ink : INK_PLAIN];
	short pair = terminal.has_colours && ink < INK_COUNT ? (short)(ink + 1) : 0;

	/* Where the system has another idea of the width, the row would shift. */
	if (cell->width == 0)
		characters[0] = L' ';
	else if (cell->character >= 0x7f && wcwidth(characters[0]) != cell->width)
		characters[0] = terminal.plain ? L'?' : (wchar_t)0xfffd;
	if (characters[1] && wcwidth(characters[1]) != 0)
		characters[1] = 0;
	if (cell->style & STYLE_REVERSE)
		attributes ^= A_REVERSE;
	if (cell->style & STYLE_UNDERLINE)
		attributes |= A_UNDERLINE;
	setcchar(converted, characters, attributes, pair, NULL);
}

/* Hands the cells [first, end) of a row to curses. */
static void write_cells(const struct canvas_cell *row, int at_row, int first, int end)
{
	cchar_t cells[ROW_LIMIT];
	int count = 0;

	for (int column = first; column < end;) {
		const struct canvas_cell *cell = &row[column];
		convert_cell(cell, &cells[count++]);
		/* The right half follows from the left one, unless that was replaced. */
		bool wide = cell->width == 2 && wcwidth((wchar_t)cell->character) == 2;
		if (wide && column + 1 >= end)
			convert_cell(&(struct canvas_cell){ .character = ' ', .style = cell->style,
			                                    .width = 1 }, &cells[count - 1]);
		column += wide ? 2 : 1;
	}
	mvadd_wchnstr(at_row, first, cells, count);
}

/* Compares a row with what is shown and writes the stretch that differs. */
static void show_row(const struct canvas_cell *row, const struct canvas_cell *shown,
                     int at_row, int columns)
{
	size_t size = sizeof *row;
	int first = 0, end = columns;

	if (shown) {
		if (memcmp(row, shown, size * (size_t)columns) == 0)
			return;
		while (memcmp(&row[first], &shown[first], size) == 0)
			first++;
		while (memcmp(&row[end - 1], &shown[end - 1], size) == 0)
			end--;
	}
	while (first > 0 && row[first].width == 0)
		first--;
	if (end < columns && row[end].width == 0)
		end++;
	write_cells(row, at_row, first, end);
}

/* Makes `shown` fit a canvas of that size; false when nothing is known. */
static bool prepare_shown(int rows, int columns)
{
	if (terminal.shown && terminal.shown_rows == rows && terminal.shown_columns == columns)
		return true;
	free(terminal.shown);
	terminal.shown = calloc((size_t)rows * (size_t)columns, sizeof *terminal.shown);
	terminal.shown_rows = rows;
	terminal.shown_columns = columns;
	erase();
	clearok(curscr, TRUE);
	return false;
}

void curses_show(const struct canvas *canvas)
{
	int canvas_width = canvas_columns(canvas);
	int rows, columns;

	if (!has_room())
		return;
	curses_size(&rows, &columns);
	rows = rows < canvas_rows(canvas) ? rows : canvas_rows(canvas);
	columns = columns < canvas_width ? columns : canvas_width;
	bool known = prepare_shown(canvas_rows(canvas), canvas_width);
	for (int row = 0; row < rows; row++) {
		const struct canvas_cell *cells = canvas_at(canvas, row, 0);
		struct canvas_cell *shown = NULL;
		if (terminal.shown)
			shown = &terminal.shown[(size_t)row * (size_t)canvas_width];
		show_row(cells, known ? shown : NULL, row, columns);
		if (shown)
			memcpy(shown, cells, (size_t)canvas_width * sizeof *cells);
	}
	struct canvas_cursor cursor = canvas_get_cursor(canvas);
	bool visible = cursor.visible && cursor.row < rows && cursor.column < columns;
	curs_set(visible);
	if (visible)
		move(cursor.row, cursor.column);
	refresh();
}

bool curses_is_pasting(void)
{
	return terminal.pasting;
}

/* Takes over the size that the window has now. */
static struct key resized(void)
{
	struct winsize size;

	if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_row > 0 && size.ws_col > 0)
		resize_term(size.ws_row, size.ws_col);
	curses_redraw();
	return key_press(PRESS_RESIZE);
}

static struct key suspended(void)
{
	mark_pastes(false);
	raise(SIGTSTP); /* curses gives the terminal back and takes it again */
	mark_pastes(true);
	return resized();
}

/* A key out of what came behind a long paste, which curses did not see. */
static int code_from_rest(void)
{
	const char *at = &terminal.rest[terminal.rest_at];
	size_t left = (size_t)(terminal.rest_end - terminal.rest_at);

	for (size_t i = 0; i < sizeof sequences / sizeof *sequences; i++) {
		size_t length = strlen(sequences[i].bytes);
		if (length <= left && memcmp(at, sequences[i].bytes, length) == 0) {
			terminal.rest_at += (int)length;
			return sequences[i].code;
		}
	}
	terminal.rest_at++;
	return (unsigned char)*at;
}

/* The next byte or key; ERR where none is waiting. */
static int next_code(void)
{
	int code = terminal.back;

	terminal.back = ERR;
	if (code != ERR)
		return code;
	return terminal.rest_at < terminal.rest_end ? code_from_rest() : getch();
}

/* Reads over the rest of an unknown escape sequence. */
static struct key skip_sequence(void)
{
	int byte;

	do
		byte = next_code();
	while (byte >= 0x20 && byte < 0x40);
	return key_press(PRESS_NOTHING);
}

/* Escape alone, or Alt with the character that came right behind it. */
static struct key escape_or_alt(void)
{
	int next = next_code();

	if (next == ERR)
		return key_press(PRESS_ESCAPE);
	if (next == '[' || next == 'O')
		return skip_sequence();
	if (next > 0x20 && next < 0x7f)
		return (struct key){ .press = PRESS_ALT, .character = (unsigned)next };
	terminal.back = next;
	return key_press(PRESS_ESCAPE);
}

static struct key control_key(int byte)
{
	switch (byte) {
	case '\t':
		return key_press(PRESS_TAB);
	case '\n':
	case '\r':
		return key_press(PRESS_ENTER);
	case '\b':
	case 0x7f:
		return key_press(PRESS_BACKSPACE);
	case 0x1a:
		return suspended();
	case 0x1b:
		return escape_or_alt();
	default:
		return key_ctrl((char)(byte + (byte >= 1 && byte <= 26 ? 'a' - 1 : '@')));
	}
}

/*
 * A byte of what is no UTF-8.  Where the terminal is said to have another alphabet it is a letter
 * of that, or of Latin-1 where the system does not know it; else it is noise.
 */
static struct key broken_byte(void)
{
	int byte = terminal.partial[0];
	wint_t letter = btowc(byte);

	memmove(terminal.partial, terminal.partial + 1, (size_t)--terminal.partial_length);
	terminal.is_broken = terminal.partial_length > 0;
	if (!terminal.plain || byte < 0xa0)
		return key_press(PRESS_NOTHING);
	return key_character(letter == WEOF ? (unsigned)byte : (unsigned)letter);
}

/* A byte above ASCII: a whole character, or PRESS_NOTHING until it is. */
static struct key character_byte(int byte)
{
	char bytes[sizeof terminal.partial + 1] = { 0 };

	terminal.partial[terminal.partial_length++] = (unsigned char)byte;
	memcpy(bytes, terminal.partial, (size_t)terminal.partial_length);
	unsigned char lead = terminal.partial[0];
	int whole = lead < 0xc2 || lead > 0xf4 ? 1 : lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
	if (terminal.partial_length < whole)
		return key_press(PRESS_NOTHING);
	const char *cursor = bytes;
	unsigned character = text_next_character(&cursor);
	if (terminal.plain && (whole == 1 || cursor != bytes + whole))
		return broken_byte();
	terminal.partial_length = 0;
	return key_character(character);
}

/* A click or the wheel; PRESS_NOTHING for the rest that a mouse does. */
static struct key mouse_key(void)
{
	MEVENT event;

	if (getmouse(&event) != OK)
		return key_press(PRESS_NOTHING);
	if (event.bstate & BUTTON4_PRESSED)
		return key_press(PRESS_WHEEL_UP);
	if (event.bstate & BUTTON5_PRESSED)
		return key_press(PRESS_WHEEL_DOWN);
	return event.bstate & (BUTTON1_PRESSED | BUTTON1_CLICKED) ? key_click(event.y, event.x)
	                                                          : key_press(PRESS_NOTHING);
}

static struct key key_from_code(int code)
{
	if (code == KEY_MOUSE)
		return mouse_key();
	if (code == CODE_PASTE_BEGIN || code == CODE_PASTE_END) {
		terminal.pasting = code == CODE_PASTE_BEGIN;
		terminal.pasted = 0;
		return key_press(PRESS_NOTHING);
	}
	if (code >= KEY_F(1) && code <= KEY_F(12))
		return (struct key){ .press = PRESS_FUNCTION,
		                     .character = (unsigned)(code - KEY_F(0)) };
	for (size_t i = 0; i < sizeof presses / sizeof *presses; i++)
		if (presses[i].code == code)
			return key_press(presses[i].press);
	return key_press(PRESS_NOTHING);
}

/* In a paste everything is text: line ends and tabs are spaces, no commands. */
static struct key pasted_key(int code)
{
	struct key key = key_press(PRESS_NOTHING);

	if (code == '\t' || code == '\n' || code == '\r')
		key = key_character(' ');
	else if (code >= 0x20 && code < 0x7f)
		key = key_character((unsigned)code);
	else if (code >= 0x80 && code <= 0xff)
		key = character_byte(code);
	key.pasted = true;
	return key;
}

/*
 * Reads over the rest of a paste that no text could hold.  Stops where nothing is
 * waiting; false when the end was found, and what came behind it is kept.
 */
static bool read_over_paste(void)
{
	static const char mark[] = "\033[201~";
	static size_t seen; /* of the mark, at the end of what was read */
	int waiting;

	while (ioctl(STDIN_FILENO, FIONREAD, &waiting) == 0 && waiting > 0) {
		ssize_t count = read(STDIN_FILENO, terminal.rest, sizeof terminal.rest);
		for (ssize_t i = 0; i < count; i++) {
			char byte = terminal.rest[i];
			seen = byte == mark[seen] ? seen + 1 : byte == mark[0];
			if (mark[seen] != '\0')
				continue;
			seen = 0;
			terminal.pasting = false;
			terminal.rest_at = (int)i + 1;
			terminal.rest_end = (int)count;
			return false;
		}
	}
	return true;
}

/* One step of reading: false when curses has nothing more. */
static bool take_key(struct key *key)
{
	if (terminal.pasting && terminal.pasted >= PASTE_MOST && read_over_paste())
		return false;
	int code = terminal.is_broken ? ERR : next_code();
	if (terminal.partial_length > 0 && code != ERR && (code < 0x80 || code > 0xbf)) {
		terminal.is_broken = true;
		terminal.back = code;
	}
	if (terminal.is_broken) {
		*key = broken_byte();
		key->pasted = terminal.pasting;
		return true;
	}
	if (code == ERR)
		return false;
	terminal.pasted += terminal.pasting;
	if (terminal.pasting && code <= 0xff)
		*key = pasted_key(code);
	else if (code > 0xff)
		*key = key_from_code(code);
	else if (code < 0x20 || code == 0x7f)
		*key = control_key(code);
	else if (code < 0x80)
		*key = key_character((unsigned)code);
	else
		*key = character_byte(code);
	return true;
}

/* What the signals have asked for; false when nothing. */
static bool take_signal(struct key *key)
{
	char bytes[64];
	ssize_t count = read(signal_pipe[0], bytes, sizeof bytes);

	if (count <= 0)
		return false;
	*key = memchr(bytes, 'c', (size_t)count) ? key_press(PRESS_CLOSE) : resized();
	return true;
}

/* True when the terminal says it is readable and there is nothing to read. */
static bool is_hung_up(const struct pollfd *input)
{
	int waiting = 0;

	if (input->revents & (POLLHUP | POLLERR | POLLNVAL))
		return true;
	return (input->revents & POLLIN) && ioctl(input->fd, FIONREAD, &waiting) == 0 &&
	       waiting == 0;
}

/* How long to wait for the next byte. */
static int wait_ms(int timeout_ms)
{
	int most_ms = terminal.pasting ? PASTE_WAIT_MS : PIECES_WAIT_MS;
	bool waits = terminal.pasting || (terminal.plain && terminal.partial_length > 0);

	return waits && (timeout_ms < 0 || timeout_ms > most_ms) ? most_ms : timeout_ms;
}

void curses_watch(int file)
{
	terminal.watch = file;
	terminal.has_watch = file >= 0;
}

/* Reads over what came from there; false when nothing did. */
static bool take_watch(short revents)
{
	char bytes[4096];

	if (!(revents & POLLIN))
		return false;
	while (read(terminal.watch, bytes, sizeof bytes) > 0)
		;
	return true;
}

struct key curses_read_key(int timeout_ms)
{
	struct key key = key_press(PRESS_NOTHING);
	bool was_pasting = terminal.pasting;

	for (;;) {
		if (take_signal(&key))
			return key;
		while (take_key(&key))
			if (key.press != PRESS_NOTHING)
				return key;
		/* What was pasted is to be drawn. */
		if (was_pasting && !terminal.pasting)
			return key_press(PRESS_NOTHING);
		struct pollfd sources[3] = {
			{ .fd = STDIN_FILENO, .events = POLLIN },
			{ .fd = signal_pipe[0], .events = POLLIN },
			{ .fd = terminal.watch, .events = POLLIN },
		};
		int ready = poll(sources, terminal.has_watch ? 3 : 2, wait_ms(timeout_ms));
		if (ready == 0 && !terminal.pasting && terminal.plain && terminal.partial_length > 0)
			terminal.is_broken = true;
		else if (ready == 0 && !terminal.pasting)
			return key_press(PRESS_NOTHING);
		if (ready == 0)
			terminal.pasting = false;
		if (ready > 0 && sources[1].revents == 0 && is_hung_up(&sources[0]))
			return key_press(PRESS_CLOSE);
		if (ready > 0 && sources[0].revents == 0 && take_watch(sources[2].revents))
			return key_press(PRESS_CHANGED);
	}
}
