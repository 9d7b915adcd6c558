/*
 * The price list: columns found by name, one row after the other, refused as
 * a whole by the first bad one.  Nothing here guesses: a price list that was
 * half understood would end on a customer's invoice.
 */
#include <padside/app/prices.h>

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include <padside/base/csv.h>
#include <padside/model/money.h>
#include <padside/base/text.h>

enum price_column { COLUMN_KIND, COLUMN_CODE, COLUMN_DESCRIPTION, COLUMN_UNIT_PRICE, COLUMN_COUNT };

static const char *const column_names[COLUMN_COUNT] = {
	"kind", "code", "description", "unit_price",
};

enum { MOST_FILE_BYTES = 16 * 1024 * 1024 };

/* Ten million in money: more is a slip of the finger. */
static const cents most_price = 1000000000;

/* A list while it is read. */
struct reading_state {
	struct csv csv;                /* the file */
	size_t columns[COLUMN_COUNT];  /* where each column stands */
	struct price_list *list;       /* what was read so far */
	size_t capacity;               /* items that fit */
};

static const char *skip_spaces(const char *at)
{
	while (*at == ' ' || *at == '\t')
		at++;
	return at;
}

/* Copies a field without spaces around it and with line ends as spaces; false when too long. */
static bool take_words(char *target, size_t size, const char *field)
{
	field = skip_spaces(field);
	if (!text_copy(target, size, field))
		return false;
	for (char *at = target; *at; at++)
		if (*at == '\n' || *at == '\t')
			*at = ' ';
	for (size_t length = strlen(target); length > 0 && target[length - 1] == ' '; length--)
		target[length - 1] = '\0';
	return true;
}

static enum status refuse(const struct reading_state *state, struct error *error,
                          const char *sentence, const char *field)
{
	char shown[48];

	text_copy(shown, sizeof shown, field);
	return error_set(error, STATUS_BAD_INPUT, "line %zu: %s, not \"%s\"; no price was changed",
	                 state->csv.line, sentence, shown);
}

static bool find_column(const struct csv *csv, const char *name, size_t *index)
{
	for (size_t i = 0; i < csv->count; i++) {
		char header[32];
		if (take_words(header, sizeof header, csv_field(csv, i)) &&
		    text_equal_ignoring_case(header, name)) {
			*index = i;
			return true;
		}
	}
	return false;
}

static enum status read_header(struct reading_state *state, struct error *error)
{
	switch (csv_next(&state->csv, error)) {
	case CSV_BROKEN:
		return error->status;
	case CSV_END:
		return error_set(error, STATUS_BAD_INPUT, "the file is empty; its first line must "
		                 "name the columns kind, code, description, unit_price");
	case CSV_RECORD:
		break;
	}
	for (int i = 0; i < COLUMN_COUNT; i++)
		if (!find_column(&state->csv, column_names[i], &state->columns[i]))
			return error_set(error, STATUS_BAD_INPUT, "line %zu: there is no column \"%s\"; "
			                 "the first line must name kind, code, description, unit_price, "
			                 "with commas between", state->csv.line, column_names[i]);
	return STATUS_OK;
}

static enum status read_item(const struct reading_state *state, struct price_item *item,
                             struct error *error)
{
	const char *fields[COLUMN_COUNT];
	char kind[16];

	for (int i = 0; i < COLUMN_COUNT; i++) {
		if (state->columns[i] >= state->csv.count)
			return error_set(error, STATUS_BAD_INPUT, "line %zu: the column \"%s\" is missing; "
			                 "no price was changed", state->csv.line, column_names[i]);
		fields[i] = csv_field(&state->csv, state->columns[i]);
	}
	if (!take_words(kind, sizeof kind, fields[COLUMN_KIND]) ||
	    !work_kind_from_key(kind, &item->kind))
		return refuse(state, error, "kind must be labour, part, refrigerant or fee",
		              fields[COLUMN_KIND]);
	if (!take_words(item->code, sizeof item->code, fields[COLUMN_CODE]) || !*item->code)
		return refuse(state, error, "a code has 1 to 31 letters", fields[COLUMN_CODE]);
	if (!take_words(item->description, sizeof item->description, fields[COLUMN_DESCRIPTION]) ||
	    !*item->description)
		return refuse(state, error, "a description has 1 to 159 letters",
		              fields[COLUMN_DESCRIPTION]);
	if (money_parse(fields[COLUMN_UNIT_PRICE], &item->unit_price) != STATUS_OK ||
	    item->unit_price < 0 || item->unit_price > most_price)
		return refuse(state, error, "unit_price must be a price like 12.50",
		              fields[COLUMN_UNIT_PRICE]);
	return STATUS_OK;
}

/* A new item at the end; NULL when memory ran out. */
static struct price_item *add_item(struct reading_state *state)
{
	struct price_list *list = state->list;

	if (list->count == state->capacity) {
		size_t capacity = state->capacity ? 2 * state->capacity : 64;
		struct price_item *items = realloc(list->items, capacity * sizeof *items);
		if (!items)
			return NULL;
		list->items = items;
		state->capacity = capacity;
	}
	struct price_item *item = &list->items[list->count++];
	memset(item, 0, sizeof *item);
	return item;
}

/* Spreadsheets leave lines of nothing but commas. */
static bool is_blank(const struct csv *csv)
{
	for (size_t i = 0; i < csv->count; i++)
		if (*skip_spaces(csv_field(csv, i)))
			return false;
	return true;
}

static enum status read_items(struct reading_state *state, size_t **lines, struct error *error)
{
	for (;;) {
		enum csv_step step = csv_next(&state->csv, error);
		if (step != CSV_RECORD)
			return step == CSV_END ? STATUS_OK : error->status;
		if (is_blank(&state->csv))
			continue;
		struct price_item *item = add_item(state);
		size_t *more = item ? realloc(*lines, state->capacity * sizeof *more) : NULL;
		if (!more)
			return error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
		*lines = more;
		more[state->list->count - 1] = state->csv.line;
		enum status status = read_item(state, item, error);
		if (status != STATUS_OK)
			return status;
	}
}

/* An item's code with the line it stands on, for finding those that stand twice. */
struct coded_line {
	const char *code; /* borrowed */
	size_t line;      /* of the file */
};

static int compare_codes(const void *a, const void *b)
{
	const struct coded_line *x = a, *y = b;
	int order = strcasecmp(x->code, y->code);

	if (order != 0)
		return order;
	return (x->line > y->line) - (x->line < y->line);
}

/* That there are items, and each code once. */
static enum status check_whole(const struct price_list *list, const size_t *lines,
                                     struct error *error)
{
	enum status status = STATUS_OK;

	if (list->count == 0)
		return error_set(error, STATUS_BAD_INPUT, "there is no price in the file; no price was "
		                 "changed");
	struct coded_line *sorted = calloc(list->count, sizeof *sorted);
	if (!sorted)
		return error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
	for (size_t i = 0; i < list->count; i++)
		sorted[i] = (struct coded_line){ .code = list->items[i].code, .line = lines[i] };
	qsort(sorted, list->count, sizeof *sorted, compare_codes);
	for (size_t i = 1; i < list->count && status == STATUS_OK; i++)
		if (strcasecmp(sorted[i - 1].code, sorted[i].code) == 0)
			status = error_set(error, STATUS_EXISTS, "line %zu: the code \"%s\" stands on "
			                   "line %zu already; no price was changed", sorted[i].line,
			                   sorted[i].code, sorted[i - 1].line);
	free(sorted);
	return status;
}

void price_list_init(struct price_list *list)
{
	*list = (struct price_list){ .items = NULL };
}

void price_list_done(struct price_list *list)
{
	free(list->items);
	price_list_init(list);
}

enum status prices_parse(const char *bytes, size_t length, struct price_list *list,
                         struct error *error)
{
	struct reading_state state = { .list = list };
	size_t *lines = NULL;

	csv_init(&state.csv, bytes, length);
	enum status status = read_header(&state, error);
	if (status == STATUS_OK)
		status = read_items(&state, &lines, error);
	if (status == STATUS_OK)
		status = check_whole(list, lines, error);
	if (status != STATUS_OK)
		price_list_done(list);
	free(lines);
	csv_done(&state.csv);
	return status;
}

/* The whole file; refuses one that is no price list by its size. */
static enum status read_file(const char *path, struct text *bytes, struct error *error)
{
	char block[8192];
	size_t got;
	FILE *file = fopen(path, "rb");

	if (!file)
		return error_set(error, STATUS_CANNOT_OPEN, "%s cannot be read: %s; no price was changed",
		                 path, strerror(errno));
	while ((got = fread(block, 1, sizeof block, file)) > 0 && bytes->length <= MOST_FILE_BYTES)
		text_add_bytes(bytes, block, got);
	bool failed = ferror(file) != 0;
	int reason = errno;
	fclose(file);
	if (failed)
		return error_set(error, STATUS_CANNOT_OPEN, "%s cannot be read: %s; no price was changed",
		                 path, strerror(reason));
	if (bytes->failed)
		return error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
	if (bytes->length > MOST_FILE_BYTES)
		return error_set(error, STATUS_BAD_INPUT, "%s is larger than 16 MB and can hardly be a "
		                 "price list; no price was changed", path);
	return STATUS_OK;
}

enum status prices_import(struct store *store, const char *path, size_t *count,
                          struct error *error)
{
	struct price_list list;
	struct text bytes;

	price_list_init(&list);
	text_init(&bytes);
	enum status status = read_file(path, &bytes, error);
	if (status == STATUS_OK)
		status = prices_parse(text_get(&bytes), bytes.length, &list, error);
	if (status == STATUS_OK)
		status = store_prices_replace(store, list.items, list.count, error);
	if (status == STATUS_OK)
		*count = list.count;
	price_list_done(&list);
	text_done(&bytes);
	return status;
}
