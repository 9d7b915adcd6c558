/*
 * What is still to be written down before the report is handed over.
 */
#include <padside/report/lacks.h>

#include <padside/base/text.h>
#include <padside/model/money.h>
#include <padside/model/moved.h>
#include <padside/model/power.h>

#include "report/paper_parts.h"

/*
 * Whether the work comes to less than the lowest price of what was accepted.  Prices of
 * options may be told with the tax or without, and a discount may be given on both.
 */
static bool is_accepted_unbilled(const struct call *call)
{
	struct money_total total;
	cents accepted = 0;

	for (size_t i = 0; i < call->offer_count; i++)
		if (call->offers[i].decision == DECISION_ACCEPTED)
			accepted += call->offers[i].price_low;
	return money_total(call, &total) == STATUS_OK &&
	       accepted > total.list + total.tax + total.given;
}

static bool is_decision_missing(const struct call *call)
{
	for (size_t i = 0; i < call->offer_count; i++)
		if (money_offer_is_billed(call, &call->offers[i]))
			return true;
	return false;
}

static bool is_filling_doubtful(const struct call *call)
{
	for (size_t i = 0; i < call->tightness_count; i++)
		if (moved_is_doubtful(call, &call->tightness[i]))
			return true;
	return false;
}

/* The tasks of a tune-up are labour without a price: they only say what was done. */
static bool is_price_missing(const struct call *call)
{
	for (size_t i = 0; i < call->work_count; i++)
		if (call->work[i].unit_price == 0 && !call->work[i].no_charge &&
		    (call->work[i].kind != WORK_LABOUR || !*call->checklist))
			return true;
	return false;
}

/* "None found" is an answer too. */
static bool is_leak_answered(const struct visit *visit)
{
	return visit_has(visit, STAGE_AS_FOUND, READING_LEAK_PLACE) ||
	       visit_has(visit, STAGE_AS_LEFT, READING_LEAK_PLACE);
}

/* "Everything else is in order" is not among them. */
static bool says_all_is_well(const char *summary)
{
	static const char *const words[] = {
		"all in order", "all is in order", "everything in order", "everything is in order",
	};

	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (text_contains_ignoring_case(summary, words[i]))
			return true;
	return false;
}

static bool is_anything_open(const struct paper *paper)
{
	struct document scratch;
	struct paper asked = *paper;

	document_init(&scratch);
	asked.document = &scratch;
	bool is_open = *paper_open_names(&asked) != '\0';
	document_done(&scratch);
	return is_open;
}

enum paper_lack paper_lacks(const struct call *call, const struct assessment *assessment)
{
	const struct paper_input input = { .call = call, .assessment = assessment };
	const struct paper paper = { .input = &input, .call = call };
	wall_time at;

	if (power_was_left_locked(call, &at) && !power_left_locked(call))
		return PAPER_LACKS_LOCK_AGAIN;
	if (paper_stays_off_for(&paper) != FAULT_NONE &&
	    !visit_has(&call->visit, STAGE_AS_FOUND, READING_LEFT_LOCKED))
		return PAPER_LACKS_LOCK;
	if (says_all_is_well(call->summary) && is_anything_open(&paper))
		return PAPER_LACKS_TRUTH;
	if (paper_is_something_cured(&paper) && !paper_lists_work(&paper))
		return PAPER_LACKS_WORK;
	if (paper_leak_is_open(&paper) && !is_leak_answered(&call->visit))
		return PAPER_LACKS_LEAK;
	if (is_filling_doubtful(call))
		return PAPER_LACKS_FILLING;
	if (is_decision_missing(call))
		return PAPER_LACKS_DECISION;
	if (is_accepted_unbilled(call))
		return PAPER_LACKS_BILL;
	return is_price_missing(call) ? PAPER_LACKS_PRICE : PAPER_LACKS_NOTHING;
}
