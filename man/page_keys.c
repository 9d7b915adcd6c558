/*
 * padside-keys(7): what every key of the workbook does, from its table.
 */
#include "pages.h"

#include "notation.h"
#include "tui/requests.h"

static void put_keys_of(enum request_place place)
{
	struct text keys;

	text_init(&keys);
	notation_heading(".SS", request_place_title(place));
	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++) {
		if (request_info((enum request)i)->place != place || !request_begins_line((enum request)i))
			continue;
		text_clear(&keys);
		request_add_keys((enum request)i, true, ", ", &keys);
		notation_tag(text_get(&keys), "");
		notation_sentence(request_info((enum request)i)->help);
	}
	text_done(&keys);
}

void page_keys(void)
{
	notation_title("PADSIDE-KEYS", 7, "padside");
	notation_heading(".SH", "NAME");
	notation_line("padside-keys - keys of the padside workbook");
	notation_heading(".SH", "KEYS");
	notation_line("There is no save key: a value is in the book as soon as its "
	              "time stands beside it.");
	for (int place = 0; place < PLACE_COUNT; place++)
		put_keys_of((enum request_place)place);
	notation_heading(".SH", "SEE ALSO");
	notation_line("padside(1), padside-readings(7)");
}
