/*
 * Bringing another truck's book into this one.
 *
 * Rows are the same when their uid is.  Of a row that both have, the one that
 * was changed later stands; of a reading, the one whose change is later in the
 * trail, and the trails of both are kept.  A line that one book took out after
 * the other last changed it stays out.  Settings and prices are each truck's
 * own.  The statements run in the order of the references, so that each finds
 * the rows of this book that it refers to.
 */
#include "store/parts.h"

#include <stddef.h>
#include <string.h>
#include <sys/stat.h>

/* Adds what `sql` changed to a count of the report. */
struct merge_step {
	const char *sql; /* takes nothing; the other book is `other` */
	size_t count;    /* where it counts, within struct merge_report */
};

#define COUNT(field) offsetof(struct merge_report, field)

/* Rows of ours that the other book changed later. */
#define NEWER(table) " FROM other." table " AS t WHERE t.uid = " table ".uid AND t.changed_at > " table ".changed_at"

/* Rows of theirs that we do not have. */
#define MISSING(table) " WHERE NOT EXISTS (SELECT 1 FROM main." table " AS m WHERE m.uid = t.uid)"

/* Lines of theirs that we do not have and did not take out. */
#define MISSING_LINE(table) MISSING(table) \
	" AND NOT EXISTS (SELECT 1 FROM main.removed_line AS r WHERE r.uid = t.uid " \
	"AND r.removed_at >= t.changed_at)"

/* Our row of the call, customer, … that their row `t` refers to. */
#define OURS(table) \
	"(SELECT m.id FROM main." table " AS m JOIN other." table " AS o ON o.uid = m.uid " \
	"WHERE o.id = t." table ")"

#define REMOVE(table) \
	"DELETE FROM main." table " WHERE EXISTS (SELECT 1 FROM other.removed_line AS t " \
	"WHERE t.uid = " table ".uid AND t.removed_at >= " table ".changed_at)"

#define NEW_COLUMNS \
	"planned_at, access_note, job_number, technician, licence, certification, arrived_at, left_at, " \
	"authorised_by, authorised_at, authorised_amount, accepted_by, accepted_at, payment_terms, " \
	"billed_at"

static const struct merge_step people_and_calls[] = {
	{ "INSERT INTO main.customer (uid, name, phone, email, changed_at) "
	  "SELECT uid, name, phone, email, changed_at FROM other.customer AS t" MISSING("customer"),
	  COUNT(customers) },
	{ "UPDATE main.customer SET name = t.name, phone = t.phone, email = t.email, "
	  "changed_at = t.changed_at" NEWER("customer"), COUNT(lines) },
	{ "INSERT INTO main.site (uid, customer, address, changed_at) "
	  "SELECT uid, " OURS("customer") ", address, changed_at FROM other.site AS t" MISSING("site"),
	  COUNT(sites) },
	{ "UPDATE main.site SET customer = " OURS("customer") ", address = t.address, "
	  "changed_at = t.changed_at" NEWER("site"), COUNT(lines) },
	{ "INSERT INTO main.system (uid, site, name, changed_at) "
	  "SELECT uid, " OURS("site") ", name, changed_at FROM other.system AS t" MISSING("system"),
	  COUNT(systems) },
	{ "UPDATE main.system SET site = " OURS("site") ", name = t.name, changed_at = t.changed_at"
	  NEWER("system"), COUNT(lines) },
	{ "INSERT INTO main.call (uid, customer, site, system, complaint, summary, office_note, "
	  "opened_at, closed_at, unsafe_at, tax_labour, tax_part, tax_refrigerant, tax_fee, discount, "
	  "deposit, cooling_hours, energy_rate, found_line, done_line, changed_at, " NEW_COLUMNS ") "
	  "SELECT uid, " OURS("customer") ", " OURS("site") ", " OURS("system") ", complaint, summary, "
	  "office_note, opened_at, closed_at, unsafe_at, tax_labour, tax_part, tax_refrigerant, tax_fee, "
	  "discount, deposit, cooling_hours, energy_rate, found_line, done_line, changed_at, " NEW_COLUMNS
	  " FROM other.call AS t" MISSING("call"), COUNT(calls) },
	{ "UPDATE main.call SET customer = " OURS("customer") ", site = " OURS("site") ", "
	  "system = " OURS("system") ", complaint = t.complaint, summary = t.summary, "
	  "office_note = t.office_note, opened_at = t.opened_at, closed_at = t.closed_at, "
	  "unsafe_at = t.unsafe_at, tax_labour = t.tax_labour, tax_part = t.tax_part, "
	  "tax_refrigerant = t.tax_refrigerant, tax_fee = t.tax_fee, discount = t.discount, "
	  "deposit = t.deposit, cooling_hours = t.cooling_hours, energy_rate = t.energy_rate, "
	  "found_line = t.found_line, done_line = t.done_line, changed_at = t.changed_at, "
	  "(" NEW_COLUMNS ") = (t.planned_at, t.access_note, t.job_number, t.technician, t.licence, "
	  "t.certification, t.arrived_at, t.left_at, t.authorised_by, t.authorised_at, "
	  "t.authorised_amount, t.accepted_by, t.accepted_at, t.payment_terms, t.billed_at)" NEWER("call"),
	  COUNT(lines) },
};

static const struct merge_step lists[] = {
	{ REMOVE("charge_entry"), COUNT(removed) },
	{ REMOVE("work_line"), COUNT(removed) },
	{ REMOVE("offer"), COUNT(removed) },
	{ REMOVE("watch_item"), COUNT(removed) },
	{ REMOVE("judgement"), COUNT(removed) },
	{ REMOVE("tightness"), COUNT(removed) },
	{ REMOVE("cylinder"), COUNT(removed) },
	{ "INSERT INTO main.charge_entry (uid, call, position, at, added, recovered, cylinder, note, "
	  "changed_at) SELECT uid, " OURS("call") ", position, at, added, recovered, cylinder, note, "
	  "changed_at FROM other.charge_entry AS t" MISSING_LINE("charge_entry"), COUNT(lines) },
	{ "UPDATE main.charge_entry SET position = t.position, at = t.at, added = t.added, "
	  "recovered = t.recovered, cylinder = t.cylinder, note = t.note, changed_at = t.changed_at"
	  NEWER("charge_entry"), COUNT(lines) },
	{ "INSERT INTO main.work_line (uid, call, position, kind, description, quantity, unit_price, "
	  "no_charge, note, changed_at) SELECT uid, " OURS("call") ", position, kind, description, "
	  "quantity, unit_price, no_charge, note, changed_at FROM other.work_line AS t"
	  MISSING_LINE("work_line"), COUNT(lines) },
	{ "UPDATE main.work_line SET position = t.position, kind = t.kind, "
	  "description = t.description, quantity = t.quantity, unit_price = t.unit_price, "
	  "no_charge = t.no_charge, note = t.note, changed_at = t.changed_at" NEWER("work_line"),
	  COUNT(lines) },
	{ "INSERT INTO main.offer (uid, call, position, title, price_low, price_high, years_low, "
	  "years_high, seer, decision, decided_by, decided_at, note, changed_at) SELECT uid, "
	  OURS("call") ", position, title, price_low, price_high, years_low, years_high, seer, decision, "
	  "decided_by, decided_at, note, changed_at FROM other.offer AS t" MISSING_LINE("offer"),
	  COUNT(lines) },
	{ "UPDATE main.offer SET position = t.position, title = t.title, price_low = t.price_low, "
	  "price_high = t.price_high, years_low = t.years_low, years_high = t.years_high, "
	  "seer = t.seer, decision = t.decision, decided_by = t.decided_by, decided_at = t.decided_at, "
	  "note = t.note, changed_at = t.changed_at" NEWER("offer"), COUNT(lines) },
	{ "INSERT INTO main.watch_item (uid, call, position, fault, text, noted_at, closed_at, "
	  "changed_at) SELECT uid, " OURS("call") ", position, fault, text, noted_at, closed_at, "
	  "changed_at FROM other.watch_item AS t" MISSING_LINE("watch_item"), COUNT(lines) },
	{ "UPDATE main.watch_item SET position = t.position, fault = t.fault, text = t.text, "
	  "noted_at = t.noted_at, closed_at = t.closed_at, changed_at = t.changed_at"
	  NEWER("watch_item"), COUNT(lines) },
	{ "INSERT INTO main.judgement (uid, call, position, fault, verdict, why, \"by\", at, changed_at) "
	  "SELECT uid, " OURS("call") ", position, fault, verdict, why, \"by\", at, changed_at "
	  "FROM other.judgement AS t" MISSING_LINE("judgement"), COUNT(lines) },
	{ "UPDATE main.judgement SET position = t.position, fault = t.fault, verdict = t.verdict, why = t.why, \"by\" = t.\"by\", at = t.at, "
	  "changed_at = t.changed_at" NEWER("judgement"), COUNT(lines) },
	{ "INSERT INTO main.tightness (uid, call, position, kind, at, pressure, temperature, microns, amount, note, changed_at) "
	  "SELECT uid, " OURS("call") ", position, kind, at, pressure, temperature, microns, amount, note, changed_at "
	  "FROM other.tightness AS t" MISSING_LINE("tightness"), COUNT(lines) },
	{ "UPDATE main.tightness SET position = t.position, kind = t.kind, at = t.at, pressure = t.pressure, temperature = t.temperature, microns = t.microns, amount = t.amount, note = t.note, "
	  "changed_at = t.changed_at" NEWER("tightness"), COUNT(lines) },
	{ "INSERT INTO main.cylinder (uid, call, position, name, refrigerant, water_capacity, tare, weight, test_date, changed_at) "
	  "SELECT uid, " OURS("call") ", position, name, refrigerant, water_capacity, tare, weight, test_date, changed_at "
	  "FROM other.cylinder AS t" MISSING_LINE("cylinder"), COUNT(lines) },
	{ "UPDATE main.cylinder SET position = t.position, name = t.name, refrigerant = t.refrigerant, water_capacity = t.water_capacity, tare = t.tare, weight = t.weight, test_date = t.test_date, "
	  "changed_at = t.changed_at" NEWER("cylinder"), COUNT(lines) },
};

/* Nothing that these change is counted. */
static const char *const charge_readings_before[] = {
	"DELETE FROM main.charge_reading WHERE entry IN (SELECT m.id FROM main.charge_entry AS m "
	"JOIN other.charge_entry AS t ON t.uid = m.uid WHERE t.changed_at > m.changed_at)",
};

static const char *const after_lists[] = {
	"INSERT OR IGNORE INTO main.charge_reading (entry, key, number) SELECT m.id, key, number "
	"FROM other.charge_reading AS c JOIN other.charge_entry AS t ON t.id = c.entry "
	"JOIN main.charge_entry AS m ON m.uid = t.uid AND m.changed_at = t.changed_at "
	"WHERE NOT EXISTS (SELECT 1 FROM main.charge_reading WHERE entry = m.id AND key = c.key)",
	"INSERT INTO main.removed_line (uid, removed_at) SELECT uid, removed_at "
	"FROM other.removed_line AS t WHERE true ON CONFLICT (uid) DO UPDATE "
	"SET removed_at = max(removed_at, excluded.removed_at)",
	/* What one book took out and the other changed later is there, and not removed. */
	"DELETE FROM main.removed_line WHERE EXISTS (SELECT 1 FROM main.charge_entry AS m "
	"WHERE m.uid = removed_line.uid) OR EXISTS (SELECT 1 FROM main.work_line AS m "
	"WHERE m.uid = removed_line.uid) OR EXISTS (SELECT 1 FROM main.offer AS m "
	"WHERE m.uid = removed_line.uid) OR EXISTS (SELECT 1 FROM main.watch_item AS m "
	"WHERE m.uid = removed_line.uid) OR EXISTS (SELECT 1 FROM main.judgement AS m "
	"WHERE m.uid = removed_line.uid) OR EXISTS (SELECT 1 FROM main.tightness AS m "
	"WHERE m.uid = removed_line.uid) OR EXISTS (SELECT 1 FROM main.cylinder AS m "
	"WHERE m.uid = removed_line.uid)",
};

static enum status run_steps(struct store *store, const struct merge_step *steps, size_t count,
                             struct merge_report *report, struct error *error)
{
	enum status status = STATUS_OK;

	for (size_t i = 0; i < count && status == STATUS_OK; i++) {
		status = book_run(store, error, steps[i].sql, "");
		if (status == STATUS_OK)
			*(int *)((char *)report + steps[i].count) += sqlite3_changes(store->db);
	}
	return status;
}

static enum status run_all(struct store *store, const char *const *sql, size_t count,
                           struct error *error)
{
	enum status status = STATUS_OK;

	for (size_t i = 0; i < count && status == STATUS_OK; i++)
		status = book_run(store, error, sql[i], "");
	return status;
}

/* ---- Readings ---- */

/*
 * Readings of a call (?1 ours, ?2 theirs) whose last change is theirs.  Time
 * first, then uid, so that both books come to the same answer.
 */
#define THEIRS_IS_LATER \
	"(stage, key) IN (SELECT t.stage, t.key FROM (SELECT stage, key, " \
	"max(changed_at || uid) AS last FROM other.reading_change WHERE call = ?2 " \
	"GROUP BY stage, key) AS t LEFT JOIN (SELECT stage, key, max(changed_at || uid) AS last " \
	"FROM main.reading_change WHERE call = ?1 GROUP BY stage, key) AS m " \
	"ON m.stage = t.stage AND m.key = t.key WHERE m.last IS NULL OR t.last > m.last)"

static enum status merge_readings(struct store *store, int64_t ours, int64_t theirs,
                                  struct merge_report *report, struct error *error)
{
	static const char drop[] =
		"DELETE FROM main.call_reading WHERE call = ?1 AND " THEIRS_IS_LATER;
	static const char bring[] =
		"INSERT INTO main.call_reading (call, stage, key, state, number, word, taken_at) "
		"SELECT ?1, stage, key, state, number, word, taken_at FROM other.call_reading "
		"WHERE call = ?2 AND " THEIRS_IS_LATER;
	static const char trail[] =
		"INSERT INTO main.reading_change (uid, call, stage, key, old_value, new_value, changed_at) "
		"SELECT uid, ?1, stage, key, old_value, new_value, changed_at "
		"FROM other.reading_change AS t WHERE call = ?2 "
		"AND NOT EXISTS (SELECT 1 FROM main.reading_change AS m WHERE m.uid = t.uid)";
	enum status status = book_run(store, error, drop, "ii", ours, theirs);
	int dropped = sqlite3_changes(store->db);

	if (status == STATUS_OK)
		status = book_run(store, error, bring, "ii", ours, theirs);
	if (status == STATUS_OK) {
		int brought = sqlite3_changes(store->db);
		report->readings += brought > dropped ? brought : dropped;
		status = book_run(store, error, trail, "ii", ours, theirs);
	}
	if (status == STATUS_OK)
		report->changes += sqlite3_changes(store->db);
	return status;
}

static enum status merge_all_readings(struct store *store, struct merge_report *report,
                                      struct error *error)
{
	static const char sql[] =
		"SELECT m.id, t.id FROM other.call AS t JOIN main.call AS m ON m.uid = t.uid";
	sqlite3_stmt *row = book_query(store, sql, "");

	while (book_next(store, row)) {
		enum status status = merge_readings(store, sqlite3_column_int64(row, 0),
		                                    sqlite3_column_int64(row, 1), report, error);
		if (status != STATUS_OK) {
			book_stop(row);
			return status;
		}
	}
	return book_outcome(store, error);
}

static enum status refresh_searches(struct store *store, const struct merge_report *report,
                                    struct error *error)
{
	static const char sql[] =
		"SELECT m.id FROM other.customer AS t JOIN main.customer AS m ON m.uid = t.uid";
	static const struct merge_report nothing = { 0 };

	if (memcmp(report, &nothing, sizeof nothing) == 0)
		return STATUS_OK;
	sqlite3_stmt *row = book_query(store, sql, "");
	while (book_next(store, row)) {
		enum status status = people_refresh_search(store, sqlite3_column_int64(row, 0), error);
		if (status != STATUS_OK) {
			book_stop(row);
			return status;
		}
	}
	return book_outcome(store, error);
}

/* ---- The whole ---- */

#define LENGTH(array) (sizeof (array) / sizeof *(array))

static enum status merge_rows(struct store *store, struct merge_report *report,
                              struct error *error)
{
	enum status status = run_steps(store, people_and_calls, LENGTH(people_and_calls), report, error);

	if (status == STATUS_OK)
		status = merge_all_readings(store, report, error);
	if (status == STATUS_OK)
		status = run_all(store, charge_readings_before, LENGTH(charge_readings_before), error);
	if (status == STATUS_OK)
		status = run_steps(store, lists, LENGTH(lists), report, error);
	if (status == STATUS_OK)
		status = run_all(store, after_lists, LENGTH(after_lists), error);
	if (status == STATUS_OK)
		status = refresh_searches(store, report, error);
	return status;
}

static bool is_same_file(const char *a, const char *b)
{
	struct stat one, other;

	return stat(a, &one) == 0 && stat(b, &other) == 0 && one.st_dev == other.st_dev &&
	       one.st_ino == other.st_ino;
}

/* Opens the other book to see that it is one, and of this version; then puts it beside ours. */
static enum status attach(struct store *store, const char *path, struct error *error)
{
	static const char sql[] = "ATTACH DATABASE ?1 AS other";
	struct store *other;
	enum status status = store_open(path, STORE_READ_ONLY, &store->clock, &other, error);

	if (status != STATUS_OK)
		return status;
	status = book_run(store, error, sql, "s", other->uri);
	store_close(other);
	return status;
}

enum status store_merge(struct store *store, const char *other, struct merge_report *report,
                        struct error *error)
{
	static const char detach[] = "DETACH DATABASE other";
	struct error ignored;

	memset(report, 0, sizeof *report);
	if (is_same_file(store->path, other))
		return error_set(error, STATUS_REFUSED,
		                 "%s is this book itself; nothing was changed; name another one", other);
	enum status status = attach(store, other, error);
	if (status != STATUS_OK)
		return status;
	status = store_begin(store, error);
	if (status == STATUS_OK)
		status = store_end(store, merge_rows(store, report, error), error);
	book_run(store, &ignored, detach, "");
	if (status != STATUS_OK)
		memset(report, 0, sizeof *report);
	return status;
}
