/*
 * A place of the form: its line, what stands there, and whether one writes in it.
 */
#include "tui/form_parts.h"

bool form_is_writing(const struct workbook *workbook)
{
	return workbook_form(workbook)->writing;
}

const struct form_line *form_line_at(const struct form_place *place)
{
	return &place->kind->lines[place->line];
}

void form_get(const struct form_place *place, struct session *session, char *out, size_t size)
{
	const struct form_line *line = form_line_at(place);

	out[0] = '\0';
	if (!place->is_fresh)
		line->get(line, place->element, session, out, size);
}
