#ifndef PADSIDE_LACKS_H
#define PADSIDE_LACKS_H

#include <padside/diagnose/assessment.h>
#include <padside/model/call.h>

/* What is still to be written down before the report is handed over; the more important first. */
enum paper_lack {
	PAPER_LACKS_NOTHING,
	PAPER_LACKS_LOCK, /* the unit must stay off, and how it was left was not answered */
	PAPER_LACKS_LOCK_AGAIN, /* it was left locked by what is written, and had power after that */
	PAPER_LACKS_TRUTH, /* the summary says that all is in order, and a finding is open */
	PAPER_LACKS_WORK, /* something is good again, and no line says what was done */
	PAPER_LACKS_LEAK, /* charge was low or added to, and nothing is written of where it leaks */
	PAPER_LACKS_FILLING, /* a weigh-in may be one filling with what the charge log has */
	PAPER_LACKS_DECISION, /* the work of an option is billed that nobody decided */
	PAPER_LACKS_BILL, /* options were accepted for more than the lines of the work come to */
	PAPER_LACKS_PRICE /* a line of the work, no task of a tune-up, has no price and is not free */
};

enum paper_lack paper_lacks(const struct call *call, const struct assessment *assessment);

#endif
