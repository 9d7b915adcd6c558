/*
 * Customers, sites and units, and the words by which they are found.
 *
 * What a customer is found by (customer_search) is worked out from a handful of
 * rows, however many calls there are: the customer, the sites of theirs and of
 * their calls, the units there.  It is brought up to date once, at the end of
 * the transaction that touched any of these.
 */
#include "store/parts.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/trail.h"

enum status people_complete(struct store *store, struct call *call, struct error *error)
{
	static const char site_of_system[] =
		"SELECT site.uid FROM system JOIN site ON site.id = system.site WHERE system.uid = ?1";
	static const char customer_of_site[] =
		"SELECT customer.uid FROM site JOIN customer ON customer.id = site.customer "
		"WHERE site.uid = ?1";
	sqlite3_stmt *row;

	if (!uid_is_none(&call->system.uid) && uid_is_none(&call->site.uid)) {
		row = book_query(store, site_of_system, "s", call->system.uid.text);
		if (book_next(store, row)) {
			call->site.uid = row_uid(row, 0);
			book_stop(row);
		}
		if (store->code != SQLITE_OK)
			return book_outcome(store, error);
	}
	if (!uid_is_none(&call->site.uid) && uid_is_none(&call->customer.uid)) {
		row = book_query(store, customer_of_site, "s", call->site.uid.text);
		if (book_next(store, row)) {
			call->customer.uid = row_uid(row, 0);
			book_stop(row);
		}
		return book_outcome(store, error);
	}
	return STATUS_OK;
}

/* ---- What was touched ---- */

static int compare_ids(const void *a, const void *b)
{
	int64_t one = *(const int64_t *)a, other = *(const int64_t *)b;

	return (one > other) - (one < other);
}

/* Each id once. */
static void make_unique(struct dirty *dirty)
{
	size_t kept = 0;

	if (dirty->count > 0)
		qsort(dirty->ids, dirty->count, sizeof *dirty->ids, compare_ids);
	for (size_t i = 0; i < dirty->count; i++)
		if (kept == 0 || dirty->ids[kept - 1] != dirty->ids[i])
			dirty->ids[kept++] = dirty->ids[i];
	dirty->count = kept;
}

/* ---- The nameplate of a unit ---- */

/* What was last read of a field on the unit's calls: the newest call that has it. */
static enum status latest_reading(struct store *store, int64_t system, enum reading reading,
                                  char *text, size_t size, struct error *error)
{
	static const char sql[] =
		"SELECT id FROM call WHERE system = ?1 ORDER BY opened_at DESC, uid DESC LIMIT 8";
	int64_t calls[8];
	int count = 0, field;
	enum status status = field_of_reading(store, STAGE_AS_FOUND, reading, false, &field, error);

	*text = '\0';
	if (status != STATUS_OK || field == 0)
		return status;
	sqlite3_stmt *row = book_query(store, sql, "i", system);
	while (book_next(store, row))
		calls[count++] = sqlite3_column_int64(row, 0);
	status = book_outcome(store, error);
	for (int i = 0; i < count && !*text && status == STATUS_OK; i++)
		status = trail_get(store, calls[i], field, text, size, error);
	return status;
}

static enum status refresh_system(struct store *store, int64_t system, struct error *error)
{
	static const char sql[] =
		"UPDATE system SET model = ?2, serial = ?3 WHERE id = ?1 "
		"AND (model <> ?2 OR serial <> ?3) RETURNING site";
	static const char of_site[] =
		"SELECT customer FROM site WHERE id = ?1 UNION SELECT customer FROM "
		"customer_site WHERE site = ?1";
	char model[VALUE_TEXT_SIZE], serial[VALUE_TEXT_SIZE];
	enum status status = latest_reading(store, system, READING_MODEL, model, sizeof model, error);
	int64_t site = 0;

	if (status == STATUS_OK)
		status = latest_reading(store, system, READING_SERIAL, serial, sizeof serial, error);
	if (status != STATUS_OK)
		return status;
	sqlite3_stmt *row = book_query(store, sql, "iss", system, model, serial);
	while (book_next(store, row))
		site = sqlite3_column_int64(row, 0);
	status = book_outcome(store, error);
	row = site && status == STATUS_OK ? book_query(store, of_site, "i", site) : NULL;
	while (row && book_next(store, row))
		people_dirty_customer(store, sqlite3_column_int64(row, 0));
	return status == STATUS_OK ? book_outcome(store, error) : status;
}

/* ---- What a customer is found by ---- */

/*
 * Each field begins behind two line ends, by which short words are found.  A
 * phone number is found with its dashes and without.  Whoever was visited last
 * is found first; who was taken out and has no call is not found.
 */
#define WORDS \
	"char(10, 10) || name || char(10, 10) || phone || char(10, 10) || " \
	"replace(replace(replace(replace(replace(replace(replace(phone, '-', ''), ' ', ''), '(', " \
	"''), ')', ''), '.', ''), '/', ''), '+', '') || char(10, 10) || email || char(10, 10) || " \
	"coalesce((SELECT group_concat(address, char(10, 10)) FROM site WHERE id IN " SITES \
	"), '') || " \
	"char(10, 10) || coalesce((SELECT group_concat(model || char(10, 10) || serial, char(10, " \
	"10)) FROM system WHERE site IN " SITES "), '')"
#define SITES \
	"(SELECT id FROM site WHERE site.customer = customer.id UNION " \
	"SELECT site FROM customer_site WHERE customer_site.customer = customer.id)"
#define PLACE \
	"coalesce((SELECT CAST(strftime('%s', max(opened_at)) AS INTEGER) FROM call " \
	"WHERE call.customer = customer.id), 0) * 536870912 + id"
#define IS_FOUND \
	"(NOT EXISTS (SELECT 1 FROM removed WHERE thing = customer.id) " \
	"OR EXISTS (SELECT 1 FROM call WHERE call.customer = customer.id)) " \
	"AND NOT EXISTS (SELECT 1 FROM joined WHERE thing = customer.id)"

static enum status refresh_customer(struct store *store, int64_t customer, struct error *error)
{
	static const char same[] =
		"SELECT 1 FROM customer JOIN customer_search ON customer_search.rowid = found_as "
		"WHERE id = ?1 AND found_as = " PLACE " AND words = " WORDS " AND " IS_FOUND;
	static const char take_out[] =
		"DELETE FROM customer_search WHERE rowid = (SELECT found_as FROM customer WHERE id = ?1)";
	static const char place[] = "UPDATE customer SET found_as = " PLACE " WHERE id = ?1";
	static const char put_in[] =
		"INSERT INTO customer_search (rowid, words) SELECT found_as, " WORDS
		" FROM customer WHERE id = ?1 AND " IS_FOUND;
	sqlite3_stmt *row = book_query(store, same, "i", customer);

	bool is_same = book_next(store, row);
	book_stop(row);
	if (is_same || store->code != SQLITE_OK)
		return book_outcome(store, error);
	enum status status = book_run(store, error, take_out, "i", customer);
	if (status == STATUS_OK)
		status = book_run(store, error, place, "i", customer);
	return status == STATUS_OK ? book_run(store, error, put_in, "i", customer) : status;
}

enum status people_finish(struct store *store, struct error *error)
{
	struct dirty *systems = &store->dirty_systems, *customers = &store->dirty_customers;
	enum status status = STATUS_OK;

	make_unique(systems);
	for (size_t i = 0; i < systems->count && status == STATUS_OK; i++)
		status = refresh_system(store, systems->ids[i], error);
	make_unique(customers);
	for (size_t i = 0; i < customers->count && status == STATUS_OK; i++)
		status = refresh_customer(store, customers->ids[i], error);
	if (status == STATUS_OK && (systems->failed || customers->failed))
		status = book_error(store, STATUS_NO_MEMORY, error);
	systems->count = customers->count = 0;
	return status;
}

/* Whether every customer is found by what is theirs (verify). */
enum status people_check(struct store *store, int *wrong, struct error *error)
{
	static const char sql[] =
		"SELECT count(*) FROM customer LEFT JOIN customer_search ON customer_search.rowid = "
		"found_as WHERE " IS_FOUND " AND (words IS NULL OR words <> " WORDS " OR found_as <> " PLACE
		")";
	sqlite3_stmt *row = book_query(store, sql, "");

	while (book_next(store, row))
		*wrong = sqlite3_column_int(row, 0);
	return book_outcome(store, error);
}

/* ---- Taking out what nobody needs ---- */

static enum status forget_if(struct store *store, const char *unused, const struct uid *uid,
                             struct error *error)
{
	struct thing thing;
	bool changed;
	int field;
	enum status status = thing_find(store, uid, &thing, error);

	if (status != STATUS_OK)
		return status;
	sqlite3_stmt *row = book_query(store, unused, "i", thing.id);
	bool is_used = book_next(store, row);
	book_stop(row);
	if (is_used || store->code != SQLITE_OK)
		return book_outcome(store, error);
	status = field_of_mark(store, MARK_REMOVED, true, &field, error);
	if (status == STATUS_OK)
		status = trail_set(store, &thing, field, "1", WALL_TIME_NONE, &changed, error);
	return status == STATUS_OK ? fold_thing(store, &thing, NULL, error) : status;
}

enum status people_forget_unused(struct store *store, const struct call *call,
                                 struct error *error)
{
	static const char of_system[] = "SELECT 1 FROM call WHERE system = ?1";
	static const char of_site[] =
		"SELECT 1 FROM call WHERE site = ?1 UNION ALL SELECT 1 FROM system WHERE site = ?1 "
		"AND id NOT IN (SELECT thing FROM removed)";
	static const char of_customer[] =
		"SELECT 1 FROM call WHERE customer = ?1 UNION ALL SELECT 1 FROM site WHERE customer = ?1 "
		"AND id NOT IN (SELECT thing FROM removed)";
	enum status status = forget_if(store, of_system, &call->system.uid, error);

	if (status == STATUS_OK)
		status = forget_if(store, of_site, &call->site.uid, error);
	return status == STATUS_OK ? forget_if(store, of_customer, &call->customer.uid, error) : status;
}
