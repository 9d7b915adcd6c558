/*
 * Changes of the book: begun and ended, one within another; what is worked out
 * last before the outermost is kept; and what is forgotten when another wrote.
 */
#include "store/parts.h"

#include <assert.h>

#include "store/trail.h"

static const char begin_writing[] = "BEGIN IMMEDIATE";
static const char commit[] = "COMMIT";
static const char rollback[] = "ROLLBACK";

enum status book_look(struct store *store, struct error *error)
{
	int64_t version = store->version;
	enum status status = store_version(store, &version, error);

	if (status == STATUS_OK && version != store->version) {
		fields_forget(store);
		store->version = version;
	}
	return status;
}

enum status store_begin(struct store *store, struct error *error)
{
	if (store->depth == 0) {
		enum status status = store->read_only ? book_error(store, STATUS_READ_ONLY, error)
		                                      : book_run(store, error, begin_writing, "");
		if (status == STATUS_OK)
			status = book_look(store, error);
		if (status != STATUS_OK) {
			struct error ignored;
			if (!sqlite3_get_autocommit(store->db))
				book_run(store, &ignored, rollback, "");
			return status;
		}
		store->outcome = STATUS_OK;
		store->lost = 0;
	}
	store->depth++;
	return STATUS_OK;
}

/* What is worked out and written last: who is found by what, and where the trail ends. */
static enum status finish(struct store *store, struct error *error)
{
	enum status status = people_finish(store, error);

	return status == STATUS_OK ? trail_finish(store, error) : status;
}

static void forget(struct store *store)
{
	store->trail.is_begun = store->trail.is_named = false;
	store->trail.added_count = 0;
	store->dirty_customers.count = store->dirty_systems.count = 0;
	store->dirty_customers.failed = store->dirty_systems.failed = false;
	fields_forget(store);
}

enum status store_end(struct store *store, enum status status, struct error *error)
{
	struct error ignored;

	assert(store->depth > 0);
	if (status != STATUS_OK && store->outcome == STATUS_OK)
		store->outcome = status;
	if (store->depth > 1) {
		store->depth--;
		return status;
	}
	if (store->outcome != STATUS_OK && status == STATUS_OK)
		book_error(store, store->outcome, error);
	if (store->outcome == STATUS_OK)
		store->outcome = finish(store, error);
	/* A failure that was missed on the way. */
	if (store->outcome == STATUS_OK && store->lost)
		store->outcome = book_refuse(store->path, store->lost, error);
	store->depth = 0;
	store->lost = 0;
	if (store->outcome == STATUS_OK)
		store->outcome = book_run(store, error, commit, "");
	/* A failure inside may have ended the transaction already. */
	if (!sqlite3_get_autocommit(store->db))
		book_run(store, &ignored, rollback, "");
	if (store->outcome != STATUS_OK)
		forget(store);
	return store->outcome;
}
