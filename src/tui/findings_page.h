#ifndef TUI_FINDINGS_PAGE_H
#define TUI_FINDINGS_PAGE_H

#include "tui/form.h"
#include "tui/list.h"

/* The page of findings, for the files that it is made of: its lines, its keys, its drawing. */

struct findings {
	struct list list; /* of the lines of the stage */
	bool on_why;      /* the grounds of a judgement are written */
};

/* One line: a finding, or what is noted beside them. */
struct findings_line {
	const struct finding *finding; /* NULL: noted */
	struct noted noted;            /* where there is no finding */
};

/* ---- Lines (findings_lines.c) ---- */

/* The diagnosis of the stage that is shown. */
const struct diagnosis *findings_shown(struct workbook *workbook);

/* Lines there are; and one of them, 0 to that less one. */
int findings_count(struct workbook *workbook);
void findings_at(struct workbook *workbook, int index, struct findings_line *line);

/* The finding under the cursor; NULL where there is none, or something noted. */
const struct finding *findings_chosen(struct workbook *workbook, const struct findings *findings);

/* Findings of a stage that still ask for something. */
int findings_open(struct workbook *workbook, enum stage stage);

/* What the technician decided about a fault on this call; NULL: nothing. */
const struct judgement *findings_judgement(struct workbook *workbook, enum fault fault);

/* "confirmed" */
const char *findings_verdict(enum judgement_verdict verdict);

/* The field for the grounds of the judgement under the cursor; false where none was given. */
bool findings_why(struct workbook *workbook, const struct findings *findings,
                  struct form_place *place);

/* ---- Drawing (findings_draw.c) ---- */

void findings_draw(struct workbook *workbook, void *state, struct area area);

#endif
