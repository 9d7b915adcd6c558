/*
 * The table of readings, and the choices they take.
 */
#include <padside/catalog/catalog.h>

#include <assert.h>
#include <math.h>
#include <string.h>

static const struct reading_info readings[READING_COUNT] = {
#define READING(id, key_, ...) [READING_##id] = { .key = key_, __VA_ARGS__ },
#include <padside/catalog/readings.def>
#undef READING
};

struct choice_row {
	enum choice_list list; /* the list it belongs to */
	const char *key;       /* stable word */
	const char *label;     /* plain words */
	const char *aliases;   /* what else the trade calls it, separated by ";" */
};

static const struct choice_row choices[CHOICE_COUNT] = {
	[CHOICE_NONE] = { CHOICES_NONE, "", "", "" },
#define CHOICE(list, id, key, label, aliases) \
	[CHOICE_##list##_##id] = { CHOICES_##list, key, label, aliases },
#include <padside/catalog/choices.def>
#undef CHOICE
};

const struct reading_info *reading_info(enum reading reading)
{
	assert(reading > READING_NONE && reading < READING_COUNT);
	return &readings[reading];
}

bool reading_is_of_circuit(enum reading reading)
{
	const struct reading_info *info = reading_info(reading);

	return info->step == STEP_REFRIGERANT && info->power == POWER_NEEDED_RUNNING &&
	       reading != READING_RUNNING_MINUTES;
}

enum reading reading_from_key(const char *key)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (*readings[i].key == *key && strcmp(readings[i].key, key) == 0)
			return (enum reading)i;
	return READING_NONE;
}

const char *choice_key(enum choice choice)
{
	return choices[choice].key;
}

const char *choice_label(enum choice choice)
{
	return choices[choice].label;
}

const char *choice_aliases(enum choice choice)
{
	return choices[choice].aliases;
}

enum choice choice_first(enum choice_list list)
{
	for (int i = CHOICE_NONE + 1; i < CHOICE_COUNT; i++)
		if (choices[i].list == list)
			return (enum choice)i;
	return CHOICE_NONE;
}

int choice_count(enum choice_list list)
{
	int count = 0;

	for (int i = CHOICE_NONE + 1; i < CHOICE_COUNT; i++)
		count += choices[i].list == list;
	return count;
}
