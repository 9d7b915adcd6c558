/*
 * The table of requests.
 */
#include "tui/requests.h"

static const struct request_info requests[REQUEST_COUNT] = {
#define REQUEST(id, place, key, other, word, help) \
	[REQUEST_##id] = { PLACE_##place, key, other, word, help },
#include "tui/requests.def"
#undef REQUEST
};

/* Each place: what it is called, and the one it stands in. */
static const struct {
	const char *title;         /* above its keys */
	enum request_place around; /* whose keys work there too */
} places[PLACE_COUNT] = {
	[PLACE_ANY] = { "Keys everywhere", PLACE_COUNT },
	[PLACE_CALL] = { "On a call", PLACE_ANY },
	[PLACE_FIELD] = { "On a field", PLACE_CALL },
	[PLACE_WORDS] = { "On a field with a few words", PLACE_COUNT },
	[PLACE_YES_NO] = { "On a yes or no", PLACE_COUNT },
	[PLACE_ASKED] = { "On a question before a change", PLACE_COUNT },
	[PLACE_REFUSED] = { "On a refused value", PLACE_COUNT },
	[PLACE_WRITING] = { "While you type", PLACE_COUNT },
	[PLACE_LIST] = { "In a list", PLACE_CALL },
	[PLACE_PAGER] = { "In a text to read", PLACE_CALL },
	[PLACE_SHEET] = { "On a sheet of readings", PLACE_FIELD },
	[PLACE_COLUMNS] = { "On a reading as found and as left", PLACE_SHEET },
	[PLACE_FOLD] = { "On the folded rows of a sheet", PLACE_SHEET },
	[PLACE_RECORDS] = { "On calls, customers and units", PLACE_LIST },
	[PLACE_BOOK] = { "In the book", PLACE_RECORDS },
	[PLACE_CUSTOMER] = { "On a customer's page", PLACE_RECORDS },
	[PLACE_HISTORY] = { "On a unit's history", PLACE_LIST },
	[PLACE_FINDINGS] = { "On the findings", PLACE_CALL },
	[PLACE_CHOICES] = { "On the options", PLACE_FIELD },
	[PLACE_WORK] = { "On the work done", PLACE_FIELD },
	[PLACE_PRICES] = { "While a description is typed", PLACE_WRITING },
	[PLACE_PAPER] = { "On the report page", PLACE_FIELD },
	[PLACE_FILE] = { "On the name of the report's file", PLACE_PAPER },
	[PLACE_REPORT] = { "While the report is read", PLACE_PAGER },
	[PLACE_LOG] = { "On the tightness log and the cylinders", PLACE_FIELD },
	[PLACE_PREDICTIONS] = { "On the page of predictions", PLACE_LIST },
	[PLACE_REMOVED] = { "On what was taken out", PLACE_LIST },
	[PLACE_CHECKLIST] = { "On the tune-up list", PLACE_LIST },
	[PLACE_COMPARE] = { "On the page that compares", PLACE_LIST },
	[PLACE_CHANGES] = { "On the changes of a call", PLACE_CALL },
	[PLACE_QUESTIONS] = { "On the questions of a merge", PLACE_CALL },
	[PLACE_GO] = { "On the page to go anywhere", PLACE_LIST },
	[PLACE_HELP] = { "In the help", PLACE_PAGER },
};

const struct request_info *request_info(enum request request)
{
	return &requests[request];
}

static bool is_key(struct key key, const char *name)
{
	struct key named;

	return *name && key_from_name(name, &named) && key_equal(key, named);
}

static enum request find_in(enum request_place place, struct key key)
{
	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++)
		if (requests[i].place == place &&
		    (is_key(key, requests[i].key) || is_key(key, requests[i].other)))
			return (enum request)i;
	return REQUEST_NONE;
}

enum request request_from_key(enum request_place place, struct key key)
{
	enum request request = REQUEST_NONE;

	for (; place < PLACE_COUNT && !request && !key.pasted; place = places[place].around)
		request = find_in(place, key);
	return !request && key.press == PRESS_CHARACTER ? REQUEST_TYPE : request;
}

struct key request_key(enum request request)
{
	struct key key = { .press = PRESS_NOTHING };

	key_from_name(requests[request].key, &key);
	return key;
}

bool request_works(enum request request, enum request_place place)
{
	return request_from_key(place, request_key(request)) == request;
}

const char *request_place_title(enum request_place place)
{
	return places[place].title;
}

enum request_place request_place_around(enum request_place place)
{
	return places[place].around;
}

bool request_begins_line(enum request request)
{
	return requests[request].help[0] != '\0';
}

void request_add_keys(enum request request, bool others, const char *between, struct text *text)
{
	bool is_first = true;

	for (int i = (int)request; i < REQUEST_COUNT && (i == (int)request || !*requests[i].help);
	     i++) {
		text_add_format(text, "%s%s", is_first ? "" : between, requests[i].key);
		if (others && *requests[i].other)
			text_add_format(text, "%s%s", between, requests[i].other);
		is_first = false;
	}
}
