#ifndef PADSIDE_SESSION_FIND_H
#define PADSIDE_SESSION_FIND_H

#include <stdbool.h>

#include <padside/app/history.h>
#include <padside/app/papers.h>
#include <padside/app/session.h>

/*
 * What a front end looks up in the book of a session: calls, customers,
 * prices, pages, the report.  Nothing here changes anything.
 *
 * The finders fill `lines` with at most `most` and set `count`; on failure
 * `count` is 0 and the error says why.
 */

/*
 * Calls with every word of `text` in them ("" for all): planned ones first, then open ones, then
 * the past.
 */
enum status session_find_calls(struct session *session, const char *text, struct call_line *lines,
                               int most, int *count, struct error *error);

/* Customers likewise, whoever was visited last first. */
enum status session_find_customers(struct session *session, const char *text,
                                   struct customer_line *lines, int most, int *count,
                                   struct error *error);

/*
 * Another customer of the book with the name or the phone number of the open
 * call's, however the number is written (seven digits at least); false where
 * there is none, or the book could not be read.
 */
bool session_find_known(struct session *session, struct customer_line *known);

/* The firm's own tune-up lists, a line each (model/checklist.h); "" where none were set. */
enum status session_own_checklists(struct session *session, char *lines, size_t size,
                                   struct error *error);

/* What was taken out of the book, by its kind (store_removed); the list is the caller's (free). */
enum status session_removed(struct session *session, enum store_kind kind,
                            struct store_removed **list, size_t *count, struct error *error);

/* Lines of the price list likewise, by code. */
enum status session_find_prices(struct session *session, const char *text,
                                struct price_item *lines, int most, int *count,
                                struct error *error);

/* What this customer was offered for this unit on earlier calls and did not take, newest first. */
enum status session_find_offered(struct session *session, struct past_offer *lines, int most,
                                 int *count, struct error *error);

/* The book's currency sign. */
enum status session_currency(struct session *session, char *currency, size_t size,
                             struct error *error);

/* A customer's page and a unit's history; see history.h for who frees them. */
enum status session_customer_page(struct session *session, const struct uid *customer,
                                  struct customer_page *page, struct error *error);
enum status session_history(struct session *session, const struct uid *system,
                            struct history *history, struct error *error);

/*
 * The visit to this unit before the open call: its readings and when it was.
 * STATUS_NOT_FOUND where there is none.
 */
enum status session_last_visit(struct session *session, struct visit *visit, wall_time *at,
                               struct error *error);

/* Appends the report of the open call; units are the session's. */
enum status session_write_paper(struct session *session, const struct paper_choice *choice,
                                struct text *out, struct error *error);

#endif
