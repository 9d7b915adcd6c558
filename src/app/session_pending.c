/*
 * What was typed and could not be kept yet: the book was locked, the drive
 * full.  It stays here, is tried again, and goes into a small file beside the
 * book when the program ends, so that it is there again at the next start.
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

/* ---- In memory ---- */

static bool is_same_place(const struct session_pending *a, const struct session_pending *b)
{
	if (strcmp(a->call.text, b->call.text) != 0 || a->is_field != b->is_field)
		return false;
	return a->is_field ? a->field == b->field : a->stage == b->stage && a->reading == b->reading;
}

static size_t find(const struct session *session, const struct session_pending *place)
{
	size_t at = 0;

	while (at < session->pending_count && !is_same_place(&session->pending[at], place))
		at++;
	return at;
}

size_t session_pending_count(const struct session *session)
{
	return session->pending_count;
}

const struct session_pending *session_pending_at(const struct session *session, size_t index)
{
	return index < session->pending_count ? &session->pending[index] : NULL;
}

const struct session_pending *session_pending_find(const struct session *session,
                                                   const struct session_pending *place)
{
	struct session_pending here = *place;

	if (uid_is_none(&here.call))
		here.call = session->call.uid;
	return session_pending_at(session, find(session, &here));
}

void session_pending_drop(struct session *session, size_t index)
{
	if (index >= session->pending_count)
		return;
	memmove(&session->pending[index], &session->pending[index + 1],
	        (session->pending_count - index - 1) * sizeof *session->pending);
	session->pending_count--;
}

enum status session_hold(struct session *session, const struct session_pending *given,
                         struct error *error)
{
	struct session_pending pending = *given;

	if (uid_is_none(&pending.call))
		pending.call = session->call.uid;
	size_t at = find(session, &pending);
	if (at == session->pending_count) {
		struct session_pending *more = realloc(session->pending, (at + 1) * sizeof *more);
		if (!more)
			return error_set(error, STATUS_NO_MEMORY, "there is no memory left; close other programs");
		session->pending = more;
		session->pending_count++;
	}
	session->pending[at] = pending;
	return STATUS_OK;
}

/* Whether trying again later may help. */
static bool is_for_now(enum status status)
{
	switch (status) {
	case STATUS_BUSY:
	case STATUS_FULL:
	case STATUS_IO:
	case STATUS_NO_MEMORY:
	case STATUS_CANNOT_OPEN:
		return true;
	default:
		return false;
	}
}

enum status session_note_outcome(struct session *session, const struct session_pending *place,
                                 const char *typed, enum status status, struct error *error)
{
	struct session_pending pending = *place;
	struct error ignored;

	pending.call = session->call.uid;
	if (status == STATUS_OK) {
		size_t at = find(session, &pending);
		if (at == session->pending_count)
			return status;
		session_pending_drop(session, at);
		/* What is kept must not be offered again. */
		session_spool(session, &ignored);
		return status;
	}
	if (!is_for_now(status) || !session->is_open)
		return status;
	text_copy(pending.text, sizeof pending.text, typed);
	if (session_hold(session, &pending, &ignored) == STATUS_OK) {
		char why[sizeof error->text];
		text_copy(why, sizeof why, error->text);
		error_set(error, status, "not kept yet, it is tried again: %s", why);
	}
	return status;
}

static enum status try_again(struct session *session, const struct session_pending *pending,
                             struct error *error)
{
	return pending->is_field ? session_type_field(session, pending->field, pending->text, error)
	                         : session_type(session, pending->stage, pending->reading, pending->text,
	                                        error);
}

enum status session_retry(struct session *session, struct error *error)
{
	enum status status = STATUS_OK;
	size_t at = 0;

	while (session->is_open && at < session->pending_count) {
		const struct session_pending pending = session->pending[at];
		if (pending.recovered || strcmp(pending.call.text, session->call.uid.text) != 0) {
			at++;
			continue;
		}
		status = try_again(session, &pending, error);
		/* One that is refused for good now stays to be corrected; one that waits makes all wait. */
		if (status != STATUS_OK)
			return status;
		if (at < session->pending_count && is_same_place(&session->pending[at], &pending))
			session_pending_drop(session, at);
	}
	return status;
}

/* ---- In the file ---- */

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
	if (pending->is_field)
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

static enum status write_spool(const struct session *session, const char *path,
                               struct error *error)
{
	struct beside beside;
	struct text text;
	enum status status = beside_begin(&beside, path, 0600, error);

	if (status != STATUS_OK)
		return status;
	text_init(&text);
	for (size_t i = 0; i < session->pending_count; i++)
		add_line(&text, &session->pending[i]);
	bool wrote = !text.failed && write_all(beside.file, text_get(&text), text.length);
	text_done(&text);
	if (wrote)
		return beside_end(&beside, true, error);
	beside_drop(&beside);
	return error_set(error, STATUS_IO, "%s cannot be written: what could not be kept is lost when the "
	                 "program ends; write it down", path);
}

enum status session_spool(struct session *session, struct error *error)
{
	struct text path;
	enum status status = STATUS_OK;

	if (!spool_path(session, &path))
		return STATUS_OK;
	if (session->pending_count > 0)
		status = write_spool(session, text_get(&path), error);
	else
		unlink(text_get(&path));
	text_done(&path);
	return status;
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
	if (!pending->is_field) {
		pending->stage = strcmp(parts[1], stage_key(STAGE_AS_LEFT)) == 0 ? STAGE_AS_LEFT : STAGE_AS_FOUND;
		pending->reading = reading_from_key(parts[2]);
		return pending->reading != READING_NONE;
	}
	int field = 0;
	while (field < FIELD_COUNT && strcmp(field_names[field], parts[2]) != 0)
		field++;
	pending->field = (enum field)field;
	return field < FIELD_COUNT;
}

void session_read_spool(struct session *session)
{
	struct session_pending pending;
	struct error ignored;
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
			session_hold(session, &pending, &ignored);
	}
	free(line);
	fclose(file);
}
