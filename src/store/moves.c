/*
 * Calls that belong to others, records that are one, and what was made by
 * mistake: each an entry of the trail, so that it travels and can be undone.
 */
#include "store/parts.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/trail.h"

static enum thing_kind thing_kind_of(enum store_kind kind)
{
	return (enum thing_kind)((int)THING_CUSTOMER + (int)kind);
}

static enum status set_mark(struct store *store, const struct thing *thing, enum mark mark,
                            const char *value, struct error *error)
{
	bool changed;
	int field;
	enum status status = field_of_mark(store, mark, true, &field, error);

	if (status == STATUS_OK)
		status = trail_set(store, thing, field, value, WALL_TIME_NONE, &changed, error);
	return status == STATUS_OK ? fold_thing(store, thing, NULL, error) : status;
}

static bool answers(struct store *store, const char *sql, int64_t id)
{
	sqlite3_stmt *row = book_query(store, sql, "i", id);
	bool found = book_next(store, row);

	book_stop(row);
	return found;
}

static bool is_out(struct store *store, const struct thing *thing)
{
	return answers(store, "SELECT 1 FROM removed WHERE thing = ?1", thing->id);
}

/* ---- Moving a call ---- */

static enum status set_reference(struct store *store, const struct thing *call, int column,
                                 enum thing_kind kind, const struct uid *uid, struct error *error)
{
	struct thing target;
	bool changed;
	int field;
	enum status status = thing_find(store, uid, &target, error);

	if (status == STATUS_OK && target.kind != kind)
		status = book_error(store, STATUS_NOT_FOUND, error);
	/* What was taken out because no call was its, is somebody's again. */
	if (status == STATUS_OK && is_out(store, &target))
		status = set_mark(store, &target, MARK_REMOVED, NULL, error);
	if (status == STATUS_OK)
		status = field_of_column(store, THING_CALL, column, true, &field, error);
	return status == STATUS_OK
		? trail_set(store, call, field, uid->text, WALL_TIME_NONE, &changed, error) : status;
}

/* What is not said follows from the unit, then from the site. */
static enum status complete(struct store *store, const struct uid *customer,
                            const struct uid *site, const struct uid *system, struct call *to,
                            struct error *error)
{
	if (system)
		to->system.uid = *system;
	if (site)
		to->site.uid = *site;
	if (customer)
		to->customer.uid = *customer;
	return people_complete(store, to, error);
}

static enum status move_call(struct store *store, const struct uid *uid, struct call *before,
                             struct call *to, struct error *error)
{
	const struct uid *targets[] = { &to->customer.uid, &to->site.uid, &to->system.uid };
	struct thing call;
	enum status status = thing_find(store, uid, &call, error);

	if (status == STATUS_OK)
		status = store_call_load(store, uid->text, before, error);
	for (int i = 0; i < 3 && status == STATUS_OK; i++)
		if (!uid_is_none(targets[i]))
			status = set_reference(store, &call, i, (enum thing_kind)(THING_CUSTOMER + i),
			                       targets[i], error);
	if (status == STATUS_OK)
		status = fold_thing(store, &call, NULL, error);
	return status == STATUS_OK ? people_forget_unused(store, before, error) : status;
}

enum status store_call_move(struct store *store, const struct uid *call,
                            const struct uid *customer, const struct uid *site,
                            const struct uid *system, struct error *error)
{
	struct call *both = calloc(2, sizeof *both);

	if (!both)
		return book_error(store, STATUS_NO_MEMORY, error);
	call_init(&both[0]);
	call_init(&both[1]);
	enum status status = store_begin(store, error);
	if (status == STATUS_OK) {
		status = complete(store, customer, site, system, &both[1], error);
		if (status == STATUS_OK)
			status = move_call(store, call, &both[0], &both[1], error);
		status = store_end(store, status, error);
	}
	call_done(&both[0]);
	free(both);
	return status;
}

/* ---- Joining ---- */

/* What the one that stays does not say, and the other does. */
static enum status fill_blanks(struct store *store, const struct thing *from,
                               const struct thing *into, struct error *error)
{
	const struct shape *shape = &store->shapes[from->kind];
	char text[MEMBER_TEXT_SIZE], there[MEMBER_TEXT_SIZE];
	enum status status = STATUS_OK;
	bool changed;

	for (int i = 0; i < shape->count && status == STATUS_OK; i++) {
		int field = shape->columns[i].field;
		if (shape->columns[i].kind != COLUMN_MEMBER || field == 0)
			continue;
		status = trail_get(store, from->id, field, text, sizeof text, error);
		if (status == STATUS_OK)
			status = trail_get(store, into->id, field, there, sizeof there, error);
		if (status == STATUS_OK && *text && !*there)
			status = trail_set(store, into, field, text, WALL_TIME_NONE, &changed, error);
	}
	return status == STATUS_OK ? fold_thing(store, into, NULL, error) : status;
}

static enum status join(struct store *store, enum store_kind kind, const struct uid *from,
                        const struct uid *into, struct error *error)
{
	struct thing one, other;
	int64_t stands;
	enum status status = thing_find(store, from, &one, error);

	if (status == STATUS_OK)
		status = thing_find(store, into, &other, error);
	if (status == STATUS_OK)
		status = fold_resolve(store, other.id, &stands, error);
	if (status != STATUS_OK)
		return status;
	if (kind == STORE_CALL || one.kind != thing_kind_of(kind) || other.kind != one.kind ||
	    stands == one.id)
		return error_set(error, STATUS_REFUSED, "these two cannot be joined; nothing was changed");
	/* In this order: by it the parting knows what was filled in. */
	status = set_mark(store, &one, MARK_JOINED, into->text, error);
	return status == STATUS_OK ? fill_blanks(store, &one, &other, error) : status;
}

enum status store_join(struct store *store, enum store_kind kind, const struct uid *from,
                       const struct uid *into, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, join(store, kind, from, into, error), error);
}

/* Whether the value that counts was filled in when `from` was joined. */
static bool was_filled_in(struct store *store, const struct thing *from, const struct thing *into,
                          int mark, int field)
{
	static const char sql[] =
		"SELECT 1 FROM (SELECT book, number, new FROM entry WHERE thing = ?1 AND field = ?2 "
		"ORDER BY " TRAIL_LATEST " LIMIT 1) AS mark, "
		"(SELECT book, number, old, new FROM entry WHERE thing = ?3 AND field = ?4 "
		"ORDER BY " TRAIL_LATEST " LIMIT 1) AS filled, "
		"(SELECT new FROM entry WHERE thing = ?1 AND field = ?4 "
		"ORDER BY " TRAIL_LATEST " LIMIT 1) AS said "
		"WHERE filled.book = mark.book AND filled.number > mark.number AND filled.old IS NULL "
		"AND filled.new = said.new";
	sqlite3_stmt *row = book_query(store, sql, "iiii", from->id, (int64_t)mark, into->id,
	                               (int64_t)field);
	bool is_so = book_next(store, row);

	book_stop(row);
	return is_so;
}

/* What was filled in from another one, who may be a stranger after all, goes again. */
static enum status empty_filled(struct store *store, const struct thing *from, struct error *error)
{
	const struct shape *shape = &store->shapes[from->kind];
	struct thing into;
	struct uid uid;
	int mark;
	bool changed;
	enum status status = field_of_mark(store, MARK_JOINED, true, &mark, error);

	if (status == STATUS_OK)
		status = trail_get(store, from->id, mark, uid.text, sizeof uid.text, error);
	if (status != STATUS_OK || !*uid.text)
		return status;
	status = thing_find(store, &uid, &into, error);
	for (int i = 0; i < shape->count && status == STATUS_OK; i++) {
		int field = shape->columns[i].field;
		if (shape->columns[i].kind == COLUMN_MEMBER && field != 0 &&
		    was_filled_in(store, from, &into, mark, field))
			status = trail_set(store, &into, field, NULL, WALL_TIME_NONE, &changed, error);
	}
	return status == STATUS_OK ? fold_thing(store, &into, NULL, error) : status;
}

enum status store_part_again(struct store *store, const struct uid *uid, struct error *error)
{
	struct thing thing;
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = thing_find(store, uid, &thing, error);
	if (status == STATUS_OK)
		status = empty_filled(store, &thing, error);
	if (status == STATUS_OK)
		status = set_mark(store, &thing, MARK_JOINED, NULL, error);
	return store_end(store, status, error);
}

/* ---- Taking out and bringing back ---- */

static enum status refuse_used(struct store *store, const struct thing *thing,
                               struct error *error)
{
	static const char *const uses[] = {
		[THING_CUSTOMER] = "SELECT 1 FROM call WHERE customer = ?1",
		[THING_SITE] = "SELECT 1 FROM call WHERE site = ?1",
		[THING_SYSTEM] = "SELECT 1 FROM call WHERE system = ?1",
	};

	if (thing->kind < THING_CUSTOMER || thing->kind > THING_SYSTEM ||
	    !answers(store, uses[thing->kind], thing->id))
		return book_outcome(store, error);
	return error_set(error, STATUS_REFUSED,
	                 "there are calls of this %s; nothing was taken out; move "
	                 "them first, or join it with the right one",
	                 thing->kind == THING_SYSTEM ? "unit" : thing_word(thing->kind));
}

enum status store_take_out(struct store *store, const struct uid *uid, struct error *error)
{
	struct thing thing;
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = thing_find(store, uid, &thing, error);
	if (status == STATUS_OK)
		status = refuse_used(store, &thing, error);
	if (status == STATUS_OK)
		status = set_mark(store, &thing, MARK_REMOVED, "1", error);
	return store_end(store, status, error);
}

enum status store_bring_back(struct store *store, const struct uid *uid, struct error *error)
{
	struct thing thing;
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = thing_find(store, uid, &thing, error);
	if (status == STATUS_OK)
		status = set_mark(store, &thing, MARK_REMOVED, NULL, error);
	return store_end(store, status, error);
}

static int column_of(const struct store *store, enum thing_kind kind, const char *name)
{
	int column = 0;

	while (column < store->shapes[kind].count &&
	       strcmp(store->shapes[kind].columns[column].name, name) != 0)
		column++;
	return column;
}

/* What the trail ends at for a column, also of what is out of the tables. */
static void get_column(struct store *store, const struct thing *thing, const char *name,
                       char *text, size_t size)
{
	struct error ignored;
	int field = 0;

	*text = '\0';
	if (field_of_column(store, thing->kind, column_of(store, thing->kind, name), false, &field,
	                    &ignored) == STATUS_OK && field)
		trail_get(store, thing->id, field, text, size, &ignored);
}

static void describe(struct store *store, const struct thing *thing, struct store_removed *removed)
{
	char text[MEMBER_TEXT_SIZE], name[NAME_SIZE] = "";
	struct thing customer;
	struct error ignored;
	struct uid uid;

	removed->uid = thing->uid;
	get_column(store, thing, thing->kind == THING_CALL ? "complaint" :
	           thing->kind == THING_SITE ? "address" : "name", text, sizeof text);
	text_copy(removed->words, sizeof removed->words, text);
	if (thing->kind != THING_CALL)
		return;
	get_column(store, thing, "customer", uid.text, sizeof uid.text);
	if (thing_find(store, &uid, &customer, &ignored) == STATUS_OK)
		get_column(store, &customer, "name", name, sizeof name);
	text_copy(removed->customer, sizeof removed->customer, name);
	get_column(store, thing, "opened_at", text, sizeof text);
	if (!clock_parse(text, &removed->opened_at))
		removed->opened_at = WALL_TIME_NONE;
}

enum status store_removed(struct store *store, enum store_kind kind, struct store_removed **list,
                          size_t *count, struct error *error)
{
	static const char sql[] =
		"SELECT thing FROM removed WHERE kind = ?1 ORDER BY thing DESC LIMIT 200";
	enum status status = book_look(store, error);
	sqlite3_stmt *row = status == STATUS_OK
		? book_query(store, sql, "i", (int64_t)thing_kind_of(kind)) : NULL;

	*list = NULL;
	*count = 0;
	while (status == STATUS_OK && book_next(store, row)) {
		struct store_removed *more = realloc(*list, (*count + 1) * sizeof *more);
		struct thing thing;
		status = more ? thing_load(store, sqlite3_column_int64(row, 0), &thing, error)
		              : book_error(store, STATUS_NO_MEMORY, error);
		if (more)
			*list = more;
		if (status != STATUS_OK)
			break;
		more[*count] = (struct store_removed){ .opened_at = WALL_TIME_NONE };
		describe(store, &thing, &more[(*count)++]);
	}
	book_stop(row);
	return status == STATUS_OK ? book_outcome(store, error) : status;
}
