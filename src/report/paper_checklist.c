/*
 * The tune-up list of the visit: what of it is missing, for the office.
 */
#include "report/paper_parts.h"

#include <padside/model/checklist.h>

static void add_missing(const struct paper *paper, const struct checklist *list)
{
	document_list(paper->document);
	for (int i = 0; i < list->count; i++)
		if (checklist_judge(&list->items[i], paper->call) == CHECKLIST_MISSING)
			document_item(paper->document, checklist_item_label(&list->items[i]));
}

void paper_add_checklist(const struct paper *paper)
{
	struct checklist list;

	if (!*paper->call->checklist)
		return;
	document_heading(paper->document, 2, "Tune-up list");
	if (!checklist_of_call(paper->call, &list)) {
		document_paragraph(paper->document, TONE_PLAIN,
			document_format(paper->document, "\"%s\" cannot be read as a list.",
			                paper->call->checklist));
		return;
	}
	int missing = checklist_missing(&list, paper->call);
	document_paragraph(paper->document, TONE_PLAIN,
	                   missing == 0 ? document_format(paper->document, "%s: complete.", list.name)
	                                : document_format(paper->document, "%s: %d of %d missing.",
	                                                  list.name, missing, list.count));
	if (missing > 0)
		add_missing(paper, &list);
}
