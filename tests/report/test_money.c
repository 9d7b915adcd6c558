/*
 * Money.  The expected amounts come from Python 3's decimal module with
 * ROUND_HALF_UP, or were worked out by hand where marked.
 */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/money.h>

#include "support/calls.h"

Suite *money_suite(void);

/*
 * Half a cent is rounded up, as the Streamlined Sales and Use Tax Agreement,
 * section 324, has it: the third decimal, when greater than four, makes the
 * next cent; and on the invoice's sum, not line by line, as it allows.
 *
quantity, price, discount, tax -> list, discount, charged, tax; Python's decimal. */
static const int64_t worked_lines[][8] = {
	{ 50750, 1328, 0, 7250, 67396, 0, 67396, 4886 },
	{ 47000, 2602, 10000, 6250, 122294, 12229, 110065, 6879 },
	{ 6000, 4156, 2500, 0, 24936, 623, 24313, 0 },
	{ 28978, 32959, 5000, 6250, 955086, 47754, 907332, 56708 },
	{ 8000, 68434, 15000, 20000, 547472, 82121, 465351, 93070 },
	{ 12771, 68972, 0, 10000, 880841, 0, 880841, 88084 },
	{ 11000, 14920, 5000, 8870, 164120, 8206, 155914, 13830 },
	{ 2958, 75074, 0, 8870, 222069, 0, 222069, 19698 },
	{ 18000, 67118, 3330, 20000, 1208124, 40231, 1167893, 233579 },
	/* ties, by hand: 0.005 -> 0.01; 0.495 -> 0.50; 10 % of 0.45 = 0.045 -> 0.05 */
	{ 500, 1, 0, 0, 1, 0, 1, 0 },
	{ 1500, 33, 0, 0, 50, 0, 50, 0 },
	{ 1000, 45, 10000, 10000, 45, 5, 40, 4 },
	/* a credit mirrors a charge */
	{ 500, -1, 0, 0, -1, 0, -1, 0 },
	{ 1000, -45, 10000, 10000, -45, -5, -40, -4 },
	/* three decimals: 8.875 % of 100.00 = 8.875; of 20.00 = 1.775; of 46.50 = 4.126875 */
	{ 1000, 10000, 0, 8875, 10000, 0, 10000, 888 },
	{ 1000, 2000, 0, 8875, 2000, 0, 2000, 178 },
	{ 1000, 4650, 0, 8875, 4650, 0, 4650, 413 },
	{ 1000, 99999, 3333, 8875, 99999, 3333, 96666, 8579 },
	{ 12345, 6789, 12125, 7025, 83810, 10162, 73648, 5174 },
};

START_TEST(each_amount_is_rounded_half_up_once)
{
	const int64_t *row = worked_lines[_i];
	struct work_line line = { .kind = WORK_PART, .quantity = row[0], .unit_price = row[1] };
	struct call call = { .work = &line, .work_count = 1, .billing = { .discount = row[2] } };
	struct money_total total;
	cents amount;

	call.billing.tax[WORK_PART] = row[3];
	ck_assert_int_eq(money_line_amount(&line, &amount), STATUS_OK);
	ck_assert_int_eq(amount, row[4]);
	ck_assert_int_eq(money_total(&call, &total), STATUS_OK);
	ck_assert_int_eq(total.classes[WORK_PART].list, row[4]);
	ck_assert_int_eq(total.classes[WORK_PART].discount, row[5]);
	ck_assert_int_eq(total.classes[WORK_PART].charged, row[6]);
	ck_assert_int_eq(total.classes[WORK_PART].tax, row[7]);
	ck_assert_int_eq(total.total, row[6] + row[7]);
	ck_assert_int_eq(total.given, 0);
}
END_TEST

static void add_line(struct call *call, enum work_kind kind, thousandths quantity, cents price,
                     bool no_charge)
{
	struct work_line *line = call_add_work(call);

	ck_assert_ptr_nonnull(line);
	line->kind = kind;
	line->quantity = quantity;
	line->unit_price = price;
	line->no_charge = no_charge;
}

START_TEST(a_whole_bill)
{
	struct call call;
	struct money_total total;

	call_init(&call);
	call.billing.discount = 5000;
	call.billing.deposit = 10000;
	call.billing.tax[WORK_PART] = call.billing.tax[WORK_REFRIGERANT] = 8250;
	add_line(&call, WORK_LABOUR, 1750, 12900, false);
	add_line(&call, WORK_PART, 1000, 4895, false);
	add_line(&call, WORK_REFRIGERANT, 11500, 435, false);
	add_line(&call, WORK_FEE, 1000, 8900, false);
	add_line(&call, WORK_PART, 1000, 1450, true);
	ck_assert_int_eq(money_total(&call, &total), STATUS_OK);
	ck_assert_int_eq(total.list, 41373);
	ck_assert_int_eq(total.discount, 2069);
	ck_assert_int_eq(total.charged, 39304);
	ck_assert_int_eq(total.classes[WORK_LABOUR].charged, 21446);
	ck_assert_int_eq(total.classes[WORK_PART].charged, 4650);
	ck_assert_int_eq(total.classes[WORK_PART].tax, 384);
	ck_assert_int_eq(total.classes[WORK_REFRIGERANT].tax, 392);
	ck_assert_int_eq(total.classes[WORK_FEE].tax, 0);
	ck_assert_int_eq(total.tax, 776);
	ck_assert_int_eq(total.given, 1450);
	ck_assert_int_eq(total.total, 40080);
	ck_assert_int_eq(total.balance, 30080);
	call_done(&call);
}
END_TEST

/*
 * Three lines of 0.05 at 10 %: each line's tax alone would be 0.01, of the sum
 * it is 0.015, so 0.02.  By hand.
 */
START_TEST(tax_is_taken_of_the_sum_and_rounded_once)
{
	struct call call;
	struct money_total total;
	struct money_share shares[3];

	call_init(&call);
	call.billing.tax[WORK_PART] = 10000;
	for (int i = 0; i < 3; i++)
		add_line(&call, WORK_PART, 1000, 5, false);
	ck_assert_int_eq(money_total(&call, &total), STATUS_OK);
	ck_assert_int_eq(total.list, 15);
	ck_assert_int_eq(total.tax, 2);
	ck_assert_int_eq(total.total, 17);
	ck_assert_int_eq(money_shares(&call, shares), STATUS_OK);
	ck_assert_int_eq(shares[0].tax, 1);
	ck_assert_int_eq(shares[1].tax, 0);
	ck_assert_int_eq(shares[2].tax, 1);
	call_done(&call);
}
END_TEST

/* Whatever the lines are, their parts add up to what is charged for their kind. */
START_TEST(parts_of_lines_add_up_to_their_kind)
{
	struct call call;
	struct money_total total;
	struct money_share shares[9];
	cents discount[WORK_KIND_COUNT] = { 0 }, tax[WORK_KIND_COUNT] = { 0 };
	cents amount[WORK_KIND_COUNT] = { 0 };

	call_init(&call);
	call.billing.discount = 3333 + _i * 7;
	for (int kind = 0; kind < WORK_KIND_COUNT; kind++)
		call.billing.tax[kind] = 8875 + _i * 131 * kind;
	for (int i = 0; i < 9; i++)
		add_line(&call, (enum work_kind)((i * 7 + _i) % WORK_KIND_COUNT), 333 + i * _i,
		         (i % 5 == 4 ? -1 : 1) * (1999 + 77 * i * _i), i == 6);
	ck_assert_int_eq(money_total(&call, &total), STATUS_OK);
	ck_assert_int_eq(money_shares(&call, shares), STATUS_OK);
	for (int i = 0; i < 9; i++) {
		discount[call.work[i].kind] += shares[i].discount;
		tax[call.work[i].kind] += shares[i].tax;
		amount[call.work[i].kind] += shares[i].amount;
	}
	for (int kind = 0; kind < WORK_KIND_COUNT; kind++) {
		ck_assert_int_eq(amount[kind], total.classes[kind].list);
		ck_assert_int_eq(discount[kind], total.classes[kind].discount);
		ck_assert_int_eq(tax[kind], total.classes[kind].tax);
	}
	call_done(&call);
}
END_TEST

START_TEST(too_large_is_refused_not_wrapped)
{
	struct call call;
	struct money_total total;
	struct money_share share;
	struct work_line huge = { .kind = WORK_FEE, .quantity = INT64_MAX, .unit_price = INT64_MAX };
	cents amount = 7;

	ck_assert_int_eq(money_line_amount(&huge, &amount), STATUS_MONEY_TOO_LARGE);
	ck_assert_int_eq(amount, 0);
	huge = (struct work_line){ .kind = WORK_FEE, .quantity = 1000, .unit_price = 5,
	                           .no_charge = true };
	call = (struct call){ .work = &huge, .work_count = 1, .billing = { .discount = INT64_MAX } };
	ck_assert_int_eq(money_total(&call, &total), STATUS_OK);
	huge.no_charge = false;
	ck_assert_int_eq(money_total(&call, &total), STATUS_MONEY_TOO_LARGE);
	ck_assert_int_eq(money_shares(&call, &share), STATUS_MONEY_TOO_LARGE);

	call_init(&call);
	for (int i = 0; i < 3; i++)
		add_line(&call, WORK_FEE, 1000, INT64_C(4503599627370496), false);
	ck_assert_int_eq(money_total(&call, &total), STATUS_MONEY_TOO_LARGE);
	ck_assert_int_eq(total.total, 0);
	ck_assert_int_eq(total.list, 0);
	call_done(&call);
	call.billing.deposit = INT64_MIN;
	ck_assert_int_eq(money_total(&call, &total), STATUS_MONEY_TOO_LARGE);
}
END_TEST

/* What was authorised before the work, what was accepted after it, and the total of 100.00. */
static const struct {
	cents authorised, accepted;
	const char *by;
	bool is_over, is_accepted, is_changed;
} excesses[] = {
	{ 0, 0, "", false, false, false },           { 10000, 0, "", false, false, false },
	{ 9999, 0, "", true, false, false },         { 9999, 10000, "M. Quill", true, true, false },
	{ 9999, 9999, "M. Quill", true, false, true }, { 0, 10001, "M. Quill", false, false, true },
	{ 0, 10000, "", false, false, false },       { 0, 9000, "", false, false, false },
	{ 0, 0, "M. Quill", false, false, false },
};

START_TEST(an_amount_above_the_authorised_one_may_be_accepted)
{
	struct money_excess excess;
	struct call call;

	call_init(&call);
	add_line(&call, WORK_FEE, 1000, 10000, false);
	call.authorised_amount = excesses[_i].authorised;
	call.accepted_total = excesses[_i].accepted;
	ck_assert(text_copy(call.accepted_by, sizeof call.accepted_by, excesses[_i].by));
	ck_assert_int_eq(money_excess(&call, &excess), STATUS_OK);
	ck_assert_int_eq(excess.total, 10000);
	ck_assert(excess.is_over == excesses[_i].is_over);
	ck_assert(excess.is_accepted == excesses[_i].is_accepted);
	ck_assert(excess.is_changed == excesses[_i].is_changed);
	call_done(&call);
}
END_TEST

/* As far as a double is exact, either way: one cent more is refused. */
START_TEST(the_largest_bill_and_the_largest_credit)
{
	const cents most = INT64_C(9007199254740991);

	for (int sign = -1; sign <= 1; sign += 2) {
		struct call call;
		struct money_total total;
		call_init(&call);
		add_line(&call, WORK_FEE, 1000, sign * (most - 1), false);
		add_line(&call, WORK_FEE, 1000, sign, false);
		ck_assert_int_eq(money_total(&call, &total), STATUS_OK);
		ck_assert_int_eq(total.total, sign * most);
		add_line(&call, WORK_FEE, 1000, sign, false);
		ck_assert_int_eq(money_total(&call, &total), STATUS_MONEY_TOO_LARGE);
		call_done(&call);
	}
}
END_TEST

/* An option of 420 to 480 and one line of 300 or more; by hand. */
static const struct {
	enum decision decision;  /* of the option */
	bool other_is_accepted;  /* another option was */
	const char *description; /* of the line */
	cents price, fee;        /* of the line, and of a fee beside it */
	bool is_billed;
} options[] = {
	{ DECISION_NONE, false, "Fan motor", 42000, 0, true },
	{ DECISION_NONE, false, "Fan motor", 48000, 0, true },
	{ DECISION_NONE, false, "Fan motor", 41999, 0, false },
	{ DECISION_NONE, false, "Fan motor", 48001, 0, false },
	{ DECISION_NONE, false, "Fan motor", 35000, 8900, true },
	{ DECISION_NONE, false, "Fan motor", 45000, 8900, true },
	{ DECISION_NONE, true, "Fan motor", 35000, 8900, false },
	{ DECISION_NONE, true, "Fan motor", 45000, 0, true },
	{ DECISION_NONE, false, "new FAN motor", 100, 0, true },
	{ DECISION_ACCEPTED, false, "Fan motor", 45000, 0, false },
	{ DECISION_DECLINED, false, "Fan motor", 45000, 0, false },
};

START_TEST(an_undecided_option_is_billed_by_its_title_or_price)
{
	struct call call;

	call_init(&call);
	struct offer *other = call_add_offer(&call);
	other->decision = options[_i].other_is_accepted ? DECISION_ACCEPTED : DECISION_DECLINED;
	struct offer *offer = call_add_offer(&call);
	*offer = (struct offer){ .title = "New fan motor", .price_low = 42000, .price_high = 48000,
	                         .decision = options[_i].decision };
	struct work_line *line = call_add_work(&call);
	*line = (struct work_line){ .kind = WORK_PART, .quantity = 1000, .unit_price = options[_i].price };
	snprintf(line->description, sizeof line->description, "%s", options[_i].description);
	*call_add_work(&call) = (struct work_line){ .kind = WORK_FEE, .quantity = 1000,
	                                            .unit_price = options[_i].fee };
	ck_assert(money_offer_is_billed(&call, &call.offers[1]) == options[_i].is_billed);
	call_done(&call);
}
END_TEST

/* By hand: 1250.00 over 3 to 7 years; 3 ton, 1000 h, SEER 10 or 16, 14.5 cents. */
START_TEST(a_choice_costs_so_much_a_year)
{
	struct billing billing = { .cooling_hours = 1000, .energy_rate = 14.5 };
	struct offer offer = { .price_low = 125000, .price_high = 140000, .years_low = 3,
	                       .years_high = 7 };
	struct offer_cost cost;

	ck_assert_int_eq(money_offer_cost(&offer, &billing, 3, 10, &cost), STATUS_OK);
	ck_assert(cost.has_years && cost.has_energy);
	ck_assert_int_eq(cost.year_low, 17857);  /* 1250.00 / 7 = 178.571 */
	ck_assert_int_eq(cost.year_high, 46667); /* 1400.00 / 3 = 466.667 */
	ck_assert_double_eq_tol(cost.kwh, 3600, 1e-9);
	ck_assert_int_eq(cost.energy, 52200);
	offer.seer = 16;
	ck_assert_int_eq(money_offer_cost(&offer, &billing, 3, 10, &cost), STATUS_OK);
	ck_assert_int_eq(cost.energy, 32625); /* 2250 kWh */
	offer.years_low = 0;
	offer.seer = 0;
	ck_assert_int_eq(money_offer_cost(&offer, &billing, 3, 0, &cost), STATUS_OK);
	ck_assert(cost.has_years && !cost.has_energy);
	ck_assert_int_eq(cost.year_high, 20000);
	offer.years_high = 0;
	ck_assert_int_eq(money_offer_cost(&offer, &billing, 3, 10, &cost), STATUS_OK);
	ck_assert(!cost.has_years);
	offer.years_high = 1e-300;
	ck_assert_int_eq(money_offer_cost(&offer, &billing, 3, 10, &cost), STATUS_MONEY_TOO_LARGE);
}
END_TEST

static void put(struct call *call, enum stage stage, enum reading reading, const char *typed)
{
	struct error error;
	struct value value;

	ck_assert(reading_parse(reading, typed, UNITS_US, &value, &error) == STATUS_OK);
	visit_set(&call->visit, stage, reading, &value);
}

/* To leave the unit as it is takes no energy where it stands; to repair it does, and to let it run. */
static const struct {
	const char *found, *left; /* how the compressor is, "" where nobody looked */
	bool stands;
} standing[] = {
	{ "silent", "", true }, { "hums", "", true }, { "runs", "", false }, { "trips", "", false },
	{ "", "", false }, { "silent", "runs", false }, { "runs", "silent", true },
};

START_TEST(a_unit_that_stands_takes_no_energy)
{
	struct offer leave = { .price_low = 0 }, repair = { .price_low = 100, .price_high = 100 };
	struct offer better = { .seer = 16 };
	struct offer_cost cost;
	struct call call;

	call_init(&call);
	call.billing.cooling_hours = 1000;
	call.billing.energy_rate = 14.5;
	put(&call, STAGE_AS_FOUND, READING_NOMINAL_CAPACITY, "3");
	put(&call, STAGE_AS_FOUND, READING_SEER, "10");
	if (*standing[_i].found)
		put(&call, STAGE_AS_FOUND, READING_COMPRESSOR_STATE, standing[_i].found);
	if (*standing[_i].left)
		put(&call, STAGE_AS_LEFT, READING_COMPRESSOR_STATE, standing[_i].left);
	ck_assert_int_eq(money_option_cost(&call, &leave, &cost), STATUS_OK);
	ck_assert(cost.has_energy == !standing[_i].stands);
	ck_assert_int_eq(money_option_cost(&call, &repair, &cost), STATUS_OK);
	ck_assert(cost.has_energy);
	ck_assert_int_eq(cost.energy, 52200); /* 3600 kWh */
	ck_assert_int_eq(money_option_cost(&call, &better, &cost), STATUS_OK);
	ck_assert_int_eq(cost.energy, 32625); /* 2250 kWh */
	call_done(&call);
}
END_TEST

/* A season's energy takes the unit's capacity and SEER: without one of them nothing is said. */
START_TEST(what_is_not_on_the_plate_tells_no_energy)
{
	static const enum reading plate[] = { READING_NOMINAL_CAPACITY, READING_SEER };
	struct offer repair = { .price_low = 100, .price_high = 100 };
	struct offer_cost cost;

	for (int known = 0; known < 4; known++) {
		struct call call;
		call_init(&call);
		call.billing.cooling_hours = 1000;
		call.billing.energy_rate = 14.5;
		for (int i = 0; i < 2; i++)
			if (known & 1 << i)
				put(&call, STAGE_AS_FOUND, plate[i], i == 0 ? "3" : "10");
		ck_assert_int_eq(money_option_cost(&call, &repair, &cost), STATUS_OK);
		ck_assert(cost.has_energy == (known == 3));
		call_done(&call);
	}
}
END_TEST

/* By hand: each amount counts however small it is, and without one of them nothing is said. */
START_TEST(a_small_amount_is_an_amount_and_none_is_none)
{
	static const struct {
		double tons, hours, rate, seer;
		bool has_energy;
		double kwh;
	} rows[] = {
		{ 3, 1000, 14.5, 10, true, 3600 }, { 0.5, 1000, 14.5, 10, true, 600 },
		{ 3, 0.5, 14.5, 10, true, 1.8 }, { 3, 1000, 0.5, 10, true, 3600 },
		{ 3, 1000, 14.5, 0.5, true, 72000 },
		{ 0, 1000, 14.5, 10, false, 0 }, { 3, 0, 14.5, 10, false, 0 }, { 3, 1000, 0, 10, false, 0 },
		{ 3, 1000, 14.5, 0, false, 0 },
	};
	struct offer_cost cost;

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct billing billing = { .cooling_hours = rows[i].hours, .energy_rate = rows[i].rate };
		struct offer of_offer = { .seer = rows[i].seer }, none = { .seer = 0 };
		ck_assert_int_eq(money_offer_cost(&of_offer, &billing, rows[i].tons, 0, &cost), STATUS_OK);
		ck_assert(cost.has_energy == rows[i].has_energy && !cost.has_years);
		ck_assert_double_eq_tol(cost.kwh, rows[i].kwh, 1e-9);
		ck_assert_int_eq(money_offer_cost(&none, &billing, rows[i].tons, rows[i].seer, &cost), STATUS_OK);
		ck_assert(cost.has_energy == rows[i].has_energy);
		ck_assert_double_eq_tol(cost.kwh, rows[i].kwh, 1e-9);
	}
	struct billing billing = { .cooling_hours = 0 };
	struct offer year = { .price_low = 900, .price_high = 1200, .years_low = 0.5 };
	ck_assert_int_eq(money_offer_cost(&year, &billing, 3, 10, &cost), STATUS_OK);
	ck_assert(cost.has_years);
	ck_assert_int_eq(cost.year_low, 1800);
	ck_assert_int_eq(cost.year_high, 2400);
	year = (struct offer){ .price_low = 900, .price_high = 1200, .years_high = 0.5 };
	ck_assert_int_eq(money_offer_cost(&year, &billing, 3, 10, &cost), STATUS_OK);
	ck_assert(cost.has_years);
	ck_assert_int_eq(cost.year_low, 1800);
	ck_assert_int_eq(cost.year_high, 2400);
	static const cents amounts[][2] = { { 0, 0 }, { 49, 0 }, { 50, 100 }, { 149, 100 }, { 150, 200 },
	                                    { -49, 0 }, { -50, -100 }, { -149, -100 } };
	for (size_t i = 0; i < sizeof amounts / sizeof *amounts; i++)
		ck_assert_int_eq(money_whole(amounts[i][0]), amounts[i][1]);
}
END_TEST

/* What is printed side by side adds up: 87.50 / 14 = 6.25 -> 6 and 326.25 -> 326, so 332, not 332.50 -> 333. */
START_TEST(both_a_year_is_the_sum_of_what_is_printed)
{
	struct billing billing = { .cooling_hours = 1000, .energy_rate = 14.5 };
	struct offer offer = { .price_low = 8750, .price_high = 10150, .years_low = 14,
	                       .years_high = 14, .seer = 16 };
	struct offer_cost cost;

	ck_assert_int_eq(money_offer_cost(&offer, &billing, 3, 10, &cost), STATUS_OK);
	ck_assert_int_eq(money_whole(cost.year_low), 600);
	ck_assert_int_eq(money_whole(cost.energy), 32600);
	ck_assert_int_eq(cost.both_low, 33200);
	/* 101.50 / 14 = 7.25; 7 + 326, where the exact sum would round to 334. */
	ck_assert_int_eq(cost.both_high, 33300);
	/* 8,700 over 18 years is 483.33; 483 + 326, where the exact sum would round to 810. */
	offer = (struct offer){ .price_low = 870000, .price_high = 990000, .years_low = 14,
	                        .years_high = 18, .seer = 16 };
	ck_assert_int_eq(money_offer_cost(&offer, &billing, 3, 10, &cost), STATUS_OK);
	ck_assert_int_eq(cost.both_low, 80900);
	ck_assert_int_eq(cost.both_high, 103300);
	ck_assert_int_eq(money_whole(-150), -200);
}
END_TEST

static const struct {
	const char *description; /* of a line */
	enum work_kind kind;     /* of it */
	const char *unit;        /* what one of it is */
	int stem;                /* of the description, before the unit */
} measured_lines[] = {
	{ "Refrigerant R-410A, ounces", WORK_REFRIGERANT, "oz", 18 },
	{ "Refrigerant R-22, pound", WORK_REFRIGERANT, "lb", 16 },
	{ "R-32,kg", WORK_REFRIGERANT, "kg", 4 },
	{ "Refrigerant R-410A", WORK_REFRIGERANT, "", 18 },
	{ "Labour, one technician, an hour", WORK_LABOUR, "hour", 22 },
	{ "Replace capacitor, test start", WORK_LABOUR, "hour", 29 },
	{ "Inspection, each", WORK_LABOUR, "each", 10 },
	{ "Copper pipe, feet", WORK_PART, "ft", 11 },
	{ "Line set, 25 ft", WORK_PART, "each", 15 },
	{ "Service call", WORK_FEE, "each", 12 },
	{ "", WORK_PART, "each", 0 },
};

START_TEST(a_line_says_what_its_quantity_is_of)
{
	struct work_line line = { .kind = measured_lines[_i].kind };
	int stem = -1;

	text_copy(line.description, sizeof line.description, measured_lines[_i].description);
	ck_assert_str_eq(money_line_unit(&line, &stem), measured_lines[_i].unit);
	ck_assert_int_eq(stem, measured_lines[_i].stem);
}
END_TEST

/* The unit of the line may stand behind its number; another one is refused, nothing is read. */
/* What was done, in the words of a report: how long it took is for the bill. */
static const struct {
	struct work_line line;
	const char *words;
} done[] = {
	{ { .kind = WORK_LABOUR, .description = "Diagnosis and repair, hour", .quantity = 1500 }, "Diagnosis and repair" },
	{ { .kind = WORK_LABOUR, .description = "Diagnosis and repair", .quantity = 2000 }, "Diagnosis and repair" },
	{ { .kind = WORK_REFRIGERANT, .description = "Refrigerant R-410A, ounce", .quantity = 8500 }, "Refrigerant R-410A, 8.5 oz" },
	{ { .kind = WORK_PART, .description = "Belt A-52", .quantity = 2000 }, "Belt A-52 × 2" },
	{ { .kind = WORK_PART, .description = "Belt A-52", .quantity = 1000 }, "Belt A-52" },
	{ { .kind = WORK_PART, .description = "Belt A-52", .quantity = 0 }, "Belt A-52" },
};

START_TEST(a_line_says_what_was_done)
{
	char words[200];

	money_line_words(&done[_i].line, words, sizeof words);
	ck_assert_str_eq(words, done[_i].words);
}
END_TEST

START_TEST(a_quantity_names_its_unit_or_none)
{
	struct work_line line = { .kind = WORK_LABOUR };
	thousandths quantity = 7;

	ck_assert_int_eq(money_read_quantity(&line, "1.5 h", &quantity), STATUS_OK);
	ck_assert_int_eq(quantity, 1500);
	ck_assert_int_eq(money_read_quantity(&line, "2hours", &quantity), STATUS_OK);
	ck_assert_int_eq(quantity, 2000);
	ck_assert_int_eq(money_read_quantity(&line, "-1", &quantity), STATUS_OK);
	ck_assert_int_eq(quantity, -1000);
	ck_assert_int_eq(money_read_quantity(&line, "3 lb", &quantity), STATUS_BAD_INPUT);
	ck_assert_int_eq(money_read_quantity(&line, "1 fortnight", &quantity), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(money_read_quantity(&line, "h", &quantity), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(quantity, -1000);
	text_copy(line.description, sizeof line.description, "Refrigerant R-410A, ounce");
	line.kind = WORK_REFRIGERANT;
	ck_assert_int_eq(money_read_quantity(&line, "8.5 oz", &quantity), STATUS_OK);
	ck_assert_int_eq(quantity, 8500);
}
END_TEST

static const struct {
	const char *typed; /* an amount */
	cents amount;      /* what it is */
} amounts[] = {
	{ "12.50", 1250 }, { "1,200", 120000 }, { "$12", 1200 }, { " $ 1,234.5 ", 123450 },
	{ "12,50", 1250 }, { "-3.00", -300 }, { "$-3", -300 }, { "-$3", -300 }, { ".5", 50 },
	{ "12 USD", 1200 }, { "EUR 7", 700 }, { "€7.01", 701 }, { "0", 0 }, { "12.", 1200 },
	{ "1,234,567.89", 123456789 }, { "1234567.89", 123456789 },
};

static const char *const no_amounts[] = {
	"", " ", "-", "$", "twelve", "1.234", "1,23,456", "12.50x", "1 2", "--3", ".", "1e3", "0x10",
	"12.5.0", "NaN", "1,2345", "12\x1b[31m",
	"uSD 5", "UsD 5", "USd 5", "US 5", "EU",
};

START_TEST(amounts_are_read_as_people_write_them)
{
	cents amount = -1;

	ck_assert_msg(money_parse(amounts[_i].typed, &amount) == STATUS_OK, "%s", amounts[_i].typed);
	ck_assert_int_eq(amount, amounts[_i].amount);
}
END_TEST

START_TEST(what_is_no_amount_is_refused)
{
	cents amount = 77;

	ck_assert_msg(money_parse(no_amounts[_i], &amount) == STATUS_NOT_A_NUMBER, "%s",
	              no_amounts[_i]);
	ck_assert_int_eq(amount, 77);
}
END_TEST

START_TEST(huge_amounts_are_refused)
{
	cents amount = 77;

	ck_assert_int_eq(money_parse("99999999999999999999", &amount), STATUS_MONEY_TOO_LARGE);
	ck_assert_int_eq(money_parse("90071992547409.92", &amount), STATUS_MONEY_TOO_LARGE);
	ck_assert_int_eq(amount, 77);
	ck_assert_int_eq(money_parse("90071992547409.91", &amount), STATUS_OK);
}
END_TEST

START_TEST(amounts_are_written_the_same_everywhere)
{
	char out[MONEY_SIZE];

	money_format(123450, out, sizeof out);
	ck_assert_str_eq(out, "1,234.50");
	money_format(99999, out, sizeof out);
	ck_assert_str_eq(out, "999.99");
	money_format(12345678, out, sizeof out);
	ck_assert_str_eq(out, "123,456.78");
	money_format(-7, out, sizeof out);
	ck_assert_str_eq(out, "-0.07");
	money_format(100000000, out, sizeof out);
	ck_assert_str_eq(out, "1,000,000.00");
	money_format(INT64_MIN, out, sizeof out);
	ck_assert_str_eq(out, "-92,233,720,368,547,758.08");
	money_format_plain(123450, out, sizeof out);
	ck_assert_str_eq(out, "1234.50");
	money_format_currency(-123450, "$", out, sizeof out);
	ck_assert_str_eq(out, "-$1,234.50");
	money_format_currency(1200, "USD", out, sizeof out);
	ck_assert_str_eq(out, "12.00 USD");
	money_format_currency(1200, "", out, sizeof out);
	ck_assert_str_eq(out, "12.00");
}
END_TEST

START_TEST(quantities_and_percentages)
{
	thousandths quantity = 0;
	millipercent percent = 0;
	char out[MONEY_SIZE];

	ck_assert_int_eq(money_parse_quantity("1.75", &quantity), STATUS_OK);
	ck_assert_int_eq(quantity, 1750);
	money_format_quantity(quantity, out, sizeof out);
	ck_assert_str_eq(out, "1.75");
	money_format_quantity(3000, out, sizeof out);
	ck_assert_str_eq(out, "3");
	money_format_quantity(-25, out, sizeof out);
	ck_assert_str_eq(out, "-0.025");
	ck_assert_int_eq(money_parse_quantity("1.7555", &quantity), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(money_parse_quantity("1 each", &quantity), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(money_parse_percent("8.25 %", &percent), STATUS_OK);
	ck_assert_int_eq(percent, 8250);
	ck_assert_int_eq(money_parse_percent("8.875%", &percent), STATUS_OK);
	ck_assert_int_eq(percent, 8875);
	money_format_percent(8875, out, sizeof out);
	ck_assert_str_eq(out, "8.875");
	money_format_percent(8250, out, sizeof out);
	ck_assert_str_eq(out, "8.25");
	ck_assert_int_eq(money_parse_percent("8.8755", &percent), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(money_parse_percent("8%%", &percent), STATUS_NOT_A_NUMBER);
}
END_TEST

Suite *money_suite(void)
{
	Suite *suite = suite_create("money");
	TCase *tests = tcase_create("money");

	tcase_add_loop_test(tests, each_amount_is_rounded_half_up_once, 0,
	                    (int)(sizeof worked_lines / sizeof *worked_lines));
	tcase_add_test(tests, a_whole_bill);
	tcase_add_test(tests, tax_is_taken_of_the_sum_and_rounded_once);
	tcase_add_loop_test(tests, parts_of_lines_add_up_to_their_kind, 0, 40);
	tcase_add_test(tests, too_large_is_refused_not_wrapped);
	tcase_add_test(tests, the_largest_bill_and_the_largest_credit);
	tcase_add_loop_test(tests, an_amount_above_the_authorised_one_may_be_accepted, 0,
	                    sizeof excesses / sizeof *excesses);
	tcase_add_loop_test(tests, an_undecided_option_is_billed_by_its_title_or_price, 0,
	                    sizeof options / sizeof *options);
	tcase_add_test(tests, a_choice_costs_so_much_a_year);
	tcase_add_test(tests, what_is_not_on_the_plate_tells_no_energy);
	tcase_add_loop_test(tests, a_unit_that_stands_takes_no_energy, 0,
	                    sizeof standing / sizeof *standing);
	tcase_add_test(tests, a_small_amount_is_an_amount_and_none_is_none);
	tcase_add_test(tests, both_a_year_is_the_sum_of_what_is_printed);
	tcase_add_loop_test(tests, a_line_says_what_was_done, 0, sizeof done / sizeof *done);
	tcase_add_test(tests, a_quantity_names_its_unit_or_none);
	tcase_add_loop_test(tests, a_line_says_what_its_quantity_is_of, 0,
	                    (int)(sizeof measured_lines / sizeof *measured_lines));
	tcase_add_loop_test(tests, amounts_are_read_as_people_write_them, 0,
	                    (int)(sizeof amounts / sizeof *amounts));
	tcase_add_loop_test(tests, what_is_no_amount_is_refused, 0,
	                    (int)(sizeof no_amounts / sizeof *no_amounts));
	tcase_add_test(tests, huge_amounts_are_refused);
	tcase_add_test(tests, amounts_are_written_the_same_everywhere);
	tcase_add_test(tests, quantities_and_percentages);
	suite_add_tcase(suite, tests);
	return suite;
}
