/*
 * What was agreed: payment, warranty and terms, the customer's authorisation and
 * acceptance.
 */
#include "report/paper_parts.h"

#include <padside/model/money.h>

/* One line of what was set or typed on several; nothing when there is none. */
static void add_words(const struct paper *paper, const char *name, const char *words)
{
	struct text line;

	if (!words || !*words)
		return;
	text_init(&line);
	for (; *words; words++)
		text_add_char(&line, (char)(*words == '\n' ? ' ' : *words));
	document_pair(paper->document, name, text_get(&line));
	text_done(&line);
}

/* "Work authorised by Ada Example on 3 June 2026, 09:58, up to $450.00." */
static void add_authorisation(const struct paper *paper)
{
	const struct call *call = paper->call;
	struct text line;

	if (!*call->authorised_by && call->authorised_at == WALL_TIME_NONE &&
	    call->authorised_amount == 0)
		return;
	text_init(&line);
	text_add(&line, "Work authorised");
	if (*call->authorised_by)
		text_add_format(&line, " by %s", call->authorised_by);
	if (call->authorised_at != WALL_TIME_NONE)
		text_add_format(&line, " on %s", paper_moment(paper, call->authorised_at));
	if (call->authorised_amount != 0)
		text_add_format(&line, ", up to %s", paper_money(paper, call->authorised_amount));
	text_add_char(&line, '.');
	document_paragraph(paper->document, TONE_PLAIN, text_get(&line));
	text_done(&line);
}

/* The office settles it with the customer before the bill goes out. */
static void add_excess(const struct paper *paper)
{
	cents authorised = paper->call->authorised_amount;
	struct money_total total;

	if (!paper->for_office || authorised == 0 ||
	    money_total(paper->call, &total) != STATUS_OK || total.total <= authorised)
		return;
	document_paragraph(paper->document, TONE_CAUTION,
		document_format(paper->document, "The total of %s is above the %s that was authorised.",
		                paper_money(paper, total.total), paper_money(paper, authorised)));
}

/* The typed name, or a line to sign on. */
static void add_acceptance(const struct paper *paper)
{
	const struct call *call = paper->call;
	const char *moment = paper_moment(paper, call->accepted_at);
	struct money_total sum;
	/* A call without a bill has no total to accept. */
	bool has_total = paper_has_bill(paper) && money_total(call, &sum) == STATUS_OK;
	const char *total = !has_total ? "" : document_format(paper->document, ", and the total of %s",
	                                                      paper_money(paper, sum.total));

	if (*call->accepted_by) {
		document_paragraph(paper->document, TONE_PLAIN,
			document_format(paper->document, "Accepted by %s%s%s: the work under \"What we did\"%s.",
			                call->accepted_by, *moment ? " on " : "", moment, total));
		return;
	}
	document_paragraph(paper->document, TONE_PLAIN, !paper_has_work(paper)
		? "I have read this report."
		: document_format(paper->document, "I have read this report. I accept the work under \"What "
		                  "we did\"%s.", total));
	document_signature(paper->document);
	document_item(paper->document, "Name and signature");
	document_item(paper->document, "Date");
}

void paper_add_agreement(const struct paper *paper)
{
	document_heading(paper->document, 2, paper->for_office ? "Agreement" : "Your agreement");
	document_pairs(paper->document);
	add_words(paper, "Payment", paper->call->payment_terms);
	add_words(paper, "Warranty", paper->input->warranty);
	add_words(paper, "Terms", paper->input->terms);
	add_authorisation(paper);
	add_excess(paper);
	add_acceptance(paper);
}
