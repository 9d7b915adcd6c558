/* The demo book for tests. */
#include "support/demo.h"
#include "support/listed.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/call_json.h>
#include <padside/app/summary_line.h>

static void record(struct store *store, struct json_reader *reader, const char *line,
                   size_t length)
{
	struct error error = { .text = "" };
	struct call call;

	call_init(&call);
	ck_assert_msg(call_json_read(reader, line, length, CALL_JSON_RECORD, &call, &error) ==
	              STATUS_OK, "%s", error.text);
	ck_assert_msg(store_call_record(store, &call, &error) == STATUS_OK, "%s", error.text);
	ck_assert_msg(summary_line_keep(store, &call, &error) == STATUS_OK, "%s", error.text);
	call_done(&call);
}

void demo_fill(struct store *store)
{
	struct json_reader *reader = json_reader_new();
	char *line = NULL;
	size_t size = 0;
	ssize_t length;
	FILE *file = fopen("demo/book.ndjson", "r");

	ck_assert_ptr_nonnull(file);
	ck_assert_ptr_nonnull(reader);
	while ((length = getline(&line, &size, file)) > 0)
		record(store, reader, line, (size_t)length);
	free(line);
	fclose(file);
	json_reader_free(reader);
}

struct store *demo_open(void)
{
	struct store *store = NULL;
	struct error error = { .text = "" };

	ck_assert_msg(store_open("", STORE_MEMORY, &clock_of_machine, &store, &error) == STATUS_OK,
	              "%s", error.text);
	demo_fill(store);
	return store;
}

struct customer demo_customer(struct store *store, const char *text)
{
	struct customer_line found;
	int count = listed_customers(store, text, &found);

	ck_assert_msg(count == 1, "%d customers with %s", count, text);
	return found.customer;
}

struct system_line *demo_system(struct store *store, const struct customer *customer,
                                const char *name)
{
	static struct system_line line;
	struct error error = { .text = "" };
	struct system_line *list;
	size_t count;

	memset(&line, 0, sizeof line);
	ck_assert_msg(store_customer_systems(store, &customer->uid, &list, &count, &error) == STATUS_OK,
	              "%s", error.text);
	for (size_t i = 0; i < count; i++)
		if (strcmp(list[i].system.name, name) == 0)
			line = list[i];
	free(list);
	ck_assert(!uid_is_none(&line.system.uid));
	return &line;
}
