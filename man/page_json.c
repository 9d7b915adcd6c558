/*
 * padside-json(5): a call as JSON, and the answers of assess and figure.
 */
#include "pages.h"

#include <stddef.h>

#include "notation.h"

static const char *const page[] = {
	".SH NAME",
	"padside-json - calls and answers of padside as JSON",
	".SH DESCRIPTION",
	"\\fBpadside record\\fR and \\fBpadside assess\\fR take a call as one JSON document, or "
	"several as one document a line. \\fBpadside export --for office --format json\\fR writes "
	"the same form; reading and writing it again gives the same bytes.",
	".PP",
	"A bare number is in the unit of the reading (\\fBpadside-readings\\fR(7)). A string may "
	"carry its unit: \"4.5 C\", \"1.2 bar\". \"OL\" is over limit on a resistance. null is not "
	"taken. Money is \"12.50\" or 12.50. Times are local: \"2026-06-03T09:12\".",
	".PP",
	"An unknown member, a value of the wrong kind or one outside the limits is refused with its "
	"path, and nothing is stored. Of several calls \\fBrecord\\fR stores all or none; "
	"\\fBassess\\fR answers a bad line with {\"error\": ...} and goes on.",
	".SH PARTS OF A CALL",
	".TP",
	".B customer",
	"name, phone, email",
	".TP",
	".B site",
	"address, and the readings of the site",
	".TP",
	".B system",
	"name, and the readings of the nameplate",
	".TP",
	".B call",
	"complaint, summary, office_note, opened_at, closed_at",
	".TP",
	".B as_found, as_left",
	"readings before and after the work",
	".TP",
	".B charge_log",
	"a list: at, added, recovered (oz), cylinder, note, and the readings at that time",
	".TP",
	".B work",
	"a list: kind (labour, part, refrigerant, fee), description, quantity, unit_price, no_charge, note",
	".TP",
	".B choices",
	"a list of options: title, price_low, price_high, years_low, years_high, seer, decision (none, "
	"accepted, declined), decided_by, decided_at, note",
	".TP",
	".B watch",
	"a list: fault, text, noted_at, closed_at",
	".TP",
	".B billing",
	"tax (labour, part, refrigerant, fee: %), discount (%), deposit, cooling_hours, energy_rate",
	".TP",
	".B taken_at",
	"when each reading was kept",
	".SH ANSWERS",
	".TP",
	".B figure --json",
	"{\"figure\", \"value\", \"unit\", \"plus_minus\"}. Not evaluated: value is null and "
	"\"why\" says what is missing.",
	".TP",
	".B assess --json",
	"figures (by key: value, unit, plus_minus), findings (most probable first: id, family, label, "
	"probability, level, evidence, advice, caution), healthy, unexplained, contradictions, "
	"next_checks (reading, why, gain), not_evaluated.",
	".SH SEE ALSO",
	"\\fBpadside\\fR(1), \\fBpadside-readings\\fR(7)",
	NULL,
};

void page_json(void)
{
	notation_title("PADSIDE-JSON", 5, "padside");
	notation_rows(page);
}
