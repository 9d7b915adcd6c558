/*
 * What a reading's kind can do: be typed, be limited, be written.
 *
 * Parsing goes from the typed text to the canonical unit at once; nothing
 * behind this file knows any other unit.  Each kind is a row of `kinds`.
 */
#include <padside/catalog/catalog.h>

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/text.h>

struct kind {
	/* Reads trimmed, non-empty text. */
	enum status (*parse)(enum reading reading, const char *typed, enum unit_system system,
	                     struct value *value, struct error *error);
	/* Writes a taken value. */
	void (*format)(enum reading reading, const struct value *value, enum unit_system system,
	               enum value_form form, char *out, size_t size);
};

/* Resistances span seven decades: the unit in which one is written, from its size up. */
static const struct {
	enum unit canonical; /* the row's unit */
	double from;         /* in it: for numbers of this size and above */
	enum unit shown;     /* written in this unit */
} resistance_units[] = {
	{ UNIT_MEGOHM, 1, UNIT_MEGOHM },
	{ UNIT_MEGOHM, 0.001, UNIT_KILOHM_AS_MEGOHM },
	{ UNIT_MEGOHM, 1e-6, UNIT_OHM_AS_MEGOHM },
	{ UNIT_OHM, 1e6, UNIT_MEGOHM_AS_OHM },
	{ UNIT_OHM, 1e4, UNIT_KILOHM },
};

/* Decimals that leave `number` three digits that count, at least `least` of them. */
static int decimals_for(double number, int least)
{
	int whole = number > 0 ? (int)floor(log10(number)) + 1 : 1;
	int decimals = 3 - whole;

	return decimals < least ? least : decimals > 9 ? 9 : decimals;
}

/* The unit that suits a resistance, and its decimals; untouched where the row's own do. */
static void suit_resistance(enum unit canonical, double number, bool with_unit, enum unit *unit,
                            int *decimals)
{
	if (!with_unit) {
		if (canonical == UNIT_MEGOHM && number > 0 && number < 1)
			*decimals = decimals_for(number, *decimals);
		return;
	}
	for (size_t i = 0; i < sizeof resistance_units / sizeof *resistance_units; i++)
		if (resistance_units[i].canonical == canonical && number >= resistance_units[i].from) {
			if (resistance_units[i].shown == canonical)
				return;
			*unit = resistance_units[i].shown;
			*decimals = decimals_for(unit_convert(number, canonical, *unit), 0);
			return;
		}
}

/* A number of `reading` as shown in `system`, e.g. "20" or "20 psig". */
static void format_shown(enum reading reading, double number, enum unit_system system,
                         enum value_form form, char *out, size_t size)
{
	const struct reading_info *info = reading_info(reading);
	enum unit unit = unit_shown(info->unit, system);
	int decimals = unit_decimals_shown(info->decimals, info->unit, system);
	char digits[NUMBER_SIZE];

	if (info->kind == KIND_RESISTANCE)
		suit_resistance(info->unit, number, form != VALUE_FORM_SHEET, &unit, &decimals);
	const char *symbol = unit_symbol(unit, form == VALUE_FORM_PLAIN);
	number_format(unit_convert(number, info->unit, unit), decimals, digits, sizeof digits);
	bool with_unit = form != VALUE_FORM_SHEET && *symbol;
	snprintf(out, size, "%s%s%s", digits, with_unit ? " " : "", with_unit ? symbol : "");
}

/* A limit in words: no more decimals than it needs. */
static void format_limit(enum reading reading, double limit, enum unit_system system,
                         char *out, size_t size)
{
	const struct reading_info *info = reading_info(reading);
	enum unit unit = unit_shown(info->unit, system);
	double shown = unit_convert(limit, info->unit, unit);

	if (shown == floor(shown) && fabs(shown) < 1e9)
		number_format(shown, 0, out, size);
	else
		format_shown(reading, limit, system, VALUE_FORM_SHEET, out, size);
}

static bool has_range(struct range range)
{
	return range.low != range.high;
}

static bool is_outside(struct range range, double number)
{
	return has_range(range) && (number < range.low || number > range.high);
}

enum status reading_from_number(enum reading reading, double number, enum unit_system system,
                                struct value *value, struct error *error)
{
	const struct reading_info *info = reading_info(reading);
	char low[NUMBER_SIZE], high[NUMBER_SIZE];

	if (is_outside(info->hard, number)) {
		format_limit(reading, info->hard.low, system, low, sizeof low);
		format_limit(reading, info->hard.high, system, high, sizeof high);
		const char *symbol = reading_unit_symbol(reading, system, false);
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes %s to %s%s%s",
		                 info->label, low, high, *symbol ? " " : "", symbol);
	}
	*value = (struct value){
		.state = VALUE_TAKEN, .number = number, .taken_at = WALL_TIME_NONE,
		.doubtful = is_outside(info->plausible, number),
	};
	return STATUS_OK;
}

/*
 * "lb 8 oz" behind the 6 of "6 lb 8 oz": a unit, then a number of a smaller
 * one.  Turns it all into *number, in *unit.  Returns false, touching
 * nothing, when it is not that.
 */
static bool take_smaller_unit(const char *rest, enum unit canonical, double *number,
                              enum unit *unit)
{
	char first[24];
	const char *behind;
	enum unit larger, smaller;
	double part;
	size_t length = strcspn(rest, "0123456789.");
	const char *tail = rest + length;

	while (length > 0 && rest[length - 1] == ' ')
		length--;
	if (length == 0 || length >= sizeof first)
		return false;
	memcpy(first, rest, length);
	first[length] = '\0';
	if (!unit_from_text(first, canonical, &larger) || !number_parse(tail, &part, &behind) ||
	    !unit_from_text(behind, canonical, &smaller))
		return false;
	if (unit_convert(0, smaller, larger) != 0 || unit_convert(1, smaller, larger) >= 1)
		return false;
	*number += unit_convert(part, smaller, larger);
	*unit = larger;
	return true;
}

/* Pipes are measured in fractions of an inch; everywhere else a stroke parts two values. */
static bool has_fractions(enum reading reading)
{
	return reading_info(reading)->unit == UNIT_IN;
}

/* "45/5" as on a can, "150/410" of two gauges, "76 / 64" of dry and wet bulb. */
static bool is_two_values(enum reading reading, const char *typed)
{
	double first, second;
	const char *rest;

	if (!number_parse(typed, &first, &rest) || *rest != '/' ||
	    !number_parse(rest + 1, &second, &rest))
		return false;
	return !has_fractions(reading) || (second > 1 && first > second);
}

static enum status refuse_two_values(enum reading reading, const char *typed, struct error *error)
{
	const struct reading_info *info = reading_info(reading);

	return error_set(error, STATUS_NOT_A_NUMBER, "\"%.40s\" is two values; type %s%s here", typed,
	                 info->of_two ? "" : "that of ", info->of_two ? info->of_two : info->label);
}

static enum status parse_number(enum reading reading, const char *typed, enum unit_system system,
                                struct value *value, struct error *error)
{
	const struct reading_info *info = reading_info(reading);
	enum unit unit = unit_shown(info->unit, system);
	const char *rest;
	double number;

	if (is_two_values(reading, typed))
		return refuse_two_values(reading, typed, error);
	if (!(has_fractions(reading) ? number_parse_inches : number_parse)(typed, &number, &rest))
		return error_set(error, STATUS_NOT_A_NUMBER,
		                 "\"%.40s\" is not a number; %s takes a number%s%s%s", typed, info->label,
		                 info->unit == UNIT_NONE ? "" : " in ",
		                 unit_symbol(unit, false),
		                 info->kind == KIND_RESISTANCE ? " or OL" : "");
	if (*rest && !unit_from_text(rest, info->unit, &unit) &&
	    !take_smaller_unit(rest, info->unit, &number, &unit)) {
		char accepted[96];
		unit_list_accepted(info->unit, accepted, sizeof accepted);
		return error_set(error, STATUS_NOT_A_NUMBER, "\"%.20s\" is not a unit of %s%s%s", rest,
		                 info->label, *accepted ? "; it takes " : "; it has none", accepted);
	}
	return reading_from_number(reading, unit_convert(number, unit, info->unit), system, value,
	                           error);
}

/* "OL" as meters show it and as thumbs type it. */
static bool is_over_limit(const char *typed)
{
	static const char *const forms[] = { "OL", "O.L", "O.L.", "0L", "0.L", "over limit" };

	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
		if (text_equal_ignoring_case(typed, forms[i]))
			return true;
	return false;
}

static enum status parse_resistance(enum reading reading, const char *typed,
                                    enum unit_system system, struct value *value,
                                    struct error *error)
{
	if (!is_over_limit(typed))
		return parse_number(reading, typed, system, value, error);
	*value = (struct value){ .state = VALUE_OVER_LIMIT, .taken_at = WALL_TIME_NONE };
	return STATUS_OK;
}

/* Whether `word` begins with `typed`; case, blanks, dashes and "_" do not matter. */
static bool begins_with(const char *word, const char *typed, bool *whole)
{
	while (*typed) {
		while (*word && strchr(" -_.", *word))
			word++;
		while (*typed && strchr(" -_.", *typed))
			typed++;
		if (*typed == '\0')
			break;
		if (tolower((unsigned char)*word) != tolower((unsigned char)*typed))
			return false;
		word++;
		typed++;
	}
	*whole = *word == '\0';
	return true;
}

/* How well `typed` fits a choice: 2 whole, 1 its beginning, 0 not. */
static int fit_of_name(enum choice choice, const char *typed)
{
	const char *key = choice_key(choice);
	bool whole_key = false, whole_label = false, whole_bare = false;
	bool begins = begins_with(key, typed, &whole_key);

	begins = begins_with(choice_label(choice), typed, &whole_label) || begins;
	/* A refrigerant is often typed without its R. */
	if (key[0] == 'R' && isdigit((unsigned char)typed[0]))
		begins = begins_with(key + 1, typed, &whole_bare) || begins;
	return !begins ? 0 : whole_key || whole_label || whole_bare ? 2 : 1;
}

/*
 * The same for what else the trade calls it.  Of several words the first has to be there
 * whole: "no" is an answer of its own, not the beginning of "not running".
 */
static int fit_of_alias(enum choice choice, const char *typed)
{
	const char *at = choice_aliases(choice);
	int best = 0;

	while (*at) {
		char alias[40];
		bool whole = false;
		size_t length = strcspn(at, ";");
		snprintf(alias, sizeof alias, "%.*s", (int)length, at);
		bool is_begun = !strchr(alias, ' ') || strlen(typed) >= strcspn(alias, " ");
		if (is_begun && begins_with(alias, typed, &whole)) {
			int fit = whole ? 2 : 1;
			best = fit > best ? fit : best;
		}
		at += length + (at[length] == ';');
	}
	return best;
}

/* Names every choice, or those that `typed` may be the beginning of. */
static void list_choices(enum choice_list choices, const char *typed, struct text *list)
{
	for (int i = 0; i < choice_count(choices); i++) {
		enum choice choice = (enum choice)((int)choice_first(choices) + i);
		if (!typed || fit_of_name(choice, typed) > 0 || fit_of_alias(choice, typed) > 0)
			text_add_format(list, "%s%s", list->length ? ", " : "", choice_label(choice));
	}
}

/* The last of the choices of a list that fit best, and how many do. */
static enum choice find_choice(enum choice_list list, const char *typed,
                               int (*fit)(enum choice choice, const char *typed), int *matches)
{
	enum choice found = CHOICE_NONE;
	int first = (int)choice_first(list), end = first + choice_count(list), best = 0;

	*matches = 0;

	for (int i = first; i < end; i++) {
		enum choice choice = (enum choice)i;
		int now = fit(choice, typed);
		if (now > best) {
			best = now;
			*matches = 0;
		}
		if (now > 0 && now == best) {
			found = choice;
			++*matches;
		}
	}
	return found;
}

static enum status refuse_choice(enum reading reading, const char *typed, struct error *error)
{
	enum choice_list choices = reading_info(reading)->choices;
	struct text list;

	int named;

	text_init(&list);
	find_choice(choices, typed, fit_of_name, &named);
	list_choices(choices, typed, &list);
	bool is_begun = list.length > 0;
	if (!is_begun)
		list_choices(choices, NULL, &list);
	enum status status = error_set(error, STATUS_NOT_A_NUMBER, named > 0
	                               ? "\"%.20s\" begins several: %s; type more of it"
	                               : is_begun ? "\"%.20s\" may be each of these: %s; type which"
	                               : "\"%.20s\" is none of %s", typed, text_get(&list));
	text_done(&list);
	return status;
}

static enum status parse_choice(enum reading reading, const char *typed, enum unit_system system,
                                struct value *value, struct error *error)
{
	const struct reading_info *info = reading_info(reading);
	int matches;
	enum choice found = find_choice(info->choices, typed, fit_of_name, &matches);

	(void)system;
	if (matches == 0)
		found = find_choice(info->choices, typed, fit_of_alias, &matches);
	if (matches != 1)
		return refuse_choice(reading, typed, error);
	*value = (struct value){ .state = VALUE_TAKEN, .choice = found, .taken_at = WALL_TIME_NONE };
	return STATUS_OK;
}

static enum status parse_yes_no(enum reading reading, const char *typed, enum unit_system system,
                                struct value *value, struct error *error)
{
	bool whole;

	(void)system;
	bool yes = begins_with("yes", typed, &whole) || begins_with("true", typed, &whole);
	bool no = begins_with("no", typed, &whole) || begins_with("false", typed, &whole);
	if (yes == no)
		return error_set(error, STATUS_NOT_A_NUMBER, "%s takes yes or no",
		                 reading_info(reading)->label);
	*value = (struct value){ .state = VALUE_TAKEN, .number = yes, .taken_at = WALL_TIME_NONE };
	return STATUS_OK;
}

static enum status parse_text(enum reading reading, const char *typed, enum unit_system system,
                              struct value *value, struct error *error)
{
	struct value result = { .state = VALUE_TAKEN, .taken_at = WALL_TIME_NONE };

	(void)system;
	if (!text_copy(result.text, sizeof result.text, typed))
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes at most %d characters",
		                 reading_info(reading)->label, VALUE_TEXT_SIZE - 1);
	for (char *at = result.text; *at; at++)
		if ((unsigned char)*at < 0x20 || *at == 0x7f)
			*at = ' ';
	*value = result;
	return STATUS_OK;
}

static enum status parse_date(enum reading reading, const char *typed, enum unit_system system,
                              struct value *value, struct error *error)
{
	struct value result = { .state = VALUE_TAKEN, .taken_at = WALL_TIME_NONE };
	wall_time day;

	(void)system;
	if (!clock_parse(typed, &day))
		return error_set(error, STATUS_NOT_A_NUMBER, "%s takes a day as 2031-06-30",
		                 reading_info(reading)->label);
	clock_format_date(day, result.text, sizeof result.text);
	*value = result;
	return STATUS_OK;
}

static void format_number(enum reading reading, const struct value *value,
                          enum unit_system system, enum value_form form, char *out, size_t size)
{
	format_shown(reading, value->number, system, form, out, size);
}

static void format_choice(enum reading reading, const struct value *value,
                          enum unit_system system, enum value_form form, char *out, size_t size)
{
	(void)reading;
	(void)system;
	(void)form;
	text_copy(out, size, choice_label(value->choice));
}

static void format_yes_no(enum reading reading, const struct value *value,
                          enum unit_system system, enum value_form form, char *out, size_t size)
{
	(void)reading;
	(void)system;
	(void)form;
	text_copy(out, size, value->number != 0 ? "yes" : "no");
}

static void format_text(enum reading reading, const struct value *value,
                        enum unit_system system, enum value_form form, char *out, size_t size)
{
	(void)reading;
	(void)system;
	(void)form;
	text_copy(out, size, value->text);
}

static const struct kind kinds[] = {
	[KIND_NUMBER] = { parse_number, format_number },
	[KIND_RESISTANCE] = { parse_resistance, format_number },
	[KIND_CHOICE] = { parse_choice, format_choice },
	[KIND_YES_NO] = { parse_yes_no, format_yes_no },
	[KIND_DATE] = { parse_date, format_text },
	[KIND_TEXT] = { parse_text, format_text },
};

/* Also what a text would keep as a space: nothing but that is not taken. */
static bool is_blank(char byte)
{
	return (byte >= 1 && byte <= ' ') || byte == 0x7f;
}

enum status reading_parse(enum reading reading, const char *typed, enum unit_system system,
                          struct value *value, struct error *error)
{
	char trimmed[256];

	while (is_blank(*typed))
		typed++;
	if (!text_copy(trimmed, sizeof trimmed, typed))
		return error_set(error, STATUS_OUT_OF_RANGE, "that is too long for %s",
		                 reading_info(reading)->label);
	for (size_t end = strlen(trimmed); end > 0 && is_blank(trimmed[end - 1]); end--)
		trimmed[end - 1] = '\0';
	if (*trimmed == '\0') {
		*value = (struct value){ .state = VALUE_NOT_TAKEN, .taken_at = WALL_TIME_NONE };
		return STATUS_OK;
	}
	return kinds[reading_info(reading)->kind].parse(reading, trimmed, system, value, error);
}

void reading_format(enum reading reading, const struct value *value, enum unit_system system,
                    enum value_form form, char *out, size_t size)
{
	if (value->state == VALUE_NOT_TAKEN)
		text_copy(out, size, "");
	else if (value->state == VALUE_OVER_LIMIT)
		text_copy(out, size, "OL");
	else
		kinds[reading_info(reading)->kind].format(reading, value, system, form, out, size);
}

void reading_format_exact(enum reading reading, const struct value *value, char *out, size_t size)
{
	enum reading_kind kind = reading_info(reading)->kind;

	if (value->state == VALUE_TAKEN && kind == KIND_CHOICE)
		text_copy(out, size, choice_key(value->choice));
	else if (value->state == VALUE_TAKEN && (kind == KIND_NUMBER || kind == KIND_RESISTANCE))
		number_format_exact(value->number, out, size);
	else
		reading_format(reading, value, UNITS_US, VALUE_FORM_SHEET, out, size);
}

void reading_doubt(enum reading reading, enum unit_system system, char *out, size_t size)
{
	const struct reading_info *info = reading_info(reading);
	char low[NUMBER_SIZE], high[NUMBER_SIZE];

	format_limit(reading, info->plausible.low, system, low, sizeof low);
	format_limit(reading, info->plausible.high, system, high, sizeof high);
	const char *symbol = reading_unit_symbol(reading, system, false);
	snprintf(out, size, "usually %s to %s%s%s: is %s right%s?", low, high, *symbol ? " " : "",
	         symbol,
	         info->scope == SCOPE_CALL ? "the meter" : "what is typed",
	         info->or_else ? info->or_else : "");
}

struct accuracy reading_accuracy_parts(enum reading reading, double number)
{
	enum instrument instrument = reading_info(reading)->instrument;

	if (instrument == INSTRUMENT_NONE)
		return (struct accuracy){ 0, 0 };
	struct accuracy accuracy = instrument_accuracy(instrument);
	return (struct accuracy){ accuracy.absolute, accuracy.percent / 100 * fabs(number) };
}

double reading_accuracy(enum reading reading, double number)
{
	struct accuracy parts = reading_accuracy_parts(reading, number);

	return parts.absolute + parts.percent;
}

const char *reading_unit_symbol(enum reading reading, enum unit_system system, bool plain)
{
	return unit_symbol(unit_shown(reading_info(reading)->unit, system), plain);
}
