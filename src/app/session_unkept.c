/*
 * The file beside the book with what is not kept (BOOK.unkept): one line for
 * each, so that it is there again at the next start.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <padside/base/beside.h>
#include <padside/base/text.h>

#include "app/session_parts.h"

/* Names of the fields in that file. */
static const char *const field_names[FIELD_COUNT] = {
#define FIELD(id, ...) [FIELD_##id] = #id,
#include <padside/app/fields.def>
#undef FIELD
};

static bool spool_path(const struct session *session, struct text *path)
{
	text_init(path);
	text_add_format(path, "%s.unkept", store_path(session->store));
	if (*store_path(session->store) && !path->failed)
		return true;
	text_done(path);
	return false;
}

/* One line each: call, place, text; line ends, tabs and backslashes escaped. */
static void add_line(struct text *text, const struct session_pending *pending)
{
	if (pending->is_line)
		text_add_format(text, "%s\tline\t%s|%s|%d|%s\t", pending->call.text, pending->what,
		                pending->uid.text, pending->which, pending->label);
	else if (pending->is_field)
		text_add_format(text, "%s\tfield\t%s\t", pending->call.text, field_names[pending->field]);
	else
		text_add_format(text, "%s\t%s\t%s\t", pending->call.text, stage_key(pending->stage),
		                reading_info(pending->reading)->key);
	for (const char *at = pending->text; *at; at++)
		if (*at == '\n' || *at == '\t' || *at == '\\')
			text_add_format(text, "\\%c", *at == '\n' ? 'n' : *at == '\t' ? 't' : '\\');
		else
			text_add_char(text, *at);
	text_add_char(text, '\n');
}

static bool write_all(int file, const char *bytes, size_t length)
{
	while (length > 0) {
		ssize_t wrote = write(file, bytes, length);
		if (wrote <= 0)
			return false;
		bytes += wrote;
		length -= (size_t)wrote;
	}
	return true;
}

static void unescape(const char *from, char *to, size_t size)
{
	size_t length = 0;

	for (; *from && length + 1 < size; from++) {
		char byte = *from;
		if (byte == '\\' && from[1]) {
			from++;
			byte = *from == 'n' ? '\n' : *from == 't' ? '\t' : *from;
		}
		to[length++] = byte;
	}
	to[length] = '\0';
	text_trim_broken_utf8(to);
}

/* "work|UID|2|description". */
static bool read_place(const char *place, struct session_pending *pending)
{
	char uid[UID_SIZE] = "";
	int used = 0;

	/* The sizes of the struct, less one; a place with no uid has two bars in a row. */
	if (sscanf(place, "%23[^|]|%36[^|]|%d|%n", pending->what, uid, &pending->which, &used) < 3 &&
	    sscanf(place, "%23[^|]||%d|%n", pending->what, &pending->which, &used) < 2)
		return false;
	text_copy(pending->uid.text, UID_SIZE, uid);
	return used > 0 && text_copy(pending->label, sizeof pending->label, place + used);
}

/* Understands a line; false when it is none. */
static bool read_line(char *line, struct session_pending *pending)
{
	char *parts[4] = { line };

	for (int i = 1; i < 4; i++) {
		char *tab = strchr(parts[i - 1], '\t');
		if (!tab)
			return false;
		*tab = '\0';
		parts[i] = tab + 1;
	}
	*pending = (struct session_pending){ .recovered = true };
	if (!uid_is_valid(parts[0]) || !text_copy(pending->call.text, UID_SIZE, parts[0]))
		return false;
	unescape(parts[3], pending->text, sizeof pending->text);
	pending->is_field = strcmp(parts[1], "field") == 0;
	pending->is_line = strcmp(parts[1], "line") == 0;
	if (pending->is_line)
		return read_place(parts[2], pending);
	if (!pending->is_field) {
		pending->stage = strcmp(parts[1], stage_key(STAGE_AS_LEFT)) == 0 ? STAGE_AS_LEFT
		                                                                 : STAGE_AS_FOUND;
		pending->reading = reading_from_key(parts[2]);
		return pending->reading != READING_NONE;
	}
	int field = 0;
	while (field < FIELD_COUNT && strcmp(field_names[field], parts[2]) != 0)
		field++;
	pending->field = (enum field)field;
	return field < FIELD_COUNT;
}

/* Reads the file's lines one by one. */
static void read_lines(const struct session *session,
                       void (*each)(const struct session_pending *pending, void *context),
                       void *context)
{
	struct session_pending pending;
	struct text path;
	char *line = NULL;
	size_t size = 0;

	if (!spool_path(session, &path))
		return;
	FILE *file = fopen(text_get(&path), "re");
	text_done(&path);
	if (!file)
		return;
	ssize_t length;
	while ((length = getline(&line, &size, file)) > 0) {
		if (line[length - 1] == '\n')
			line[length - 1] = '\0';
		if (read_line(line, &pending))
			each(&pending, context);
	}
	free(line);
	fclose(file);
}

static void take_in(const struct session_pending *pending, void *context)
{
	struct error ignored;

	session_hold(context, pending, &ignored);
}

void session_read_spool(struct session *session)
{
	read_lines(session, take_in, session);
	session->spool_due = false;
}

/* ---- Writing ---- */

/* What is to be written, and whose places are left out of what stands there. */
struct spool {
	const struct session *session; /* whose */
	struct text text;              /* the lines */
};

/* Of another program that holds something for this book. */
static void keep_foreign(const struct session_pending *pending, void *context)
{
	struct spool *spool = context;

	for (size_t i = 0; i < spool->session->ours_count; i++)
		if (session_is_same_place(&spool->session->ours[i], pending))
			return;
	add_line(&spool->text, pending);
}

static enum status write_spool(const struct text *text, const char *path, struct error *error)
{
	struct beside beside;
	enum status status = beside_begin(&beside, path, 0600, error);

	if (status != STATUS_OK)
		return status;
	if (!text->failed && write_all(beside.file, text_get(text), text->length))
		return beside_end(&beside, true, error);
	beside_drop(&beside);
	return error_set(error, STATUS_IO,
	                 "%s cannot be written: what could not be kept is lost when the "
	                 "program ends; write it down", path);
}

enum status session_spool(struct session *session, struct error *error)
{
	struct spool spool = { .session = session };
	struct text path;
	enum status status = STATUS_OK;

	if (!spool_path(session, &path)) {
		session->spool_due = false;
		return STATUS_OK;
	}
	text_init(&spool.text);
	read_lines(session, keep_foreign, &spool);
	for (size_t i = 0; i < session->pending_count; i++)
		add_line(&spool.text, &session->pending[i]);
	if (spool.text.length > 0 || spool.text.failed)
		status = write_spool(&spool.text, text_get(&path), error);
	else
		unlink(text_get(&path));
	session->spool_due = session->spool_due && status != STATUS_OK;
	text_done(&spool.text);
	text_done(&path);
	return status;
}

bool session_is_spool_due(const struct session *session)
{
	return session->spool_due;
}

/* ---- How keeping went ---- */

enum status session_note_outcome(struct session *session, const struct session_pending *place,
                                 const char *typed, enum status status, struct error *error)
{
	struct session_pending pending = *place;
	struct error ignored;

	pending.call = session->call.uid;
	if (status == STATUS_OK) {
		if (!session_pending_find(session, &pending))
			return status;
		session_pending_drop_place(session, &pending);
		/* What is kept must not be offered again. */
		session_spool(session, &ignored);
		return status;
	}
	if (!session_may_keep_later(status) || !session->is_open)
		return status;
	text_copy(pending.text, sizeof pending.text, typed);
	text_copy(pending.why, sizeof pending.why, error->text);
	if (session_hold(session, &pending, &ignored) == STATUS_OK)
		error_set(error, status, "not kept yet, it is tried again: %s", pending.why);
	return status;
}
