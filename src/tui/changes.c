/*
 * The changes of a call, newest first: what, from which value to which, who and
 * when; any whose field was not changed again since can be taken back.
 */
#include <stdlib.h>
#include <string.h>

#include <padside/app/trail_words.h>
#include <padside/base/text.h>

#include "tui/list.h"
#include "tui/workbook.h"

enum {
	WHEN_COLUMNS = 13, YEAR_COLUMNS = 5, MOST_WHO_COLUMNS = 16, ROOMY_COLUMNS = 75,
	LEAST_LABEL_COLUMNS = 20
};

/* What stands beside each other on the page, from what is on it. */
struct columns {
	int year;  /* 5 where a change is of another year */
	int label; /* the longest, where the page is wide: the values keep half of it */
	int who;   /* 0 where nobody is named, or the page is narrow */
};

struct changes {
	struct list list;            /* of them */
	struct store_entry *entries; /* owned */
	size_t count;                /* of them */
};

static void look(struct workbook *workbook, struct changes *changes)
{
	struct error error;

	free(changes->entries);
	if (session_changes(workbook_session(workbook), &changes->entries, &changes->count, &error) !=
	    STATUS_OK)
		workbook_refuse(workbook, &error);
	list_set_count(&changes->list, (int)changes->count);
}

static void enter(struct workbook *workbook, void *state)
{
	struct changes *changes = state;

	if (changes->list.rows == 0)
		list_init(&changes->list, false);
	look(workbook, changes);
}

/* Whether nothing came into the field since. */
static bool stands(const struct changes *changes, size_t index)
{
	const struct store_entry *entry = &changes->entries[index];

	for (size_t i = 0; i < index; i++)
		if (strcmp(changes->entries[i].thing.text, entry->thing.text) == 0 &&
		    strcmp(changes->entries[i].field, entry->field) == 0)
			return false;
	return true;
}

static void take_back(struct workbook *workbook, struct changes *changes)
{
	int chosen = list_chosen(&changes->list);
	char label[TRAIL_LABEL_SIZE];
	struct error error;

	if (chosen < 0)
		return;
	const struct store_entry *entry = &changes->entries[chosen];
	trail_words_field(entry->what, entry->field, label, sizeof label);
	if (session_take_back(workbook_session(workbook), entry, &error) == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "taken back: %s", label);
	else
		workbook_refuse(workbook, &error);
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct changes *changes = state;

	switch (request) {
	case REQUEST_CHANGE_UP:
	case REQUEST_CHANGE_DOWN:
	case REQUEST_CHANGE_PAGE_UP:
	case REQUEST_CHANGE_PAGE_DOWN:
	case REQUEST_CHANGE_FIRST:
	case REQUEST_CHANGE_LAST:
		return list_key(&changes->list, key) != LIST_IGNORED;
	case REQUEST_CHANGE_TAKE_BACK:
		take_back(workbook, changes);
		return true;
	case REQUEST_CHANGE_BACK:
		workbook_go_back(workbook);
		return true;
	default:
		return false;
	}
}

/* "118.0 psig", or "118.0 psig → 112.0 psig". */
static void describe(const struct session *session, const struct store_entry *entry,
                     const struct canvas *canvas, struct text *text)
{
	char value[NOTE_SIZE];

	if (*entry->before) {
		trail_words_value(entry->what, entry->field, entry->before, session_units(session), value,
		                  sizeof value);
		text_add_format(text, "%s %s ", value, canvas_width_of(canvas, "→") == 1 ? "→" : "->");
	}
	trail_words_value(entry->what, entry->field, entry->after, session_units(session), value,
	                  sizeof value);
	text_add(text, value);
}

static int most(int one, int other)
{
	return one > other ? one : other;
}

/* Of the changes in sight. */
static struct columns find_columns(const struct session *session, const struct changes *changes,
                                   const struct canvas *canvas, int width)
{
	struct columns columns = { .label = LEAST_LABEL_COLUMNS };
	char label[TRAIL_LABEL_SIZE], at[CLOCK_TEXT_SIZE], now[CLOCK_TEXT_SIZE];

	clock_format(session_now(session), now, sizeof now);
	for (int i = changes->list.top; i < list_end(&changes->list); i++) {
		const struct store_entry *entry = &changes->entries[i];
		trail_words_field(entry->what, entry->field, label, sizeof label);
		clock_format(entry->at, at, sizeof at);
		/* On a narrow page the values are worth more than who changed them. */
		if (width >= ROOMY_COLUMNS)
			columns.label = most(columns.label, canvas_width_of(canvas, label) + 1);
		if (width >= ROOMY_COLUMNS && *entry->by)
			columns.who = most(columns.who, canvas_width_of(canvas, entry->by) + 1);
		if (entry->at != WALL_TIME_NONE && strncmp(at, now, 4) != 0)
			columns.year = YEAR_COLUMNS;
	}
	int half = (width - WHEN_COLUMNS - columns.year) / 2;
	columns.label = columns.label > half ? half : columns.label;
	columns.who = columns.who > MOST_WHO_COLUMNS ? MOST_WHO_COLUMNS : columns.who;
	return columns;
}

static void draw_entry(struct workbook *workbook, struct changes *changes, struct area area,
                       int row, int index, const struct columns *columns)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct store_entry *entry = &changes->entries[index];
	unsigned style = list_style(&changes->list, index,
	                            stands(changes, (size_t)index) ? INK_PLAIN : INK_FAINT);
	char at[CLOCK_TEXT_SIZE], label[TRAIL_LABEL_SIZE];
	int when = WHEN_COLUMNS + columns->year;
	int middle = area.columns - when - columns->label - columns->who - 2;
	struct text text;

	text_init(&text);
	clock_format(entry->at, at, sizeof at);
	trail_words_field(entry->what, entry->field, label, sizeof label);
	describe(workbook_session(workbook), entry, canvas, &text);
	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	if (entry->at != WALL_TIME_NONE)
		canvas_format(canvas, area, row, 1, style, "%.*s %.5s", columns->year ? 10 : 5,
		              at + (columns->year ? 0 : 5), at + 11);
	int column = canvas_put_padded(canvas, area, row, when, columns->label, style, label);
	column = canvas_put_padded(canvas, area, row, column + 1, middle, style, text_get(&text));
	canvas_put_padded(canvas, area, row, column + 1, columns->who, style, entry->by);
	text_done(&text);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct changes *changes = state;
	struct canvas *canvas = workbook_canvas(workbook);

	/* Undo, redo and other programs add to it. */
	look(workbook, changes);
	canvas_format(canvas, area, 0, 1, INK_TITLE, "Changes of this call (%zu)", changes->count);
	struct area lines = list_layout(&changes->list, canvas, area_rows(area, 1, area.rows - 1));
	const struct columns columns = find_columns(workbook_session(workbook), changes, canvas,
	                                            lines.columns);
	for (int i = changes->list.top; i < list_end(&changes->list); i++) {
		draw_entry(workbook, changes, lines, i - changes->list.top, i, &columns);
		workbook_hot(workbook, lines, i - changes->list.top, 0, lines.columns, i);
	}
	if (changes->count == 0)
		canvas_put(canvas, area, 1, 1, INK_FAINT, "Nothing was changed yet.");
	workbook_hint(workbook, "%s takes a change back. A faint one: take the later change of it back "
	              "first.", request_info(REQUEST_CHANGE_TAKE_BACK)->key);
}

static void click(struct workbook *workbook, void *state, int which)
{
	(void)workbook;
	list_choose(&((struct changes *)state)->list, which);
}

static void done(void *state)
{
	free(((struct changes *)state)->entries);
}

const struct screen screen_changes = {
	.place = PLACE_CHANGES, .state_size = sizeof(struct changes),
	.enter = enter, .draw = draw, .press = press, .click = click, .done = done,
};
