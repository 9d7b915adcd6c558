#ifndef PADSIDE_MONEY_H
#define PADSIDE_MONEY_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/model/call.h>
#include <padside/base/status.h>

/*
 * Money: what the lines of a call come to, what a choice costs a year, and
 * how amounts are typed and written.
 *
 * The rounding rule, the only one: an amount is rounded to the cent where it
 * comes into being, once, half up (half away from zero, so that a credit
 * mirrors a charge).  On each line, in this order:
 *
 *	list     = quantity × unit price
 *	discount = list × discount, of lines that are charged
 *	charged  = list − discount
 *	tax      = charged × the tax of the line's kind
 *
 * Totals are sums of these and are never rounded again.  A no-charge line is
 * charged nothing and taxed nothing; its list amount is what was given.
 */

struct money_line {
	cents list;     /* quantity × unit price */
	cents discount; /* taken off it; 0 on a no-charge line */
	cents charged;  /* what is left to pay before tax */
	cents tax;      /* on what is charged */
	cents given;    /* worth of a no-charge line; 0 on the others */
};

struct money_total {
	cents charged[WORK_KIND_COUNT]; /* after discount, by kind of line */
	cents tax[WORK_KIND_COUNT];     /* by kind of line */
	cents list;                     /* of the charged lines, before discount */
	cents discount;                 /* taken off */
	cents given;                    /* worth of the no-charge lines */
	cents total;                    /* charged + tax */
	cents deposit;                  /* already paid */
	cents balance;                  /* total − deposit; below 0 is owed back */
};

/* Works out a line.  Fails with STATUS_MONEY_TOO_LARGE, *result all 0. */
enum status money_line(const struct work_line *line, const struct billing *billing,
                       struct money_line *result);

/* Adds up the lines of a call; fails in the same way. */
enum status money_total(const struct call *call, struct money_total *total);

/* What a choice costs. */
struct offer_cost {
	bool has_years;  /* it was said how long it may last */
	cents year_low;  /* lowest price over the longest life, a year */
	cents year_high; /* highest price over the shortest life, a year */
	bool has_energy; /* capacity, SEER, hours and rate are known */
	double kwh;      /* energy a season */
	cents energy;    /* what that costs a year */
};

/*
 * Cost per year of a choice on a machine of `tons` (0 unknown) whose own SEER
 * (0 unknown) holds where the choice says none: kWh = tons × 12,000 × hours /
 * (SEER × 1000), by the definition of SEER (AHRI 210/240).  Each amount
 * rounded once, half up.  Fails with STATUS_MONEY_TOO_LARGE, *cost all 0.
 */
enum status money_offer_cost(const struct offer *offer, const struct billing *billing,
                             double tons, double seer, struct offer_cost *cost);

/* Large enough for every amount. */
enum { MONEY_SIZE = 48 };

/*
 * Reads an amount: "12.50", "1,200", "$12", "12,50", "-3.00", "12 USD".  A comma
 * followed by exactly three digits separates thousands.  Fails with
 * STATUS_NOT_A_NUMBER (also for a third decimal) or STATUS_MONEY_TOO_LARGE,
 * touching nothing.
 */
enum status money_parse(const char *typed, cents *amount);

/* The same for quantities ("1.5", three decimals) and percentages ("8.25 %", two). */
enum status money_parse_quantity(const char *typed, thousandths *quantity);
enum status money_parse_percent(const char *typed, basis_points *percent);

/* "1,234.50"; the same in every locale. */
void money_format(cents amount, char *out, size_t size);

/* "1234.50", as files hold it; quantities "1.5" and percentages "8.25" without idle zeros. */
void money_format_plain(cents amount, char *out, size_t size);
void money_format_quantity(thousandths quantity, char *out, size_t size);
void money_format_percent(basis_points percent, char *out, size_t size);

/* With the currency: "$1,234.50", or "1,234.50 USD" for a word; "" leaves it out. */
void money_format_currency(cents amount, const char *currency, char *out, size_t size);

#endif
