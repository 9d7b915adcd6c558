/*
 * Both stages of a call: measured and inferred, what the work did, what the
 * technician decided, what is to be measured next.
 */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/diagnose/assessment.h>
#include <padside/report/lacks.h>
#include <padside/report/wording.h>

#include "support/calls.h"

Suite *assessment_suite(void);

static struct call call;
static struct assessment assessment;

static void begin(void)
{
	call_init(&call);
}

static void end(void)
{
	call_done(&call);
}

static void put(enum stage stage, const char *readings)
{
	char text[1024], *rest = text;

	ck_assert(text_copy(text, sizeof text, readings));
	for (char *item = strtok_r(rest, ",", &rest); item; item = strtok_r(NULL, ",", &rest)) {
		struct value value;
		struct error error;
		item += strspn(item, " ");
		char *typed = strchr(item, '=');
		ck_assert_ptr_nonnull(typed);
		*typed++ = '\0';
		enum reading reading = reading_from_key(item);
		ck_assert_msg(reading != READING_NONE, "%s", item);
		ck_assert_msg(reading_parse(reading, typed, UNITS_US, &value, &error) == STATUS_OK, "%s: %s",
		              item, error.text);
		visit_set(&call.visit, stage, reading, &value);
	}
}

static void assess(const char *found, const char *left)
{
	if (*found)
		put(STAGE_AS_FOUND, found);
	if (*left)
		put(STAGE_AS_LEFT, left);
	assessment_make(&(struct assessment_input){ .call = &call }, &assessment);
}

static void decide(enum fault fault, enum judgement_verdict verdict, const char *why)
{
	struct judgement *judgement = call_list_add(&call, LIST_JUDGEMENTS);

	ck_assert_ptr_nonnull(judgement);
	text_copy(judgement->fault, sizeof judgement->fault, fault_info(fault)->key);
	text_copy(judgement->why, sizeof judgement->why, why);
	text_copy(judgement->by, sizeof judgement->by, "Ada Kern");
	judgement->verdict = verdict;
}

static const struct finding *finding(enum stage stage, enum fault fault)
{
	const struct diagnosis *diagnosis = &assessment.diagnoses[stage];

	for (int i = 0; i < diagnosis->finding_count; i++)
		if (diagnosis->findings[i].fault == fault)
			return &diagnosis->findings[i];
	return NULL;
}

static enum after_work after_work(enum fault fault)
{
	const struct finding *found = finding(STAGE_AS_FOUND, fault);

	ck_assert_msg(found != NULL, "%s is not found", fault_info(fault)->key);
	return found->after_work;
}

/* ---- After the work ---- */

#define GROUNDED "compressor_motor=psc, rated_voltage=230, breaker_tripped=yes, " \
	"insulation_test_volts=500, compressor_ground_resistance=0.05, compressor_state=silent"

START_TEST(one_unrelated_reading_cures_no_grounded_compressor)
{
	assess(GROUNDED, "return_db=75");
	ck_assert_int_eq(after_work(FAULT_WINDING_GROUNDED), AFTER_WORK_NOT_TESTED);
	const struct diagnosis *left = &assessment.diagnoses[STAGE_AS_LEFT];
	ck_assert_int_ge(left->next_check_count, 1);
	ck_assert_int_eq(left->next_checks[0].reading, READING_COMPRESSOR_GROUND_RESISTANCE);
	ck_assert_int_eq(left->next_checks[0].reason, CHECK_PROVE);
}
END_TEST

START_TEST(a_new_compressor_measured_is_no_longer_grounded)
{
	assess(GROUNDED, "insulation_test_volts=500, compressor_ground_resistance=900, "
	       "compressor_state=runs");
	ck_assert_int_eq(after_work(FAULT_WINDING_GROUNDED), AFTER_WORK_GONE);
}
END_TEST

START_TEST(the_same_reading_again_is_still_there)
{
	assess(GROUNDED, "insulation_test_volts=500, compressor_ground_resistance=0.05");
	ck_assert_int_eq(after_work(FAULT_WINDING_GROUNDED), AFTER_WORK_STILL_THERE);
}
END_TEST

START_TEST(without_readings_as_left_nothing_is_said_of_it)
{
	assess(GROUNDED, "");
	ck_assert_int_eq(after_work(FAULT_WINDING_GROUNDED), AFTER_WORK_NONE);
	ck_assert(!assessment.was_read[STAGE_AS_LEFT]);
}
END_TEST

START_TEST(a_new_capacitor_is_proved_by_its_microfarads)
{
	assess("compressor_motor=psc, compressor_capacitor_rated=45, compressor_capacitance=27, "
	       "compressor_state=hums", "compressor_capacitance=45.3");
	ck_assert_int_eq(after_work(FAULT_COMPRESSOR_CAPACITOR_FAILED), AFTER_WORK_GONE);
}
END_TEST

START_TEST(a_running_compressor_is_no_proof_of_its_capacitor)
{
	assess("compressor_motor=psc, compressor_capacitor_rated=45, compressor_capacitance=27, "
	       "compressor_state=hums", "compressor_state=runs");
	ck_assert_int_eq(after_work(FAULT_COMPRESSOR_CAPACITOR_FAILED), AFTER_WORK_NOT_TESTED);
}
END_TEST

START_TEST(a_running_compressor_has_control_voltage)
{
	assess("line_voltage=240, control_voltage=0, compressor_state=silent, fan_state=silent",
	       "compressor_state=runs");
	ck_assert_int_eq(after_work(FAULT_NO_CONTROL_VOLTAGE), AFTER_WORK_GONE);
}
END_TEST

#define LOW "refrigerant=R-410A, metering=fixed_orifice, nominal_capacity=3, compressor_state=runs, " \
	"outdoor_db=88, return_db=78, return_wb=63, suction_pressure=108.5, suction_line_temp=56.5, " \
	"liquid_pressure=340, liquid_line_temp=101, supply_db=63.5"

START_TEST(low_charge_is_gone_when_the_circuit_was_read_again)
{
	assess(LOW, "compressor_state=runs, outdoor_db=88, return_db=76, return_wb=62.5, "
	       "suction_pressure=122, suction_line_temp=50, liquid_pressure=362, liquid_line_temp=99.5, "
	       "supply_db=57");
	ck_assert_int_eq(after_work(FAULT_UNDERCHARGE), AFTER_WORK_GONE);
}
END_TEST

START_TEST(low_charge_is_not_tested_by_a_pipe_alone)
{
	assess(LOW, "suction_line_temp=50");
	ck_assert_int_eq(after_work(FAULT_UNDERCHARGE), AFTER_WORK_NOT_TESTED);
	ck_assert_int_eq(assessment.diagnoses[STAGE_AS_LEFT].next_checks[0].reason, CHECK_PROVE);
}
END_TEST

/* Scroll makers: suction falls and head rises when it turns the right way, so both are read. */
START_TEST(after_a_lost_phase_both_pressures_are_asked_for)
{
	assess("compressor_motor=three_phase, compressor_kind=scroll, refrigerant=R-410A, "
	       "rated_voltage=208, compressor_rla=25, compressor_state=hums, line_voltage_ab=208, "
	       "line_voltage_bc=104, line_voltage_ca=104",
	       "compressor_state=runs, line_voltage_ab=208, line_voltage_bc=207, line_voltage_ca=208");
	const struct diagnosis *left = &assessment.diagnoses[STAGE_AS_LEFT];
	ck_assert_int_ge(left->next_check_count, 2);
	ck_assert_int_eq(left->next_checks[0].reading, READING_SUCTION_PRESSURE);
	ck_assert_int_eq(left->next_checks[1].reading, READING_LIQUID_PRESSURE);
	for (int i = 0; i < 2; i++)
		ck_assert_int_eq(left->next_checks[i].reason, CHECK_ROTATION);
}
END_TEST

/* A line of the charge log; NAN: not read. */
static void log_charge(double added_oz, double suction_psig, double line_f)
{
	const double numbers[] = { [CHARGE_SUCTION_PRESSURE] = suction_psig,
	                           [CHARGE_SUCTION_LINE_TEMP] = line_f };
	struct charge_entry *entry = call_list_add(&call, LIST_CHARGE);

	ck_assert_ptr_nonnull(entry);
	entry->added_oz = added_oz;
	for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
		if (!isnan(numbers[i]))
			entry->values[i] = (struct value){ .state = VALUE_TAKEN, .number = numbers[i],
			                                   .taken_at = WALL_TIME_NONE };
}

#define HUMS "refrigerant=R-410A, metering=fixed_orifice, nominal_capacity=3, compressor_motor=psc, " \
	"compressor_capacitor_rated=45, compressor_capacitance=20, compressor_state=hums"
#define WEATHER "compressor_capacitance=45, compressor_state=runs, outdoor_db=88, return_db=78, " \
	"return_wb=63"

/* Read for the first time behind the repair, set, and read again: a finding like any other. */
START_TEST(charge_first_read_behind_a_repair_has_a_place_among_the_findings)
{
	log_charge(0, 95, 70);
	log_charge(16, NAN, NAN);
	assess(HUMS, WEATHER ", suction_pressure=122, suction_line_temp=51");
	ck_assert_int_eq(after_work(FAULT_UNDERCHARGE), AFTER_WORK_GONE);
	ck_assert_int_eq(finding(STAGE_AS_FOUND, FAULT_UNDERCHARGE)->level, LEVEL_ACT);
}
END_TEST

/* On a finding that stands alone, and on one among others. */
static const char *const found_with[] = { "outdoor_db=88", HUMS };

static void weigh_in(double ounces)
{
	struct tightness_entry *entry = call_list_add(&call, LIST_TIGHTNESS);

	ck_assert_ptr_nonnull(entry);
	entry->kind = TIGHTNESS_WEIGH_IN;
	entry->amount = (struct value){ .state = VALUE_TAKEN, .number = ounces };
}

START_TEST(low_charge_that_is_confirmed_and_filled_is_gone_when_it_reads_good)
{
	decide(FAULT_UNDERCHARGE, JUDGEMENT_CONFIRMED, "");
	log_charge(16, NAN, NAN);
	assess(found_with[_i], WEATHER ", refrigerant=R-410A, metering=fixed_orifice, nominal_capacity=3, "
	       "suction_pressure=122, suction_line_temp=51");
	ck_assert_int_eq(after_work(FAULT_UNDERCHARGE), AFTER_WORK_GONE);
}
END_TEST

/* What was recovered and weighed in stands in two logs: it was told as still to be done. */
START_TEST(low_charge_that_is_confirmed_and_weighed_in_is_gone_when_it_reads_good)
{
	decide(FAULT_UNDERCHARGE, JUDGEMENT_CONFIRMED, "");
	struct charge_entry *entry = call_list_add(&call, LIST_CHARGE);
	ck_assert_ptr_nonnull(entry);
	entry->recovered_oz = 72;
	weigh_in(109);
	assess(found_with[_i], WEATHER ", refrigerant=R-410A, metering=fixed_orifice, nominal_capacity=3, "
	       "suction_pressure=122, suction_line_temp=51");
	ck_assert_int_eq(after_work(FAULT_UNDERCHARGE), AFTER_WORK_GONE);
}
END_TEST

START_TEST(charge_that_was_not_read_again_is_asked_for)
{
	log_charge(0, 95, 70);
	log_charge(16, NAN, NAN);
	assess(HUMS, WEATHER);
	const struct diagnosis *left = &assessment.diagnoses[STAGE_AS_LEFT];
	ck_assert_int_eq(after_work(FAULT_UNDERCHARGE), AFTER_WORK_NOT_TESTED);
	ck_assert_int_ge(left->next_check_count, 1);
	ck_assert_int_eq(left->next_checks[0].reading, READING_SUCTION_PRESSURE);
	ck_assert_int_eq(left->next_checks[0].reason, CHECK_PROVE);
	ck_assert_int_eq(left->next_checks[0].between[0], FAULT_UNDERCHARGE);
}
END_TEST

/* It was asked for only until the charge read good, when the leak is forgotten most easily. */
START_TEST(the_place_of_a_leak_is_asked_for_until_it_is_answered)
{
	log_charge(12, NAN, NAN);
	assess("", "refrigerant=R-410A, metering=fixed_orifice, nominal_capacity=3, " WEATHER
	       ", suction_pressure=122, suction_line_temp=51");
	ck_assert_int_eq(paper_lacks(&call, &assessment), PAPER_LACKS_LEAK);
	assess("", "leak_place=none found");
	ck_assert_int_eq(paper_lacks(&call, &assessment), PAPER_LACKS_NOTHING);
}
END_TEST

/* "All in order." stood beside a weak capacitor on one report. */
START_TEST(a_summary_that_says_all_is_in_order_beside_an_open_finding_is_told)
{
	assess("contactor_condition=pitted", "");
	text_copy(call.summary, sizeof call.summary, "All in order. Filter every month.");
	ck_assert_int_eq(paper_lacks(&call, &assessment), PAPER_LACKS_TRUTH);
	text_copy(call.summary, sizeof call.summary, "Contacts pitted. Everything else is in order.");
	ck_assert_int_eq(paper_lacks(&call, &assessment), PAPER_LACKS_NOTHING);
	assess("contactor_condition=clean", "");
	text_copy(call.summary, sizeof call.summary, "Everything is in order.");
	ck_assert_int_eq(paper_lacks(&call, &assessment), PAPER_LACKS_NOTHING);
}
END_TEST

/* ---- Measured and judged ---- */

START_TEST(what_is_measured_has_no_percentage)
{
	char words[WORDING_SIZE];

	assess("compressor_motor=psc, compressor_capacitor_rated=45, compressor_capacitance=27", "");
	const struct finding *found = finding(STAGE_AS_FOUND, FAULT_COMPRESSOR_CAPACITOR_FAILED);
	ck_assert_ptr_nonnull(found);
	ck_assert_int_eq(found->basis, BASIS_MEASURED);
	wording_standing(found, &call, true, words, sizeof words);
	ck_assert_str_eq(words, "measured");
}
END_TEST

START_TEST(a_confirmed_finding_stands_first_and_is_to_be_acted_on)
{
	char words[WORDING_SIZE];

	decide(FAULT_LIQUID_RESTRICTION, JUDGEMENT_CONFIRMED, "frost behind the drier");
	assess(LOW, "");
	const struct finding *first = &assessment.diagnoses[STAGE_AS_FOUND].findings[0];
	ck_assert_int_eq(first->fault, FAULT_LIQUID_RESTRICTION);
	ck_assert_int_eq(first->level, LEVEL_ACT);
	ck_assert(assessment.diagnoses[STAGE_AS_FOUND].healthy == 0);
	wording_standing(first, &call, true, words, sizeof words);
	ck_assert_str_eq(words, "confirmed by Ada Kern: frost behind the drier");
}
END_TEST

START_TEST(a_confirmed_fault_that_no_reading_shows_is_added)
{
	decide(FAULT_CONTACTOR_WELDED, JUDGEMENT_CONFIRMED, "");
	assess(LOW, "return_db=75");
	const struct finding *found = finding(STAGE_AS_FOUND, FAULT_CONTACTOR_WELDED);
	ck_assert_ptr_nonnull(found);
	ck_assert_int_eq(found->evidence_count, 0);
	ck_assert_ptr_null(finding(STAGE_AS_LEFT, FAULT_CONTACTOR_WELDED));
}
END_TEST

START_TEST(a_ruled_out_finding_stands_last_and_asks_for_nothing)
{
	decide(FAULT_UNDERCHARGE, JUDGEMENT_RULED_OUT, "weighed in this morning");
	assess(LOW, "");
	const struct diagnosis *found = &assessment.diagnoses[STAGE_AS_FOUND];
	const struct finding *last = &found->findings[found->finding_count - 1];
	ck_assert_int_eq(last->fault, FAULT_UNDERCHARGE);
	ck_assert_int_eq(last->level, LEVEL_NOTE);
	ck_assert(last->is_judged && last->verdict == JUDGEMENT_RULED_OUT);
	for (int i = 0; i < found->next_check_count; i++)
		ck_assert_int_ne(found->next_checks[i].reason, CHECK_CAUSE);
}
END_TEST

START_TEST(the_last_judgement_of_a_fault_counts)
{
	decide(FAULT_UNDERCHARGE, JUDGEMENT_RULED_OUT, "");
	decide(FAULT_UNDERCHARGE, JUDGEMENT_WATCH, "");
	assess(LOW, "");
	const struct finding *found = finding(STAGE_AS_FOUND, FAULT_UNDERCHARGE);
	ck_assert_ptr_nonnull(found);
	ck_assert_int_eq(found->verdict, JUDGEMENT_WATCH);
	ck_assert_int_eq(found->level, LEVEL_WATCH);
	ck_assert_uint_eq(found->judgement, 1);
}
END_TEST

START_TEST(what_the_technician_ruled_out_is_not_asked_for_again)
{
	decide(FAULT_WINDING_GROUNDED, JUDGEMENT_RULED_OUT, "a wet lead, dried");
	assess(GROUNDED, "return_db=75");
	const struct diagnosis *left = &assessment.diagnoses[STAGE_AS_LEFT];
	for (int i = 0; i < left->next_check_count; i++)
		ck_assert(left->next_checks[i].reason != CHECK_PROVE ||
		          left->next_checks[i].between[0] != FAULT_WINDING_GROUNDED);
}
END_TEST

/* ---- Next checks ---- */

static bool is_next(enum reading reading)
{
	const struct diagnosis *diagnosis = &assessment.diagnoses[STAGE_AS_FOUND];

	for (int i = 0; i < diagnosis->next_check_count; i++)
		if (diagnosis->next_checks[i].reading == reading)
			return true;
	return false;
}

static enum reading first_next(void)
{
	ck_assert_int_gt(assessment.diagnoses[STAGE_AS_FOUND].next_check_count, 0);
	return assessment.diagnoses[STAGE_AS_FOUND].next_checks[0].reading;
}

/* An order of work that is common practice: what stops the unit first, up the wire. */
static const struct {
	const char *readings;
	enum reading first;
} orders[] = {
	{ "line_voltage=240", READING_COMPRESSOR_STATE },
	{ "refrigerant=R-410A, metering=fixed_orifice, nominal_capacity=3, compressor_state=runs, "
	  "outdoor_db=88, return_db=78, return_wb=63, suction_pressure=95, suction_line_temp=66, "
	  "liquid_pressure=300, liquid_line_temp=95, supply_db=66, drier_in_temp=95.2, "
	  "drier_out_temp=95", READING_LEAK_PLACE },
	{ "compressor_state=silent, fan_state=silent, float_switch=open", READING_DRAIN_CONDITION },
	{ "compressor_motor=psc, compressor_state=hums, fan_state=runs, line_voltage=240, "
	  "rated_voltage=230, control_voltage=26", READING_COMPRESSOR_CAPACITANCE },
};

START_TEST(the_first_check_is_the_usual_one)
{
	assess(orders[_i].readings, "");
	ck_assert_int_eq(first_next(), orders[_i].first);
}
END_TEST

START_TEST(no_motor_is_measured_before_the_circuit_was_read)
{
	static const enum reading of_motors[] = {
		READING_COMPRESSOR_CAPACITANCE, READING_FAN_AMPS, READING_BLOWER_AMPS,
		READING_COMMON_RUN_RESISTANCE, READING_FAN_CAPACITANCE, READING_STARTING_SECONDS,
	};

	assess("refrigerant=R-410A, metering=txv, compressor_state=runs, fan_state=runs, blower_state=runs, "
	       "outdoor_db=95, return_db=78", "");
	ck_assert_int_gt(assessment.diagnoses[STAGE_AS_FOUND].next_check_count, 0);
	for (size_t i = 0; i < sizeof of_motors / sizeof *of_motors; i++)
		ck_assert_msg(!is_next(of_motors[i]), "%s", reading_info(of_motors[i])->key);
}
END_TEST

/* With the circuit read and sound, a motor that runs is measured when something points to it. */
START_TEST(on_a_sound_unit_that_runs_nothing_is_asked_for)
{
	assess("refrigerant=R-410A, metering=txv, seer=13, compressor_motor=psc, compressor_state=runs, "
	       "fan_state=runs, blower_state=runs, outdoor_db=95, return_db=80, return_wb=67, "
	       "suction_pressure=130, suction_line_temp=56, liquid_pressure=390, liquid_line_temp=103, "
	       "supply_db=61.5, condenser_bend_temp=113, discharge_line_temp=172", "");
	ck_assert_int_eq(assessment.diagnoses[STAGE_AS_FOUND].next_check_count, 0);
}
END_TEST

/* Once a reading states the fault: its cause, and what has to be known before it is repaired. */
static const struct {
	const char *readings;
	enum reading asked[2]; /* READING_NONE: nothing (more) */
} settled[] = {
	{ "compressor_state=hums, line_voltage=240, compressor_capacitance=2, "
	  "compressor_capacitor_rated=45", { READING_COMPRESSOR_GROUND_RESISTANCE } },
	{ "line_voltage=0, compressor_state=silent, fan_state=silent",
	  { READING_COMPRESSOR_GROUND_RESISTANCE, READING_FAN_GROUND_RESISTANCE } },
	{ "compressor_ground_resistance=0.05", { READING_TERMINAL_CONDITION } },
	{ "compressor_state=silent, float_switch=open, drain_condition=blocked",
	  { READING_COIL_CONDITION } },
	{ "compressor_state=silent, fan_state=silent, line_voltage=240, control_fuse=open",
	  { READING_CONTACTOR_COIL_RESISTANCE } },
	{ "compressor_state=silent, line_voltage=240, contactor_coil_resistance=OL", { READING_NONE } },
	{ "compressor_state=runs, filter_condition=blocked", { READING_COIL_CONDITION } },
};

START_TEST(after_a_measured_fault_only_what_bears_on_it_is_asked_for)
{
	assess(settled[_i].readings, "compressor_motor=psc, refrigerant=R-410A, metering=txv");
	const struct diagnosis *diagnosis = &assessment.diagnoses[STAGE_AS_FOUND];
	int wanted = 0;

	while (wanted < 2 && settled[_i].asked[wanted] != READING_NONE)
		wanted++;
	for (int i = 0; i < diagnosis->next_check_count; i++)
		ck_assert_msg(i < wanted && diagnosis->next_checks[i].reading == settled[_i].asked[i], "%s",
		              reading_info(diagnosis->next_checks[i].reading)->key);
	ck_assert_int_eq(diagnosis->next_check_count, wanted);
}
END_TEST

/* Gas and too much refrigerant raise the head alike: the bend or the standing pressure decides. */
START_TEST(gas_or_overcharge_is_decided_by_the_bend)
{
	assess("refrigerant=R-410A, metering=fixed_orifice, nominal_capacity=3, seer=13, "
	       "compressor_state=runs, outdoor_db=93, return_db=79, return_wb=66, suction_pressure=124, "
	       "suction_line_temp=56, liquid_pressure=420, liquid_line_temp=104, supply_db=60", "");
	ck_assert(is_next(READING_CONDENSER_BEND_TEMP) || is_next(READING_STANDING_PRESSURE));
}
END_TEST

START_TEST(every_next_check_is_worded)
{
	char words[WORDING_SIZE];

	for (size_t k = 0; k < sizeof orders / sizeof *orders; k++) {
		assess(orders[k].readings, "return_db=75");
		for (int stage = 0; stage < STAGE_COUNT; stage++) {
			const struct diagnosis *diagnosis = &assessment.diagnoses[stage];
			for (int i = 0; i < diagnosis->next_check_count; i++) {
				wording_next_check(&diagnosis->next_checks[i], words, sizeof words);
				ck_assert_msg(strlen(words) > 8, "%s: %s",
				              reading_info(diagnosis->next_checks[i].reading)->key, words);
			}
		}
	}
}
END_TEST

START_TEST(what_nothing_explains_is_said_so)
{
	static struct diagnosis diagnosis = { .unexplained = 0.8 };

	ck_assert_ptr_nonnull(strstr(wording_unexplained(&diagnosis), "cannot tell"));
	diagnosis.unexplained = 0.3;
	ck_assert_str_eq(wording_unexplained(&diagnosis), "");
}
END_TEST

/* ---- The charge ---- */

/* A blocked filter shifts the superheat: no refrigerant is moved before it is replaced. */
START_TEST(airflow_comes_before_the_charge)
{
	char words[WORDING_SIZE];
	struct charging charging;

	assess(LOW ", running_minutes=30, filter_condition=blocked", "");
	assessment_charging(&call, &assessment, STAGE_AS_FOUND, &charging);
	ck_assert(charging.possible);
	ck_assert_int_eq(charging.advice.verdict, CHARGE_FIX_AIRFLOW);
	wording_charging(&charging, UNITS_US, words, sizeof words);
	ck_assert_ptr_nonnull(strstr(words, "repair first: "));
	ck_assert_ptr_null(strstr(words, " oz"));
}
END_TEST

START_TEST(a_sound_airflow_lets_the_charge_be_moved)
{
	char words[WORDING_SIZE];
	struct charging charging;

	assess(LOW ", running_minutes=30", "");
	assessment_charging(&call, &assessment, STAGE_AS_FOUND, &charging);
	wording_charging(&charging, UNITS_SI, words, sizeof words);
	ck_assert_int_eq(charging.first, FAULT_NONE);
	ck_assert_ptr_nonnull(strstr(words, "add "));
	ck_assert_ptr_nonnull(strstr(words, " g"));
}
END_TEST

/* A sound circuit whose condenser stands 28 °F over outdoor. */
#define ODD "refrigerant=R-410A, metering=txv, seer=13, compressor_state=runs, outdoor_db=92, " \
	"return_db=78, return_wb=65, suction_pressure=127, suction_line_temp=55, " \
	"liquid_pressure=418, liquid_line_temp=105, supply_db=59"

START_TEST(what_a_refit_left_is_not_held_against_the_units_past)
{
	struct past past = { .count = 0 };
	struct assessment_input input = { .call = &call, .past = &past };

	assess(ODD, ODD);
	ck_assert(past_add(&past, &call.visit, STAGE_AS_FOUND, true));
	double kind = assessment.diagnoses[STAGE_AS_LEFT].healthy;
	assessment_make(&input, &assessment);
	ck_assert_double_gt(assessment.diagnoses[STAGE_AS_LEFT].healthy, kind + 0.05);
	struct work_line *line = call_add_work(&call);
	ck_assert_ptr_nonnull(line);
	line->kind = WORK_PART;
	ck_assert(text_copy(line->description, sizeof line->description, "Compressor, 3 ton"));
	assessment_make(&input, &assessment);
	ck_assert_double_eq(assessment.diagnoses[STAGE_AS_LEFT].healthy, kind);
	ck_assert_double_gt(assessment.diagnoses[STAGE_AS_FOUND].healthy, kind);
}
END_TEST

/* Copies as left, with the times of the arrival, were told as measured after the work. */
START_TEST(what_was_copied_was_not_tested_again)
{
	struct value value;

	put(STAGE_AS_FOUND, "compressor_capacitor_rated=45, compressor_capacitance=27, compressor_state=hums");
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		if (!visit_has(&call.visit, STAGE_AS_FOUND, (enum reading)i) ||
		    reading_info((enum reading)i)->scope != SCOPE_CALL)
			continue;
		value = *visit_value(&call.visit, STAGE_AS_FOUND, (enum reading)i);
		value.taken_at = 5000;
		visit_set(&call.visit, STAGE_AS_FOUND, (enum reading)i, &value);
		visit_set(&call.visit, STAGE_AS_LEFT, (enum reading)i, &value);
	}
	assess("", "");
	ck_assert(!assessment.was_read[STAGE_AS_LEFT]);
	ck_assert_ptr_nonnull(finding(STAGE_AS_FOUND, FAULT_COMPRESSOR_CAPACITOR_FAILED));
	assess("", "line_voltage=240");
	ck_assert(assessment.was_read[STAGE_AS_LEFT]);
	ck_assert_ptr_null(finding(STAGE_AS_LEFT, FAULT_COMPRESSOR_CAPACITOR_FAILED));
	ck_assert_ptr_null(finding(STAGE_AS_LEFT, FAULT_COMPRESSOR_CAPACITOR_WEAK));
	ck_assert_int_eq(finding(STAGE_AS_FOUND, FAULT_COMPRESSOR_CAPACITOR_FAILED)->after_work,
	                 AFTER_WORK_NOT_TESTED);
	ck_assert_int_eq(assessment.diagnoses[STAGE_AS_LEFT].next_checks[0].reading,
	                 READING_COMPRESSOR_CAPACITANCE);
	/* The same number read again is a reading of its own. */
	value = *visit_value(&call.visit, STAGE_AS_LEFT, READING_COMPRESSOR_CAPACITANCE);
	value.taken_at = 9000;
	visit_set(&call.visit, STAGE_AS_LEFT, READING_COMPRESSOR_CAPACITANCE, &value);
	assess("", "");
	ck_assert_int_eq(finding(STAGE_AS_FOUND, FAULT_COMPRESSOR_CAPACITOR_FAILED)->after_work,
	                 AFTER_WORK_STILL_THERE);
}
END_TEST

/* What makes a breaker trip, and only as long as it is to be acted on. */
START_TEST(a_trip_is_explained_by_what_draws_the_current)
{
	static const struct {
		enum fault fault;
		bool explains;
	} rows[] = {
		{ FAULT_WINDING_GROUNDED, true }, { FAULT_FAN_MOTOR_GROUNDED, true },
		{ FAULT_WINDING_SHORTED, true }, { FAULT_LOCKED_ROTOR, true },
		{ FAULT_COMPRESSOR_CAPACITOR_FAILED, true }, { FAULT_SUPPLY_CONNECTION_BAD, true },
		{ FAULT_UNDERCHARGE, false }, { FAULT_NO_CONTROL_VOLTAGE, false },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct diagnosis diagnosis = { .finding_count = 1 };
		diagnosis.findings[0].fault = rows[i].fault;
		diagnosis.findings[0].level = LEVEL_ACT;
		ck_assert_msg(diagnosis_explains_trip(&diagnosis) == rows[i].explains, "%s",
		              fault_info(rows[i].fault)->key);
		diagnosis.findings[0].level = LEVEL_WATCH;
		ck_assert(!diagnosis_explains_trip(&diagnosis));
	}
}
END_TEST

Suite *assessment_suite(void)
{
	Suite *suite = suite_create("assessment");
	TCase *tcase = tcase_create("assessment");

	tcase_add_checked_fixture(tcase, begin, end);
	tcase_add_test(tcase, one_unrelated_reading_cures_no_grounded_compressor);
	tcase_add_test(tcase, a_new_compressor_measured_is_no_longer_grounded);
	tcase_add_test(tcase, the_same_reading_again_is_still_there);
	tcase_add_test(tcase, without_readings_as_left_nothing_is_said_of_it);
	tcase_add_test(tcase, a_new_capacitor_is_proved_by_its_microfarads);
	tcase_add_test(tcase, a_running_compressor_is_no_proof_of_its_capacitor);
	tcase_add_test(tcase, a_running_compressor_has_control_voltage);
	tcase_add_test(tcase, low_charge_is_gone_when_the_circuit_was_read_again);
	tcase_add_test(tcase, low_charge_is_not_tested_by_a_pipe_alone);
	tcase_add_test(tcase, after_a_lost_phase_both_pressures_are_asked_for);
	tcase_add_test(tcase, charge_first_read_behind_a_repair_has_a_place_among_the_findings);
	tcase_add_loop_test(tcase, low_charge_that_is_confirmed_and_filled_is_gone_when_it_reads_good, 0,
	                    sizeof found_with / sizeof *found_with);
	tcase_add_loop_test(tcase, low_charge_that_is_confirmed_and_weighed_in_is_gone_when_it_reads_good,
	                    0, sizeof found_with / sizeof *found_with);
	tcase_add_test(tcase, charge_that_was_not_read_again_is_asked_for);
	tcase_add_test(tcase, the_place_of_a_leak_is_asked_for_until_it_is_answered);
	tcase_add_test(tcase, a_summary_that_says_all_is_in_order_beside_an_open_finding_is_told);
	tcase_add_test(tcase, what_is_measured_has_no_percentage);
	tcase_add_test(tcase, a_confirmed_finding_stands_first_and_is_to_be_acted_on);
	tcase_add_test(tcase, a_confirmed_fault_that_no_reading_shows_is_added);
	tcase_add_test(tcase, a_ruled_out_finding_stands_last_and_asks_for_nothing);
	tcase_add_test(tcase, the_last_judgement_of_a_fault_counts);
	tcase_add_test(tcase, what_the_technician_ruled_out_is_not_asked_for_again);
	tcase_add_loop_test(tcase, the_first_check_is_the_usual_one, 0, sizeof orders / sizeof *orders);
	tcase_add_test(tcase, no_motor_is_measured_before_the_circuit_was_read);
	tcase_add_test(tcase, on_a_sound_unit_that_runs_nothing_is_asked_for);
	tcase_add_loop_test(tcase, after_a_measured_fault_only_what_bears_on_it_is_asked_for, 0,
	                    sizeof settled / sizeof *settled);
	tcase_add_test(tcase, gas_or_overcharge_is_decided_by_the_bend);
	tcase_add_test(tcase, every_next_check_is_worded);
	tcase_add_test(tcase, what_nothing_explains_is_said_so);
	tcase_add_test(tcase, airflow_comes_before_the_charge);
	tcase_add_test(tcase, a_sound_airflow_lets_the_charge_be_moved);
	tcase_add_test(tcase, what_a_refit_left_is_not_held_against_the_units_past);
	tcase_add_test(tcase, what_was_copied_was_not_tested_again);
	tcase_add_test(tcase, a_trip_is_explained_by_what_draws_the_current);
	suite_add_tcase(suite, tcase);
	return suite;
}
