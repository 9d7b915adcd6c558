/*
 * Dates on the screen.
 */
#include "tui/local.h"

#include <langinfo.h>
#include <locale.h>
#include <string.h>
#include <time.h>

#include <padside/base/text.h>

enum { DATE_COLUMNS = 11 };

/* LC_TIME of the environment, opened once; 0 where it is "C" or not there. */
static locale_t date_locale(void)
{
	static locale_t locale;
	static int is_open;

	if (!is_open) {
		is_open = 1;
		locale = newlocale(LC_TIME_MASK, "", (locale_t)0);
		/* The "C" locale writes "07/14/26", which nobody reads twice alike. */
		if (locale && strcmp(nl_langinfo_l(D_FMT, locale), "%m/%d/%y") == 0) {
			freelocale(locale);
			locale = (locale_t)0;
		}
	}
	return locale;
}

void local_date(wall_time time, char *out, size_t size)
{
	char iso[CLOCK_TEXT_SIZE], written[64];
	struct tm day = { .tm_mday = 1 };
	locale_t locale = date_locale();

	clock_format_date(time, iso, sizeof iso);
	if (!locale || !*iso || !strptime(iso, "%Y-%m-%d", &day) ||
	    strftime_l(written, sizeof written, "%x", &day, locale) == 0 ||
	    text_columns(written) > DATE_COLUMNS)
		text_copy(out, size, iso);
	else
		text_copy(out, size, written);
}
