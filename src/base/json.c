/*
 * Reading JSON: a descent over the grammar of RFC 8259 that hands out each
 * item as it meets it and keeps nothing but the way down to it.
 *
 * Numbers are handed out as written, so that who takes them decides how exact
 * they are.
 */
#include <padside/base/json.h>

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/glyph.h>
#include <padside/base/text.h>

struct json_reader {
	const char *start, *at, *end; /* the document, and how far it was read */
	json_item_fn *take;           /* who takes the items */
	void *context;                /* theirs */
	struct error *error;          /* the caller's */
	struct text path;             /* the way down to the item */
	struct text names;            /* members met in the open objects, each with its NUL */
	struct text value;            /* the string or number being read */
};

/* An item's place in the object or array that holds it. */
struct item_place {
	int depth;    /* of the item */
	size_t index; /* within its holder */
	size_t name;  /* where its name stands in `names`; behind all for an element */
};

static enum status read_value(struct json_reader *reader, struct item_place place);

/* ---- Refusing ---- */

static enum status refuse(struct json_reader *reader, const char *why)
{
	const char *path = text_get(&reader->path);
	int line = 1, column = 1;

	for (const char *at = reader->start; at < reader->at; at++) {
		column = *at == '\n' ? 1 : column + 1;
		line += *at == '\n';
	}
	return error_set(reader->error, STATUS_BAD_INPUT, "%s%s%s (line %d, column %d)",
	                 path, *path ? ": " : "", why, line, column);
}

static enum status out_of_memory(struct json_reader *reader)
{
	return error_set(reader->error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
}

/* ---- Pieces ---- */

static void skip_blanks(struct json_reader *reader)
{
	while (reader->at < reader->end && strchr(" \t\r\n", *reader->at) && *reader->at)
		reader->at++;
}

static bool is_next(const struct json_reader *reader, char wanted)
{
	return reader->at < reader->end && *reader->at == wanted;
}

static bool take_char(struct json_reader *reader, char wanted)
{
	if (!is_next(reader, wanted))
		return false;
	reader->at++;
	return true;
}

static bool take_word(struct json_reader *reader, const char *word)
{
	size_t length = strlen(word);

	if ((size_t)(reader->end - reader->at) < length || memcmp(reader->at, word, length) != 0)
		return false;
	reader->at += length;
	return true;
}

static bool take_digits(struct json_reader *reader)
{
	const char *first = reader->at;

	while (reader->at < reader->end && isdigit((unsigned char)*reader->at))
		reader->at++;
	return reader->at > first;
}

/* Four hexadecimal digits behind \u. */
static bool take_code(struct json_reader *reader, unsigned *code)
{
	*code = 0;
	for (int i = 0; i < 4; i++) {
		if (reader->at >= reader->end || !isxdigit((unsigned char)*reader->at))
			return false;
		int c = tolower((unsigned char)*reader->at++);
		*code = *code << 4 | (unsigned)(isdigit(c) ? c - '0' : c - 'a' + 10);
	}
	return true;
}

/* ---- Strings ---- */

static enum status read_code(struct json_reader *reader, struct text *out)
{
	unsigned code, low;

	if (!take_code(reader, &code))
		return refuse(reader, "\\u takes four hexadecimal digits");
	if (code == 0)
		return refuse(reader, "the character U+0000 is not allowed");
	if (code >= 0xd800 && code <= 0xdbff) {
		if (!take_word(reader, "\\u") || !take_code(reader, &low) || low < 0xdc00 || low > 0xdfff)
			return refuse(reader, "half of a character (an unpaired surrogate)");
		code = 0x10000 + ((code - 0xd800) << 10) + (low - 0xdc00);
	} else if (code >= 0xdc00 && code <= 0xdfff) {
		return refuse(reader, "half of a character (an unpaired surrogate)");
	}
	text_add_character(out, code);
	return STATUS_OK;
}

static enum status read_escape(struct json_reader *reader, struct text *out)
{
	static const char names[] = "\"\\/bfnrt";
	static const char meant[] = "\"\\/\b\f\n\r\t";

	if (take_char(reader, 'u'))
		return read_code(reader, out);
	const char *name = reader->at < reader->end && *reader->at ? strchr(names, *reader->at) : NULL;
	if (!name)
		return refuse(reader, "this escape is not part of JSON");
	reader->at++;
	text_add_char(out, meant[name - names]);
	return STATUS_OK;
}

static bool is_utf8(const char *string)
{
	while (*string) {
		const char *from = string;
		if (text_next_character(&string) == 0xfffd && string - from != 3)
			return false;
	}
	return true;
}

/* The string at hand, appended to `out`. */
static enum status read_string(struct json_reader *reader, struct text *out)
{
	enum status status = STATUS_OK;
	size_t begin = out->length;

	reader->at++;
	while (status == STATUS_OK && reader->at < reader->end && *reader->at != '"') {
		const char *from = reader->at;
		while (reader->at < reader->end && *reader->at != '"' && *reader->at != '\\' &&
		       (unsigned char)*reader->at >= 0x20)
			reader->at++;
		text_add_bytes(out, from, (size_t)(reader->at - from));
		if (take_char(reader, '\\'))
			status = read_escape(reader, out);
		else if (reader->at < reader->end && *reader->at != '"')
			status = refuse(reader, "a control character in a string, or its end is missing");
	}
	if (status != STATUS_OK)
		return status;
	if (!take_char(reader, '"'))
		return refuse(reader, "it ends in the middle of a string");
	if (out->failed)
		return out_of_memory(reader);
	return is_utf8(text_get(out) + begin) ? STATUS_OK : refuse(reader, "this is not UTF-8");
}

/* ---- Values ---- */

static enum status hand_out(struct json_reader *reader, enum json_type type,
                            struct item_place place)
{
	bool scalar = type == JSON_STRING || type == JSON_NUMBER;
	struct json_item item = {
		.type = type, .depth = place.depth, .path = text_get(&reader->path),
		.key = place.name < reader->names.length ? reader->names.bytes + place.name : "",
		.index = place.index, .text = scalar ? text_get(&reader->value) : "",
	};

	return reader->take(&item, reader->context, reader->error);
}

static enum status read_number(struct json_reader *reader, struct item_place place)
{
	const char *first = reader->at;

	take_char(reader, '-');
	bool whole = take_char(reader, '0') || take_digits(reader);
	bool fraction = !take_char(reader, '.') || take_digits(reader);
	bool exponent = true;
	if (take_char(reader, 'e') || take_char(reader, 'E')) {
		if (!take_char(reader, '-'))
			take_char(reader, '+');
		exponent = take_digits(reader);
	}
	if (!whole || !fraction || !exponent)
		return refuse(reader, "this is not a JSON value");
	text_clear(&reader->value);
	text_add_bytes(&reader->value, first, (size_t)(reader->at - first));
	return reader->value.failed ? out_of_memory(reader) : hand_out(reader, JSON_NUMBER, place);
}

static enum status read_scalar(struct json_reader *reader, struct item_place place)
{
	if (is_next(reader, '"')) {
		text_clear(&reader->value);
		enum status status = read_string(reader, &reader->value);
		return status == STATUS_OK ? hand_out(reader, JSON_STRING, place) : status;
	}
	if (take_word(reader, "true"))
		return hand_out(reader, JSON_TRUE, place);
	if (take_word(reader, "false"))
		return hand_out(reader, JSON_FALSE, place);
	if (take_word(reader, "null"))
		return hand_out(reader, JSON_NULL, place);
	if (reader->at == reader->end)
		return refuse(reader, "it ends before it is complete");
	return read_number(reader, place);
}

/* Cuts a buffer back to what it was. */
static void shorten(struct text *text, size_t length)
{
	if (text->length > length) {
		text->length = length;
		text->bytes[length] = '\0';
	}
}

static bool is_repeated(const struct json_reader *reader, size_t from, size_t name)
{
	const char *wanted = reader->names.bytes + name;

	for (size_t at = from; at < name; at += strlen(reader->names.bytes + at) + 1)
		if (strcmp(reader->names.bytes + at, wanted) == 0)
			return true;
	return false;
}

/* A member's name and its colon; `first` is where the names of its object begin. */
static enum status read_name(struct json_reader *reader, size_t first, size_t name)
{
	if (!is_next(reader, '"'))
		return refuse(reader, "the name of a member is missing here");
	enum status status = read_string(reader, &reader->names);
	if (status != STATUS_OK)
		return status;
	text_add_bytes(&reader->names, "", 1);
	if (reader->path.length > 0)
		text_add_char(&reader->path, '.');
	if (reader->names.failed || reader->path.failed)
		return out_of_memory(reader);
	glyph_add_string(&reader->path, reader->names.bytes + name, false);
	if (is_repeated(reader, first, name))
		return refuse(reader, "this member is given twice");
	skip_blanks(reader);
	return take_char(reader, ':') ? STATUS_OK : refuse(reader, "a colon is missing here");
}

static enum status read_members(struct json_reader *reader, struct item_place holder, bool named)
{
	const char last = named ? '}' : ']';
	size_t path = reader->path.length, first = reader->names.length;
	enum status status = STATUS_OK;

	reader->at++;
	skip_blanks(reader);
	if (take_char(reader, last))
		return STATUS_OK;
	for (size_t index = 0; status == STATUS_OK; index++) {
		struct item_place place = {
			.depth = holder.depth + 1, .index = index, .name = reader->names.length,
		};
		skip_blanks(reader);
		if (named && index >= JSON_MEMBERS_MOST)
			return refuse(reader, "there are too many members here");
		if (named)
			status = read_name(reader, first, place.name);
		else
			text_add_format(&reader->path, "[%zu]", index);
		if (status == STATUS_OK)
			status = read_value(reader, place);
		if (status != STATUS_OK)
			return status;
		shorten(&reader->path, path);
		skip_blanks(reader);
		if (take_char(reader, last))
			break;
		if (!take_char(reader, ','))
			return refuse(reader, reader->at == reader->end ? "it ends before it is complete"
			                                                : "a comma is missing here");
	}
	shorten(&reader->names, first);
	return STATUS_OK;
}

static enum status read_value(struct json_reader *reader, struct item_place place)
{
	skip_blanks(reader);
	bool named = is_next(reader, '{');
	if (!named && !is_next(reader, '['))
		return read_scalar(reader, place);
	if (place.depth >= JSON_DEPTH_MOST)
		return refuse(reader, "this is nested too deeply");
	enum status status = hand_out(reader, named ? JSON_OBJECT : JSON_ARRAY, place);
	if (status == STATUS_OK)
		status = read_members(reader, place, named);
	return status == STATUS_OK ? hand_out(reader, JSON_END, place) : status;
}

/* ---- Documents ---- */

struct json_reader *json_reader_new(void)
{
	return calloc(1, sizeof(struct json_reader));
}

void json_reader_free(struct json_reader *reader)
{
	if (!reader)
		return;
	text_done(&reader->path);
	text_done(&reader->names);
	text_done(&reader->value);
	free(reader);
}

enum status json_read(struct json_reader *reader, const char *text, size_t length,
                      json_item_fn *take, void *context, struct error *error)
{
	reader->start = reader->at = text;
	reader->end = text + length;
	reader->take = take;
	reader->context = context;
	reader->error = error;
	text_clear(&reader->path);
	text_clear(&reader->names);
	if (length > JSON_SIZE_MOST)
		return error_set(error, STATUS_BAD_INPUT,
		                 "one call may have at most %d MB", JSON_SIZE_MOST >> 20);
	enum status status = read_value(reader, (struct item_place){ .depth = 0 });
	skip_blanks(reader);
	if (status == STATUS_OK && reader->at < reader->end)
		status = refuse(reader, "something follows the document");
	return status;
}
