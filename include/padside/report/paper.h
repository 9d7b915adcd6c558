#ifndef PADSIDE_PAPER_H
#define PADSIDE_PAPER_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/model/call.h>
#include <padside/diagnose/assessment.h>
#include <padside/report/document.h>
#include <padside/model/figures.h>
#include <padside/base/units.h>

/*
 * The report of a call, for the customer or for the office.  Pure: what is
 * known of a call in, a neutral document out; the same in every format, at any
 * time.
 */

enum paper_reader {
	PAPER_CUSTOMER, /* plain words, what concerns the customer */
	PAPER_OFFICE,   /* everything */
	PAPER_READER_COUNT
};

/* "customer", "office": what `export --for` takes. */
const char *paper_reader_key(enum paper_reader reader);
bool paper_reader_from_key(const char *key, enum paper_reader *reader);

/* An earlier visit to the same unit. */
struct paper_visit {
	wall_time at;      /* when it began */
	const char *found; /* what was found, in one line; may be "" */
	const char *done;  /* what was done, in one line; may be "" */
};

struct paper_input {
	const struct call *call;                         /* the call itself */
	const struct assessment *assessment;             /* what its readings mean */
	enum unit_system units;                          /* how to show values */
	const char *currency;                            /* "$", "EUR"; NULL or "" for none */
	bool is_a4;                                      /* sheets are A4 */
	struct picture logo;                             /* beside the head; .bytes NULL for none */
	const char *const *company;                      /* head of the report, the name first */
	size_t company_count;                            /* lines of it; may be 0 */
	const struct paper_visit *visits;                /* earlier ones, newest first */
	size_t visit_count;                              /* of them */
	const struct watch_item *watch;                  /* open from earlier visits */
	size_t watch_count;                              /* of them */
	const struct past_offer *offered;                /* at earlier visits, and not taken */
	size_t offered_count;                            /* of them */
	const struct trend *trends;                      /* readings over the visits */
	size_t trend_count;                              /* of them */
	const char *warranty;                            /* lines; NULL or "" for none */
	const char *terms;                               /* lines; NULL or "" for none */
};

/*
 * Builds the report for a reader into an initialised, empty document.
 * document->failed says when memory ran out.
 */
void paper_build(const struct paper_input *input, enum paper_reader reader,
                 struct document *document);

/*
 * How likely something is, in words: "almost certain" from 0.95, "very
 * likely" from 0.8, "likely" from 0.6, "possible" from 0.3, "less likely".
 */
const char *paper_likelihood(double probability);

/*
 * The line of a report's head by which the firm can be called: the first that holds
 * seven digits or more in a row, with the marks that group them; a postal code of five
 * and four is none.  "" when there is none.
 */
const char *paper_phone(const char *const *company, size_t count);

/* "3 June 2026"; "" for WALL_TIME_NONE. */
void paper_date(wall_time time, char *out, size_t size);

#endif
