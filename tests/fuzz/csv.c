/* Comma-separated values, and price lists in them: what is written reads back. */
#include "fuzz/fuzz.h"

#include <padside/base/csv.h>
#include <padside/app/prices.h>

/* A spreadsheet's formula comes back with the apostrophe that made it harmless. */
static int is_same(const char *field, const char *again)
{
	return strcmp(field, again) == 0 || (*again == '\'' && strcmp(field, again + 1) == 0);
}

static int is_empty(const struct csv *csv)
{
	return csv->count == 1 && *csv_field(csv, 0) == '\0';
}

static void write_and_read(const struct csv *csv)
{
	struct text text;
	struct csv again;
	struct error error;
	bool first = true;

	/* A line before it: a byte-order mark is skipped only where the file begins. */
	text_init(&text);
	text_add(&text, "code\r\n");
	for (size_t i = 0; i < csv->count; i++)
		csv_add_field(&text, csv_field(csv, i), &first);
	csv_end_record(&text);
	csv_init(&again, text_get(&text), text.length);
	must(csv_next(&again, &error) == CSV_RECORD);
	if (!is_empty(csv)) {
		must(csv_next(&again, &error) == CSV_RECORD && again.count == csv->count);
		for (size_t i = 0; i < csv->count; i++)
			must(is_same(csv_field(csv, i), csv_field(&again, i)));
	}
	csv_done(&again);
	text_done(&text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char *bytes = as_string(data, size);
	struct price_list list;
	struct csv csv;
	struct error error;

	csv_init(&csv, bytes, size);
	while (csv_next(&csv, &error) == CSV_RECORD)
		write_and_read(&csv);
	csv_done(&csv);
	price_list_init(&list);
	if (prices_parse(bytes, size, &list, &error) != STATUS_OK)
		must(list.count == 0 && error.text[0] != '\0');
	price_list_done(&list);
	free(bytes);
	return 0;
}
