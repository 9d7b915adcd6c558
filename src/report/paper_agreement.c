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

/* Names each option that somebody accepted for a price, which is no signature; false for none. */
static bool tell_accepted_options(const struct paper *paper)
{
	bool any = false;

	for (size_t i = 0; i < paper->call->offer_count; i++) {
		const struct offer *offer = &paper->call->offers[i];
		if (offer->decision != DECISION_ACCEPTED || offer->price_high == 0 ||
		    !*offer->decided_by)
			continue;
		any = true;
		const char *day = paper_day(paper, offer->decided_at);
		document_paragraph(paper->document, TONE_PLAIN,
			document_format(paper->document,
			                "Option \"%s\" accepted by %s%s%s; no signature on record.",
			                paper_offer_title(paper, offer), offer->decided_by, *day ? " on " : "",
			                day));
	}
	return any;
}

/* Work without anybody's word on record: the office asks for it. */
static void tell_not_authorised(const struct paper *paper)
{
	if (!paper->for_office || !paper_has_bill(paper) || *paper->call->accepted_by)
		return;
	if (!tell_accepted_options(paper))
		document_paragraph(paper->document, TONE_PLAIN,
		                   "Who authorised or accepted the work: not recorded.");
}

/* "Work authorised by Ada Example on 3 June 2026, 09:58, up to $450.00." */
static void add_authorisation(const struct paper *paper)
{
	const struct call *call = paper->call;
	struct text line;

	if (!*call->authorised_by && call->authorised_at == WALL_TIME_NONE &&
	    call->authorised_amount == 0) {
		tell_not_authorised(paper);
		return;
	}
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

/*
 * More than was authorised: the office settles it with the customer, who reads
 * no larger sum without being asked for it (Cal. B&P 7159.14).
 */
static void add_excess(const struct paper *paper)
{
	const struct call *call = paper->call;
	struct money_excess excess;

	if (money_excess(call, &excess) != STATUS_OK || !excess.is_over)
		return;
	if (paper->for_office)
		document_paragraph(paper->document, TONE_CAUTION,
			document_format(paper->document,
			                "The total of %s is above the %s that was authorised%s%s.",
			                paper_money(paper, excess.total),
			                paper_money(paper, call->authorised_amount),
			                excess.is_accepted ? "; " : "",
			                excess.is_accepted
			                ? document_format(paper->document, "%s accepted it", call->accepted_by)
			                : ""));
	else if (!excess.is_accepted)
		document_paragraph(paper->document, TONE_CAUTION,
			document_format(paper->document, "The total of %s is more than that: it "
			                "needs your agreement.", paper_money(paper, excess.total)));
}

/*
 * "; $3,650.00 of it is left to pay": behind a total of which a deposit was paid; "" without one.
 */
static const char *left_to_pay(const struct paper *paper)
{
	struct money_total sum;

	if (money_total(paper->call, &sum) != STATUS_OK || sum.deposit == 0 || sum.balance < 0)
		return "";
	return document_format(paper->document, "; %s of it is left to pay",
	                       paper_money(paper, sum.balance));
}

/* What was accepted, by whom and at which total; whether that is still what it comes to. */
static bool add_accepted(const struct paper *paper)
{
	const struct call *call = paper->call;
	const char *moment = paper_moment(paper, call->accepted_at);
	const char *who = document_format(paper->document, "ccepted by %s%s%s", call->accepted_by,
	                                  *moment ? " on " : "", moment);
	struct money_excess excess;

	bool is_changed = money_excess(call, &excess) == STATUS_OK && excess.is_changed;
	if (is_changed)
		document_paragraph(paper->document, TONE_CAUTION,
		                   document_format(paper->document,
		                                   "Changed after acceptance: a%s at %s, now %s.", who,
		                                   paper_money(paper, call->accepted_total),
		                                   paper_money(paper, excess.total)));
	else
		document_paragraph(paper->document, TONE_PLAIN,
			document_format(paper->document, "A%s: the work under \"What we did\"%s%s%s.", who,
			                call->accepted_total != 0 ? ", and the total of " : "",
			                call->accepted_total != 0
			                ? paper_money(paper, call->accepted_total) : "",
			                call->accepted_total != 0 ? left_to_pay(paper) : ""));
	return !is_changed;
}

/*
 * Whether nothing is left to be signed.  That the unit must stay off is signed for too;
 * a typed name says it where the reading that shows it was there by then.
 */
static bool is_signed(const struct paper *paper, bool is_accepted)
{
	enum fault fault = paper_stays_off_for(paper);

	if (fault == FAULT_NONE)
		return is_accepted;
	wall_time read = visit_value(&paper->call->visit, STAGE_AS_FOUND,
	                             fault_info(fault)->stays_off_by)->taken_at;
	bool is_told = is_accepted && read != WALL_TIME_NONE && read <= paper->call->accepted_at;
	document_paragraph(paper->document, TONE_CAUTION, is_told
		? document_format(paper->document, "%s was told that the unit must stay off.",
		                  paper->call->accepted_by)
		: "I was told that the unit must stay off.");
	return is_told;
}

/* The typed name, or a line to sign on; also where it came to another total since. */
static void add_acceptance(const struct paper *paper)
{
	struct money_total sum;
	/* A call without a bill has no total to accept. */
	bool has_total = paper_has_bill(paper) && money_total(paper->call, &sum) == STATUS_OK;
	const char *total = !has_total
	                        ? ""
	                        : document_format(paper->document, ", and the total of %s%s",
	                                          paper_money(paper, sum.total), left_to_pay(paper));

	bool is_accepted = *paper->call->accepted_by && add_accepted(paper);
	if (!is_accepted)
		document_paragraph(paper->document, TONE_PLAIN, !paper_has_work(paper)
			? "I have read this report."
			: document_format(paper->document,
			                  "I have read this report. I accept the work under \"What "
			                  "we did\"%s.", total));
	if (is_signed(paper, is_accepted))
		return;
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
