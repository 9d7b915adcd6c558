/*
 * The fold: a thing's row of the tables, from its entries.
 *
 * Of each field the entry with the greatest stamp counts (of two books'
 * equal stamps, the greater book; of one book's, the greater number, then
 * checksum).  A thing is there unless the last of all its entries took it out:
 * a change made after the removal brings it back.
 * Where two books changed a field without knowing of each other, both values
 * are in the trail, and the field is put down as a question.
 */
#include "store/trail.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/parts.h"

/* ---- What the entries of a thing come to ---- */

struct seen_entry {
	int field;             /* of the thing */
	int64_t stamp, book;   /* in the order of the trail */
	int64_t number;        /* there */
	size_t new;            /* where its value stands in `texts`; NOTHING */
};

#define NOTHING SIZE_MAX

struct fold {
	struct seen_entry *entries; /* of the thing; owned */
	size_t count, room;         /* of them */
	bool of_several;            /* of more than one book */
	struct text texts;          /* all values, each with its NUL */
	size_t values[MOST_COLUMNS]; /* of the columns; NOTHING */
	bool is_there;              /* not taken out */
	size_t joined;              /* the uid it was joined into; NOTHING */
};

static void fold_init(struct fold *fold)
{
	memset(fold, 0, sizeof *fold);
	text_init(&fold->texts);
}

static void fold_done(struct fold *fold)
{
	free(fold->entries);
	text_done(&fold->texts);
}

struct fold *fold_new(void)
{
	struct fold *fold = malloc(sizeof *fold);

	if (fold)
		fold_init(fold);
	return fold;
}

void fold_free(struct fold *fold)
{
	if (fold)
		fold_done(fold);
	free(fold);
}

void fold_clear(struct fold *fold)
{
	fold->count = 0;
	fold->of_several = false;
	text_clear(&fold->texts);
}

static const char *text_at(const struct fold *fold, size_t at)
{
	return at == NOTHING ? "" : text_get(&fold->texts) + at;
}

bool fold_add(struct fold *fold, const struct entry *entry)
{
	if (fold->count == fold->room) {
		size_t room = fold->room ? fold->room * 2 : 64;
		struct seen_entry *more = realloc(fold->entries, room * sizeof *more);
		if (!more)
			return false;
		fold->entries = more;
		fold->room = room;
	}
	fold->entries[fold->count++] = (struct seen_entry){
		.field = entry->field, .stamp = entry->stamp, .book = entry->book, .number = entry->number,
		.new = entry->new ? fold->texts.length : NOTHING,
	};
	if (entry->new)
		text_add_bytes(&fold->texts, entry->new, strlen(entry->new) + 1);
	fold->of_several = fold->of_several || entry->book != fold->entries[0].book;
	return !fold->texts.failed;
}

static enum status read_entries(struct store *store, const struct thing *thing, struct fold *fold,
                                struct error *error)
{
	static const char sql[] =
		"SELECT field, stamp, book, number, new FROM entry WHERE thing = ?1 "
		"ORDER BY field, " TRAIL_ORDER;
	sqlite3_stmt *row = book_query(store, sql, "i", thing->id);

	while (book_next(store, row)) {
		struct entry entry = {
			.field = sqlite3_column_int(row, 0), .stamp = sqlite3_column_int64(row, 1),
			.book = sqlite3_column_int64(row, 2), .number = sqlite3_column_int64(row, 3),
			.new = (const char *)sqlite3_column_text(row, 4),
		};
		if (!fold_add(fold, &entry)) {
			book_stop(row);
			return book_error(store, STATUS_NO_MEMORY, error);
		}
	}
	return book_outcome(store, error);
}

static bool is_later(const struct seen_entry *a, const struct seen_entry *b)
{
	return a->stamp > b->stamp || (a->stamp == b->stamp && a->book > b->book);
}

/* Whether the entry at `index` is the last of its field. */
static bool counts(const struct fold *fold, size_t index)
{
	return index + 1 == fold->count || fold->entries[index + 1].field != fold->entries[index].field;
}

/* Whether it was put down as one that this program cannot read (unread.c). */
static bool is_unread(struct store *store, int64_t thing, int field, int64_t stamp, int64_t book)
{
	static const char sql[] =
		"SELECT 1 FROM unread WHERE thing = ?1 AND field = ?2 AND stamp = ?3 AND book = ?4";

	if (!store->fields.has_unread)
		return false;
	sqlite3_stmt *row = book_query(store, sql, "iiii", thing, (int64_t)field, stamp, book);
	bool found = book_next(store, row);
	book_stop(row);
	return found;
}

/* Works out what they come to. */
static void gather(struct store *store, const struct thing *thing, struct fold *fold)
{
	const struct seen_entry *latest = NULL, *removal = NULL;

	for (int i = 0; i < MOST_COLUMNS; i++)
		fold->values[i] = NOTHING;
	fold->joined = NOTHING;
	for (size_t i = 0; i < fold->count; i++) {
		const struct seen_entry *entry = &fold->entries[i];
		if (!counts(fold, i))
			continue;
		const struct field_meaning *meaning = field_meaning(store, entry->field);
		int column = field_column(store, thing->kind, entry->field);
		if (meaning && meaning->mark == MARK_REMOVED) {
			removal = entry;
			continue;
		}
		if (!latest || is_later(entry, latest))
			latest = entry;
		if (meaning && meaning->mark == MARK_JOINED)
			fold->joined = entry->new;
		else if (column >= 0 &&
		         !is_unread(store, thing->id, entry->field, entry->stamp, entry->book))
			fold->values[column] = entry->new;
	}
	fold->is_there = fold->count > 0 && !(removal && removal->new != NOTHING &&
	                                      (!latest || is_later(removal, latest)));
}

/* ---- Questions ---- */

static bool knew(struct store *store, const struct seen_entry *a, const struct seen_entry *b)
{
	return trail_knew(store, a->book, a->number, a->stamp, b->book, b->number, b->stamp);
}

/* Whether no other entry of the field, first to `end`, was written in knowledge of this one. */
static bool is_head(struct store *store, const struct fold *fold, size_t first, size_t end,
                    size_t at)
{
	for (size_t i = first; i < end; i++)
		if (i != at && knew(store, &fold->entries[i], &fold->entries[at]))
			return false;
	return true;
}

/* Whether the field has two last values, of authors who did not know of each other. */
static bool is_contested(struct store *store, const struct fold *fold, size_t first, size_t end)
{
	const char *value = NULL;
	bool several = false;

	for (size_t i = first; i < end && !several; i++)
		several = fold->entries[i].book != fold->entries[first].book;
	for (size_t i = first; several && i < end; i++) {
		if (!is_head(store, fold, first, end, i))
			continue;
		const char *text = text_at(fold, fold->entries[i].new);
		if (value && strcmp(value, text) != 0)
			return true;
		value = text;
	}
	return false;
}

/* Whether the thing was taken out by one and changed by another, without their knowing. */
static bool is_removal_contested(struct store *store, const struct fold *fold, size_t first,
                                 size_t end)
{
	for (size_t r = first; r < end; r++) {
		if (fold->entries[r].new == NOTHING || !is_head(store, fold, first, end, r))
			continue;
		for (size_t i = 0; i < fold->count; i++)
			if ((i < first || i >= end) && fold->entries[i].book != fold->entries[r].book &&
			    !knew(store, &fold->entries[i], &fold->entries[r]) &&
			    !knew(store, &fold->entries[r], &fold->entries[i]))
				return true;
	}
	return false;
}

static enum status put_question(struct store *store, const struct thing *thing, int field,
                                bool open, struct error *error)
{
	static const char put[] = "INSERT OR IGNORE INTO question (thing, field) VALUES (?1, ?2)";
	static const char drop[] = "DELETE FROM question WHERE thing = ?1 AND field = ?2";

	return book_run(store, error, open ? put : drop, "ii", thing->id, (int64_t)field);
}

/* Whether a field, entries first to end, is to be asked; the places of lines are not. */
static bool is_open(struct store *store, const struct thing *thing, const struct fold *fold,
                    size_t first, size_t end)
{
	int field = fold->entries[first].field;
	const struct field_meaning *meaning = field_meaning(store, field);
	int column = field_column(store, thing->kind, field);

	if (!fold->of_several || thing->kind == THING_BOOK)
		return false;
	if (column >= 0 && store->shapes[thing->kind].columns[column].kind == COLUMN_POSITION)
		return false;
	return meaning && meaning->mark == MARK_REMOVED ? is_removal_contested(store, fold, first, end)
	                                                : is_contested(store, fold, first, end);
}

static enum status ask(struct store *store, const struct thing *thing, const struct fold *fold,
                       struct error *error)
{
	enum status status = STATUS_OK;
	size_t first = 0;

	for (size_t i = 0; fold->of_several && i < fold->count && status == STATUS_OK; i++) {
		if (!counts(fold, i))
			continue;
		status = put_question(store, thing, fold->entries[i].field,
		                      is_open(store, thing, fold, first, i + 1), error);
		first = i + 1;
	}
	return status;
}

/* ---- References and joins ---- */

enum status fold_resolve(struct store *store, int64_t thing, int64_t *other, struct error *error)
{
	static const char sql[] =
		"SELECT other, uid FROM joined JOIN thing ON thing.id = other WHERE joined.thing = ?1";
	int64_t least = thing, at = thing;
	struct uid least_uid = { .text = "" };

	*other = thing;
	/* Two books may have joined two things both ways: the lesser uid of a circle stands for it. */
	for (int steps = 0; steps < 64; steps++) {
		sqlite3_stmt *row = book_query(store, sql, "i", at);
		if (!book_next(store, row)) {
			*other = at;
			return book_outcome(store, error);
		}
		at = sqlite3_column_int64(row, 0);
		if (steps == 0 || strcmp(row_text(row, 1), least_uid.text) < 0) {
			least = at;
			least_uid = row_uid(row, 1);
		}
		book_stop(row);
		if (at == thing)
			break;
	}
	*other = least;
	return STATUS_OK;
}

static enum status put_blank(struct store *store, const struct thing *thing, struct error *error);

/* The id of what a reference names, 0 for nothing; the thing is made where it is not there yet. */
static enum status find_named(struct store *store, enum thing_kind kind, const char *text,
                              int64_t *id, struct error *error)
{
	struct thing thing;
	struct uid uid;
	struct error why;

	*id = 0;
	if (!*text)
		return STATUS_OK;
	text_copy(uid.text, sizeof uid.text, text);
	enum status status = thing_find(store, &uid, &thing, &why);
	/* Outside a transaction the fold is only compared. */
	if (status == STATUS_NOT_FOUND && store->depth == 0)
		return STATUS_OK;
	if (status == STATUS_NOT_FOUND) {
		status = thing_make(store, (int)kind, &uid, 0, &thing, error);
		if (status == STATUS_OK)
			status = put_blank(store, &thing, error);
	} else if (status != STATUS_OK) {
		*error = why;
	}
	if (status == STATUS_OK)
		*id = thing.id;
	return status;
}

/* The id that a reference stands for in the tables. */
static enum status resolve_uid(struct store *store, enum thing_kind kind, const char *text,
                               int64_t *id, struct error *error)
{
	int64_t named;
	enum status status = find_named(store, kind, text, &named, error);

	*id = named;
	return status == STATUS_OK && named ? fold_resolve(store, named, id, error) : status;
}

/* ---- The row ---- */

/* What stands in each column: texts of the fold, ids instead of uids. */
struct row_values {
	const char *text[MOST_COLUMNS];    /* NULL: NULL */
	char id[MOST_COLUMNS][24];         /* for references */
	int64_t ids[MOST_COLUMNS];         /* of references */
};

static enum status work_out_row(struct store *store, const struct thing *thing,
                                const struct fold *fold, struct row_values *values,
                                struct error *error)
{
	const struct shape *shape = &store->shapes[thing->kind];

	for (int i = 0; i < shape->count; i++) {
		const struct shape_column *column = &shape->columns[i];
		values->text[i] = fold->values[i] == NOTHING ? shape_empty(column)
		                                             : text_at(fold, fold->values[i]);
		if (column->kind != COLUMN_REFERENCE)
			continue;
		enum status status = resolve_uid(store, column->refers, text_at(fold, fold->values[i]),
		                                 &values->ids[i], error);
		if (status != STATUS_OK)
			return status;
		sqlite3_snprintf(sizeof values->id[i], values->id[i], "%lld", (long long)values->ids[i]);
		values->text[i] = values->id[i];
	}
	return STATUS_OK;
}

/* Whether a column of a row holds what the text says. */
static bool is_same(sqlite3_stmt *row, int column, const char *text)
{
	if (!text || sqlite3_column_type(row, column) == SQLITE_NULL)
		return !text && sqlite3_column_type(row, column) == SQLITE_NULL;
	if (sqlite3_column_type(row, column) == SQLITE_FLOAT)
		return strtod(text, NULL) == sqlite3_column_double(row, column);
	return strcmp(row_text(row, column), text) == 0;
}

/* The row of a thing as it stands in its table. */
struct standing {
	bool exists;                      /* it is there */
	bool is_its;                      /* it has the thing's uid or, of a line, its call */
	uint64_t differs;                 /* the columns that are others, as bits */
	int64_t references[MOST_COLUMNS]; /* to what it refers, by column */
};

static enum status compare_row(struct store *store, const struct thing *thing,
                               const struct row_values *values, struct standing *standing,
                               struct error *error)
{
	const struct shape *shape = &store->shapes[thing->kind];
	sqlite3_stmt *row = book_query(store, shape->get, "i", thing->id);

	*standing = (struct standing){ .exists = book_next(store, row) };
	if (!standing->exists)
		return book_outcome(store, error);
	for (int i = 0; i < shape->count; i++) {
		if (shape->columns[i].kind == COLUMN_REFERENCE)
			standing->references[i] = sqlite3_column_int64(row, i);
		if (!is_same(row, i, values->text[i]))
			standing->differs |= UINT64_C(1) << i;
	}
	standing->is_its = kind_is_line(thing->kind)
		? sqlite3_column_int64(row, shape->count) == thing->call
		: strcmp(row_text(row, shape->count), thing->uid.text) == 0;
	book_stop(row);
	return book_outcome(store, error);
}

static enum status write_row(struct store *store, const struct thing *thing,
                             const struct row_values *values, struct error *error)
{
	const struct shape *shape = &store->shapes[thing->kind];
	sqlite3_stmt *row = kind_is_line(thing->kind)
		? book_query(store, shape->put, "ii", thing->id, thing->call)
		: book_query(store, shape->put, "is", thing->id, thing->uid.text);

	for (int i = 0; row && i < shape->count; i++)
		if (values->text[i])
			sqlite3_bind_text(row, i + 3, values->text[i], -1, SQLITE_STATIC);
		else
			sqlite3_bind_null(row, i + 3);
	while (book_next(store, row))
		continue;
	if (row)
		sqlite3_clear_bindings(row);
	return book_outcome(store, error);
}

static enum status put_blank(struct store *store, const struct thing *thing, struct error *error)
{
	struct row_values values;
	struct fold nothing;

	fold_init(&nothing);
	gather(store, thing, &nothing);
	enum status status = work_out_row(store, thing, &nothing, &values, error);
	fold_done(&nothing);
	return status == STATUS_OK ? write_row(store, thing, &values, error) : status;
}

static enum status drop_row(struct store *store, const struct thing *thing, struct error *error)
{
	struct text sql;

	/* Seldom: not worth a statement of its own for each table. */
	text_init(&sql);
	text_add_format(&sql, "DELETE FROM %s WHERE id = %lld", store->shapes[thing->kind].table,
	                (long long)thing->id);
	enum status status = sql.failed ? book_error(store, STATUS_NO_MEMORY, error)
	                                : book_script(store, text_get(&sql), error);
	text_done(&sql);
	return status;
}

static enum status note_removed(struct store *store, const struct thing *thing, bool is_there,
                                struct error *error)
{
	static const char out[] =
		"INSERT OR IGNORE INTO removed (thing, kind, call) VALUES (?1, ?2, nullif(?3, 0))";
	static const char back[] = "DELETE FROM removed WHERE thing = ?1";

	if (is_there)
		return store->fields.has_removed ? book_run(store, error, back, "i", thing->id) : STATUS_OK;
	store->fields.has_removed = true;
	return book_run(store, error, out, "iii", thing->id, (int64_t)thing->kind, thing->call);
}

/* ---- What follows from a row ---- */

/* Columns of a call, in the order of its references. */
enum { CALL_CUSTOMER, CALL_SITE, CALL_SYSTEM };

static enum status pair_site(struct store *store, int64_t customer, int64_t site, bool is_there,
                             struct error *error)
{
	static const char put[] =
		"INSERT OR IGNORE INTO customer_site (customer, site) VALUES (?1, ?2)";
	static const char drop[] =
		"DELETE FROM customer_site WHERE customer = ?1 AND site = ?2 AND NOT EXISTS "
		"(SELECT 1 FROM call WHERE call.site = ?2 AND call.customer = ?1)";

	people_dirty_customer(store, customer);
	return book_run(store, error, is_there ? put : drop, "ii", customer, site);
}

static void dirty_site(struct store *store, int64_t site)
{
	static const char sql[] =
		"SELECT customer FROM site WHERE id = ?1 UNION SELECT customer FROM "
		"customer_site WHERE site = ?1";
	sqlite3_stmt *row = book_query(store, sql, "i", site);

	while (book_next(store, row))
		people_dirty_customer(store, sqlite3_column_int64(row, 0));
}

static int column_named(const struct shape *shape, const char *name)
{
	for (int i = 0; i < shape->count; i++)
		if (strcmp(shape->columns[i].name, name) == 0)
			return i;
	return -1;
}

static enum status follow_call(struct store *store, const int64_t *before, bool existed,
                               const int64_t *after, bool is_there, struct error *error)
{
	enum status status = STATUS_OK;

	if (is_there) {
		status = pair_site(store, after[CALL_CUSTOMER], after[CALL_SITE], true, error);
		people_dirty_system(store, after[CALL_SYSTEM]);
	}
	if (existed && status == STATUS_OK &&
	    (!is_there || before[CALL_CUSTOMER] != after[CALL_CUSTOMER] ||
	     before[CALL_SITE] != after[CALL_SITE]))
		status = pair_site(store, before[CALL_CUSTOMER], before[CALL_SITE], false, error);
	if (existed && before[CALL_SYSTEM] != after[CALL_SYSTEM])
		people_dirty_system(store, before[CALL_SYSTEM]);
	return status;
}

/* Who is found by what this thing says. */
static enum status follow(struct store *store, const struct thing *thing, const int64_t *before,
                          bool existed, const int64_t *after, bool is_there, struct error *error)
{
	switch (thing->kind) {
	case THING_CUSTOMER:
		people_dirty_customer(store, thing->id);
		return STATUS_OK;
	case THING_SITE:
		dirty_site(store, thing->id);
		if (existed)
			people_dirty_customer(store, before[0]);
		return STATUS_OK;
	case THING_SYSTEM:
		dirty_site(store, after[0]);
		if (existed && before[0] != after[0])
			dirty_site(store, before[0]);
		return STATUS_OK;
	case THING_CALL:
		return follow_call(store, before, existed, after, is_there, error);
	default:
		return STATUS_OK;
	}
}

/* Whether only columns changed by which nobody is found. */
static bool is_quiet(const struct store *store, const struct thing *thing,
                     uint64_t differs)
{
	int opened = column_named(&store->shapes[thing->kind], "opened_at");
	uint64_t loud = UINT64_C(1) << CALL_CUSTOMER | UINT64_C(1) << CALL_SITE |
	                UINT64_C(1) << CALL_SYSTEM | (opened >= 0 ? UINT64_C(1) << opened : 0);

	return kind_is_line(thing->kind) || (thing->kind == THING_CALL && (differs & loud) == 0);
}

/* ---- Joins ---- */

/* Folds again all that refers, or referred, to these. */
static enum status refold_referring(struct store *store, int64_t target, struct error *error)
{
	static const char sql[] =
		"SELECT id FROM site WHERE customer = ?1 UNION ALL SELECT id FROM system WHERE site = ?1 "
		"UNION ALL SELECT id FROM call WHERE customer = ?1 UNION ALL SELECT id FROM call "
		"WHERE site = ?1 UNION ALL SELECT id FROM call WHERE system = ?1";
	int64_t *ids = NULL;
	size_t count = 0;
	enum status status = STATUS_OK;
	sqlite3_stmt *row = book_query(store, sql, "i", target);

	while (book_next(store, row)) {
		int64_t *more = realloc(ids, (count + 1) * sizeof *ids);
		if (!more) {
			book_stop(row);
			free(ids);
			return book_error(store, STATUS_NO_MEMORY, error);
		}
		ids = more;
		ids[count++] = sqlite3_column_int64(row, 0);
	}
	status = book_outcome(store, error);
	for (size_t i = 0; i < count && status == STATUS_OK; i++) {
		struct thing thing;
		status = thing_load(store, ids[i], &thing, error);
		if (status == STATUS_OK)
			status = fold_thing(store, &thing, NULL, error);
	}
	free(ids);
	return status;
}

static enum status fold_join(struct store *store, const struct thing *thing,
                             const struct fold *fold, struct error *error)
{
	static const char get[] = "SELECT other FROM joined WHERE thing = ?1";
	static const char put[] = "INSERT OR REPLACE INTO joined (thing, other) VALUES (?1, ?2)";
	static const char drop[] = "DELETE FROM joined WHERE thing = ?1";
	int64_t before, other = 0, old = 0;
	enum status status = fold_resolve(store, thing->id, &before, error);

	if (status == STATUS_OK && fold->joined != NOTHING)
		status = find_named(store, thing->kind, text_at(fold, fold->joined), &other, error);
	if (status != STATUS_OK)
		return status;
	sqlite3_stmt *row = book_query(store, get, "i", thing->id);
	if (book_next(store, row)) {
		old = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	if (other == old || other == thing->id)
		return book_outcome(store, error);
	status = other ? book_run(store, error, put, "ii", thing->id, other)
	               : book_run(store, error, drop, "i", thing->id);
	if (status == STATUS_OK)
		status = refold_referring(store, thing->id, error);
	return status == STATUS_OK && before != thing->id ? refold_referring(store, before, error)
	                                                  : status;
}

/* ---- What books know of each other ---- */

static enum status fold_book(struct store *store, const struct thing *thing,
                             const struct fold *fold, struct error *error)
{
	/* Where a copied file used a number again it is known what both copies knew. */
	static const char sql[] = "INSERT INTO met (book, other, number, upto) VALUES (?1, ?2, ?3, ?4) "
		"ON CONFLICT DO UPDATE SET upto = min(upto, excluded.upto)";
	int64_t other = (int64_t)strtoll(thing->uid.text + 24, NULL, 16);
	enum status status = STATUS_OK;

	for (size_t i = 0; i < fold->count && status == STATUS_OK; i++)
		status = book_run(store, error, sql, "iiii", fold->entries[i].book, other,
		                  fold->entries[i].number,
		                  (int64_t)strtoll(text_at(fold, fold->entries[i].new), NULL, 10));
	return status;
}

/* ---- Public ---- */

static bool row_stays(const struct thing *thing, const struct fold *fold)
{
	return fold->is_there || (thing->kind != THING_CALL && !kind_is_line(thing->kind));
}

static enum status fold_row(struct store *store, const struct thing *thing,
                            const struct fold *fold, bool *changed, struct error *error)
{
	struct row_values values = { .ids = { 0 } };
	struct standing standing;
	enum status status = work_out_row(store, thing, fold, &values, error);

	if (status == STATUS_OK)
		status = compare_row(store, thing, &values, &standing, error);
	if (status != STATUS_OK)
		return status;
	bool stays = row_stays(thing, fold);
	*changed = stays ? !standing.exists || standing.differs : standing.exists;
	if (*changed)
		status = stays ? write_row(store, thing, &values, error) : drop_row(store, thing, error);
	if (status == STATUS_OK)
		status = note_removed(store, thing, fold->is_there, error);
	bool quiet = standing.exists && stays && is_quiet(store, thing, standing.differs);
	if (status == STATUS_OK && (*changed || thing->kind == THING_CUSTOMER) && !quiet)
		status = follow(store, thing, standing.references, standing.exists, values.ids, stays,
		                error);
	return status;
}

enum status fold_write(struct store *store, const struct thing *thing, struct fold *fold,
                       bool *changed, struct error *error)
{
	bool ignored;
	enum status status;

	if (!changed)
		changed = &ignored;
	*changed = false;
	if (thing->kind == THING_NEWER)
		return STATUS_OK;
	gather(store, thing, fold);
	if (thing->kind == THING_BOOK)
		status = fold_book(store, thing, fold, error);
	else
		status = fold_row(store, thing, fold, changed, error);
	if (status == STATUS_OK && thing->kind >= THING_CUSTOMER && thing->kind <= THING_SYSTEM)
		status = fold_join(store, thing, fold, error);
	return status == STATUS_OK ? ask(store, thing, fold, error) : status;
}

enum status fold_thing(struct store *store, const struct thing *thing, bool *changed,
                       struct error *error)
{
	struct fold fold;

	if (changed)
		*changed = false;
	fold_init(&fold);
	enum status status = read_entries(store, thing, &fold, error);
	if (status == STATUS_OK)
		status = fold_write(store, thing, &fold, changed, error);
	fold_done(&fold);
	return status;
}

/* ---- Comparing, for verify ---- */

static bool answers(struct store *store, const char *sql, int64_t thing, int64_t field)
{
	sqlite3_stmt *row = book_query(store, sql, "ii", thing, field);
	bool found = book_next(store, row);

	book_stop(row);
	return found;
}

/* One sentence behind the other. */
static struct text *also(struct text *wrong)
{
	if (wrong->length > 0)
		text_add(wrong, "; ");
	return wrong;
}

static void compare_questions(struct store *store, const struct thing *thing,
                              const struct fold *fold, const struct fold_tables *tables,
                              struct text *wrong)
{
	static const char sql[] = "SELECT 1 FROM question WHERE thing = ?1 AND field = ?2";
	size_t first = 0;

	for (size_t i = 0; (fold->of_several || tables->has_questions) && i < fold->count; i++) {
		if (!counts(fold, i))
			continue;
		int field = fold->entries[i].field;
		bool asked = tables->has_questions && answers(store, sql, thing->id, field);
		if (asked != is_open(store, thing, fold, first, i + 1))
			text_add_format(also(wrong), "%s %s: the question does not match what two books "
			                "changed",
			                thing_word(thing->kind), thing->uid.text);
		first = i + 1;
	}
}

/* How far an entry's book knew another one; the least where its number was used again. */
static int64_t known_up_to(const struct fold *fold, const struct seen_entry *entry)
{
	int64_t least = (int64_t)strtoll(text_at(fold, entry->new), NULL, 10);

	for (size_t i = 0; i < fold->count; i++) {
		const struct seen_entry *again = &fold->entries[i];
		if (again->number == entry->number && again->book == entry->book) {
			int64_t upto = (int64_t)strtoll(text_at(fold, again->new), NULL, 10);
			least = upto < least ? upto : least;
		}
	}
	return least;
}

static void compare_met(struct store *store, const struct thing *thing, const struct fold *fold,
                        struct text *wrong)
{
	int64_t other = (int64_t)strtoll(thing->uid.text + 24, NULL, 16);

	for (size_t i = 0; i < fold->count; i++) {
		const struct seen_entry *entry = &fold->entries[i];
		int64_t upto = known_up_to(fold, entry);
		/* Of a copied file one side learnt of the other: that is by numbers, not by this. */
		if (entry->book == other)
			continue;
		if (!trail_knew(store, entry->book, entry->number, 0, other, upto, 0) ||
		    trail_knew(store, entry->book, entry->number, 0, other, upto + 1, 0))
			text_add_format(also(wrong),
			                "what the book %012llx knew of others is not as it was written",
			                (unsigned long long)entry->book);
	}
}

static void compare_marks(struct store *store, const struct thing *thing, const struct fold *fold,
                          const struct fold_tables *tables, struct text *wrong)
{
	static const char removed[] =
		"SELECT 1 FROM removed WHERE thing = ?1 AND kind = ?2 AND call IS "
		"(SELECT call FROM thing WHERE id = ?1)";
	static const char joined[] =
		"SELECT 1 FROM joined JOIN thing ON thing.id = other WHERE joined.thing = ?1 "
		"AND thing.kind = ?2";

	if (fold->is_there ? fold_is_gone(store, thing->id)
	                   : !answers(store, removed, thing->id, thing->kind))
		text_add_format(also(wrong), "%s %s: whether it was taken out is not what its trail says",
		                thing_word(thing->kind), thing->uid.text);
	if ((fold->joined != NOTHING) != (tables->has_joined &&
	                                  answers(store, joined, thing->id, thing->kind)))
		text_add_format(also(wrong), "%s %s: what it was joined into is not what its trail says",
		                thing_word(thing->kind), thing->uid.text);
}

static enum status compare_table(struct store *store, const struct thing *thing,
                                 const struct fold *fold, struct fold_tables *tables,
                                 struct text *wrong, struct error *error)
{
	const struct shape *shape = &store->shapes[thing->kind];
	struct row_values values = { .ids = { 0 } };
	struct standing standing;
	int first = 0;
	enum status status = work_out_row(store, thing, fold, &values, error);

	if (status == STATUS_OK)
		status = compare_row(store, thing, &values, &standing, error);
	if (status != STATUS_OK)
		return status;
	tables->rows[thing->kind] += standing.exists && standing.is_its;
	while (standing.differs && !(standing.differs >> first & 1))
		first++;
	if (standing.exists != row_stays(thing, fold))
		text_add_format(also(wrong), "%s %s is %s, but its trail says otherwise", shape->table,
		                thing->uid.text, standing.exists ? "there" : "not there");
	else if (standing.differs)
		text_add_format(also(wrong), "%s %s: its %s is not what its trail of changes ends at (%s)",
		                shape->table, thing->uid.text, shape->columns[first].name,
		                values.text[first] ? values.text[first] : "nothing");
	return STATUS_OK;
}

static enum status has_rows(struct store *store, const char *sql, bool *has, struct error *error)
{
	sqlite3_stmt *row = book_query(store, sql, "");

	*has = book_next(store, row);
	book_stop(row);
	return book_outcome(store, error);
}

bool fold_is_gone(struct store *store, int64_t thing)
{
	static const char sql[] = "SELECT 1 FROM removed WHERE thing = ?1 AND ?2 = 0";

	return store->fields.has_removed && answers(store, sql, thing, 0);
}

enum status fold_look(struct store *store, struct fold_tables *tables, struct error *error)
{
	static const char questions[] = "SELECT 1 FROM question LIMIT 1";
	static const char joined[] = "SELECT 1 FROM joined LIMIT 1";
	memset(tables, 0, sizeof *tables);
	enum status status = has_rows(store, questions, &tables->has_questions, error);

	if (status == STATUS_OK)
		status = fields_learn_removed(store, error);
	return status == STATUS_OK ? has_rows(store, joined, &tables->has_joined, error) : status;
}

enum status fold_compare(struct store *store, const struct thing *thing, struct fold *fold,
                         struct fold_tables *tables, struct text *wrong, struct error *error)
{
	if (thing->kind == THING_NEWER)
		return STATUS_OK;
	gather(store, thing, fold);
	if (thing->kind == THING_BOOK) {
		compare_met(store, thing, fold, wrong);
		return STATUS_OK;
	}
	enum status status = compare_table(store, thing, fold, tables, wrong, error);
	compare_marks(store, thing, fold, tables, wrong);
	compare_questions(store, thing, fold, tables, wrong);
	return status;
}
