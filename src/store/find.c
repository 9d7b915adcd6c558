/*
 * Finding: calls newest first, customers as one types, what is known of a
 * machine.
 *
 * No list here grows with the book: each walks an index from its newest end
 * and stops at the limit.  Text is looked up in customer_search, an index of
 * all runs of three letters; one or two letters are looked up as a beginning.
 */
#include "store/parts.h"

#include <ctype.h>
#include <string.h>

#include <padside/text.h>

/* ---- What was typed into a search ---- */

enum { SEARCH_TEXT_SIZE = 256, SHORT_WORDS = 2, SHORT_WORD_SIZE = 12 };

enum search_way { SEARCH_ALL, SEARCH_PARTS, SEARCH_BEGINNING };

struct search {
	enum search_way way;                            /* how it is looked up */
	char parts[SEARCH_TEXT_SIZE * 2];               /* for MATCH: every word, quoted */
	char filters[SHORT_WORDS][SHORT_WORD_SIZE];     /* words too short for MATCH, lower case */
	char beginning[SEARCH_TEXT_SIZE];               /* the text itself */
	char beyond[SEARCH_TEXT_SIZE + 4];              /* sorts after all that begins so */
};

static int count_characters(const char *text, size_t length)
{
	int count = 0;

	for (size_t i = 0; i < length; i++)
		count += ((unsigned char)text[i] & 0xc0) != 0x80;
	return count;
}

/* Adds a word to the MATCH expression, as a string in its grammar. */
static void add_part(struct search *search, const char *word, size_t length)
{
	size_t at = strlen(search->parts);

	if (at + 2 * length + 4 > sizeof search->parts)
		return;
	if (at > 0)
		search->parts[at++] = ' ';
	search->parts[at++] = '"';
	for (size_t i = 0; i < length; i++) {
		if (word[i] == '"')
			search->parts[at++] = '"';
		search->parts[at++] = word[i];
	}
	search->parts[at++] = '"';
	search->parts[at] = '\0';
}

static void add_filter(struct search *search, int index, const char *word, size_t length)
{
	if (index >= SHORT_WORDS || length >= SHORT_WORD_SIZE)
		return;
	for (size_t i = 0; i < length; i++)
		search->filters[index][i] = (char)tolower((unsigned char)word[i]);
	search->filters[index][length] = '\0';
}

static void understand(const char *typed, struct search *search)
{
	const char *blanks = " \t";
	int filters = 0;

	memset(search, 0, sizeof *search);
	if (!typed)
		return;
	text_copy(search->beginning, sizeof search->beginning, typed + strspn(typed, blanks));
	for (size_t end = strlen(search->beginning); end > 0; end--) {
		if (!strchr(blanks, search->beginning[end - 1]))
			break;
		search->beginning[end - 1] = '\0';
	}
	if (search->beginning[0] == '\0')
		return;
	for (const char *at = search->beginning; *at; at += strspn(at, blanks)) {
		size_t length = strcspn(at, blanks);
		if (count_characters(at, length) >= 3)
			add_part(search, at, length);
		else
			add_filter(search, filters++, at, length);
		at += length;
	}
	/* Only short words: together they may be long enough. */
	size_t whole = strlen(search->beginning);
	if (search->parts[0] == '\0' && count_characters(search->beginning, whole) >= 3)
		add_part(search, search->beginning, whole);
	search->way = search->parts[0] ? SEARCH_PARTS : SEARCH_BEGINNING;
	/* The last character of Unicode comes after whatever goes on from here. */
	memcpy(search->beyond, search->beginning, whole);
	memcpy(search->beyond + whole, "\xf4\x8f\xbf\xbf", 4);
}

/* ---- Calls ---- */

/*
 * The newest calls are found by their ids alone, and only those that are shown
 * are looked at.  ?5 is earlier than all when no day is asked for; ?6, ?7 later
 * than all when not going on below a line.
 */
#define CALL_LINES(from, where) \
	"SELECT call.uid, customer.uid, system.uid, opened_at, closed_at, customer.name, address, " \
	"system.name, complaint, found_line, done_line FROM (SELECT id FROM " from " WHERE " where \
	" AND opened_at >= ?5 AND (opened_at, uid) < (?6, ?7) AND (?8 = 0 OR closed_at IS NULL) " \
	"ORDER BY opened_at DESC, uid DESC LIMIT ?9) AS newest " \
	"CROSS JOIN call ON call.id = newest.id JOIN customer ON customer.id = call.customer " \
	"JOIN site ON site.id = call.site JOIN system ON system.id = call.system " \
	"ORDER BY opened_at DESC, call.uid DESC"

/* Customers whom a search means. */
#define BY_PARTS \
	"(SELECT rowid FROM customer_search WHERE words MATCH ?1 " \
	"AND (?3 = '' OR instr(lower(words), ?3) > 0) AND (?4 = '' OR instr(lower(words), ?4) > 0))"
#define BY_BEGINNING \
	"(SELECT id FROM customer WHERE name >= ?1 AND name < ?2 " \
	"UNION SELECT id FROM customer WHERE phone >= ?1 AND phone < ?2 " \
	"UNION SELECT customer FROM site WHERE address >= ?1 AND address < ?2)"

/*
 * Few customers: all calls of each, put in order.  Many: the calls from the
 * newest on until enough are of one of them; the + keeps it to that way.
 */
#define CALLS_OF_FEW(customers) CALL_LINES("call", "customer IN " customers)
#define CALLS_OF_MANY(customers) \
	CALL_LINES("call INDEXED BY call_by_time", "+customer IN " customers)

enum { MANY_CUSTOMERS = 500 };

static const char calls_of_system[] =
	CALL_LINES("call", "system = (SELECT id FROM system WHERE uid = ?1)");
static const char calls_of_customer[] =
	CALL_LINES("call", "customer = (SELECT id FROM customer WHERE uid = ?1)");
static const char calls_open[] = CALL_LINES("call", "closed_at IS NULL");
static const char calls_all[] = CALL_LINES("call", "true");

struct way_to_calls {
	const char *many;    /* counts such customers, up to a limit */
	const char *forms;   /* of what it takes: the text, the limit, perhaps what lies beyond */
	const char *by_few;  /* their calls, when they are few */
	const char *by_many; /* and when they are many */
};

static const struct way_to_calls ways_to_calls[] = {
	[SEARCH_PARTS] = {
		.many = "SELECT count(*) FROM (SELECT 1 FROM customer_search WHERE words MATCH ?1 "
			"LIMIT ?2)",
		.forms = "si",
		.by_few = CALLS_OF_FEW(BY_PARTS), .by_many = CALLS_OF_MANY(BY_PARTS),
	},
	[SEARCH_BEGINNING] = {
		.many = "SELECT count(*) FROM (SELECT 1 FROM customer WHERE name >= ?1 AND name < ?3 UNION ALL "
			"SELECT 1 FROM customer WHERE phone >= ?1 AND phone < ?3 UNION ALL "
			"SELECT 1 FROM site WHERE address >= ?1 AND address < ?3 LIMIT ?2)",
		.forms = "sis",
		.by_few = CALLS_OF_FEW(BY_BEGINNING), .by_many = CALLS_OF_MANY(BY_BEGINNING),
	},
};

static sqlite3_stmt *query_calls(struct store *store, const char *sql, const char *first,
                                 const struct search *search, const struct call_filter *filter)
{
	char since[CLOCK_TEXT_SIZE], before[CLOCK_TEXT_SIZE] = "~";
	const struct call_line *after = filter->after;

	clock_format(filter->since, since, sizeof since);
	if (after)
		clock_format(after->opened_at, before, sizeof before);
	return book_query(store, sql, "sssssssii", first, search->beyond, search->filters[0],
	                  search->filters[1], since, before, after ? after->uid.text : "",
	                  (int64_t)filter->open_only,
	                  filter->limit > 0 ? (int64_t)filter->limit : (int64_t)-1);
}

/* Calls by what was typed: whether many customers are meant decides how. */
static sqlite3_stmt *query_by_text(struct store *store, const struct search *search,
                                   const struct call_filter *filter)
{
	const struct way_to_calls *way = &ways_to_calls[search->way];
	const char *first = search->way == SEARCH_PARTS ? search->parts : search->beginning;
	sqlite3_stmt *row = book_query(store, way->many, way->forms, first, (int64_t)MANY_CUSTOMERS,
	                               search->beyond);

	if (!book_next(store, row))
		return NULL;
	bool many = sqlite3_column_int(row, 0) >= MANY_CUSTOMERS;
	book_stop(row);
	return query_calls(store, many ? way->by_many : way->by_few, first, search, filter);
}

static sqlite3_stmt *choose_calls(struct store *store, const struct call_filter *filter)
{
	struct search search;

	understand(filter->text, &search);
	if (!uid_is_none(&filter->system))
		return query_calls(store, calls_of_system, filter->system.text, &search, filter);
	if (!uid_is_none(&filter->customer))
		return query_calls(store, calls_of_customer, filter->customer.text, &search, filter);
	if (search.way != SEARCH_ALL)
		return query_by_text(store, &search, filter);
	return query_calls(store, filter->open_only ? calls_open : calls_all, "", &search, filter);
}

enum status store_find_calls(struct store *store, const struct call_filter *filter,
                             store_call_fn *each, void *context, struct error *error)
{
	sqlite3_stmt *row = choose_calls(store, filter);

	while (book_next(store, row)) {
		struct call_line line = {
			.uid = row_uid(row, 0), .customer_uid = row_uid(row, 1),
			.system_uid = row_uid(row, 2), .opened_at = row_time(row, 3),
			.closed_at = row_time(row, 4),
		};
		row_copy(row, 5, line.customer, sizeof line.customer);
		row_copy(row, 6, line.address, sizeof line.address);
		row_copy(row, 7, line.system, sizeof line.system);
		row_copy(row, 8, line.complaint, sizeof line.complaint);
		row_copy(row, 9, line.found_line, sizeof line.found_line);
		row_copy(row, 10, line.done_line, sizeof line.done_line);
		if (!each(&line, context)) {
			book_stop(row);
			break;
		}
	}
	return book_outcome(store, error);
}

/* ---- Customers ---- */

#define CUSTOMER_LINES \
	"SELECT customer.uid, name, phone, email, " \
	"(SELECT address FROM site WHERE customer = customer.id ORDER BY id LIMIT 1), " \
	"(SELECT count(*) FROM site WHERE customer = customer.id), " \
	"(SELECT max(opened_at) FROM call WHERE customer = customer.id) FROM "

static const char customers_all[] = CUSTOMER_LINES "customer ORDER BY id DESC LIMIT ?5";
/* The index of parts is walked from its newest end; CROSS JOIN keeps it first. */
static const char customers_by_parts[] =
	CUSTOMER_LINES "customer_search CROSS JOIN customer ON customer.id = customer_search.rowid "
	"WHERE words MATCH ?1 AND (?3 = '' OR instr(lower(words), ?3) > 0) "
	"AND (?4 = '' OR instr(lower(words), ?4) > 0) ORDER BY customer_search.rowid DESC LIMIT ?5";
/* A beginning gives the first of an alphabet, so that each index is read no further than shown. */
static const char customers_by_beginning[] =
	CUSTOMER_LINES "customer WHERE id IN ("
	"SELECT * FROM (SELECT id FROM customer WHERE name >= ?1 AND name < ?2 ORDER BY name LIMIT ?5) "
	"UNION SELECT * FROM (SELECT id FROM customer WHERE phone >= ?1 AND phone < ?2 "
	"ORDER BY phone LIMIT ?5) "
	"UNION SELECT * FROM (SELECT customer FROM site WHERE address >= ?1 AND address < ?2 "
	"ORDER BY address LIMIT ?5)) ORDER BY name, id LIMIT ?5";

static sqlite3_stmt *choose_customers(struct store *store, const char *text, int limit)
{
	static const char *const ways[] = {
		[SEARCH_ALL] = customers_all, [SEARCH_PARTS] = customers_by_parts,
		[SEARCH_BEGINNING] = customers_by_beginning,
	};
	struct search search;

	understand(text, &search);
	return book_query(store, ways[search.way], "ssssi",
	                  search.way == SEARCH_PARTS ? search.parts : search.beginning, search.beyond,
	                  search.filters[0], search.filters[1],
	                  limit > 0 ? (int64_t)limit : (int64_t)-1);
}

static void customer_from_row(sqlite3_stmt *row, int first, struct customer *customer)
{
	customer->uid = row_uid(row, first);
	row_copy(row, first + 1, customer->name, sizeof customer->name);
	row_copy(row, first + 2, customer->phone, sizeof customer->phone);
	row_copy(row, first + 3, customer->email, sizeof customer->email);
}

enum status store_find_customers(struct store *store, const char *text, int limit,
                                 store_customer_fn *each, void *context, struct error *error)
{
	sqlite3_stmt *row = choose_customers(store, text, limit);

	while (book_next(store, row)) {
		struct customer_line line = {
			.site_count = sqlite3_column_int(row, 5), .last_call = row_time(row, 6),
		};
		customer_from_row(row, 0, &line.customer);
		row_copy(row, 4, line.address, sizeof line.address);
		if (!each(&line, context)) {
			book_stop(row);
			break;
		}
	}
	return book_outcome(store, error);
}

/* ---- Sites and systems ---- */

enum status store_customer_sites(struct store *store, const struct uid *customer,
                                 store_site_fn *each, void *context, struct error *error)
{
	static const char sql[] =
		"SELECT uid, address FROM site WHERE customer = (SELECT id FROM customer WHERE uid = ?1) "
		"ORDER BY id";
	sqlite3_stmt *row = book_query(store, sql, "s", customer->text);

	while (book_next(store, row)) {
		struct site site = { .uid = row_uid(row, 0) };
		row_copy(row, 1, site.address, sizeof site.address);
		if (!each(&site, context)) {
			book_stop(row);
			break;
		}
	}
	return book_outcome(store, error);
}

#define SYSTEM_LINES \
	"SELECT system.uid, system.name, site.uid, address, customer.uid, customer.name, phone, " \
	"email, (SELECT max(opened_at) FROM call WHERE system = system.id), " \
	"(SELECT count(*) FROM call WHERE system = system.id), " \
	"(SELECT id FROM call WHERE system = system.id ORDER BY opened_at DESC, id DESC LIMIT 1) " \
	"FROM system JOIN site ON site.id = system.site " \
	"JOIN customer ON customer.id = site.customer WHERE "

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
	visit_init(&line->nameplate);
	return values_load_nameplate(store, sqlite3_column_int64(row, 10), &line->nameplate, error);
}

enum status store_customer_systems(struct store *store, const struct uid *customer,
                                   store_system_fn *each, void *context, struct error *error)
{
	static const char sql[] = SYSTEM_LINES "customer.uid = ?1 ORDER BY site.id, system.id";
	sqlite3_stmt *row = book_query(store, sql, "s", customer->text);
	struct system_line line;

	while (book_next(store, row)) {
		enum status status = system_from_row(store, row, &line, error);
		if (status != STATUS_OK || !each(&line, context)) {
			book_stop(row);
			return status;
		}
	}
	return book_outcome(store, error);
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

enum status store_system_visits(struct store *store, const struct uid *system,
                                store_visit_fn *each, void *context, struct error *error)
{
	static const char sql[] =
		"SELECT uid, opened_at, closed_at, found_line, done_line, id FROM call "
		"WHERE system = (SELECT id FROM system WHERE uid = ?1) ORDER BY opened_at DESC, id DESC";
	sqlite3_stmt *row = book_query(store, sql, "s", system->text);
	struct store_visit visit;

	while (book_next(store, row)) {
		visit.call = row_uid(row, 0);
		visit.opened_at = row_time(row, 1);
		visit.closed_at = row_time(row, 2);
		row_copy(row, 3, visit.found_line, sizeof visit.found_line);
		row_copy(row, 4, visit.done_line, sizeof visit.done_line);
		visit_init(&visit.visit);
		enum status status = values_load(store, sqlite3_column_int64(row, 5), &visit.visit, error);
		if (status != STATUS_OK || !each(&visit, context)) {
			book_stop(row);
			return status;
		}
	}
	return book_outcome(store, error);
}

/* ---- What earlier calls left behind ---- */

enum status store_open_watch_items(struct store *store, const struct uid *system,
                                   store_watch_fn *each, void *context, struct error *error)
{
	static const char sql[] =
		"SELECT " WATCH_COLUMNS ", call.uid FROM call JOIN watch_item ON watch_item.call = call.id "
		"WHERE call.system = (SELECT id FROM system WHERE uid = ?1) "
		"AND watch_item.closed_at IS NULL ORDER BY opened_at DESC, call.id DESC, position";
	sqlite3_stmt *row = book_query(store, sql, "s", system->text);

	while (book_next(store, row)) {
		struct watch_item item = { .fault = "" };
		struct uid call = row_uid(row, 5);
		watch_from_row(row, &item);
		if (!each(&item, &call, context)) {
			book_stop(row);
			break;
		}
	}
	return book_outcome(store, error);
}

enum status store_declined_offers(struct store *store, const struct uid *customer,
                                  const struct uid *system, store_offer_fn *each, void *context,
                                  struct error *error)
{
	static const char sql[] =
		"SELECT " OFFER_COLUMNS ", call.uid FROM call JOIN offer ON offer.call = call.id "
		"WHERE call.customer = (SELECT id FROM customer WHERE uid = ?1) "
		"AND (?2 = '' OR call.system = (SELECT id FROM system WHERE uid = ?2)) "
		"AND decision = 'declined' ORDER BY opened_at DESC, call.id DESC, position";
	sqlite3_stmt *row = book_query(store, sql, "ss", customer->text, system->text);

	while (book_next(store, row)) {
		struct offer offer = { .title = "" };
		struct uid call = row_uid(row, 11);
		offer_from_row(row, &offer);
		if (!each(&offer, &call, context)) {
			book_stop(row);
			break;
		}
	}
	return book_outcome(store, error);
}
