#ifndef PADSIDE_NOTED_H
#define PADSIDE_NOTED_H

#include <stdbool.h>

#include <padside/base/units.h>
#include <padside/diagnose/assessment.h>
#include <padside/model/call.h>

/*
 * What is noted beside the findings: oil, a board's code, a heater without
 * current, a capacitor over its tolerance, a breaker that is too large.  No fault
 * is worked out from them, but each asks for something.  What was read again
 * after the work stands instead.
 */

enum {
	NOTED_ROWS = 7,  /* that there may be */
	NOTED_SIZE = 640 /* holds the longest typed value and what is said of it */
};

struct noted {
	const char *label;           /* "oil": of the reading or the figure.  Static. */
	char value[VALUE_TEXT_SIZE]; /* "acid, dark" */
	char office[NOTED_SIZE];     /* "Oil: acid, dark. Clear and pale. Acid, or dark and burnt: …" */
	enum level level;            /* how far it asks for work */
	bool is_beyond;              /* beyond its limit; else it is told whatever it says */
	const char *caution;         /* for who touches it; "" none.  Static. */
	const char *customer;        /* in plain words; "" nothing for the customer.  Static. */
};

/*
 * Row `which`, 0 to NOTED_ROWS - 1, in the reader's units.  False where there is
 * nothing of it to tell.
 */
bool noted_row(const struct visit *visit, const struct assessment *assessment, int which,
               enum unit_system units, struct noted *noted);

/* Whether there is any of it. */
bool noted_any(const struct visit *visit, const struct assessment *assessment);

#endif
