/*
 * The circuit's diagnosis by itself: the readings that decide, this unit's own
 * past, what the explanations predict, what another reading is worth.
 *
 * Signs: foreign gas adds its own pressure to the condenser's, so that a return
 * bend is colder than the gauge says (Dalton; Li, eq. 4-3) and the pressure at
 * rest higher than saturation at the air's temperature.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>

#include <padside/calc/coil.h>
#include <padside/calc/refrigerant.h>

#include "diagnose/circuit_parts.h"
#include "support/circuit_rows.h"
#include "support/judged.h"

Suite *circuit_suite(void);

#define VALVE "refrigerant=R-410A, metering=txv, seer=13, nominal_capacity=3, " \
	"target_subcooling=10, compressor_state=runs, fan_state=runs, "

/* A sound unit's readings: 45 and 113.5 °F saturation at 95 °F outdoors. */
#define SOUND "outdoor_db=95, return_db=80, return_wb=67, suction_pressure=130, " \
	"suction_line_temp=56, liquid_pressure=390, liquid_line_temp=103, supply_db=61.5"

/* Head 12 °F up and subcooling with it: charge, or foreign gas? */
#define HIGH_HEAD "outdoor_db=95, return_db=80, return_wb=67, suction_pressure=130, " \
	"suction_line_temp=56, liquid_pressure=447, liquid_line_temp=105, supply_db=61.5"

static struct circuit circuit;

static struct view view_of(const struct judged *judged)
{
	return (struct view){ .visit = &judged->visit, .stage = STAGE_AS_FOUND, .set = &judged->set };
}

static void look(struct judged *judged, const struct past *past, const char *readings)
{
	judge(judged, STAGE_AS_FOUND, readings);
	struct view view = view_of(judged);
	circuit_judge(&view, past, false, &circuit);
}

/* ---- The readings that decide ---- */

START_TEST(a_bend_colder_than_the_gauge_is_foreign_gas)
{
	static struct judged judged;

	look(&judged, NULL, VALVE HIGH_HEAD);
	double open = circuit.fault[FAULT_NONCONDENSABLES];
	ck_assert_double_gt(open, 0.1);
	ck_assert_double_gt(circuit.fault[FAULT_OVERCHARGE], 0.1);
	/* 447 psig is 125 °F on the bubble line: 10 °F colder, then as warm as it says. */
	look(&judged, NULL, VALVE HIGH_HEAD ", condenser_bend_temp=115");
	ck_assert_double_gt(circuit.fault[FAULT_NONCONDENSABLES], 0.9);
	look(&judged, NULL, VALVE HIGH_HEAD ", condenser_bend_temp=124.5");
	ck_assert_double_lt(circuit.fault[FAULT_NONCONDENSABLES], 0.3 * open);
}
END_TEST

START_TEST(a_standing_pressure_above_saturation_is_foreign_gas)
{
	static struct judged judged;
	char text[512];
	double psia;

	ck_assert(refrigerant_dew_pressure(REFRIGERANT_R410A, 95, &psia) == STATUS_OK);
	snprintf(text, sizeof text, "%s%s, standing_temp=95, standing_pressure=%.1f", VALVE, HIGH_HEAD,
	         psia - 14.696 + 35);
	look(&judged, NULL, text);
	ck_assert_double_gt(circuit.fault[FAULT_NONCONDENSABLES], 0.85);
	snprintf(text, sizeof text, "%s%s, standing_temp=95, standing_pressure=%.1f", VALVE, HIGH_HEAD,
	         psia - 14.696);
	look(&judged, NULL, text);
	ck_assert_double_lt(circuit.fault[FAULT_NONCONDENSABLES], 0.2);
}
END_TEST

START_TEST(hot_air_behind_the_condenser_is_too_little_of_it)
{
	static struct judged judged;

	look(&judged, NULL, VALVE HIGH_HEAD ", condenser_leaving_db=107");
	double usual = circuit.fault[FAULT_LOW_OUTDOOR_AIRFLOW];
	look(&judged, NULL, VALVE HIGH_HEAD ", condenser_leaving_db=120");
	ck_assert_double_gt(circuit.fault[FAULT_LOW_OUTDOOR_AIRFLOW], usual + 0.2);
}
END_TEST

START_TEST(between_charge_and_foreign_gas_the_deciding_readings_lead)
{
	static struct judged judged;
	double gains[SEEN_COUNT];

	look(&judged, NULL, VALVE HIGH_HEAD);
	circuit_gains(&circuit, gains);
	for (int i = 0; i < SEEN_COUNT; i++)
		if (i != SEEN_BEND && i != SEEN_STANDING)
			ck_assert_double_lt(gains[i], fmin(gains[SEEN_BEND], gains[SEEN_STANDING]));
	/* Decided: nothing would change any more. */
	look(&judged, NULL, VALVE HIGH_HEAD ", condenser_bend_temp=112");
	circuit_gains(&circuit, gains);
	for (int i = 0; i < SEEN_COUNT; i++)
		ck_assert_double_lt(gains[i], 0.02);
}
END_TEST

START_TEST(a_supply_wet_bulb_alone_is_worth_nothing)
{
	static struct judged judged;
	double gains[SEEN_COUNT];

	/* The enthalpy drop takes both wet bulbs and both dry bulbs. */
	look(&judged, NULL, VALVE "outdoor_db=95, return_db=80, suction_pressure=112, "
	     "liquid_pressure=380, suction_line_temp=48");
	circuit_gains(&circuit, gains);
	ck_assert_double_eq(gains[SEEN_ENTHALPY], 0);
	ck_assert_double_gt(gains[SEEN_LIQUID_LINE], 0);
	look(&judged, NULL, VALVE "outdoor_db=95, return_db=80, suction_pressure=112, "
	     "liquid_pressure=380, suction_line_temp=48, return_wb=67, supply_db=58");
	circuit_gains(&circuit, gains);
	ck_assert_double_gt(gains[SEEN_ENTHALPY], 0);
}
END_TEST

/* ---- The unit's own past ---- */

/* A sound unit whose condenser stands 28 °F over outdoor and whose subcooling is 15. */
static void make_odd_visit(struct judged *judged, double outdoor)
{
	char text[512];
	double psia;

	ck_assert(refrigerant_bubble_pressure(REFRIGERANT_R410A, outdoor + 28, &psia) == STATUS_OK);
	snprintf(text, sizeof text, "%soutdoor_db=%.1f, return_db=78, return_wb=65, "
	         "suction_pressure=127, suction_line_temp=55, liquid_pressure=%.1f, "
	         "liquid_line_temp=%.1f, supply_db=59", VALVE, outdoor, psia - 14.696, outdoor + 13);
	judge(judged, STAGE_AS_FOUND, text);
}

START_TEST(an_odd_unit_known_from_earlier_visits_is_sound)
{
	static struct judged judged;
	struct past past = { .count = 0 };
	struct view view = view_of(&judged);

	make_odd_visit(&judged, 85);
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	make_odd_visit(&judged, 92);
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	ck_assert_int_eq(past.count, 2);
	make_odd_visit(&judged, 98);
	circuit_judge(&view, NULL, false, &circuit);
	double before = circuit.sound;
	circuit_judge(&view, &past, false, &circuit);
	ck_assert_int_eq(circuit.past_visits, 2);
	ck_assert_double_lt(before, 0.5);
	ck_assert_double_gt(circuit.sound, 0.7);
	/* The work changed the unit: the past is over. */
	past_end(&past);
	circuit_judge(&view, &past, false, &circuit);
	ck_assert_double_eq(circuit.sound, before);
}
END_TEST

/* What earlier visits showed is known better: every reading is predicted more closely. */
START_TEST(each_visit_narrows_what_is_predicted)
{
	static struct judged judged;
	static struct predictions before, after;
	struct past past = { .count = 0 };
	struct view view = view_of(&judged);

	look(&judged, NULL, VALVE SOUND);
	circuit_predict(&view, &circuit, &before);
	for (int visit = 0; visit < 3; visit++)
		ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	look(&judged, &past, VALVE SOUND);
	circuit_predict(&view, &circuit, &after);
	ck_assert_int_eq(before.list[0].first, FAULT_NONE);
	ck_assert_int_eq(after.list[0].first, FAULT_NONE);
	ck_assert_int_eq(before.list[0].count, after.list[0].count);
	for (int i = 0; i < before.list[0].count; i++) {
		ck_assert_int_eq(before.list[0].list[i].reading, after.list[0].list[i].reading);
		ck_assert_msg(after.list[0].list[i].plus_minus < 0.85 * before.list[0].list[i].plus_minus,
		              "%s: %.2f after %.2f", reading_info(before.list[0].list[i].reading)->key,
		              after.list[0].list[i].plus_minus, before.list[0].list[i].plus_minus);
	}
}
END_TEST

START_TEST(a_change_from_its_own_past_is_said_in_degrees)
{
	static struct judged judged;
	struct past past = { .count = 0 };
	bool said = false;

	judge(&judged, STAGE_AS_FOUND, VALVE SOUND);
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	/* Head 9 °F up in the same weather. */
	look(&judged, &past, VALVE "outdoor_db=95, return_db=80, return_wb=67, suction_pressure=131, "
	     "suction_line_temp=56, liquid_pressure=439, liquid_line_temp=112, supply_db=61.5");
	for (int i = 0; i < circuit.own_count; i++) {
		if (circuit.own[i].figure != FIGURE_CONDENSER_OVER_OUTDOOR)
			continue;
		said = true;
		ck_assert_double_eq_tol(circuit.own[i].difference, 8.5, 3);
		ck_assert_int_eq(circuit.own[i].visits, 2);
	}
	ck_assert(said);
	ck_assert_double_gt(circuit.fault[FAULT_LOW_OUTDOOR_AIRFLOW], 0.5);
}
END_TEST

/* The first figure of those that moved by more than visits differ by is told, as the others are. */
START_TEST(the_first_that_changed_since_its_own_past_is_told)
{
	static struct judged judged;
	static struct diagnosis diagnosis;
	struct past past = { .count = 0 };
	int told = 0;

	judge(&judged, STAGE_AS_FOUND, VALVE SOUND);
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	look(&judged, &past, VALVE "outdoor_db=95, return_db=80, return_wb=67, suction_pressure=90, "
	     "suction_line_temp=70, liquid_pressure=330, liquid_line_temp=98, supply_db=70");
	diagnose(&judged.visit, STAGE_AS_FOUND, &judged.set, &past, &diagnosis);
	ck_assert_int_gt(circuit.own_count, 1);
	ck_assert_double_gt(fabs(circuit.own[0].difference), circuit.own[0].plus_minus);
	for (int i = 0; i < diagnosis.own_count; i++)
		told += diagnosis.own[i].figure == circuit.own[0].figure;
	ck_assert_int_eq(told, 1);
}
END_TEST

/* Odds of 3 where nobody noted a fault, of 15 where it was left so, beside the readings' own. */
START_TEST(an_earlier_visit_is_believed_by_how_it_ended)
{
	static struct judged judged;
	static const double odds[STAGE_COUNT] = { [STAGE_AS_FOUND] = 3, [STAGE_AS_LEFT] = 15 };

	for (int stage = STAGE_AS_FOUND; stage <= STAGE_AS_LEFT; stage++) {
		struct past past = { .count = 0 };
		struct view view = { .visit = &judged.visit, .stage = (enum stage)stage, .set = &judged.set };
		char text[512];
		snprintf(text, sizeof text, VALVE "outdoor_db=95, return_db=78, return_wb=65, suction_pressure=127, "
		         "suction_line_temp=55, liquid_pressure=%d, liquid_line_temp=108, supply_db=59",
		         stage == STAGE_AS_FOUND ? 418 : 434);
		judge(&judged, (enum stage)stage, text);
		circuit_judge(&view, NULL, stage == STAGE_AS_LEFT, &circuit);
		ck_assert(past_add(&past, &judged.visit, (enum stage)stage, false));
		double sound = past.visits[0].sound;
		ck_assert(sound > 0.1 && sound < 0.95);
		ck_assert_double_eq_tol(sound / (1 - sound), odds[stage] * circuit.sound / (1 - circuit.sound),
		                        1e-9);
	}
}
END_TEST

START_TEST(the_past_holds_so_many_visits_and_drops_the_oldest)
{
	static struct judged judged;
	struct past past = { .count = 0 };

	judge(&judged, STAGE_AS_FOUND, "compressor_state=silent");
	ck_assert(!past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	ck_assert_int_eq(past.count, 0);
	for (int i = 0; i <= MOST_PAST_VISITS; i++) {
		make_odd_visit(&judged, 80 + i);
		ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, false));
	}
	ck_assert_int_eq(past.count, MOST_PAST_VISITS);
	ck_assert_double_eq_tol(past.visits[0].air[0], 81, 1e-9);
	ck_assert(past.visits[0].sound > 0 && past.visits[0].sound < 1);
}
END_TEST

START_TEST(another_refrigerant_is_another_unit)
{
	static struct judged judged;
	struct past past = { .count = 0 };

	judge(&judged, STAGE_AS_FOUND, VALVE SOUND);
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	look(&judged, &past, "refrigerant=R-22, metering=txv, compressor_state=runs, outdoor_db=95, "
	     "return_db=80, return_wb=67, suction_pressure=76, liquid_pressure=250, "
	     "suction_line_temp=56, liquid_line_temp=104");
	ck_assert_int_eq(circuit.past_visits, 0);
}
END_TEST

/* A maker states 8, 9, 8, 8 °F for 2 to 5 ton, ±1 (4SCU16LT, p. 14): trade notes, section 8. */
START_TEST(the_makers_approach_is_what_the_liquid_line_is_held_against)
{
	static struct judged judged;

	/* Liquid 5 °F over outdoor, as its maker states it, subcooling with it. */
	look(&judged, NULL, VALVE "outdoor_db=95, return_db=80, return_wb=67, suction_pressure=130, "
	     "suction_line_temp=56, liquid_pressure=400, liquid_line_temp=99");
	double without = circuit.fault[FAULT_OVERCHARGE];
	look(&judged, NULL, VALVE "target_approach=4, outdoor_db=95, return_db=80, return_wb=67, "
	     "suction_pressure=130, suction_line_temp=56, liquid_pressure=400, liquid_line_temp=99");
	ck_assert_double_lt(circuit.fault[FAULT_OVERCHARGE], 0.9 * without);
	/* And where the maker wants 12 °F, 4 is too much refrigerant. */
	look(&judged, NULL, VALVE "target_approach=12, outdoor_db=95, return_db=80, return_wb=67, "
	     "suction_pressure=130, suction_line_temp=56, liquid_pressure=400, liquid_line_temp=99");
	ck_assert_double_gt(circuit.fault[FAULT_OVERCHARGE], 1.1 * without);
}
END_TEST

/* What stands on two nameplates, and whether the second is another machine inside. */
static const struct {
	const char *before, *after;
	bool refit;
} nameplates[] = {
	{ "compressor_rla=14.1", "compressor_rla=14.1", false },
	{ "compressor_rla=14.1", "compressor_rla=14.2", false },
	{ "compressor_rla=14.1", "compressor_rla=16.7", true },
	{ "metering=fixed_orifice", "metering=txv", true },
	{ "refrigerant=R-22", "refrigerant=R-407C", true },
	{ "indoor_model=A24", "indoor_model=B24", true },
	{ "serial=1234", "serial=1234, filter_size=16x25x1", false },
	{ "outdoor_db=80", "metering=txv, refrigerant=R-22", false },
	{ "fan_motor_fla=1.1", "fan_motor_fla=1.4", false },
	/* Each line of the plate that means another inside; a line that was not written means nothing. */
	{ "model=A", "model=B", true }, { "serial=1", "serial=2", true },
	{ "indoor_serial=1", "indoor_serial=2", true }, { "indoor_model=A", "indoor_model=A", false },
	{ "compressor_motor=psc", "compressor_motor=csr", true },
	{ "compressor_kind=scroll", "compressor_kind=rotary", true },
	{ "nominal_capacity=3", "nominal_capacity=3.5", true },
	{ "nominal_capacity=3.5", "nominal_capacity=3", true },
	{ "serial=1", "", false }, { "", "serial=1", false },
	/* Rounded when it was copied: within 2 % (common practice). */
	{ "compressor_rla=10", "compressor_rla=10.2", false },
	{ "compressor_rla=10", "compressor_rla=10.3", true },
	{ "compressor_rla=10", "compressor_rla=9.7", true },
	/* Of the plate, but nothing inside. */
	{ "filter_size=A", "filter_size=B", false }, { "rated_voltage=230", "rated_voltage=208", false },
	{ "compressor_capacitor_rated=45", "compressor_capacitor_rated=40", false },
};

START_TEST(a_refit_is_seen_on_the_nameplate)
{
	static struct judged before, after;

	judge(&before, STAGE_AS_FOUND, nameplates[_i].before);
	judge(&after, STAGE_AS_FOUND, nameplates[_i].after);
	ck_assert_int_eq(past_is_refit(&before.visit, &after.visit), nameplates[_i].refit);
}
END_TEST

START_TEST(a_refit_is_seen_by_the_parts)
{
	static const char *const refits[] = {
		"Compressor, scroll, 3 ton", "Pleated air filter 16x25x1; Evaporator coil 3 ton",
		"TXV R-410A", "Conversion to R-407C", "Condensing unit, 3 ton; Refrigerant R-410A, ounce",
		"Condenser coil", "indoor coil", "Orifice no. 65", "Piston kit", "EXV body",
		"Thermostatic expansion valve", "Metering device", "Retrofit to R-407C",
		"Contactor; Compressor", ";;Compressor;",
	};
	static const char *const others[] = {
		"", ";", "Compressor capacitor 45 µF", "Contactor, two poles, 30 A, 24 V coil",
		"High-temperature compressor lead kit with terminals", "Hard start kit for compressors",
		"Evaporator coil cleaner", "Refrigerant R-410A, ounce", "Condenser fan motor",
		"Spring check of the cooling system", "Compressor relay", "Compressor contactor",
		"Compressor fan", "Compressor fuse", "Compressor breaker", "Compressor terminal block",
		"Compressor crankcase heater", "Compressor mounts", "Indoor coil wash", "TXV filter kit",
		"Drier beside the TXV", "Compressor overload", "Compressor oil", "Compressor test",
		"Diagnosis of the compressor", "EXV sensor", "Compressor sound cover", "Compressor blanket",
		"Condenser coil cleaned",
	};

	for (size_t i = 0; i < sizeof refits / sizeof *refits; i++)
		ck_assert_msg(past_parts_are_refit(refits[i]), "%s", refits[i]);
	for (size_t i = 0; i < sizeof others / sizeof *others; i++)
		ck_assert_msg(!past_parts_are_refit(others[i]), "%s", others[i]);
}
END_TEST

/* ---- Predictions ---- */

START_TEST(a_sound_units_readings_agree_with_what_is_predicted)
{
	static struct judged judged;
	struct view view = view_of(&judged);
	struct predictions predictions;

	look(&judged, NULL, VALVE SOUND);
	circuit_predict(&view, &circuit, &predictions);
	ck_assert_int_gt(predictions.count, 0);
	ck_assert_int_eq(predictions.list[0].first, FAULT_NONE);
	ck_assert_int_eq(predictions.list[0].count, 5);
	for (int i = 0; i < predictions.list[0].count; i++) {
		const struct predicted *predicted = &predictions.list[0].list[i];
		ck_assert(predicted->agrees);
		ck_assert_double_gt(predicted->plus_minus, 0);
		ck_assert_double_le(fabs(predicted->measured - predicted->value),
		                    1.2 * predicted->plus_minus);
	}
}
END_TEST

/* One reading is enough to be told of; none, or a unit at rest, is nothing. */
START_TEST(a_single_reading_is_predicted_and_none_is_not)
{
	static const struct {
		const char *readings;
		int count; /* of the first explanation */
	} rows[] = {
		{ VALVE "suction_pressure=118", 1 }, { VALVE "suction_pressure=118, liquid_pressure=365", 2 },
		{ VALVE "outdoor_db=90", 0 },
		{ "metering=txv, refrigerant=R-410A, compressor_state=silent, suction_pressure=118", 0 },
	};
	static struct judged judged;
	struct view view = view_of(&judged);
	struct predictions predictions;

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		look(&judged, NULL, rows[i].readings);
		circuit_predict(&view, &circuit, &predictions);
		ck_assert_msg((predictions.count > 0) == (rows[i].count > 0), "%s", rows[i].readings);
		ck_assert_msg(rows[i].count == 0 || predictions.list[0].count == rows[i].count, "%s: %d",
		              rows[i].readings, predictions.list[0].count);
	}
}
END_TEST

/* Common practice: 400 cfm a ton; a unit of one ton has its share of it as a larger one has. */
START_TEST(the_air_of_a_small_unit_counts)
{
	static struct judged judged;
	struct view view = view_of(&judged);

	double shares[2];
	for (int tons = 1; tons <= 2; tons++) {
		char readings[640];
		snprintf(readings, sizeof readings, VALVE SOUND ", nominal_capacity=%d, airflow=%d", tons, 380 * tons);
		look(&judged, NULL, readings);
		ck_assert(circuit.taken[SEEN_AIRFLOW]);
		shares[tons - 1] = circuit.value[SEEN_AIRFLOW];
		/* What is expected of it is told in cfm of its size. */
		struct evidence evidence[MOST_EVIDENCE];
		int told = 0, count = circuit_evidence(&view, &circuit, FAULT_LOW_INDOOR_AIRFLOW, evidence,
		                                       MOST_EVIDENCE);
		for (int k = 0; k < count; k++) {
			if (evidence[k].figure != FIGURE_AIRFLOW_ESTIMATE)
				continue;
			told++;
			ck_assert_double_gt(evidence[k].expected, 300 * tons);
			ck_assert_double_lt(evidence[k].expected, 500 * tons);
		}
		ck_assert_int_eq(told, 1);
	}
	ck_assert_double_eq_tol(shares[0], shares[1], 1e-9);
}
END_TEST

/* A single reading counts: 60 psig of R-410A is 14 °F (CoolProp), which a usual suction of 125 is not. */
START_TEST(a_single_reading_counts)
{
	static struct judged judged;
	double charge[2];

	for (int i = 0; i < 2; i++) {
		look(&judged, NULL, i ? VALVE "suction_pressure=60" : VALVE "suction_pressure=125");
		charge[i] = circuit.fault[FAULT_UNDERCHARGE];
	}
	ck_assert_double_gt(fabs(charge[1] - charge[0]), 0.1);
}
END_TEST

/* What the gauges and thermometers said, compared as temperatures and shares, is the same again as typed. */
static const struct {
	int seen;
	enum reading reading;
	const char *key;
	double typed;
} as_typed[] = {
	{ SEEN_SUCTION, READING_SUCTION_PRESSURE, "suction_pressure", 118 },
	{ SEEN_SUCTION_LINE, READING_SUCTION_LINE_TEMP, "suction_line_temp", 55 },
	{ SEEN_LIQUID, READING_LIQUID_PRESSURE, "liquid_pressure", 352 },
	{ SEEN_LIQUID_LINE, READING_LIQUID_LINE_TEMP, "liquid_line_temp", 101 },
	{ SEEN_DISCHARGE, READING_DISCHARGE_LINE_TEMP, "discharge_line_temp", 168 },
	{ SEEN_SUPPLY, READING_SUPPLY_DB, "supply_db", 58.5 },
	{ SEEN_AMPS, READING_COMMON_AMPS, "common_amps", 11.3 },
	{ SEEN_AIRFLOW, READING_AIRFLOW, "airflow", 1130 },
	{ SEEN_DRIER, READING_DRIER_OUT_TEMP, "drier_out_temp", 98.4 },
	{ SEEN_BEND, READING_CONDENSER_BEND_TEMP, "condenser_bend_temp", 111 },
	{ SEEN_STANDING, READING_STANDING_PRESSURE, "standing_pressure", 243 },
	{ SEEN_LEAVING, READING_CONDENSER_LEAVING_DB, "condenser_leaving_db", 108 },
};

START_TEST(what_is_compared_is_what_was_typed)
{
	static const char *const units[] = {
		"refrigerant=R-410A", "refrigerant=R-454B, altitude=5000", "refrigerant=R-407C",
	};
	static struct judged judged;
	struct view view = view_of(&judged);

	for (size_t u = 0; u < sizeof units / sizeof *units; u++) {
		char text[640];
		int length = snprintf(text, sizeof text, "%s, metering=txv, nominal_capacity=3, compressor_rla=16.7, "
		                      "compressor_state=runs, outdoor_db=95, return_db=80, return_wb=67, "
		                      "standing_temp=80, drier_in_temp=100", units[u]);
		for (size_t i = 0; i < sizeof as_typed / sizeof *as_typed; i++)
			length += snprintf(text + length, sizeof text - (size_t)length, ", %s=%g", as_typed[i].key,
			                   as_typed[i].typed);
		look(&judged, NULL, text);
		for (size_t i = 0; i < sizeof as_typed / sizeof *as_typed; i++) {
			ck_assert_msg(circuit.taken[as_typed[i].seen], "%s", as_typed[i].key);
			double back = circuit_as_typed(&view, as_typed[i].seen, circuit.value[as_typed[i].seen]);
			ck_assert_msg(fabs(back - as_typed[i].typed) < 1e-3 * as_typed[i].typed, "%s, %s: %g, not %g",
			              units[u], as_typed[i].key, back, as_typed[i].typed);
		}
		/* And it is predicted as it is typed: in the same unit, beside the same reading. */
		struct predictions predictions;
		circuit_predict(&view, &circuit, &predictions);
		ck_assert_int_gt(predictions.count, 0);
		for (int i = 0; i < predictions.list[0].count; i++) {
			const struct predicted *predicted = &predictions.list[0].list[i];
			ck_assert_double_eq_tol(predicted->measured,
			                        visit_value(&judged.visit, STAGE_AS_FOUND, predicted->reading)->number, 1e-9);
			ck_assert_double_gt(predicted->value, 0.3 * predicted->measured);
			ck_assert_double_lt(predicted->value, 3 * predicted->measured);
		}
	}
}
END_TEST

START_TEST(what_does_not_fit_is_marked)
{
	static struct judged judged;
	struct view view = view_of(&judged);
	struct predictions predictions;
	bool sound = false;

	look(&judged, NULL, VALVE HIGH_HEAD ", condenser_bend_temp=112");
	circuit_predict(&view, &circuit, &predictions);
	ck_assert_int_eq(predictions.list[0].first, FAULT_NONCONDENSABLES);
	for (int i = 0; i < predictions.count; i++) {
		const struct prediction *prediction = &predictions.list[i];
		if (prediction->first != FAULT_NONE)
			continue;
		sound = true;
		for (int k = 0; k < prediction->count; k++)
			if (prediction->list[k].reading == READING_CONDENSER_BEND_TEMP ||
			    prediction->list[k].reading == READING_LIQUID_PRESSURE)
				sound = sound && (prediction->list[k].reading == READING_CONDENSER_BEND_TEMP ||
				                  !prediction->list[k].agrees);
	}
	ck_assert(sound);
	/* A unit at rest predicts nothing. */
	look(&judged, NULL, "compressor_state=silent, refrigerant=R-410A");
	circuit_predict(&view, &circuit, &predictions);
	ck_assert_int_eq(predictions.count, 0);
}
END_TEST

/* ---- Outside the model ---- */

static const char *const strange[] = {
	/* Low suction without superheat, high head, no subcooling, cold air. */
	"suction_pressure=60, suction_line_temp=20, liquid_pressure=560, liquid_line_temp=137, "
	"supply_db=44",
	/* High suction, high superheat, high head, warm liquid, hardly any split. */
	"suction_pressure=185, suction_line_temp=95, liquid_pressure=590, liquid_line_temp=106, "
	"supply_db=79",
};

START_TEST(readings_that_nothing_explains_are_left_unexplained)
{
	static struct judged judged;
	char text[512];

	snprintf(text, sizeof text, "%soutdoor_db=95, return_db=80, return_wb=67, %s", VALVE,
	         strange[_i]);
	look(&judged, NULL, text);
	ck_assert_double_gt(circuit.unknown, 0.5);
	look(&judged, NULL, VALVE SOUND);
	ck_assert_double_lt(circuit.unknown, 0.05);
}
END_TEST

/* A wet bulb behind the coil is worth taking where the drop of enthalpy can be worked out of it. */
START_TEST(a_supply_wet_bulb_needs_the_other_three)
{
	static const char *const others[] = { "supply_db=62", "return_db=80", "return_wb=67" };
	static struct judged judged;
	double gains[SEEN_COUNT];

	for (int left_out = -1; left_out < 3; left_out++) {
		char text[400];
		int length = snprintf(text, sizeof text, "%s", VALVE "outdoor_db=95, suction_pressure=105, "
		                      "suction_line_temp=60, liquid_pressure=320, liquid_line_temp=97");
		for (int i = 0; i < 3; i++)
			if (i != left_out)
				length += snprintf(text + length, sizeof text - (size_t)length, ", %s", others[i]);
		look(&judged, NULL, text);
		circuit_gains(&circuit, gains);
		if (left_out < 0)
			ck_assert_double_gt(gains[SEEN_ENTHALPY], 0);
		else
			ck_assert_double_eq(gains[SEEN_ENTHALPY], 0);
		/* What was taken is worth nothing a second time, what was not is worth something. */
		ck_assert_double_eq(gains[SEEN_SUCTION], 0);
		ck_assert_double_gt(gains[SEEN_DISCHARGE], 0);
	}
}
END_TEST

/* One visit of this unit is already something to go by. */
START_TEST(one_past_visit_counts)
{
	static struct judged judged;
	struct past past = { .count = 0 };

	judge(&judged, STAGE_AS_FOUND, VALVE SOUND);
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	look(&judged, &past, VALVE SOUND);
	ck_assert_int_eq(circuit.past_visits, 1);
	ck_assert_double_gt(circuit.past_share, 0.9);
	ck_assert_double_lt(circuit.past_share, 1);
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	look(&judged, &past, VALVE SOUND);
	ck_assert_int_eq(circuit.past_visits, 2);
	ck_assert_double_gt(circuit.past_share, 0.9);
	ck_assert_double_lt(circuit.past_share, 1);
}
END_TEST

/* ---- The table ---- */

/* A unit in some weather, as the table sees it. */
static void features_at(double outdoor_f, double return_f, double wet_bulb_f, int kind,
                        double *features)
{
	struct machine machine = { .condenser_f = 22.5, .altitude_ft = 2500, .subcooling_f = 16 };
	struct weather weather = { outdoor_f, return_f, wet_bulb_f };

	circuit_features(&machine, &weather, kind, features);
}

/*
 * The regressors as tests/bench/diagnose/circuit_table.py writes them down; beyond the weather that
 * the table was made in they stay as at its edge.
 */
START_TEST(weather_counts_as_the_table_was_made)
{
	static const double of_valve[] = { 1, 1, -0.8, -0.6, 1, 0.64, -0.8, 1, 0.5, 2 };
	static const struct {
		double inside[3], outside[3]; /* outdoor, return, wet bulb */
		int feature;                  /* the one that they move */
	} edges[] = {
		{ { 120, 80, 67 }, { 131, 80, 67 }, 1 }, { { 55, 80, 67 }, { 41, 80, 67 }, 1 },
		{ { 95, 95, 79 }, { 95, 99, 79 }, 3 }, { { 95, 80, 80 }, { 95, 80, 86 }, 2 },
		{ { 95, 55, 54 }, { 95, 49, 54 }, 3 },
	};
	double at[CIRCUIT_FEATURES], beyond[CIRCUIT_FEATURES], nearer[CIRCUIT_FEATURES];

	features_at(105, 75, 63, 1, at);
	for (int f = 0; f < CIRCUIT_FEATURES; f++)
		ck_assert_msg(fabs(at[f] - of_valve[f]) < 0.08, "%d: %g", f, at[f]);
	features_at(95, 45, 40, 1, at);
	ck_assert_double_eq_tol(at[2], (48.0 - 67) / 5, 1e-9);
	features_at(105, 75, 63, 0, at);
	ck_assert_double_eq(at[CIRCUIT_FEATURES - 1], 0);
	for (size_t i = 0; i < sizeof edges / sizeof *edges; i++) {
		const double *in = edges[i].inside, *out = edges[i].outside;
		int f = edges[i].feature;
		features_at(in[0], in[1], in[2], 1, at);
		features_at(out[0], out[1], out[2], 1, beyond);
		features_at(in[0] - 0.2 * (in[0] < out[0]) + 0.2 * (in[0] > out[0]),
		            in[1] - 0.2 * (in[1] < out[1]) + 0.2 * (in[1] > out[1]),
		            in[2] - 0.2 * (in[2] < out[2]) + 0.2 * (in[2] > out[2]), 1, nearer);
		ck_assert_msg(fabs(at[f] - beyond[f]) < 1e-3, "%zu: %g, %g", i, at[f], beyond[f]);
		ck_assert_msg(fabs(at[f] - nearer[f]) > 0.01, "%zu: %g, %g", i, at[f], nearer[f]);
	}
}
END_TEST

START_TEST(foreign_gas_shows_at_bend_and_standing_and_no_other_fault_does)
{
	for (int valve = 0; valve < 2; valve++)
		for (int level = 0; level < 3; level++)
			for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++) {
				enum fault fault = (enum fault)f;
				double bend = circuit_shift(fault, valve == 1, level, COORDINATE_BEND);
				double standing = circuit_shift(fault, valve == 1, level, COORDINATE_STANDING);
				if (fault == FAULT_NONCONDENSABLES) {
					ck_assert_double_lt(bend, -3);
					ck_assert_double_gt(standing, 3);
				} else if (!isnan(bend)) {
					ck_assert_double_eq_tol(bend, 0, 1);
					ck_assert_double_eq_tol(standing, 0, 1);
				}
			}
}
END_TEST

/*
 * What a sound unit of an orifice shows by superheat: the table in Lennox 14ACX installation
 * instructions, "Superheat values", p. 26, within the ±5 °F of California Title 24 RA3.2.
 */
START_TEST(the_superheat_expected_follows_the_published_table)
{
	static const struct {
		double outdoor_f, wet_bulb_f;
	} weather[] = { { 85, 66 }, { 95, 67 }, { 95, 70 }, { 105, 73 }, { 110, 60 } };
	static struct judged judged;
	struct evidence evidence[MOST_EVIDENCE];
	struct view view = view_of(&judged);

	for (size_t i = 0; i < sizeof weather / sizeof *weather; i++) {
		double target = 0;
		char text[400];
		bool is_told = false;
		/* Where the table has a dash a sound unit shows next to none, and never less. */
		if (coil_target_superheat(weather[i].outdoor_f, weather[i].wet_bulb_f, &target) != STATUS_OK)
			target = 0;
		snprintf(text, sizeof text, "refrigerant=R-410A, metering=fixed_orifice, seer=13, "
		         "nominal_capacity=3, compressor_state=runs, fan_state=runs, outdoor_db=%g, "
		         "return_db=80, return_wb=%g, suction_pressure=125, suction_line_temp=80, "
		         "liquid_pressure=400, liquid_line_temp=103, supply_db=62", weather[i].outdoor_f,
		         weather[i].wet_bulb_f);
		look(&judged, NULL, text);
		int count = circuit_evidence(&view, &circuit, FAULT_UNDERCHARGE, evidence, MOST_EVIDENCE);
		for (int k = 0; k < count; k++) {
			if (evidence[k].figure != FIGURE_SUPERHEAT)
				continue;
			is_told = true;
			ck_assert(evidence[k].has_expected);
			ck_assert_double_ge(evidence[k].expected, 0);
			ck_assert_msg(fabs(evidence[k].expected - target) <= 5, "%g and %g °F: %g, not %g",
			              weather[i].outdoor_f, weather[i].wet_bulb_f, evidence[k].expected, target);
		}
		ck_assert(is_told);
	}
}
END_TEST

/* From a visit that looks faulty hardly anything is learnt, from no visit everything. */
/*
 * On an orifice the superheat follows weather and load (RA3.2): without both none is expected.  Behind
 * a valve, and of what else is read, a sound unit's can be told.
 */
START_TEST(no_superheat_is_expected_of_an_orifice_without_weather)
{
	static const struct {
		const char *unit;
		enum figure figure;
		bool is_expected;
	} rows[] = {
		{ "metering=txv", FIGURE_SUPERHEAT, true }, { "metering=exv", FIGURE_SUPERHEAT, true },
		{ "metering=txv", FIGURE_SUBCOOLING, true },
		{ "metering=fixed_orifice", FIGURE_SUPERHEAT, false },
		{ "metering=fixed_orifice", FIGURE_SUBCOOLING, true },
		{ "metering=fixed_orifice, target_superheat_chart=12", FIGURE_SUPERHEAT, true },
		{ "metering=fixed_orifice, outdoor_db=90, return_wb=64", FIGURE_SUPERHEAT, true },
		{ "metering=fixed_orifice, outdoor_db=90", FIGURE_SUPERHEAT, false },
		{ "metering=fixed_orifice, return_wb=64", FIGURE_SUPERHEAT, false },
	};
	static struct judged judged;
	struct view view = view_of(&judged);
	struct evidence evidence[MOST_EVIDENCE];

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char readings[320];
		int seen = 0;
		snprintf(readings, sizeof readings, "refrigerant=R-410A, nominal_capacity=3, suction_pressure=118, "
		         "suction_line_temp=60, liquid_pressure=365, liquid_line_temp=100, %s", rows[i].unit);
		look(&judged, NULL, readings);
		int count = circuit_evidence(&view, &circuit, FAULT_UNDERCHARGE, evidence, MOST_EVIDENCE);
		for (int k = 0; k < count; k++) {
			if (evidence[k].figure != rows[i].figure)
				continue;
			seen++;
			ck_assert_msg(evidence[k].has_expected == rows[i].is_expected, "%s", rows[i].unit);
		}
		ck_assert_msg(seen == 1, "%s", rows[i].unit);
	}
}
END_TEST

START_TEST(a_past_visit_is_believed_as_far_as_it_looks_sound)
{
	static struct judged judged;
	struct past past = { .count = 0 };

	judge(&judged, STAGE_AS_FOUND, VALVE HIGH_HEAD);
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, false));
	ck_assert_double_gt(past.visits[0].sound, 0);
	/* With what each was off by: a reading without an error would count for ever. */
	for (int seen = 0; seen < SEEN_COUNT; seen++)
		ck_assert(!past.visits[0].taken[seen] || past.visits[0].sd[seen] > 0);
	ck_assert_double_le(past.visits[0].sound, 0.101);
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_FOUND, true));
	ck_assert_double_gt(past.visits[1].sound, 0.9);
	ck_assert_double_lt(past.visits[1].sound, 1);
	judge(&judged, STAGE_AS_LEFT, VALVE SOUND);
	ck_assert(past_add(&past, &judged.visit, STAGE_AS_LEFT, false));
	ck_assert_double_gt(past.visits[2].sound, 0.9);
	ck_assert_double_lt(past.visits[2].sound, 1);
}
END_TEST

START_TEST(severer_faults_cost_more)
{
	static const enum fault faults[] = { FAULT_UNDERCHARGE, FAULT_COMPRESSOR_INEFFICIENT,
	                                     FAULT_LOW_INDOOR_AIRFLOW, FAULT_LIQUID_RESTRICTION };

	for (size_t i = 0; i < sizeof faults / sizeof *faults; i++)
		for (int valve = 0; valve < 2; valve++)
			for (int level = 1; level < 3; level++)
				ck_assert_double_gt(circuit_capacity_loss(faults[i], valve == 1, level),
				                    circuit_capacity_loss(faults[i], valve == 1, level - 1));
}
END_TEST

Suite *circuit_suite(void)
{
	Suite *suite = suite_create("circuit");
	TCase *tests = tcase_create("circuit");

	tcase_add_test(tests, a_bend_colder_than_the_gauge_is_foreign_gas);
	tcase_add_test(tests, a_standing_pressure_above_saturation_is_foreign_gas);
	tcase_add_test(tests, hot_air_behind_the_condenser_is_too_little_of_it);
	tcase_add_test(tests, between_charge_and_foreign_gas_the_deciding_readings_lead);
	tcase_add_test(tests, a_supply_wet_bulb_alone_is_worth_nothing);
	tcase_add_test(tests, an_odd_unit_known_from_earlier_visits_is_sound);
	tcase_add_test(tests, each_visit_narrows_what_is_predicted);
	tcase_add_test(tests, a_change_from_its_own_past_is_said_in_degrees);
	tcase_add_test(tests, the_first_that_changed_since_its_own_past_is_told);
	tcase_add_test(tests, an_earlier_visit_is_believed_by_how_it_ended);
	tcase_add_test(tests, the_past_holds_so_many_visits_and_drops_the_oldest);
	tcase_add_test(tests, another_refrigerant_is_another_unit);
	tcase_add_test(tests, the_makers_approach_is_what_the_liquid_line_is_held_against);
	tcase_add_loop_test(tests, a_refit_is_seen_on_the_nameplate, 0,
	                    sizeof nameplates / sizeof *nameplates);
	tcase_add_test(tests, a_refit_is_seen_by_the_parts);
	tcase_add_test(tests, a_sound_units_readings_agree_with_what_is_predicted);
	tcase_add_test(tests, a_single_reading_is_predicted_and_none_is_not);
	tcase_add_test(tests, a_single_reading_counts);
	tcase_add_test(tests, the_air_of_a_small_unit_counts);
	tcase_add_test(tests, what_is_compared_is_what_was_typed);
	tcase_add_test(tests, what_does_not_fit_is_marked);
	tcase_add_loop_test(tests, readings_that_nothing_explains_are_left_unexplained, 0,
	                    sizeof strange / sizeof *strange);
	tcase_add_test(tests, a_supply_wet_bulb_needs_the_other_three);
	tcase_add_test(tests, one_past_visit_counts);
	tcase_add_test(tests, weather_counts_as_the_table_was_made);
	tcase_add_test(tests, foreign_gas_shows_at_bend_and_standing_and_no_other_fault_does);
	tcase_add_test(tests, the_superheat_expected_follows_the_published_table);
	tcase_add_test(tests, no_superheat_is_expected_of_an_orifice_without_weather);
	tcase_add_test(tests, a_past_visit_is_believed_as_far_as_it_looks_sound);
	tcase_add_test(tests, severer_faults_cost_more);
	suite_add_tcase(suite, tests);
	return suite;
}
