/*
 * padside-keys(7): what every key of the workbook does, from its table.
 */
#include "pages.h"

#include <stdio.h>

#include "notation.h"
#include "tui/requests.h"

enum { LINE_BYTES = 512 };

/* Where a key asks for something, as a heading, in the order of the page. */
static const struct {
	enum request_place place; /* of requests.def */
	const char *words;        /* the heading */
} places[] = {
	{ PLACE_ANY, "Everywhere" },
	{ PLACE_BOOK, "In the book" },
	{ PLACE_CALL, "On a call" },
	{ PLACE_SHEET, "On a sheet" },
	{ PLACE_FINDINGS, "On the findings" },
	{ PLACE_CHOICES, "On the choices" },
	{ PLACE_WORK, "On the work done" },
	{ PLACE_PAPER, "On the paper" },
	{ PLACE_CUSTOMER, "On a customer's page" },
	{ PLACE_HISTORY, "On the history" },
};

static void put_keys_of(enum request_place place, const char *words)
{
	bool begun = false;

	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++) {
		const struct request_info *info = request_info((enum request)i);
		if (info->place != place || !*info->key)
			continue;
		if (!begun)
			notation_heading(".SS", words);
		begun = true;
		char keys[LINE_BYTES];
		snprintf(keys, sizeof keys, "%s%s%s", info->key, *info->other ? ", " : "", info->other);
		notation_tag(keys, "");
		notation_sentence(info->help);
	}
}

void page_keys(void)
{
	notation_title("PADSIDE-KEYS", 7, "padside");
	notation_heading(".SH", "NAME");
	notation_line("padside-keys - keys of the padside workbook");
	notation_heading(".SH", "KEYS");
	notation_line("There is no save key: a value is in the book as soon as its time stands beside it.");
	for (size_t i = 0; i < sizeof places / sizeof *places; i++)
		put_keys_of(places[i].place, places[i].words);
	notation_heading(".SH", "SEE ALSO");
	notation_line("padside(1), padside-readings(7)");
}
