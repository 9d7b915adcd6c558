/*
 * What a book lists, counted and looked at.
 */
#include "support/listed.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct error error;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

const char *listed_flaw(struct store *store)
{
	static struct store_flaw first;
	struct store_flaw *flaws;
	size_t count;

	assert_ok(store_verify(store, 1, &flaws, &count, &error));
	ck_assert_uint_le(count, 1);
	first = count ? flaws[0] : (struct store_flaw){ .sentence = "" };
	free(flaws);
	return first.sentence;
}

void listed_sound(struct store *store, const char *when)
{
	const char *flaw = listed_flaw(store);

	ck_assert_msg(!*flaw, "%s%s%s", when, *when ? ": " : "", flaw);
}

int listed_calls(struct store *store, const struct call_filter *filter, struct call_line *first)
{
	struct store_listing listing;
	struct call_line line;
	int count = 0;

	store_calls_open(store, filter, &listing);
	while (store_calls_next(&listing, &line))
		if (count++ == 0 && first)
			*first = line;
	assert_ok(store_listing_close(&listing, &error));
	return count;
}

int listed_customers(struct store *store, const char *text, struct customer_line *last)
{
	struct store_listing listing;
	struct customer_line line;
	int count = 0;

	store_customers_open(store, text, 0, &listing);
	while (store_customers_next(&listing, &line)) {
		count++;
		if (last)
			*last = line;
	}
	assert_ok(store_listing_close(&listing, &error));
	return count;
}

int listed_changes(struct store *store, const struct uid *call)
{
	struct store_entry *entries;
	size_t count;
	int changes = 0;

	assert_ok(store_call_trail(store, call, &entries, &count, &error));
	for (size_t i = 0; i < count; i++)
		changes += strchr(entries[i].field, '.') != NULL;
	free(entries);
	return changes;
}
