/*
 * The connection to the firm's office (libpq), and its schema.
 */
#include "store/office.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/schema.h>
#include <padside/base/text.h>

#ifdef HAVE_LIBPQ

#include "store/libpq.h"

enum status office_refuse(const struct office *office, const char *what, struct error *error)
{
	struct text words;

	/* libpq's words may run over several lines. */
	text_init(&words);
	text_add(&words, pq.errorMessage(office->connection));
	for (size_t i = 0; i < words.length; i++)
		if (words.bytes[i] == '\n')
			words.bytes[i] = i + 1 < words.length ? ' ' : '\0';
	error_set(error, STATUS_IO, "%s: %.400s; nothing was lost; try again when the network is there",
	          what, text_get(&words));
	text_done(&words);
	return STATUS_IO;
}

/* A socket, or the loopback: nobody else can listen. */
static bool is_local(const char *host, const char *address)
{
	const char *name = address && *address ? address : host;

	/* Of several hosts one may be another machine. */
	if (name && strchr(name, ','))
		return false;
	return !name || !*name || *name == '/' || *name == '@' || strcmp(name, "localhost") == 0 ||
	       strcmp(name, "::1") == 0 || strncmp(name, "127.", 4) == 0;
}

static const char *option_of(const PQconninfoOption *options, const char *keyword)
{
	for (; options && options->keyword; options++)
		if (strcmp(options->keyword, keyword) == 0)
			return options->val;
	return NULL;
}

/* Letters, digits and _ only: the name stands in SQL as it is. */
static bool is_firm(const char *firm)
{
	size_t length = strspn(firm, "abcdefghijklmnopqrstuvwxyz0123456789_");

	return length > 0 && length <= 40 && firm[length] == '\0' && (*firm < '0' || *firm > '9') &&
	       strncmp(firm, "pg_", 3) != 0;
}

/* What an address must not say: a password, where others can read it. */
static enum status check_address(const char *words, struct error *error)
{
	char *why = NULL;
	PQconninfoOption *options = pq.conninfoParse(words, &why);
	bool has_password = options && option_of(options, "password");

	if (!options)
		error_set(error, STATUS_BAD_INPUT, "the address of the office cannot be read: %.200s",
		          why ? why : "no memory");
	pq.freemem(why);
	pq.conninfoFree(options);
	if (!options)
		return STATUS_BAD_INPUT;
	return has_password
		? error_set(error, STATUS_REFUSED, "the address has a password in it, where others can "
		            "read it; put it into the passfile (~/.pgpass) and leave it out here")
		            : STATUS_OK;
}

/*
 * How the server is to be checked, from all that says it: the address, a
 * service, the environment.  *decide: nobody said it, and it is to be verified.
 */
static enum status check_security(const char *words, bool *decide, struct error *error)
{
	const char *const keywords[] = { "dbname", NULL };
	const char *const values[] = { words, NULL };
	/* Only begun, to read what would count; nothing is said to the server. */
	PGconn *begun = pq.connectStartParams(keywords, values, 1);
	PQconninfoOption *options = pq.conninfo(begun);
	const char *mode = option_of(options, "sslmode");
	bool local = is_local(option_of(options, "host"), option_of(options, "hostaddr"));
	bool is_checked = mode && strncmp(mode, "verify-", 7) == 0;
	enum status status = STATUS_OK;

	/* "prefer" is what libpq takes where nothing was said. */
	*decide = !local && (!mode || (strcmp(mode, "prefer") == 0 && !strstr(words, "sslmode")));
	if (!local && !is_checked && !*decide)
		status = error_set(error, STATUS_REFUSED,
		                   "sslmode=%s does not check the server; leave it out, or use verify-full",
		                   mode);
	pq.conninfoFree(options);
	pq.finish(begun);
	return status;
}

/* An address without "://" and "=" is the name of a service. */
static bool is_service(const char *address)
{
	return !strstr(address, "://") && !strchr(address, '=');
}

/* A network that is gone is noticed; what the address says of these wins. */
static const char connect_seconds[] = "10", silence_milliseconds[] = "30000";
static const char keepalive_seconds[] = "20";

/* Connects with what the address says; where it leaves that open, encrypted and checked. */
static enum status connect_with(struct office *office, const char *address, bool decide,
                                struct error *error)
{
	/* What stands behind dbname wins over what the address says. */
	const char *const keywords[] = {
		"connect_timeout", "tcp_user_timeout", "keepalives_idle", "dbname", "application_name",
		decide ? "sslmode" : NULL, NULL };
	const char *const values[] = {
		connect_seconds, silence_milliseconds, keepalive_seconds, address, "padside",
		decide ? "verify-full" : NULL, NULL };

	office->connection = pq.connectdbParams(keywords, values, 1);
	if (pq.status(office->connection) != CONNECTION_OK)
		return office_refuse(office, "the office cannot be reached", error);
	if (pq.sslInUse(office->connection) ||
	    is_local(pq.host(office->connection), pq.hostaddr(office->connection)))
		return STATUS_OK;
	return error_set(error, STATUS_REFUSED,
	                 "the connection to the office is not encrypted; nothing "
	                 "was sent; use sslmode=verify-full");
}

static enum status connect_to(struct office *office, const char *address, struct error *error)
{
	char service[160];
	const char *words = address;
	bool decide;

	if (is_service(address)) {
		snprintf(service, sizeof service, "service=%s", address);
		words = service;
	}
	enum status status = check_address(words, error);
	if (status == STATUS_OK)
		status = check_security(words, &decide, error);
	return status == STATUS_OK ? connect_with(office, words, decide, error) : status;
}

enum status office_run(struct office *office, const char *sql, const char *what,
                       struct error *error)
{
	PGresult *result = pq.exec(office->connection, sql);
	ExecStatusType ended = pq.resultStatus(result);

	pq.clear(result);
	return ended == PGRES_COMMAND_OK || ended == PGRES_TUPLES_OK
		? STATUS_OK : office_refuse(office, what, error);
}

/* "relation exists already, skipping" and the like are nobody's business. */
static void ignore_notice(void *context, const char *message)
{
	(void)context;
	(void)message;
}

enum status office_open(struct office *office, const char *address, const char *firm,
                        struct error *error)
{
	*office = (struct office){ .connection = NULL };
	enum status status = pq_load(error);
	if (status == STATUS_OK)
		status = connect_to(office, address, error);
	if (status != STATUS_OK)
		return status;
	text_copy(office->firm, sizeof office->firm, firm ? firm : pq.db(office->connection));
	if (!is_firm(office->firm))
		return error_set(error, STATUS_BAD_INPUT, "\"%.60s\" cannot name a firm's schema; use "
		                 "small letters, digits and _, with --firm NAME", office->firm);
	pq.setNoticeProcessor(office->connection, ignore_notice, NULL);
	return STATUS_OK;
}

void office_close(struct office *office)
{
	if (office->connection)
		pq.finish(office->connection);
	office->connection = NULL;
}

/* ---- Laying out the schema ---- */

/* The text of a migration with the firm's name in it. */
static void fill_in(const char *sql, const char *firm, struct text *text)
{
	static const char mark[] = "@firm@";

	for (const char *at; (at = strstr(sql, mark)) != NULL; sql = at + strlen(mark)) {
		text_add_format(text, "%.*s", (int)(at - sql), sql);
		text_add(text, firm);
	}
	text_add(text, sql);
}

/* The last migration that the server has; 0: none, the schema is not there. */
static enum status find_migration(struct office *office, int *number, struct error *error)
{
	struct text sql;

	text_init(&sql);
	text_add_format(&sql, "SELECT CASE WHEN to_regclass('%s.migration') IS NULL THEN 0 ELSE 1 END",
	                office->firm);
	PGresult *result = pq.exec(office->connection, text_get(&sql));
	bool is_there = pq.resultStatus(result) == PGRES_TUPLES_OK &&
	                strcmp(pq.getvalue(result, 0, 0), "1") == 0;
	enum status status = pq.resultStatus(result) == PGRES_TUPLES_OK
		? STATUS_OK : office_refuse(office, "the office's schema cannot be looked at", error);
	pq.clear(result);
	*number = 0;
	if (status == STATUS_OK && is_there) {
		text_clear(&sql);
		text_add_format(&sql, "SELECT coalesce(max(number), 0) FROM %s.migration", office->firm);
		result = pq.exec(office->connection, text_get(&sql));
		if (pq.resultStatus(result) == PGRES_TUPLES_OK)
			*number = (int)strtol(pq.getvalue(result, 0, 0), NULL, 10);
		else
			status = office_refuse(office, "the office's schema cannot be read", error);
		pq.clear(result);
	}
	text_done(&sql);
	return status;
}

static enum status apply(struct office *office, const struct schema_migration *migration,
                         struct error *error)
{
	struct text sql;

	text_init(&sql);
	text_add(&sql, "BEGIN;\n");
	fill_in(migration->sql, office->firm, &sql);
	text_add_format(&sql, "INSERT INTO %s.migration (number, name) VALUES (%d, '%s');\nCOMMIT;",
	                office->firm, migration->number, migration->name);
	enum status status = sql.failed
		? error_set(error, STATUS_NO_MEMORY, "there is no memory left; close other programs")
		: office_run(office, text_get(&sql), "the office's schema could not be laid out", error);
	text_done(&sql);
	return status;
}

enum status store_office_init(const char *address, const char *firm, int *applied,
                              struct error *error)
{
	struct office office;
	int number = 0;

	*applied = 0;
	enum status status = office_open(&office, address, firm, error);
	if (status == STATUS_OK)
		status = find_migration(&office, &number, error);
	for (const struct schema_migration *at = office_migrations; at->number && status == STATUS_OK;
	     at++)
		if (at->number > number) {
			status = apply(&office, at, error);
			*applied += status == STATUS_OK;
		}
	office_close(&office);
	return status;
}

#else

enum status store_office_init(const char *address, const char *firm, int *applied,
                              struct error *error)
{
	(void)address;
	(void)firm;
	*applied = 0;
	return office_not_built(error);
}

#endif

bool sync_is_built(void)
{
#ifdef HAVE_LIBPQ
	return true;
#else
	return false;
#endif
}

enum status office_not_built(struct error *error)
{
	return error_set(error, STATUS_NOT_APPLICABLE,
	                 "this padside was built without libpq, so it cannot meet an office server; "
	                 "nothing was changed; build it again with libpq installed");
}
