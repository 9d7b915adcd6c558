/*
 * Taking entries that arrive one by one, those of a batch in any order and
 * perhaps not for the first time: those that are not here go into the trail, and
 * the things they are about are worked out again.  From batch to batch those of
 * a book come by their numbers.
 */
#include "store/take.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/parts.h"

/* A thing that entries came of. */
struct taken_thing {
	struct thing thing; /* of this book */
	bool is_new;        /* it came with this batch */
	bool is_touched;    /* entries of it came */
};

/* A book that entries came from. */
struct origin {
	int64_t book, number, stamp; /* the greatest of them */
	bool is_learnt;              /* they say something of a call, not only of what books knew */
};

enum { FIELD_SLOTS = 2048 };

struct taking {
	struct store *store;          /* this book */
	struct checker *checker;      /* looks at values; owned */
	struct taken_thing *places;         /* in the order of coming; owned */
	size_t place_count;           /* of them */
	size_t *slots;                /* by uid: a place's number + 1; owned */
	size_t slot_mask;             /* their number - 1, all ones */
	struct origin *origins;       /* owned */
	size_t origin_count;          /* of them */
	int fields[FIELD_SLOTS];      /* ids by name; 0: not looked up */
};

static size_t hash(const char *text)
{
	uint64_t sum = UINT64_C(0xcbf29ce484222325); /* FNV-1a */

	while (*text)
		sum = (sum ^ (unsigned char)*text++) * UINT64_C(0x100000001b3);
	return (size_t)(sum ^ sum >> 32);
}

static enum status taking_make(struct taking *taking, struct store *store, size_t count,
                               struct error *error)
{
	size_t slots = 64;

	/* Each entry may bring a thing and the call that it belongs to. */
	while (slots < 4 * count)
		slots *= 2;
	*taking = (struct taking){ .store = store, .slot_mask = slots - 1 };
	taking->checker = checker_new();
	taking->places = calloc(2 * count + 1, sizeof *taking->places);
	taking->slots = calloc(slots, sizeof *taking->slots);
	taking->origins = calloc(count + 1, sizeof *taking->origins);
	return taking->checker && taking->places && taking->slots && taking->origins
		? STATUS_OK : book_error(store, STATUS_NO_MEMORY, error);
}

static void taking_done(struct taking *taking)
{
	checker_free(taking->checker);
	free(taking->places);
	free(taking->slots);
	free(taking->origins);
}

/* ---- Where an entry belongs ---- */

static enum status refuse(const char *what, struct error *error)
{
	return error_set(error, STATUS_DAMAGED,
	                 "what the office sent is damaged: %s; nothing was taken "
	                 "from it; tell the office", what);
}

/* The thing of this book for a uid; made where it is not there. */
static enum status find_place(struct taking *taking, const char *uid, int kind,
                              const struct taken_thing *call, struct taken_thing **place,
                              struct error *error)
{
	size_t slot = hash(uid) & taking->slot_mask;
	struct uid id;
	struct error why;

	while (taking->slots[slot]) {
		*place = &taking->places[taking->slots[slot] - 1];
		if (strcmp((*place)->thing.uid.text, uid) == 0)
			return STATUS_OK;
		slot = (slot + 1) & taking->slot_mask;
	}
	*place = &taking->places[taking->place_count];
	text_copy(id.text, sizeof id.text, uid);
	enum status status = thing_find(taking->store, &id, &(*place)->thing, &why);
	if (status == STATUS_NOT_FOUND) {
		status = thing_make(taking->store, kind, &id, call ? call->thing.id : 0, &(*place)->thing,
		                    error);
		(*place)->is_new = status == STATUS_OK;
	} else if (status != STATUS_OK) {
		*error = why;
	}
	if (status == STATUS_OK)
		taking->slots[slot] = ++taking->place_count;
	return status;
}

static enum status find_field(struct taking *taking, const char *name, int *id, struct error *error)
{
	size_t slot = hash(name) % FIELD_SLOTS;
	const struct field_meaning *meaning = taking->fields[slot]
		? field_meaning(taking->store, taking->fields[slot]) : NULL;

	*id = taking->fields[slot];
	if (meaning && strcmp(meaning->name, name) == 0)
		return STATUS_OK;
	enum status status = field_of_name(taking->store, name, id, error);
	taking->fields[slot] = *id;
	return status;
}

static struct origin *find_origin(struct taking *taking, int64_t book)
{
	/* Most entries come from where the one before came from. */
	for (size_t i = taking->origin_count; i-- > 0;)
		if (taking->origins[i].book == book)
			return &taking->origins[i];
	struct origin *origin = &taking->origins[taking->origin_count++];
	origin->book = book;
	return origin;
}

/* ---- One entry ---- */

static enum status look(struct taking *taking, const struct thing *thing,
                        const struct arrival *arrival, bool *is_read, struct error *error)
{
	struct text wrong;
	enum status status = STATUS_OK;

	text_init(&wrong);
	*is_read = checker_look(taking->checker, taking->store, thing, &arrival->entry, arrival->sum,
	                        &wrong);
	if (wrong.length > 0 || wrong.failed)
		status = refuse(text_get(&wrong), error);
	text_done(&wrong);
	return status;
}

static void note_origin(struct taking *taking, const struct entry *entry, bool is_met)
{
	struct origin *origin = find_origin(taking, entry->book);

	if (entry->book != 0 && entry->number > origin->number)
		origin->number = entry->number;
	if (entry->stamp > origin->stamp)
		origin->stamp = entry->stamp;
	origin->is_learnt = origin->is_learnt || !is_met;
}

static enum status take_one(struct taking *taking, struct arrival *arrival, int64_t *taken,
                            struct error *error)
{
	struct taken_thing *call = NULL, *place;
	bool is_read = false, is_new = false;
	enum status status = STATUS_OK;

	if (!uid_is_valid(arrival->thing) || (arrival->call && !uid_is_valid(arrival->call)))
		return refuse("something in it has no id", error);
	if (arrival->call)
		status = find_place(taking, arrival->call, THING_CALL, NULL, &call, error);
	if (status == STATUS_OK)
		status = find_place(taking, arrival->thing, arrival->kind, call, &place, error);
	if (status == STATUS_OK)
		status = find_field(taking, arrival->field, &arrival->entry.field, error);
	if (status != STATUS_OK)
		return status;
	arrival->entry.thing = place->thing.id;
	status = look(taking, &place->thing, arrival, &is_read, error);
	if (status == STATUS_OK)
		status = trail_take(taking->store, &arrival->entry, arrival->sum, &is_new, error);
	if (status != STATUS_OK || !is_new)
		return status;
	++*taken;
	place->is_touched = true;
	note_origin(taking, &arrival->entry, place->thing.kind == THING_BOOK);
	return is_read ? STATUS_OK : unread_note(taking->store, &arrival->entry, error);
}

/* ---- What they come to ---- */

static enum status note_origins(struct taking *taking, struct error *error)
{
	enum status status = STATUS_OK;

	for (size_t i = 0; i < taking->origin_count && status == STATUS_OK; i++)
		status = trail_note(taking->store, taking->origins[i].book, taking->origins[i].number,
		                    taking->origins[i].stamp, error);
	return status;
}

static enum status fold_place(struct taking *taking, const struct taken_thing *place,
                              struct merge_report *report, struct error *error)
{
	const struct thing *thing = &place->thing;
	bool changed = false, was_gone = fold_is_gone(taking->store, thing->id);
	int64_t call = thing->kind == THING_CALL ? thing->id : thing->call;
	enum status status = STATUS_OK;

	if (kind_is_line(thing->kind))
		status = merge_keep_out(taking->store, NULL, thing, error);
	if (status == STATUS_OK)
		status = fold_thing(taking->store, thing, &changed, error);
	if (status != STATUS_OK)
		return status;
	merge_count(taking->store, thing, place->is_new, was_gone, changed, report);
	return call ? call_lines_spoil(taking->store, call, error) : STATUS_OK;
}

/* What books knew of each other must be there before it is asked for. */
static enum status fold_places(struct taking *taking, struct merge_report *report,
                               struct error *error)
{
	enum status status = STATUS_OK;

	for (int pass = 0; pass < 2; pass++)
		for (size_t i = 0; i < taking->place_count && status == STATUS_OK; i++) {
			const struct taken_thing *place = &taking->places[i];
			if (place->is_touched && (place->thing.kind == THING_BOOK) == (pass == 0))
				status = fold_place(taking, place, report, error);
		}
	return status;
}

static enum status write_met(struct taking *taking, struct error *error)
{
	int64_t own, number;
	enum status status = trail_own(taking->store, &own, &number, error);

	for (size_t i = 0; i < taking->origin_count && status == STATUS_OK; i++) {
		const struct origin *origin = &taking->origins[i];
		if (origin->is_learnt && origin->book != 0 && origin->book != own)
			status = merge_met(taking->store, origin->book, origin->number, error);
	}
	return status;
}

enum status take_arrivals(struct store *store, struct arrival *arrivals, size_t count,
                          struct merge_report *report, int64_t *taken, struct error *error)
{
	struct taking taking;
	enum status status = taking_make(&taking, store, count, error);

	*taken = 0;
	for (size_t i = 0; i < count && status == STATUS_OK; i++)
		status = take_one(&taking, &arrivals[i], taken, error);
	if (status == STATUS_OK)
		status = note_origins(&taking, error);
	if (status == STATUS_OK)
		status = fold_places(&taking, report, error);
	if (status == STATUS_OK)
		status = write_met(&taking, error);
	taking_done(&taking);
	return status;
}
