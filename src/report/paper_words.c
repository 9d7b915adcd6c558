/*
 * Words of the report: dates, money, refrigerant, how likely something is.
 */
#include "report/paper_parts.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/model/money.h>

static const char *const months[] = {
	"January", "February", "March", "April", "May", "June", "July", "August", "September",
	"October", "November", "December",
};

static const struct {
	double least;      /* probability from which it holds */
	const char *words; /* what it is called */
} likelihoods[] = {
	{ 0.95, "almost certain" },
	{ 0.80, "very likely" },
	{ 0.60, "likely" },
	{ 0.30, "possible" },
};

static const char *const readers[PAPER_READER_COUNT] = {
	[PAPER_CUSTOMER] = "customer", [PAPER_OFFICE] = "office",
};

const char *paper_reader_key(enum paper_reader reader)
{
	return readers[reader];
}

bool paper_reader_from_key(const char *key, enum paper_reader *reader)
{
	for (int i = 0; i < PAPER_READER_COUNT; i++)
		if (strcmp(readers[i], key) == 0) {
			*reader = (enum paper_reader)i;
			return true;
		}
	return false;
}

const char *paper_likelihood(double probability)
{
	for (size_t i = 0; i < sizeof likelihoods / sizeof *likelihoods; i++)
		if (probability >= likelihoods[i].least)
			return likelihoods[i].words;
	return "less likely";
}

void paper_date(wall_time time, char *out, size_t size)
{
	char date[CLOCK_TEXT_SIZE];

	snprintf(out, size, "%s", "");
	if (time == WALL_TIME_NONE)
		return;
	clock_format_date(time, date, sizeof date);
	/* "2026-06-03": the year may have more digits, month and day have two. */
	size_t length = strlen(date);
	int month = atoi(date + length - 5), day = atoi(date + length - 2);
	snprintf(out, size, "%d %s %d", day, months[month - 1], clock_year(time));
}

/* Whether the first `length` bytes are a phone number: enough digits, and no postal code. */
static bool is_phone(const char *at, size_t length)
{
	enum { FEWEST_DIGITS = 7, POSTAL_CODE = 10, POSTAL_DASH = 5 };
	int digits = 0;

	while (length > 0 && strchr(" ,.-(", at[length - 1]))
		length--;
	for (size_t i = 0; i < length; i++)
		digits += isdigit((unsigned char)at[i]) != 0;
	bool is_postal = length == POSTAL_CODE && digits == POSTAL_CODE - 1 && at[POSTAL_DASH] == '-';
	return digits >= FEWEST_DIGITS && !is_postal;
}

static bool has_phone(const char *line)
{
	static const char marks[] = "0123456789 ()-./";

	while (*line) {
		line += strcspn(line, "0123456789");
		size_t length = strspn(line, marks);
		if (is_phone(line, length))
			return true;
		line += length;
	}
	return false;
}

const char *paper_phone(const char *const *company, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (has_phone(company[i]))
			return company[i];
	return "";
}

const char *paper_call_us(const struct paper *paper, const char *where, const char *otherwise)
{
	const char *phone = paper_phone(paper->input->company, paper->input->company_count);

	return *phone ? document_format(paper->document, "call us%s (%s)", where, phone) : otherwise;
}

const char *paper_day(const struct paper *paper, wall_time time)
{
	char date[CLOCK_TEXT_SIZE];

	if (paper->for_office)
		clock_format_date(time, date, sizeof date);
	else
		paper_date(time, date, sizeof date);
	return document_keep(paper->document, date);
}

const char *paper_moment(const struct paper *paper, wall_time time)
{
	char hour[CLOCK_TEXT_SIZE];

	if (time == WALL_TIME_NONE)
		return "";
	clock_format_hour(time, hour, sizeof hour);
	return document_format(paper->document, paper->for_office ? "%s %s" : "%s, %s",
	                       paper_day(paper, time), hour);
}

const char *paper_money(const struct paper *paper, cents amount)
{
	const char *currency = paper->input->currency ? paper->input->currency : "";
	char out[MONEY_SIZE + 16];

	money_format_currency(amount, currency, out, sizeof out);
	return document_keep(paper->document, out);
}

const char *paper_money_about(const struct paper *paper, cents amount)
{
	const char *currency = paper->input->currency ? paper->input->currency : "";
	char exact[MONEY_SIZE + 16];

	money_format_currency(money_whole(amount), currency, exact, sizeof exact);
	const char *point = strstr(exact, ".00");
	int whole = point ? (int)(point - exact) : (int)strlen(exact);
	return document_format(paper->document, "%.*s%s", whole, exact, point ? point + 3 : "");
}

const char *paper_capital(const struct paper *paper, const char *words)
{
	return document_format(paper->document, "%c%s", toupper((unsigned char)*words),
	                       *words ? words + 1 : "");
}

void paper_join(struct text *text, const char *mark, const char *piece)
{
	if (*piece && text->length > 0)
		text_add(text, mark);
	text_add(text, piece);
}

void paper_join_cylinder(struct text *text, const char *cylinder)
{
	if (!*cylinder)
		return;
	paper_join(text, "; ", "cylinder ");
	text_add(text, cylinder);
}

const char *paper_fault(const struct paper *paper, enum fault fault)
{
	const struct fault_info *info = fault_info(fault);

	return info->plain && !paper->for_office ? info->plain : info->label;
}

const char *paper_mass(const struct paper *paper, double ounces)
{
	enum unit_system units = paper->input->units;
	enum unit shown = unit_shown(UNIT_OZ, units);
	char out[NUMBER_SIZE];

	if (!(ounces > 0))
		return "";
	number_format(unit_convert(ounces, UNIT_OZ, shown), unit_decimals_shown(1, UNIT_OZ, units),
	              out, sizeof out);
	return document_format(paper->document, "%s %s", out, unit_symbol(shown, false));
}
