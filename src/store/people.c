/*
 * Customers, sites and machines, and the words by which they are found.
 */
#include "store/parts.h"

#include <padside/base/text.h>

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

/*
 * The two ways to put a row that is there already: a file's call fills blanks
 * in, the workbook writes over.  `changed_at` follows when anything changed.
 */
static const char fill_customer[] =
	"INSERT INTO customer (uid, name, phone, email, changed_at) VALUES (?1, ?2, ?3, ?4, ?5) "
	"ON CONFLICT (uid) DO UPDATE SET "
	"name = iif(name = '', excluded.name, name), "
	"phone = iif(phone = '', excluded.phone, phone), "
	"email = iif(email = '', excluded.email, email), "
	"changed_at = iif((name = '' AND excluded.name <> '') OR (phone = '' AND excluded.phone <> '') "
	"OR (email = '' AND excluded.email <> ''), "
	CHANGED_AT("customer", "excluded.changed_at") ", changed_at)";
static const char write_customer[] =
	"INSERT INTO customer (uid, name, phone, email, changed_at) VALUES (?1, ?2, ?3, ?4, ?5) "
	"ON CONFLICT (uid) DO UPDATE SET name = excluded.name, phone = excluded.phone, "
	"email = excluded.email, changed_at = " CHANGED_AT("customer", "excluded.changed_at")
	" WHERE name IS NOT excluded.name COLLATE BINARY OR phone IS NOT excluded.phone COLLATE BINARY "
	"OR email IS NOT excluded.email";
static const char fill_site[] =
	"INSERT INTO site (uid, customer, address, changed_at) VALUES (?1, ?2, ?3, ?4) "
	"ON CONFLICT (uid) DO UPDATE SET address = excluded.address, "
	"changed_at = " CHANGED_AT("site", "excluded.changed_at")
	" WHERE address = '' AND excluded.address <> ''";
static const char write_site[] =
	"INSERT INTO site (uid, customer, address, changed_at) VALUES (?1, ?2, ?3, ?4) "
	"ON CONFLICT (uid) DO UPDATE SET customer = excluded.customer, address = excluded.address, "
	"changed_at = " CHANGED_AT("site", "excluded.changed_at")
	" WHERE customer <> excluded.customer OR address IS NOT excluded.address COLLATE BINARY";
static const char fill_system[] =
	"INSERT INTO system (uid, site, name, changed_at) VALUES (?1, ?2, ?3, ?4) "
	"ON CONFLICT (uid) DO UPDATE SET name = excluded.name, "
	"changed_at = " CHANGED_AT("system", "excluded.changed_at")
	" WHERE name = '' AND excluded.name <> ''";
static const char write_system[] =
	"INSERT INTO system (uid, site, name, changed_at) VALUES (?1, ?2, ?3, ?4) "
	"ON CONFLICT (uid) DO UPDATE SET site = excluded.site, name = excluded.name, "
	"changed_at = " CHANGED_AT("system", "excluded.changed_at")
	" WHERE site <> excluded.site OR name IS NOT excluded.name";

enum status people_put(struct store *store, const struct call *call, bool overwrite,
                       struct people_ids *ids, struct error *error)
{
	static const char customer_id[] = "SELECT id FROM customer WHERE uid = ?1";
	static const char site_id[] = "SELECT id FROM site WHERE uid = ?1";
	static const char system_id[] = "SELECT id FROM system WHERE uid = ?1";
	const struct customer *customer = &call->customer;
	wall_time now = book_now(store);

	enum status status = book_run(store, error, overwrite ? write_customer : fill_customer,
	                              "sssst", customer->uid.text, customer->name, customer->phone,
	                              customer->email, now);
	if (status == STATUS_OK)
		status = book_find_id(store, customer_id, customer->uid.text, &ids->customer, error);
	if (status == STATUS_OK)
		status = book_run(store, error, overwrite ? write_site : fill_site, "sist",
		                  call->site.uid.text, ids->customer, call->site.address, now);
	if (status == STATUS_OK)
		status = book_find_id(store, site_id, call->site.uid.text, &ids->site, error);
	if (status == STATUS_OK)
		status = book_run(store, error, overwrite ? write_system : fill_system, "sist",
		                  call->system.uid.text, ids->site, call->system.name, now);
	if (status == STATUS_OK)
		status = book_find_id(store, system_id, call->system.uid.text, &ids->system, error);
	return status;
}

enum status people_refresh_search(struct store *store, int64_t customer, struct error *error)
{
	static const char take_out[] =
		"DELETE FROM customer_search WHERE rowid = (SELECT found_as FROM customer WHERE id = ?1)";
	/* Whoever was visited last is found first. */
	static const char place[] =
		"UPDATE customer SET found_as = coalesce((SELECT CAST(strftime('%s', max(opened_at)) "
		"AS INTEGER) FROM call WHERE customer = ?1), 0) * 16777216 + id WHERE id = ?1";
	/*
	 * Each field begins behind two line ends, by which short words are found.  A
	 * phone number is found with its dashes and without.
	 */
	static const char put_in[] =
		"INSERT INTO customer_search (rowid, words) SELECT found_as, "
		"char(10, 10) || name || char(10, 10) || phone || char(10, 10) || "
		"replace(replace(replace(replace(replace(phone, '-', ''), ' ', ''), '(', ''), ')', ''), "
		"'.', '') || char(10, 10) || email || char(10, 10) || "
		"coalesce((SELECT group_concat(address, char(10, 10)) FROM site WHERE customer = customer.id "
		"OR id IN (SELECT site FROM call WHERE call.customer = customer.id)), '') || char(10, 10) || "
		"coalesce((SELECT group_concat(word, char(10, 10)) FROM (SELECT DISTINCT word "
		"FROM call JOIN call_reading ON call_reading.call = call.id "
		"WHERE call.customer = customer.id AND stage = 'system' AND key IN ('model', 'serial'))), '') "
		"FROM customer WHERE id = ?1";
	enum status status = book_run(store, error, take_out, "i", customer);

	if (status == STATUS_OK)
		status = book_run(store, error, place, "i", customer);
	return status == STATUS_OK ? book_run(store, error, put_in, "i", customer) : status;
}

enum status people_forget_unused(struct store *store, const struct people_ids *ids,
                                 struct error *error)
{
	static const char no_system[] =
		"DELETE FROM system WHERE id = ?1 AND NOT EXISTS (SELECT 1 FROM call WHERE system = ?1)";
	static const char no_site[] =
		"DELETE FROM site WHERE id = ?1 AND NOT EXISTS (SELECT 1 FROM call WHERE site = ?1) "
		"AND NOT EXISTS (SELECT 1 FROM system WHERE site = ?1)";
	static const char no_search[] =
		"DELETE FROM customer_search WHERE rowid = (SELECT found_as FROM customer WHERE id = ?1) "
		"AND NOT EXISTS (SELECT 1 FROM call WHERE customer = ?1) "
		"AND NOT EXISTS (SELECT 1 FROM site WHERE customer = ?1)";
	static const char no_customer[] =
		"DELETE FROM customer WHERE id = ?1 AND NOT EXISTS (SELECT 1 FROM call WHERE customer = ?1) "
		"AND NOT EXISTS (SELECT 1 FROM site WHERE customer = ?1)";

	enum status status = book_run(store, error, no_system, "i", ids->system);
	if (status == STATUS_OK)
		status = book_run(store, error, no_site, "i", ids->site);
	if (status == STATUS_OK)
		status = book_run(store, error, no_search, "i", ids->customer);
	if (status == STATUS_OK)
		status = book_run(store, error, no_customer, "i", ids->customer);
	return status;
}
