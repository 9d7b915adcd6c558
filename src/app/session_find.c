/*
 * What a front end looks up.
 */
#include <padside/app/session_find.h>

#include <stdlib.h>
#include <string.h>

#include <padside/app/settings.h>
#include <padside/base/text.h>

#include "app/session_parts.h"

/* As many of an owned list as have room. */
static void put_list(void *list, size_t there, size_t size, void *lines, int most, int *count)
{
	*count = there < (size_t)most ? (int)there : most;
	if (*count > 0)
		memcpy(lines, list, (size_t)*count * size);
	free(list);
}

static enum status tell(enum status status, int *count)
{
	if (status != STATUS_OK)
		*count = 0;
	return status;
}

enum status session_find_calls(struct session *session, const char *text, struct call_line *lines,
                               int most, int *count, struct error *error)
{
	struct store_listing listing;
	struct call_filter filter = { .text = text, .since = WALL_TIME_NONE, .limit = most,
	                              .by_state = true };

	*count = 0;
	store_calls_open(session_store(session), &filter, &listing);
	while (*count < most && store_calls_next(&listing, &lines[*count]))
		++*count;
	return tell(store_listing_close(&listing, error), count);
}

enum status session_find_customers(struct session *session, const char *text,
                                   struct customer_line *lines, int most, int *count,
                                   struct error *error)
{
	struct store_listing listing;

	*count = 0;
	store_customers_open(session_store(session), text, most, &listing);
	while (*count < most && store_customers_next(&listing, &lines[*count]))
		++*count;
	return tell(store_listing_close(&listing, error), count);
}

/* The digits of a phone number; fewer than a number has are none. */
static bool read_digits(const char *phone, char digits[PHONE_SIZE])
{
	enum { LEAST_DIGITS = 7 };
	size_t length = 0;

	for (; *phone && length + 1 < PHONE_SIZE; phone++)
		if (*phone >= '0' && *phone <= '9')
			digits[length++] = *phone;
	digits[length] = '\0';
	return length >= LEAST_DIGITS;
}

bool session_is_same_number(const char *a, const char *b)
{
	char first[PHONE_SIZE], second[PHONE_SIZE];

	return read_digits(a, first) && read_digits(b, second) && strcmp(first, second) == 0;
}

/* The first of the customers found by `text` who is another one with that name or number. */
static bool find_same(struct session *session, const char *text, struct customer_line *known)
{
	enum { MOST = 20 };
	const struct customer *who = &session_call(session)->customer;
	struct customer_line lines[MOST];
	struct error error;
	int count;

	if (session_find_customers(session, text, lines, MOST, &count, &error) != STATUS_OK)
		return false;
	for (int i = 0; i < count; i++) {
		const struct customer *other = &lines[i].customer;
		bool is_same = session_is_same_number(other->phone, who->phone) ||
		               (*who->name && text_equal_ignoring_case(other->name, who->name));
		if (strcmp(other->uid.text, who->uid.text) == 0 || !is_same)
			continue;
		*known = lines[i];
		return true;
	}
	return false;
}

bool session_find_known(struct session *session, struct customer_line *known)
{
	const struct customer *who = &session_call(session)->customer;
	char digits[PHONE_SIZE];

	/* The last four digits stand together, however a number is written. */
	if (read_digits(who->phone, digits) && find_same(session, digits + strlen(digits) - 4, known))
		return true;
	return *who->name && find_same(session, who->name, known);
}

enum status session_own_checklists(struct session *session, char *lines, size_t size,
                                   struct error *error)
{
	return setting_get(session_store(session), SETTING_CHECKLISTS, lines, size, error);
}

enum status session_removed(struct session *session, enum store_kind kind,
                            struct store_removed **list, size_t *count, struct error *error)
{
	return store_removed(session_store(session), kind, list, count, error);
}

enum status session_find_prices(struct session *session, const char *text,
                                struct price_item *lines, int most, int *count,
                                struct error *error)
{
	struct price_item *list;
	size_t there;
	enum status status = store_prices_find(session_store(session), text, most, &list, &there,
	                                       error);

	put_list(list, there, sizeof *list, lines, most, count);
	return status;
}

enum status session_find_offered(struct session *session, struct past_offer *lines, int most,
                                 int *count, struct error *error)
{
	const struct call *call = session_call(session);
	struct past_offer *list;
	size_t there;
	enum status status = store_offers_left(session_store(session), &call->customer.uid,
	                                       &call->system.uid, &call->uid, &list, &there, error);

	put_list(list, there, sizeof *list, lines, most, count);
	return status;
}

enum status session_currency(struct session *session, char *currency, size_t size,
                             struct error *error)
{
	return papers_currency(session_store(session), currency, size, error);
}

enum status session_customer_page(struct session *session, const struct uid *customer,
                                  struct customer_page *page, struct error *error)
{
	struct customer who = { .uid = *customer };

	return customer_page_load(session_store(session), &who, page, error);
}

enum status session_history(struct session *session, const struct uid *system,
                            struct history *history, struct error *error)
{
	return history_load(session_store(session), system, HISTORY_EVERYTHING, session_units(session),
	                    session_now(session), history, error);
}

enum status session_last_visit(struct session *session, struct visit *visit, wall_time *at,
                               struct error *error)
{
	const struct call *call = session_call(session);
	struct past_call *last;
	size_t count;
	enum status status = store_past_calls(session_store(session), &call->system.uid, call, 1, &last,
	                                      &count, error);

	if (status == STATUS_OK && count == 0)
		return error_set(error, STATUS_NOT_FOUND, "this unit was not visited before");
	if (status == STATUS_OK) {
		*visit = last->visit;
		*at = last->opened_at;
	}
	free(last);
	return status;
}

enum status session_write_paper(struct session *session, const struct paper_choice *choice,
                                struct text *out, struct error *error)
{
	struct paper_choice chosen = *choice;

	chosen.units = session_units(session);
	return papers_write(session_store(session), session_call(session), &chosen, out, error);
}
