/*
 * What the leading explanations of the circuit predict, beside what was read:
 * a reading each row, an explanation each column, and whether the two agree.
 */
#include <stdio.h>

#include <padside/base/text.h>
#include <padside/report/wording.h>

#include "tui/list.h"
#include "tui/workbook.h"

enum {
	LABEL_COLUMNS = 25, READ_COLUMNS = 11, LEAST_COLUMNS = 14, MOST_HEAD_ROWS = 6, OWN_ROWS = 2
};

struct predictions_page {
	struct list list; /* on the readings */
	int first;        /* the explanation in the first column */
};

static const struct diagnosis *shown(struct workbook *workbook)
{
	return session_diagnosis(workbook_session(workbook), workbook_stage(workbook));
}

/* The explanation whose readings make the rows: the one that says something about most of them. */
static const struct prediction *fullest(const struct predictions *predictions)
{
	const struct prediction *fullest = &predictions->list[0];

	for (int i = 1; i < predictions->count; i++)
		if (predictions->list[i].count > fullest->count)
			fullest = &predictions->list[i];
	return fullest;
}

static int count_readings(const struct predictions *predictions)
{
	return predictions->count > 0 ? fullest(predictions)->count : 0;
}

/* What an explanation says of a reading; NULL for nothing. */
static const struct predicted *find(const struct prediction *prediction, enum reading reading)
{
	for (int i = 0; i < prediction->count; i++)
		if (prediction->list[i].reading == reading)
			return &prediction->list[i];
	return NULL;
}

static void enter(struct workbook *workbook, void *state)
{
	struct predictions_page *page = state;

	list_init(&page->list, false);
	list_set_count(&page->list, count_readings(&shown(workbook)->predictions));
	page->first = 0;
}

/* ---- Columns ---- */

/* How many explanations stand beside each other in `columns`. */
static int fitting(int columns, int count)
{
	int most = (columns - 1 - LABEL_COLUMNS - READ_COLUMNS) / LEAST_COLUMNS;

	return most < 1 ? 1 : most < count ? most : count;
}

/* The first explanation in sight, so that none stays out of reach. */
static int hold_first(int first, int count, int fit)
{
	return first > count - fit ? count - fit : first < 0 ? 0 : first;
}

/* ---- Keys ---- */

static void turn(struct workbook *workbook, struct predictions_page *page, int by)
{
	int count = shown(workbook)->predictions.count;
	int fit = fitting(canvas_columns(workbook_canvas(workbook)), count);

	if (fit == count)
		workbook_say(workbook, INK_MARGIN, "all explanations are shown");
	page->first = hold_first(page->first + by, count, fit);
}

static void go_to_reading(struct workbook *workbook, const struct predictions_page *page)
{
	int chosen = list_chosen(&page->list);

	if (chosen >= 0)
		workbook_go_reading(workbook,
		                    fullest(&shown(workbook)->predictions)->list[chosen].reading);
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct predictions_page *page = state;

	switch (request) {
	case REQUEST_PREDICTED_BEFORE:
		turn(workbook, page, -1);
		return true;
	case REQUEST_PREDICTED_AFTER:
		turn(workbook, page, 1);
		return true;
	case REQUEST_PREDICTED_BACK:
		workbook_go_back(workbook);
		return true;
	case REQUEST_LIST_PICK:
		go_to_reading(workbook, page);
		return true;
	default:
		return list_key(&page->list, key) != LIST_IGNORED;
	}
}

/* ---- Drawing ---- */

/* Where the columns stand in a frame. */
struct prediction_columns {
	int first, count; /* the explanations in sight */
	int width;        /* of each */
	int head_rows;    /* that their names take */
};

static int column_of(const struct prediction_columns *layout, int i)
{
	return 1 + LABEL_COLUMNS + READ_COLUMNS + i * layout->width;
}

static struct prediction_columns lay_out(struct canvas *canvas, struct area area,
                                         const struct predictions *predictions,
                                         struct predictions_page *page)
{
	struct prediction_columns layout = { .count = fitting(area.columns, predictions->count),
	                                     .head_rows = 1 };
	char words[WORDING_SIZE];

	page->first = hold_first(page->first, predictions->count, layout.count);
	layout.first = page->first;
	layout.width = (area.columns - 1 - LABEL_COLUMNS - READ_COLUMNS) / layout.count;
	for (int i = 0; i < layout.count; i++) {
		wording_explanation(&predictions->list[layout.first + i], words, sizeof words);
		int rows = canvas_wrap_count(canvas, layout.width - 1, words);
		if (rows > layout.head_rows)
			layout.head_rows = rows < MOST_HEAD_ROWS ? rows : MOST_HEAD_ROWS;
	}
	return layout;
}

/* The name of each explanation; under it how probable it is and how many readings agree. */
static void draw_heads(struct canvas *canvas, struct area area,
                       const struct predictions *predictions,
                       const struct prediction_columns *layout)
{
	char words[WORDING_SIZE];

	canvas_put(canvas, area, layout->head_rows, 1 + LABEL_COLUMNS, INK_STRONG, "read");
	for (int i = 0; i < layout->count; i++) {
		const struct prediction *prediction = &predictions->list[layout->first + i];
		int agree = 0, column = column_of(layout, i);
		for (int j = 0; j < prediction->count; j++)
			agree += prediction->list[j].agrees;
		wording_explanation(prediction, words, sizeof words);
		canvas_wrap(canvas, area_part(area, 0, column, layout->head_rows, layout->width - 1), 0, 0,
		            INK_STRONG, words);
		canvas_format(canvas, area, layout->head_rows, column, INK_MARGIN, "%.0f %%, %d of %d",
		              100 * prediction->probability, agree, prediction->count);
	}
}

/* "= 121.3 ±6.1"; the arrow says on which side the reading is. */
static void draw_predicted(struct canvas *canvas, struct area area, int row, int column,
                           unsigned style, const struct predicted *predicted,
                           enum unit_system units)
{
	unsigned ink = style == INK_SELECTED ? style : predicted->agrees ? (unsigned)INK_GOOD
	                                                                 : (unsigned)INK_WATCH;
	char words[WORDING_SIZE];

	canvas_put(canvas, area, row, column, ink, predicted->agrees ? "="
	           : predicted->measured > predicted->value ? "↑" : "↓");
	wording_predicted(predicted, units, words, sizeof words);
	canvas_put(canvas, area, row, column + 2, style, words);
}

static void draw_reading(struct workbook *workbook, struct area area, int row, unsigned style,
                         const struct predictions *predictions,
                         const struct prediction_columns *layout, int at)
{
	struct canvas *canvas = workbook_canvas(workbook);
	enum unit_system units = session_units(workbook_session(workbook));
	const struct predicted *read = &fullest(predictions)->list[at];
	struct value value = { .state = VALUE_TAKEN, .number = read->measured };
	char words[VALUE_TEXT_SIZE];

	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	canvas_put_padded(canvas, area, row, 1, LABEL_COLUMNS - 1, style,
	                  reading_info(read->reading)->label);
	reading_format(read->reading, &value, units, VALUE_FORM_WITH_UNIT, words, sizeof words);
	canvas_put(canvas, area, row, 1 + LABEL_COLUMNS, style, words);
	for (int i = 0; i < layout->count; i++) {
		const struct predicted *predicted = find(&predictions->list[layout->first + i],
		                                         read->reading);
		if (predicted)
			draw_predicted(canvas, area, row, column_of(layout, i), style, predicted, units);
	}
}

/* How today stands to this unit's own past. */
static void draw_own(struct canvas *canvas, struct area area, const struct diagnosis *diagnosis,
                     enum unit_system units)
{
	char words[WORDING_SIZE];

	for (int i = 0; i < diagnosis->own_count && i < area.rows; i++) {
		wording_own(&diagnosis->own[i], units, words, sizeof words);
		canvas_put(canvas, area, i, 1, INK_MARGIN, words);
	}
}

static void draw_table(struct workbook *workbook, struct predictions_page *page, struct area area)
{
	const struct diagnosis *diagnosis = shown(workbook);
	const struct predictions *predictions = &diagnosis->predictions;
	struct canvas *canvas = workbook_canvas(workbook);
	struct prediction_columns layout = lay_out(canvas, area, predictions, page);
	int head = layout.head_rows + 1, count = count_readings(predictions);
	int own = diagnosis->own_count < OWN_ROWS ? diagnosis->own_count : OWN_ROWS;
	int rows = area.rows - head - own;

	draw_heads(canvas, area, predictions, &layout);
	list_set_count(&page->list, count);
	struct area lines = list_layout(&page->list, canvas,
	                                area_rows(area, head, rows < count ? rows : count));
	for (int i = page->list.top; i < list_end(&page->list); i++) {
		draw_reading(workbook, lines, i - page->list.top, list_style(&page->list, i, INK_PLAIN),
		             predictions, &layout, i);
		workbook_hot(workbook, lines, i - page->list.top, 0, lines.columns, i);
	}
	draw_own(canvas, area_rows(area, head + lines.rows, own), diagnosis,
	         session_units(workbook_session(workbook)));
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct predictions_page *page = state;
	struct canvas *canvas = workbook_canvas(workbook);
	const struct diagnosis *diagnosis = shown(workbook);
	const char *unexplained = wording_unexplained(diagnosis);
	int row = 1;

	canvas_format(canvas, area, 0, 1, INK_TITLE, "Read and predicted, %s",
	              stage_words(workbook_stage(workbook)));
	if (*unexplained)
		row += canvas_wrap(canvas, area, row, 1, INK_WATCH, unexplained);
	if (diagnosis->predictions.count == 0) {
		const char *why = wording_not_judged(&session_call(workbook_session(workbook))->visit,
		                                     workbook_stage(workbook));
		row += canvas_format(canvas, area, row + 1, 1, INK_FAINT, "Nothing to compare%s%s.",
		                     *why ? ": " : "", why) > 0;
		canvas_wrap(canvas, area, row + 1, 1, INK_FAINT,
		            "Take pressures and pipe temperatures on the running unit, "
		            "the coil free of ice.");
		return;
	}
	draw_table(workbook, page, area_rows(area, row, area.rows - row));
	workbook_hint(workbook,
	              "± holds for 19 of 20 units, meter included. = agrees, ↑ reads higher, ↓ lower.");
}

static void click(struct workbook *workbook, void *state, int which)
{
	(void)workbook;
	list_choose(&((struct predictions_page *)state)->list, which);
}

const struct screen screen_predictions = {
	.place = PLACE_PREDICTIONS, .state_size = sizeof(struct predictions_page),
	.enter = enter, .draw = draw, .press = press, .click = click,
};
