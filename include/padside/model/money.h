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
 * mirrors a charge).  In this order:
 *
 *	amount of a line = quantity × unit price
 *	subtotal         = sum of the charged lines of a kind (labour, parts, …)
 *	discount         = subtotal × discount
 *	charged          = subtotal − discount
 *	tax              = charged × the tax of that kind
 *
 * Totals are sums of these and are never rounded again.  All of them stand on
 * the report, so that every sum can be added again from what is printed.  A
 * no-charge line is charged nothing and taxed nothing; its amount is what was
 * given.
 */

/* One kind of line: labour, parts, refrigerant, fees. */
struct money_class {
	bool has_lines; /* a line of this kind is charged */
	cents list;     /* sum of its charged lines */
	cents discount; /* taken off the sum */
	cents charged;  /* list − discount */
	cents tax;      /* on what is charged */
};

struct money_total {
	struct money_class classes[WORK_KIND_COUNT]; /* by kind of line */
	cents list;                                  /* sums over the classes */
	cents discount;
	cents charged;
	cents tax;
	cents given;   /* worth of the no-charge lines */
	cents total;   /* charged + tax */
	cents deposit; /* already paid */
	cents balance; /* total − deposit; below 0 is owed back */
};

/*
 * What one of a line's quantity is, as accounting calls it: what the description
 * names behind its last comma ("Refrigerant R-410A, ounces"): "oz", "lb", "g", "kg",
 * "ft", "m", "hour", "each"; else "hour" for labour, "each" for parts and fees, and
 * "" for refrigerant.  *stem is how much of the description stands before the unit.
 */
const char *money_line_unit(const struct work_line *line, int *stem);

/*
 * The unit of weight that the last word of a line's description names ("R-32 by the ounce").
 * False, with *unit untouched, where it names none.
 */
bool money_weight_unit(const struct work_line *line, enum unit *unit);

/*
 * A line as work that was done: "Refrigerant R-410A, 8.5 oz", "Belt A-52 × 2",
 * "Diagnosis and repair": how long it took is for the bill.  Cut at a whole character.
 */
void money_line_words(const struct work_line *line, char *out, size_t size);

/*
 * Reads a quantity of a line, with or without what it is counted in behind it:
 * "1.5", "1.5 h", "3 pcs".  Fails with STATUS_NOT_A_NUMBER where it is no
 * number, with STATUS_BAD_INPUT where it names another unit than the line's;
 * *quantity is then untouched.
 */
enum status money_read_quantity(const struct work_line *line, const char *typed,
                                thousandths *quantity);

/* quantity × unit price, rounded.  Fails with STATUS_MONEY_TOO_LARGE, *amount 0. */
enum status money_line_amount(const struct work_line *line, cents *amount);

/* Adds up the lines of a call.  Fails with STATUS_MONEY_TOO_LARGE, *total all 0. */
enum status money_total(const struct call *call, struct money_total *total);

/*
 * Whether the work of an option that nobody decided is billed, as far as the lines show it: one
 * has its title, or one or all but the fees come to its price.  All do where no option was
 * accepted.
 */
bool money_offer_is_billed(const struct call *call, const struct offer *offer);

/* How the total stands to what was authorised before the work, and accepted after it. */
struct money_excess {
	cents total;      /* as it is now */
	bool is_over;     /* above what was authorised */
	bool is_accepted; /* by name, at this very total */
	bool is_changed;  /* by name, at another total */
};

/* Fails with STATUS_MONEY_TOO_LARGE, *excess all 0. */
enum status money_excess(const struct call *call, struct money_excess *excess);

/*
 * A line's part of its kind's discount and tax, for files that carry them line
 * by line.  A part is what the sums up to and with this line come to, less what
 * those before it come to; so the parts of a kind add up to money_total() to
 * the cent, and each is within a cent of the line's own.
 */
struct money_share {
	cents amount;   /* of the line; 0 on a no-charge line */
	cents discount; /* its part of the discount */
	cents tax;      /* its part of the tax */
};

/* Fills call->work_count shares.  Fails with STATUS_MONEY_TOO_LARGE. */
enum status money_shares(const struct call *call, struct money_share *shares);

/* What a choice costs. */
struct offer_cost {
	bool has_years;  /* it was said how long it may last */
	cents year_low;  /* lowest price over the longest life, a year */
	cents year_high; /* highest price over the shortest life, a year */
	bool has_energy; /* capacity, SEER, hours and rate are known */
	double kwh;      /* energy a season */
	cents energy;    /* what that costs a year */
	cents both_low;  /* year_low and energy, each as money_whole() shows it */
	cents both_high; /* the same of year_high */
};

/* An estimate as it is shown: rounded to whole dollars, or whatever the currency is. */
cents money_whole(cents amount);

/*
 * Cost per year of a choice on a unit of `tons` (0 unknown) whose own SEER
 * (0 unknown) holds where the choice says none: kWh = tons × 12,000 × hours /
 * (SEER × 1000), by the definition of SEER (AHRI 210/240).  Each amount
 * rounded once, half up.  Fails with STATUS_MONEY_TOO_LARGE, *cost all 0.
 */
enum status money_offer_cost(const struct offer *offer, const struct billing *billing,
                             double tons, double seer, struct offer_cost *cost);

/*
 * The same of an option of a call, by its nameplate and season.  An option that
 * asks for no price and changes nothing leaves the unit as it is: where that does
 * not run it takes no energy.
 */
enum status money_option_cost(const struct call *call, const struct offer *offer,
                              struct offer_cost *cost);

/* Large enough for every amount. */
enum { MONEY_SIZE = 48 };

/*
 * Reads an amount: "12.50", "1,200", "$12", "12,50", "-3.00", "12 USD".  A comma
 * followed by exactly three digits separates thousands.  Fails with
 * STATUS_NOT_A_NUMBER (also for a third decimal) or STATUS_MONEY_TOO_LARGE,
 * touching nothing.
 */
enum status money_parse(const char *typed, cents *amount);

/* The same for quantities ("1.5") and percentages ("8.875 %"), three decimals each. */
enum status money_parse_quantity(const char *typed, thousandths *quantity);
enum status money_parse_percent(const char *typed, millipercent *percent);

/* "1,234.50"; the same in every locale. */
void money_format(cents amount, char *out, size_t size);

/* "1234.50", as files hold it; quantities "1.5" and percentages "8.25" without idle zeros. */
void money_format_plain(cents amount, char *out, size_t size);
void money_format_quantity(thousandths quantity, char *out, size_t size);
void money_format_percent(millipercent percent, char *out, size_t size);

/* With the currency: "$1,234.50", or "1,234.50 USD" for a word; "" leaves it out. */
void money_format_currency(cents amount, const char *currency, char *out, size_t size);

#endif
