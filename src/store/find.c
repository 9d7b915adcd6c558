/*
 * Finding: calls newest first, customers as one types, what is known of a
 * unit.
 *
 * No list here grows with the book: each walks an index from its newest end
 * and stops at the limit.  Text is looked up in customer_search, an index of
 * all runs of three letters, in which whoever was visited last comes last.
 */
#include "store/parts.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/gather.h>
#include <padside/base/text.h>

#include "store/trail.h"

/* ---- What was typed into a search ---- */

enum { SEARCH_TEXT_SIZE = 256 };

struct search {
	bool is_any;                      /* nothing was typed */
	char parts[SEARCH_TEXT_SIZE * 8]; /* for MATCH, in its grammar */
};

static int count_characters(const char *text, size_t length)
{
	int count = 0;

	for (size_t i = 0; i < length; i++)
		count += ((unsigned char)text[i] & 0xc0) != 0x80;
	return count;
}

/* Adds `before`, and behind it as one string in the grammar of MATCH `start` and `word`. */
static void add_string(struct search *search, const char *before, const char *start,
                       const char *word, size_t length)
{
	size_t at = strlen(search->parts);

	assert(at + strlen(before) + strlen(start) + 2 * length + 4 <= sizeof search->parts);
	at += (size_t)snprintf(search->parts + at, sizeof search->parts - at, "%s\"%s", before, start);
	for (size_t i = 0; i < length; i++) {
		if (word[i] == '"')
			search->parts[at++] = '"';
		search->parts[at++] = word[i];
	}
	search->parts[at++] = '"';
	search->parts[at] = '\0';
}

/*
 * A word of two letters is looked up where a field or a word begins, as runs
 * of three: a line end or a blank and the letters.  One letter among other
 * words narrows nothing down yet.
 */
static void add_word(struct search *search, const char *word, size_t length)
{
	const char *join = *search->parts ? " AND " : "";

	if (count_characters(word, length) >= 3) {
		add_string(search, join, "", word, length);
	} else if (count_characters(word, length) == 2 &&
	           strlen(search->parts) + 64 < sizeof search->parts) {
		add_string(search, *join ? " AND (" : "(", "\n", word, length);
		add_string(search, " OR ", " ", word, length);
		memcpy(search->parts + strlen(search->parts), ")", 2);
	}
}

/*
 * A phone number is found however it is written: what consists of digits and
 * of the signs between them is also looked for by its digits alone.
 */
static void add_number(struct search *search, const char *text)
{
	char digits[SEARCH_TEXT_SIZE], rest[sizeof search->parts];
	size_t count = 0;

	if (text[strspn(text, "0123456789()-./+ \t")])
		return;
	for (const char *at = text; *at; at++)
		if (*at >= '0' && *at <= '9')
			digits[count++] = *at;
	if (count < 3 || count == strlen(text) || strlen(search->parts) + count + 16 > sizeof rest)
		return;
	text_copy(rest, sizeof rest, search->parts);
	search->parts[0] = '\0';
	add_string(search, "", "", digits, count);
	if (*rest) {
		size_t at = strlen(search->parts);
		snprintf(search->parts + at, sizeof search->parts - at, " OR (%s)", rest);
	}
}

static void understand(const char *typed, struct search *search)
{
	const char *blanks = " \t";
	char text[SEARCH_TEXT_SIZE];
	bool has_long = false;

	memset(search, 0, sizeof *search);
	text_copy(text, sizeof text, typed ? typed + strspn(typed, blanks) : "");
	size_t end = strlen(text);
	while (end > 0 && strchr(blanks, text[end - 1]))
		text[--end] = '\0';
	search->is_any = end == 0;
	for (const char *at = text; *at; at += strspn(at, blanks)) {
		has_long = has_long || count_characters(at, strcspn(at, blanks)) >= 3;
		at += strcspn(at, blanks);
	}
	/* Only short words: together they may be long enough, else a field begins with them. */
	if (!has_long && !search->is_any) {
		static const char *const starts[] = { "", "\n\n", "\n", "" };
		int count = count_characters(text, end);
		add_string(search, "", starts[count < 3 ? count : 3], text, end);
	}
	for (const char *at = text; has_long && *at; at += strspn(at, blanks)) {
		add_word(search, at, strcspn(at, blanks));
		at += strcspn(at, blanks);
	}
	add_number(search, text);
}

/* ---- Calls ---- */

/*
 * The newest calls are found by their ids alone, and only those that are shown
 * are looked at.  ?2 is earlier than all when no day is asked for; ?3, ?4 later
 * than all when not going on below a line.
 */
#define LINES_OF(ids) \
	"SELECT call.uid, customer.uid, system.uid, opened_at, closed_at, customer.name, address, " \
	"system.name, complaint, found_line, done_line, planned_at FROM (" ids " LIMIT ?6) AS newest " \
	"CROSS JOIN call ON call.id = newest.id JOIN customer ON customer.id = call.customer " \
	"JOIN site ON site.id = call.site JOIN system ON system.id = call.system " \
	"ORDER BY opened_at DESC, call.uid DESC"
#define CALL_LINES(where) \
	LINES_OF("SELECT id FROM call WHERE " where " AND opened_at >= ?2 " \
	         "AND (opened_at, uid) < (?3, ?4) AND (?5 = 0 OR closed_at IS NULL) " \
	         "ORDER BY opened_at DESC, uid DESC")

/*
 * The same without a limit: walked along the index of times, so that the first
 * line is there at once and none is held.
 */
#define ALL_LINES(where) \
	"SELECT call.uid, customer.uid, system.uid, opened_at, closed_at, customer.name, address, " \
	"system.name, complaint, found_line, done_line, planned_at FROM call " \
	"CROSS JOIN customer ON customer.id = call.customer CROSS JOIN site ON site.id = call.site " \
	"CROSS JOIN system ON system.id = call.system WHERE " where " AND opened_at >= ?2 " \
	"AND (opened_at, call.uid) < (?3, ?4) AND ?5 = ?5 AND ?6 = ?6 AND ?1 = ?1 " \
	"ORDER BY opened_at DESC, call.uid DESC"

/* A row of the index of parts carries its customer's id in its lowest 29 bits. */
#define ID_IN_SEARCH "(customer_search.rowid & 536870911)"

static const char calls_of_system[] =
	CALL_LINES("system = (SELECT id FROM system WHERE uid = ?1)");
static const char calls_of_customer[] =
	CALL_LINES("customer = (SELECT id FROM customer WHERE uid = ?1)");
static const char calls_open[] = CALL_LINES("closed_at IS NULL");
static const char calls_all[] = CALL_LINES("true");
static const char every_call[] = ALL_LINES("true");
static const char every_open_call[] = ALL_LINES("closed_at IS NULL");
/* What stands first on the opening page: planned and not begun, the next one on top. */
#define IS_PLANNED "planned_at IS NOT NULL AND arrived_at IS NULL AND closed_at IS NULL"
static const char calls_planned[] =
	"SELECT call.uid, customer.uid, system.uid, opened_at, closed_at, customer.name, address, "
	"system.name, complaint, found_line, done_line, planned_at FROM call "
	"JOIN customer ON customer.id = call.customer JOIN site ON site.id = call.site "
	"JOIN system ON system.id = call.system WHERE " IS_PLANNED " AND opened_at >= ?2 "
	"AND ?1 = ?1 AND ?3 = ?3 AND ?4 = ?4 AND ?5 = ?5 ORDER BY planned_at, call.uid LIMIT ?6";
static const char calls_begun[] = CALL_LINES("closed_at IS NULL AND NOT (" IS_PLANNED ")");
static const char calls_past[] = CALL_LINES("closed_at IS NOT NULL");
/* By state: one behind the other, without the last where only open ones are asked for. */
static const char *const calls_by_state[] = { calls_planned, calls_begun, calls_past };
enum { PART_COUNT = sizeof calls_by_state / sizeof *calls_by_state };
static const char calls_by_text[] =
	CALL_LINES("customer IN (SELECT " ID_IN_SEARCH " FROM customer_search WHERE words MATCH ?1)");
/*
 * The newest so many calls are of the so many customers who were visited last.
 * No more is looked at than the index of a customer's calls has.
 */
static const char newest_by_text[] =
	LINES_OF("SELECT id FROM call WHERE customer IN (SELECT " ID_IN_SEARCH " FROM customer_search "
	         "WHERE words MATCH ?1 ORDER BY customer_search.rowid DESC LIMIT ?6) "
	         "AND opened_at >= ?2 ORDER BY opened_at DESC, id DESC");

static sqlite3_stmt *query_calls(struct store *store, const char *sql, const char *first,
                                 const struct call_filter *filter)
{
	char since[CLOCK_TEXT_SIZE], before[CLOCK_TEXT_SIZE] = "~";
	const struct call_line *after = filter->after;

	clock_format(filter->since, since, sizeof since);
	if (after)
		clock_format(after->opened_at, before, sizeof before);
	return book_query(store, sql, "ssssii", first, since, before,
	                  after ? after->uid.text : "", (int64_t)filter->open_only,
	                  filter->limit > 0 ? (int64_t)filter->limit : (int64_t)-1);
}

static sqlite3_stmt *choose_calls(struct store *store, const struct call_filter *filter)
{
	struct search search;

	understand(filter->text, &search);
	if (!uid_is_none(&filter->system))
		return query_calls(store, calls_of_system, filter->system.text, filter);
	if (!uid_is_none(&filter->customer))
		return query_calls(store, calls_of_customer, filter->customer.text, filter);
	if (!search.is_any) {
		/* What else is asked may leave out the calls of those visited last. */
		bool is_plain = filter->limit > 0 && !filter->open_only && !filter->after;
		return query_calls(store, is_plain ? newest_by_text : calls_by_text, search.parts, filter);
	}
	if (filter->limit <= 0)
		return query_calls(store, filter->open_only ? every_open_call : every_call, "", filter);
	return query_calls(store, filter->open_only ? calls_open : calls_all, "", filter);
}

static void line_from_row(sqlite3_stmt *row, struct call_line *line)
{
	*line = (struct call_line){
		.uid = row_uid(row, 0), .customer_uid = row_uid(row, 1), .system_uid = row_uid(row, 2),
		.opened_at = row_time(row, 3), .closed_at = row_time(row, 4),
		.planned_at = row_time(row, 11),
	};
	row_copy(row, 5, line->customer, sizeof line->customer);
	row_copy(row, 6, line->address, sizeof line->address);
	row_copy(row, 7, line->system, sizeof line->system);
	row_copy(row, 8, line->complaint, sizeof line->complaint);
	row_copy(row, 9, line->found_line, sizeof line->found_line);
	row_copy(row, 10, line->done_line, sizeof line->done_line);
}

static bool is_in_parts(const struct call_filter *filter)
{
	struct search search;

	understand(filter->text, &search);
	return filter->by_state && search.is_any && uid_is_none(&filter->system) &&
	       uid_is_none(&filter->customer) && !filter->after;
}

/* Goes on to the next part of a listing in parts; false: there is none, or enough was read. */
static bool next_part(struct store_listing *listing)
{
	const struct call_filter *filter = listing->filter;
	struct call_filter rest = { .since = filter->since, .limit = listing->left };

	if (listing->part >= (filter->open_only ? PART_COUNT - 1 : PART_COUNT) || listing->left == 0 ||
	    listing->store->code != SQLITE_OK)
		return false;
	listing->row = query_calls(listing->store, calls_by_state[listing->part++], "", &rest);
	return true;
}

void store_calls_open(struct store *store, const struct call_filter *filter,
                      struct store_listing *listing)
{
	bool in_parts = is_in_parts(filter);

	*listing = (struct store_listing){
		.store = store, .filter = filter, .part = in_parts ? 0 : PART_COUNT,
		.left = filter->limit > 0 ? filter->limit : -1,
	};
	store->code = SQLITE_OK;
	if (in_parts)
		next_part(listing);
	else
		listing->row = choose_calls(store, filter);
}

bool store_calls_next(struct store_listing *listing, struct call_line *line)
{
	while (!book_next(listing->store, listing->row))
		if (!next_part(listing))
			return false;
	line_from_row(listing->row, line);
	if (listing->left > 0)
		listing->left--;
	return true;
}

enum status store_listing_close(struct store_listing *listing, struct error *error)
{
	book_stop(listing->row);
	return book_outcome(listing->store, error);
}

/* ---- Customers ---- */

/* A site of a customer, neither taken out nor joined into another. */
#define IS_THEIRS "site.customer = customer.id AND NOT EXISTS (SELECT 1 FROM removed WHERE thing " \
                  "= site.id) " \
	"AND NOT EXISTS (SELECT 1 FROM joined WHERE thing = site.id)"

#define CUSTOMER_LINES \
	"SELECT customer.uid, name, phone, email, " \
	"(SELECT address FROM site WHERE " IS_THEIRS " ORDER BY id LIMIT 1), " \
	"(SELECT count(*) FROM site WHERE " IS_THEIRS "), " \
	"(SELECT max(opened_at) FROM call WHERE customer = customer.id) FROM "

/* The index is walked from its newest end; CROSS JOIN keeps it first. */
#define CUSTOMERS_FOUND(where) \
	CUSTOMER_LINES "customer_search CROSS JOIN customer ON customer.id = " ID_IN_SEARCH where \
	" ORDER BY customer_search.rowid DESC LIMIT ?2"

static const char customers_all[] = CUSTOMERS_FOUND("");
static const char customers_by_text[] = CUSTOMERS_FOUND(" WHERE words MATCH ?1");

static sqlite3_stmt *choose_customers(struct store *store, const char *text, int limit)
{
	struct search search;

	understand(text, &search);
	return book_query(store, search.is_any ? customers_all : customers_by_text, "si", search.parts,
	                  limit > 0 ? (int64_t)limit : (int64_t)-1);
}

static void customer_from_row(sqlite3_stmt *row, int first, struct customer *customer)
{
	customer->uid = row_uid(row, first);
	row_copy(row, first + 1, customer->name, sizeof customer->name);
	row_copy(row, first + 2, customer->phone, sizeof customer->phone);
	row_copy(row, first + 3, customer->email, sizeof customer->email);
}

void store_customers_open(struct store *store, const char *text, int limit,
                          struct store_listing *listing)
{
	*listing = (struct store_listing){ .store = store };
	listing->row = choose_customers(store, text, limit);
}

bool store_customers_next(struct store_listing *listing, struct customer_line *line)
{
	sqlite3_stmt *row = listing->row;

	if (!book_next(listing->store, row))
		return false;
	*line = (struct customer_line){
		.site_count = sqlite3_column_int(row, 5), .last_call = row_time(row, 6),
	};
	customer_from_row(row, 0, &line->customer);
	row_copy(row, 4, line->address, sizeof line->address);
	return true;
}

/* ---- Sites and systems ---- */

#define SYSTEM_LINES \
	"SELECT system.uid, system.name, site.uid, address, customer.uid, customer.name, phone, " \
	"email, (SELECT max(opened_at) FROM call WHERE system = system.id), " \
	"(SELECT count(*) FROM call WHERE system = system.id), " \
	"(SELECT id FROM call WHERE system = system.id ORDER BY opened_at DESC, id DESC LIMIT 1) " \
	"FROM system JOIN site ON site.id = system.site " \
	"JOIN customer ON customer.id = site.customer WHERE "

const enum reading system_readings[SYSTEM_READING_COUNT] = {
	READING_NOMINAL_CAPACITY, READING_REFRIGERANT, READING_METERING, READING_MANUFACTURE_YEAR,
	READING_TAKEN_OUT,
};

const struct value *system_reading(const struct system_line *line, enum reading reading)
{
	int i = 0;

	while (i < SYSTEM_READING_COUNT - 1 && system_readings[i] != reading)
		i++;
	assert(system_readings[i] == reading);
	return &line->readings[i];
}

const char *system_taken_out(const struct system_line *line)
{
	const struct value *day = system_reading(line, READING_TAKEN_OUT);

	return day->state == VALUE_TAKEN ? day->text : "";
}

static enum status system_from_row(struct store *store, sqlite3_stmt *row,
                                   struct system_line *line, struct error *error)
{
	line->system.uid = row_uid(row, 0);
	row_copy(row, 1, line->system.name, sizeof line->system.name);
	line->site.uid = row_uid(row, 2);
	row_copy(row, 3, line->site.address, sizeof line->site.address);
	customer_from_row(row, 4, &line->customer);
	line->last_call = row_time(row, 8);
	line->call_count = sqlite3_column_int(row, 9);
	enum status status = STATUS_OK;
	for (int i = 0; i < SYSTEM_READING_COUNT && status == STATUS_OK; i++)
		status = values_load_one(store, sqlite3_column_int64(row, 10), system_readings[i],
		                         &line->readings[i], error);
	return status;
}

enum status store_customer_systems(struct store *store, const struct uid *customer,
                                   struct system_line **list, size_t *count,
                                   struct error *error)
{
	static const char sql[] = SYSTEM_LINES "customer.uid = ?1 AND system.id NOT IN "
		"(SELECT thing FROM removed) AND system.id NOT IN (SELECT thing FROM joined) "
		"ORDER BY site.id, system.id";
	struct gather systems = { .size = sizeof **list };
	sqlite3_stmt *row = book_query(store, sql, "s", customer->text);
	enum status status = STATUS_OK;
	struct system_line line;

	while (status == STATUS_OK && book_next(store, row)) {
		status = system_from_row(store, row, &line, error);
		if (status == STATUS_OK && !gather_add(&systems, &line))
			break;
	}
	return book_hand_over(store, row, status, &systems, list, count, error);
}

enum status store_system_load(struct store *store, const struct uid *system,
                              struct system_line *line, struct error *error)
{
	static const char sql[] = SYSTEM_LINES "system.uid = ?1";
	sqlite3_stmt *row = book_query(store, sql, "s", system->text);

	if (!book_next(store, row)) {
		enum status status = book_outcome(store, error);
		return status == STATUS_OK ? book_error(store, STATUS_NOT_FOUND, error) : status;
	}
	enum status status = system_from_row(store, row, line, error);
	book_stop(row);
	return status;
}

static enum status past_from_row(struct store *store, sqlite3_stmt *row, struct past_call *past,
                                 struct error *error)
{
	past->call = row_uid(row, 0);
	past->opened_at = row_time(row, 1);
	past->closed_at = row_time(row, 2);
	row_copy(row, 3, past->found_line, sizeof past->found_line);
	row_copy(row, 4, past->done_line, sizeof past->done_line);
	visit_init(&past->visit);
	return values_load(store, sqlite3_column_int64(row, 5), &past->visit, error);
}

enum status store_past_calls(struct store *store, const struct uid *system,
                             const struct call *before, int limit, struct past_call **list,
                             size_t *count, struct error *error)
{
	static const char sql[] =
		"SELECT uid, opened_at, closed_at, found_line, done_line, id FROM call "
		"WHERE system = (SELECT id FROM system WHERE uid = ?1) AND opened_at <= ?2 AND uid <> ?3 "
		"ORDER BY opened_at DESC, id DESC LIMIT ?4";
	struct gather calls = { .size = sizeof **list, .most = limit > 0 ? (size_t)limit : 0 };
	char until[CLOCK_TEXT_SIZE] = "~";
	enum status status = STATUS_OK;
	struct past_call *past;

	if (before)
		clock_format(before->opened_at, until, sizeof until);
	sqlite3_stmt *row = book_query(store, sql, "sssi", system->text, until,
	                               before ? before->uid.text : "",
	                               limit > 0 ? (int64_t)limit : (int64_t)-1);
	while (status == STATUS_OK && book_next(store, row)) {
		past = gather_more(&calls);
		if (!past)
			break;
		status = past_from_row(store, row, past, error);
	}
	return book_hand_over(store, row, status, &calls, list, count, error);
}

/* ---- What earlier calls left behind ---- */

/* The call whose own lines are left out. */
#define IS_EXCEPTED "call.id IS (SELECT id FROM call WHERE uid = ?2)"

static const char *uid_or_none(const struct uid *uid)
{
	return uid ? uid->text : "";
}

/*
 * The lines of a list on calls that `which` names, the newest call's first; with columns `besides`
 * between the uid and those of the shape.  A unit may have
 * thousands of calls: what is asked of them stands in the index, and only lines are looked up.
 */
static const char *select_left(struct store *store, enum made made, enum call_list list,
                               const char *besides, const char *which)
{
	const struct shape *shape = &store->shapes[THING_LISTS + (int)list];
	struct text sql;

	if (store->made[made])
		return store->made[made];
	text_init(&sql);
	text_add_format(&sql, "SELECT (SELECT uid FROM thing WHERE id = %s.id)%s", shape->table,
	                besides);
	shape_add_columns(shape, &sql);
	text_add_format(&sql, " FROM call JOIN %s ON %s.call = call.id WHERE %s "
	                "ORDER BY opened_at DESC, call.id DESC, position", shape->table, shape->table,
	                which);
	return book_keep_sql(store, made, &sql);
}

enum status store_open_watch_items(struct store *store, const struct uid *system,
                                   const struct uid *except, wall_time at,
                                   struct watch_item **list, size_t *count, struct error *error)
{
	/* A text that no time comes after: open is what was never closed. */
	char then[CLOCK_TEXT_SIZE] = "~";
	const char *sql = select_left(store, MADE_WATCH, LIST_WATCH, "",
		"call.system = (SELECT id FROM system WHERE uid = ?1) AND NOT " IS_EXCEPTED
		" AND coalesce(watch_item.noted_at, '') <= ?3 AND (watch_item.closed_at IS NULL "
		"OR watch_item.closed_at > ?3)");
	struct gather items = { .size = sizeof **list };
	bool goes_on = true;

	if (at != WALL_TIME_NONE)
		clock_format(at, then, sizeof then);
	sqlite3_stmt *row = book_query(store, sql, "sss", system->text, uid_or_none(except), then);

	while (goes_on && book_next(store, row)) {
		struct watch_item item = { .uid = row_uid(row, 0) };
		shape_read(&store->shapes[THING_LISTS + LIST_WATCH], row, 1, &item);
		goes_on = gather_add(&items, &item);
	}
	return book_hand_over(store, row, STATUS_OK, &items, list, count, error);
}

/* The same option on a later call for the same unit of the same customer, where `what` holds. */
#define IS_LATER(what) "EXISTS (SELECT 1 FROM call AS later " \
	"JOIN offer AS taken ON taken.call = later.id WHERE later.customer = call.customer " \
	"AND later.system IS call.system AND taken.title = offer.title AND " what ")"

/* Declined and not accepted since; or not decided on, and not offered again. */
#define IS_LEFT "(decision = 'declined' AND NOT " IS_LATER("taken.decision = 'accepted' " \
	"AND coalesce(taken.decided_at, later.opened_at) >= coalesce(offer.decided_at, " \
	"call.opened_at)") \
	" OR decision = 'none' AND NOT " IS_LATER("taken.id <> offer.id AND later.opened_at >= " \
	                                          "call.opened_at") ")"

/* When it was offered, whether another option was taken, what the office noted, on which unit. */
enum { LEFT_OFFERED_AT = 1, LEFT_OTHER_TAKEN, LEFT_OFFICE_NOTE, LEFT_SYSTEM, LEFT_SHAPE };

static const char besides_offer[] = ", call.opened_at, EXISTS (SELECT 1 FROM offer AS other "
	"WHERE other.call = call.id AND other.decision = 'accepted' AND other.price_high > 0), "
	"call.office_note, (SELECT uid FROM system WHERE id = call.system)";

enum status store_offers_left(struct store *store, const struct uid *customer,
                              const struct uid *system, const struct uid *except,
                              struct past_offer **list, size_t *count, struct error *error)
{
	static const char of_customer[] = "call.customer = (SELECT id FROM customer WHERE uid = ?1) "
		"AND NOT " IS_EXCEPTED " AND " IS_LEFT;
	static const char of_system[] = "call.system = (SELECT id FROM system WHERE uid = ?3) "
		"AND NOT " IS_EXCEPTED " AND " IS_LEFT " AND (SELECT customer FROM call AS whole "
		"WHERE whole.id = offer.call) = (SELECT id FROM customer WHERE uid = ?1)";
	const char *sql = uid_is_none(system)
		? select_left(store, MADE_LEFT, LIST_OFFERS, besides_offer, of_customer)
		: select_left(store, MADE_LEFT_OF_SYSTEM, LIST_OFFERS, besides_offer, of_system);
	struct gather offers = { .size = sizeof **list };
	sqlite3_stmt *row = book_query(store, sql, uid_is_none(system) ? "ss" : "sss", customer->text,
	                               uid_or_none(except), system->text);
	bool goes_on = true;

	while (goes_on && book_next(store, row)) {
		struct past_offer past = { .offer.uid = row_uid(row, 0),
		                           .system = row_uid(row, LEFT_SYSTEM),
			.offered_at = row_time(row, LEFT_OFFERED_AT),
			.is_other_taken = sqlite3_column_int(row, LEFT_OTHER_TAKEN) != 0 };
		row_copy(row, LEFT_OFFICE_NOTE, past.office_note, sizeof past.office_note);
		shape_read(&store->shapes[THING_LISTS + LIST_OFFERS], row, LEFT_SHAPE, &past.offer);
		goes_on = gather_add(&offers, &past);
	}
	return book_hand_over(store, row, STATUS_OK, &offers, list, count, error);
}
