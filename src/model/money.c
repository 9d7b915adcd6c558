/*
 * Money, in integers throughout: products and sums are checked, and every
 * rounding goes through multiply_divide().
 */
#include <padside/model/money.h>

#include <ctype.h>
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include <padside/base/text.h>

/* Amounts stay where a double is exact, so that no reader of a file loses a cent. */
static const int64_t amount_most = INT64_C(9007199254740991);

/* `a` × `b` / `divisor`, rounded half away from zero.  False when it is too large. */
static bool multiply_divide(int64_t a, int64_t b, int64_t divisor, int64_t *result)
{
	int64_t product;

	if (__builtin_mul_overflow(a, b, &product))
		return false;
	int64_t quotient = product / divisor, rest = product % divisor;
	if (rest >= divisor - rest)
		quotient++;
	else if (-rest >= divisor + rest)
		quotient--;
	*result = quotient;
	return quotient <= amount_most && quotient >= -amount_most;
}

/* Adds to a sum.  False when it becomes too large. */
static bool add(int64_t *sum, int64_t amount)
{
	return !__builtin_add_overflow(*sum, amount, sum) &&
	       *sum <= amount_most && *sum >= -amount_most;
}

enum status money_line_amount(const struct work_line *line, cents *amount)
{
	cents product = 0;

	*amount = 0;
	if (!multiply_divide(line->quantity, line->unit_price, 1000, &product))
		return STATUS_MONEY_TOO_LARGE;
	*amount = product;
	return STATUS_OK;
}

/* A share of an amount at a rate, rounded. */
static bool take_percent(cents amount, millipercent rate, cents *share)
{
	return multiply_divide(amount, rate, 100 * 1000, share);
}

/* Fills in what the sum of a class's lines leads to. */
static bool settle_class(struct money_class *class, enum work_kind kind,
                         const struct billing *billing)
{
	class->charged = class->list;
	return take_percent(class->list, billing->discount, &class->discount) &&
	       add(&class->charged, -class->discount) &&
	       take_percent(class->charged, billing->tax[kind], &class->tax);
}

/* Sums the lines of a call by their kind. */
static bool add_lines(const struct call *call, struct money_total *sum)
{
	for (size_t i = 0; i < call->work_count; i++) {
		const struct work_line *line = &call->work[i];
		struct money_class *class = &sum->classes[line->kind];
		cents amount;
		if (money_line_amount(line, &amount) != STATUS_OK)
			return false;
		class->has_lines = class->has_lines || !line->no_charge;
		if (!add(line->no_charge ? &sum->given : &class->list, amount))
			return false;
	}
	return true;
}

static bool add_class(struct money_total *sum, const struct money_class *class)
{
	return add(&sum->list, class->list) && add(&sum->discount, class->discount) &&
	       add(&sum->charged, class->charged) && add(&sum->tax, class->tax) &&
	       add(&sum->total, class->charged) && add(&sum->total, class->tax);
}

enum status money_total(const struct call *call, struct money_total *total)
{
	struct money_total sum = { .deposit = call->billing.deposit };

	*total = (struct money_total){ .list = 0 };
	if (!add_lines(call, &sum))
		return STATUS_MONEY_TOO_LARGE;
	for (int kind = 0; kind < WORK_KIND_COUNT; kind++)
		if (!settle_class(&sum.classes[kind], (enum work_kind)kind, &call->billing) ||
		    !add_class(&sum, &sum.classes[kind]))
			return STATUS_MONEY_TOO_LARGE;
	if (__builtin_sub_overflow(sum.total, sum.deposit, &sum.balance))
		return STATUS_MONEY_TOO_LARGE;
	*total = sum;
	return STATUS_OK;
}

/* Words that a description may end in, and what they are called in accounting. */
static const struct {
	const char *word, *unit;
} units[] = {
	{ "ounces", "oz" }, { "ounce", "oz" }, { "oz", "oz" }, { "pounds", "lb" }, { "pound", "lb" },
	{ "lb", "lb" }, { "grams", "g" }, { "gram", "g" }, { "g", "g" }, { "kg", "kg" },
	{ "feet", "ft" }, { "foot", "ft" }, { "ft", "ft" }, { "metres", "m" }, { "metre", "m" },
	{ "hours", "hour" }, { "hour", "hour" }, { "an hour", "hour" }, { "h", "hour" },
	{ "hr", "hour" },
	{ "hrs", "hour" }, { "each", "each" }, { "piece", "each" }, { "pieces", "each" },
	{ "pcs", "each" }, { "pc", "each" },
};

/* What a word names; NULL: nothing. */
static const char *unit_of_word(const char *word)
{
	for (size_t i = 0; i < sizeof units / sizeof *units; i++)
		if (text_equal_ignoring_case(word, units[i].word))
			return units[i].unit;
	return NULL;
}

const char *money_line_unit(const struct work_line *line, int *stem)
{
	const char *comma = strrchr(line->description, ',');

	const char *named = comma ? unit_of_word(comma + 1 + strspn(comma + 1, " ")) : NULL;

	*stem = (int)strlen(line->description);
	if (named) {
		*stem = (int)(comma - line->description);
		return named;
	}
	if (line->kind == WORK_LABOUR)
		return "hour";
	return line->kind == WORK_REFRIGERANT ? "" : "each";
}

bool money_weight_unit(const struct work_line *line, enum unit *unit)
{
	const char *space = strrchr(line->description, ' ');

	return unit_from_text(space ? space + 1 : line->description, UNIT_OZ, unit);
}

enum status money_read_quantity(const struct work_line *line, const char *typed,
                                thousandths *quantity)
{
	size_t number = strspn(typed, "+-0123456789.,' ");
	char digits[64];
	int stem;

	snprintf(digits, sizeof digits, "%.*s", (int)number, typed);
	const char *given = typed[number] ? unit_of_word(typed + number) : NULL;
	const char *own = money_line_unit(line, &stem);
	if (typed[number] && !given)
		return STATUS_NOT_A_NUMBER;
	/* Refrigerant that names no unit is weighed in any. */
	if (given && *own && strcmp(given, own) != 0)
		return STATUS_BAD_INPUT;
	return money_parse_quantity(digits, quantity);
}

void money_line_words(const struct work_line *line, char *out, size_t size)
{
	char quantity[MONEY_SIZE];
	int stem;
	const char *unit = money_line_unit(line, &stem);
	bool is_measured = line->description[stem] != '\0';

	money_format_quantity(line->quantity, quantity, sizeof quantity);
	if (line->kind == WORK_LABOUR)
		snprintf(out, size, "%.*s", stem, line->description);
	else if (is_measured)
		snprintf(out, size, "%.*s, %s %s", stem, line->description, quantity, unit);
	else if (line->quantity != 1000 && line->quantity != 0)
		snprintf(out, size, "%s × %s", line->description, quantity);
	else
		snprintf(out, size, "%s", line->description);
	text_trim_broken_utf8(out);
}

static bool is_price_of(const struct offer *offer, cents amount)
{
	return offer->price_low > 0 && amount >= offer->price_low && amount <= offer->price_high;
}

/* Whether some option was accepted: the bill is for that one. */
static bool is_any_accepted(const struct call *call)
{
	for (size_t i = 0; i < call->offer_count; i++)
		if (call->offers[i].decision == DECISION_ACCEPTED)
			return true;
	return false;
}

bool money_offer_is_billed(const struct call *call, const struct offer *offer)
{
	struct money_total total;
	cents amount, fees = 0;

	if (offer->decision != DECISION_NONE || money_total(call, &total) != STATUS_OK)
		return false;
	for (size_t i = 0; i < call->work_count; i++) {
		const struct work_line *line = &call->work[i];
		if (line->kind == WORK_FEE && !line->no_charge &&
		    money_line_amount(line, &amount) == STATUS_OK)
			fees += amount;
		if (line->kind == WORK_FEE || money_line_amount(line, &amount) != STATUS_OK)
			continue;
		if ((*offer->title && strcasecmp(line->description, offer->title) == 0) ||
		    is_price_of(offer, amount))
			return true;
	}
	/* Prices of options may be told with the tax or without. */
	return !is_any_accepted(call) &&
	       (is_price_of(offer, total.list - fees) || is_price_of(offer, total.list) ||
	        is_price_of(offer, total.list + total.tax));
}

enum status money_excess(const struct call *call, struct money_excess *excess)
{
	struct money_total sum;
	enum status status = money_total(call, &sum);
	bool has_accepted = *call->accepted_by && call->accepted_total != 0;

	*excess = (struct money_excess){ .total = 0 };
	if (status != STATUS_OK)
		return status;
	excess->total = sum.total;
	excess->is_over = call->authorised_amount != 0 && sum.total > call->authorised_amount;
	excess->is_accepted = has_accepted && sum.total == call->accepted_total;
	excess->is_changed = has_accepted && sum.total != call->accepted_total;
	return STATUS_OK;
}

enum status money_shares(const struct call *call, struct money_share *shares)
{
	struct money_class before[WORK_KIND_COUNT] = { { .list = 0 } };

	for (size_t i = 0; i < call->work_count; i++) {
		enum work_kind kind = call->work[i].kind;
		struct money_class with = before[kind];
		cents amount;
		if (money_line_amount(&call->work[i], &amount) != STATUS_OK)
			return STATUS_MONEY_TOO_LARGE;
		amount = call->work[i].no_charge ? 0 : amount;
		if (!add(&with.list, amount) || !settle_class(&with, kind, &call->billing))
			return STATUS_MONEY_TOO_LARGE;
		shares[i] = (struct money_share){
			.amount = amount, .discount = with.discount - before[kind].discount,
			.tax = with.tax - before[kind].tax,
		};
		before[kind] = with;
	}
	return STATUS_OK;
}

/* A floating amount as cents, rounded half up.  False when it is too large. */
static bool cents_from(double amount, cents *result)
{
	if (!(fabs(amount) <= (double)amount_most))
		return false;
	*result = (cents)round(amount);
	return true;
}

cents money_whole(cents amount)
{
	return (amount + (amount < 0 ? -50 : 50)) / 100 * 100;
}

enum status money_offer_cost(const struct offer *offer, const struct billing *billing,
                             double tons, double seer, struct offer_cost *cost)
{
	struct offer_cost work = { .has_years = offer->years_low > 0 || offer->years_high > 0 };
	double longest = fmax(offer->years_low, offer->years_high);
	double shortest = offer->years_low > 0 ? offer->years_low : offer->years_high;

	*cost = (struct offer_cost){ .has_years = false };
	if (work.has_years &&
	    (!cents_from((double)offer->price_low / longest, &work.year_low) ||
	     !cents_from((double)offer->price_high / shortest, &work.year_high)))
		return STATUS_MONEY_TOO_LARGE;
	if (offer->seer > 0)
		seer = offer->seer;
	work.has_energy = tons > 0 && seer > 0 && billing->cooling_hours > 0 &&
	                  billing->energy_rate > 0;
	if (work.has_energy) {
		work.kwh = tons * 12000 * billing->cooling_hours / (seer * 1000);
		if (!cents_from(work.kwh * billing->energy_rate, &work.energy))
			return STATUS_MONEY_TOO_LARGE;
	}
	work.both_low = money_whole(work.year_low) + money_whole(work.energy);
	work.both_high = money_whole(work.year_high) + money_whole(work.energy);
	*cost = work;
	return STATUS_OK;
}

/* Whether the compressor stood still when it was looked at last. */
static bool stands_still(const struct visit *visit)
{
	enum stage stage = visit_has(visit, STAGE_AS_LEFT, READING_COMPRESSOR_STATE) ? STAGE_AS_LEFT
	                                                                             : STAGE_AS_FOUND;
	enum choice state = visit_choice(visit, stage, READING_COMPRESSOR_STATE);

	return state == CHOICE_COMPRESSOR_STATE_SILENT || state == CHOICE_COMPRESSOR_STATE_HUMS;
}

enum status money_option_cost(const struct call *call, const struct offer *offer,
                              struct offer_cost *cost)
{
	bool changes_nothing = offer->price_high == 0 && !(offer->seer > 0);
	double tons = 0, seer = 0;

	if (visit_number(&call->visit, STAGE_AS_FOUND, READING_NOMINAL_CAPACITY, &tons) != STATUS_OK)
		tons = 0;
	if (visit_number(&call->visit, STAGE_AS_FOUND, READING_SEER, &seer) != STATUS_OK)
		seer = 0;
	if (changes_nothing && stands_still(&call->visit))
		tons = 0;
	return money_offer_cost(offer, &call->billing, tons, seer, cost);
}

/* Steps over a currency before or after an amount: a sign or three capitals. */
static const char *skip_currency(const char *at)
{
	static const char *const signs[] = { "$", "€", "£", "¥" };

	at += strspn(at, " \t");
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
		if (strncmp(at, signs[i], strlen(signs[i])) == 0)
			return at + strlen(signs[i]) + strspn(at + strlen(signs[i]), " \t");
	if (isupper((unsigned char)at[0]) && isupper((unsigned char)at[1]) &&
	    isupper((unsigned char)at[2]))
		return at + 3 + strspn(at + 3, " \t");
	return at;
}

static size_t count_digits(const char *at)
{
	size_t count = 0;

	while (isdigit((unsigned char)at[count]))
		count++;
	return count;
}

/* Takes `count` digits into *value.  False when it becomes too large. */
static bool take_digits(const char *at, size_t count, int64_t *value)
{
	for (size_t i = 0; i < count; i++)
		if (__builtin_mul_overflow(*value, 10, value) ||
		    __builtin_add_overflow(*value, at[i] - '0', value))
			return false;
	return true;
}

/*
 * Takes a decimal with up to `decimals` behind its sign, scaled by as many
 * powers of ten, and steps over it.
 */
static enum status take_scaled(const char **cursor, int decimals, int64_t *value)
{
	static const char zeros[] = "000000000";
	const char *at = *cursor;
	size_t digits = count_digits(at), seen = digits;
	bool fits = take_digits(at, digits, value);

	at += digits;
	while (digits > 0 && digits <= 3 && *at == ',' && count_digits(at + 1) == 3) {
		fits = fits && take_digits(at + 1, 3, value);
		at += 4;
	}
	size_t fraction = 0;
	if (*at == '.' || *at == ',') {
		fraction = count_digits(at + 1);
		if (fraction > (size_t)decimals)
			return STATUS_NOT_A_NUMBER;
		fits = fits && take_digits(at + 1, fraction, value);
		at += 1 + fraction;
	}
	fits = fits && take_digits(zeros, (size_t)decimals - fraction, value);
	*cursor = at;
	if (seen + fraction == 0)
		return STATUS_NOT_A_NUMBER;
	return fits && *value <= amount_most ? STATUS_OK : STATUS_MONEY_TOO_LARGE;
}

/* Takes a leading minus, and steps over it. */
static bool take_minus(const char **cursor)
{
	*cursor += strspn(*cursor, " \t");
	bool minus = **cursor == '-';
	*cursor += minus;
	return minus;
}

enum status money_parse(const char *typed, cents *amount)
{
	int64_t value = 0;
	const char *at = typed;
	bool minus = take_minus(&at);

	at = skip_currency(at);
	minus = minus || take_minus(&at);
	enum status status = take_scaled(&at, 2, &value);
	if (status != STATUS_OK)
		return status;
	if (*skip_currency(at) != '\0')
		return STATUS_NOT_A_NUMBER;
	*amount = minus ? -value : value;
	return STATUS_OK;
}

enum status money_parse_quantity(const char *typed, thousandths *quantity)
{
	int64_t value = 0;
	const char *at = typed;
	bool minus = take_minus(&at);
	enum status status = take_scaled(&at, 3, &value);

	if (status != STATUS_OK)
		return status;
	if (at[strspn(at, " \t")] != '\0')
		return STATUS_NOT_A_NUMBER;
	*quantity = minus ? -value : value;
	return STATUS_OK;
}

enum status money_parse_percent(const char *typed, millipercent *percent)
{
	int64_t value = 0;
	const char *at = typed;
	bool minus = take_minus(&at);
	enum status status = take_scaled(&at, 3, &value);

	if (status != STATUS_OK)
		return status;
	at += strspn(at, " \t");
	at += *at == '%';
	if (at[strspn(at, " \t")] != '\0')
		return STATUS_NOT_A_NUMBER;
	*percent = minus ? -value : value;
	return STATUS_OK;
}

static uint64_t magnitude(int64_t value)
{
	return value < 0 ? (uint64_t)0 - (uint64_t)value : (uint64_t)value;
}

/* "-" or "", the whole part with or without commas, and two decimals. */
static void format_amount(cents amount, const char *sign, bool grouped, char *out, size_t size)
{
	char whole[32], spaced[MONEY_SIZE];
	size_t used = 0;
	int digits = snprintf(whole, sizeof whole, "%" PRIu64, magnitude(amount) / 100);

	for (int i = 0; i < digits; i++) {
		if (grouped && i > 0 && (digits - i) % 3 == 0)
			spaced[used++] = ',';
		spaced[used++] = whole[i];
	}
	spaced[used] = '\0';
	snprintf(out, size, "%s%s%s.%02u", amount < 0 ? "-" : "", sign, spaced,
	         (unsigned)(magnitude(amount) % 100));
}

/* Thousandths without idle zeros. */
static void format_thousandths(int64_t value, char *out, size_t size)
{
	char fraction[8];

	int used = snprintf(fraction, sizeof fraction, ".%03u", (unsigned)(magnitude(value) % 1000));
	while (used > 1 && fraction[used - 1] == '0')
		used--;
	fraction[used == 1 ? 0 : used] = '\0';
	snprintf(out, size, "%s%" PRIu64 "%s", value < 0 ? "-" : "", magnitude(value) / 1000,
	         fraction);
}

void money_format(cents amount, char *out, size_t size)
{
	format_amount(amount, "", true, out, size);
}

void money_format_plain(cents amount, char *out, size_t size)
{
	format_amount(amount, "", false, out, size);
}

void money_format_quantity(thousandths quantity, char *out, size_t size)
{
	format_thousandths(quantity, out, size);
}

void money_format_percent(millipercent percent, char *out, size_t size)
{
	format_thousandths(percent, out, size);
}

void money_format_currency(cents amount, const char *currency, char *out, size_t size)
{
	char bare[MONEY_SIZE];

	if (isalpha((unsigned char)currency[0])) {
		money_format(amount, bare, sizeof bare);
		snprintf(out, size, "%s %s", bare, currency);
	} else {
		format_amount(amount, currency, true, out, size);
	}
}
