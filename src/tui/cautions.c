/*
 * The cautions of a step, where the work is.
 */
#include "tui/cautions.h"

#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/base/wrap.h>

enum {
	MARGIN_COLUMN = 1,
	FEWEST_BYTES = 40 /* of a sentence that has no room for its end */
};

/* Those of a condition that holds, or those of every unit. */
static void add_cautions(struct workbook *workbook, bool of_condition, struct text *all)
{
	const struct visit *visit = &session_call(workbook_session(workbook))->visit;
	enum condition condition;
	const char *caution;

	for (int i = 0; (caution = step_caution(workbook_step(workbook), i, &condition)) != NULL; i++)
		if ((condition != CONDITION_NONE) == of_condition &&
		    visit_condition_holds(visit, STAGE_AS_FOUND, condition))
			text_add_format(all, "%s%s", all->length ? " " : "", caution);
}

/*
 * Leaves what fits into the rows.  Of a last sentence that has no end there a few words
 * would say less than none: it goes as a whole.
 */
static void cut_to_rows(struct text *all, int columns, int rows, bool plain)
{
	const char *begun = text_get(all), *rest = begun;
	struct wrap_line line;

	for (int row = 0; row < rows && wrap_next(&rest, columns, plain, &line); row++)
		continue;
	size_t fits = (size_t)(rest - begun), end = fits;
	while (end > 1 && !(all->bytes[end - 1] == ' ' && strchr(".;", all->bytes[end - 2])))
		end--;
	all->length = end > 1 && fits - end < FEWEST_BYTES ? end : fits;
	all->bytes[all->length] = '\0';
}

int cautions_draw(struct workbook *workbook, struct area area, int most)
{
	struct canvas *canvas = workbook_canvas(workbook);
	struct text all;
	char more[32];

	/* What leads to those that have no room. */
	snprintf(more, sizeof more, " … all: %s", request_info(REQUEST_HELP)->key);
	int more_columns = canvas_width_of(canvas, more) + 1;
	text_init(&all);
	/* What is special about this unit comes first: the rest may have no room. */
	add_cautions(workbook, true, &all);
	add_cautions(workbook, false, &all);
	bool is_cut = canvas_wrap_count(canvas, area.columns - MARGIN_COLUMN, text_get(&all)) > most;
	struct area words = area_rows(area, 0, most);
	/* What leads to the rest has its own room, so that no word is cut. */
	if (is_cut) {
		words.columns -= more_columns;
		cut_to_rows(&all, words.columns - MARGIN_COLUMN, most, canvas_is_plain(canvas));
	}
	int rows = canvas_wrap(canvas, words, 0, MARGIN_COLUMN, INK_CAUTION, text_get(&all));
	text_done(&all);
	if (is_cut)
		canvas_put_padded(canvas, area, most - 1, area.columns - more_columns, more_columns,
		                  INK_KEY, more);
	return rows < most ? rows : most;
}
