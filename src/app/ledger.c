/*
 * The refrigerant ledger, gathered from the book.
 */
#include <padside/app/ledger.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "app/gather.h"

static const char *const by_keys[] = {
	[LEDGER_BY_SYSTEM] = "system", [LEDGER_BY_YEAR] = "year", [LEDGER_BY_CYLINDER] = "cylinder",
};

/* A log that only notes readings, such as the first of a call, moves nothing. */
static bool take_line(const struct ledger_line *line, void *context)
{
	bool is_moved = line->added_oz > 0 || line->recovered_oz > 0;

	return !is_moved || gather_add(context, line);
}

static bool take_made_up(const struct made_up_line *line, void *context)
{
	return gather_add(context, line);
}

static enum status check_memory(enum status status, const struct gather *gather,
                                struct error *error)
{
	if (status == STATUS_OK && gather->failed)
		return error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
	return status;
}

static enum status load_totals(struct store *store, enum ledger_by by, struct ledger *ledger,
                               struct error *error)
{
	struct gather gather = { .size = sizeof *ledger->lines[by] };
	enum status status = store_ledger(store, by, take_line, &gather, error);

	ledger->lines[by] = gather.items;
	ledger->counts[by] = gather.count;
	return check_memory(status, &gather, error);
}

static enum status load_made_up(struct store *store, struct ledger *ledger, struct error *error)
{
	const struct uid any_system = { .text = "" };
	struct gather gather = { .size = sizeof *ledger->made_up };
	enum status status = store_made_up(store, &any_system, take_made_up, &gather, error);

	ledger->made_up = gather.items;
	ledger->made_up_count = gather.count;
	return check_memory(status, &gather, error);
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
	enum status status = STATUS_OK;

	ledger_done(ledger);
	for (int by = 0; by < LEDGER_KINDS && status == STATUS_OK; by++)
		status = load_totals(store, (enum ledger_by)by, ledger, error);
	if (status == STATUS_OK)
		status = load_made_up(store, ledger, error);
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
