/*
 * The four lists of a call: charge log, work, choices, watch items.
 *
 * A line keeps its place: new ones come after the last.  What is taken out
 * leaves its uid behind, so that another truck's book does not bring it back.
 * Each list is a row of a table: how its lines are inserted, changed, removed.
 */
#include "store/parts.h"

#include <padside/base/text.h>

/* Runs `sql` (insert or change) with the members of a line. */
typedef enum status write_fn(struct store *store, const char *sql, int64_t call,
                             const void *line, struct error *error);

struct list {
	write_fn *write;      /* binds a line's members */
	const char *insert;   /* at the end of the call's list */
	const char *change;   /* the line with that uid in that call */
	const char *remember; /* that a line is to be removed */
	const char *remove;   /* by uid */
};

/* A removal is never earlier than the last change of what it removes. */
#define REMEMBER(table) \
	"INSERT OR REPLACE INTO removed_line (uid, removed_at) " \
	"SELECT uid, max(changed_at, ?2) FROM " table " WHERE uid = ?1"

/* ---- The lists ---- */

static enum status write_charge_readings(struct store *store, const struct charge_entry *entry,
                                         struct error *error)
{
	static const char clear[] =
		"DELETE FROM charge_reading WHERE entry = (SELECT id FROM charge_entry WHERE uid = ?1)";
	static const char put[] =
		"INSERT INTO charge_reading (entry, key, number) "
		"SELECT id, ?2, ?3 FROM charge_entry WHERE uid = ?1";
	enum status status = book_run(store, error, clear, "s", entry->uid.text);

	for (int i = 0; i < CHARGE_READING_COUNT && status == STATUS_OK; i++)
		if (entry->values[i].state == VALUE_TAKEN)
			status = book_run(store, error, put, "ssd", entry->uid.text,
			                  reading_info(charge_reading_id((enum charge_reading)i))->key,
			                  entry->values[i].number);
	return status;
}

static enum status write_charge(struct store *store, const char *sql, int64_t call,
                                const void *line, struct error *error)
{
	const struct charge_entry *entry = line;

	return book_run(store, error, sql, "sitddsst", entry->uid.text, call, entry->at,
	                entry->added_oz, entry->recovered_oz, entry->cylinder, entry->note,
	                book_now(store));
}

static const struct list charge_list = {
	.write = write_charge,
	.insert =
		"INSERT INTO charge_entry (uid, call, at, added, recovered, cylinder, note, changed_at, "
		"position) SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, coalesce(max(position), 0) + 1 "
		"FROM charge_entry WHERE call = ?2",
	.change =
		"UPDATE charge_entry SET at = ?3, added = ?4, recovered = ?5, cylinder = ?6, note = ?7, "
		"changed_at = " CHANGED_AT("charge_entry", "?8")
		" WHERE uid = ?1 AND call = ?2",
	.remember = REMEMBER("charge_entry"),
	.remove = "DELETE FROM charge_entry WHERE uid = ?1",
};

static enum status write_work(struct store *store, const char *sql, int64_t call,
                              const void *line, struct error *error)
{
	const struct work_line *work = line;

	return book_run(store, error, sql, "sissiiist", work->uid.text, call,
	                work_kind_key(work->kind), work->description, work->quantity,
	                work->unit_price, (int64_t)work->no_charge, work->note, book_now(store));
}

static const struct list work_list = {
	.write = write_work,
	.insert =
		"INSERT INTO work_line (uid, call, kind, description, quantity, unit_price, no_charge, "
		"note, changed_at, position) SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, "
		"coalesce(max(position), 0) + 1 FROM work_line WHERE call = ?2",
	.change =
		"UPDATE work_line SET kind = ?3, description = ?4, quantity = ?5, unit_price = ?6, "
		"no_charge = ?7, note = ?8, changed_at = " CHANGED_AT("work_line", "?9")
		" WHERE uid = ?1 AND call = ?2",
	.remember = REMEMBER("work_line"),
	.remove = "DELETE FROM work_line WHERE uid = ?1",
};

static enum status write_offer(struct store *store, const char *sql, int64_t call,
                               const void *line, struct error *error)
{
	const struct offer *offer = line;

	return book_run(store, error, sql, "sisiidddsstst", offer->uid.text, call, offer->title,
	                offer->price_low, offer->price_high, offer->years_low, offer->years_high,
	                offer->seer, decision_key(offer->decision), offer->decided_by,
	                offer->decided_at, offer->note, book_now(store));
}

static const struct list offer_list = {
	.write = write_offer,
	.insert =
		"INSERT INTO offer (uid, call, title, price_low, price_high, years_low, years_high, seer, "
		"decision, decided_by, decided_at, note, changed_at, position) SELECT ?1, ?2, ?3, ?4, ?5, "
		"?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, coalesce(max(position), 0) + 1 "
		"FROM offer WHERE call = ?2",
	.change =
		"UPDATE offer SET title = ?3, price_low = ?4, price_high = ?5, years_low = ?6, "
		"years_high = ?7, seer = ?8, decision = ?9, decided_by = ?10, decided_at = ?11, "
		"note = ?12, changed_at = " CHANGED_AT("offer", "?13")
		" WHERE uid = ?1 AND call = ?2",
	.remember = REMEMBER("offer"),
	.remove = "DELETE FROM offer WHERE uid = ?1",
};

static enum status write_watch(struct store *store, const char *sql, int64_t call,
                               const void *line, struct error *error)
{
	const struct watch_item *item = line;

	return book_run(store, error, sql, "sissttt", item->uid.text, call, item->fault, item->text,
	                item->noted_at, item->closed_at, book_now(store));
}

static const struct list watch_list = {
	.write = write_watch,
	.insert =
		"INSERT INTO watch_item (uid, call, fault, text, noted_at, closed_at, changed_at, position) "
		"SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7, coalesce(max(position), 0) + 1 "
		"FROM watch_item WHERE call = ?2",
	.change =
		"UPDATE watch_item SET fault = ?3, text = ?4, noted_at = ?5, closed_at = ?6, "
		"changed_at = " CHANGED_AT("watch_item", "?7")
		" WHERE uid = ?1 AND call = ?2",
	.remember = REMEMBER("watch_item"),
	.remove = "DELETE FROM watch_item WHERE uid = ?1",
};

/* ---- Putting and removing ---- */

/* Adds a line; one that is in the book already, in whatever call, is refused. */
static enum status insert_line(struct store *store, const struct list *list, int64_t call,
                               const struct uid *uid, const void *line, struct error *error)
{
	enum status status = list->write(store, list->insert, call, line, error);

	if (status == STATUS_EXISTS)
		error_set(error, status, "the book has the line %s already; nothing was stored", uid->text);
	return status;
}

static enum status put_line(struct store *store, const struct list *list, const struct uid *call,
                            const struct uid *uid, const void *line, struct error *error)
{
	/* A line that comes back (undo) is not a removed one any more. */
	static const char not_removed[] = "DELETE FROM removed_line WHERE uid = ?1";
	int64_t id;
	enum status status = call_find_id(store, call, &id, error);

	if (status == STATUS_OK)
		status = book_run(store, error, not_removed, "s", uid->text);
	if (status == STATUS_OK)
		status = list->write(store, list->change, id, line, error);
	if (status == STATUS_OK && sqlite3_changes(store->db) == 0)
		status = insert_line(store, list, id, uid, line, error);
	return status;
}

static enum status put(struct store *store, const struct list *list, const struct uid *call,
                       const struct uid *uid, const void *line, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, put_line(store, list, call, uid, line, error), error);
}

static enum status remove_line(struct store *store, const struct list *list,
                               const struct uid *uid, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = book_run(store, error, list->remember, "st", uid->text, book_now(store));
	if (status == STATUS_OK && sqlite3_changes(store->db) == 0)
		status = book_error(store, STATUS_NOT_FOUND, error);
	if (status == STATUS_OK)
		status = book_run(store, error, list->remove, "s", uid->text);
	return store_end(store, status, error);
}

enum status store_charge_put(struct store *store, const struct uid *call,
                             const struct charge_entry *entry, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = put_line(store, &charge_list, call, &entry->uid, entry, error);
	if (status == STATUS_OK)
		status = write_charge_readings(store, entry, error);
	return store_end(store, status, error);
}

enum status store_work_put(struct store *store, const struct uid *call,
                           const struct work_line *line, struct error *error)
{
	return put(store, &work_list, call, &line->uid, line, error);
}

enum status store_offer_put(struct store *store, const struct uid *call,
                            const struct offer *offer, struct error *error)
{
	return put(store, &offer_list, call, &offer->uid, offer, error);
}

enum status store_watch_put(struct store *store, const struct uid *call,
                            const struct watch_item *item, struct error *error)
{
	return put(store, &watch_list, call, &item->uid, item, error);
}

enum status store_charge_remove(struct store *store, const struct uid *entry, struct error *error)
{
	return remove_line(store, &charge_list, entry, error);
}

enum status store_work_remove(struct store *store, const struct uid *line, struct error *error)
{
	return remove_line(store, &work_list, line, error);
}

enum status store_offer_remove(struct store *store, const struct uid *offer, struct error *error)
{
	return remove_line(store, &offer_list, offer, error);
}

enum status store_watch_remove(struct store *store, const struct uid *item, struct error *error)
{
	return remove_line(store, &watch_list, item, error);
}

enum status store_work_reorder(struct store *store, const struct work_line *lines, size_t count,
                               struct error *error)
{
	static const char sql[] =
		"UPDATE work_line SET position = ?2, changed_at = " CHANGED_AT("work_line", "?3")
		" WHERE uid = ?1 AND position <> ?2";
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	for (size_t i = 0; i < count && status == STATUS_OK; i++)
		status = book_run(store, error, sql, "sit", lines[i].uid.text, (int64_t)i + 1,
		                  book_now(store));
	return store_end(store, status, error);
}

enum status store_watch_close(struct store *store, const struct uid *item, wall_time closed_at,
                              struct error *error)
{
	static const char sql[] =
		"UPDATE watch_item SET closed_at = ?2, changed_at = " CHANGED_AT("watch_item", "?3")
		" WHERE uid = ?1";
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = book_run(store, error, sql, "stt", item->text, closed_at, book_now(store));
	if (status == STATUS_OK && sqlite3_changes(store->db) == 0)
		status = book_error(store, STATUS_NOT_FOUND, error);
	return store_end(store, status, error);
}

enum status lists_insert(struct store *store, int64_t id, const struct call *call,
                         struct error *error)
{
	enum status status = STATUS_OK;

	for (size_t i = 0; i < call->charge_count && status == STATUS_OK; i++) {
		const struct charge_entry *entry = &call->charge[i];
		status = insert_line(store, &charge_list, id, &entry->uid, entry, error);
		if (status == STATUS_OK)
			status = write_charge_readings(store, entry, error);
	}
	for (size_t i = 0; i < call->work_count && status == STATUS_OK; i++)
		status = insert_line(store, &work_list, id, &call->work[i].uid, &call->work[i], error);
	for (size_t i = 0; i < call->offer_count && status == STATUS_OK; i++)
		status = insert_line(store, &offer_list, id, &call->offers[i].uid, &call->offers[i], error);
	for (size_t i = 0; i < call->watch_count && status == STATUS_OK; i++)
		status = insert_line(store, &watch_list, id, &call->watch[i].uid, &call->watch[i], error);
	return status;
}

/* ---- Loading ---- */

static enum status out_of_memory(struct store *store, sqlite3_stmt *row, struct error *error)
{
	book_stop(row);
	return book_error(store, STATUS_NO_MEMORY, error);
}

static enum status load_charge_readings(struct store *store, struct charge_entry *entry,
                                        struct error *error)
{
	static const char sql[] =
		"SELECT key, number FROM charge_reading "
		"WHERE entry = (SELECT id FROM charge_entry WHERE uid = ?1)";
	sqlite3_stmt *row = book_query(store, sql, "s", entry->uid.text);

	while (book_next(store, row)) {
		enum reading reading = reading_from_key(row_text(row, 0));
		for (int i = 0; i < CHARGE_READING_COUNT; i++)
			if (charge_reading_id((enum charge_reading)i) == reading &&
			    value_from_number(reading, sqlite3_column_double(row, 1), &entry->values[i]))
				entry->values[i].taken_at = entry->at;
	}
	return book_outcome(store, error);
}

static enum status load_charge(struct store *store, int64_t id, struct call *call,
                               struct error *error)
{
	static const char sql[] =
		"SELECT uid, at, added, recovered, cylinder, note FROM charge_entry WHERE call = ?1 "
		"ORDER BY at NULLS LAST, position";
	sqlite3_stmt *row = book_query(store, sql, "i", id);

	while (book_next(store, row)) {
		struct charge_entry *entry = call_add_charge(call);
		if (!entry)
			return out_of_memory(store, row, error);
		entry->uid = row_uid(row, 0);
		entry->at = row_time(row, 1);
		entry->added_oz = sqlite3_column_double(row, 2);
		entry->recovered_oz = sqlite3_column_double(row, 3);
		row_copy(row, 4, entry->cylinder, sizeof entry->cylinder);
		row_copy(row, 5, entry->note, sizeof entry->note);
		if (load_charge_readings(store, entry, error) != STATUS_OK) {
			book_stop(row);
			return error->status;
		}
	}
	return book_outcome(store, error);
}

static enum status load_work(struct store *store, int64_t id, struct call *call,
                             struct error *error)
{
	static const char sql[] =
		"SELECT uid, kind, description, quantity, unit_price, no_charge, note FROM work_line "
		"WHERE call = ?1 ORDER BY position, id";
	sqlite3_stmt *row = book_query(store, sql, "i", id);

	while (book_next(store, row)) {
		struct work_line *line = call_add_work(call);
		if (!line)
			return out_of_memory(store, row, error);
		line->uid = row_uid(row, 0);
		work_kind_from_key(row_text(row, 1), &line->kind);
		row_copy(row, 2, line->description, sizeof line->description);
		line->quantity = sqlite3_column_int64(row, 3);
		line->unit_price = sqlite3_column_int64(row, 4);
		line->no_charge = sqlite3_column_int(row, 5) != 0;
		row_copy(row, 6, line->note, sizeof line->note);
	}
	return book_outcome(store, error);
}

void offer_from_row(sqlite3_stmt *row, struct offer *offer)
{
	offer->uid = row_uid(row, 0);
	row_copy(row, 1, offer->title, sizeof offer->title);
	offer->price_low = sqlite3_column_int64(row, 2);
	offer->price_high = sqlite3_column_int64(row, 3);
	offer->years_low = sqlite3_column_double(row, 4);
	offer->years_high = sqlite3_column_double(row, 5);
	offer->seer = sqlite3_column_double(row, 6);
	decision_from_key(row_text(row, 7), &offer->decision);
	row_copy(row, 8, offer->decided_by, sizeof offer->decided_by);
	offer->decided_at = row_time(row, 9);
	row_copy(row, 10, offer->note, sizeof offer->note);
}

static enum status load_offers(struct store *store, int64_t id, struct call *call,
                               struct error *error)
{
	static const char sql[] =
		"SELECT " OFFER_COLUMNS " FROM offer WHERE call = ?1 ORDER BY position, id";
	sqlite3_stmt *row = book_query(store, sql, "i", id);

	while (book_next(store, row)) {
		struct offer *offer = call_add_offer(call);
		if (!offer)
			return out_of_memory(store, row, error);
		offer_from_row(row, offer);
	}
	return book_outcome(store, error);
}

void watch_from_row(sqlite3_stmt *row, struct watch_item *item)
{
	item->uid = row_uid(row, 0);
	row_copy(row, 1, item->fault, sizeof item->fault);
	row_copy(row, 2, item->text, sizeof item->text);
	item->noted_at = row_time(row, 3);
	item->closed_at = row_time(row, 4);
}

static enum status load_watch(struct store *store, int64_t id, struct call *call,
                              struct error *error)
{
	static const char sql[] =
		"SELECT " WATCH_COLUMNS " FROM watch_item WHERE call = ?1 ORDER BY position, id";
	sqlite3_stmt *row = book_query(store, sql, "i", id);

	while (book_next(store, row)) {
		struct watch_item *item = call_add_watch(call);
		if (!item)
			return out_of_memory(store, row, error);
		watch_from_row(row, item);
	}
	return book_outcome(store, error);
}

enum status lists_load(struct store *store, int64_t id, struct call *call, struct error *error)
{
	enum status status = load_charge(store, id, call, error);

	if (status == STATUS_OK)
		status = load_work(store, id, call, error);
	if (status == STATUS_OK)
		status = load_offers(store, id, call, error);
	if (status == STATUS_OK)
		status = load_watch(store, id, call, error);
	return status;
}
