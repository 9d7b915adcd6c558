/*
 * What a thing of the book consists of: its table and the columns, which are
 * the members of the call's parts (src/model/call_parts.c), what it refers to,
 * and its place in a list.
 */
#include "store/trail.h"

#include "store/parts.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/text.h>

static const char *const tables[THING_KIND_COUNT] = {
	[THING_CUSTOMER] = "customer", [THING_SITE] = "site", [THING_SYSTEM] = "system",
	[THING_CALL] = "call",
	[THING_LISTS + LIST_CHARGE] = "charge_entry", [THING_LISTS + LIST_WORK] = "work_line",
	[THING_LISTS + LIST_OFFERS] = "offer", [THING_LISTS + LIST_WATCH] = "watch_item",
	[THING_LISTS + LIST_JUDGEMENTS] = "judgement", [THING_LISTS + LIST_TIGHTNESS] = "tightness",
	[THING_LISTS + LIST_CYLINDERS] = "cylinder",
};

/* To what things refer, and where that uid lies in a call. */
static const struct {
	enum thing_kind kind, refers;
	const char *name;
	size_t offset;
} references[] = {
	{ THING_SITE, THING_CUSTOMER, "customer", offsetof(struct call, customer.uid) },
	{ THING_SYSTEM, THING_SITE, "site", offsetof(struct call, site.uid) },
	{ THING_CALL, THING_CUSTOMER, "customer", offsetof(struct call, customer.uid) },
	{ THING_CALL, THING_SITE, "site", offsetof(struct call, site.uid) },
	{ THING_CALL, THING_SYSTEM, "system", offsetof(struct call, system.uid) },
};

/* The parts of the call whose members a thing has. */
static const struct {
	enum thing_kind kind;
	enum call_part part;
	const char *prefix; /* before the members' keys */
} parts[] = {
	{ THING_CUSTOMER, PART_CUSTOMER, "" }, { THING_SITE, PART_SITE, "" },
	{ THING_SYSTEM, PART_SYSTEM, "" }, { THING_CALL, PART_CALL, "" },
	{ THING_CALL, PART_BILLING, "" }, { THING_CALL, PART_TAX, "tax_" },
};

bool kind_is_line(enum thing_kind kind)
{
	return kind >= THING_LISTS;
}

static const char *const kind_words[THING_LISTS] = {
	[THING_BOOK] = "book", [THING_CUSTOMER] = "customer", [THING_SITE] = "site",
	[THING_SYSTEM] = "system", [THING_CALL] = "call",
};

const char *thing_word(enum thing_kind kind)
{
	if (kind_is_line(kind))
		return kind == THING_NEWER ? "thing of a newer program"
			: call_part_info(call_part_of_list((enum call_list)(kind - THING_LISTS)))->key;
	return kind_words[kind];
}

static struct shape_column *add_column(struct shape *shape, const char *prefix, const char *name)
{
	struct shape_column *column = &shape->columns[shape->count++];
	size_t before = strlen(prefix);

	memset(column, 0, sizeof *column);
	memcpy(column->name, prefix, before);
	text_copy(column->name + before, sizeof column->name - before, name);
	return column;
}

static void add_part(struct shape *shape, enum call_part part, const char *prefix)
{
	const struct call_part_info *info = call_part_info(part);

	for (const struct call_member *member = info->members; member->key; member++) {
		struct shape_column *column = add_column(shape, prefix, member->key);
		column->kind = COLUMN_MEMBER;
		column->member = member;
		column->offset = info->offset;
	}
	for (int i = 0; info->has_charge_readings && i < CHARGE_READING_COUNT; i++) {
		enum reading reading = charge_reading_id((enum charge_reading)i);
		struct shape_column *column = add_column(shape, "", reading_info(reading)->key);
		column->kind = COLUMN_READING;
		column->reading = reading;
		column->offset = offsetof(struct charge_entry, values) + (size_t)i * sizeof(struct value);
	}
}

static void add_columns(struct shape *shape, enum thing_kind kind)
{
	for (size_t i = 0; i < sizeof references / sizeof *references; i++)
		if (references[i].kind == kind) {
			struct shape_column *column = add_column(shape, "", references[i].name);
			column->kind = COLUMN_REFERENCE;
			column->refers = references[i].refers;
			column->offset = references[i].offset;
		}
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
		if (parts[i].kind == kind)
			add_part(shape, parts[i].part, parts[i].prefix);
	if (kind_is_line(kind)) {
		add_part(shape, call_part_of_list((enum call_list)(kind - THING_LISTS)), "");
		add_column(shape, "", "position")->kind = COLUMN_POSITION;
	}
}

/* ?1 is the id, ?2 the uid or, of a line, its call; then the columns. */
static char *make_put(const struct shape *shape, bool is_line)
{
	struct text sql;

	text_init(&sql);
	text_add_format(&sql, "INSERT INTO %s (id, %s", shape->table, is_line ? "call" : "uid");
	for (int i = 0; i < shape->count; i++)
		text_add_format(&sql, ", \"%s\"", shape->columns[i].name);
	text_add(&sql, ") VALUES (?1, ?2");
	for (int i = 0; i < shape->count; i++)
		text_add_format(&sql, ", ?%d", i + 3);
	text_add(&sql, ") ON CONFLICT (id) DO UPDATE SET ");
	for (int i = 0; i < shape->count; i++)
		text_add_format(&sql, "%s\"%s\" = ?%d", i ? ", " : "", shape->columns[i].name, i + 3);
	if (sql.failed)
		text_done(&sql);
	return sql.bytes;
}

/* The columns, and behind them the uid or, of a line, its call. */
static char *make_get(const struct shape *shape, bool is_line)
{
	struct text sql;

	text_init(&sql);
	text_add(&sql, "SELECT ");
	for (int i = 0; i < shape->count; i++)
		text_add_format(&sql, "\"%s\", ", shape->columns[i].name);
	text_add_format(&sql, "%s FROM %s WHERE id = ?1", is_line ? "call" : "uid", shape->table);
	if (sql.failed)
		text_done(&sql);
	return sql.bytes;
}

/* ?1 is the call, ?2 the kind. */
static char *make_lines(const struct shape *shape)
{
	struct text sql;

	text_init(&sql);
	text_add_format(&sql, "SELECT id FROM %s WHERE call = ?1 UNION SELECT thing FROM removed "
	                "WHERE kind = ?2 AND call = ?1", shape->table);
	if (sql.failed)
		text_done(&sql);
	return sql.bytes;
}

bool shape_make_statements(struct shape *shape, enum thing_kind kind)
{
	shape->put = make_put(shape, kind_is_line(kind));
	shape->get = make_get(shape, kind_is_line(kind));
	shape->lines = make_lines(shape);
	return shape->put && shape->get && shape->lines;
}

bool shapes_make(struct shape shapes[THING_KIND_COUNT])
{
	for (int i = 0; i < THING_KIND_COUNT; i++) {
		shapes[i].table = tables[i];
		if (!tables[i])
			continue;
		add_columns(&shapes[i], (enum thing_kind)i);
		if (!shape_make_statements(&shapes[i], (enum thing_kind)i))
			return false;
	}
	return true;
}

void shape_free_statements(struct shape *shape)
{
	free(shape->put);
	free(shape->get);
	free(shape->lines);
}

void shapes_free(struct shape shapes[THING_KIND_COUNT])
{
	for (int i = 0; i < THING_KIND_COUNT; i++)
		shape_free_statements(&shapes[i]);
}

void shape_format(const struct shape_column *column, const void *base, char *text, size_t size)
{
	const void *at = (const char *)base + column->offset;
	const struct value *value = at;

	*text = '\0';
	if (column->kind == COLUMN_MEMBER)
		call_member_format(column->member, at, text, size);
	else if (column->kind == COLUMN_REFERENCE)
		text_copy(text, size, ((const struct uid *)at)->text);
	else if (column->kind == COLUMN_READING && value->state == VALUE_TAKEN)
		reading_format_exact(column->reading, value, text, size);
}

bool shape_parse(const struct shape_column *column, void *base, const char *text)
{
	void *at = (char *)base + column->offset;
	struct error ignored;
	struct value value = { .taken_at = WALL_TIME_NONE };

	if (column->kind == COLUMN_MEMBER)
		return call_member_parse(column->member, at, text);
	if (column->kind == COLUMN_REFERENCE)
		return (!*text || uid_is_valid(text)) &&
		       text_copy(((struct uid *)at)->text, UID_SIZE, text);
	if (column->kind == COLUMN_POSITION)
		return true;
	if (*text && !value_from_text(column->reading, text, &value, &ignored))
		return false;
	*(struct value *)at = value;
	return true;
}

static bool is_read(const struct shape_column *column)
{
	return column->kind == COLUMN_MEMBER || column->kind == COLUMN_READING;
}

void shape_add_columns(const struct shape *shape, struct text *sql)
{
	for (int i = 0; i < shape->count; i++)
		if (is_read(&shape->columns[i]))
			text_add_format(sql, ", %s.\"%s\"", shape->table, shape->columns[i].name);
}

/* A column of a row as exact text. */
static const char *exact_column(sqlite3_stmt *row, int column, char *number, size_t size)
{
	if (sqlite3_column_type(row, column) != SQLITE_FLOAT)
		return row_text(row, column);
	number_format_exact(sqlite3_column_double(row, column), number, size);
	return number;
}

int shape_read(const struct shape *shape, sqlite3_stmt *row, int first, void *base)
{
	char number[NUMBER_SIZE];

	for (int i = 0; i < shape->count; i++)
		if (is_read(&shape->columns[i]))
			shape_parse(&shape->columns[i], base,
			            exact_column(row, first++, number, sizeof number));
	return first;
}

const char *shape_empty(const struct shape_column *column)
{
	if (column->kind == COLUMN_READING)
		return NULL;
	if (column->kind != COLUMN_MEMBER)
		return "0";
	switch (column->member->form) {
	case FORM_TEXT:
	case FORM_REFRIGERANT:
		return "";
	case FORM_TIME:
		/* Every call was opened at some time. */
		return strcmp(column->name, "opened_at") == 0 ? "" : NULL;
	case FORM_MEASURED:
		return NULL;
	case FORM_WORK_KIND:
		return work_kind_key((enum work_kind)0);
	case FORM_DECISION:
		return decision_key(DECISION_NONE);
	case FORM_VERDICT:
		return judgement_verdict_key((enum judgement_verdict)0);
	case FORM_TIGHTNESS_KIND:
		return tightness_kind_key((enum tightness_kind)0);
	default:
		return "0";
	}
}
