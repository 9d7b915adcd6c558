/*
 * What a figure stands for, where its readings decide that: its name, and what it leaves out.
 */
#include <padside/model/figures.h>

const char *figure_name(const struct visit *visit, enum stage stage, enum figure figure)
{
	const struct figure_info *info = figure_info(figure);

	for (int i = 0; i < FIGURE_MOST_PARTS && info->parts[i].lacking != READING_NONE; i++)
		if (!visit_has(visit, stage, info->parts[i].lacking))
			return info->parts[i].name;
	return info->label;
}

const char *figure_caution(const struct visit *visit, enum stage stage, enum figure figure)
{
	const struct figure_info *info = figure_info(figure);
	bool is_whole = info->caution.lacking == READING_NONE ||
	                visit_has(visit, stage, info->caution.lacking);

	return is_whole ? "" : info->caution.words;
}
