/*
 * padside-json(5): a call as JSON, and the answers of assess and figure.
 */
#include "pages.h"

#include <stddef.h>

#include "app/call_sections.h"
#include "notation.h"

static const char *const opening[] = {
	".SH NAME",
	"padside-json - calls and answers of padside as JSON",
	".SH DESCRIPTION",
	"\\fBpadside record\\fR and \\fBpadside assess\\fR take a call as one JSON document, or "
	"several as one document a line. \\fBpadside export --for office --format json\\fR writes "
	"the same form; reading and writing it again gives the same bytes. "
	"\\fBpadside record --schema\\fR prints its JSON Schema (2020-12).",
	".PP",
	"A bare number is in the unit of the reading (\\fBpadside-readings\\fR(7)). A string may "
	"carry its unit: \"4.5 C\", \"1.2 bar\". \"OL\" is over limit on a resistance. null is not "
	"taken. Money is \"12.50\" or 12.50. Times are local: \"2026-06-03T09:12\".",
	".PP",
	"An unknown member, a value of the wrong kind or one outside the limits is refused with its "
	"path, and nothing is stored. Of several calls \\fBrecord\\fR stores all or none; "
	"\\fBassess\\fR answers a bad line with {\"error\": ...} and goes on.",
	NULL,
};

static const char *const closing[] = {
	".SH ANSWERS",
	".TP",
	".B figure --json",
	"{\"figure\", \"value\", \"unit\", \"plus_minus\"}, with \"assumed\" where a usual value "
	"stands in for one that was not given. Not evaluated: value is null and "
	"\"why\" says what is missing.",
	".TP",
	".B assess --json",
	"figures (by key: value, unit, plus_minus; assumed names what nobody measured or read; "
	"expected holds low, high, source, assumed; verdict is good, low, high, or ambiguous where the "
	"interval of the value crosses a limit), readings (likewise, those of which something is "
	"expected), findings (most probable first: id, family, label, "
	"probability, level, evidence, advice, caution), healthy, unexplained, contradictions, "
	"next_checks (reading, why, gain), not_evaluated.",
	".SH SEE ALSO",
	"\\fBpadside\\fR(1), \\fBpadside-readings\\fR(7)",
	NULL,
};

/* "name, phone, email" */
static void put_members(enum call_part part)
{
	bool first = true;

	for (const struct call_member *member = call_part_info(part)->members; member->key; member++) {
		notation_words(first ? "" : ", ");
		notation_words(member->key);
		first = false;
		if (member->unit != UNIT_NONE) {
			notation_words(" (");
			notation_words(unit_symbol(member->unit, false));
			notation_words(")");
		}
	}
}

static void put_section(const struct section_row *section)
{
	bool has_part = section->part != CALL_PART_COUNT;

	notation_tag(section->key,
	             has_part && call_part_info(section->part)->is_list ? "(a list)" : "");
	if (has_part)
		put_members(section->part);
	if (section->part == PART_BILLING) {
		notation_words("; tax: ");
		put_members(PART_TAX);
	}
	if (!has_part && !section->has_readings)
		notation_words("when each reading was kept, by section");
	if (section->has_readings || (has_part && call_part_info(section->part)->has_charge_readings))
		notation_words(has_part ? ", and readings" : "readings");
	notation_line("");
}

void page_json(void)
{
	notation_title("PADSIDE-JSON", 5, "padside");
	notation_rows(opening);
	notation_heading(".SH", "SECTIONS OF A CALL");
	for (int i = 0; i < SECTION_COUNT; i++)
		put_section(&call_json_sections[i]);
	notation_rows(closing);
}
