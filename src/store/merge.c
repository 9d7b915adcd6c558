/*
 * Bringing another truck's book into this one: taking the entries of its trail
 * that are not here, and working out again the things they are about.
 *
 * Entries are numbered by the book in which they were written, so that what is
 * lacking is known without looking at what is there.  Each is checked before it
 * is taken, as verify would; one that is none, and nothing is taken.  Settings
 * and prices are each truck's own.
 */
#include "store/parts.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <padside/base/text.h>

#include "store/trail.h"

/* A thing of the other book and its place in this one. */
struct merged_thing {
	struct thing thing;  /* of this book; id 0: not looked up yet */
	bool is_new;         /* it came with this merge */
	bool is_touched;     /* entries of it came */
	bool is_folded;      /* all of them are in its row */
	bool was_gone;       /* it was taken out before */
	bool changed;        /* its row is another one than before */
};

/* From there on a copied book's changes stood without those that came now between them. */
struct again {
	int64_t book, number; /* of the first that came */
};

struct merge {
	struct store *ours, *theirs;  /* the books */
	struct merge_report *report;  /* what came */
	struct merged_thing *places;         /* by their ids of things; owned */
	int64_t place_count;          /* of them */
	int *fields;                  /* our ids of fields by theirs; 0: not looked up; owned */
	int field_count;              /* of them */
	struct checker *checker;      /* looks at values; owned */
	sqlite3_stmt *row;            /* where their entries are being read */
	bool is_in_order;             /* they come thing by thing */
	struct merged_thing *whole;          /* all entries of it come just now; NULL: none */
	struct fold *fold;            /* those; owned */
	struct named named;           /* of the last entry that came */
	int64_t field, thing;         /* of it, ours */
	int64_t stamp, book;          /* of it */
	bool is_new;                  /* its thing came with this merge */
	int64_t last_thing;           /* the last of ours before the merge */
	bool has_gaps;                /* of other books ours has only some entries */
	int64_t own;                  /* id of ours; 0: none yet */
	struct again *again;          /* what each knew is to be asked again; owned */
	size_t again_count;           /* of them */
};


/* ---- Places ---- */

static enum status ask_number(struct store *store, const char *sql, int64_t *number,
                              struct error *error)
{
	sqlite3_stmt *row = book_query(store, sql, "");

	if (book_next(store, row)) {
		*number = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	return book_outcome(store, error);
}

static enum status make_places(struct merge *merge, struct error *error)
{
	static const char things[] = "SELECT max(id) FROM thing";
	static const char fields[] = "SELECT max(id) FROM field";
	int64_t last_thing = 0, last_field = 0;
	enum status status = ask_number(merge->theirs, things, &last_thing, error);

	if (status == STATUS_OK)
		status = ask_number(merge->theirs, fields, &last_field, error);
	if (status == STATUS_OK)
		status = ask_number(merge->ours, things, &merge->last_thing, error);
	if (status != STATUS_OK)
		return status;
	merge->place_count = last_thing + 1;
	merge->field_count = (int)last_field + 1;
	merge->places = calloc((size_t)merge->place_count, sizeof *merge->places);
	merge->fields = calloc((size_t)merge->field_count, sizeof *merge->fields);
	return merge->places && merge->fields ? STATUS_OK
	                                      : book_error(merge->ours, STATUS_NO_MEMORY, error);
}

static enum status refuse(const struct merge *merge, const char *what, struct error *error)
{
	return error_set(error, STATUS_DAMAGED, "the book %s: %s; nothing was taken from it; "
	                 "padside verify says more", merge->theirs->path, what);
}

/* Our thing for one of theirs; made where we do not have it. */
static enum status find_place(struct merge *merge, int64_t id, struct merged_thing **place,
                              struct error *error)
{
	struct thing theirs;
	struct error why;
	int64_t call = 0;

	if (id < 1 || id >= merge->place_count)
		return refuse(merge, "a change is of something that is not there", error);
	*place = &merge->places[id];
	if ((*place)->thing.id)
		return STATUS_OK;
	enum status status = thing_load(merge->theirs, id, &theirs, &why);
	if (status == STATUS_NOT_FOUND)
		return refuse(merge, "a change is of something that is not there", error);
	if (status != STATUS_OK) {
		*error = why;
		return status;
	}
	if (!uid_is_valid(theirs.uid.text) ||
	    (theirs.kind != THING_NEWER && kind_is_line(theirs.kind) != (theirs.call != 0)))
		return refuse(merge, "something in it has no id", error);
	status = thing_find(merge->ours, &theirs.uid, &(*place)->thing, &why);
	if (status == STATUS_OK && (*place)->thing.seed != theirs.seed)
		return refuse(merge, "an id in it is here of something else", error);
	/* What refers to it may have come before it did. */
	(*place)->is_new = status == STATUS_NOT_FOUND || (*place)->thing.id > merge->last_thing;
	if (status != STATUS_NOT_FOUND) {
		if (status != STATUS_OK)
			*error = why;
		return status;
	}
	if (theirs.call) {
		struct merged_thing *parent;
		status = find_place(merge, theirs.call, &parent, error);
		if (status != STATUS_OK)
			return status;
		call = parent->thing.id;
	}
	*place = &merge->places[id];
	return thing_copy(merge->ours, &theirs, call, &(*place)->thing, error);
}

static enum status find_our_field(struct merge *merge, int theirs, int *ours, struct error *error)
{
	const struct field_meaning *meaning = field_meaning(merge->theirs, theirs);

	/* A drive that does not answer is no damage. */
	if (!meaning && merge->theirs->code != SQLITE_OK)
		return book_outcome(merge->theirs, error);
	if (!meaning || theirs >= merge->field_count)
		return refuse(merge, "a change is of a field that is not there", error);
	enum status status = STATUS_OK;
	if (merge->fields[theirs] == 0) {
		enum reading reading = meaning->reading;
		bool is_number = reading != READING_NONE ? value_is_number(reading)
			: field_is_charge_reading(merge->theirs, theirs);
		status = field_find(merge->ours, meaning->name, is_number, true, &merge->fields[theirs],
		                    error);
	}
	*ours = merge->fields[theirs];
	return status;
}

/* ---- Entries ---- */

/* Whether the last entry that came is the one that counts: then a reading changed. */
static enum status settle(struct merge *merge, struct error *error)
{
	static const char sql[] =
		"SELECT stamp, book FROM entry WHERE thing = ?1 AND field = ?2 "
		"ORDER BY " TRAIL_LATEST " LIMIT 1";
	const struct field_meaning *meaning = field_meaning(merge->ours, (int)merge->field);

	if (!meaning || meaning->reading == READING_NONE)
		return STATUS_OK;
	if (merge->is_new) {
		merge->report->readings++;
		return STATUS_OK;
	}
	sqlite3_stmt *row = book_query(merge->ours, sql, "ii", merge->thing, merge->field);
	if (book_next(merge->ours, row)) {
		if (sqlite3_column_int64(row, 0) == merge->stamp &&
		    sqlite3_column_int64(row, 1) == merge->book)
			merge->report->readings++;
		book_stop(row);
	}
	return book_outcome(merge->ours, error);
}

static enum status look_at_entry(struct merge *merge, const struct merged_thing *place,
                                 const struct entry *entry, uint32_t sum, bool *is_read,
                                 struct error *error)
{
	struct text wrong;
	enum status status = STATUS_OK;

	text_init(&wrong);
	*is_read = checker_look(merge->checker, merge->theirs, &place->thing, entry, sum, &wrong);
	if (wrong.length > 0 || wrong.failed)
		status = refuse(merge, text_get(&wrong), error);
	text_done(&wrong);
	return status;
}

/* All entries of a new thing came: its row can be worked out without reading them again. */
static enum status end_whole(struct merge *merge, struct error *error)
{
	struct merged_thing *place = merge->whole;

	merge->whole = NULL;
	if (!place)
		return STATUS_OK;
	place->is_folded = true;
	enum status status = fold_write(merge->ours, &place->thing, merge->fold, &place->changed,
	                                error);
	fold_clear(merge->fold);
	return status;
}

/* Another thing: of a new one all entries come now, unless another book had some. */
static enum status begin_thing(struct merge *merge, struct merged_thing *place, struct error *error)
{
	enum status status = end_whole(merge, error);

	if (merge->is_in_order && place->is_new && !place->is_touched)
		merge->whole = place;
	place->is_folded = false;
	place->is_touched = true;
	return status;
}

/* The entry goes on as ours. */
static enum status note_entry(struct merge *merge, struct merged_thing *place, int field,
                              struct entry *entry, struct error *error)
{
	const struct field_meaning *meaning = field_meaning(merge->ours, field);
	enum status status = STATUS_OK;

	if (merge->thing && (merge->thing != place->thing.id || merge->field != field))
		status = settle(merge, error);
	if (status == STATUS_OK && merge->thing != place->thing.id)
		status = begin_thing(merge, place, error);
	merge->report->changes += meaning && meaning->mark != MARK_MET;
	entry->thing = merge->thing = place->thing.id;
	entry->field = field;
	merge->field = field;
	merge->stamp = entry->stamp;
	merge->book = entry->book;
	merge->is_new = place->is_new;
	if (merge->whole && !fold_add(merge->fold, entry))
		return book_error(merge->ours, STATUS_NO_MEMORY, error);
	return status;
}

/* The next entry of theirs: checked, and turned into ours. */
static enum status next_entry(void *context, struct entry *entry, uint32_t *sum, bool *at_end,
                              struct error *error)
{
	struct merge *merge = context;
	struct merged_thing *place;
	bool is_read = true;
	int field = 0;

	*at_end = !book_next(merge->theirs, merge->row);
	if (*at_end)
		return book_outcome(merge->theirs, error);
	entry_read(merge->theirs, merge->row, &merge->named, entry, sum);
	if (!merge->named.known)
		return merge->theirs->code != SQLITE_OK ? book_outcome(merge->theirs, error)
			: refuse(merge, "a change names a technician who is not in the book", error);
	enum status status = find_place(merge, entry->thing, &place, error);
	if (status == STATUS_OK)
		status = find_our_field(merge, entry->field, &field, error);
	if (status == STATUS_OK)
		status = look_at_entry(merge, place, entry, *sum, &is_read, error);
	if (status == STATUS_OK)
		status = note_entry(merge, place, field, entry, error);
	return status == STATUS_OK && !is_read ? unread_note(merge->ours, entry, error) : status;
}

/* Takes all entries that a query of theirs answers; whether thing by thing. */
static enum status take_entries(struct merge *merge, sqlite3_stmt *row, bool is_in_order,
                                struct error *error)
{
	merge->row = row;
	merge->is_in_order = is_in_order;
	enum status status = incoming_take(merge->ours, next_entry, merge, error);
	book_stop(row);
	if (status == STATUS_OK)
		status = end_whole(merge, error);
	if (status == STATUS_OK && merge->thing)
		status = settle(merge, error);
	merge->thing = 0;
	return status;
}

/* ---- Books ---- */

struct other_book {
	int64_t book, number, stamp; /* of theirs */
	int64_t ours;                /* the last number that is here; 0: none */
};

/* The digest of a book's entries up to a number: the same in two copies of one trail. */
static enum status digest_up_to(struct store *store, int64_t book, int64_t number, int64_t *digest,
                                struct error *error)
{
	/* What is behind that number is little, or is taken next. */
	static const char sql[] = "SELECT digest - coalesce((SELECT sum(sum) FROM entry "
		"WHERE entry.book = ?1 AND number > ?2), 0) FROM book WHERE id = ?1";
	sqlite3_stmt *row = book_query(store, sql, "ii", book, number);

	if (book_next(store, row)) {
		*digest = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	return book_outcome(store, error);
}

/*
 * Whether the two trails of that book went apart: a book that was copied as a
 * file, and both copies written in.  Numbers then say nothing, as those of
 * before there was a trail.
 */
static enum status went_apart(struct merge *merge, const struct other_book *source, bool *apart,
                              struct error *error)
{
	int64_t ours = 0, theirs = 0;
	int64_t common = source->ours < source->number ? source->ours : source->number;
	enum status status = STATUS_OK;

	*apart = false;
	if (source->book == 0)
		common = INT64_MAX;
	if (common > 0)
		status = digest_up_to(merge->ours, source->book, common, &ours, error);
	if (common > 0 && status == STATUS_OK)
		status = digest_up_to(merge->theirs, source->book, common, &theirs, error);
	*apart = ours != theirs;
	return status;
}

static enum status note_again(struct merge *merge, int64_t book, int64_t number,
                              struct error *error)
{
	struct again *last = merge->again_count ? &merge->again[merge->again_count - 1] : NULL;

	/* They come by their numbers. */
	if (last && last->book == book)
		return STATUS_OK;
	struct again *more = realloc(merge->again, (merge->again_count + 1) * sizeof *more);
	if (!more)
		return book_error(merge->ours, STATUS_NO_MEMORY, error);
	merge->again = more;
	merge->again[merge->again_count++] = (struct again){ book, number };
	return STATUS_OK;
}

/* Takes the entries of a book one by one, those that are not here. */
static enum status take_missing(struct merge *merge, int64_t book, struct error *error)
{
	static const char theirs[] =
		"SELECT number, stamp, sum FROM entry WHERE book = ?1 ORDER BY number";
	static const char ours[] =
		"SELECT 1 FROM entry WHERE book = ?1 AND number = ?2 AND stamp = ?3 AND sum = ?4";
	static const char one[] =
		ENTRY_COLUMNS "WHERE book = ?1 AND number = ?2 AND stamp = ?3 AND sum = ?4";
	sqlite3_stmt *row = book_query(merge->theirs, theirs, "i", book);

	while (book_next(merge->theirs, row)) {
		int64_t number = sqlite3_column_int64(row, 0), stamp = sqlite3_column_int64(row, 1);
		int64_t sum = sqlite3_column_int64(row, 2);
		sqlite3_stmt *here = book_query(merge->ours, ours, "iiii", book, number, stamp, sum);
		bool is_here = book_next(merge->ours, here);
		book_stop(here);
		enum status status = book_outcome(merge->ours, error);
		if (status == STATUS_OK && !is_here)
			status = take_entries(merge,
			                      book_query(merge->theirs, one, "iiii", book, number, stamp, sum),
			                      false, error);
		if (status == STATUS_OK && !is_here)
			status = note_again(merge, book, number, error);
		if (status != STATUS_OK) {
			book_stop(row);
			return status;
		}
	}
	return book_outcome(merge->theirs, error);
}

enum status merge_met(struct store *ours, int64_t book, int64_t number, struct error *error)
{
	char text[32];
	struct thing thing;
	struct uid uid;
	struct error why;
	int field;

	snprintf(uid.text, sizeof uid.text, "00000000-0000-0000-0000-%012llx",
	         (unsigned long long)book);
	enum status status = thing_find(ours, &uid, &thing, &why);
	if (status == STATUS_NOT_FOUND)
		status = thing_make(ours, THING_BOOK, &uid, 0, &thing, error);
	else if (status != STATUS_OK)
		*error = why;
	if (status == STATUS_OK)
		status = field_of_mark(ours, MARK_MET, true, &field, error);
	snprintf(text, sizeof text, "%lld", (long long)number);
	if (status == STATUS_OK)
		status = trail_write(ours, &thing, field, NULL, text, WALL_TIME_NONE, error);
	return status == STATUS_OK ? fold_thing(ours, &thing, NULL, error) : status;
}

static enum status take_book(struct merge *merge, const struct other_book *source, bool *learnt,
                             struct error *error)
{
	static const char lacking[] =
		ENTRY_COLUMNS "WHERE book = ?1 AND number > ?2 ORDER BY thing, field, " TRAIL_ORDER;
	/* Most of a book that is new here lies in order: no need to look each up by its number. */
	static const char whole[] = ENTRY_COLUMNS
		"WHERE +book = ?1 ORDER BY thing, field, " TRAIL_ORDER;
	int before = merge->report->changes;
	bool apart = false;
	enum status status = went_apart(merge, source, &apart, error);

	if (status == STATUS_OK && (apart || merge->has_gaps))
		status = take_missing(merge, source->book, error);
	else if (status == STATUS_OK && source->book != 0 && source->number > source->ours)
		status = take_entries(merge, source->ours == 0
			? book_query(merge->theirs, whole, "i", source->book)
			: book_query(merge->theirs, lacking, "ii", source->book, source->ours), true, error);
	if (status == STATUS_OK)
		status = trail_note(merge->ours, source->book, source->number, source->stamp, error);
	*learnt = source->book != 0 && source->book != merge->own && merge->report->changes > before;
	return status;
}

static enum status find_ours(struct merge *merge, struct other_book *source, struct error *error)
{
	static const char sql[] = "SELECT number FROM book WHERE id = ?1";
	sqlite3_stmt *row = book_query(merge->ours, sql, "i", source->book);

	if (book_next(merge->ours, row)) {
		source->ours = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	return book_outcome(merge->ours, error);
}

static enum status take_all(struct merge *merge, struct other_book **learnt, size_t *count,
                            struct error *error)
{
	static const char sql[] = "SELECT id, number, stamp FROM book ORDER BY id";
	sqlite3_stmt *row = book_query(merge->theirs, sql, "");

	while (book_next(merge->theirs, row)) {
		struct other_book source = { sqlite3_column_int64(row, 0), sqlite3_column_int64(row, 1),
		                         sqlite3_column_int64(row, 2), 0 };
		struct other_book *more = realloc(*learnt, (*count + 1) * sizeof *more);
		bool is_learnt = false;
		enum status status = more ? find_ours(merge, &source, error)
		                          : book_error(merge->ours, STATUS_NO_MEMORY, error);
		if (more)
			*learnt = more;
		if (status == STATUS_OK)
			status = take_book(merge, &source, &is_learnt, error);
		if (status != STATUS_OK) {
			book_stop(row);
			return status;
		}
		if (is_learnt)
			(*learnt)[(*count)++] = source;
	}
	return book_outcome(merge->theirs, error);
}

/* ---- What they come to ---- */

void merge_count(struct store *ours, const struct thing *thing, bool is_new, bool was_gone,
                 bool changed, struct merge_report *report)
{
	int *const counts[] = {
		[THING_CUSTOMER] = &report->customers, [THING_SITE] = &report->sites,
		[THING_SYSTEM] = &report->systems, [THING_CALL] = &report->calls,
	};
	bool gone = fold_is_gone(ours, thing->id);

	if (thing->kind == THING_BOOK)
		return;
	if (is_new && !gone && !kind_is_line(thing->kind))
		++*counts[thing->kind];
	else if (gone && !was_gone && !is_new)
		report->removed++;
	else if (changed && !gone)
		report->lines++;
}

enum status merge_keep_out(struct store *ours, struct store *theirs, const struct thing *thing,
                           struct error *error)
{
	static const char sql[] = "SELECT removed_at FROM removed_line WHERE uid = ?1";
	static const char latest[] = "SELECT max(stamp) FROM entry WHERE thing = ?1";
	struct store *books[] = { ours, theirs };
	int64_t out = 0, last = 0;
	bool changed;
	int field;

	for (int i = 0; i < (theirs ? 2 : 1); i++) {
		sqlite3_stmt *row = book_query(books[i], sql, "s", thing->uid.text);
		if (book_next(books[i], row)) {
			int64_t at = (row_time(row, 0) * 1000 + 999) << 16;
			out = at > out ? at : out;
			book_stop(row);
		}
	}
	if (out == 0)
		return STATUS_OK;
	sqlite3_stmt *row = book_query(ours, latest, "i", thing->id);
	if (book_next(ours, row)) {
		last = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	if (last > out)
		return book_outcome(ours, error);
	enum status status = field_of_mark(ours, MARK_REMOVED, true, &field, error);
	return status == STATUS_OK
		? trail_set(ours, thing, field, "1", WALL_TIME_NONE, &changed, error) : status;
}

/* A line that was taken out before there was a trail; books of today have none. */
static enum status keep_lines_out(struct merge *merge, struct error *error)
{
	static const char sql[] = "SELECT count(*) FROM removed_line";
	int64_t ours = 0, theirs = 0;
	enum status status = ask_number(merge->ours, sql, &ours, error);

	if (status == STATUS_OK)
		status = ask_number(merge->theirs, sql, &theirs, error);
	for (int64_t i = 1; ours + theirs > 0 && i < merge->place_count && status == STATUS_OK; i++) {
		struct merged_thing *place = &merge->places[i];
		if (!place->is_touched || !kind_is_line(place->thing.kind))
			continue;
		place->is_folded = false;
		status = merge_keep_out(merge->ours, merge->theirs, &place->thing, error);
	}
	return status;
}

static enum status fold_place(struct merge *merge, struct merged_thing *place, struct error *error)
{
	bool changed = false;

	place->was_gone = !place->is_new && fold_is_gone(merge->ours, place->thing.id);
	enum status status = fold_thing(merge->ours, &place->thing, &changed, error);
	place->changed = place->changed || changed;
	return status;
}

static enum status fold_places(struct merge *merge, struct error *error)
{
	enum status status = keep_lines_out(merge, error);

	for (int64_t i = 1; i < merge->place_count && status == STATUS_OK; i++) {
		struct merged_thing *place = &merge->places[i];
		if (!place->is_touched)
			continue;
		if (!place->is_folded)
			status = fold_place(merge, place, error);
		if (status == STATUS_OK)
			merge_count(merge->ours, &place->thing, place->is_new, place->was_gone, place->changed,
			            merge->report);
	}
	return status;
}

/*
 * What was asked, or not, of changes that are here already: between them came what says that
 * their author knew more, or less.
 */
static enum status fold_again(struct merge *merge, struct error *error)
{
	static const char sql[] = "SELECT DISTINCT thing FROM entry WHERE book = ?1 AND number > ?2";
	enum status status = STATUS_OK;

	for (size_t i = 0; i < merge->again_count && status == STATUS_OK; i++) {
		sqlite3_stmt *row = book_query(merge->ours, sql, "ii", merge->again[i].book,
		                               merge->again[i].number);
		while (status == STATUS_OK && book_next(merge->ours, row)) {
			struct thing thing;
			status = thing_load(merge->ours, sqlite3_column_int64(row, 0), &thing, error);
			if (status == STATUS_OK)
				status = fold_thing(merge->ours, &thing, NULL, error);
		}
		book_stop(row);
		if (status == STATUS_OK)
			status = book_outcome(merge->ours, error);
	}
	return status;
}

/* Our id of the call that a thing is or belongs to; 0: none. */
static int64_t call_of(const struct merged_thing *place)
{
	return place->thing.kind == THING_CALL ? place->thing.id : place->thing.call;
}

/*
 * The two lines for lists: those of a call that is new here are as the other
 * book had them; where both changed the call they are to be worked out again.
 */
static enum status take_lines(struct merge *merge, struct error *error)
{
	static const char sql[] = "SELECT found_line, done_line FROM call WHERE id = ?1";
	enum status status = STATUS_OK;

	for (int64_t i = 1; i < merge->place_count && status == STATUS_OK; i++) {
		const struct merged_thing *place = &merge->places[i];
		if (!place->is_touched || call_of(place) == 0)
			continue;
		bool is_call = place->thing.kind == THING_CALL;
		/* A line that came with its call. */
		if (!is_call && call_of(place) > merge->last_thing)
			continue;
		sqlite3_stmt *row = is_call && place->is_new ? book_query(merge->theirs, sql, "i", i)
		                                             : NULL;
		if (!row || !book_next(merge->theirs, row)) {
			status = call_lines_spoil(merge->ours, call_of(place), error);
			continue;
		}
		status = store_call_save_lines(merge->ours, &place->thing.uid, row_text(row, 0),
		                               row_text(row, 1), error);
		book_stop(row);
	}
	return status;
}

/*
 * Between a book that carries its own customers and another, numbers do not
 * tell what is lacking: such a book can take from another, entry by entry, but
 * not give, since what comes after a gap would be taken for the whole.
 */
static enum status look_at_gaps(struct merge *merge, struct error *error)
{
	bool has_gaps = false;
	enum status status = sync_is_partial(merge->theirs, &has_gaps, error);

	if (status == STATUS_OK && has_gaps)
		return error_set(error, STATUS_REFUSED,
		                 "the book %s carries only its own customers; nothing was "
		                 "taken from it; let both meet the office instead", merge->theirs->path);
	return status == STATUS_OK ? sync_is_partial(merge->ours, &merge->has_gaps, error) : status;
}

static enum status merge_trails(struct merge *merge, struct error *error)
{
	struct other_book *learnt = NULL;
	size_t count = 0;
	int64_t number;
	enum status status = make_places(merge, error);

	if (status == STATUS_OK)
		status = trail_own(merge->ours, &merge->own, &number, error);
	if (status == STATUS_OK)
		status = trail_sum_up(merge->ours, error);
	if (status == STATUS_OK)
		status = look_at_gaps(merge, error);
	if (status == STATUS_OK)
		status = take_all(merge, &learnt, &count, error);
	/* What each knew of the other must be there before it is asked for. */
	for (int64_t i = 1; i < merge->place_count && status == STATUS_OK; i++)
		if (merge->places[i].is_touched && merge->places[i].thing.kind == THING_BOOK)
			status = fold_thing(merge->ours, &merge->places[i].thing, NULL, error);
	if (status == STATUS_OK)
		status = fold_places(merge, error);
	if (status == STATUS_OK)
		status = fold_again(merge, error);
	if (status == STATUS_OK)
		status = take_lines(merge, error);
	for (size_t i = 0; i < count && status == STATUS_OK; i++)
		status = merge_met(merge->ours, learnt[i].book, learnt[i].number, error);
	free(learnt);
	return status;
}

/* ---- The whole ---- */

static bool is_same_file(const char *a, const char *b)
{
	struct stat one, other;

	return stat(a, &one) == 0 && stat(b, &other) == 0 && one.st_dev == other.st_dev &&
	       one.st_ino == other.st_ino;
}

static enum status merge_from(struct store *store, struct store *theirs,
                              struct merge_report *report, struct error *error)
{
	static const char begin[] = "BEGIN", end[] = "COMMIT";
	struct merge merge = { .ours = store, .theirs = theirs, .report = report };
	struct error ignored;
	enum status status = book_run(theirs, error, begin, "");

	if (status != STATUS_OK)
		return status;
	book_hold_much(store, true);
	merge.checker = checker_new();
	merge.fold = fold_new();
	status = merge.checker && merge.fold ? store_begin(store, error)
	                                     : book_error(store, STATUS_NO_MEMORY, error);
	if (status == STATUS_OK)
		status = store_end(store, merge_trails(&merge, error), error);
	book_run(theirs, &ignored, end, "");
	book_hold_much(store, false);
	checker_free(merge.checker);
	fold_free(merge.fold);
	free(merge.again);
	free(merge.places);
	free(merge.fields);
	return status;
}

enum status store_merge(struct store *store, const char *other, struct merge_report *report,
                        struct error *error)
{
	struct store *theirs;

	memset(report, 0, sizeof *report);
	if (is_same_file(store->path, other))
		return error_set(error, STATUS_REFUSED,
		                 "%s is this book itself; nothing was changed; name another one", other);
	enum status status = store_open(other, STORE_READ_ONLY, &store->clock, &theirs, error);
	if (status != STATUS_OK)
		return status;
	status = merge_from(store, theirs, report, error);
	store_close(theirs);
	if (status != STATUS_OK)
		memset(report, 0, sizeof *report);
	return status;
}
