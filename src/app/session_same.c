/*
 * Values that need no typing.
 */
#include <padside/app/session_same.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/session_find.h>
#include <padside/base/number.h>
#include <padside/base/text.h>
#include <padside/model/money.h>
#include <padside/model/moved.h>

#include "app/session_parts.h"

/* The newest entry of the charge log that has the reading; NULL for none. */
static const struct value *find_logged(const struct call *call, enum reading reading,
                                       wall_time *at)
{
	*at = WALL_TIME_NONE;
	for (size_t i = call->charge_count; i-- > 0;)
		for (int j = 0; j < CHARGE_READING_COUNT; j++)
			if (charge_reading_id((enum charge_reading)j) == reading &&
			    call->charge[i].values[j].state == VALUE_TAKEN) {
				*at = call->charge[i].at;
				return &call->charge[i].values[j];
			}
	return NULL;
}

enum same_source session_same(const struct session *session, enum reading reading,
                              const struct value **value)
{
	const struct call *call = session_call(session);
	const struct value *found = visit_value(&call->visit, STAGE_AS_FOUND, reading);
	wall_time at;
	const struct value *logged = find_logged(call, reading, &at);

	*value = NULL;
	if (logged && (found->state == VALUE_NOT_TAKEN || at >= found->taken_at)) {
		*value = logged;
		return SAME_CHARGE_LOG;
	}
	if (found->state == VALUE_NOT_TAKEN)
		return SAME_NOTHING;
	*value = found;
	return SAME_AS_FOUND;
}

/* The value as it would have to be typed so that not a digit is lost. */
static void write_exact(enum reading reading, const struct value *value, char *out, size_t size)
{
	const struct reading_info *info = reading_info(reading);
	char number[NUMBER_SIZE];

	if (value->state != VALUE_TAKEN || info->kind != KIND_NUMBER) {
		reading_format(reading, value, UNITS_US, VALUE_FORM_PLAIN, out, size);
		return;
	}
	number_format_exact(value->number, number, sizeof number);
	snprintf(out, size, "%s %s", number, unit_symbol(info->unit, true));
}

enum status session_take_same(struct session *session, enum reading reading, struct error *error)
{
	const struct value *value;
	char typed[VALUE_TEXT_SIZE + 32];

	if (session_same(session, reading, &value) == SAME_NOTHING)
		return error_set(error, STATUS_MISSING,
		                 "%s was not read as found: there is nothing to take",
		                 reading_info(reading)->label);
	write_exact(reading, value, typed, sizeof typed);
	return session_type(session, STAGE_AS_LEFT, reading, typed, error);
}

static bool is_held(const struct session *session, enum reading reading)
{
	const struct session_pending place = { .stage = STAGE_AS_LEFT, .reading = reading };

	return session_pending_find(session, &place) != NULL;
}

/* Whether as left of a reading is to be filled: an answer of safety is given, never copied. */
static bool is_to_fill(const struct call *call, enum step step, enum reading reading)
{
	const struct reading_info *info = reading_info(reading);

	return info->step == step && info->scope == SCOPE_CALL && step != STEP_SAFETY &&
	       visit_has(&call->visit, STAGE_AS_FOUND, reading) &&
	       !visit_has(&call->visit, STAGE_AS_LEFT, reading);
}

enum status session_take_all_same(struct session *session, enum step step, int *count, int *held,
                                  struct error *error)
{
	enum reading readings[READING_COUNT];
	struct value values[READING_COUNT];
	enum status status = session_refresh(session, NULL, error);

	*count = *held = 0;
	for (int i = READING_NONE + 1; i < READING_COUNT && status == STATUS_OK; i++) {
		const struct call *call = session_call(session);
		const struct value *value;
		enum reading reading = (enum reading)i;
		if (!is_to_fill(call, step, reading))
			continue;
		if (is_held(session, reading)) {
			++*held;
			continue;
		}
		enum same_source source = session_same(session, reading, &value);
		values[*count] = *value;
		if (source == SAME_CHARGE_LOG)
			find_logged(call, reading, &values[*count].taken_at);
		readings[(*count)++] = reading;
	}
	if (status != STATUS_OK || *count == 0)
		return status;
	return session_fill_left(session, readings, values, *count, error);
}

int session_fill_charge(const struct session *session, struct charge_entry *entry)
{
	const struct visit *visit = &session_call(session)->visit;
	int count = 0;

	for (int i = 0; i < CHARGE_READING_COUNT; i++) {
		enum reading reading = charge_reading_id((enum charge_reading)i);
		bool is_left = visit_has(visit, STAGE_AS_LEFT, reading);
		const struct value *value = visit_value(visit, is_left ? STAGE_AS_LEFT : STAGE_AS_FOUND,
		                                        reading);
		if (entry->values[i].state != VALUE_NOT_TAKEN || value->state != VALUE_TAKEN)
			continue;
		entry->values[i] = *value;
		count++;
	}
	return count;
}

/* ---- Refrigerant ---- */

/* The price list's line for the refrigerant by its name. */
static bool find_price(struct session *session, const char *name, struct price_item *item)
{
	struct price_item items[8];
	struct error error;
	int count;

	if (!*name || session_find_prices(session, name, items, 8, &count, &error) != STATUS_OK)
		return false;
	for (int i = 0; i < count; i++)
		if (items[i].kind == WORK_REFRIGERANT) {
			*item = items[i];
			return true;
		}
	return false;
}

/* Whether both lines sell one refrigerant, in whatever unit of weight. */
static bool is_same_refrigerant(const struct work_line *line, const struct work_line *other)
{
	int stem, other_stem;
	money_line_unit(line, &stem);
	money_line_unit(other, &other_stem);
	return line->kind == WORK_REFRIGERANT && stem == other_stem &&
	       strncmp(line->description, other->description, (size_t)stem) == 0;
}

/* As a scale shows it: tenths of an ounce, hundredths of a pound, grams. */
static thousandths weight_quantity(double weight, enum unit unit)
{
	const thousandths step = unit == UNIT_OZ ? 100 : unit == UNIT_LB ? 10
	                       : unit == UNIT_GRAM ? 1000 : 1;

	return llround(1000 * weight / (double)step) * step;
}

enum status session_bill_refrigerant(struct session *session, struct work_line *line,
                                     struct error *error)
{
	const struct call *call = session_call(session);
	enum choice choice = visit_choice(&call->visit, STAGE_AS_FOUND, READING_REFRIGERANT);
	const char *name = choice == CHOICE_NONE ? "" : choice_label(choice);
	struct work_line fresh = { .kind = WORK_REFRIGERANT };
	struct price_item item;
	struct moved moved;
	enum unit unit = unit_shown(UNIT_OZ, session->units);

	moved_work_out(call, &moved);
	if (!(moved.added_oz > 0))
		return error_set(error, STATUS_MISSING,
		                 "the charge log has no refrigerant added, and none is weighed "
		                 "in; write it there first");
	snprintf(fresh.description, sizeof fresh.description, "Refrigerant%s%s, %s",
	         *name ? " " : "", name, session->units == UNITS_SI ? "grams" : "ounces");
	if (find_price(session, name, &item)) {
		text_copy(fresh.description, sizeof fresh.description, item.description);
		fresh.unit_price = item.unit_price;
	}
	for (size_t i = 0; i < call->work_count; i++)
		if (is_same_refrigerant(&call->work[i], &fresh))
			fresh = call->work[i];
	money_weight_unit(&fresh, &unit);
	fresh.quantity = weight_quantity(unit_convert(moved.added_oz, UNIT_OZ, unit), unit);
	*line = fresh;
	return session_put_work(session, &fresh, error);
}
