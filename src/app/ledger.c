/*
 * The refrigerant ledger, gathered from the book.
 */
#include <padside/app/ledger.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

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
		status = store_made_up(store, &any_system, &ledger->made_up, &ledger->made_up_count, error);
	if (status != STATUS_OK)
		ledger_done(ledger);
	return status;
}

double ledger_share(const struct made_up_line *line)
{
	return line->charge_oz > 0 ? 100 * line->made_up_oz / line->charge_oz : NAN;
}

const char *ledger_by_key(enum ledger_by by)
{
	return by_keys[by];
}
