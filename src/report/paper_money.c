/*
 * What it costs: the lines of the work by their kind, and every sum that leads
 * from them to what is to be paid.  Each amount is printed with what it is of,
 * so that the report can be added up again by hand.
 */
#include "report/paper_parts.h"

#include <string.h>

#include <padside/model/money.h>

static const char *const kind_words[WORK_KIND_COUNT] = {
	[WORK_LABOUR] = "labour", [WORK_PART] = "parts",
	[WORK_REFRIGERANT] = "refrigerant", [WORK_FEE] = "fees",
};

/* Amounts in the table carry no currency: the column's head names it. */
static const char *bare(const struct paper *paper, cents amount)
{
	char out[MONEY_SIZE];

	money_format(amount, out, sizeof out);
	return document_keep(paper->document, out);
}

static void add_sum(const struct paper *paper, enum row_weight weight, const char *label,
                    cents amount)
{
	document_row(paper->document,
	             (const char *const[]){ label, "", "", bare(paper, amount) }, weight);
}

/* ---- Lines ---- */

/* Labour that is sold by the hour: "Labour, hours" where it was not one. */
static const char *words_of(const struct paper *paper, const struct work_line *line)
{
	int stem;
	bool is_hours = strcmp(money_line_unit(line, &stem), "hour") == 0 && line->description[stem];

	return is_hours && line->quantity != 1000
		? document_format(paper->document, "%.*s, hours", stem, line->description)
		: line->description;
}

static void add_line(const struct paper *paper, const struct work_line *line)
{
	char quantity[MONEY_SIZE];
	cents amount;

	money_format_quantity(line->quantity, quantity, sizeof quantity);
	if (money_line_amount(line, &amount) != STATUS_OK)
		return;
	const char *description = line->no_charge
		? document_format(paper->document, "%s (no charge, worth %s)", words_of(paper, line),
		                  bare(paper, amount))
		: words_of(paper, line);
	document_row(paper->document,
	             (const char *const[]){ description, quantity, bare(paper, line->unit_price),
	                                    bare(paper, line->no_charge ? 0 : amount) }, ROW_PLAIN);
}

/* A task of the tune-up list has no price: it stands under the work, not on the bill. */
static bool is_billed(const struct work_line *line)
{
	return line->kind != WORK_LABOUR || line->unit_price != 0;
}

static bool has_billed(const struct paper *paper, enum work_kind kind)
{
	for (size_t i = 0; i < paper->call->work_count; i++)
		if (paper->call->work[i].kind == kind && is_billed(&paper->call->work[i]))
			return true;
	return false;
}

/* The lines of a kind, and their sum where there are other kinds. */
static void add_class(const struct paper *paper, enum work_kind kind,
                      const struct money_class *class, bool with_subtotal)
{
	for (size_t i = 0; i < paper->call->work_count; i++)
		if (paper->call->work[i].kind == kind && is_billed(&paper->call->work[i]))
			add_line(paper, &paper->call->work[i]);
	if (with_subtotal && has_billed(paper, kind))
		add_sum(paper, ROW_SUBTOTAL,
		        document_format(paper->document, "Subtotal, %s", kind_words[kind]), class->list);
}

/* Kinds in the order in which the technician wrote them. */
static void add_lines(const struct paper *paper, const struct money_total *total)
{
	const struct call *call = paper->call;
	bool told[WORK_KIND_COUNT] = { false };
	int charged = 0;

	for (int kind = 0; kind < WORK_KIND_COUNT; kind++)
		charged += has_billed(paper, (enum work_kind)kind);
	for (size_t i = 0; i < call->work_count; i++) {
		enum work_kind kind = call->work[i].kind;
		if (!told[kind])
			add_class(paper, kind, &total->classes[kind], charged > 1);
		told[kind] = true;
	}
}

/* ---- Sums ---- */

/* "Tax on parts, 8.25 % of 46.50". */
static void add_share(const struct paper *paper, const char *what, enum work_kind kind,
                      millipercent rate, cents of, cents amount)
{
	char percent[MONEY_SIZE];

	money_format_percent(rate, percent, sizeof percent);
	add_sum(paper, ROW_TOTAL,
	        document_format(paper->document, "%s %s, %s %% of %s", what, kind_words[kind], percent,
	                        bare(paper, of)), amount);
}

static void add_shares(const struct paper *paper, const struct money_total *total)
{
	const struct billing *billing = &paper->call->billing;

	for (int kind = 0; kind < WORK_KIND_COUNT && billing->discount != 0; kind++) {
		const struct money_class *class = &total->classes[kind];
		if (has_billed(paper, (enum work_kind)kind))
			add_share(paper, "Discount on", (enum work_kind)kind, billing->discount, class->list,
			          -class->discount);
	}
	for (int kind = 0; kind < WORK_KIND_COUNT; kind++) {
		const struct money_class *class = &total->classes[kind];
		/* No tax on nothing: what was given. */
		if (has_billed(paper, (enum work_kind)kind) && billing->tax[kind] != 0 &&
		    class->charged != 0)
			add_share(paper, "Tax on", (enum work_kind)kind, billing->tax[kind], class->charged,
			          class->tax);
	}
}

static void add_totals(const struct paper *paper, const struct money_total *total)
{
	if (total->discount != 0 || total->tax != 0)
		add_sum(paper, ROW_TOTAL, "Sum of the lines", total->list);
	add_shares(paper, total);
	add_sum(paper, ROW_TOTAL, "Total", total->total);
	if (total->deposit == 0)
		return;
	add_sum(paper, ROW_TOTAL, "Deposit, already paid", -total->deposit);
	add_sum(paper, ROW_TOTAL, total->balance < 0 ? "Balance in your favour" : "Balance to pay",
	        total->balance < 0 ? -total->balance : total->balance);
}

bool paper_has_bill(const struct paper *paper)
{
	bool any = paper->call->billing.deposit != 0;

	for (int kind = 0; kind < WORK_KIND_COUNT; kind++)
		any = any || has_billed(paper, (enum work_kind)kind);
	return any && paper->call->work_count > 0;
}

void paper_add_money(const struct paper *paper)
{
	const char *currency = paper->input->currency ? paper->input->currency : "";
	struct money_total total;

	if (!paper_has_bill(paper))
		return;
	document_heading(paper->document, 2, "What it costs");
	if (money_total(paper->call, &total) != STATUS_OK) {
		document_paragraph(paper->document, TONE_PLAIN,
			document_format(paper->document, "Not added up: %s.",
			                status_sentence(STATUS_MONEY_TOO_LARGE)));
		return;
	}
	struct column columns[] = {
		{ .header = "what" }, { .header = "quantity", .is_number = true },
		{ .header = "each", .is_number = true },
		{ .header = *currency ? document_format(paper->document, "amount, %s", currency) : "amount",
		  .is_number = true, .is_value = true, .unit = currency },
		{ .header = NULL },
	};
	document_table(paper->document, "Cost", columns);
	add_lines(paper, &total);
	add_totals(paper, &total);
}
