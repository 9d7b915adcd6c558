/*
 * The questions of a merge: each field that two books changed without knowing
 * of each other, with both values; Enter takes the one under the cursor.
 */
#include <stdio.h>

#include <padside/app/trail_words.h>

#include "tui/list.h"
#include "tui/workbook.h"

/* Two lines a question: what counts now, and the other value. */
struct questions {
	struct list list; /* of the values */
};

enum { VALUE_COLUMN = 3, VALUE_COLUMNS = 36, ROWS_EACH = 3 };

static void enter(struct workbook *workbook, void *state)
{
	struct questions *questions = state;

	if (questions->list.rows == 0)
		list_init(&questions->list, false);
	list_set_count(&questions->list,
	               2 * (int)session_question_count(workbook_session(workbook)));
}

/* What the other value of a removal is: there is none, only the two ends. */
static void describe(const struct session *session, const struct store_question *question,
                     bool is_now, char *out, size_t size)
{
	const struct store_value *value = is_now ? &question->now : &question->other;

	if (question->is_removal)
		snprintf(out, size, "%s", is_now == question->is_out ? "taken out" : "stays in");
	else
		trail_words_value(question->what, question->field, value->text, session_units(session), out,
		                  size);
}

static void take(struct workbook *workbook, struct questions *questions)
{
	struct session *session = workbook_session(workbook);
	int chosen = list_chosen(&questions->list);
	char label[TRAIL_LABEL_SIZE], value[NOTE_SIZE];
	struct error error;

	if (chosen < 0)
		return;
	size_t index = (size_t)chosen / 2;
	const struct store_question *question = session_question_at(session, index);
	trail_words_field(question->what, question->field, label, sizeof label);
	describe(session, question, chosen % 2 == 0, value, sizeof value);
	if (session_answer(session, index, chosen % 2 == 0, &error) == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "%s: %s", label, value);
	else
		workbook_refuse(workbook, &error);
	enter(workbook, questions);
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct questions *questions = state;

	switch (request) {
	case REQUEST_QUESTION_BACK:
		workbook_go_back(workbook);
		return true;
	case REQUEST_QUESTION_TAKE:
		take(workbook, questions);
		return true;
	case REQUEST_QUESTION_UP:
	case REQUEST_QUESTION_DOWN:
		return list_key(&questions->list, key) != LIST_IGNORED;
	default:
		return false;
	}
}

static void draw_value(struct workbook *workbook, const struct questions *questions,
                       struct area area, int row, const struct store_question *question, int index)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct store_value *value = index % 2 == 0 ? &question->now : &question->other;
	unsigned style = list_style(&questions->list, index, INK_PLAIN);
	char shown[NOTE_SIZE], at[CLOCK_TEXT_SIZE];

	describe(workbook_session(workbook), question, index % 2 == 0, shown, sizeof shown);
	clock_format(value->at, at, sizeof at);
	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	int column = canvas_put_padded(canvas, area, row, VALUE_COLUMN, VALUE_COLUMNS, style, shown);
	if (value->at != WALL_TIME_NONE)
		canvas_format(canvas, area, row, column, style, " %.10s %.5s  %s", at, at + 11, value->by);
	canvas_put(canvas, area, row, area.columns - 12, style, index % 2 == 0 ? "counts now" : "");
	workbook_hot(workbook, area, row, 0, area.columns, index);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct questions *questions = state;
	const struct session *session = workbook_session(workbook);
	struct canvas *canvas = workbook_canvas(workbook);
	int count = (int)session_question_count(session), room = (area.rows - 1) / ROWS_EACH;

	list_set_count(&questions->list, 2 * count);
	int chosen = list_chosen(&questions->list) / 2, first = chosen >= room ? chosen - room + 1 : 0;
	int column = canvas_put(canvas, area, 0, 1, INK_TITLE, "Changed in two books");
	if (count > 0)
		canvas_format(canvas, area, 0, column, INK_TITLE, " (%d)", count);
	for (int i = first; i < count && i - first < room; i++) {
		const struct store_question *question = session_question_at(session, (size_t)i);
		int row = 1 + ROWS_EACH * (i - first);
		char label[TRAIL_LABEL_SIZE];
		trail_words_field(question->what, question->field, label, sizeof label);
		canvas_put(canvas, area, row, 1, INK_STRONG, label);
		draw_value(workbook, questions, area, row + 1, question, 2 * i);
		draw_value(workbook, questions, area, row + 2, question, 2 * i + 1);
	}
	if (count == 0)
		canvas_put(canvas, area, 1, 1, INK_FAINT,
		           "No field of this call was changed in two books.");
	workbook_hint(workbook, count > 0
	              ? "Ask who was there, or measure again. %s takes the value under the cursor."
	              : "A field that two books changed differently is shown here.",
	              request_info(REQUEST_QUESTION_TAKE)->key);
}

static void click(struct workbook *workbook, void *state, int which)
{
	(void)workbook;
	list_choose(&((struct questions *)state)->list, which);
}

const struct screen screen_questions = {
	.place = PLACE_QUESTIONS, .state_size = sizeof(struct questions),
	.enter = enter, .draw = draw, .press = press, .click = click,
};
