/*
 * Comma-separated values.  Reading is one pass, one record at a time, into one
 * buffer; writing is field by field.
 */
#include <padside/base/csv.h>

#include <assert.h>
#include <stdbool.h>
#include <string.h>

static bool is_line_end(char byte)
{
	return byte == '\n' || byte == '\r';
}

static enum csv_step broken(const struct csv *csv, size_t line, const char *what,
                            struct error *error)
{
	if (csv->fields.failed)
		error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
	else
		error_set(error, STATUS_BAD_INPUT, "line %zu: %s", line, what);
	return CSV_BROKEN;
}

/* Steps over one line end: CRLF, LF or CR. */
static void skip_line_end(struct csv *csv)
{
	if (*csv->at == '\r' && csv->at + 1 < csv->end && csv->at[1] == '\n')
		csv->at++;
	csv->at++;
	csv->next_line++;
}

static void skip_empty_lines(struct csv *csv)
{
	while (csv->at < csv->end && is_line_end(*csv->at))
		skip_line_end(csv);
}

/* A field in quotes, `at` behind the opening one.  Returns false without a closing one. */
static bool read_quoted(struct csv *csv)
{
	while (csv->at < csv->end) {
		if (*csv->at == '"') {
			csv->at++;
			if (csv->at == csv->end || *csv->at != '"')
				return true;
			text_add_char(&csv->fields, *csv->at++);
		} else if (is_line_end(*csv->at)) {
			skip_line_end(csv);
			text_add_char(&csv->fields, '\n');
		} else {
			text_add_char(&csv->fields, *csv->at++);
		}
	}
	return false;
}

/* A field without quotes.  Returns false when there is a quote in it. */
static bool read_bare(struct csv *csv)
{
	const char *start = csv->at;

	while (csv->at < csv->end && *csv->at != ',' && !is_line_end(*csv->at))
		if (*csv->at++ == '"')
			return false;
	text_add_bytes(&csv->fields, start, (size_t)(csv->at - start));
	return true;
}

/* Whether the field that begins at `start` is UTF-8 without control characters. */
static bool is_clean(const struct csv *csv, size_t start)
{
	size_t length = csv->fields.length - start;
	const char *cursor = text_get(&csv->fields) + start;

	if (length == 0)
		return true;
	if (memchr(cursor, '\0', length))
		return false;
	while (*cursor) {
		const char *before = cursor;
		unsigned character = text_next_character(&cursor);
		bool is_broken = character == 0xfffd && cursor - before == 1;
		bool is_control = (character < 0x20 && character != '\n' && character != '\t') ||
		                  (character >= 0x7f && character < 0xa0);
		if (is_broken || is_control)
			return false;
	}
	return true;
}

/* One field with what ends it; says in `more` whether another follows. */
static enum csv_step read_field(struct csv *csv, bool *more, struct error *error)
{
	size_t line = csv->next_line, start = csv->fields.length;

	if (csv->count == CSV_MOST_FIELDS)
		return broken(csv, line, "it has more than 64 fields", error);
	csv->starts[csv->count++] = start;
	if (csv->at < csv->end && *csv->at == '"') {
		csv->at++;
		if (!read_quoted(csv))
			return broken(csv, line, "a quote is opened and never closed", error);
	} else if (!read_bare(csv)) {
		return broken(csv, line, "a quote stands inside a field; put the whole field in "
		              "quotes and double the quotes in it", error);
	}
	if (!is_clean(csv, start))
		return broken(csv, line, "it is not plain UTF-8 text; save the file as UTF-8 CSV", error);
	text_add_char(&csv->fields, '\0');
	*more = csv->at < csv->end && *csv->at == ',';
	if (*more)
		csv->at++;
	else if (csv->at < csv->end && !is_line_end(*csv->at))
		return broken(csv, csv->next_line, "something stands behind a closing quote; put a "
		              "comma there or double the quote", error);
	return CSV_RECORD;
}

/* A number, or a range of numbers such as "-6 to 6": nothing can be computed from it. */
static bool is_number_or_range(const char *field)
{
	const char *at = field + (*field == '-' || *field == '+');
	size_t plain = strspn(at, "0123456789. abcdefghijklmnopqrstuvwxyz");

	return strspn(at, "0123456789") > 0 && at[plain] == '\0';
}

/* Whether a spreadsheet may compute it; the wide forms too. */
static bool is_formula(const char *field)
{
	static const char *const starts[] = { "=", "+", "-", "@", "\t", "＝", "＋", "－", "＠" };

	field += strspn(field, " ");
	for (size_t i = 0; i < sizeof starts / sizeof *starts; i++)
		if (strncmp(field, starts[i], strlen(starts[i])) == 0)
			return !is_number_or_range(field);
	return false;
}

void csv_init(struct csv *csv, const char *bytes, size_t length)
{
	static const char mark[] = "\xef\xbb\xbf";

	*csv = (struct csv){ .at = bytes, .end = bytes + length, .next_line = 1 };
	text_init(&csv->fields);
	if (length >= 3 && memcmp(bytes, mark, 3) == 0)
		csv->at += 3;
}

void csv_done(struct csv *csv)
{
	text_done(&csv->fields);
}

enum csv_step csv_next(struct csv *csv, struct error *error)
{
	bool more = true;

	text_clear(&csv->fields);
	csv->count = 0;
	skip_empty_lines(csv);
	if (csv->at == csv->end)
		return CSV_END;
	csv->line = csv->next_line;
	while (more)
		if (read_field(csv, &more, error) == CSV_BROKEN)
			return CSV_BROKEN;
	return csv->fields.failed ? broken(csv, csv->line, "", error) : CSV_RECORD;
}

const char *csv_field(const struct csv *csv, size_t index)
{
	assert(index < csv->count);
	return text_get(&csv->fields) + csv->starts[index];
}

void csv_add_field(struct text *text, const char *field, bool *first)
{
	const char *guard = is_formula(field) ? "'" : "";

	text_add(text, *first ? "" : ",");
	*first = false;
	if (!strpbrk(field, ",\"\r\n")) {
		text_add_format(text, "%s%s", guard, field);
		return;
	}
	text_add_format(text, "\"%s", guard);
	for (; *field; field++) {
		if (*field == '"')
			text_add_char(text, '"');
		text_add_char(text, *field);
	}
	text_add_char(text, '"');
}

void csv_end_record(struct text *text)
{
	text_add(text, "\r\n");
}
