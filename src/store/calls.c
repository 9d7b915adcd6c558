/*
 * Whole calls: made, recorded from a file, loaded, their header saved.
 */
#include "store/parts.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/trail.h"

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

/* The columns of a new thing that are something on the call. */
static enum status write_new(struct store *store, const struct thing *thing,
                             const struct call *call, struct error *error)
{
	const struct shape *shape = &store->shapes[thing->kind];
	char text[MEMBER_TEXT_SIZE];
	enum status status = STATUS_OK;
	int field;

	for (int i = 0; i < shape->count && status == STATUS_OK; i++) {
		shape_format(&shape->columns[i], call, text, sizeof text);
		/* Each thing has an entry, so that it is somewhere in the trail. */
		if (!*text && !(thing->kind == THING_CUSTOMER && i == 0))
			continue;
		status = field_of_column(store, thing->kind, i, true, &field, error);
		if (status == STATUS_OK)
			status = trail_write(store, thing, field, NULL, *text ? text : NULL, WALL_TIME_NONE,
			                     error);
	}
	return status;
}

static const struct uid *uid_of_kind(const struct call *call, enum thing_kind kind)
{
	switch (kind) {
	case THING_CUSTOMER:
		return &call->customer.uid;
	case THING_SITE:
		return &call->site.uid;
	case THING_SYSTEM:
		return &call->system.uid;
	default:
		return &call->uid;
	}
}

/* How to put a thing that the book knows already. */
enum how {
	FILL_BLANKS, /* only what is nothing there */
	OVERWRITE    /* whatever is another */
};

/* The columns of a known thing that are others on the call; a blank writes nothing over. */
static enum status write_known(struct store *store, const struct thing *thing,
                               const struct call *call, enum how how, struct error *error)
{
	const struct shape *shape = &store->shapes[thing->kind];
	char text[MEMBER_TEXT_SIZE], there[MEMBER_TEXT_SIZE];
	enum status status = STATUS_OK;
	bool changed = false, any = false;
	int field;

	for (int i = 0; i < shape->count && status == STATUS_OK; i++) {
		shape_format(&shape->columns[i], call, text, sizeof text);
		status = field_of_column(store, thing->kind, i, *text != '\0', &field, error);
		if (status != STATUS_OK || field == 0)
			continue;
		status = trail_get(store, thing->id, field, there, sizeof there, error);
		if (status != STATUS_OK || (how == FILL_BLANKS && (*there || !*text)))
			continue;
		status = trail_set(store, thing, field, text, WALL_TIME_NONE, &changed, error);
		any = any || changed;
	}
	return status == STATUS_OK && any ? fold_thing(store, thing, NULL, error) : status;
}

/* Puts the customer, site or system of a call. */
static enum status put_person(struct store *store, const struct call *call, enum thing_kind kind,
                              enum how how, struct error *error)
{
	struct thing thing;
	struct error why;
	enum status status = thing_find(store, uid_of_kind(call, kind), &thing, &why);

	if (status == STATUS_OK && thing.kind != kind)
		return error_set(error, STATUS_EXISTS,
		                 "the id %s belongs to something else; nothing was stored", thing.uid.text);
	if (status == STATUS_OK)
		return write_known(store, &thing, call, how, error);
	if (status != STATUS_NOT_FOUND) {
		*error = why;
		return status;
	}
	status = thing_make(store, (int)kind, uid_of_kind(call, kind), 0, &thing, error);
	if (status == STATUS_OK)
		status = write_new(store, &thing, call, error);
	return status == STATUS_OK ? fold_thing(store, &thing, NULL, error) : status;
}

static enum status put_people(struct store *store, const struct call *call, enum how how,
                              struct error *error)
{
	enum status status = STATUS_OK;

	for (int kind = THING_CUSTOMER; kind <= THING_SYSTEM && status == STATUS_OK; kind++)
		status = put_person(store, call, (enum thing_kind)kind, how, error);
	return status;
}

static enum status insert_lists(struct store *store, const struct call *call, int64_t id,
                                struct error *error)
{
	enum status status = STATUS_OK;

	for (int i = 0; i < CALL_LIST_COUNT; i++) {
		enum call_list list = (enum call_list)i;
		for (size_t j = 0; j < call_list_count(call, list) && status == STATUS_OK; j++)
			status = line_insert(store, list, id, (int64_t)j + 1, call_list_at(call, list, j),
			                     error);
	}
	return status;
}

/* Stores all of `call`, whose uids are all there; inside a transaction. */
static enum status insert_call(struct store *store, const struct call *call, struct error *error)
{
	struct thing thing;
	enum status status = put_people(store, call, FILL_BLANKS, error);

	if (status != STATUS_OK)
		return status;
	status = thing_make(store, THING_CALL, &call->uid, 0, &thing, error);
	if (status == STATUS_EXISTS)
		return error_set(error, STATUS_EXISTS,
		                 "the book has the call %s already; nothing was stored", call->uid.text);
	if (status == STATUS_OK)
		status = write_new(store, &thing, call, error);
	if (status == STATUS_OK)
		status = values_insert(store, &thing, &call->visit, error);
	if (status == STATUS_OK)
		status = insert_lists(store, call, thing.id, error);
	return status == STATUS_OK ? fold_thing(store, &thing, NULL, error) : status;
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

/* The call and whom and what it is about, without lists and readings. */
static const char *select_header(struct store *store)
{
	struct text sql;

	if (store->made[MADE_HEADER])
		return store->made[MADE_HEADER];
	text_init(&sql);
	text_add(&sql, "SELECT customer.uid, site.uid, system.uid, call.uid");
	for (int kind = THING_CUSTOMER; kind <= THING_CALL; kind++)
		shape_add_columns(&store->shapes[kind], &sql);
	text_add(&sql, " FROM call JOIN customer ON customer.id = call.customer JOIN site "
	         "ON site.id = call.site JOIN system ON system.id = call.system WHERE call.id = ?1");
	return book_keep_sql(store, MADE_HEADER, &sql);
}

static enum status load_header(struct store *store, int64_t id, struct call *call,
                               struct error *error)
{
	sqlite3_stmt *row = book_query(store, select_header(store), "i", id);
	int column = 4;

	if (!book_next(store, row)) {
		enum status status = book_outcome(store, error);
		return status == STATUS_OK ? book_error(store, STATUS_DAMAGED, error) : status;
	}
	call->customer.uid = row_uid(row, 0);
	call->site.uid = row_uid(row, 1);
	call->system.uid = row_uid(row, 2);
	call->uid = row_uid(row, 3);
	for (int kind = THING_CUSTOMER; kind <= THING_CALL; kind++)
		column = shape_read(&store->shapes[kind], row, column, call);
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
	status = book_look(store, error);
	if (status == STATUS_OK)
		status = find_by_beginning(store, uid, &id, error);
	if (status == STATUS_OK)
		status = load_parts(store, id, &loaded, error);
	if (alone)
		book_run(store, &ignored, end_reading, "");
	if (status != STATUS_OK) {
		call_done(&loaded);
		return status;
	}
	loaded.visit.cooling_hours = loaded.billing.cooling_hours;
	call_done(call);
	*call = loaded;
	return STATUS_OK;
}

enum status store_call_load_bill(struct store *store, const struct uid *uid, struct call *call,
                                 struct error *error)
{
	int64_t id = 0;
	enum status status = call_find_id(store, uid, &id, error);

	if (status == STATUS_OK)
		status = load_header(store, id, call, error);
	return status == STATUS_OK ? list_load(store, id, LIST_WORK, call, error) : status;
}

/* ---- Changing the header ---- */

/* Writes what is another in `after` than in `before`: only that is an entry of the trail. */
static enum status change_thing(struct store *store, const struct thing *thing,
                                const struct call *before, const struct call *after,
                                struct error *error)
{
	const struct shape *shape = &store->shapes[thing->kind];
	char old[MEMBER_TEXT_SIZE], new[MEMBER_TEXT_SIZE];
	enum status status = STATUS_OK;
	bool changed, any = false;
	int field;

	for (int i = 0; i < shape->count && status == STATUS_OK; i++) {
		shape_format(&shape->columns[i], before, old, sizeof old);
		shape_format(&shape->columns[i], after, new, sizeof new);
		if (strcmp(old, new) == 0)
			continue;
		status = field_of_column(store, thing->kind, i, true, &field, error);
		if (status == STATUS_OK)
			status = trail_set(store, thing, field, new, WALL_TIME_NONE, &changed, error);
		any = true;
	}
	return status == STATUS_OK && any ? fold_thing(store, thing, NULL, error) : status;
}

static enum status change_header(struct store *store, const struct call *before,
                                 const struct call *after, struct error *error)
{
	enum status status = STATUS_OK;
	bool moved = false;

	for (int i = THING_CUSTOMER; i <= THING_CALL && status == STATUS_OK; i++) {
		enum thing_kind kind = (enum thing_kind)i;
		struct thing thing;
		if (strcmp(uid_of_kind(before, kind)->text, uid_of_kind(after, kind)->text) != 0) {
			moved = true;
			status = put_person(store, after, kind, OVERWRITE, error);
			continue;
		}
		status = thing_find(store, uid_of_kind(after, kind), &thing, error);
		if (status == STATUS_OK)
			status = change_thing(store, &thing, before, after, error);
	}
	if (status == STATUS_OK && moved)
		status = people_forget_unused(store, before, error);
	return status;
}

enum status store_call_change(struct store *store, const struct call *before,
                              const struct call *after, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, change_header(store, before, after, error), error);
}

enum status store_call_save_lines(struct store *store, const struct uid *call,
                                  const char *found_line, const char *done_line,
                                  struct error *error)
{
	static const char sql[] =
		"UPDATE call SET found_line = ?2, done_line = ?3, lines_sum = ?4 WHERE uid = ?1";
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = book_run(store, error, sql, "sssi", call->text, found_line, done_line,
	                  texts_sum(found_line, done_line));
	if (status == STATUS_OK && sqlite3_changes(store->db) == 0)
		status = book_error(store, STATUS_NOT_FOUND, error);
	return store_end(store, status, error);
}

enum status store_call_lines(struct store *store, const struct uid *call, char *found_line,
                             size_t found_size, char *done_line, size_t done_size, bool *stand,
                             struct error *error)
{
	static const char sql[] = "SELECT found_line, done_line, lines_sum FROM call WHERE uid = ?1";
	sqlite3_stmt *row = book_query(store, sql, "s", call->text);

	*stand = false;
	if (book_next(store, row)) {
		row_copy(row, 0, found_line, found_size);
		row_copy(row, 1, done_line, done_size);
		*stand = sqlite3_column_int64(row, 2) != STALE_SUM;
		book_stop(row);
	}
	return book_outcome(store, error);
}

enum status store_stale_calls(struct store *store, int limit, struct uid **calls, size_t *count,
                              struct error *error)
{
	static const char sql[] =
		"SELECT uid FROM call WHERE lines_sum = -1 ORDER BY opened_at DESC LIMIT ?1";
	sqlite3_stmt *row = book_query(store, sql, "i", (int64_t)limit);

	*calls = NULL;
	*count = 0;
	while (book_next(store, row)) {
		struct uid *more = realloc(*calls, (*count + 1) * sizeof *more);
		if (!more) {
			book_stop(row);
			free(*calls);
			*calls = NULL;
			*count = 0;
			return book_error(store, STATUS_NO_MEMORY, error);
		}
		*calls = more;
		more[(*count)++] = row_uid(row, 0);
	}
	return book_outcome(store, error);
}
