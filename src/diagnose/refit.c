/*
 * Whether the unit was changed inside between two visits: then what it showed
 * before says nothing any more.  The nameplates tell it where they were kept,
 * and the parts that were billed.
 */
#include <padside/diagnose/past.h>

#include <math.h>
#include <string.h>

#include <padside/base/text.h>

/* Of two nameplates these differ only where something inside was changed. */
static const enum reading inside[] = {
	READING_MODEL, READING_SERIAL, READING_INDOOR_MODEL, READING_INDOOR_SERIAL,
	READING_REFRIGERANT, READING_METERING, READING_COMPRESSOR_MOTOR, READING_COMPRESSOR_KIND,
	READING_NOMINAL_CAPACITY, READING_COMPRESSOR_RLA,
};

/* Numbers of a nameplate that are closer than this share were copied twice. */
static const double same_share = 0.02;

static bool differs(const struct value *before, const struct value *after,
                    enum reading_kind kind)
{
	if (before->state != VALUE_TAKEN || after->state != VALUE_TAKEN)
		return false;
	if (kind == KIND_CHOICE)
		return before->choice != after->choice;
	if (kind == KIND_TEXT)
		return strcmp(before->text, after->text) != 0;
	return fabs(after->number - before->number) > same_share * fabs(before->number);
}

bool past_is_refit(const struct visit *before, const struct visit *after)
{
	for (size_t i = 0; i < sizeof inside / sizeof *inside; i++)
		if (differs(visit_value(before, STAGE_AS_FOUND, inside[i]),
		            visit_value(after, STAGE_AS_FOUND, inside[i]), reading_info(inside[i])->kind))
			return true;
	return false;
}

/* ---- Parts ---- */

/* Parts that make another unit of it … */
static const char *const makes_another[] = {
	"compressor", "condensing unit", "condenser coil", "evaporator", "indoor coil", "orifice",
	"piston", "txv", "exv", "expansion valve", "metering device", "retrofit", "conversion",
};
/* … unless the line is about one of these, or about work that changes nothing. */
static const char *const other_parts[] = {
	"capacitor", "contactor", "relay", "motor", "fan", "fuse", "breaker", "lead", "terminal",
	"heater", "mount", "start", "clean", "wash", "filter", "drier", "overload", " oil", "check",
	"test", "diagnos", "sensor", "cover", "blanket",
};

static bool has_any(const char *text, const char *const *words, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (text_contains_ignoring_case(text, words[i]))
			return true;
	return false;
}

bool past_parts_are_refit(const char *parts)
{
	char part[512];

	while (*parts) {
		size_t length = strcspn(parts, ";");
		size_t kept = length < sizeof part ? length : sizeof part - 1;
		memcpy(part, parts, kept);
		part[kept] = '\0';
		if (has_any(part, makes_another, sizeof makes_another / sizeof *makes_another) &&
		    !has_any(part, other_parts, sizeof other_parts / sizeof *other_parts))
			return true;
		parts += length;
		parts += strspn(parts, ";");
	}
	return false;
}
