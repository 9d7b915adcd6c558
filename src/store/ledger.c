/*
 * The refrigerant ledger: totals of the charge logs.
 */
#include "store/book.h"
#include "store/trail.h"

#include <stdio.h>
#include <string.h>

#include <padside/base/gather.h>

/* What was last read on a call for a field of the trail. */
#define READ(name) \
	"(SELECT new FROM entry WHERE thing = call.id AND field = (SELECT id FROM field WHERE name = " \
	"'" \
	name "') ORDER BY " TRAIL_LATEST " LIMIT 1)"

/* Whether two amounts are alike by the rule of padside/model/moved.h. */
#define ALIKE(ounces, amount) \
	"abs(" ounces " - " amount ") < max(0.05, min(1.05, 0.15 * " amount "))"

/* What the lines of a log of the same call come to, from line a to line z. */
#define RUN(column, log, which) \
	"(SELECT total(" column ") FROM " log " AS p WHERE p.call = weighed.call " which \
	"AND p.position BETWEEN a.position AND z.position)"

#define WEIGHED_IN "AND p.kind = 'weigh_in' AND p.amount > 0 "

/*
 * Whether a line of the tightness log is a filling that the charge log of its call does not have:
 * the rule of padside/model/moved.h.
 */
#define IS_WEIGH_IN \
	"weighed.kind = 'weigh_in' AND weighed.amount > 0 " \
	"AND NOT EXISTS (SELECT 1 FROM charge_entry AS a JOIN charge_entry AS z " \
	"ON z.call = a.call AND z.position >= a.position WHERE a.call = weighed.call " \
	"AND " ALIKE(RUN("added", "charge_entry", ""), "weighed.amount") ") " \
	"AND NOT EXISTS (SELECT 1 FROM tightness AS a JOIN tightness AS z ON z.call = a.call " \
	"AND z.position >= weighed.position JOIN charge_entry AS l ON l.call = a.call " \
	"WHERE a.call = weighed.call AND a.position <= weighed.position " \
	"AND " ALIKE(RUN("amount", "tightness", WEIGHED_IN), "l.added") ") " \
	"AND NOT " ALIKE("(SELECT total(added) FROM charge_entry AS log WHERE log.call = " \
	                 "weighed.call)", \
	"(SELECT total(amount) FROM tightness AS p WHERE p.call = weighed.call " WEIGHED_IN ")")

/* What was put in and taken out, a line each filling and each entry of the charge log. */
#define MOVES \
	"(SELECT call, at, cylinder, added, recovered FROM charge_entry UNION ALL " \
	"SELECT call, at, cylinder, amount, 0.0 FROM tightness AS weighed WHERE " IS_WEIGH_IN \
	") AS move"

/* The sums of each call by a key: the refrigerant is looked up once a call, names once a sum. */
#define SUMS(key) \
	"SELECT " key " AS name, call.customer AS customer, coalesce(" \
	READ("system.refrigerant") ", '') " \
	"AS refrigerant, total(added) AS added, total(recovered) AS recovered, count(*) AS entries " \
	"FROM " MOVES " JOIN call ON call.id = move.call GROUP BY call.id, 1"

/* One line for each key and refrigerant, called by what `words` says. */
#define LEDGER(sums, key, words, from) \
	"WITH sums AS MATERIALIZED (" sums ") " \
	"SELECT " key ", max(" words "), refrigerant, total(added), total(recovered), sum(entries) " \
	"FROM sums " from " GROUP BY 1, 3 ORDER BY 1, 3"

#define LEDGER_BY(key) LEDGER(SUMS(key), "sums.name", "sums.name", "")

static const char *const ledgers[] = {
	[LEDGER_BY_SYSTEM] = LEDGER(SUMS("call.system"), "system.uid",
		"customer.name || iif(system.name = '', '', ', ' || system.name)",
		"JOIN system ON system.id = sums.name JOIN customer ON customer.id = sums.customer"),
	[LEDGER_BY_YEAR] = LEDGER_BY("substr(coalesce(at, opened_at), 1, 4)"),
	[LEDGER_BY_CYLINDER] = LEDGER_BY("cylinder"),
};

static const char moves[] =
	"SELECT coalesce(move.at, call.opened_at), call.uid, call.job_number, "
	"coalesce(customer.name, '') || iif(coalesce(system.name, '') = '', '', ', ' || system.name), "
	"coalesce(" READ("system.refrigerant") ", ''), call.technician, move.cylinder, move.added, "
	"move.recovered FROM " MOVES " JOIN call ON call.id = move.call "
	"LEFT JOIN system ON system.id = call.system LEFT JOIN customer ON customer.id = call.customer "
	"WHERE move.added > 0 OR move.recovered > 0 ORDER BY 1, call.id, move.cylinder";

/*
 * A call that took out as much as it put in moved the charge and made up nothing.  Most did, or
 * moved none: the sums need indices alone, and only of a call that made up is more looked at.
 */
#define MADE_UP(which) \
	"WITH moved AS MATERIALIZED (SELECT call, " \
	"total(added) - total(recovered) + total(weighed) AS net FROM (SELECT call.id AS call, " \
	"added, recovered, 0.0 AS weighed FROM call JOIN charge_entry ON charge_entry.call = call.id " \
	"" which \
	"UNION ALL SELECT call.id, 0.0, 0.0, amount " \
	"FROM call JOIN tightness AS weighed ON weighed.call = call.id AND " IS_WEIGH_IN \
	" " which ") " \
	"GROUP BY call), " \
	"read AS (SELECT call.system, call.customer, substr(opened_at, 1, 4) AS year, net, " \
	READ("system.refrigerant") " AS refrigerant, " \
	"CAST(" READ("system.factory_charge") " AS REAL) AS charge, " \
	"CAST(" READ("system.manufacture_year") " AS REAL) AS made, " \
	"CAST(" READ("system.line_set_length") " AS REAL) AS line, " \
	"CAST(" READ("system.precharged_length") " AS REAL) AS precharged, " \
	"CAST(" READ("system.charge_per_length") " AS REAL) AS per_length, " \
	"coalesce(" READ("as_found.leak_place") ", '') || char(10) || " \
	"coalesce(" READ("as_left.leak_place") ", '') AS places, " \
	"EXISTS (SELECT 1 FROM tightness WHERE tightness.call = call.id AND kind <> 'weigh_in') AS " \
	"tested FROM moved JOIN call ON call.id = moved.call WHERE net > 0) " \
	"SELECT system.uid, max(customer.name || iif(system.name = '', '', ', ' || system.name)) " \
	"AS words, max(coalesce(refrigerant, '')), year, max(coalesce(charge, 0)), total(net), " \
	"max(coalesce(line, -1)), max(coalesce(precharged, -1)), max(coalesce(per_length, -1)), " \
	"group_concat(places, char(10)), max(tested) " \
	"FROM read JOIN system ON system.id = read.system JOIN customer ON customer.id = " \
	"read.customer WHERE (CAST(year AS INTEGER) > made) IS NOT FALSE " \
	"GROUP BY system.id, year ORDER BY words, system.uid, year"

static const char made_up_of_all[] = MADE_UP("");
static const char made_up_of_one[] =
	MADE_UP("WHERE call.system = (SELECT id FROM system WHERE uid = ?1) ");

enum status store_ledger(struct store *store, enum ledger_by by, struct ledger_line **list,
                         size_t *count, struct error *error)
{
	struct gather lines = { .size = sizeof **list };
	sqlite3_stmt *row = book_query(store, ledgers[by], "");
	bool goes_on = true;

	while (goes_on && book_next(store, row)) {
		struct ledger_line line = {
			.added_oz = sqlite3_column_double(row, 3),
			.recovered_oz = sqlite3_column_double(row, 4),
			.entries = sqlite3_column_int(row, 5),
		};
		row_copy(row, 0, line.key, sizeof line.key);
		row_copy(row, 1, line.words, sizeof line.words);
		row_copy(row, 2, line.refrigerant, sizeof line.refrigerant);
		goes_on = gather_add(&lines, &line);
	}
	return book_hand_over(store, row, STATUS_OK, &lines, list, count, error);
}

enum status store_moves(struct store *store, struct moved_line **list, size_t *count,
                        struct error *error)
{
	struct gather lines = { .size = sizeof **list };
	sqlite3_stmt *row = book_query(store, moves, "");
	bool goes_on = true;

	while (goes_on && book_next(store, row)) {
		struct moved_line line = {
			.at = row_time(row, 0),
			.added_oz = sqlite3_column_double(row, 7),
			.recovered_oz = sqlite3_column_double(row, 8),
		};
		row_copy(row, 1, line.call, sizeof line.call);
		row_copy(row, 2, line.number, sizeof line.number);
		row_copy(row, 3, line.words, sizeof line.words);
		row_copy(row, 4, line.refrigerant, sizeof line.refrigerant);
		row_copy(row, 5, line.technician, sizeof line.technician);
		row_copy(row, 6, line.cylinder, sizeof line.cylinder);
		goes_on = gather_add(&lines, &line);
	}
	return book_hand_over(store, row, STATUS_OK, &lines, list, count, error);
}

/* Whether one of these lines names the place of a leak. */
static bool is_leak_among(const char *places)
{
	char place[VALUE_TEXT_SIZE];

	while (*places) {
		size_t length = strcspn(places, "\n");
		snprintf(place, sizeof place, "%.*s", (int)length, places);
		if (leak_is_named(place))
			return true;
		places += length + (places[length] == '\n');
	}
	return false;
}

enum status store_made_up(struct store *store, const struct uid *system,
                          struct made_up_line **list, size_t *count, struct error *error)
{
	struct gather lines = { .size = sizeof **list };
	sqlite3_stmt *row = uid_is_none(system) ? book_query(store, made_up_of_all, "") :
	                    book_query(store, made_up_of_one, "s", system->text);
	bool goes_on = true;

	while (goes_on && book_next(store, row)) {
		struct made_up_line line = {
			.system = row_uid(row, 0),
			.year = sqlite3_column_int(row, 3),
			.charge_oz = sqlite3_column_double(row, 4),
			.made_up_oz = sqlite3_column_double(row, 5),
			.line_ft = sqlite3_column_double(row, 6),
			.precharged_ft = sqlite3_column_double(row, 7),
			.oz_per_ft = sqlite3_column_double(row, 8),
			.leak_found = is_leak_among(row_text(row, 9)),
			.after_repair = sqlite3_column_int(row, 10) != 0,
		};
		row_copy(row, 1, line.words, sizeof line.words);
		row_copy(row, 2, line.refrigerant, sizeof line.refrigerant);
		goes_on = gather_add(&lines, &line);
	}
	return book_hand_over(store, row, STATUS_OK, &lines, list, count, error);
}
