/*
 * Earlier visits of the same unit, as `assess` takes them beside a call.
 */
#include <string.h>

#include "app/call_sections.h"

static const char opened_key[] = "opened_at", refit_key[] = "refit";

/* Makes room for one more visit: of too many the first ones go. */
static void begin_visit(struct earlier *earlier)
{
	if (earlier->count == MOST_PAST_VISITS) {
		earlier->count--;
		memmove(earlier->visits, earlier->visits + 1,
		        (size_t)earlier->count * sizeof *earlier->visits);
		memmove(earlier->opened_at, earlier->opened_at + 1,
		        (size_t)earlier->count * sizeof *earlier->opened_at);
		memmove(earlier->refit, earlier->refit + 1,
		        (size_t)earlier->count * sizeof *earlier->refit);
	}
	visit_init(&earlier->visits[earlier->count]);
	earlier->refit[earlier->count] = false;
	earlier->opened_at[earlier->count++] = WALL_TIME_NONE;
}

/* A member of a visit: when it was, or the readings of a stage. */
static enum status take_member(struct earlier_intake *at, const struct json_item *item,
                               struct error *error)
{
	struct earlier *earlier = at->earlier;

	if (strcmp(item->key, opened_key) == 0)
		return call_json_read_time(item, &earlier->opened_at[earlier->count - 1], error);
	if (strcmp(item->key, refit_key) == 0) {
		if (item->type != JSON_TRUE && item->type != JSON_FALSE && item->type != JSON_NULL)
			return error_set(error, STATUS_BAD_INPUT, "%s: true or false is expected", item->path);
		earlier->refit[earlier->count - 1] = item->type == JSON_TRUE;
		return STATUS_OK;
	}
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		if (strcmp(item->key, stage_key((enum stage)stage)) == 0) {
			at->stage = (enum stage)stage;
			return item->type == JSON_OBJECT || item->type == JSON_NULL ? STATUS_OK
				: error_set(error, STATUS_BAD_INPUT, "%s: an object { } is expected", item->path);
		}
	return error_set(error, STATUS_BAD_INPUT, "%s: there is no such member", item->path);
}

static enum status take_reading(struct earlier_intake *at, const struct json_item *item,
                                struct error *error)
{
	enum reading reading = reading_from_key(item->key);
	struct value value;

	if (reading == READING_NONE || reading_info(reading)->scope != SCOPE_CALL)
		return error_set(error, STATUS_BAD_INPUT, "%s: there is no such member", item->path);
	if (item->type == JSON_OBJECT || item->type == JSON_ARRAY)
		return error_set(error, STATUS_BAD_INPUT,
		                 "%s: a single value is expected, no object or list", item->path);
	enum status status = call_json_read_value(reading, item, &value, error);
	if (status == STATUS_OK)
		visit_set(&at->earlier->visits[at->earlier->count - 1], at->stage, reading, &value);
	return status;
}

enum status earlier_take(struct earlier_intake *at, const struct json_item *item,
                         struct error *error)
{
	if (item->type == JSON_END)
		return STATUS_OK;
	if (item->depth == 2 && item->type != JSON_OBJECT)
		return error_set(error, STATUS_BAD_INPUT, "%s: an object { } is expected", item->path);
	if (item->depth == 2)
		return begin_visit(at->earlier), STATUS_OK;
	return item->depth == 3 ? take_member(at, item, error) : take_reading(at, item, error);
}

void earlier_past(const struct earlier *earlier, const struct call *call, struct past *past)
{
	memset(past, 0, sizeof *past);
	for (int i = 0; i < earlier->count; i++) {
		struct visit visit = earlier->visits[i];
		for (int r = READING_NONE + 1; r < READING_COUNT; r++)
			if (reading_info((enum reading)r)->scope != SCOPE_CALL)
				visit_set(&visit, STAGE_AS_FOUND, (enum reading)r,
				          visit_value(&call->visit, STAGE_AS_FOUND, (enum reading)r));
		if (earlier->refit[i])
			past_end(past);
		if (!earlier->refit[i] || past_stage(&visit) == STAGE_AS_LEFT)
			past_add(past, &visit, past_stage(&visit), false);
	}
}
