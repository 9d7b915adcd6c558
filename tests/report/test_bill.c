/*
 * Every printed sum is added again from the paper alone, in each format that
 * is read by eye or by a spreadsheet, in arithmetic of the test's own.
 */
#include <check.h>
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/csv.h>
#include <padside/model/money.h>
#include <padside/report/paper.h>

#include "support/calls.h"

Suite *bill_suite(void);

enum { CELL = 200, MOST_ROWS = 64, CALLS = 60 };

/* A printed row: what, how many, each, amount; quantity and each may be empty. */
struct printed {
	char cells[4][CELL];
};

struct bill {
	struct printed rows[MOST_ROWS];
	int count;
};

/* ---- The test's own arithmetic: everything from printed characters ---- */

/* A printed decimal as a whole number of its last of `decimals` places. */
static int64_t digits_of(const char *printed, int decimals)
{
	int64_t value = 0;
	bool minus = false, seen = false;
	int behind = -1;

	for (; *printed; printed++) {
		if (*printed == '-') {
			minus = true;
		} else if (*printed == '.') {
			behind = 0;
		} else if (isdigit((unsigned char)*printed)) {
			value = value * 10 + (*printed - '0');
			seen = true;
			behind += behind >= 0;
		} else {
			ck_assert_msg(*printed == ',', "no number: %s", printed);
		}
	}
	ck_assert(seen && behind <= decimals);
	for (int i = behind < 0 ? 0 : behind; i < decimals; i++)
		value *= 10;
	return minus ? -value : value;
}

/* Half up, away from zero, by comparing twice the rest. */
static int64_t rounded(int64_t product, int64_t divisor)
{
	int64_t size = product < 0 ? -product : product;
	int64_t whole = size / divisor + (2 * (size % divisor) >= divisor);

	return product < 0 ? -whole : whole;
}

static bool begins(const char *label, const char *words)
{
	return strncmp(label, words, strlen(words)) == 0;
}

/* "Tax on parts, 8.875 % of 46.50": the rate and what it is of. */
static void read_share(const char *label, int64_t *rate, int64_t *of)
{
	char printed_rate[CELL], printed_of[CELL];

	ck_assert_msg(sscanf(strchr(label, ','), ", %s %% of %s", printed_rate, printed_of) == 2, "%s",
	              label);
	*rate = digits_of(printed_rate, 3);
	*of = digits_of(printed_of, 2);
}

/* Adds the bill again, from the top to the bottom. */
static void add_again(const struct bill *bill)
{
	int64_t lines = 0, class = 0, sums = 0, discounts = 0, taxes = 0, total = 0, deposit = 0;
	bool has_total = false;

	for (int i = 0; i < bill->count; i++) {
		const char *label = bill->rows[i].cells[0];
		int64_t amount = digits_of(bill->rows[i].cells[3], 2), rate, of;
		if (begins(label, "Subtotal, ")) {
			ck_assert_int_eq(amount, class);
			class = 0;
			sums++;
		} else if (begins(label, "Sum of the lines")) {
			ck_assert_int_eq(amount, lines);
		} else if (begins(label, "Discount on ")) {
			read_share(label, &rate, &of);
			ck_assert_int_eq(amount, -rounded(of * rate, 100000));
			discounts += amount;
		} else if (begins(label, "Tax on ")) {
			read_share(label, &rate, &of);
			ck_assert_int_eq(amount, rounded(of * rate, 100000));
			taxes += amount;
		} else if (begins(label, "Total")) {
			ck_assert_int_eq(amount, lines + discounts + taxes);
			total = amount;
			has_total = true;
		} else if (begins(label, "Deposit")) {
			deposit = amount;
		} else if (begins(label, "Balance to pay")) {
			ck_assert_int_eq(amount, total + deposit);
		} else if (begins(label, "Balance in your favour")) {
			ck_assert_int_eq(-amount, total + deposit);
		} else {
			bool free = strstr(label, "no charge") != NULL;
			int64_t product = digits_of(bill->rows[i].cells[1], 3) *
			                  digits_of(bill->rows[i].cells[2], 2);
			ck_assert_int_eq(amount, free ? 0 : rounded(product, 1000));
			lines += amount;
			class += amount;
		}
	}
	ck_assert(has_total);
	ck_assert_int_gt(bill->count, 4 + (int)sums);
}

/* What a discount or tax is of is itself a printed subtotal, less the printed discount. */
static void trace_shares(const struct bill *bill)
{
	for (int i = 0; i < bill->count; i++) {
		const char *label = bill->rows[i].cells[0];
		int64_t rate, of, sum = 0;
		char kind[CELL], subtotal[CELL], discount[CELL];
		if (!begins(label, "Tax on ") && !begins(label, "Discount on "))
			continue;
		ck_assert_int_eq(sscanf(strstr(label, " on ") + 4, "%[^,]", kind), 1);
		read_share(label, &rate, &of);
		snprintf(subtotal, sizeof subtotal, "Subtotal, %.50s", kind);
		snprintf(discount, sizeof discount, "Discount on %.50s,", kind);
		for (int j = 0; j < i; j++) {
			const char *other = bill->rows[j].cells[0];
			if (strcmp(other, subtotal) == 0 ||
			    (begins(label, "Tax on ") && begins(other, discount)))
				sum += digits_of(bill->rows[j].cells[3], 2);
		}
		ck_assert_int_eq(of, sum);
	}
}

/* ---- Reading the papers ---- */

static struct printed *next_row(struct bill *bill)
{
	ck_assert_int_lt(bill->count, MOST_ROWS);
	return &bill->rows[bill->count++];
}

static void set_cell(struct printed *row, int cell, const char *start, size_t length)
{
	while (length > 0 && strchr(" *", start[length - 1]))
		length--;
	while (length > 0 && strchr(" *", *start))
		start++, length--;
	snprintf(row->cells[cell], CELL, "%.*s", (int)length, start);
}

/* Text: cells stand apart by two spaces or more; a line without amount goes on from above. */
static void read_text(char *paper, struct bill *bill)
{
	char *at = strstr(paper, "\nWhat it costs\n");

	ck_assert_ptr_nonnull(at);
	at = strchr(at + 1, '\n');
	for (char *line = strtok(at, "\n"); line; line = strtok(NULL, "\n")) {
		char *parts[5];
		int count = 0;
		if (isalpha((unsigned char)*line))
			break;
		for (char *part = line + strspn(line, " "); *part && count < 5;) {
			parts[count++] = part;
			char *gap = strstr(part, "  ");
			if (!gap)
				break;
			*gap = '\0';
			part = gap + 1 + strspn(gap + 1, " ");
		}
		/* A long label goes on below. */
		if (count == 1 && bill->count > 0 && (unsigned char)*parts[0] < 0x80) {
			char *label = bill->rows[bill->count - 1].cells[0];
			size_t used = strlen(label);
			snprintf(label + used, CELL - used, " %s", parts[0]);
		}
		const char *last = count ? parts[count - 1] : "";
		if (count < 2 || !isdigit((unsigned char)last[strlen(last) - 1]) || !strchr(last, '.'))
			continue;
		struct printed *row = next_row(bill);
		set_cell(row, 0, parts[0], strlen(parts[0]));
		set_cell(row, 3, last, strlen(last));
		if (count == 4) {
			set_cell(row, 1, parts[1], strlen(parts[1]));
			set_cell(row, 2, parts[2], strlen(parts[2]));
		}
	}
}

static void read_markdown(char *paper, struct bill *bill)
{
	char *at = strstr(paper, "## What it costs\n");

	ck_assert_ptr_nonnull(at);
	at = strstr(at, "---: |\n");
	ck_assert_ptr_nonnull(at);
	for (char *line = strtok(at + 7, "\n"); line && *line == '|'; line = strtok(NULL, "\n")) {
		struct printed *row = next_row(bill);
		const char *start = line + 1;
		for (int cell = 0; cell < 4; cell++) {
			size_t length = strcspn(start, "|");
			set_cell(row, cell, start, length);
			start += length + 1;
		}
	}
}

static void read_html(char *paper, struct bill *bill)
{
	char *at = strstr(paper, ">What it costs</h2>");

	ck_assert_ptr_nonnull(at);
	char *end = strstr(at, "</table>");
	at = strstr(at, "<tbody>");
	ck_assert(at && end);
	*end = '\0';
	while ((at = strstr(at, "<tr")) != NULL) {
		struct printed *row = next_row(bill);
		for (int cell = 0; cell < 4; cell++) {
			at = strstr(at, cell == 0 ? "<th" : "<td");
			at = strchr(at, '>') + 1;
			set_cell(row, cell, at, strcspn(at, "<"));
		}
	}
}

/* The amount has its own column; quantity and price stand in the words. */
static void read_csv(const char *paper, struct bill *bill)
{
	struct csv csv;
	struct error error;

	csv_init(&csv, paper, strlen(paper));
	while (csv_next(&csv, &error) == CSV_RECORD) {
		if (strcmp(csv_field(&csv, 0), "What it costs") != 0)
			continue;
		struct printed *row = next_row(bill);
		const char *words = csv_field(&csv, 7);
		set_cell(row, 0, csv_field(&csv, 1), strlen(csv_field(&csv, 1)));
		set_cell(row, 3, csv_field(&csv, 3), strlen(csv_field(&csv, 3)));
		if (*words)
			ck_assert_int_eq(sscanf(words, "quantity: %[^;]; each: %s", row->cells[1],
			                        row->cells[2]), 2);
	}
	csv_done(&csv);
}

/* ---- Calls to be billed ---- */

static uint64_t next_random(uint64_t *state)
{
	*state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
	return *state >> 33;
}

/* A call with some ten lines, odd rates, now and then a credit or a gift. */
static void make_call(struct call *call, int which)
{
	static const millipercent rates[] = { 0, 8875, 7250, 6000, 10500, 4225, 333, 8375 };
	uint64_t state = (uint64_t)which * 977 + 3;

	call_init(call);
	call->billing.discount = which % 3 ? (millipercent)(next_random(&state) % 20000) : 0;
	call->billing.deposit = which % 4 ? (cents)(next_random(&state) % 300000) : 0;
	for (int kind = 0; kind < WORK_KIND_COUNT; kind++)
		call->billing.tax[kind] = rates[next_random(&state) % 8];
	for (int i = 0; i < 4 + which % 9; i++) {
		struct work_line *line = call_add_work(call);
		ck_assert_ptr_nonnull(line);
		/* The first lines see to it that there are two kinds. */
		line->kind = (enum work_kind)(i < 2 ? i : (int)(next_random(&state) % WORK_KIND_COUNT));
		line->quantity = 1 + (thousandths)(next_random(&state) % 12000);
		line->unit_price = 1 + (cents)(next_random(&state) % 200000);
		if (i > 1 && next_random(&state) % 8 == 0)
			line->unit_price = -line->unit_price;
		line->no_charge = i > 1 && next_random(&state) % 8 == 0;
		snprintf(line->description, sizeof line->description, "Item %c", 'A' + i);
	}
}

START_TEST(every_sum_can_be_added_again_from_the_paper)
{
	enum document_format format = (enum document_format)(_i % DOCUMENT_FORMAT_COUNT);
	enum paper_reader reader = _i & 8 ? PAPER_OFFICE : PAPER_CUSTOMER;
	struct bill bill = { .count = 0 };
	struct document document;
	struct call call;
	struct text text;

	make_call(&call, _i);
	document_init(&document);
	text_init(&text);
	static struct assessment assessment;
	assessment_make(&(struct assessment_input){ .call = &call }, &assessment);
	paper_build(&(struct paper_input){ .call = &call, .assessment = &assessment }, reader, &document);
	document_write(&document, format, false, &text);
	ck_assert(!document.failed && !text.failed);
	switch (format) {
	case DOCUMENT_TEXT: read_text(text.bytes, &bill); break;
	case DOCUMENT_MARKDOWN: read_markdown(text.bytes, &bill); break;
	case DOCUMENT_HTML: read_html(text.bytes, &bill); break;
	case DOCUMENT_CSV: read_csv(text.bytes, &bill); break;
	default: ck_abort_msg("a format that the test cannot read");
	}
	add_again(&bill);
	trace_shares(&bill);
	text_done(&text);
	document_done(&document);
	call_done(&call);
}
END_TEST

Suite *bill_suite(void)
{
	Suite *suite = suite_create("bill");
	TCase *tests = tcase_create("bill");

	tcase_add_loop_test(tests, every_sum_can_be_added_again_from_the_paper, 0,
	                    CALLS * DOCUMENT_FORMAT_COUNT);
	suite_add_tcase(suite, tests);
	return suite;
}
