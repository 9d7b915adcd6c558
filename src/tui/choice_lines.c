/*
 * What is written on the page of the options: how each line is read and
 * written.
 */
#include "tui/choice_lines.h"

#include <stdio.h>

#include <padside/base/text.h>
#include <padside/model/money.h>

enum { NUMBER_LIMIT = 24 };

const struct offer choice_blank = { .decided_at = WALL_TIME_NONE };

/* ---- The lines of a choice ---- */

static char *text_of(struct offer *offer, int line, size_t *size)
{
	*size = line == OPTION_DECIDED_BY ? sizeof offer->decided_by : sizeof offer->title;
	return line == OPTION_TITLE ? offer->title : line == OPTION_NOTE ? offer->note : offer->decided_by;
}

static void get_text(const struct form_line *line, const void *element, struct session *session,
                     char *out, size_t size)
{
	struct offer offer = *(const struct offer *)element;
	size_t most;

	(void)session;
	text_copy(out, size, text_of(&offer, line->which, &most));
}

static enum status set_text(const struct form_line *line, void *element, const char *typed,
                            struct session *session, struct error *error)
{
	size_t most;
	char *text = text_of(element, line->which, &most);

	(void)session;
	return form_read_text(line, typed, text, most, error);
}

static void get_price(const struct form_line *line, const void *element, struct session *session,
                      char *out, size_t size)
{
	const struct offer *offer = element;
	cents price = line->which == OPTION_PRICE_LOW ? offer->price_low : offer->price_high;

	(void)session;
	out[0] = '\0';
	if (price != 0)
		money_format(price, out, size);
}

/* The highest follows the lowest up, and the lowest the highest down. */
static enum status set_price(const struct form_line *line, void *element, const char *typed,
                             struct session *session, struct error *error)
{
	struct offer *offer = element;
	cents price;
	enum status status = form_read_money(line, typed, &price, error);

	(void)session;
	if (status != STATUS_OK)
		return status;
	if (price < 0)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: a price is not below 0", line->label);
	if (line->which == OPTION_PRICE_LOW) {
		bool was_fixed = offer->price_low == offer->price_high;
		offer->price_high = was_fixed || offer->price_high < price ? price : offer->price_high;
		offer->price_low = price;
	} else {
		if (offer->price_low == 0 || offer->price_low > price)
			offer->price_low = price;
		offer->price_high = price;
	}
	return STATUS_OK;
}

static double *number_of(struct offer *offer, int line)
{
	return line == OPTION_SEER ? &offer->seer : line == OPTION_YEARS_LOW ? &offer->years_low
	                                                                 : &offer->years_high;
}

static void get_number(const struct form_line *line, const void *element, struct session *session,
                       char *out, size_t size)
{
	struct offer offer = *(const struct offer *)element;
	double number = *number_of(&offer, line->which);

	(void)session;
	out[0] = '\0';
	if (number > 0)
		snprintf(out, size, "%.4g", number);
}

static enum status set_number(const struct form_line *line, void *element, const char *typed,
                              struct session *session, struct error *error)
{
	struct offer *offer = element;
	double *target = number_of(offer, line->which), before = *target;
	bool was_fixed = !(offer->years_low < offer->years_high);
	enum status status = form_read_number(line, typed, 0.1, 100, target, error);

	(void)session;
	if (status != STATUS_OK)
		return status;
	if (line->which == OPTION_YEARS_LOW && (was_fixed || offer->years_high < offer->years_low))
		offer->years_high = offer->years_low;
	if (line->which == OPTION_YEARS_HIGH && *typed && offer->years_high < offer->years_low) {
		*target = before;
		return error_set(error, STATUS_OUT_OF_RANGE,
		                 "%s: it lasts no shorter than the shortest time",
		                 line->label);
	}
	return STATUS_OK;
}

static void get_decision(const struct form_line *line, const void *element,
                         struct session *session, char *out, size_t size)
{
	(void)session;
	text_copy(out, size, line->words[((const struct offer *)element)->decision]);
}

static enum status set_decision(const struct form_line *line, void *element, const char *typed,
                                struct session *session, struct error *error)
{
	struct offer *offer = element;
	int word;
	enum status status = form_read_word(line, typed, &word, error);

	if (status != STATUS_OK)
		return status;
	offer->decision = (enum decision)word;
	offer->decided_at = word == DECISION_NONE ? WALL_TIME_NONE : session_now(session);
	if (word != DECISION_NONE && !*offer->decided_by)
		text_copy(offer->decided_by, sizeof offer->decided_by,
		          session_field(session, FIELD_CUSTOMER_NAME));
	return STATUS_OK;
}

static enum status keep_offer(struct session *session, const void *element, void *context,
                              struct error *error)
{
	(void)context;
	return session_put_offer(session, element, error);
}

static const struct form_line offer_lines[OPTION_COUNT] = {
	[OPTION_TITLE] = { .short_texts = SHORT_OPTION, .label = "what is done",
	                 .help = "in the customer's words, as the report says it",
	                 .limit = LINE_SIZE - 1, .which = OPTION_TITLE, .get = get_text, .set = set_text },
	[OPTION_PRICE_LOW] = { .label = "price from", .help = "the price, or the lowest it may come to",
	                     .limit = NUMBER_LIMIT, .which = OPTION_PRICE_LOW, .get = get_price,
	                     .set = set_price },
	[OPTION_PRICE_HIGH] = { .label = "price to",
	                      .help = "the highest it may come to; the same when fixed",
	                      .limit = NUMBER_LIMIT, .which = OPTION_PRICE_HIGH, .get = get_price,
	                      .set = set_price },
	[OPTION_YEARS_LOW] = { .label = "lasts from, years", .help = "how long it may last, at least",
	                     .limit = NUMBER_LIMIT, .which = OPTION_YEARS_LOW, .get = get_number,
	                     .set = set_number },
	[OPTION_YEARS_HIGH] = { .label = "lasts to, years", .help = "how long it may last, at most",
	                      .limit = NUMBER_LIMIT, .which = OPTION_YEARS_HIGH, .get = get_number,
	                      .set = set_number },
	[OPTION_SEER] = { .label = "SEER",
	                .help = "of the unit with this option; empty: as it is now",
	                .limit = NUMBER_LIMIT, .which = OPTION_SEER, .get = get_number, .set = set_number },
	[OPTION_DECISION] = { .label = "the customer",
	                    .help = "what the customer said, kept with the time.",
	                    .words = { "undecided", "accepted", "declined" }, .limit = NUMBER_LIMIT,
	                    .which = OPTION_DECISION, .get = get_decision, .set = set_decision },
	[OPTION_DECIDED_BY] = { .label = "said by", .help = "who said it", .limit = NAME_SIZE - 1,
	                      .which = OPTION_DECIDED_BY, .get = get_text, .set = set_text },
	[OPTION_NOTE] = { .short_texts = SHORT_OWN, .label = "note", .help = "what was said with it; printed on the report",
	                .limit = LINE_SIZE - 1, .which = OPTION_NOTE, .get = get_text, .set = set_text },
};

const struct form_kind choice_offer_kind = {
	.name = "option", .home = FORM_HOME_LIST, .list = LIST_OFFERS,
	.lines = offer_lines, .count = OPTION_COUNT, .size = sizeof(struct offer), .keep = keep_offer,
};

/* ---- The season ---- */

static double *season_of(struct billing *billing, int line)
{
	return line == OPTION_HOURS ? &billing->cooling_hours : &billing->energy_rate;
}

static void get_season(const struct form_line *line, const void *element, struct session *session,
                       char *out, size_t size)
{
	struct billing billing = *(const struct billing *)element;
	double number = *season_of(&billing, line->which);

	(void)session;
	out[0] = '\0';
	if (number > 0)
		snprintf(out, size, "%.6g", number);
}

static enum status set_season(const struct form_line *line, void *element, const char *typed,
                              struct session *session, struct error *error)
{
	(void)session;
	return form_read_number(line, typed, 0.1, 8784, season_of(element, line->which), error);
}

static enum status keep_billing(struct session *session, const void *element, void *context,
                                struct error *error)
{
	(void)context;
	return session_put_billing(session, element, error);
}

static const struct form_line season_lines[] = {
	{ .label = "cooling hours a year",
	  .help = "full-load hours a year at this place: the local figure",
	  .limit = NUMBER_LIMIT, .which = OPTION_HOURS, .get = get_season, .set = set_season },
	{ .label = "cents a kWh", .help = "what electricity costs here, cents for a kilowatt-hour",
	  .limit = NUMBER_LIMIT, .which = OPTION_RATE, .get = get_season, .set = set_season },
};

const struct form_kind choice_season_kind = {
	.name = "season", .home = FORM_HOME_BILLING,
	.lines = season_lines, .count = 2, .size = sizeof(struct billing), .keep = keep_billing,
};
