/*
 * One call in memory.  Its lists grow by one; a call has tens of lines, so
 * that nothing cleverer is needed.  Each list is a row of a table.
 */
#include <padside/model/call.h>

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include <padside/model/call_parts.h>

static const enum reading charge_readings[CHARGE_READING_COUNT] = {
	[CHARGE_SUCTION_PRESSURE] = READING_SUCTION_PRESSURE,
	[CHARGE_SUCTION_LINE_TEMP] = READING_SUCTION_LINE_TEMP,
	[CHARGE_LIQUID_PRESSURE] = READING_LIQUID_PRESSURE,
	[CHARGE_LIQUID_LINE_TEMP] = READING_LIQUID_LINE_TEMP,
	[CHARGE_OUTDOOR_DB] = READING_OUTDOOR_DB,
	[CHARGE_RETURN_WB] = READING_RETURN_WB,
};

struct list_row {
	size_t items, count; /* where they lie in struct call */
	size_t size;         /* of one element, which begins with its uid */
	size_t time;         /* where its time lies, if the list is kept by time; else 0 */
};

#define ROW(items_, count_, type, time_) { \
	offsetof(struct call, items_), offsetof(struct call, count_), sizeof(struct type), time_ }

static const struct list_row lists[CALL_LIST_COUNT] = {
	[LIST_CHARGE] = ROW(charge, charge_count, charge_entry, offsetof(struct charge_entry, at)),
	[LIST_WORK] = ROW(work, work_count, work_line, 0),
	[LIST_OFFERS] = ROW(offers, offer_count, offer, 0),
	[LIST_WATCH] = ROW(watch, watch_count, watch_item, 0),
	[LIST_JUDGEMENTS] = ROW(judgements, judgement_count, judgement, 0),
	[LIST_TIGHTNESS] = ROW(tightness, tightness_count, tightness_entry,
	                       offsetof(struct tightness_entry, at)),
	[LIST_CYLINDERS] = ROW(cylinders, cylinder_count, cylinder, 0),
};

enum reading charge_reading_id(enum charge_reading reading)
{
	return charge_readings[reading];
}

/* ---- The whole ---- */

static void **items_of(struct call *call, enum call_list list)
{
	return (void **)(void *)((char *)call + lists[list].items);
}

static size_t *count_of(struct call *call, enum call_list list)
{
	return (size_t *)(void *)((char *)call + lists[list].count);
}

void call_init(struct call *call)
{
	memset(call, 0, sizeof *call);
	visit_init(&call->visit);
	for (const struct call_member *member = call_part_info(PART_CALL)->members; member->key;
	     member++)
		call_member_parse(member, call, "");
}

void call_done(struct call *call)
{
	for (int list = 0; list < CALL_LIST_COUNT; list++)
		free(*items_of(call, (enum call_list)list));
	call_init(call);
}

bool call_copy(const struct call *call, struct call *copy)
{
	bool enough = true;

	*copy = *call;
	for (int i = 0; i < CALL_LIST_COUNT; i++) {
		enum call_list list = (enum call_list)i;
		size_t bytes = *count_of(copy, list) * lists[list].size;
		*items_of(copy, list) = bytes && enough ? malloc(bytes) : NULL;
		enough = enough && (bytes == 0 || *items_of(copy, list));
		if (enough && bytes)
			memcpy(*items_of(copy, list), call_list_items(call, list), bytes);
	}
	if (!enough)
		call_done(copy);
	return enough;
}

/* ---- Lists ---- */

void *call_list_items(const struct call *call, enum call_list list)
{
	return *(void *const *)(const void *)((const char *)call + lists[list].items);
}

size_t call_list_count(const struct call *call, enum call_list list)
{
	return *(const size_t *)(const void *)((const char *)call + lists[list].count);
}

size_t call_list_size(enum call_list list)
{
	return lists[list].size;
}

void *call_list_at(const struct call *call, enum call_list list, size_t index)
{
	if (index >= call_list_count(call, list))
		return NULL;
	return (char *)call_list_items(call, list) + index * lists[list].size;
}

size_t call_list_find(const struct call *call, enum call_list list, const struct uid *uid)
{
	size_t at = 0;
	const struct uid *element;

	while ((element = call_list_at(call, list, at)) && strcmp(element->text, uid->text) != 0)
		at++;
	return at;
}

void call_element_init(enum call_list list, void *element)
{
	const struct call_part_info *info = call_part_info(call_part_of_list(list));

	memset(element, 0, lists[list].size);
	for (const struct call_member *member = info->members; member->key; member++)
		call_member_parse(member, element, "");
	if (list == LIST_WORK)
		((struct work_line *)element)->quantity = 1000;
	if (list == LIST_CHARGE)
		for (int i = 0; i < CHARGE_READING_COUNT; i++)
			((struct charge_entry *)element)->values[i].taken_at = WALL_TIME_NONE;
}

void *call_list_add(struct call *call, enum call_list list)
{
	size_t count = *count_of(call, list), size = lists[list].size;

	if (count >= SIZE_MAX / size - 1)
		return NULL;
	char *bigger = realloc(*items_of(call, list), (count + 1) * size);
	if (!bigger)
		return NULL;
	*items_of(call, list) = bigger;
	*count_of(call, list) = count + 1;
	void *element = bigger + count * size;
	call_element_init(list, element);
	*(struct uid *)element = uid_new();
	return element;
}

void call_list_remove(struct call *call, enum call_list list, size_t index)
{
	size_t count = call_list_count(call, list), size = lists[list].size;

	assert(index < count);
	char *at = call_list_at(call, list, index);
	memmove(at, at + size, (count - index - 1) * size);
	*count_of(call, list) = count - 1;
}

/* Those without a time come last. */
static bool is_before(wall_time a, wall_time b)
{
	return a != WALL_TIME_NONE && (b == WALL_TIME_NONE || a < b);
}

static wall_time time_of(const struct call *call, enum call_list list, size_t index)
{
	const char *element = call_list_at(call, list, index);

	return *(const wall_time *)(const void *)(element + lists[list].time);
}

static void swap_elements(struct call *call, enum call_list list, size_t a, size_t b)
{
	char *one = call_list_at(call, list, a), *other = call_list_at(call, list, b);

	for (size_t i = 0; i < lists[list].size; i++) {
		char byte = one[i];
		one[i] = other[i];
		other[i] = byte;
	}
}

/* Back to behind those that are not later; returns where it stands then. */
static size_t move_back(struct call *call, enum call_list list, size_t index)
{
	for (; index > 0 && is_before(time_of(call, list, index), time_of(call, list, index - 1));
	     index--)
		swap_elements(call, list, index, index - 1);
	return index;
}

void call_list_place(struct call *call, enum call_list list, size_t index)
{
	size_t count = call_list_count(call, list);

	if (lists[list].time == 0)
		return;
	index = move_back(call, list, index);
	for (; index + 1 < count && is_before(time_of(call, list, index + 1),
	                                      time_of(call, list, index));
	     index++)
		swap_elements(call, list, index, index + 1);
}

void call_list_sort(struct call *call, enum call_list list)
{
	for (size_t i = 1; lists[list].time != 0 && i < call_list_count(call, list); i++)
		move_back(call, list, i);
}

bool call_leaves_open(const struct call *call, const struct watch_item *item)
{
	wall_time end = call->left_at != WALL_TIME_NONE ? call->left_at : call->closed_at;
	char ended[CLOCK_TEXT_SIZE], closed[CLOCK_TEXT_SIZE];

	if (item->closed_at == WALL_TIME_NONE || end == WALL_TIME_NONE)
		return item->closed_at == WALL_TIME_NONE;
	clock_format_date(end, ended, sizeof ended);
	clock_format_date(item->closed_at, closed, sizeof closed);
	return item->closed_at > end && strcmp(ended, closed) != 0;
}

bool call_takes_an_option(const struct call *call)
{
	for (size_t i = 0; i < call->offer_count; i++)
		if (call->offers[i].decision == DECISION_ACCEPTED && call->offers[i].price_high > 0)
			return true;
	return false;
}
