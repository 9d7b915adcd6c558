/*
 * Everything that is shown, in the technician's units: no page, help, refusal, advice or report
 * shows a unit of the other system.
 */
#include <check.h>
#include <regex.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/quantities.h>
#include <padside/catalog/faults.h>

#include "support/canvas_dump.h"
#include "support/desk.h"

Suite *units_shown_suite(void);

static struct desk desk;
static regex_t foreign[UNIT_SYSTEM_COUNT];

/* What only the other system writes: behind a number, in a range, or as the head of a column. */
static void compile(void)
{
	static const char *const patterns[UNIT_SYSTEM_COUNT] = {
		[UNITS_US] = "°C|kPa|[0-9] ?(K|Pa|mm|kg|m|L/s|m³/h|kJ/kg|W/W)([^a-zA-Z0-9/]|$)|"
		             "[0-9] g([^a-zA-Z]|$)| a kW([^a-zA-Z]|$)|(^|[ \"])grams?([^a-z]|$)",
		[UNITS_SI] = "°F|psi|in\\. ?w\\.c|[0-9] ?(in\\.|oz|lb|ft|ton|tons|cfm|Btu|inch|inches)"
		             "([^a-zA-Z]|$)|cfm|Btu| a ton|[Oo]unces?|[Pp]ounds?|[Ii]nch(es)?([^a-z]|$)",
	};

	for (int units = 0; units < UNIT_SYSTEM_COUNT; units++)
		ck_assert_int_eq(regcomp(&foreign[units], patterns[units], REG_EXTENDED | REG_NOSUB), 0);
}

static void open_desk(void)
{
	compile();
	desk_open(&desk);
	workbook_resize(desk.workbook, 60, 110);
}

static void close_desk(void)
{
	desk_close(&desk);
	for (int units = 0; units < UNIT_SYSTEM_COUNT; units++)
		regfree(&foreign[units]);
}

struct typed {
	const char *key, *typed; /* in US units */
};

static const struct typed readings[] = {
	{ "refrigerant", "R-410A" }, { "metering", "fixed_orifice" }, { "nominal_capacity", "3" },
	{ "seer", "13" }, { "factory_charge", "104" }, { "line_set_length", "40" },
	{ "liquid_line_od", "3/8" }, { "suction_line_od", "3/4" }, { "altitude", "1200" },
	{ "compressor_motor", "psc" }, { "rated_voltage", "230" }, { "compressor_rla", "14.1" },
	{ "line_voltage", "236" }, { "compressor_state", "runs" }, { "fan_state", "runs" },
	{ "outdoor_db", "88" }, { "suction_pressure", "108.5" }, { "suction_line_temp", "76" },
	{ "liquid_pressure", "340" }, { "liquid_line_temp", "101" }, { "discharge_line_temp", "178" },
	{ "drier_in_temp", "101" }, { "drier_out_temp", "96" }, { "running_minutes", "20" },
	{ "return_db", "78" }, { "return_wb", "63" }, { "supply_db", "63.5" }, { "supply_wb", "58" },
	{ "return_static", "-0.35" }, { "supply_static", "0.28" }, { "airflow", "1180" },
	{ "winding_temp", "95" }, { "shell_temp", "120" },
};

/* Too much air over the indoor coil: its advice names an airflow. */
static const struct typed much_air[] = {
	{ "refrigerant", "R-410A" }, { "metering", "fixed_orifice" }, { "nominal_capacity", "3" },
	{ "seer", "13" }, { "compressor_state", "runs" }, { "fan_state", "runs" }, { "outdoor_db", "88" },
	{ "suction_pressure", "135" }, { "suction_line_temp", "66" }, { "liquid_pressure", "340" },
	{ "liquid_line_temp", "98" }, { "running_minutes", "20" }, { "return_db", "78" },
	{ "return_wb", "63" }, { "supply_db", "64.5" }, { "airflow", "2100" },
};

static void type(const struct typed *rows, size_t count, enum stage stage)
{
	struct error error;

	for (size_t i = 0; i < count; i++) {
		enum reading reading = reading_from_key(rows[i].key);
		ck_assert_msg(reading != READING_NONE, "%s", rows[i].key);
		ck_assert_msg(session_type(desk.session, stage, reading, rows[i].typed, &error) == STATUS_OK,
		              "%s: %s", rows[i].key, error.text);
	}
}

static void check_text(const char *text, enum unit_system units, const char *where)
{
	ck_assert_msg(regexec(&foreign[units], text, 0, NULL, 0) != 0, "%s, units %d: \"%s\"", where,
	              (int)units, text);
	ck_assert_msg(!strchr(text, '{'), "%s: \"%s\"", where, text);
}

/* A sentence of a table in the reader's units. */
static void check_sentence(const char *sentence, enum unit_system units, const char *where)
{
	char words[QUANTITIES_SIZE];

	if (!sentence)
		return;
	/* Room for what a quantity gains in both systems. */
	ck_assert_msg(strlen(sentence) + 100 < QUANTITIES_SIZE, "%s is cut", where);
	quantities_write(sentence, units, words, sizeof words);
	check_text(words, units, where);
}

/* Each row of the page, as it is drawn now. */
static void check_page(enum unit_system units, const char *where)
{
	struct text page;

	workbook_draw(desk.workbook);
	text_init(&page);
	canvas_dump(workbook_canvas(desk.workbook), &page);
	for (char *line = strtok((char *)(uintptr_t)text_get(&page), "\n"); line; line = strtok(NULL, "\n"))
		check_text(line, units, where);
	text_done(&page);
}

static void press(const char *keys, enum unit_system units)
{
	desk_keys(&desk, keys);
	check_page(units, keys);
}

/* The help of where the cursor is: it begins with the field. */
static void check_help(enum unit_system units)
{
	press("F1", units);
	desk_keys(&desk, "Esc");
}

static void begin(enum unit_system units)
{
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter");
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		type(readings, sizeof readings / sizeof *readings, (enum stage)stage);
	session_set_units(desk.session, units);
}

/* ---- Pages ---- */

/* Every row of a sheet with its hint and its help, the folded ones too. */
static void walk_sheet(const char *key, enum unit_system units)
{
	enum reading before = READING_NONE;
	int rows = 0;

	press(key, units);
	press("Alt+m", units);
	press("Home", units);
	check_help(units);
	for (enum reading here = workbook_here(desk.workbook); rows < 90; rows++) {
		press("Down", units);
		before = here;
		here = workbook_here(desk.workbook);
		if (here == before && here != READING_NONE)
			break;
		check_help(units);
	}
}

START_TEST(no_page_shows_a_unit_of_the_other_system)
{
	enum unit_system units = (enum unit_system)_i;
	char key[16];

	begin(units);
	for (int page = STEP_CALL; page <= STEP_AIR; page++) {
		snprintf(key, sizeof key, "F%d", page - STEP_CALL + 2);
		walk_sheet(key, units);
	}
}
END_TEST

/* Findings, options, work, report, and what a key opens beside them. */
START_TEST(no_other_page_shows_one)
{
	static const char *const pages[] = {
		"F10", "p", "F11", "F12", "Ctrl+P", "Tab", "Alt+c", "Alt+v", "Alt+g", "Alt+l", "Alt+w", "Alt+q",
		"Ctrl+O", "Tab", "Ctrl+G", "Esc", "Ctrl+B", "Tab",
	};
	enum unit_system units = (enum unit_system)_i;

	begin(units);
	press("F1", units);
	press("End", units);
	desk_keys(&desk, "Esc");
	for (size_t i = 0; i < sizeof pages / sizeof *pages; i++) {
		press(pages[i], units);
		if (strcmp(pages[i], "Ctrl+G") == 0)
			continue;
		for (int row = 0; row < 3; row++) {
			check_help(units);
			press("Down", units);
		}
	}
}
END_TEST

/* Each finding of the list with its advice; that on too much air names an airflow. */
START_TEST(no_finding_shows_one)
{
	static const char *const set[UNIT_SYSTEM_COUNT] = { "Set 350 to 450 cfm a ton",
	                                                    "Set 47 to 60 L/s a kW" };
	enum unit_system units = (enum unit_system)_i;

	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter");
	type(much_air, sizeof much_air / sizeof *much_air, STAGE_AS_FOUND);
	session_set_units(desk.session, units);
	press("F10", units);
	ck_assert(desk_shows(&desk, set[units]));
	for (int row = 0; row < 12; row++)
		press("Down", units);
	press("Right", units);
	for (int row = 0; row < 12; row++)
		press("Up", units);
}
END_TEST

START_TEST(every_page_shows_its_own_units)
{
	static const char *const own[UNIT_SYSTEM_COUNT] = { "psig", "kPa" };

	begin((enum unit_system)_i);
	desk_keys(&desk, "F8");
	ck_assert(desk_shows(&desk, own[_i]));
}
END_TEST

/* ---- Refusals ---- */

/* A number far outside and a word that is none, in each column of the lists. */
START_TEST(no_refusal_of_a_list_shows_one)
{
	static const char *const pages[] = { "F11", "F12", "Alt+v", "Alt+g" };
	static const char *const typed[] = { "'9999999' Enter", "'-9999' Enter", "'much' Enter" };
	enum unit_system units = (enum unit_system)_i;

	begin(units);
	for (size_t page = 0; page < sizeof pages / sizeof *pages; page++)
		for (size_t i = 0; i < sizeof typed / sizeof *typed; i++) {
			press(pages[page], units);
			press("Ctrl+N 'n' Enter", units);
			for (int column = 0; column < 12; column++) {
				press(typed[i], units);
				if (i == 0)
					check_help(units);
				press("Esc Right", units);
			}
		}
}
END_TEST

START_TEST(no_refusal_of_a_reading_shows_one)
{
	struct value value;
	struct error error;
	char doubt[200];

	for (int i = 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		const struct reading_info *info = reading_info(reading);
		if (info->kind != KIND_NUMBER && info->kind != KIND_RESISTANCE)
			continue;
		for (int units = 0; units < UNIT_SYSTEM_COUNT; units++) {
			ck_assert_int_eq(reading_from_number(reading, info->hard.high + 1, (enum unit_system)units,
			                                     &value, &error), STATUS_OUT_OF_RANGE);
			check_text(error.text, (enum unit_system)units, info->key);
			ck_assert_int_ne(reading_parse(reading, "much", (enum unit_system)units, &value, &error),
			                 STATUS_OK);
			check_text(error.text, (enum unit_system)units, info->key);
			reading_doubt(reading, (enum unit_system)units, doubt, sizeof doubt);
			check_text(doubt, (enum unit_system)units, info->key);
		}
	}
}
END_TEST

/* ---- Tables, whether or not a call brings the row up ---- */

START_TEST(no_fault_shows_one)
{
	enum unit_system units = (enum unit_system)_i;

	for (int i = FAULT_NONE + 1; i < FAULT_COUNT; i++) {
		const struct fault_info *info = fault_info((enum fault)i);
		check_sentence(info->advice, units, info->key);
		/* These are shown as they stand. */
		const char *const plain[] = { info->caution, info->meaning, info->within, info->near, info->due };
		for (size_t text = 0; text < sizeof plain / sizeof *plain; text++)
			if (plain[text])
				check_text(plain[text], units, info->key);
	}
}
END_TEST

START_TEST(no_reading_shows_one)
{
	enum unit_system units = (enum unit_system)_i;

	for (int i = 1; i < READING_COUNT; i++) {
		const struct reading_info *info = reading_info((enum reading)i);
		check_sentence(info->help, units, info->key);
		check_sentence(info->tells, units, info->key);
		check_text(info->label, units, info->key);
	}
	for (int i = 0; i < STATUS_COUNT; i++)
		check_text(status_sentence((enum status)i), units, "status");
	for (int i = 1; i < FIGURE_COUNT; i++)
		check_text(figure_info((enum figure)i)->label, units, figure_info((enum figure)i)->key);
}
END_TEST

START_TEST(no_caution_and_no_next_check_shows_one)
{
	static const char *const checks[] = {
#define PART_CHECK(reading, variable, tells, minutes, power_off, why) why,
#define CIRCUIT_CHECK(reading, seen, minutes)
#define DECIDING_CHECK(fault, other, reading)
#define CAUSE_CHECK(fault, reading, why) why,
#include <padside/diagnose/next_checks.def>
#undef CAUSE_CHECK
#undef DECIDING_CHECK
#undef CIRCUIT_CHECK
#undef PART_CHECK
	};
	static const char *const contradictions[] = {
#define CONTRADICTION(id, words, ...) words,
#include <padside/diagnose/contradictions.def>
#undef CONTRADICTION
	};
	enum unit_system units = (enum unit_system)_i;
	enum condition condition;
	const char *caution;

	for (int step = 0; step < STEP_COUNT; step++)
		for (int i = 0; (caution = step_caution((enum step)step, i, &condition)) != NULL; i++)
			check_text(caution, units, step_info((enum step)step)->key);
	for (size_t i = 0; i < sizeof checks / sizeof *checks; i++)
		check_text(checks[i], units, "next check");
	for (size_t i = 0; i < sizeof contradictions / sizeof *contradictions; i++)
		check_text(contradictions[i], units, "contradiction");
}
END_TEST

/* The sieve itself finds what it is for. */
START_TEST(a_unit_of_the_other_system_is_found)
{
	static const char *const shown[UNIT_SYSTEM_COUNT][4] = {
		[UNITS_US] = { "Over 107 °C", "0 to 85 kg is", "1.7 K colder", "150 mm from" },
		[UNITS_SI] = { "Set 350 to 450 cfm a ton", "0.25 in. w.c.", "0 to 1000 oz is", "within 6 in. of" },
	};

	for (int units = 0; units < UNIT_SYSTEM_COUNT; units++)
		for (size_t i = 0; i < 4; i++) {
			ck_assert_int_eq(regexec(&foreign[units], shown[units][i], 0, NULL, 0), 0);
			ck_assert_int_ne(regexec(&foreign[!units], shown[units][i], 0, NULL, 0), 0);
		}
}
END_TEST

Suite *units_shown_suite(void)
{
	Suite *suite = suite_create("units shown");
	TCase *tcase = tcase_create("units shown");

	tcase_add_checked_fixture(tcase, open_desk, close_desk);
	tcase_set_timeout(tcase, 60);
	tcase_add_loop_test(tcase, no_page_shows_a_unit_of_the_other_system, 0, UNIT_SYSTEM_COUNT);
	tcase_add_loop_test(tcase, no_other_page_shows_one, 0, UNIT_SYSTEM_COUNT);
	tcase_add_loop_test(tcase, no_finding_shows_one, 0, UNIT_SYSTEM_COUNT);
	tcase_add_loop_test(tcase, every_page_shows_its_own_units, 0, UNIT_SYSTEM_COUNT);
	tcase_add_loop_test(tcase, no_refusal_of_a_list_shows_one, 0, UNIT_SYSTEM_COUNT);
	tcase_add_test(tcase, no_refusal_of_a_reading_shows_one);
	tcase_add_loop_test(tcase, no_fault_shows_one, 0, UNIT_SYSTEM_COUNT);
	tcase_add_loop_test(tcase, no_reading_shows_one, 0, UNIT_SYSTEM_COUNT);
	tcase_add_loop_test(tcase, no_caution_and_no_next_check_shows_one, 0, UNIT_SYSTEM_COUNT);
	tcase_add_test(tcase, a_unit_of_the_other_system_is_found);
	suite_add_tcase(suite, tcase);
	return suite;
}
