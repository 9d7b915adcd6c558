/*
 * padside ledger: the refrigerant ledger as text, as CSV for a spreadsheet,
 * as JSON.  Files are in ounces; the text is in the units asked for.
 */
#include "cli/commands.h"

#include <math.h>
#include <string.h>

#include <padside/base/csv.h>
#include <padside/base/glyph.h>
#include <padside/base/json_text.h>
#include <padside/app/ledger.h>
#include <padside/base/number.h>

#include "cli/book.h"

enum { WORDS_COLUMNS = 44, AMOUNT_COLUMNS = 11 };

/* Columns of the CSV that only a line of what was made up fills, and those of a movement. */
enum { MADE_UP_FIELDS = 5, MOVE_FIELDS = 4 };

static const enum ledger_by order[] = { LEDGER_BY_YEAR, LEDGER_BY_SYSTEM, LEDGER_BY_CYLINDER };

static const char *const by_words[] = {
	[LEDGER_BY_YEAR] = "year", [LEDGER_BY_SYSTEM] = "unit", [LEDGER_BY_CYLINDER] = "cylinder",
};

/* How text is written. */
struct look {
	enum unit_system units; /* shown */
	bool plain;             /* ASCII only */
};

/* ---- Text ---- */

static void add_words(const struct look *look, struct text *text, const char *words,
                      const char *refrigerant)
{
	char cell[2 * NAME_SIZE + 32];
	struct text shown;

	snprintf(cell, sizeof cell, "%s%s%s", *words ? words : "not said", *refrigerant ? ", " : "",
	         refrigerant);
	text_init(&shown);
	glyph_add_string(&shown, cell, look->plain);
	text_add(text, text_get(&shown));
	/* One too long has a line to itself, so that the numbers stay in their columns. */
	int columns = text_columns(text_get(&shown));
	if (columns >= WORDS_COLUMNS) {
		text_add_char(text, '\n');
		columns = 0;
	}
	text_pad(text, ' ', WORDS_COLUMNS - columns);
	text_done(&shown);
}

static void add_amount(const struct look *look, struct text *text, double ounces)
{
	char digits[NUMBER_SIZE];
	enum unit unit = unit_shown(UNIT_OZ, look->units);

	number_format(unit_convert(ounces, UNIT_OZ, unit),
	              unit_decimals_shown(1, UNIT_OZ, look->units), digits, sizeof digits);
	text_add_format(text, "%*s", AMOUNT_COLUMNS, digits);
}

/* What a table is of, as wide as the words below it. */
static void add_head(struct text *text, const char *head)
{
	text_add(text, head);
	text_pad(text, ' ', WORDS_COLUMNS - text_columns(head));
}

static void add_totals(const struct look *look, const struct ledger *ledger, enum ledger_by by,
                       struct text *text)
{
	const char *symbol = unit_symbol(unit_shown(UNIT_OZ, look->units), true);

	char head[WORDS_COLUMNS];

	snprintf(head, sizeof head, "By %s, %s", by_words[by], symbol);
	add_head(text, head);
	/* Of a cylinder it is told from its own side: what left it was added to a unit. */
	bool is_own_side = by == LEDGER_BY_CYLINDER;
	text_add_format(text, "%*s%*s%*s\n", AMOUNT_COLUMNS, is_own_side ? "left it" : "added",
	                AMOUNT_COLUMNS, is_own_side ? "went in" : "recovered", AMOUNT_COLUMNS,
	                is_own_side ? "change" : "net");
	for (size_t i = 0; i < ledger->counts[by]; i++) {
		const struct ledger_line *line = &ledger->lines[by][i];
		add_words(look, text, line->words, line->refrigerant);
		add_amount(look, text, line->added_oz);
		add_amount(look, text, line->recovered_oz);
		add_amount(look, text, (line->added_oz - line->recovered_oz) * (is_own_side ? -1 : 1));
		text_add_char(text, '\n');
	}
	text_add_char(text, '\n');
}

/* Each movement with what a record of it needs: day, call, technician, cylinder. */
static void add_moves(const struct look *look, const struct ledger *ledger, struct text *text)
{
	char head[WORDS_COLUMNS], date[CLOCK_TEXT_SIZE], number[NAME_SIZE];

	snprintf(head, sizeof head, "Each movement, %s",
	         unit_symbol(unit_shown(UNIT_OZ, look->units), true));
	add_head(text, head);
	text_add_format(text, "%*s%*s\n", AMOUNT_COLUMNS, "added", AMOUNT_COLUMNS, "recovered");
	for (size_t i = 0; i < ledger->move_count; i++) {
		const struct moved_line *line = &ledger->moves[i];
		struct text beside;
		add_words(look, text, line->words, line->refrigerant);
		add_amount(look, text, line->added_oz);
		add_amount(look, text, line->recovered_oz);
		clock_format_date(line->at, date, sizeof date);
		text_init(&beside);
		text_add_format(&beside, "%s, call %s%s%s%s%s", date, ledger_call_number(line, number),
		                *line->technician ? ", " : "", line->technician,
		                *line->cylinder ? ", cylinder " : "", line->cylinder);
		text_add(text, "\n    ");
		glyph_add_string(text, text_get(&beside), look->plain);
		text_add_char(text, '\n');
		text_done(&beside);
	}
	text_add_char(text, '\n');
}

static void add_made_up(const struct look *look, const struct ledger *ledger, struct text *text)
{
	const char *symbol = unit_symbol(unit_shown(UNIT_OZ, look->units), true);

	char head[WORDS_COLUMNS];

	snprintf(head, sizeof head, "Added in a year beyond recovery, %s", symbol);
	add_head(text, head);
	text_add_format(text, "%*s%*s%*s\n", AMOUNT_COLUMNS, "year", AMOUNT_COLUMNS, "added",
	                AMOUNT_COLUMNS, "of charge");
	for (size_t i = 0; i < ledger->made_up_count; i++) {
		const struct made_up_line *line = &ledger->made_up[i];
		double share = ledger_share(line);
		add_words(look, text, line->words, line->refrigerant);
		text_add_format(text, "%*d", AMOUNT_COLUMNS, line->year);
		add_amount(look, text, line->made_up_oz);
		if (!isnan(share))
			text_add_format(text, "%*.1f %%", AMOUNT_COLUMNS - 2, share);
		text_add_char(text, '\n');
		if (*ledger_marks(line))
			text_add_format(text, "    %s\n", ledger_marks(line));
	}
	text_add(text, "Of charge: the factory charge, with the line set's where its length and the\n"
	         "maker's rate are on record. Leak tested or evacuated: with nitrogen or a vacuum\n"
	         "pump, on a call of that year. A unit's first filling, up to the year in\n"
	         "which it was made, makes up for nothing and is left out.\n");
}

static void write_text(const struct look *look, const struct ledger *ledger, struct text *text)
{
	if (ledger->counts[LEDGER_BY_YEAR] == 0) {
		text_add(text, "No refrigerant was moved yet.\n");
		return;
	}
	for (size_t i = 0; i < sizeof order / sizeof *order; i++)
		add_totals(look, ledger, order[i], text);
	add_moves(look, ledger, text);
	if (ledger->made_up_count > 0)
		add_made_up(look, ledger, text);
}

/* ---- CSV ---- */

static void csv_number(struct text *text, double number, bool *first)
{
	char digits[NUMBER_SIZE] = "";

	if (isfinite(number))
		number_format_exact(number, digits, sizeof digits);
	csv_add_field(text, digits, first);
}

static void csv_blank(struct text *text, int count, bool *first)
{
	for (int i = 0; i < count; i++)
		csv_add_field(text, "", first);
}

static void csv_line(struct text *text, const struct ledger_line *line, enum ledger_by by)
{
	bool first = true;

	csv_add_field(text, ledger_by_key(by), &first);
	csv_add_field(text, line->key, &first);
	csv_add_field(text, line->words, &first);
	csv_add_field(text, line->refrigerant, &first);
	csv_add_field(text, by == LEDGER_BY_YEAR ? line->key : "", &first);
	csv_number(text, line->added_oz, &first);
	csv_number(text, line->recovered_oz, &first);
	csv_number(text, line->added_oz - line->recovered_oz, &first);
	csv_blank(text, MADE_UP_FIELDS + MOVE_FIELDS, &first);
	csv_end_record(text);
}

static void csv_move(struct text *text, const struct moved_line *line)
{
	char date[CLOCK_TEXT_SIZE], number[NAME_SIZE];
	bool first = true;

	clock_format_date(line->at, date, sizeof date);
	csv_add_field(text, "move", &first);
	csv_add_field(text, line->call, &first);
	csv_add_field(text, line->words, &first);
	csv_add_field(text, line->refrigerant, &first);
	csv_number(text, clock_year(line->at), &first);
	csv_number(text, line->added_oz, &first);
	csv_number(text, line->recovered_oz, &first);
	csv_number(text, line->added_oz - line->recovered_oz, &first);
	csv_blank(text, MADE_UP_FIELDS, &first);
	csv_add_field(text, date, &first);
	csv_add_field(text, ledger_call_number(line, number), &first);
	csv_add_field(text, line->technician, &first);
	csv_add_field(text, line->cylinder, &first);
	csv_end_record(text);
}

static void csv_made_up(struct text *text, const struct made_up_line *line)
{
	bool first = true;

	csv_add_field(text, "made_up", &first);
	csv_add_field(text, line->system.text, &first);
	csv_add_field(text, line->words, &first);
	csv_add_field(text, line->refrigerant, &first);
	csv_number(text, line->year, &first);
	csv_add_field(text, "", &first);
	csv_add_field(text, "", &first);
	csv_number(text, line->made_up_oz, &first);
	csv_number(text, line->charge_oz > 0 ? line->charge_oz : NAN, &first);
	csv_number(text, ledger_line_set(line), &first);
	csv_number(text, ledger_share(line), &first);
	csv_add_field(text, line->leak_found ? "yes" : "", &first);
	csv_add_field(text, line->after_repair ? "yes" : "", &first);
	csv_blank(text, MOVE_FIELDS, &first);
	csv_end_record(text);
}

static void write_csv(const struct ledger *ledger, struct text *text)
{
	text_add(text, "total,key,words,refrigerant,year,added_oz,recovered_oz,net_oz,"
	         "factory_charge_oz,line_set_oz,share_percent,leak_found,after_repair,"
	         "date,call,technician,cylinder\r\n");
	for (size_t i = 0; i < sizeof order / sizeof *order; i++)
		for (size_t j = 0; j < ledger->counts[order[i]]; j++)
			csv_line(text, &ledger->lines[order[i]][j], order[i]);
	for (size_t i = 0; i < ledger->made_up_count; i++)
		csv_made_up(text, &ledger->made_up[i]);
	for (size_t i = 0; i < ledger->move_count; i++)
		csv_move(text, &ledger->moves[i]);
}

/* ---- JSON ---- */

static void json_text_member(struct text *text, const char *name, const char *value, bool *first)
{
	json_add_name(text, name, first);
	json_add_string(text, value);
}

static void json_number_member(struct text *text, const char *name, double value, bool *first)
{
	json_add_name(text, name, first);
	json_add_number(text, value);
}

static void json_flag_member(struct text *text, const char *name, bool flag, bool *first)
{
	json_add_name(text, name, first);
	text_add(text, flag ? "true" : "false");
}

static void json_line(struct text *text, const struct ledger_line *line, bool *first)
{
	bool inner = true;

	json_add_name(text, NULL, first);
	text_add_char(text, '{');
	json_text_member(text, "key", line->key, &inner);
	json_text_member(text, "words", line->words, &inner);
	json_text_member(text, "refrigerant", line->refrigerant, &inner);
	json_number_member(text, "added", line->added_oz, &inner);
	json_number_member(text, "recovered", line->recovered_oz, &inner);
	json_number_member(text, "entries", line->entries, &inner);
	text_add_char(text, '}');
}

static void json_made_up(struct text *text, const struct made_up_line *line, bool *first)
{
	bool inner = true;

	json_add_name(text, NULL, first);
	text_add_char(text, '{');
	json_text_member(text, "system_id", line->system.text, &inner);
	json_text_member(text, "words", line->words, &inner);
	json_text_member(text, "refrigerant", line->refrigerant, &inner);
	json_number_member(text, "year", line->year, &inner);
	json_number_member(text, "made_up", line->made_up_oz, &inner);
	json_number_member(text, "factory_charge", line->charge_oz > 0 ? line->charge_oz : NAN, &inner);
	json_number_member(text, "line_set", ledger_line_set(line), &inner);
	json_number_member(text, "share", ledger_share(line), &inner);
	json_flag_member(text, "leak_found", line->leak_found, &inner);
	json_flag_member(text, "after_repair", line->after_repair, &inner);
	text_add_char(text, '}');
}

static void json_move(struct text *text, const struct moved_line *line, bool *first)
{
	char date[CLOCK_TEXT_SIZE];
	bool inner = true;

	clock_format(line->at, date, sizeof date);
	json_add_name(text, NULL, first);
	text_add_char(text, '{');
	json_text_member(text, "at", date, &inner);
	json_text_member(text, "call_id", line->call, &inner);
	json_text_member(text, "job_number", line->number, &inner);
	json_text_member(text, "words", line->words, &inner);
	json_text_member(text, "refrigerant", line->refrigerant, &inner);
	json_text_member(text, "technician", line->technician, &inner);
	json_text_member(text, "cylinder", line->cylinder, &inner);
	json_number_member(text, "added", line->added_oz, &inner);
	json_number_member(text, "recovered", line->recovered_oz, &inner);
	text_add_char(text, '}');
}

static void json_moves(struct text *text, const struct ledger *ledger, bool *first)
{
	bool outer = true;

	json_add_name(text, "moves", first);
	text_add_char(text, '[');
	for (size_t i = 0; i < ledger->move_count; i++)
		json_move(text, &ledger->moves[i], &outer);
	text_add_char(text, ']');
}

static void write_json(const struct ledger *ledger, struct text *text)
{
	bool first = true;

	text_add_char(text, '{');
	json_text_member(text, "unit", "oz", &first);
	for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
		bool outer = true;
		json_add_name(text, ledger_by_key(order[i]), &first);
		text_add_char(text, '[');
		for (size_t j = 0; j < ledger->counts[order[i]]; j++)
			json_line(text, &ledger->lines[order[i]][j], &outer);
		text_add_char(text, ']');
	}
	json_moves(text, ledger, &first);
	bool outer = true;
	json_add_name(text, "made_up", &first);
	text_add_char(text, '[');
	for (size_t i = 0; i < ledger->made_up_count; i++)
		json_made_up(text, &ledger->made_up[i], &outer);
	text_add(text, "]}\n");
}

int command_ledger(struct cli *cli, int count, char **words)
{
	struct output_choice choice = { .word = NULL };
	enum output output;
	const struct option_row rows[] = {
		{ "format", "text|json|csv", "json and csv in ounces", NULL, &choice.word },
		{ "csv", NULL, "the same as --format csv", &choice.csv, NULL },
		{ "json", NULL, "the same as --format json", &choice.json, NULL },
		{ .name = NULL },
	};
	struct store *store;
	struct ledger ledger;
	struct text text;
	struct error error;

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, rows, stdout), EXIT_DONE;
	if (count != 0)
		return command_misuse(cli, "ledger takes options only");
	if (!command_output(cli, &choice, "text|json|csv", &output))
		return EXIT_USAGE;
	struct look look = { .units = cli->units,
		.plain = command_is_plain() };
	if (book_open(cli, STORE_EXISTING, &store, &error) != STATUS_OK)
		return command_report(&error);
	ledger_init(&ledger);
	text_init(&text);
	enum status status = ledger_load(store, &ledger, &error);
	if (status == STATUS_OK && output == OUTPUT_JSON)
		write_json(&ledger, &text);
	else if (status == STATUS_OK && output == OUTPUT_CSV)
		write_csv(&ledger, &text);
	else if (status == STATUS_OK)
		write_text(&look, &ledger, &text);
	fwrite(text_get(&text), 1, text.length, stdout);
	text_done(&text);
	ledger_done(&ledger);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}
