/*
 * Readers of the field editor: what people type, as texts, amounts, numbers,
 * words and times; one for all pages.
 */
#include "tui/form.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/quantities.h>
#include <padside/base/text.h>
#include <padside/model/money.h>

enum { DAY_SECONDS = 86400 };

/* The most that one amount may be: a billion, far below where sums could overflow. */
static const cents most_money = 100000000000;

enum status form_read_text(const struct form_line *line, const char *typed, char *text,
                           size_t size, struct error *error)
{
	if (strlen(typed) >= size)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes at most %zu characters; shorten it",
		                 line->label, size - 1);
	text_copy(text, size, typed);
	for (char *at = text; *at; at++)
		if ((unsigned char)*at < 0x20 || *at == 0x7f)
			*at = ' ';
	return STATUS_OK;
}

enum status form_read_money(const struct form_line *line, const char *typed, cents *amount,
                            struct error *error)
{
	cents read = 0;

	if (*typed && money_parse(typed, &read) != STATUS_OK)
		return error_set(error, STATUS_NOT_A_NUMBER, "%s: type an amount like 12.50 or 1,200",
		                 line->label);
	if (read < -most_money || read > most_money)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: that is too much money for one line",
		                 line->label);
	*amount = read;
	return STATUS_OK;
}

enum status form_read_number(const struct form_line *line, const char *typed, double least,
                             double most, double *number, struct error *error)
{
	double read = 0;
	const char *rest = "";
	char low[NUMBER_SIZE], high[NUMBER_SIZE];

	if (*typed && (!number_parse(typed, &read, &rest) || *rest))
		return error_set(error, STATUS_NOT_A_NUMBER, "%s: type a number like 12 or 7.5",
		                 line->label);
	if (*typed && (read < least || read > most)) {
		number_format_exact(least, low, sizeof low);
		number_format_exact(most, high, sizeof high);
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes %s to %s", line->label, low,
		                 high);
	}
	*number = read;
	return STATUS_OK;
}

enum status form_read_word(const struct form_line *line, const char *typed, int *word,
                           struct error *error)
{
	char start[32];
	struct text all;

	for (int i = 0; i < FORM_MOST_WORDS && line->words[i]; i++) {
		text_copy(start, sizeof start, line->words[i]);
		if (strlen(typed) < strlen(start))
			start[strlen(typed)] = '\0';
		if (text_equal_ignoring_case(start, typed)) {
			*word = i;
			return STATUS_OK;
		}
	}
	text_init(&all);
	for (int i = 0; i < FORM_MOST_WORDS && line->words[i]; i++)
		text_add_format(&all, "%s%s", i ? ", " : "", line->words[i]);
	enum status status = error_set(error, STATUS_NOT_FOUND, "%s: one of %s, or the start of it",
	                               line->label,
	                               text_get(&all));
	text_done(&all);
	return status;
}

/* ---- Times ---- */

void form_write_time(wall_time at, char *out, size_t size)
{
	char hour[CLOCK_TEXT_SIZE] = "";

	if (at != WALL_TIME_NONE)
		clock_format_hour(at, hour, sizeof hour);
	text_copy(out, size, hour);
}

/* "9:05" and "09:05" as seconds of a day; below 0 for everything else: an amount is no time. */
static wall_time read_hour(const char *typed)
{
	char *rest;
	long hour = isdigit((unsigned char)*typed) ? strtol(typed, &rest, 10) : -1;

	if (hour < 0 || hour > 23 || *rest != ':' || !isdigit((unsigned char)rest[1]))
		return -1;
	long minute = strtol(rest + 1, &rest, 10);
	return *rest || minute > 59 ? -1 : 3600 * hour + 60 * minute;
}

enum status form_read_time(const struct form_line *line, const char *typed, wall_time now,
                           wall_time *at, struct error *error)
{
	wall_time day = *at == WALL_TIME_NONE ? now : *at, read;

	if (!*typed || text_equal_ignoring_case(typed, "now")) {
		*at = now;
		return STATUS_OK;
	}
	wall_time seconds = read_hour(typed);
	if (seconds >= 0)
		read = day - ((day % DAY_SECONDS) + DAY_SECONDS) % DAY_SECONDS + seconds;
	else if (!clock_parse(typed, &read))
		return error_set(error, STATUS_NOT_A_NUMBER, "%s: type a time like 10:35, or \"now\"",
		                 line->label);
	*at = read;
	return STATUS_OK;
}

/* ---- Measures ---- */

void form_write_measure(double number, enum unit unit, int decimals, const struct session *session,
                        char *out, size_t size)
{
	enum unit_system units = session_units(session);

	number_format(unit_convert(number, unit, unit_shown(unit, units)),
	              unit_decimals_shown(decimals, unit, units), out, size);
}

bool form_read_measure(const char *typed, enum unit unit, const struct session *session,
                       double *number)
{
	enum unit given = unit_shown(unit, session_units(session));
	const char *rest = "";
	double read;

	if (!number_parse(typed, &read, &rest) || (*rest && !unit_from_text(rest, unit, &given)))
		return false;
	*number = unit_convert(read, given, unit);
	return true;
}

enum status form_refuse_number(const struct form_line *line, const char *example,
                               const struct session *session, struct error *error)
{
	char words[QUANTITIES_SIZE];

	quantities_write(example, session_units(session), words, sizeof words);
	return error_set(error, STATUS_NOT_A_NUMBER, "%s: type %s", line->label, words);
}

/* No more decimals than the limit has. */
static void write_limit(double limit, enum unit unit, const struct session *session, char *out,
                        size_t size)
{
	form_write_measure(limit, unit, limit == floor(limit) ? 0 : 1, session, out, size);
}

enum status form_refuse_range(const struct form_line *line, struct range range, enum unit unit,
                              const struct session *session, struct error *error)
{
	const char *symbol = unit_symbol(unit_shown(unit, session_units(session)), false);
	char low[NUMBER_SIZE], high[NUMBER_SIZE];

	write_limit(range.low, unit, session, low, sizeof low);
	write_limit(range.high, unit, session, high, sizeof high);
	return error_set(error, STATUS_OUT_OF_RANGE, "%s takes %s to %s%s%s", line->label, low, high,
	                 *symbol ? " " : "", symbol);
}

void form_get_field(const struct form_line *line, const void *element, struct session *session,
                    char *out, size_t size)
{
	(void)element;
	text_copy(out, size, session_field(session, (enum field)line->which));
}

enum status form_set_field(const struct form_line *line, void *element, const char *typed,
                           struct session *session, struct error *error)
{
	(void)element;
	return session_type_field(session, (enum field)line->which, typed, error);
}
