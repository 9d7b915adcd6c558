/*
 * Units of measure, driven by units.def.
 */
#include <padside/base/units.h>

#include <assert.h>
#include <string.h>

#include <padside/base/text.h>

enum quantity {
	QUANTITY_NONE, QUANTITY_TEMPERATURE, QUANTITY_DIFFERENCE, QUANTITY_GAUGE,
	QUANTITY_STATIC, QUANTITY_COOLING, QUANTITY_HEAT, QUANTITY_POWER, QUANTITY_MASS,
	QUANTITY_DISTANCE, QUANTITY_LINEAR_MASS, QUANTITY_DIAMETER, QUANTITY_RESISTANCE,
	QUANTITY_INSULATION,
	QUANTITY_VOLTAGE, QUANTITY_CURRENT, QUANTITY_CAPACITANCE, QUANTITY_SHORT_TIME,
	QUANTITY_LONG_TIME, QUANTITY_AIRFLOW, QUANTITY_PERCENT, QUANTITY_ENTHALPY,
	QUANTITY_ENERGY, QUANTITY_EFFICIENCY,
};

struct unit_row {
	enum quantity quantity; /* what it measures */
	const char *symbol;     /* as written, UTF-8 */
	const char *plain;      /* as written, ASCII */
	double scale, offset;   /* to the quantity's reference unit */
	enum unit si;           /* shown instead in SI */
	int si_decimals;        /* decimals gained by that */
	const char *aliases;    /* also typed as, separated by spaces */
};

static const struct unit_row units[UNIT_COUNT] = {
#define UNIT(id, quantity_, symbol_, plain_, scale_, offset_, si_, decimals_, aliases_) \
	[UNIT_##id] = { QUANTITY_##quantity_, symbol_, plain_, scale_, offset_, \
	                UNIT_##si_, decimals_, aliases_ },
#include <padside/base/units.def>
#undef UNIT
};

enum unit unit_shown(enum unit unit, enum unit_system system)
{
	return system == UNITS_SI ? units[unit].si : unit;
}

const char *unit_symbol(enum unit unit, bool plain)
{
	return plain ? units[unit].plain : units[unit].symbol;
}

double unit_convert(double value, enum unit from, enum unit to)
{
	assert(units[from].quantity == units[to].quantity);
	if (from == to)
		return value;
	return (value * units[from].scale + units[from].offset - units[to].offset) / units[to].scale;
}

double unit_convert_spread(double spread, enum unit from, enum unit to)
{
	assert(units[from].quantity == units[to].quantity);
	return from == to ? spread : spread * units[from].scale / units[to].scale;
}

int unit_decimals_shown(int decimals, enum unit unit, enum unit_system system)
{
	if (system == UNITS_SI)
		decimals += units[unit].si_decimals;
	return decimals < 0 ? 0 : decimals;
}

static bool is_same(const char *a, const char *b, bool ignore_case)
{
	return ignore_case ? text_equal_ignoring_case(a, b) : strcmp(a, b) == 0;
}

/* Looks through the words of `aliases` for `typed`. */
static bool is_alias(const char *typed, const char *aliases, bool ignore_case)
{
	char word[24];

	while (*aliases) {
		size_t length = strcspn(aliases, " ");
		if (length < sizeof word) {
			memcpy(word, aliases, length);
			word[length] = '\0';
			if (is_same(typed, word, ignore_case))
				return true;
		}
		aliases += length;
		aliases += strspn(aliases, " ");
	}
	return false;
}

static bool is_named(const struct unit_row *row, const char *typed, bool ignore_case)
{
	return is_same(typed, row->symbol, ignore_case) ||
	       is_same(typed, row->plain, ignore_case) ||
	       is_alias(typed, row->aliases, ignore_case);
}

bool unit_from_text(const char *typed, enum unit canonical, enum unit *unit)
{
	if (*typed == '\0')
		return false;
	/* Letter for letter first: "M" and "m" are not the same thing. */
	for (int ignore_case = 0; ignore_case <= 1; ignore_case++)
		for (int i = 0; i < UNIT_COUNT; i++)
			if (units[i].quantity == units[canonical].quantity &&
			    is_named(&units[i], typed, ignore_case)) {
				*unit = (enum unit)i;
				return true;
			}
	return false;
}

void unit_list_accepted(enum unit canonical, char *list, size_t size)
{
	struct text text;

	text_init(&text);
	for (int i = 0; i < UNIT_COUNT; i++)
		if (units[i].quantity == units[canonical].quantity && units[i].symbol[0])
			text_add_format(&text, "%s%s", text.length ? ", " : "", units[i].symbol);
	text_copy(list, size, text_get(&text));
	text_done(&text);
}
