/* The paper: golden files for each format and reader, and what must never come out. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/report/paper.h>

#include "support/golden.h"
#include "support/sample_call.h"

Suite *paper_suite(void);

static void write_paper(const struct paper_input *input, enum paper_reader reader,
                        enum document_format format, bool plain, struct text *text)
{
	struct document document;

	document_init(&document);
	paper_build(input, reader, &document);
	ck_assert(!document.failed);
	document_write(&document, format, plain, text);
	ck_assert(!text->failed);
	document_done(&document);
}

/* Every format for both readers; _i counts through them. */
START_TEST(golden_papers)
{
	static const char *const endings[DOCUMENT_FORMAT_COUNT] = {
		[DOCUMENT_TEXT] = "txt", [DOCUMENT_MARKDOWN] = "md", [DOCUMENT_HTML] = "html",
		[DOCUMENT_CSV] = "csv",
	};
	enum document_format format = (enum document_format)(_i / PAPER_READER_COUNT);
	enum paper_reader reader = (enum paper_reader)(_i % PAPER_READER_COUNT);
	struct sample sample;
	struct text text;
	char name[64];

	sample_init(&sample);
	text_init(&text);
	write_paper(&sample.input, reader, format, false, &text);
	snprintf(name, sizeof name, "%s.%s", paper_reader_key(reader), endings[format]);
	golden_check_text("report/golden", name, text_get(&text));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

/* ---- What must hold for every paper ---- */

START_TEST(text_is_80_columns_wide)
{
	struct sample sample;
	struct text text;

	sample_init(&sample);
	sample.input.units = _i & 1 ? UNITS_SI : UNITS_US;
	text_init(&text);
	write_paper(&sample.input, _i & 2 ? PAPER_OFFICE : PAPER_CUSTOMER, DOCUMENT_TEXT, _i & 4,
	            &text);
	for (char *line = strtok(text.bytes, "\n"); line; line = strtok(NULL, "\n")) {
		ck_assert_msg(text_columns(line) <= 80, "too wide: %s", line);
		ck_assert_msg(line[strlen(line) - 1] != ' ', "ends in spaces: %s", line);
	}
	text_done(&text);
	sample_done(&sample);
}
END_TEST

START_TEST(plain_papers_are_ascii)
{
	static const enum document_format formats[] = {
		DOCUMENT_TEXT, DOCUMENT_MARKDOWN, DOCUMENT_CSV,
	};
	struct sample sample;
	struct text text;

	sample_init(&sample);
	text_init(&text);
	write_paper(&sample.input, PAPER_OFFICE, formats[_i], true, &text);
	for (size_t i = 0; i < text.length; i++)
		ck_assert_msg((unsigned char)text.bytes[i] < 0x80, "at %.40s", text.bytes + i);
	ck_assert_ptr_nonnull(strstr(text.bytes, "27.0"));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

/* 119 psig is 820.5 kPa (NIST SP 811: 1 psi = 6.894757 kPa), 88 °F is 31.1 °C. */
START_TEST(papers_in_si_units)
{
	struct sample sample;
	struct text text;

	sample_init(&sample);
	sample.input.units = UNITS_SI;
	text_init(&text);
	write_paper(&sample.input, _i ? PAPER_OFFICE : PAPER_CUSTOMER, DOCUMENT_CSV, false, &text);
	if (_i) {
		ck_assert_ptr_nonnull(strstr(text.bytes, "suction pressure,as left,820,kPa"));
		ck_assert_ptr_nonnull(strstr(text.bytes, "outdoor dry bulb,as left,31.1,°C"));
	}
	ck_assert_ptr_nonnull(strstr(text.bytes, _i ? "superheat,as found,11.7,K"
	                                             : "refrigerant charge, shown by a temperature "
	                                               "(high: too little, low: too much)\",as "
	                                               "found,11.7,K"));
	ck_assert_ptr_null(strstr(text.bytes, ",°F,"));
	ck_assert_ptr_null(strstr(text.bytes, " psig"));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

/* What only the office may read. */
START_TEST(the_customer_reads_no_internal_things)
{
	static const char *const internal[] = {
		"Gate code", "second van", "neighbour", "019f0a5d-ac96-", "98.5 %", "0.985", "leans", "A-17", "bits",
		"mechanically locked", "±1.2", "FLA", "RLA", "LRA", "locked out", "not recorded", "winding",
	};
	struct sample sample;
	struct text customer, office;

	sample_init(&sample);
	text_init(&customer);
	text_init(&office);
	write_paper(&sample.input, PAPER_CUSTOMER, (enum document_format)_i, false, &customer);
	write_paper(&sample.input, PAPER_OFFICE, (enum document_format)_i, false, &office);
	for (size_t i = 0; i < sizeof internal / sizeof *internal; i++)
		ck_assert_msg(!strstr(text_get(&customer), internal[i]), "%s", internal[i]);
	ck_assert_ptr_nonnull(strstr(text_get(&customer), "very likely"));
	ck_assert_ptr_nonnull(strstr(text_get(&office), "Gate code"));
	ck_assert_ptr_nonnull(strstr(text_get(&office), "mechanically locked"));
	text_done(&customer);
	text_done(&office);
	sample_done(&sample);
}
END_TEST

static const char hostile[] =
	"=HYPERLINK(\"x\")\x1b[31m<script>alert('1')</script>|**b**`c`\xc2\x9b\xe2\x80\xae &amp;\r\nX";

static void make_hostile(struct sample *sample)
{
	struct call *call = &sample->call;

	text_copy(call->customer.name, sizeof call->customer.name, hostile);
	text_copy(call->site.address, sizeof call->site.address, hostile);
	text_copy(call->complaint, sizeof call->complaint, hostile);
	text_copy(call->summary, sizeof call->summary, hostile);
	text_copy(call->work[0].description, sizeof call->work[0].description, hostile);
	text_copy(call->offers[0].title, sizeof call->offers[0].title, hostile);
	text_copy(call->charge[0].note, sizeof call->charge[0].note, hostile);
	text_copy(call->watch[0].text, sizeof call->watch[0].text, hostile);
	sample->visits[0].found = hostile;
	sample->trends[0].label = hostile;
	sample->trends[0].words = hostile;
}

START_TEST(hostile_names_are_harmless_in_every_format)
{
	struct sample sample;
	struct text text;

	sample_init(&sample);
	make_hostile(&sample);
	text_init(&text);
	write_paper(&sample.input, PAPER_OFFICE, (enum document_format)_i, false, &text);
	/* No control characters: neither C0 (but line ends) nor C1 nor bidi. */
	for (size_t i = 0; i < text.length; i++) {
		unsigned char byte = (unsigned char)text.bytes[i];
		ck_assert(byte >= 0x20 || byte == '\n' || (byte == '\r' && text.bytes[i + 1] == '\n'));
		ck_assert(byte != 0x7f);
	}
	ck_assert_ptr_null(strstr(text.bytes, "\xc2\x9b"));
	ck_assert_ptr_null(strstr(text.bytes, "\xe2\x80\xae"));
	if (_i == DOCUMENT_HTML || _i == DOCUMENT_MARKDOWN)
		ck_assert_ptr_null(strstr(text.bytes, "<script"));
	if (_i == DOCUMENT_MARKDOWN)
		ck_assert_ptr_null(strstr(text.bytes, "**b**"));
	if (_i == DOCUMENT_CSV) {
		ck_assert_ptr_null(strstr(text.bytes, ",="));
		ck_assert_ptr_null(strstr(text.bytes, ",\"="));
		ck_assert_ptr_nonnull(strstr(text.bytes, "\"'=HYPERLINK(\"\"x\"\")"));
	}
	text_done(&text);
	sample_done(&sample);
}
END_TEST

START_TEST(an_empty_call_makes_a_paper)
{
	struct call call;
	static struct assessment assessment;
	struct paper_input input = { .call = &call, .assessment = &assessment };
	struct text text;

	call_init(&call);
	text_init(&text);
	assessment_make(&(struct assessment_input){ .call = &call }, &assessment);
	write_paper(&input, _i % 2 ? PAPER_OFFICE : PAPER_CUSTOMER, (enum document_format)(_i / 2),
	            false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, "No readings were taken on arrival."));
	ck_assert_ptr_nonnull(strstr(text.bytes, "Local codes"));
	/* What the technician did for safety is between technician and office. */
	ck_assert_int_eq(strstr(text.bytes, "not recorded") != NULL, _i % 2);
	text_done(&text);
	call_done(&call);
}
END_TEST

/* The customer is told what can hurt the customer; never what the technician left out. */
START_TEST(unsafe_readings_and_flammable_gas_are_said)
{
	struct sample sample;
	struct value value;
	struct error error;
	struct text text;

	sample_init(&sample);
	ck_assert(reading_parse(READING_REFRIGERANT, "R-454B", UNITS_US, &value, &error) == STATUS_OK);
	visit_set(&sample.call.visit, STAGE_AS_FOUND, READING_REFRIGERANT, &value);
	sample.call.unsafe_at = sample.call.opened_at;
	text_init(&text);
	write_paper(&sample.input, PAPER_OFFICE, DOCUMENT_TEXT, false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, "flammable refrigerant. Keep flames"));
	ck_assert_ptr_nonnull(strstr(text.bytes, "without the unit being"));
	text_clear(&text);
	write_paper(&sample.input, PAPER_CUSTOMER, DOCUMENT_TEXT, false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, "flammable refrigerant. Keep flames"));
	ck_assert_ptr_null(strstr(text.bytes, "made safe"));
	ck_assert_ptr_null(strstr(text.bytes, "without the"));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

START_TEST(too_much_money_is_said_not_shown)
{
	struct sample sample;
	struct text text;

	sample_init(&sample);
	sample.call.work[0].quantity = INT64_MAX;
	sample.call.work[0].unit_price = INT64_MAX;
	text_init(&text);
	write_paper(&sample.input, PAPER_CUSTOMER, DOCUMENT_TEXT, false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, "Not added up: an amount of money is too large"));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

/* A typed name stands for a signature; without one there is a line to sign on. */
START_TEST(work_is_accepted_by_name_or_by_hand)
{
	struct sample sample;
	struct text text;

	sample_init(&sample);
	text_init(&text);
	write_paper(&sample.input, (enum paper_reader)_i, DOCUMENT_TEXT, false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, "________\n  Name and signature"));
	ck_assert_ptr_nonnull(strstr(text.bytes, "up to $450.00."));
	text_clear(&text);
	text_copy(sample.call.accepted_by, sizeof sample.call.accepted_by, "Ada Example");
	sample.call.accepted_at = sample.call.closed_at;
	sample.call.accepted_total = 40080;
	write_paper(&sample.input, (enum paper_reader)_i, DOCUMENT_TEXT, false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, _i ? "Accepted by Ada Example on 2026-06-03 11:40: the work "
	                                            : "Accepted by Ada Example on 3 June 2026, 11:40: the work "));
	ck_assert_ptr_nonnull(strstr(text.bytes, "the total of $400.80; "));
	ck_assert_ptr_null(strstr(text.bytes, "________"));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

static void log_tightness(struct call *call)
{
	struct tightness_entry *entry = call_list_add(call, LIST_TIGHTNESS);
	ck_assert_ptr_nonnull(entry);
	entry->kind = TIGHTNESS_NITROGEN;
	entry->at = call->opened_at;
	entry->pressure = (struct value){ .state = VALUE_TAKEN, .number = 150 };
	entry = call_list_add(call, LIST_TIGHTNESS);
	ck_assert_ptr_nonnull(entry);
	entry->kind = TIGHTNESS_VACUUM;
	entry->at = call->opened_at + 3600;
	entry->microns = (struct value){ .state = VALUE_TAKEN, .number = 380 };
	struct cylinder *cylinder = call_list_add(call, LIST_CYLINDERS);
	ck_assert_ptr_nonnull(cylinder);
	text_copy(cylinder->name, sizeof cylinder->name, "R-3");
	cylinder->refrigerant = CHOICE_REFRIGERANT_R407C;
	cylinder->water_capacity_lb = 47.7;
}

/* 150 psig is 1034 kPa (NIST SP 811: 6.894757 kPa each); 47.7 lb is 21.64 kg. */
START_TEST(tightness_in_full_for_the_office_in_a_word_for_the_customer)
{
	struct sample sample;
	struct text text;

	sample_init(&sample);
	log_tightness(&sample.call);
	text_init(&text);
	sample.input.units = _i ? UNITS_SI : UNITS_US;
	write_paper(&sample.input, PAPER_OFFICE, DOCUMENT_TEXT, false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, _i ? "1034 kPa" : "150.0 psig"));
	ck_assert_ptr_nonnull(strstr(text.bytes, "380 microns"));
	ck_assert_ptr_nonnull(strstr(text.bytes, "R-407C"));
	ck_assert_ptr_nonnull(strstr(text.bytes, _i ? "21.64 kg" : "47.70 lb"));
	text_clear(&text);
	write_paper(&sample.input, PAPER_CUSTOMER, DOCUMENT_TEXT, false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, "Pressure test of the refrigerant circuit"));
	ck_assert_ptr_null(strstr(text.bytes, "microns"));
	ck_assert_ptr_null(strstr(text.bytes, "47.7"));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

START_TEST(a_bill_without_deposit_ends_with_its_total)
{
	struct sample sample;
	struct text text;

	sample_init(&sample);
	sample.call.billing.deposit = 0;
	text_init(&text);
	write_paper(&sample.input, PAPER_CUSTOMER, DOCUMENT_TEXT, false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, "400.80"));
	ck_assert_ptr_null(strstr(text.bytes, "Balance"));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

/* Figures of the nameplate alone are no sign that anything was read after the work. */
START_TEST(a_stage_without_readings_has_no_column)
{
	struct sample sample;
	struct text text;

	sample_init(&sample);
	for (int reading = 1; reading < READING_COUNT; reading++)
		if (reading_info((enum reading)reading)->scope == SCOPE_CALL)
			sample.call.visit.values[STAGE_AS_LEFT][reading].state = VALUE_NOT_TAKEN;
	assessment_make(&(struct assessment_input){ .call = &sample.call }, &sample.assessment);
	text_init(&text);
	write_paper(&sample.input, PAPER_OFFICE, DOCUMENT_CSV, false, &text);
	ck_assert_ptr_null(strstr(text.bytes, ",as left,"));
	ck_assert_ptr_nonnull(strstr(text.bytes, "needs doing"));
	ck_assert_ptr_null(strstr(text.bytes, "After the work"));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

/* ---- HTML ---- */

/* Counts how often `what` is in `text`. */
static int count(const char *text, const char *what)
{
	int found = 0;

	for (text = strstr(text, what); text; text = strstr(text + 1, what))
		found++;
	return found;
}

START_TEST(the_page_stands_alone_and_is_accessible)
{
	static const char *const closed[] = {
		"section", "table", "thead", "tbody", "tfoot", "tr", "th", "td", "svg", "ul", "li", "dl",
		"dt", "dd", "figure", "h1", "h2", "h3", "h4", "p", "title", "desc", "strong", "span", "div",
	};
	struct sample sample;
	struct text text;
	char open_tag[16], close_tag[16];

	sample_init(&sample);
	text_init(&text);
	write_paper(&sample.input, _i ? PAPER_OFFICE : PAPER_CUSTOMER, DOCUMENT_HTML, false, &text);
	for (size_t i = 0; i < sizeof closed / sizeof *closed; i++) {
		snprintf(open_tag, sizeof open_tag, "<%s>", closed[i]);
		int opened = count(text.bytes, open_tag);
		snprintf(open_tag, sizeof open_tag, "<%s ", closed[i]);
		opened += count(text.bytes, open_tag);
		snprintf(close_tag, sizeof close_tag, "</%s>", closed[i]);
		ck_assert_msg(opened == count(text.bytes, close_tag), "<%s>: %d", closed[i], opened);
	}
	ck_assert_int_eq(count(text.bytes, "<h1>"), 1);
	ck_assert_ptr_nonnull(strstr(text.bytes, _i ? "<title>Office report for Ada Example, 2026-06-03</title>"
	                                             : "<title>Service report for Ada Example, 3 June 2026</title>"));
	ck_assert_int_eq(count(text.bytes, "<th>"), 0);
	ck_assert_int_eq(count(text.bytes, "<th "), count(text.bytes, "<th scope="));
	ck_assert_int_eq(count(text.bytes, "<svg class=\"ruler\"") +
	                 count(text.bytes, "<svg class=\"trend\""),
	                 count(text.bytes, "role=\"img\" aria-labelledby"));
	ck_assert_ptr_nonnull(strstr(text.bytes, "<html lang=\"en\">"));
	ck_assert_ptr_null(strstr(text.bytes, "http:"));
	ck_assert_ptr_null(strstr(text.bytes, "https:"));
	ck_assert_ptr_null(strstr(text.bytes, "<script"));
	ck_assert_ptr_null(strstr(text.bytes, "url("));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

/* The foot's words are CSS strings: nothing in a name ends the string or the style sheet. */
START_TEST(names_cannot_leave_the_style_sheet)
{
	struct sample sample;
	struct text text;

	sample_init(&sample);
	text_copy(sample.call.customer.name, sizeof sample.call.customer.name,
	          "\"; } body { display: none } /* </style><b>\\");
	text_init(&text);
	write_paper(&sample.input, PAPER_CUSTOMER, DOCUMENT_HTML, false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, "@bottom-left { content: \"\\000022\\00003b \\00007d body "
	                             "\\00007b display\\00003a none \\00007d "));
	ck_assert_int_eq(count(text.bytes, "</style>"), 1);
	text_done(&text);
	sample_done(&sample);
}
END_TEST

/* "foobar", "fooba" and "foob" in base64: RFC 4648, section 10. */
START_TEST(a_logo_is_inside_the_page)
{
	static const char *const endings[] = { "Zm9vYmFy\">", "Zm9vYmE=\">", "Zm9vYg==\">" };
	struct sample sample;
	struct text text;

	sample_init(&sample);
	text_init(&text);
	unsigned char bytes[15];
	memcpy(bytes, "123456789foobar", sizeof bytes);
	sample.input.logo = (struct picture){ .bytes = bytes, .length = sizeof bytes - (size_t)_i };
	write_paper(&sample.input, PAPER_CUSTOMER, DOCUMENT_HTML, false, &text);
	ck_assert_ptr_nonnull(strstr(text.bytes, "<img alt=\"\" src=\"data:image/png;base64,MTIzNDU2Nzg5"));
	ck_assert_ptr_nonnull(strstr(text.bytes, endings[_i]));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

/* ---- Sheets ---- */

START_TEST(every_sheet_says_whose_it_is_and_which)
{
	struct document document;
	struct sample sample;
	struct text text, sheets;
	char foot[128];
	int sheet = 0, rows = 0, count_of_sheets = 1;

	sample_init(&sample);
	document_init(&document);
	text_init(&text);
	text_init(&sheets);
	paper_build(&sample.input, _i ? PAPER_OFFICE : PAPER_CUSTOMER, &document);
	document_write(&document, DOCUMENT_TEXT, false, &text);
	document_add_sheets(&document, text_get(&text), false, &sheets);
	for (const char *at = sheets.bytes; *at; at++)
		count_of_sheets += *at == '\f';
	ck_assert_int_gt(count_of_sheets, 1);
	ck_assert_int_le(count_of_sheets, _i ? 8 : 4);
	for (char *line = sheets.bytes; *line;) {
		size_t length = strcspn(line, "\n");
		if (*line == '\f') {
			ck_assert_int_eq(rows, DOCUMENT_SHEET_ROWS);
			rows = 0;
			line++, length--;
		}
		rows++;
		snprintf(foot, sizeof foot, "call J-1042, page %d of %d\n", sheet + 1,
		         count_of_sheets);
		if (strncmp(line, "Ada Example, 14 Alder Court", 27) == 0) {
			ck_assert_ptr_nonnull(strstr(line, foot));
			sheet++;
		}
		line += length + 1;
	}
	ck_assert_int_eq(sheet, count_of_sheets);
	text_done(&text);
	text_done(&sheets);
	document_done(&document);
	sample_done(&sample);
}
END_TEST

/* Nothing is lost at a cut but the empty line there. */
START_TEST(sheets_hold_every_line)
{
	struct document document;
	struct text text, sheets;
	char line[32];

	document_init(&document);
	text_init(&text);
	text_init(&sheets);
	for (int i = 0; i < 200; i++)
		text_add_format(&text, i % (3 + _i) == 2 ? "\n" : "line %d\n", i);
	document_add_sheets(&document, text_get(&text), true, &sheets);
	const char *at = text_get(&sheets);
	for (int i = 0; i < 200; i++) {
		if (i % (3 + _i) == 2)
			continue;
		snprintf(line, sizeof line, "line %d\n", i);
		at = strstr(at, line);
		ck_assert_msg(at != NULL, "%s", line);
	}
	text_done(&text);
	text_done(&sheets);
}
END_TEST

/* Whose it is and the number stand on one line while a space is left between them, else on two. */
START_TEST(a_foot_takes_two_lines_only_where_it_must)
{
	enum { NUMBER_COLUMNS = 22 }; /* of "call J-1, page 1 of 1" with the space before it */
	struct document document;
	struct text text, sheets;
	char whose[80] = "";

	document_init(&document);
	text_init(&text);
	text_init(&sheets);
	memset(whose, 'w', 80 - NUMBER_COLUMNS + (size_t)_i);
	document.whose = whose;
	document.number = "call J-1";
	document_add_sheets(&document, "words\n", true, &sheets);
	const char *foot = strstr(text_get(&sheets), whose);
	ck_assert_ptr_nonnull(foot);
	ck_assert_int_eq(foot[strlen(whose)], _i ? '\n' : ' ');
	ck_assert_int_eq(strncmp(foot + strlen(whose) + 1, "call J-1, page 1 of 1\n", 22) == 0, !_i);
	ck_assert_ptr_nonnull(strstr(foot, "call J-1, page 1 of 1\n"));
	text_done(&text);
	text_done(&sheets);
	document_done(&document);
}
END_TEST

/* A heading, its help and what it is of stay together: 52 lines, then a heading in the last rows. */
START_TEST(no_sheet_ends_in_a_heading)
{
	const char *rule = _i ? "----" : "────";
	struct document document;
	struct text text, sheets;

	document_init(&document);
	text_init(&text);
	text_init(&sheets);
	for (int i = 0; i < 52; i++)
		text_add(&text, i % 4 == 3 ? "\n" : "words\n");
	text_add_format(&text, "Your agreement\n%s\nhelp\n\n", rule);
	for (int i = 0; i < 20; i++)
		text_add(&text, "what it is of\n");
	document_add_sheets(&document, text_get(&text), _i != 0, &sheets);
	const char *cut = strchr(text_get(&sheets), '\f');
	ck_assert_ptr_nonnull(cut);
	ck_assert_int_eq(strncmp(cut + 1, "Your agreement\n", 15), 0);
	text_done(&text);
	text_done(&sheets);
	document_done(&document);
}
END_TEST

/* An item without an empty line near it is not parted from its values. */
START_TEST(an_item_stays_with_its_values)
{
	struct document document;
	struct text text, sheets;

	document_init(&document);
	text_init(&text);
	text_init(&sheets);
	for (int i = 0; i < _i; i++)
		text_add(&text, "words\n");
	for (int i = 0; i < 40; i++)
		text_add(&text, "  item\n    value\n    value\n");
	document_add_sheets(&document, text_get(&text), true, &sheets);
	const char *cut = strchr(text_get(&sheets), '\f');
	ck_assert_ptr_nonnull(cut);
	ck_assert_int_eq(strncmp(cut + 1, "  item\n", 7), 0);
	text_done(&text);
	text_done(&sheets);
	document_done(&document);
}
END_TEST

/* ---- CSV ---- */

/* RFC 4180: every line has as many fields as the header, and ends in CRLF. */
START_TEST(every_csv_line_has_the_same_fields)
{
	struct sample sample;
	struct text text;
	int fields = 1, lines = 0;
	bool quoted = false;

	sample_init(&sample);
	make_hostile(&sample);
	text_init(&text);
	write_paper(&sample.input, PAPER_OFFICE, DOCUMENT_CSV, false, &text);
	for (const char *at = text.bytes; *at; at++) {
		quoted ^= *at == '"';
		fields += *at == ',' && !quoted;
		if (*at != '\n' || quoted)
			continue;
		ck_assert_int_eq(at[-1], '\r');
		ck_assert_int_eq(fields, 9);
		fields = 1;
		lines++;
	}
	ck_assert_int_gt(lines, 100);
	ck_assert_ptr_nonnull(strstr(text.bytes, "What it costs,Total,,400.80,$,"));
	ck_assert_ptr_nonnull(strstr(text.bytes, ",-10 to 10,"));
	text_done(&text);
	sample_done(&sample);
}
END_TEST

/* ---- Words ---- */

START_TEST(chances_and_dates_in_words)
{
	char date[CLOCK_TEXT_SIZE];
	wall_time time;

	ck_assert_str_eq(paper_likelihood(1), "almost certain");
	ck_assert_str_eq(paper_likelihood(0.8), "very likely");
	ck_assert_str_eq(paper_likelihood(0.79), "likely");
	ck_assert_str_eq(paper_likelihood(0.3), "possible");
	ck_assert_str_eq(paper_likelihood(0.01), "less likely");
	ck_assert(clock_parse("2026-06-03", &time));
	paper_date(time, date, sizeof date);
	ck_assert_str_eq(date, "3 June 2026");
	paper_date(WALL_TIME_NONE, date, sizeof date);
	ck_assert_str_eq(date, "");
}
END_TEST

START_TEST(formats_and_readers_have_their_words)
{
	enum paper_reader reader;

	ck_assert(paper_reader_from_key("office", &reader) && reader == PAPER_OFFICE);
	ck_assert(!paper_reader_from_key("", &reader));
}
END_TEST

Suite *paper_suite(void)
{
	Suite *suite = suite_create("paper");
	TCase *tests = tcase_create("paper");

	tcase_add_loop_test(tests, golden_papers, 0, DOCUMENT_FORMAT_COUNT * PAPER_READER_COUNT);
	tcase_add_loop_test(tests, text_is_80_columns_wide, 0, 8);
	tcase_add_loop_test(tests, plain_papers_are_ascii, 0, 3);
	tcase_add_loop_test(tests, papers_in_si_units, 0, 2);
	tcase_add_loop_test(tests, the_customer_reads_no_internal_things, 0, DOCUMENT_FORMAT_COUNT);
	tcase_add_loop_test(tests, hostile_names_are_harmless_in_every_format, 0,
	                    DOCUMENT_FORMAT_COUNT);
	tcase_add_loop_test(tests, an_empty_call_makes_a_paper, 0,
	                    DOCUMENT_FORMAT_COUNT * PAPER_READER_COUNT);
	tcase_add_test(tests, unsafe_readings_and_flammable_gas_are_said);
	tcase_add_test(tests, too_much_money_is_said_not_shown);
	tcase_add_loop_test(tests, work_is_accepted_by_name_or_by_hand, 0, PAPER_READER_COUNT);
	tcase_add_loop_test(tests, tightness_in_full_for_the_office_in_a_word_for_the_customer, 0, 2);
	tcase_add_test(tests, a_bill_without_deposit_ends_with_its_total);
	tcase_add_test(tests, a_stage_without_readings_has_no_column);
	tcase_add_loop_test(tests, the_page_stands_alone_and_is_accessible, 0, 2);
	tcase_add_test(tests, names_cannot_leave_the_style_sheet);
	tcase_add_loop_test(tests, a_logo_is_inside_the_page, 0, 3);
	tcase_add_loop_test(tests, every_sheet_says_whose_it_is_and_which, 0, PAPER_READER_COUNT);
	tcase_add_loop_test(tests, a_foot_takes_two_lines_only_where_it_must, 0, 2);
	tcase_add_loop_test(tests, no_sheet_ends_in_a_heading, 0, 2);
	tcase_add_loop_test(tests, an_item_stays_with_its_values, 0, 3);
	tcase_add_loop_test(tests, sheets_hold_every_line, 0, 60);
	tcase_add_test(tests, every_csv_line_has_the_same_fields);
	tcase_add_test(tests, chances_and_dates_in_words);
	tcase_add_test(tests, formats_and_readers_have_their_words);
	suite_add_tcase(suite, tests);
	return suite;
}
