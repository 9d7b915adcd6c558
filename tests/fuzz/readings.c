/* Anything typed into any reading: what is taken reads back to the last bit. */
#include "fuzz/fuzz.h"

#include <padside/catalog/catalog.h>

enum { WRITTEN_SIZE = 2 * VALUE_TEXT_SIZE };

static void write_in_every_form(enum reading reading, const struct value *value)
{
	char shown[WRITTEN_SIZE];

	for (int system = 0; system < UNIT_SYSTEM_COUNT; system++)
		for (int form = VALUE_FORM_SHEET; form <= VALUE_FORM_PLAIN; form++)
			reading_format(reading, value, (enum unit_system)system, (enum value_form)form, shown,
			               sizeof shown);
}

static void read_back(enum reading reading, const struct value *value)
{
	struct error error;
	struct value again;
	char exact[WRITTEN_SIZE];

	reading_format_exact(reading, value, exact, sizeof exact);
	must(reading_parse(reading, exact, UNITS_US, &again, &error) == STATUS_OK);
	must(again.state == value->state && again.choice == value->choice);
	must(memcmp(&again.number, &value->number, sizeof again.number) == 0);
	must(strcmp(again.text, value->text) == 0 && again.doubtful == value->doubtful);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct error error;
	struct value value = { .number = 0 };

	/* Two bytes choose the reading and the units: one would not reach them all. */
	if (size < 2)
		return 0;
	char *typed = as_string(data + 2, size - 2);
	enum reading reading = (enum reading)(1 + (data[0] | data[1] << 8) % (READING_COUNT - 1));
	enum unit_system system = data[1] & 0x80 ? UNITS_SI : UNITS_US;
	if (reading_parse(reading, typed, system, &value, &error) == STATUS_OK) {
		write_in_every_form(reading, &value);
		read_back(reading, &value);
	} else {
		must(error.text[0] != '\0');
	}
	free(typed);
	return 0;
}
