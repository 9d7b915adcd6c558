/*
 * One call in memory.  The four lists grow by one; a call has tens of lines,
 * so that nothing cleverer is needed.
 */
#include <padside/model/call.h>

#include <assert.h>
#include <stdlib.h>
#include <string.h>

static const enum reading charge_readings[CHARGE_READING_COUNT] = {
	[CHARGE_SUCTION_PRESSURE] = READING_SUCTION_PRESSURE,
	[CHARGE_SUCTION_LINE_TEMP] = READING_SUCTION_LINE_TEMP,
	[CHARGE_LIQUID_PRESSURE] = READING_LIQUID_PRESSURE,
	[CHARGE_LIQUID_LINE_TEMP] = READING_LIQUID_LINE_TEMP,
	[CHARGE_OUTDOOR_DB] = READING_OUTDOOR_DB,
	[CHARGE_RETURN_WB] = READING_RETURN_WB,
};

static const char *const work_kinds[WORK_KIND_COUNT] = {
	[WORK_LABOUR] = "labour", [WORK_PART] = "part",
	[WORK_REFRIGERANT] = "refrigerant", [WORK_FEE] = "fee",
};

static const char *const decisions[] = {
	[DECISION_NONE] = "none", [DECISION_ACCEPTED] = "accepted", [DECISION_DECLINED] = "declined",
};

enum reading charge_reading_id(enum charge_reading reading)
{
	return charge_readings[reading];
}

const char *work_kind_key(enum work_kind kind)
{
	return work_kinds[kind];
}

bool work_kind_from_key(const char *key, enum work_kind *kind)
{
	for (int i = 0; i < WORK_KIND_COUNT; i++)
		if (strcmp(work_kinds[i], key) == 0) {
			*kind = (enum work_kind)i;
			return true;
		}
	return false;
}

const char *decision_key(enum decision decision)
{
	return decisions[decision];
}

bool decision_from_key(const char *key, enum decision *decision)
{
	for (int i = DECISION_NONE; i <= DECISION_DECLINED; i++)
		if (strcmp(decisions[i], key) == 0) {
			*decision = (enum decision)i;
			return true;
		}
	return false;
}

void call_init(struct call *call)
{
	memset(call, 0, sizeof *call);
	call->opened_at = call->closed_at = call->unsafe_at = WALL_TIME_NONE;
	visit_init(&call->visit);
}

void call_done(struct call *call)
{
	free(call->charge);
	free(call->work);
	free(call->offers);
	free(call->watch);
	call_init(call);
}

/* Makes room for one more element of `size` bytes and clears it; NULL: no memory. */
static void *grow(void *list, size_t count, size_t size)
{
	if (count >= SIZE_MAX / size - 1)
		return NULL;
	char *bigger = realloc(list, (count + 1) * size);
	if (bigger)
		memset(bigger + count * size, 0, size);
	return bigger;
}

static void close_gap(void *list, size_t count, size_t size, size_t index)
{
	assert(index < count);
	char *at = (char *)list + index * size;
	memmove(at, at + size, (count - index - 1) * size);
}

struct charge_entry *call_add_charge(struct call *call)
{
	struct charge_entry *list = grow(call->charge, call->charge_count, sizeof *list);
	if (!list)
		return NULL;
	call->charge = list;
	struct charge_entry *entry = &list[call->charge_count++];
	entry->uid = uid_new();
	entry->at = WALL_TIME_NONE;
	for (int i = 0; i < CHARGE_READING_COUNT; i++)
		entry->values[i].taken_at = WALL_TIME_NONE;
	return entry;
}

struct work_line *call_add_work(struct call *call)
{
	struct work_line *list = grow(call->work, call->work_count, sizeof *list);
	if (!list)
		return NULL;
	call->work = list;
	struct work_line *line = &list[call->work_count++];
	line->uid = uid_new();
	line->quantity = 1000;
	return line;
}

struct offer *call_add_offer(struct call *call)
{
	struct offer *list = grow(call->offers, call->offer_count, sizeof *list);
	if (!list)
		return NULL;
	call->offers = list;
	struct offer *offer = &list[call->offer_count++];
	offer->uid = uid_new();
	offer->decided_at = WALL_TIME_NONE;
	return offer;
}

struct watch_item *call_add_watch(struct call *call)
{
	struct watch_item *list = grow(call->watch, call->watch_count, sizeof *list);
	if (!list)
		return NULL;
	call->watch = list;
	struct watch_item *item = &list[call->watch_count++];
	item->uid = uid_new();
	item->noted_at = item->closed_at = WALL_TIME_NONE;
	return item;
}

void call_remove_charge(struct call *call, size_t index)
{
	close_gap(call->charge, call->charge_count--, sizeof *call->charge, index);
}

void call_remove_work(struct call *call, size_t index)
{
	close_gap(call->work, call->work_count--, sizeof *call->work, index);
}

void call_remove_offer(struct call *call, size_t index)
{
	close_gap(call->offers, call->offer_count--, sizeof *call->offers, index);
}

void call_remove_watch(struct call *call, size_t index)
{
	close_gap(call->watch, call->watch_count--, sizeof *call->watch, index);
}
