/*
 * The charge log on the page of the work.
 */
#include "tui/work_page.h"

#include <padside/base/number.h>
#include <padside/model/moved.h>
#include <padside/report/wording.h>

#include "tui/list.h"

static const struct work_slot charge_slots[] = {
	{ CHARGE_COLUMN_AT, "time", 5 }, { CHARGE_COLUMN_ADDED, "added", 6 },
	{ CHARGE_COLUMN_RECOVERED, "recov.", 6 }, { CHARGE_COLUMN_CYLINDER, "cylinder", 8 },
	{ CHARGE_COLUMN_READINGS + CHARGE_SUCTION_PRESSURE, "suction", 7 },
	{ CHARGE_COLUMN_READINGS + CHARGE_SUCTION_LINE_TEMP, "line", 6 },
	{ CHARGE_COLUMN_READINGS + CHARGE_LIQUID_PRESSURE, "liquid", 7 },
	{ CHARGE_COLUMN_READINGS + CHARGE_LIQUID_LINE_TEMP, "line", 6 },
	{ CHARGE_COLUMN_READINGS + CHARGE_OUTDOOR_DB, "outdoor", 7 },
	{ CHARGE_COLUMN_READINGS + CHARGE_RETURN_WB, "wet b.", 6 },
};
enum { CHARGE_SLOTS = sizeof charge_slots / sizeof *charge_slots };

/* Why the figures of an entry say nothing. */
static const char *void_word(const struct visit *visit, enum stage stage, enum status status)
{
	if (status == STATUS_ON_ICE)
		return "iced";
	return visit_choice(visit, stage, READING_COMPRESSOR_STATE) == CHOICE_COMPRESSOR_STATE_HUMS
		? "hums"
		: "off";
}

static void draw_figure(struct workbook *workbook, const struct charge_entry *entry,
                        struct area area, int at, int column, int width, enum figure figure)
{
	struct session *session = workbook_session(workbook);
	enum stage stage = session_stage(session);
	bool by_suction = figure == FIGURE_SUPERHEAT;
	struct visit visit;
	char shown[64];

	if (entry->values[by_suction ? CHARGE_SUCTION_PRESSURE : CHARGE_LIQUID_PRESSURE].state ==
	    VALUE_NOT_TAKEN)
		return;
	charging_visit(work_call(workbook), stage, entry, &visit);
	struct figure_value value = figure_evaluate(&visit, stage, figure);
	if (value.status == STATUS_ON_ICE || value.status == STATUS_AT_REST)
		canvas_put_right(workbook_canvas(workbook), area, at, column, width, INK_WATCH,
		                 void_word(&visit, stage, value.status));
	if (value.status != STATUS_OK)
		return;
	figure_format(figure, value.value, session_units(session), VALUE_FORM_SHEET, shown,
	              sizeof shown);
	canvas_put_right(workbook_canvas(workbook), area, at, column, width, INK_MARGIN, shown);
}

/* Superheat on an orifice, subcooling behind a valve; a wide page has both. */
static void draw_figures(struct workbook *workbook, const struct charge_entry *entry,
                         struct area area, int at, int column)
{
	struct canvas *canvas = workbook_canvas(workbook);
	struct charging charging;

	session_charging(workbook_session(workbook), &charging);
	bool by_superheat = charging.mode == CHARGE_BY_SUPERHEAT;
	if (area.columns >= WORK_WIDE_COLUMNS) {
		if (!entry) {
			canvas_put_right(canvas, area, at, column, 10, INK_MARGIN, "superheat");
			canvas_put_right(canvas, area, at, column + 11, 11, INK_MARGIN, "subcooling");
			return;
		}
		draw_figure(workbook, entry, area, at, column, 10, FIGURE_SUPERHEAT);
		draw_figure(workbook, entry, area, at, column + 11, 11, FIGURE_SUBCOOLING);
	} else if (!entry) {
		canvas_put_right(canvas, area, at, column, 5, INK_MARGIN, by_superheat ? "sh" : "sc");
	} else {
		draw_figure(workbook, entry, area, at, column, 5,
		            by_superheat ? FIGURE_SUPERHEAT : FIGURE_SUBCOOLING);
	}
}

/* Where the figures stand: behind the columns, or at the end of a narrow page. */
static int figure_column(struct area area)
{
	int column = 1;

	if (area.columns < WORK_ROOMY_COLUMNS)
		return area.columns - 6;
	for (int i = 0; i < CHARGE_SLOTS; i++)
		column += charge_slots[i].width + 1;
	return column;
}

/* "added 8.5 oz in all" behind the heading. */
static void draw_moved(struct workbook *workbook, struct area area, int column)
{
	enum unit_system units = session_units(workbook_session(workbook));
	enum unit shown = unit_shown(UNIT_OZ, units);
	int decimals = unit_decimals_shown(1, UNIT_OZ, units);
	struct moved moved;
	char in[NUMBER_SIZE], out[NUMBER_SIZE];

	moved_work_out(work_call(workbook), &moved);
	number_format(unit_convert(moved.added_oz, UNIT_OZ, shown), decimals, in, sizeof in);
	number_format(unit_convert(moved.recovered_oz, UNIT_OZ, shown), decimals, out, sizeof out);
	canvas_format(workbook_canvas(workbook), area, 0, column, INK_MARGIN,
	              "   added %s %s, recovered %s %s in all%s", in, unit_symbol(shown, false), out,
	              unit_symbol(shown, false), units == UNITS_SI ? "; kPa gauge, °C" : "");
}

void work_draw_charge(struct workbook *workbook, struct work *work, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct call *call = work_call(workbook);
	struct charging charging;
	char words[WORDING_SIZE];
	int column = work_draw_title(workbook, work, PART_CHARGE, area, "Charge log");

	draw_moved(workbook, area, column);
	session_charging(workbook_session(workbook), &charging);
	wording_charging(&charging, session_units(workbook_session(workbook)), words, sizeof words);
	int advice = canvas_wrap_count(canvas, area.columns - 2, words);
	bool active = work->part == PART_CHARGE;
	int rows = area.rows - 1 - (active ? 1 + 1 + advice : 1);
	work_draw_heads(workbook, work, PART_CHARGE, area, 1, charge_slots, CHARGE_SLOTS);
	draw_figures(workbook, NULL, area, 1, figure_column(area));
	int first = work_first(workbook, work, PART_CHARGE, rows), at = 2;
	list_draw_more(canvas, area_rows(area, at, rows), area.columns - 1,
	               work_rows(workbook, PART_CHARGE), first);
	for (int row = first; row < work_rows(workbook, PART_CHARGE) && row < first + rows;
	     row++, at++) {
		work_draw_mark(workbook, work, PART_CHARGE, area, at, row);
		work_draw_slots(workbook, work, PART_CHARGE, area, at, row, charge_slots, CHARGE_SLOTS);
		if (row < (int)call->charge_count)
			draw_figures(workbook, &call->charge[row], area, at, figure_column(area));
	}
	if (active) {
		work_draw_note(workbook, work, PART_CHARGE, area, at++, CHARGE_COLUMN_NOTE);
		canvas_wrap(canvas, area_rows(area, at, area.rows - at), 0, 1, INK_MARGIN, words);
	}
}
