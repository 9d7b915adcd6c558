/*
 * What is written on the page of the options: how each line is read and
 * written.
 */
#include "tui/choice_lines.h"

#include <stdio.h>

#include <padside/base/number.h>
#include <padside/base/text.h>
#include <padside/model/money.h>

enum { NUMBER_LIMIT = 24 };

const struct offer choice_blank = { .decided_at = WALL_TIME_NONE };

/* ---- The lines of a choice ---- */

static char *text_of(struct offer *offer, int line, size_t *size)
{
	*size = line == OPTION_DECIDED_BY ? sizeof offer->decided_by : sizeof offer->title;
	return line == OPTION_TITLE  ? offer->title
	       : line == OPTION_NOTE ? offer->note
	                             : offer->decided_by;
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

static enum status refuse_pair(const struct form_line *line, const char *other, const char *side,
                               const char *value, struct error *error)
{
	return error_set(error, STATUS_OUT_OF_RANGE,
	                 "%s would be %s %s, which is %s; change that first", line->label, side, other,
	                 value);
}

/* A fixed price stands in both fields; the ends of a range are changed each by itself. */
static enum status set_price(const struct form_line *line, void *element, const char *typed,
                             struct session *session, struct error *error)
{
	struct offer *offer = element;
	bool is_low = line->which == OPTION_PRICE_LOW, is_fixed = offer->price_low == offer->price_high;
	char other[MONEY_SIZE];
	cents price;
	enum status status = form_read_money(line, typed, &price, error);

	(void)session;
	if (status != STATUS_OK)
		return status;
	if (price < 0)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: a price is not below 0", line->label);
	money_format(is_low ? offer->price_high : offer->price_low, other, sizeof other);
	if (is_low && !is_fixed && price > offer->price_high)
		return refuse_pair(line, "price to", "above", other, error);
	if (!is_low && price != 0 && price < offer->price_low)
		return refuse_pair(line, "price from", "below", other, error);
	/* Where one end is emptied, or there was none, the price is the other. */
	if (is_low) {
		offer->price_high = is_fixed ? price : offer->price_high;
		offer->price_low = price == 0 ? offer->price_high : price;
	} else {
		offer->price_high = price == 0 ? offer->price_low : price;
		offer->price_low = offer->price_low == 0 ? price : offer->price_low;
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
	struct offer *offer = element, fresh = *offer;
	bool is_fixed = !(offer->years_low < offer->years_high);
	char other[NUMBER_SIZE];
	enum status status = form_read_number(line, typed, 0.1, 100, number_of(&fresh, line->which),
	                                      error);

	(void)session;
	if (status != STATUS_OK)
		return status;
	if (line->which == OPTION_YEARS_LOW && is_fixed)
		fresh.years_high = fresh.years_low;
	if (fresh.years_high < fresh.years_low && !(line->which == OPTION_YEARS_HIGH && !*typed)) {
		bool is_low = line->which == OPTION_YEARS_LOW;
		snprintf(other, sizeof other, "%.4g", is_low ? fresh.years_high : fresh.years_low);
		return refuse_pair(line, is_low ? "lasts to" : "lasts from", is_low ? "above" : "below",
		                   other, error);
	}
	*offer = fresh;
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
	return STATUS_OK;
}

/* A word that binds the customer is said back: what it was, of which price, and by whom. */
static void tell_kept(struct workbook *workbook, const struct form_line *line, const void *element,
                      void *context)
{
	const struct offer *offer = element;
	char price[MONEY_SIZE];

	(void)context;
	if (line->which == OPTION_DECISION && offer->decision != DECISION_NONE)
		workbook_say(workbook, INK_QUESTION, "Kept as %s%s.%s", line->words[offer->decision],
		             offer->price_high == 0 && offer->decision == DECISION_ACCEPTED
		             ? ", with no price typed" : "",
		             *offer->decided_by ? "" : " Who said so? Type the name.");
	if ((line->which != OPTION_PRICE_LOW && line->which != OPTION_PRICE_HIGH) ||
	    offer->price_low != offer->price_high || offer->price_low == 0)
		return;
	money_format(offer->price_low, price, sizeof price);
	workbook_say(workbook, INK_KEPT, "a fixed price: from and to are both %s", price);
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
	                 .limit = LINE_SIZE - 1, .which = OPTION_TITLE, .get = get_text,
	                 .set = set_text },
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
	                .limit = NUMBER_LIMIT, .which = OPTION_SEER, .get = get_number,
	                .set = set_number },
	[OPTION_DECISION] = { .label = "the customer",
	                    .help = "what the customer said, kept with the time.",
	                    .words = { "undecided", "accepted", "declined" }, .is_said = true,
	                    .limit = NUMBER_LIMIT,
	                    .which = OPTION_DECISION, .get = get_decision, .set = set_decision },
	[OPTION_DECIDED_BY] = { .label = "said by", .help = "who said it", .limit = NAME_SIZE - 1,
	                      .which = OPTION_DECIDED_BY, .get = get_text, .set = set_text },
	[OPTION_NOTE] = { .short_texts = SHORT_OWN, .label = "note",
	                .help = "what was said with it; printed on the report",
	                .limit = LINE_SIZE - 1, .which = OPTION_NOTE, .get = get_text,
	                .set = set_text },
};

const struct form_kind choice_offer_kind = {
	.name = "option", .home = FORM_HOME_LIST, .list = LIST_OFFERS,
	.lines = offer_lines, .count = OPTION_COUNT, .size = sizeof(struct offer), .keep = keep_offer,
	.kept = tell_kept,
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
