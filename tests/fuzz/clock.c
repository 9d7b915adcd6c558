/* Times: what is read reads back the same. */
#include "fuzz/fuzz.h"

#include <padside/base/clock.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char *typed = as_string(data, size);
	char written[CLOCK_TEXT_SIZE];
	wall_time time, again;

	if (clock_parse(typed, &time)) {
		must(clock_year(time) >= 1900 && clock_year(time) <= 2999);
		clock_format(time, written, sizeof written);
		must(clock_parse(written, &again) && again == time);
		clock_format_date(time, written, sizeof written);
		clock_format_hour(time, written, sizeof written);
		clock_format_month(time, written, sizeof written);
	}
	free(typed);
	return 0;
}
