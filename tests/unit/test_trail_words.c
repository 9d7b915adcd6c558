/* What the list of changes calls a field, and how it shows a value. */
#include <check.h>
#include <stdio.h>

#include <padside/app/trail_words.h>
#include <padside/base/text.h>
#include <padside/model/call_parts.h>

Suite *trail_words_suite(void);

static const char *field_words(const char *what, const char *field)
{
	static char out[TRAIL_LABEL_SIZE];

	trail_words_field(what, field, out, sizeof out);
	return out;
}

static const char *value_words(const char *what, const char *field, const char *exact,
                               enum unit_system units)
{
	static char out[160];

	trail_words_value(what, field, exact, units, out, sizeof out);
	return out;
}

/* Every member that the book can write, by the thing that it is written under. */
static void add_members(struct text *lines, const char *what, const char *prefix,
                        enum call_part part)
{
	char field[64];

	for (const struct call_member *member = call_part_info(part)->members; member->key; member++) {
		snprintf(field, sizeof field, "%s%s", prefix, member->key);
		text_add_format(lines, "%s.%s = %s\n", what, field, field_words(what, field));
	}
}

START_TEST(every_field_of_whom_and_what_has_its_words)
{
	struct text lines;

	text_init(&lines);
	add_members(&lines, "customer", "", PART_CUSTOMER);
	add_members(&lines, "site", "", PART_SITE);
	add_members(&lines, "system", "", PART_SYSTEM);
	add_members(&lines, "call", "", PART_CALL);
	add_members(&lines, "call", "", PART_BILLING);
	add_members(&lines, "call", "tax_", PART_TAX);
	ck_assert_str_eq(text_get(&lines),
		"customer.name = customer\n"
		"customer.phone = phone\n"
		"customer.email = mail\n"
		"site.address = address\n"
		"system.name = unit name\n"
		"call.complaint = complaint\n"
		"call.summary = in plain words\n"
		"call.office_note = note for the office\n"
		"call.opened_at = begun\n"
		"call.closed_at = closed\n"
		"call.unsafe_at = read while not safe\n"
		"call.planned_at = planned for\n"
		"call.access_note = access\n"
		"call.job_number = job number\n"
		"call.technician = technician\n"
		"call.licence = licence\n"
		"call.certification = certification\n"
		"call.arrived_at = arrived\n"
		"call.left_at = left\n"
		"call.authorised_by = authorised by\n"
		"call.authorised_at = authorised at\n"
		"call.authorised_amount = authorised up to\n"
		"call.accepted_by = accepted by\n"
		"call.accepted_at = accepted at\n"
		"call.accepted_total = accepted total\n"
		"call.payment_terms = payment terms\n"
		"call.billed_at = billed\n"
		"call.checklist = tune-up list\n"
		"call.discount = discount\n"
		"call.deposit = deposit\n"
		"call.cooling_hours = cooling hours a year\n"
		"call.energy_rate = cents a kWh\n"
		"call.tax_labour = tax labour\n"
		"call.tax_part = tax part\n"
		"call.tax_refrigerant = tax refrigerant\n"
		"call.tax_fee = tax fee\n");
	text_done(&lines);
}
END_TEST

START_TEST(every_field_of_a_line_names_its_list)
{
	struct text lines;

	text_init(&lines);
	for (int part = PART_CHARGE; part < CALL_PART_COUNT; part++)
		add_members(&lines, call_part_info((enum call_part)part)->key, "", (enum call_part)part);
	ck_assert_str_eq(text_get(&lines),
		"charge_log.at = a line of the charge log: time\n"
		"charge_log.added = a line of the charge log: added\n"
		"charge_log.recovered = a line of the charge log: recovered\n"
		"charge_log.cylinder = a line of the charge log: cylinder\n"
		"charge_log.note = a line of the charge log: note\n"
		"work.kind = a line of the work: kind\n"
		"work.description = a line of the work: what\n"
		"work.quantity = a line of the work: quantity\n"
		"work.unit_price = a line of the work: each\n"
		"work.no_charge = a line of the work: free\n"
		"work.note = a line of the work: note\n"
		"choices.title = an option: what is done\n"
		"choices.price_low = an option: price from\n"
		"choices.price_high = an option: price to\n"
		"choices.years_low = an option: lasts from, years\n"
		"choices.years_high = an option: lasts to, years\n"
		"choices.seer = an option: SEER\n"
		"choices.decision = an option: decision\n"
		"choices.decided_by = an option: said by\n"
		"choices.decided_at = an option: said at\n"
		"choices.note = an option: note\n"
		"watch.fault = a watch item: fault\n"
		"watch.text = a watch item: text\n"
		"watch.noted_at = a watch item: noted\n"
		"watch.closed_at = a watch item: dealt with\n"
		"judgement.fault = a judgement: fault\n"
		"judgement.verdict = a judgement: verdict\n"
		"judgement.why = a judgement: why\n"
		"judgement.by = a judgement: by\n"
		"judgement.at = a judgement: time\n"
		"tightness.kind = a line of the tightness log: what\n"
		"tightness.at = a line of the tightness log: time\n"
		"tightness.pressure = a line of the tightness log: pressure\n"
		"tightness.temperature = a line of the tightness log: temperature\n"
		"tightness.microns = a line of the tightness log: microns\n"
		"tightness.amount = a line of the tightness log: weighed in\n"
		"tightness.cylinder = a line of the tightness log: cylinder\n"
		"tightness.note = a line of the tightness log: note\n"
		"cylinder.name = a cylinder: label\n"
		"cylinder.refrigerant = a cylinder: holds\n"
		"cylinder.water_capacity = a cylinder: water capacity\n"
		"cylinder.tare = a cylinder: tare\n"
		"cylinder.weight = a cylinder: weight\n"
		"cylinder.test_date = a cylinder: tested\n"
		"cylinder.went_to = a cylinder: gas went to\n");
	text_done(&lines);
}
END_TEST

START_TEST(a_reading_is_told_with_its_column)
{
	ck_assert_str_eq(field_words("call", "as_found.suction_pressure"), "suction pressure as found");
	ck_assert_str_eq(field_words("call", "as_left.suction_pressure"), "suction pressure as left");
	ck_assert_str_eq(field_words("call", "as_left.no_such_reading"), "as left.no such reading");
	ck_assert_str_eq(field_words("charge_log", "suction_pressure"),
	                 "a line of the charge log: suction pressure");
	/* Only the charge log has readings by their bare keys. */
	ck_assert_str_eq(field_words("work", "suction_pressure"),
	                 "a line of the work: suction pressure");
	ck_assert_str_eq(field_words("work", "outdoor_db"), "a line of the work: outdoor db");
	ck_assert_str_eq(field_words("charge_log", "outdoor_db"),
	                 "a line of the charge log: outdoor dry bulb");
	ck_assert_str_eq(field_words("site", "site.altitude"), "site: altitude");
	ck_assert_str_eq(field_words("system", "refrigerant"), "system: refrigerant");
}
END_TEST

START_TEST(what_was_taken_out_is_told_with_its_kind)
{
	ck_assert_str_eq(field_words("work", "removed"), "a line of the work: taken out");
	ck_assert_str_eq(field_words("call", "removed"), "taken out");
	ck_assert_str_eq(field_words("customer", "removed"), "customer: taken out");
	ck_assert_str_eq(field_words("customer", "joined"), "customer: joined");
}
END_TEST

START_TEST(a_value_is_told_as_its_page_shows_it)
{
	static const struct {
		const char *what, *field, *exact, *us, *si;
	} rows[] = {
		{ "call", "complaint", "", "nothing", "nothing" },
		{ "work", "removed", "2026-07-14T08:05", "yes", "yes" },
		{ "call", "as_found.suction_pressure", "118", "118.0 psig", "814 kPa" },
		{ "call", "as_left.outdoor_db", "95", "95.0 °F", "35.0 °C" },
		{ "call", "as_found.suction_pressure", "no number", "no number", "no number" },
		{ "charge_log", "suction_pressure", "118", "118.0 psig", "814 kPa" },
		{ "call", "opened_at", "2026-07-14T08:05:30", "2026-07-14 08:05", "2026-07-14 08:05" },
		{ "call", "opened_at", "2026-07-14T08:05", "2026-07-14T08:05", "2026-07-14T08:05" },
		{ "cylinder", "test_date", "2026-07-14", "2026-07-14", "2026-07-14" },
		{ "call", "authorised_amount", "123456", "1,234.56", "1,234.56" },
		{ "call", "tax_part", "8875", "8.875 %", "8.875 %" },
		{ "call", "discount", "5000", "5 %", "5 %" },
		{ "call", "cooling_hours", "1200.5", "1200.5", "1200.5" },
		{ "call", "cooling_hours", "many", "many", "many" },
		{ "work", "quantity", "1500", "1.5", "1.5" },
		{ "work", "unit_price", "-3450", "-34.50", "-34.50" },
		{ "work", "no_charge", "1", "yes", "yes" },
		{ "work", "no_charge", "true", "yes", "yes" },
		{ "work", "no_charge", "0", "no", "no" },
		{ "work", "kind", "labour", "labour", "labour" },
		{ "charge_log", "added", "16", "16.00 oz", "453.59 g" },
		{ "cylinder", "weight", "30", "30.00 lb", "13.61 kg" },
		{ "cylinder", "refrigerant", "R-410A", "R-410A", "R-410A" },
		{ "tightness", "microns", "350", "350", "350" },
		{ "tightness", "temperature", "75", "75.00 °F", "23.89 °C" },
		{ "tightness", "kind", "weigh_in", "weigh in", "weigh in" },
		{ "judgement", "fault", "compressor_capacitor_weak", "run capacitor weak", "run capacitor weak" },
		{ "watch", "fault", "compressor_capacitor_weak", "run capacitor weak", "run capacitor weak" },
		{ "judgement", "fault", "no_such_fault", "no_such_fault", "no_such_fault" },
		{ "judgement", "why", "undercharge", "undercharge", "undercharge" },
		{ "judgement", "verdict", "ruled_out", "ruled out", "ruled out" },
		{ "choices", "decision", "accepted", "accepted", "accepted" },
		{ "customer", "name", "Mara_Quill", "Mara_Quill", "Mara_Quill" },
		{ "call", "no_such_field", "some_text", "some_text", "some_text" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ck_assert_str_eq(value_words(rows[i].what, rows[i].field, rows[i].exact, UNITS_US), rows[i].us);
		ck_assert_str_eq(value_words(rows[i].what, rows[i].field, rows[i].exact, UNITS_SI), rows[i].si);
	}
}
END_TEST

Suite *trail_words_suite(void)
{
	Suite *suite = suite_create("trail_words");
	TCase *tests = tcase_create("trail_words");

	tcase_add_test(tests, every_field_of_whom_and_what_has_its_words);
	tcase_add_test(tests, every_field_of_a_line_names_its_list);
	tcase_add_test(tests, a_reading_is_told_with_its_column);
	tcase_add_test(tests, what_was_taken_out_is_told_with_its_kind);
	tcase_add_test(tests, a_value_is_told_as_its_page_shows_it);
	suite_add_tcase(suite, tests);
	return suite;
}
