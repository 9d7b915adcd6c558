/*
 * Tune-up lists.
 */
#include <padside/model/checklist.h>

#include <assert.h>
#include <string.h>

#include <padside/base/text.h>

static const char *const built_in[] = {
#define CHECKLIST(items) items,
#include <padside/catalog/checklists.def>
#undef CHECKLIST
};

int checklist_built_in_count(void)
{
	return (int)(sizeof built_in / sizeof *built_in);
}

const char *checklist_built_in(int index)
{
	assert(index >= 0 && index < checklist_built_in_count());
	return built_in[index];
}

/* Copies the words between `start` and `end` without the blanks around them; false: too long. */
static bool copy_words(const char *start, const char *end, char *out, size_t size)
{
	while (start < end && *start == ' ')
		start++;
	while (end > start && end[-1] == ' ')
		end--;
	if ((size_t)(end - start) >= size)
		return false;
	memcpy(out, start, (size_t)(end - start));
	out[end - start] = '\0';
	return true;
}

static enum status refuse(struct checklist *list, struct error *error, const char *why)
{
	*list = (struct checklist){ .count = 0 };
	return error_set(error, STATUS_BAD_INPUT, "%s; write it as \"Name: item; item\"", why);
}

/* Adds one item; an empty one (a semicolon at the end) is passed over. */
static const char *add_item(struct checklist *list, const char *start, const char *end)
{
	struct checklist_item item = { .reading = READING_NONE };

	if (!copy_words(start, end, item.task, sizeof item.task))
		return "an item of the checklist is too long";
	if (!*item.task)
		return NULL;
	if (list->count == CHECKLIST_MOST)
		return "the checklist has more than 64 items";
	item.reading = reading_from_key(item.task);
	if (item.reading != READING_NONE)
		item.task[0] = '\0';
	list->items[list->count++] = item;
	return NULL;
}

enum status checklist_parse(const char *line, struct checklist *list, struct error *error)
{
	const char *at = strchr(line, ':');

	*list = (struct checklist){ .count = 0 };
	if (!at || !copy_words(line, at, list->name, sizeof list->name) || !*list->name)
		return refuse(list, error, "the checklist needs a name of at most 63 letters");
	do {
		const char *start = at + 1;
		at = start + strcspn(start, ";");
		const char *why = add_item(list, start, at);
		if (why)
			return refuse(list, error, why);
	} while (*at);
	return list->count > 0 ? STATUS_OK : refuse(list, error, "the checklist has no items");
}

const char *checklist_item_label(const struct checklist_item *item)
{
	return item->reading == READING_NONE ? item->task : reading_info(item->reading)->label;
}

/* The built-in list of that name. */
static bool find_built_in(const char *name, struct checklist *list)
{
	struct error ignored;

	for (int i = 0; i < checklist_built_in_count(); i++)
		if (checklist_parse(built_in[i], list, &ignored) == STATUS_OK &&
		    text_equal_ignoring_case(list->name, name))
			return true;
	*list = (struct checklist){ .count = 0 };
	return false;
}

bool checklist_of_call(const struct call *call, struct checklist *list)
{
	struct error ignored;

	return checklist_parse(call->checklist, list, &ignored) == STATUS_OK ||
	       find_built_in(call->checklist, list);
}

size_t checklist_find_work(const struct call *call, const char *task)
{
	size_t i = 0;

	while (i < call->work_count && strcmp(call->work[i].description, task) != 0)
		i++;
	return i;
}

enum checklist_state checklist_judge(const struct checklist_item *item, const struct call *call)
{
	enum reading reading = item->reading;

	if (reading == READING_NONE)
		return checklist_find_work(call, item->task) < call->work_count ? CHECKLIST_DONE
		                                                                : CHECKLIST_MISSING;
	if (visit_has(&call->visit, STAGE_AS_FOUND, reading) ||
	    visit_has(&call->visit, STAGE_AS_LEFT, reading))
		return CHECKLIST_DONE;
	return visit_applies(&call->visit, STAGE_AS_FOUND, reading) ? CHECKLIST_MISSING
	                                                            : CHECKLIST_IDLE;
}

int checklist_missing(const struct checklist *list, const struct call *call)
{
	int missing = 0;

	for (int i = 0; i < list->count; i++)
		missing += checklist_judge(&list->items[i], call) == CHECKLIST_MISSING;
	return missing;
}
