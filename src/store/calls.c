/*
 * Whole calls: made, recorded from a file, loaded, their header saved.
 */
#include "store/parts.h"

#include <string.h>

#include <padside/base/text.h>

static const char id_of_call[] = "SELECT id FROM call WHERE uid = ?1";

enum status call_find_id(struct store *store, const struct uid *uid, int64_t *id,
                         struct error *error)
{
	return book_find_id(store, id_of_call, uid->text, id, error);
}

/* ---- Making ---- */

static void give_uid(struct uid *uid)
{
	if (uid_is_none(uid))
		*uid = uid_new();
}

static void give_uids(struct call *call)
{
	give_uid(&call->uid);
	give_uid(&call->customer.uid);
	give_uid(&call->site.uid);
	give_uid(&call->system.uid);
	for (int i = 0; i < CALL_LIST_COUNT; i++) {
		struct uid *uid;
		for (size_t j = 0; (uid = call_list_at(call, (enum call_list)i, j)); j++)
			give_uid(uid);
	}
}

/*
 * The columns of a call behind its uid and people, in the order of the
 * members of its parts, and their number.
 */
#define CALL_COLUMNS \
	"complaint, summary, office_note, opened_at, closed_at, unsafe_at, planned_at, access_note, " \
	"job_number, technician, licence, certification, arrived_at, left_at, authorised_by, " \
	"authorised_at, authorised_amount, accepted_by, accepted_at, payment_terms, billed_at, " \
	"discount, deposit, cooling_hours, energy_rate, tax_labour, tax_part, tax_refrigerant, tax_fee"

static const enum call_part call_parts[] = { PART_CALL, PART_BILLING, PART_TAX };
enum { CALL_PARTS = sizeof call_parts / sizeof *call_parts };

/* Binds the members of all these parts from `parameter` and on. */
static void bind_header(sqlite3_stmt *row, int parameter, const struct call *call)
{
	for (int i = 0; i < CALL_PARTS; i++) {
		const struct call_part_info *part = call_part_info(call_parts[i]);
		for (const struct call_member *member = part->members; member->key; member++)
			member_bind(row, parameter++, member, (const char *)call + part->offset);
	}
}

static enum status run_bound(struct store *store, sqlite3_stmt *row, struct error *error)
{
	while (book_next(store, row))
		continue;
	return book_outcome(store, error);
}

static enum status insert_row(struct store *store, const struct call *call,
                              const struct people_ids *ids, struct error *error)
{
	static const char sql[] =
		"INSERT INTO call (uid, customer, site, system, changed_at, found_line, done_line, "
		CALL_COLUMNS ") VALUES (?1, ?2, ?3, ?4, ?5, '', '', ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, "
		"?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21, ?22, ?23, ?24, ?25, ?26, ?27, ?28, ?29, ?30, ?31, "
		"?32, ?33, ?34)";
	sqlite3_stmt *row = book_query(store, sql, "siiit", call->uid.text, ids->customer, ids->site,
	                               ids->system, book_now(store));

	if (row)
		bind_header(row, 6, call);
	return run_bound(store, row, error);
}

/* Stores all of `call`, whose uids are all there; inside a transaction. */
static enum status insert_call(struct store *store, const struct call *call, struct error *error)
{
	struct people_ids ids;
	int64_t id;
	enum status status = people_put(store, call, false, &ids, error);

	if (status == STATUS_OK)
		status = insert_row(store, call, &ids, error);
	if (status == STATUS_EXISTS)
		return error_set(error, STATUS_EXISTS,
		                 "the book has the call %s already; nothing was stored", call->uid.text);
	if (status == STATUS_OK)
		status = call_find_id(store, &call->uid, &id, error);
	if (status == STATUS_OK)
		status = values_insert(store, id, &call->visit, error);
	if (status == STATUS_OK)
		status = lists_insert(store, id, call, error);
	if (status == STATUS_OK)
		status = people_refresh_search(store, ids.customer, error);
	return status;
}

enum status store_call_record(struct store *store, struct call *call, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = people_complete(store, call, error);
	if (status == STATUS_OK) {
		give_uids(call);
		if (call->opened_at == WALL_TIME_NONE)
			call->opened_at = book_now(store);
		status = insert_call(store, call, error);
	}
	return store_end(store, status, error);
}

/* The latest call that `sql` answers for a uid; 0 when there is none. */
static enum status latest_call(struct store *store, const char *sql, const struct uid *uid,
                               int64_t *id, struct error *error)
{
	struct error ignored;
	enum status status = book_find_id(store, sql, uid->text, id, &ignored);

	if (status == STATUS_NOT_FOUND) {
		*id = 0;
		return STATUS_OK;
	}
	if (status != STATUS_OK)
		*error = ignored;
	return status;
}

/* Takes over what an earlier call read on the system or the site, where `call` has nothing. */
static enum status take_over(struct store *store, int64_t earlier, enum scope scope,
                             struct call *call, struct error *error)
{
	struct visit visit;

	if (earlier == 0)
		return STATUS_OK;
	visit_init(&visit);
	enum status status = values_load_nameplate(store, earlier, &visit, error);
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		if (reading_info(reading)->scope == scope &&
		    !visit_has(&call->visit, STAGE_AS_FOUND, reading))
			visit_set(&call->visit, STAGE_AS_FOUND, reading,
			          visit_value(&visit, STAGE_AS_FOUND, reading));
	}
	return status;
}

static enum status take_over_nameplate(struct store *store, struct call *call,
                                       struct error *error)
{
	static const char on_system[] =
		"SELECT id FROM call WHERE system = (SELECT id FROM system WHERE uid = ?1) "
		"ORDER BY opened_at DESC, id DESC LIMIT 1";
	static const char at_site[] =
		"SELECT id FROM call WHERE site = (SELECT id FROM site WHERE uid = ?1) "
		"ORDER BY opened_at DESC, id DESC LIMIT 1";
	int64_t earlier;
	enum status status = latest_call(store, on_system, &call->system.uid, &earlier, error);

	if (status == STATUS_OK)
		status = take_over(store, earlier, SCOPE_SYSTEM, call, error);
	if (status == STATUS_OK)
		status = latest_call(store, at_site, &call->site.uid, &earlier, error);
	if (status == STATUS_OK)
		status = take_over(store, earlier, SCOPE_SITE, call, error);
	return status;
}

enum status store_call_create(struct store *store, struct call *call, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = people_complete(store, call, error);
	if (status == STATUS_OK)
		status = take_over_nameplate(store, call, error);
	if (status == STATUS_OK) {
		give_uids(call);
		if (call->opened_at == WALL_TIME_NONE)
			call->opened_at = book_now(store);
		status = insert_call(store, call, error);
	}
	status = store_end(store, status, error);
	return status == STATUS_OK ? store_call_load(store, call->uid.text, call, error) : status;
}

/* ---- Loading ---- */

/* The id and whole uid of the call that `typed` is the beginning of. */
static enum status find_by_beginning(struct store *store, const char *typed, int64_t *id,
                                     struct error *error)
{
	static const char sql[] =
		"SELECT id FROM call WHERE uid >= ?1 AND uid < ?1 || '~' ORDER BY uid LIMIT 2";
	int found = 0;
	sqlite3_stmt *row = book_query(store, sql, "s", typed);

	while (book_next(store, row)) {
		*id = sqlite3_column_int64(row, 0);
		found++;
	}
	enum status status = book_outcome(store, error);
	if (status == STATUS_OK && found != 1)
		status = book_error(store, found > 1 ? STATUS_AMBIGUOUS : STATUS_NOT_FOUND, error);
	return status;
}

static void fill_people(sqlite3_stmt *row, struct call *call)
{
	call->customer.uid = row_uid(row, 0);
	row_copy(row, 1, call->customer.name, sizeof call->customer.name);
	row_copy(row, 2, call->customer.phone, sizeof call->customer.phone);
	row_copy(row, 3, call->customer.email, sizeof call->customer.email);
	call->site.uid = row_uid(row, 4);
	row_copy(row, 5, call->site.address, sizeof call->site.address);
	call->system.uid = row_uid(row, 6);
	row_copy(row, 7, call->system.name, sizeof call->system.name);
}

static void fill_header(sqlite3_stmt *row, int column, struct call *call)
{
	for (int i = 0; i < CALL_PARTS; i++) {
		const struct call_part_info *part = call_part_info(call_parts[i]);
		for (const struct call_member *member = part->members; member->key; member++)
			member_from_row(row, column++, member, (char *)call + part->offset);
	}
}

static enum status load_header(struct store *store, int64_t id, struct call *call,
                               struct error *error)
{
	static const char sql[] =
		"SELECT customer.uid, customer.name, phone, email, site.uid, address, system.uid, "
		"system.name, call.uid, " CALL_COLUMNS
		" FROM call JOIN customer ON customer.id = call.customer "
		"JOIN site ON site.id = call.site JOIN system ON system.id = call.system "
		"WHERE call.id = ?1";
	sqlite3_stmt *row = book_query(store, sql, "i", id);

	if (!book_next(store, row)) {
		enum status status = book_outcome(store, error);
		return status == STATUS_OK ? book_error(store, STATUS_DAMAGED, error) : status;
	}
	fill_people(row, call);
	call->uid = row_uid(row, 8);
	fill_header(row, 9, call);
	book_stop(row);
	return STATUS_OK;
}

static const char begin_reading[] = "BEGIN";
static const char end_reading[] = "COMMIT";

/* Loads all parts as they were at one moment, whatever others write meanwhile. */
static enum status load_parts(struct store *store, int64_t id, struct call *call,
                              struct error *error)
{
	enum status status = load_header(store, id, call, error);

	if (status == STATUS_OK)
		status = values_load(store, id, &call->visit, error);
	if (status == STATUS_OK)
		status = lists_load(store, id, call, error);
	return status;
}

enum status store_call_load(struct store *store, const char *uid, struct call *call,
                            struct error *error)
{
	struct call loaded;
	struct error ignored;
	int64_t id = 0;
	bool alone = store->depth == 0;
	enum status status = alone ? book_run(store, error, begin_reading, "") : STATUS_OK;

	if (status != STATUS_OK)
		return status;
	call_init(&loaded);
	status = find_by_beginning(store, uid, &id, error);
	if (status == STATUS_OK)
		status = load_parts(store, id, &loaded, error);
	if (alone)
		book_run(store, &ignored, end_reading, "");
	if (status != STATUS_OK) {
		call_done(&loaded);
		return status;
	}
	call_done(call);
	*call = loaded;
	return STATUS_OK;
}

/* ---- Saving the header ---- */

static enum status update_row(struct store *store, const struct call *call, int64_t id,
                              const struct people_ids *ids, struct error *error)
{
	static const char sql[] =
		"UPDATE call SET customer = ?2, site = ?3, system = ?4, changed_at = "
		CHANGED_AT("call", "?5") ", (" CALL_COLUMNS ") = (?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, "
		"?15, ?16, ?17, ?18, ?19, ?20, ?21, ?22, ?23, ?24, ?25, ?26, ?27, ?28, ?29, ?30, ?31, ?32, "
		"?33, ?34) WHERE id = ?1";
	sqlite3_stmt *row = book_query(store, sql, "iiiit", id, ids->customer, ids->site, ids->system,
	                               book_now(store));

	if (row)
		bind_header(row, 6, call);
	return run_bound(store, row, error);
}

static enum status read_ids(struct store *store, int64_t call, struct people_ids *ids,
                            struct error *error)
{
	static const char sql[] = "SELECT customer, site, system FROM call WHERE id = ?1";
	sqlite3_stmt *row = book_query(store, sql, "i", call);

	if (book_next(store, row)) {
		ids->customer = sqlite3_column_int64(row, 0);
		ids->site = sqlite3_column_int64(row, 1);
		ids->system = sqlite3_column_int64(row, 2);
		book_stop(row);
	}
	return book_outcome(store, error);
}

static enum status save_header(struct store *store, const struct call *call, struct error *error)
{
	struct people_ids before, ids;
	int64_t id;
	enum status status = call_find_id(store, &call->uid, &id, error);

	if (status == STATUS_OK)
		status = read_ids(store, id, &before, error);
	if (status == STATUS_OK)
		status = people_put(store, call, true, &ids, error);
	if (status == STATUS_OK)
		status = update_row(store, call, id, &ids, error);
	if (status == STATUS_OK)
		status = people_refresh_search(store, ids.customer, error);
	if (status == STATUS_OK && before.customer != ids.customer)
		status = people_refresh_search(store, before.customer, error);
	if (status == STATUS_OK)
		status = people_forget_unused(store, &before, error);
	return status;
}

enum status store_call_save_header(struct store *store, const struct call *call,
                                   struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, save_header(store, call, error), error);
}

enum status store_call_save_lines(struct store *store, const struct uid *call,
                                  const char *found_line, const char *done_line,
                                  struct error *error)
{
	static const char sql[] = "UPDATE call SET found_line = ?2, done_line = ?3 WHERE uid = ?1";
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = book_run(store, error, sql, "sss", call->text, found_line, done_line);
	if (status == STATUS_OK && sqlite3_changes(store->db) == 0)
		status = book_error(store, STATUS_NOT_FOUND, error);
	return store_end(store, status, error);
}
