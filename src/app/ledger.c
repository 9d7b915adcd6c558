/*
 * The refrigerant ledger, gathered from the book.
 */
#include <padside/app/ledger.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/calc/tightness.h>

static const char *const by_keys[] = {
	[LEDGER_BY_SYSTEM] = "system", [LEDGER_BY_YEAR] = "year", [LEDGER_BY_CYLINDER] = "cylinder",
};

/* A log that only notes readings, such as the first of a call, moves nothing. */
static void leave_out_unmoved(struct ledger_line *lines, size_t *count)
{
	size_t kept = 0;

	for (size_t i = 0; i < *count; i++)
		if (lines[i].added_oz > 0 || lines[i].recovered_oz > 0)
			lines[kept++] = lines[i];
	*count = kept;
}

static enum status load_totals(struct store *store, enum ledger_by by, struct ledger *ledger,
                               struct error *error)
{
	enum status status = store_ledger(store, by, &ledger->lines[by], &ledger->counts[by], error);

	leave_out_unmoved(ledger->lines[by], &ledger->counts[by]);
	return status;
}

void ledger_init(struct ledger *ledger)
{
	memset(ledger, 0, sizeof *ledger);
}

void ledger_done(struct ledger *ledger)
{
	for (int by = 0; by < LEDGER_KINDS; by++)
		free(ledger->lines[by]);
	free(ledger->moves);
	free(ledger->made_up);
	ledger_init(ledger);
}

enum status ledger_load(struct store *store, struct ledger *ledger, struct error *error)
{
	const struct uid any_system = { .text = "" };
	enum status status = STATUS_OK;

	ledger_done(ledger);
	for (int by = 0; by < LEDGER_KINDS && status == STATUS_OK; by++)
		status = load_totals(store, (enum ledger_by)by, ledger, error);
	if (status == STATUS_OK)
		status = store_moves(store, &ledger->moves, &ledger->move_count, error);
	if (status == STATUS_OK)
		status = store_made_up(store, &any_system, &ledger->made_up, &ledger->made_up_count, error);
	if (status != STATUS_OK)
		ledger_done(ledger);
	return status;
}

double ledger_line_set(const struct made_up_line *line)
{
	double whole;

	/* What is not known is below zero there, and refused. */
	if (tightness_weigh_in(line->charge_oz, line->line_ft, line->precharged_ft, line->oz_per_ft,
	                       &whole) != STATUS_OK)
		return NAN;
	return whole - line->charge_oz;
}

double ledger_share(const struct made_up_line *line)
{
	double line_set = ledger_line_set(line);
	double charge = line->charge_oz + (isnan(line_set) ? 0 : line_set);

	return line->charge_oz > 0 ? 100 * line->made_up_oz / charge : NAN;
}

const char *ledger_marks(const struct made_up_line *line)
{
	if (line->leak_found)
		return line->after_repair ? "leak found, leak tested or evacuated" : "leak found";
	return line->after_repair ? "leak tested or evacuated" : "";
}

const char *ledger_by_key(enum ledger_by by)
{
	return by_keys[by];
}

const char *ledger_call_number(const struct moved_line *line, char number[NAME_SIZE])
{
	enum { CALL_NUMBER_LENGTH = 13 };

	if (*line->number)
		return line->number;
	snprintf(number, NAME_SIZE, "%.*s", CALL_NUMBER_LENGTH, line->call);
	return number;
}
