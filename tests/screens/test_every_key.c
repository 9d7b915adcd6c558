/*
 * Every row of the table of requests does what it says: its key is pressed where the row
 * belongs, and the page shows then what it did not show before.  What stands here is read
 * off the pages, so that a row whose case is missing, or does something else, is noticed.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "support/demo.h"
#include "support/desk.h"
#include "support/scratch.h"

Suite *every_key_suite(void);

/*
 * Where a way begins: in the book with the demo's calls; on a new call in an empty one; on
 * the demo's newest call, which is closed, and where the question before a change was
 * answered by yes.
 */
#define DEMO "Tab Tab "
#define NEW "Ctrl+N "
#define CLOSED DEMO "Enter "
#define OPENED CLOSED "F5 '1' Enter Esc "
/* Writes a reading; a call with little charge, on which several explanations fit. */
#define FIND(what, value) "Ctrl+G '" what "' Enter '" value "' Enter "
#define LITTLE "Ctrl+N 'Mara Quill' Enter " FIND("refrigerant", "R-410A") FIND("metering", "fixed") \
	FIND("nominal capacity", "3") FIND("SEER", "13") FIND("compressor", "runs") \
	FIND("return dry", "78") FIND("return wet", "64") FIND("supply dry", "64") FIND("outdoor", "92") \
	FIND("suction pressure", "98") FIND("suction line", "66") FIND("liquid pressure", "325") \
	FIND("liquid line", "102")

struct deed {
	const char *way;  /* keys that lead to where the row works */
	const char *seen; /* on the page behind the key, and not before it */
};

/*
 * "[" and "]" stand around what is chosen or under the cursor, "|" before the character
 * where one writes; spaces in a row are one.
 */
static const struct deed deeds[REQUEST_COUNT] = {
	[REQUEST_HELP] = { NEW, "On a sheet of readings" },
	[REQUEST_BOOK] = { NEW "F5", "[ 2026-07-14 open no name yet" },
	[REQUEST_GO] = { NEW, "[ step The call" },
	[REQUEST_MEET] = { NEW, "No office is named." },
	[REQUEST_UNITS] = { CLOSED "F8", "suction pressure 748 kPa" },
	[REQUEST_REDRAW] = { NEW, "redraw" },
	[REQUEST_QUIT] = { NEW, "over" },
	[REQUEST_UNDO] = { NEW "'Mara Quill' Enter",
		"taken back: customer (call): now empty, was Mara Quill" },
	[REQUEST_REDO] = { NEW "'Mara Quill' Enter Ctrl+_",
		"made again: customer (call): now Mara Quill, was empty" },
	[REQUEST_CHANGES] = { CLOSED, "Changes of this call (" },
	[REQUEST_NEXT_CHECK] = { NEW, "compressor [·······" },
	[REQUEST_TIMER] = { NEW, "settle timer started" },
	[REQUEST_HISTORY] = { CLOSED, "Readings over time Visits compared" },
	[REQUEST_COMPARE] = { CLOSED, "Compared last visit as found as left" },
	[REQUEST_TIGHTNESS] = { NEW, "Tightness and vacuum" },
	[REQUEST_CYLINDERS] = { NEW, "an over-full cylinder bursts" },
	[REQUEST_CHECKLIST] = { NEW, "Tune-up lists" },
	[REQUEST_WATCH_DONE] = { NEW, "no watch item of an earlier visit is open" },
	[REQUEST_QUESTIONS] = { NEW, "No field of this call was changed in two books." },
	[REQUEST_FIGURES_ON] = { CLOSED "F8", "suction saturation 35.4" },
	[REQUEST_FIGURES_BACK] = { CLOSED "F8 Alt+.", "7 more figures:" },
	[REQUEST_PIN] = { CLOSED "F8 Alt+p F9", "total external static 0.46" },
	[REQUEST_STEP_BEFORE] = { NEW "F8", "F7[·amps]" },
	[REQUEST_STEP_AFTER] = { NEW "F8", "F9[·air]" },
	[REQUEST_STEP_1] = { NEW "F8", "F2[·call]" },
	[REQUEST_STEP_2] = { NEW, "F3[·plate]" },
	[REQUEST_STEP_3] = { NEW, "F4[·safe]" },
	[REQUEST_STEP_4] = { NEW, "F5[·supply]" },
	[REQUEST_STEP_5] = { NEW, "F6[·windings]" },
	[REQUEST_STEP_6] = { NEW, "F7[·amps]" },
	[REQUEST_STEP_7] = { NEW, "F8[·charge]" },
	[REQUEST_STEP_8] = { NEW, "F9[·air]" },
	[REQUEST_STEP_9] = { NEW, "F10[·findings]" },
	[REQUEST_STEP_10] = { NEW, "F11[·options]" },
	[REQUEST_STEP_11] = { NEW, "F12[·work]" },
	[REQUEST_STEP_12] = { NEW, "Ctrl+P[·report]" },
	[REQUEST_FIELD_NEXT] = { NEW "F5", "call for cooling [·······" },
	[REQUEST_FIELD_EDIT] = { NEW "'Mara Quill' Enter Up", "customer Mara Quil" },
	[REQUEST_FIELD_EMPTY] = { NEW "Ctrl+G 'suction pressure' Enter '98' Enter Up",
		"not taken;" },
	[REQUEST_WORD_NEXT] = { NEW "Ctrl+G 'metering' Enter", "metering device [fixed orifice" },
	[REQUEST_ANSWER_YES] = { NEW "F4", "disconnect locked out yes 08:05" },
	[REQUEST_ANSWER_NO] = { NEW "F4", "disconnect locked out n|" },
	[REQUEST_ASKED_YES] = { CLOSED "F5 '1'", "type on;" },
	[REQUEST_ASKED_NO] = { CLOSED "F5 '1'", "Find out why before you reset it." },
	[REQUEST_REFUSED_EDIT] = { NEW "F5 'xy' Enter", "breaker found tripped x|" },
	[REQUEST_REFUSED_DROP] = { NEW "F5 'x' Enter", "breaker found tripped [·······" },
	[REQUEST_WRITE_KEEP] = { NEW "'two words'", "[ two words not recorded as safe ]" },
	[REQUEST_WRITE_DROP] = { NEW "'two words'", "customer [·······" },
	[REQUEST_WRITE_LEFT] = { NEW "'two words'", "two word|s" },
	[REQUEST_WRITE_RIGHT] = { NEW "'two words' Home", "t|wo words" },
	[REQUEST_WRITE_WORD_LEFT] = { NEW "'two words'", "two |words" },
	[REQUEST_WRITE_WORD_RIGHT] = { NEW "'two words' Home", "two| words" },
	[REQUEST_WRITE_HOME] = { NEW "'two words'", "|two words" },
	[REQUEST_WRITE_END] = { NEW "'two words' Home", "two words|" },
	[REQUEST_WRITE_BACKSPACE] = { NEW "'two words'", "two word|" },
	[REQUEST_WRITE_DELETE] = { NEW "'two words' Home", "|wo words" },
	[REQUEST_WRITE_CUT_WORD] = { NEW "'two words'", "two |" },
	[REQUEST_WRITE_CUT_BEFORE] = { NEW "'two words' Left", "customer |s" },
	[REQUEST_WRITE_CUT_BEHIND] = { NEW "'two words' Home Right", "customer t| " },
	[REQUEST_WRITE_BACK] = { NEW "'two words' Ctrl+W", "two words|" },
	[REQUEST_SHEET_UP] = { NEW "F5 Down", "breaker found tripped [·······" },
	[REQUEST_SHEET_DOWN] = { NEW "F5", "call for cooling [·······" },
	[REQUEST_SHEET_ALL_SAME] = { NEW "Ctrl+G 'suction pressure' Enter '98' Enter",
		"1 reading as left copied from as found" },
	[REQUEST_SHEET_OPEN] = { NEW "F5 End", "contactor voltage drop ·······" },
	[REQUEST_SHEET_KNOWN] = { DEMO "Ctrl+N 'Maren Oduya' Enter",
		"Maren Oduya, 555-0114, maren@oduya.example" },
	[REQUEST_SHEET_CARRY] = { NEW "Ctrl+G 'suction pressure' Enter '98' Enter Up",
		"is picked up" },
	[REQUEST_SHEET_FIRST] = { NEW "F5 Down Down", "breaker found tripped [·······" },
	[REQUEST_SHEET_LAST] = { NEW "F5", "[… 3 more" },
	[REQUEST_SHEET_FOUND] = { NEW "F5 Right", "breaker found tripped [·······" },
	[REQUEST_SHEET_LEFT] = { NEW "F5", "breaker found tripped ······· [·······" },
	[REQUEST_SHEET_SAME] = { NEW "Ctrl+G 'suction pressure' Enter '98' Enter Up Right",
		"the same as found" },
	[REQUEST_FOLD_SHOW] = { NEW "F5 End", "contactor voltage drop ·······" },
	[REQUEST_LIST_UP] = { DEMO "Down", "[ 2026-07-09 Maren Oduya" },
	[REQUEST_LIST_DOWN] = { DEMO, "[ 2026-06-24 Odalys Brandt" },
	[REQUEST_LIST_PAGE_UP] = { DEMO "End", "[ 2025-05-13 Larkmere Public Library" },
	[REQUEST_LIST_PAGE_DOWN] = { DEMO, "[ 2025-07-29 Owen Thistlewood" },
	[REQUEST_LIST_FIRST] = { DEMO "End", "[ 2026-07-09 Maren Oduya" },
	[REQUEST_LIST_LAST] = { DEMO, "[ 2022-04-26 Tobias Fennimore" },
	[REQUEST_LIST_PICK] = { DEMO, "The call — customer" },
	[REQUEST_PAGER_UP] = { NEW "F1 Down Down", "As the invoice should say it. █" },
	[REQUEST_PAGER_DOWN] = { NEW "F1", "As the invoice should say it. █" },
	[REQUEST_PAGER_PAGE_UP] = { NEW "F1 End", "Cautions: Currents" },
	[REQUEST_PAGER_PAGE_DOWN] = { NEW "F1", "go to the most useful next reading" },
	[REQUEST_PAGER_FIRST] = { NEW "F1 End", "On a sheet of readings" },
	[REQUEST_PAGER_LAST] = { NEW "F1", "Cautions: Work done" },
	[REQUEST_RECORD_TAKE] = { DEMO, "Picked up: the call Maren Oduya." },
	[REQUEST_RECORD_OUT] = { DEMO, "Take the call Maren Oduya out?" },
	[REQUEST_RECORD_PART] = { DEMO, "nothing was joined or moved" },
	[REQUEST_RECORD_REMOVED] = { DEMO, "Taken out of the book" },
	[REQUEST_BOOK_NEW] = { DEMO, "[ new customer" },
	[REQUEST_BOOK_TURN] = { DEMO, "Customers" },
	[REQUEST_BOOK_CLEAR] = { DEMO "'maren'", "2026-06-24 Odalys Brandt" },
	[REQUEST_FINDING_UP] = { OPENED "F10 Left Down", "[ measured ]act[ run capacitor failed" },
	[REQUEST_FINDING_DOWN] = { OPENED "F10 Left",
		"[ ██████████ 97 % ]act[ low refrigerant charge" },
	[REQUEST_FINDING_FOUND] = { OPENED "F10 Right", "Findings, as found" },
	[REQUEST_FINDING_LEFT] = { OPENED "F10 Left", "Findings, as left" },
	[REQUEST_FINDING_FIRST] = { OPENED "F10 Left Down Down",
		"[ measured ]act[ run capacitor failed" },
	[REQUEST_FINDING_LAST] = { OPENED "F10 Left", "note[ condenser cannot reject its heat" },
	[REQUEST_FINDING_CONFIRM] = { OPENED "F10", "fan motor draws too much: confirmed by you." },
	[REQUEST_FINDING_RULE_OUT] = { OPENED "F10",
		"fan motor draws too much: ruled out by you." },
	[REQUEST_FINDING_WATCH] = { OPENED "F10", "fan motor draws too much: watched by you." },
	[REQUEST_FINDING_WHY] = { OPENED "F10 'c'", "why [·······" },
	[REQUEST_FINDING_PREDICTED] = { OPENED "F10", "Read and predicted, as left" },
	[REQUEST_CUSTOMER_NEW] = { DEMO "Tab Enter", "address 14 Cedar Loop" },
	[REQUEST_CUSTOMER_PLACE] = { DEMO "Tab Enter", "address ·······" },
	[REQUEST_CUSTOMER_HISTORY] = { DEMO "Tab Enter", "Readings over time Visits compared" },
	[REQUEST_CUSTOMER_BACK] = { DEMO "Tab Enter", "Customers" },
	[REQUEST_HISTORY_TURN] = { CLOSED "Ctrl+O", "One visit 2026-07-09" },
	[REQUEST_HISTORY_MARK] = { CLOSED "Ctrl+O Tab", "● 2026-07-09" },
	[REQUEST_HISTORY_FOUND] = { CLOSED "Ctrl+O Tab Space Down Right", "as found as found" },
	[REQUEST_HISTORY_LEFT] = { CLOSED "Ctrl+O Tab Space Down", "as left as found" },
	[REQUEST_HISTORY_READ_BACK] = { CLOSED "Ctrl+O Tab PgDn PgDn", "compressor hums runs" },
	[REQUEST_HISTORY_READ_ON] = { CLOSED "Ctrl+O Tab", "compressor hums runs" },
	[REQUEST_HISTORY_BACK] = { CLOSED "Ctrl+O", "The call — customer" },
	[REQUEST_CHOICES_UP] = { NEW "F11 Down", "what is done [·······" },
	[REQUEST_CHOICES_DOWN] = { NEW "F11", "price from [·······" },
	[REQUEST_CHOICES_BEFORE] = { NEW "F11 'one' Enter Up Right", "what is done [one" },
	[REQUEST_CHOICES_AFTER] = { NEW "F11 'one' Enter Up", "what is done one [·······" },
	[REQUEST_CHOICES_FIRST] = { NEW "F11 Down Down", "what is done [·······" },
	[REQUEST_CHOICES_LAST] = { NEW "F11", "cents a kWh [·······" },
	[REQUEST_CHOICES_NEW] = { NEW "F11 'one' Enter", "what is done one [·······" },
	[REQUEST_CHOICES_OUT] = { NEW "F11 'one' Enter", "option 1 was taken out" },
	[REQUEST_WORK_NEXT] = { NEW "F12", "[Work]" },
	[REQUEST_WORK_BEFORE] = { NEW "F12", "[Money]" },
	[REQUEST_WORK_UP] = { NEW "F12 Down", "[Charge log]" },
	[REQUEST_WORK_DOWN] = { NEW "F12", "[Work]" },
	[REQUEST_WORK_LEFT] = { NEW "F12", "+[·····] ······" },
	[REQUEST_WORK_RIGHT] = { NEW "F12", "+····· ······ [······]" },
	[REQUEST_WORK_FIRST] = { NEW "F12", "+[·····] ······" },
	[REQUEST_WORK_LAST] = { NEW "F12", "note [·······" },
	[REQUEST_WORK_SAME] = { NEW "Ctrl+G 'suction pressure' Enter '98' Enter F12",
		"1 readings as the sheet has them" },
	[REQUEST_WORK_BILL] = { NEW "F12 '8' Enter", "On the bill: Refrigerant, 8 oz" },
	[REQUEST_WORK_NEW] = { NEW "F12 '8' Enter Home", "+····· [······]" },
	[REQUEST_WORK_OUT] = { NEW "F12 '8' Enter", "the line was taken out" },
	[REQUEST_LOG_UP] = { NEW "Alt+v 'n' Enter Up Down", "✓nitrogen [08:05" },
	[REQUEST_LOG_DOWN] = { NEW "Alt+v 'n' Enter", "+······· [······]" },
	[REQUEST_LOG_LEFT] = { NEW "Alt+v Right", "+[·······" },
	[REQUEST_LOG_RIGHT] = { NEW "Alt+v", "+······· [······]" },
	[REQUEST_LOG_NEW] = { NEW "Alt+v 'n' Enter", "+[·······" },
	[REQUEST_LOG_OUT] = { NEW "Alt+v 'n' Enter", "the line was taken out" },
	[REQUEST_LOG_BACK] = { NEW "Alt+v", "The call — customer" },
	[REQUEST_PRICE_DOWN] = { NEW "F12 Tab 'capacitor'", "[ CAP-30" },
	[REQUEST_PRICE_UP] = { NEW "F12 Tab 'capacitor' Down Down", "[ CAP-30" },
	[REQUEST_PRICE_TAKE] = { NEW "F12 Tab 'capacitor' Down",
		"✓part Run capacitor 30 µF, 440 V [ 1]" },
	[REQUEST_PAPER_UP] = { NEW "Ctrl+P Down", "in plain words [·······" },
	[REQUEST_PAPER_DOWN] = { NEW "Ctrl+P", "note for the office [·······" },
	[REQUEST_PAPER_TURN] = { NEW "Ctrl+P", "As it will be written." },
	[REQUEST_PAPER_FIRST] = { NEW "Ctrl+P Down Down", "in plain words [·······" },
	[REQUEST_PAPER_LAST] = { NEW "Ctrl+P", "payment terms [·······" },
	[REQUEST_FILE_WRITE] = { NEW "Ctrl+P Down Down Down Down", "written: " },
	[REQUEST_REPORT_BACK] = { NEW "Ctrl+P Tab", "into the file [padside-2026-07-14-call.txt" },
	[REQUEST_PREDICTED_BEFORE] = { LITTLE "F10 'p' Right", "42 %, 1 of 1" },
	[REQUEST_PREDICTED_AFTER] = { LITTLE "F10 'p'", "a sound unit" },
	[REQUEST_PREDICTED_BACK] = { CLOSED "F10 'p'", "Findings, as left" },
	[REQUEST_CHECKLIST_TURN] = { NEW "Alt+l Enter", "Tune-up lists" },
	[REQUEST_CHECKLIST_TICK] = { NEW "Alt+l Enter Down Down Down Down",
		"✓ Outdoor coil washed done" },
	[REQUEST_CHECKLIST_BACK] = { NEW "Alt+l Enter", "The call — customer" },
	[REQUEST_REMOVED_BRING] = { DEMO "Ctrl+X Ctrl+X Alt+o",
		"brought back: the call Maren Oduya" },
	[REQUEST_REMOVED_BACK] = { DEMO "Alt+o", "Calls" },
	[REQUEST_COMPARE_BACK] = { NEW "Alt+c", "The call — customer" },
	[REQUEST_CHANGE_UP] = { CLOSED "Alt+w Down Down", "[ 07-14 08:05 a watch item: text" },
	[REQUEST_CHANGE_DOWN] = { CLOSED "Alt+w", "[ 07-14 08:05 a watch item: text" },
	[REQUEST_CHANGE_PAGE_UP] = { CLOSED "Alt+w End", "[ 07-14 08:05 refrigerant" },
	[REQUEST_CHANGE_PAGE_DOWN] = { CLOSED "Alt+w", "[ 07-14 08:05 an option: note" },
	[REQUEST_CHANGE_FIRST] = { CLOSED "Alt+w Down Down", "[ 07-14 08:05 a watch item: noted" },
	[REQUEST_CHANGE_LAST] = { CLOSED "Alt+w", "licence LC-4471" },
	[REQUEST_CHANGE_TAKE_BACK] = { NEW "'Mara Quill' Enter Alt+w", "taken back: customer" },
	[REQUEST_CHANGE_BACK] = { NEW "Alt+w", "The call — customer" },
	[REQUEST_QUESTION_UP] = { "Alt+q Down", "[ 112.0 psig" },
	[REQUEST_QUESTION_DOWN] = { "Alt+q", "[ 118.0 psig" },
	[REQUEST_QUESTION_TAKE] = { "Alt+q Down", "suction pressure as found: 118.0 psig" },
	[REQUEST_QUESTION_BACK] = { "Alt+q", "The call — customer" },
	[REQUEST_GO_BACK] = { NEW "Ctrl+G", "The call — customer" },
	[REQUEST_HELP_BACK] = { NEW "F1", "The call — customer" },
};

/* What works on several pages stands above for one of them; here are the others. */
static const struct {
	enum request request; /* the row */
	struct deed deed;     /* on another page */
} others[] = {
	{ REQUEST_LOG_UP, { NEW "Alt+g 'A7' Enter Down", "✓A7 [·······" } },
	{ REQUEST_LOG_DOWN, { NEW "Alt+g 'A7' Enter", "+······· [·······" } },
	{ REQUEST_LOG_LEFT, { NEW "Alt+g Right", "+[·······" } },
	{ REQUEST_LOG_RIGHT, { NEW "Alt+g", "+······· [·······" } },
	{ REQUEST_LOG_NEW, { NEW "Alt+g 'A7' Enter", "+[·······" } },
	{ REQUEST_LOG_OUT, { NEW "Alt+g 'A7' Enter", "the cylinder was taken out" } },
	{ REQUEST_LOG_BACK, { NEW "Alt+g", "The call — customer" } },
	{ REQUEST_RECORD_TAKE, { DEMO "Tab Enter", "Picked up: the unit house." } },
	{ REQUEST_RECORD_OUT, { DEMO "Tab Enter", "Take the unit house out?" } },
	{ REQUEST_RECORD_PART, { DEMO "Tab Enter", "nothing was joined or moved" } },
	{ REQUEST_SHEET_SAME, { NEW "F5", "breaker found tripped =|" } },
	{ REQUEST_WORK_SAME, { NEW "F12 Tab", "=|" } },
	{ REQUEST_PRICE_TAKE, { NEW "F12 Tab 'capacitor'", "capacitor [" } },
	{ REQUEST_PAGER_UP, { NEW "Ctrl+P Tab", "payment terms [·······" } },
	{ REQUEST_HISTORY_READ_ON, { CLOSED "Ctrl+O Home", "[ fan capacitor deviation" } },
};

/* Adds the mark of what is chosen where it begins or ends. */
static void add_edge(struct text *text, bool *is_chosen, bool now)
{
	if (*is_chosen != now)
		text_add(text, now ? "[" : "]");
	*is_chosen = now;
}

static void add_row(const struct canvas *canvas, int row, struct text *text)
{
	struct canvas_cursor cursor = canvas_get_cursor(canvas);
	bool is_chosen = false;

	for (int column = 0; column < canvas_columns(canvas); column++) {
		const struct canvas_cell *cell = canvas_at(canvas, row, column);
		add_edge(text, &is_chosen, (cell->style & STYLE_REVERSE) ||
		         (cell->style & STYLE_INK) == INK_SELECTED);
		if (cursor.visible && cursor.row == row && cursor.column == column)
			text_add(text, "|");
		bool is_gap = cell->character == ' ' && text->length > 0 &&
		              text->bytes[text->length - 1] == ' ';
		if (cell->width > 0 && !is_gap)
			text_add_character(text, cell->character);
	}
	add_edge(text, &is_chosen, false);
	text_add(text, "\n");
}

/* The page as it is, and what is asked of the terminal and the program. */
static void look(struct desk *desk, struct text *text)
{
	const struct canvas *canvas = workbook_draw(desk->workbook);

	text_clear(text);
	for (int row = 0; row < canvas_rows(canvas); row++)
		add_row(canvas, row, text);
	text_add(text, workbook_take_redraw(desk->workbook) ? "redraw\n" : "");
	text_add(text, workbook_is_over(desk->workbook) ? "over\n" : "");
}

/* ---- A question of two trucks ---- */

static char folder[SCRATCH_SIZE], home[1024];

static void go_to(const char *path)
{
	ck_assert_int_eq(chdir(path), 0);
}

static void assert_ok(enum status status, const struct error *error)
{
	ck_assert_msg(status == STATUS_OK, "%s", error->text);
}

static wall_time tell_time(void *context)
{
	return ((struct desk *)context)->now;
}

static void type_112(struct store *other, const struct clock *clock, const char *call)
{
	struct session *session;
	struct error error;

	assert_ok(session_new(other, clock, UNITS_US, &session, &error), &error);
	assert_ok(session_open(session, call, &error), &error);
	assert_ok(session_type(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "112", &error), &error);
	session_free(session);
}

/* One pressure is typed in two books, and this one reads what the other one has. */
static void open_with_a_question(struct desk *desk)
{
	struct clock clock = { .now = tell_time, .context = desk };
	struct merge_report report;
	struct store *other;
	struct error error;

	go_to(folder);
	desk_open_book(desk, "book.db");
	desk_keys(desk, "Ctrl+N 'Mara Quill' Enter");
	assert_ok(store_open("other.db", STORE_CREATE, &clock, &other, &error), &error);
	assert_ok(store_merge(other, "book.db", &report, &error), &error);
	desk_keys(desk, "Ctrl+G 'suction pressure' Enter '118' Enter");
	desk_wait(desk, 30);
	type_112(other, &clock, desk_call(desk)->uid.text);
	store_close(other);
	assert_ok(store_merge(desk->store, "other.db", &report, &error), &error);
	desk_keys(desk, "Ctrl+B Enter");
}

/* ---- The rows ---- */

/* As a hand does it: each key behind the page that it is pressed on. */
static void press_way(struct desk *desk, const char *way)
{
	char keys[64];

	for (const char *at = way; *(at += strspn(at, " "));) {
		const char *end = *at == '\'' ? strchr(at + 1, '\'') + 1 : at + strcspn(at, " ");
		snprintf(keys, sizeof keys, "%.*s", (int)(end - at), at);
		desk_keys(desk, keys);
		workbook_draw(desk->workbook);
		at = end;
	}
}

static void open_desk(struct desk *desk, enum request request, const char *way)
{
	if (request_info(request)->place == PLACE_QUESTIONS) {
		open_with_a_question(desk);
	} else {
		desk_open(desk);
		/* What comes into the book beside the page is found by the next search. */
		if (strncmp(way, DEMO, strlen(DEMO)) == 0)
			demo_fill(desk->store);
		go_to(folder);
	}
	press_way(desk, way);
}

static void check_key(enum request request, const struct deed *deed, const char *name)
{
	const char *seen = deed->seen;
	struct text before, behind;
	struct desk desk;

	text_init(&before);
	text_init(&behind);
	open_desk(&desk, request, deed->way);
	look(&desk, &before);
	desk_keys(&desk, name);
	look(&desk, &behind);
	ck_assert_msg(desk.done == request, "%s is taken for something else: %s", name,
	              request_info(request)->help);
	ck_assert_msg(!strstr(text_get(&before), seen), "%s: \"%s\" stood there before", name, seen);
	ck_assert_msg(strstr(text_get(&behind), seen) != NULL, "%s: no \"%s\" but\n%s", name, seen,
	              text_get(&behind));
	desk_close(&desk);
	go_to(home);
	text_done(&before);
	text_done(&behind);
}

START_TEST(every_row_does_what_it_says)
{
	enum request request = (enum request)_i;
	const struct request_info *info = request_info(request);

	ck_assert_msg(deeds[request].way, "no row says what is seen behind %s: %s", info->key, info->help);
	check_key(request, &deeds[request], info->key);
	if (*info->other)
		check_key(request, &deeds[request], info->other);
}
END_TEST

START_TEST(a_row_of_several_pages_does_it_on_each)
{
	check_key(others[_i].request, &others[_i].deed, request_info(others[_i].request)->key);
}
END_TEST

/* Some keys write files: a report, a book of another truck. */
static void make_scratch(void)
{
	ck_assert(*home || getcwd(home, sizeof home));
	scratch_make(folder);
}

static void come_back(void)
{
	go_to(home);
	scratch_remove(folder);
}

Suite *every_key_suite(void)
{
	Suite *suite = suite_create("every key");
	TCase *rows = tcase_create("rows");

	tcase_set_timeout(rows, 60);
	tcase_add_checked_fixture(rows, make_scratch, come_back);
	tcase_add_loop_test(rows, every_row_does_what_it_says, REQUEST_NONE + 1, REQUEST_COUNT);
	tcase_add_loop_test(rows, a_row_of_several_pages_does_it_on_each, 0,
	                    (int)(sizeof others / sizeof *others));
	suite_add_tcase(suite, rows);
	return suite;
}
