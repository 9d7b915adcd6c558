/*
 * What was agreed: the customer's acceptance, the warranty, the terms.
 */
#include "report/paper_parts.h"

static bool is_said(const char *words)
{
	return words && *words;
}

/* Words under a heading of their own; nothing when there are none. */
static void add_words(const struct paper *paper, const char *heading, const char *words)
{
	if (!is_said(words))
		return;
	document_heading(paper->document, 2, heading);
	document_paragraph(paper->document, TONE_PLAIN, words);
}

void paper_add_agreement(const struct paper *paper)
{
	add_words(paper, "Warranty", paper->input->warranty);
	add_words(paper, "Terms", paper->input->terms);
	document_heading(paper->document, 2, "Your acceptance");
	document_paragraph(paper->document, TONE_PLAIN,
	                   "I have read this report and accept the work as described.");
	document_signature(paper->document);
	document_item(paper->document, "Name and signature");
	document_item(paper->document, "Date");
}
