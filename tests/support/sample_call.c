/*
 * The invented call of the paper's golden files.
 */
#include "support/calls.h"
#include "support/sample_call.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* A reading as typed on the sheet, at a time of that day. */
struct typed {
	enum stage stage;     /* of which stage */
	enum reading reading; /* what */
	const char *typed;    /* in US units */
	const char *hour;     /* when; NULL for the nameplate */
};

static const struct typed typed[] = {
	{ STAGE_AS_FOUND, READING_ALTITUDE, "600", NULL },
	{ STAGE_AS_FOUND, READING_REFRIGERANT, "R-410A", NULL },
	{ STAGE_AS_FOUND, READING_METERING, "fixed orifice", NULL },
	{ STAGE_AS_FOUND, READING_COMPRESSOR_MOTOR, "psc", NULL },
	{ STAGE_AS_FOUND, READING_NOMINAL_CAPACITY, "3", NULL },
	{ STAGE_AS_FOUND, READING_SEER, "13", NULL },
	{ STAGE_AS_FOUND, READING_FACTORY_CHARGE, "98", NULL },
	{ STAGE_AS_FOUND, READING_RATED_VOLTAGE, "230", NULL },
	{ STAGE_AS_FOUND, READING_COMPRESSOR_RLA, "14.1", NULL },
	{ STAGE_AS_FOUND, READING_COMPRESSOR_LRA, "77", NULL },
	{ STAGE_AS_FOUND, READING_FAN_MOTOR_FLA, "1.3", NULL },
	{ STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITOR_RATED, "45", NULL },
	{ STAGE_AS_FOUND, READING_FAN_CAPACITOR_RATED, "5", NULL },
	{ STAGE_AS_FOUND, READING_MANUFACTURE_YEAR, "2014", NULL },
	{ STAGE_AS_FOUND, READING_MODEL, "SPL-036-A", NULL },
	{ STAGE_AS_FOUND, READING_SERIAL, "1407 0031", NULL },

	{ STAGE_AS_FOUND, READING_DISCONNECT_LOCKED, "yes", "09:31" },
	{ STAGE_AS_FOUND, READING_METER_PROVED_BEFORE, "yes", "09:32" },
	{ STAGE_AS_FOUND, READING_POWER_OFF_VERIFIED, "yes", "09:32" },
	{ STAGE_AS_FOUND, READING_METER_PROVED_AFTER, "yes", "09:33" },
	{ STAGE_AS_FOUND, READING_CAPACITOR_DISCHARGED, "yes", "09:34" },
	{ STAGE_AS_FOUND, READING_TERMINAL_COVER_CHECKED, "yes", "09:34" },

	{ STAGE_AS_FOUND, READING_LINE_VOLTAGE, "238", "09:22" },
	{ STAGE_AS_FOUND, READING_CONTROL_VOLTAGE, "26.4", "09:23" },
	{ STAGE_AS_FOUND, READING_CONTACTOR_CONDITION, "clean", "09:35" },
	{ STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITANCE, "27", "09:38" },
	{ STAGE_AS_FOUND, READING_FAN_CAPACITANCE, "4.9", "09:39" },
	{ STAGE_AS_FOUND, READING_CAPACITOR_CONDITION, "swollen", "09:38" },
	{ STAGE_AS_FOUND, READING_TERMINAL_CONDITION, "sound", "09:40" },
	{ STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, "0.8", "09:44" },
	{ STAGE_AS_FOUND, READING_COMMON_START_RESISTANCE, "3.1", "09:44" },
	{ STAGE_AS_FOUND, READING_START_RUN_RESISTANCE, "3.9", "09:45" },
	{ STAGE_AS_FOUND, READING_COMPRESSOR_GROUND_RESISTANCE, "OL", "09:47" },
	{ STAGE_AS_FOUND, READING_COMPRESSOR_STATE, "hums", "09:20" },
	{ STAGE_AS_FOUND, READING_FAN_STATE, "runs", "09:20" },
	{ STAGE_AS_FOUND, READING_STARTING_AMPS, "76", "09:25" },
	{ STAGE_AS_FOUND, READING_STARTING_SECONDS, "6", "09:25" },
	{ STAGE_AS_FOUND, READING_OUTDOOR_DB, "88", "10:20" },
	{ STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "102", "10:21" },
	{ STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "318", "10:21" },
	{ STAGE_AS_FOUND, READING_SUCTION_LINE_TEMP, "53.3", "10:22" },
	{ STAGE_AS_FOUND, READING_LIQUID_LINE_TEMP, "98", "10:22" },
	{ STAGE_AS_FOUND, READING_RETURN_DB, "77", "10:24" },
	{ STAGE_AS_FOUND, READING_RETURN_WB, "63", "10:24" },
	{ STAGE_AS_FOUND, READING_SUPPLY_DB, "64", "10:25" },

	{ STAGE_AS_LEFT, READING_LINE_VOLTAGE, "236.5", "11:20" },
	{ STAGE_AS_LEFT, READING_COMPRESSOR_CAPACITANCE, "44.8", "10:02" },
	{ STAGE_AS_LEFT, READING_COMPRESSOR_STATE, "runs", "10:05" },
	{ STAGE_AS_LEFT, READING_FAN_STATE, "runs", "10:05" },
	{ STAGE_AS_LEFT, READING_STARTING_AMPS, "58", "10:05" },
	{ STAGE_AS_LEFT, READING_STARTING_SECONDS, "0.4", "10:05" },
	{ STAGE_AS_LEFT, READING_COMMON_AMPS, "10.6", "11:21" },
	{ STAGE_AS_LEFT, READING_FAN_AMPS, "1.5", "11:22" },
	{ STAGE_AS_LEFT, READING_OUTDOOR_DB, "88", "11:24" },
	{ STAGE_AS_LEFT, READING_SUCTION_PRESSURE, "119", "11:24" },
	{ STAGE_AS_LEFT, READING_LIQUID_PRESSURE, "346", "11:25" },
	{ STAGE_AS_LEFT, READING_SUCTION_LINE_TEMP, "50", "11:25" },
	{ STAGE_AS_LEFT, READING_LIQUID_LINE_TEMP, "96", "11:25" },
	{ STAGE_AS_LEFT, READING_RETURN_DB, "76", "11:26" },
	{ STAGE_AS_LEFT, READING_RETURN_WB, "63", "11:26" },
	{ STAGE_AS_LEFT, READING_SUPPLY_DB, "55.5", "11:27" },
};

static wall_time moment(const char *date, const char *hour)
{
	char typed_time[CLOCK_TEXT_SIZE];
	wall_time time = WALL_TIME_NONE;

	snprintf(typed_time, sizeof typed_time, "%sT%s", date, hour);
	ck_assert(clock_parse(typed_time, &time));
	return time;
}

static wall_time that_day(const char *hour)
{
	return moment("2026-06-03", hour);
}

static void set_uid(struct uid *uid, const char *last)
{
	snprintf(uid->text, sizeof uid->text, "019f0a5d-ac96-774b-bcce-b302099a80%s", last);
}

static void fill_readings(struct call *call)
{
	struct value value;
	struct error error;

	for (size_t i = 0; i < sizeof typed / sizeof *typed; i++) {
		ck_assert_msg(reading_parse(typed[i].reading, typed[i].typed, UNITS_US, &value, &error) ==
		              STATUS_OK, "%s: %s", reading_info(typed[i].reading)->key, error.text);
		value.taken_at = typed[i].hour ? that_day(typed[i].hour) : WALL_TIME_NONE;
		visit_set(&call->visit, typed[i].stage, typed[i].reading, &value);
	}
}

static void add_charge(struct call *call, const char *hour, double added, double recovered,
                       const char *suction, const char *note)
{
	struct charge_entry *entry = call_add_charge(call);
	struct error error;

	ck_assert_ptr_nonnull(entry);
	entry->at = that_day(hour);
	entry->added_oz = added;
	entry->recovered_oz = recovered;
	text_copy(entry->cylinder, sizeof entry->cylinder, "A-17");
	text_copy(entry->note, sizeof entry->note, note);
	ck_assert(reading_parse(READING_SUCTION_PRESSURE, suction, UNITS_US,
	                        &entry->values[CHARGE_SUCTION_PRESSURE], &error) == STATUS_OK);
}

static void add_work(struct call *call, enum work_kind kind, const char *description,
                     thousandths quantity, cents price, bool no_charge)
{
	struct work_line *line = call_add_work(call);

	ck_assert_ptr_nonnull(line);
	line->kind = kind;
	line->quantity = quantity;
	line->unit_price = price;
	line->no_charge = no_charge;
	text_copy(line->description, sizeof line->description, description);
}

static void fill_work(struct call *call)
{
	add_charge(call, "10:38", 0, 3, "104", "taken out to change the valve core");
	add_charge(call, "10:52", 6, 0, "109", "");
	add_charge(call, "11:04", 5, 0, "114", "");
	add_charge(call, "11:16", 3.5, 0, "119", "superheat holds");
	add_work(call, WORK_FEE, "Service call", 1000, 8900, false);
	add_work(call, WORK_LABOUR, "Diagnosis and repair, hours", 1750, 12900, false);
	add_work(call, WORK_PART, "Run capacitor 45/5 µF, 440 V, fitted", 1000, 4895, false);
	add_work(call, WORK_PART, "Valve core and cap, leaking one replaced", 1000, 1450, true);
	add_work(call, WORK_REFRIGERANT, "Refrigerant R-410A, ounces", 11500, 435, false);
	text_copy(call->work[1].note, sizeof call->work[1].note, "second van not needed");
	call->billing = (struct billing){
		.discount = 5000, .deposit = 10000, .cooling_hours = 1000, .energy_rate = 14.5,
		.tax = { [WORK_PART] = 8250, [WORK_REFRIGERANT] = 8250 },
	};
}

static struct offer *add_offer(struct call *call, const char *title, cents low, cents high,
                               double years_low, double years_high)
{
	struct offer *offer = call_add_offer(call);

	ck_assert_ptr_nonnull(offer);
	text_copy(offer->title, sizeof offer->title, title);
	offer->price_low = low;
	offer->price_high = high;
	offer->years_low = years_low;
	offer->years_high = years_high;
	return offer;
}

static void decide(struct offer *offer, enum decision decision, const char *note)
{
	offer->decision = decision;
	offer->decided_at = that_day("09:58");
	text_copy(offer->decided_by, sizeof offer->decided_by, "Ada Example");
	text_copy(offer->note, sizeof offer->note, note);
}

static void fill_offers(struct call *call)
{
	struct offer *offer = add_offer(call, "Repair: capacitor, valve core, charge", 40080, 40080,
	                                2, 5);
	decide(offer, DECISION_ACCEPTED, "");
	offer = add_offer(call, "Repair and new fan motor", 78500, 84000, 4, 7);
	decide(offer, DECISION_DECLINED, "to be asked again in autumn");
	offer = add_offer(call, "New 3-ton machine, 17 SEER", 680000, 790000, 12, 16);
	offer->seer = 17;
	decide(offer, DECISION_DECLINED, "");
}

static void fill_header(struct call *call)
{
	struct watch_item *item = call_add_watch(call);

	set_uid(&call->uid, "01");
	set_uid(&call->customer.uid, "02");
	set_uid(&call->site.uid, "03");
	set_uid(&call->system.uid, "04");
	text_copy(call->customer.name, sizeof call->customer.name, "Ada Example");
	text_copy(call->customer.phone, sizeof call->customer.phone, "555 0142");
	text_copy(call->customer.email, sizeof call->customer.email, "ada@customer.example");
	text_copy(call->site.address, sizeof call->site.address, "14 Alder Court, Fernbrook");
	text_copy(call->system.name, sizeof call->system.name, "upstairs");
	text_copy(call->complaint, sizeof call->complaint,
	          "Outdoor unit hums, then the breaker trips. No cooling since last night.");
	text_copy(call->summary, sizeof call->summary,
	          "The part that gives the compressor its push to start had failed, and a leaking "
	          "service valve had let some refrigerant out. Both are repaired and the unit cools.");
	text_copy(call->office_note, sizeof call->office_note,
	          "Gate code 4471. Ask about the fan motor in autumn.");
	text_copy(call->technician, sizeof call->technician, "Robin Vale");
	text_copy(call->licence, sizeof call->licence, "0417-EXAMPLE");
	text_copy(call->certification, sizeof call->certification, "U-20731");
	text_copy(call->job_number, sizeof call->job_number, "J-1042");
	text_copy(call->access_note, sizeof call->access_note, "Key at the neighbour's");
	text_copy(call->authorised_by, sizeof call->authorised_by, "Ada Example");
	text_copy(call->payment_terms, sizeof call->payment_terms, "Payable within 14 days.");
	call->authorised_at = that_day("09:58");
	call->authorised_amount = 45000;
	call->arrived_at = that_day("09:15");
	call->left_at = that_day("11:38");
	call->opened_at = that_day("09:12");
	call->closed_at = that_day("11:40");
	ck_assert_ptr_nonnull(item);
	text_copy(item->fault, sizeof item->fault, "fan_motor_overloaded");
	text_copy(item->text, sizeof item->text,
	          "Condenser fan motor draws 1.5 A on a 1.3 A rating: likely to fail within a year or "
	          "two");
	item->noted_at = that_day("11:30");
}

static struct finding *add_finding(struct diagnosis *diagnosis, enum fault fault,
                                   double probability, enum level level)
{
	struct finding *finding = &diagnosis->findings[diagnosis->finding_count++];

	finding->fault = fault;
	finding->probability = probability;
	finding->probability_before = NAN;
	finding->level = level;
	return finding;
}

static void add_evidence(struct finding *finding, enum figure figure, enum reading reading,
                         double value, double expected, double leans)
{
	finding->evidence[finding->evidence_count++] = (struct evidence){
		.figure = figure, .reading = reading, .value = value, .has_expected = !isnan(expected),
		.expected = expected, .leans = leans,
	};
}

static void fill_diagnoses(struct sample *sample)
{
	struct diagnosis *found = &sample->assessment.diagnoses[STAGE_AS_FOUND];
	struct diagnosis *left = &sample->assessment.diagnoses[STAGE_AS_LEFT];
	const struct figure_value *figures = sample->assessment.figures[STAGE_AS_FOUND].values;

	struct finding *finding = add_finding(found, FAULT_COMPRESSOR_CAPACITOR_FAILED, 0.985,
	                                      LEVEL_ACT);
	finding->basis = BASIS_MEASURED;
	finding->after_work = AFTER_WORK_GONE;
	add_evidence(finding, FIGURE_COMPRESSOR_CAPACITOR_DEVIATION, READING_NONE, -40, 0, 2.9);
	add_evidence(finding, FIGURE_NONE, READING_CAPACITOR_CONDITION, CHOICE_CAPACITOR_SWOLLEN, NAN,
	             1.1);
	add_evidence(finding, FIGURE_NONE, READING_COMPRESSOR_STATE, CHOICE_COMPRESSOR_STATE_HUMS, NAN,
	             0.8);
	finding = add_finding(found, FAULT_UNDERCHARGE, 0.91, LEVEL_ACT);
	finding->after_work = AFTER_WORK_GONE;
	add_evidence(finding, FIGURE_SUPERHEAT, READING_NONE, figures[FIGURE_SUPERHEAT].value,
	             figures[FIGURE_TARGET_SUPERHEAT].value, 1.8);
	add_evidence(finding, FIGURE_SUBCOOLING, READING_NONE, figures[FIGURE_SUBCOOLING].value, 10,
	             0.9);
	add_evidence(finding, FIGURE_TEMPERATURE_SPLIT, READING_NONE,
	             figures[FIGURE_TEMPERATURE_SPLIT].value,
	             figures[FIGURE_EXPECTED_TEMPERATURE_SPLIT].value, 0.4);
	finding = add_finding(found, FAULT_LOCKED_ROTOR, 0.04, LEVEL_NOTE);
	add_evidence(finding, FIGURE_START_CURRENT_SHARE_OF_LRA, READING_NONE, 98.7, NAN, 0.7);
	finding = add_finding(left, FAULT_FAN_MOTOR_OVERLOADED, 0.88, LEVEL_WATCH);
	add_evidence(finding, FIGURE_FAN_FLA_SHARE, READING_NONE, 115.4, 90, 1.2);
	found->next_checks[found->next_check_count++] = (struct next_check){
		.reading = READING_LINE_VOLTAGE_STARTING, .gain = 0.21 };
	found->contradictions[found->contradiction_count++] = (struct contradiction){
		.id = CONTRADICTION_RETURN_WET_ABOVE_DRY, .quoted_count = 2,
		.quoted = { { .reading = READING_RETURN_WB, .value = 75 },
		            { .reading = READING_RETURN_DB, .value = 70 } } };
}

static void fill_past(struct sample *sample)
{
	static const struct {
		const char *date; /* of the visit */
		double value;     /* microfarad */
	} course[] = {
		{ "2023-05-11", 44.6 }, { "2024-05-02", 43.1 },
		{ "2025-05-20", 41.8 }, { "2026-06-03", 27 },
	};

	for (int i = 0; i < 4; i++)
		sample->points[i] = (struct plot_point){
			.at = moment(course[i].date, "10:00"), .value = course[i].value };
	sample->trends[0] = (struct trend){
		.label = "run capacitor, measured", .unit = "µF", .points = sample->points, .count = 4,
		.words = "fell slowly over three visits, then failed", .has_limit = true, .limit = 42.3,
		.limit_name = "lowest allowed",
	};
	sample->visits[0] = (struct paper_visit){
		.at = moment("2025-05-20", "10:00"), .found = "run capacitor getting weak",
		.done = "condenser washed, charge checked" };
	sample->visits[1] = (struct paper_visit){
		.at = moment("2024-05-02", "14:30"), .found = "no fault", .done = "spring service" };
	sample->watch[0] = (struct watch_item){
		.text = "Condenser pad is sinking on the north side", .closed_at = WALL_TIME_NONE,
		.noted_at = moment("2025-05-20", "10:50") };
	sample->offered[0] = (struct past_offer){ .offered_at = moment("2025-05-20", "10:00"), .offer = {
		.title = "Surge protector", .price_low = 18500, .price_high = 18500,
		.decision = DECISION_DECLINED, .decided_by = "Ada Example",
		.decided_at = moment("2025-05-20", "11:00") } };
}

void sample_init(struct sample *sample)
{
	static const char *const company[] = {
		"Fernbrook Cooling", "3 Mill Lane, Fernbrook", "555 0100", "Licence 00-EXAMPLE",
	};

	memset(sample, 0, sizeof *sample);
	call_init(&sample->call);
	fill_readings(&sample->call);
	fill_header(&sample->call);
	fill_work(&sample->call);
	fill_offers(&sample->call);
	assessment_make(&(struct assessment_input){ .call = &sample->call }, &sample->assessment);
	memset(sample->assessment.diagnoses, 0, sizeof sample->assessment.diagnoses);
	fill_diagnoses(sample);
	fill_past(sample);
	sample->input = (struct paper_input){
		.call = &sample->call,
		.assessment = &sample->assessment,
		.units = UNITS_US, .currency = "$",
		.warranty = "One year on parts, 90 days on labour.",
		.terms = "Replaced parts are left with you unless you say otherwise.",
		.company = company, .company_count = sizeof company / sizeof *company,
		.visits = sample->visits, .visit_count = 2,
		.watch = sample->watch, .watch_count = 1,
		.offered = sample->offered, .offered_count = 1,
		.trends = sample->trends, .trend_count = 1,
	};
}

void sample_done(struct sample *sample)
{
	call_done(&sample->call);
}
