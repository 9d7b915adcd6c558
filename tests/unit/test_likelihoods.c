/*
 * What each reading says about the part that it shows, and what whole calls come to, as two golden
 * files.  The shares are common practice, argued where they stand in src/diagnose/clues_*.c and
 * states.def; here every one of them is drawn, so that none moves unseen.  Read a difference as a
 * technician: is the state that the reading speaks for still the one with the largest number?
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "diagnose/circuit_parts.h"
#include "diagnose/clues.h"
#include "diagnose/network.h"
#include "support/golden.h"
#include "support/judged.h"

Suite *likelihoods_suite(void);

static const char *const state_names[] = {
#define VARIABLE(variable, sound, role) #sound,
#define STATE(variable, id, ...) #id,
#include "diagnose/states.def"
#undef STATE
#undef VARIABLE
};

static const char *const variable_names[] = {
#define VARIABLE(variable, sound, role) #variable,
#define STATE(variable, id, ...)
#include "diagnose/states.def"
#undef STATE
#undef VARIABLE
};

/* One reading over its range, on a unit that is given. */
static const struct {
	const char *given;   /* read as well */
	const char *reading; /* key */
	const char *values;  /* separated by spaces */
} sweeps[] = {
	{ "rated_voltage=230", "line_voltage", "0 60 120 185 200 207 215 230 245 253 258 270" },
	{ "", "line_voltage", "208 230 460" },
	{ "rated_voltage=230, voltage_low=197, voltage_high=240", "line_voltage", "190 200 238 248" },
	{ "line_voltage=230", "line_voltage_starting", "226 215 205 198 190 170 120" },
	{ "compressor_motor=three_phase, line_voltage_ab=230, line_voltage_bc=230", "line_voltage_ca",
	  "229 226 222 215 180 110 0" },
	{ "compressor_motor=three_phase, amps_a=10, amps_b=10", "amps_c", "10 9 7 4 0.5 0" },
	{ "", "breaker_tripped", "yes no" },
	{ "", "call_for_cooling", "yes no" },
	{ "compressor_state=runs", "call_for_cooling", "no" },
	{ "", "indoor_call", "yes no" }, { "", "control_fuse", "sound open none" },
	{ "", "float_switch", "closed open none" }, { "", "high_pressure_switch", "closed open none" },
	{ "", "low_pressure_switch", "closed open none" }, { "", "contactor_pulled_in", "yes no" },
	{ "", "transformer_primary", "0 79 81 230" },
	{ "", "transformer_secondary", "0 3 12 18 21 25.5 29 32" },
	{ "transformer_primary=0", "transformer_secondary", "0 3 25" },
	{ "", "control_voltage", "0 3 12 18 21 25.5 28 31" },
	{ "", "contactor_coil_resistance", "12 999 1100 OL" },
	{ "line_voltage=230", "load_side_voltage", "0 20 60 115 160 180 205 220 229 240" },
	{ "rated_voltage=230", "load_side_voltage", "0 20 115 180 229" },
	{ "compressor_rla=20", "common_amps", "0.7 0.79 0.81 0.9 6.5 6.7 10.9 11.1 22.9 23.1 37.9 38.1" },
	{ "compressor_rla=20, compressor_state=hums", "common_amps", "0.7 0.9 6.5 6.7 37.9 38.1" },
	{ "", "contactor_drop", "0 0.1 0.2 0.3 0.45 0.6 2 10 40" },
	{ "", "contactor_condition", "clean pitted burnt fouled" },
	{ "compressor_capacitor_rated=45", "compressor_capacitance", "60 47 45 43 42 40 36 30 22 9 0" },
	{ "compressor_capacitor_rated=45, capacitor_tolerance=10", "compressor_capacitance", "45 42 39 33" },
	{ "fan_capacitor_rated=5", "fan_capacitance", "6 5 4.8 4.6 4 2.4 0" },
	{ "blower_capacitor_rated=10", "blower_capacitance", "12 10 9.6 9.2 8 5 0" },
	{ "", "capacitor_condition", "sound swollen leaking" },
	{ "", "common_run_resistance", "0.9 1999 OL" }, { "", "common_start_resistance", "3.4 OL" },
	{ "", "start_run_resistance", "4.3 OL" },
	{ "compressor_kind=reciprocating, common_run_resistance=1", "common_start_resistance",
	  "1.2 2 3.3 5 8" },
	{ "compressor_kind=scroll, common_run_resistance=1", "common_start_resistance", "0.8 1.5 3.3 8" },
	{ "run_winding_rated=0.9", "common_run_resistance", "0.4 0.7 0.8 0.9 1 1.3" },
	{ "start_winding_rated=3.6, winding_temp=77", "common_start_resistance", "1.5 3 3.3 3.6 4.2" },
	{ "start_winding_rated=3.6, shell_temp=130", "common_start_resistance", "3.3 3.6 4.2" },
	{ "terminals_unmarked=yes, terminal_12=4.3, terminal_23=3.4", "terminal_31", "0.9 2 OL" },
	{ "terminals_unmarked=yes, terminal_12=OL, terminal_23=OL", "terminal_31", "0.9 OL" },
	{ "compressor_motor=three_phase, winding_ab=1, winding_bc=1", "winding_ca",
	  "0.5 0.9 1 1.06 1.15 1.5 2 OL" },
	{ "compressor_motor=three_phase, winding_ab=OL, winding_bc=OL", "winding_ca", "1 OL" },
	{ "", "shell_temp", "80 110 122 135 180" }, { "outdoor_db=100", "shell_temp", "115 128 145" },
	{ "", "compressor_ground_resistance", "0.001 0.1 0.4 0.6 5 20 200 5000 OL" },
	{ "compressor_kind=scroll", "compressor_ground_resistance", "0.1 0.6 2 5 20" },
	{ "compressor_motor=inverter", "compressor_ground_resistance", "0.05 0.2 20" },
	{ "insulation_floor=2", "compressor_ground_resistance", "0.6 1.9 2.1 50" },
	{ "insulation_test_volts=9", "compressor_ground_resistance", "0.1 20" },
	{ "", "fan_ground_resistance", "0.01 0.5 1.5 3 20 500 OL" },
	{ "", "fan_winding_resistance", "5 30 1500 OL" },
	{ "", "terminal_condition", "sound loose corroded burnt broken" },
	{ "", "compressor_state", "runs hums silent cycles" }, { "", "fan_state", "runs hums silent" },
	{ "", "blower_state", "runs hums silent" },
	{ "compressor_state=hums", "starting_seconds", "0.3 0.8 1.5 3 6" },
	{ "compressor_state=runs", "starting_seconds", "0.3 0.8 1.5 3" },
	{ "compressor_rla=14, compressor_lra=75", "common_amps", "0 3 8 12 14 16 25 50 75" },
	{ "compressor_rla=14, compressor_state=runs", "common_amps", "3 8 12 16 25" },
	{ "compressor_rla=14, compressor_state=hums", "common_amps", "0 12 60" },
	{ "compressor_rla=14, compressor_state=silent", "common_amps", "0 12 60" },
	{ "fan_motor_fla=1.3", "fan_amps", "0 0.4 0.8 1.2 1.4 1.8 3" },
	{ "blower_motor_fla=4, blower_motor_type=psc", "blower_amps", "0 1 2 3.2 4.2 5.5 9" },
	{ "blower_motor_fla=4, blower_motor_type=constant_airflow", "blower_amps", "0 1 3.2 5.5" },
	{ "", "filter_condition", "clean loaded blocked" }, { "", "coil_condition", "clean dirty iced" },
	{ "", "drain_condition", "flows slow blocked" },
	{ "", "condenser_condition", "clean dirty blocked" },
	{ "", "filter_drop", "0.02 0.1 0.14 0.2 0.3 0.5 1" },
	{ "", "coil_drop", "0.05 0.2 0.3 0.4 0.5 0.9" },
	{ "return_static=-0.3", "supply_static", "0.05 0.15 0.2 0.3 0.4 0.6 1.2" },
	{ "return_static=-0.3, filter_condition=blocked", "supply_static", "0.15 0.4 0.8" },
	{ "return_static=-0.3, filter_drop=0.3, coil_drop=0.4", "supply_static", "0.2 0.4 0.8" },
	{ "return_static=-0.3, static_limit=0.8", "supply_static", "0.2 0.4 0.8" },
	{ "reversing_valve_in_temp=50", "reversing_valve_out_temp", "49 51 53 54 60 75" },
	{ "", "return_wb", "45 55 58 60 64 70 76" }, { "return_db=68", "return_wb", "52 56 60" },
	{ "return_db=80", "return_wb", "56 60 67" },
	{ "compressor_lra=80", "starting_amps", "2 10 20 28 36 48 64 80 100" },
	{ "compressor_lra=80, compressor_state=hums", "starting_amps", "5 20 30 60 80" },
	{ "compressor_rla=14, compressor_state=runs", "starting_amps", "10 40 80" },
	{ "start_amps=4.5, compressor_capacitor_rated=45", "compressor_capacitor_volts",
	  "150 230 265 300 400" },
	{ "common_run_resistance=0.9, common_start_resistance=3.4", "start_run_resistance",
	  "3 3.9 4.3 4.8 6" },
	{ "compressor_motor=three_phase, amps_b=10, amps_c=10", "amps_a", "10 8.5 6 0" },
	{ "compressor_motor=three_phase, line_voltage_bc=230, line_voltage_ca=230", "line_voltage_ab",
	  "230 225 210 140 0" },
	{ "compressor_motor=three_phase, compressor_state=runs, suction_pressure=180", "liquid_pressure",
	  "182 205 260 480" },
};

/* What is less is a slip of the pen at most. */
#define LEAST 1e-7

static void draw_clue(const struct clue *clue, struct text *text)
{
	int first = (int)variable_first(clue->variable);

	text_add_format(text, "    %s by %s", variable_names[clue->variable],
	                clue->figure != FIGURE_NONE ? figure_info(clue->figure)->key
	                                            : reading_info(clue->reading)->key);
	if (clue->has_expected)
		text_add_format(text, ", expected %.3g", clue->expected);
	text_add(text, ":");
	for (int i = 0; i < variable_states(clue->variable); i++)
		/* A state that is not named reads as the sound one. */
		if (i == 0 || clue->likelihood[i] != clue->likelihood[0])
			text_add_format(text, " %s %.3g", state_names[first + i],
			                clue->likelihood[i] < LEAST ? 0 : clue->likelihood[i]);
	text_add(text, "\n");
}

/* What speaks for too little air beside the circuit. */
static void draw_air(const struct view *view, struct text *text)
{
	static struct circuit circuit;

	circuit_see(view, &circuit);
	for (int i = 0; i < circuit.air_clues.count; i++) {
		const struct clue *clue = &circuit.air_clues.list[i];
		if (clue->figure != FIGURE_NONE)
			text_add_format(text, "    air by %s %.3g", figure_info(clue->figure)->key, clue->value);
		else if (reading_info(clue->reading)->kind == KIND_CHOICE)
			text_add_format(text, "    air by %s %s", reading_info(clue->reading)->key,
			                choice_key((enum choice)clue->value));
		else
			text_add_format(text, "    air by %s %.3g", reading_info(clue->reading)->key, clue->value);
		text_add_format(text, " ±%.2g: enough %.3g too little %.3g\n", clue->plus_minus,
		                clue->likelihood[0], clue->likelihood[1]);
	}
}

static void draw_call(const char *readings, struct text *text)
{
	struct judged judged;
	struct clues clues;

	judge(&judged, STAGE_AS_FOUND, readings);
	struct view view = { .visit = &judged.visit, .stage = STAGE_AS_FOUND, .set = &judged.set };
	clues_collect(&view, &clues);
	for (int i = 0; i < clues.count; i++)
		draw_clue(&clues.list[i], text);
	draw_air(&view, text);
}

START_TEST(what_every_reading_says)
{
	struct text text;

	text_init(&text);
	for (size_t i = 0; i < sizeof sweeps / sizeof *sweeps; i++) {
		const char *at = sweeps[i].values;
		while (*at) {
			int length = (int)strcspn(at, " ");
			char readings[256];
			snprintf(readings, sizeof readings, "%s%s%s=%.*s", sweeps[i].given,
			         *sweeps[i].given ? ", " : "", sweeps[i].reading, length, at);
			text_add_format(&text, "%s\n", readings);
			draw_call(readings, &text);
			at += length;
			at += strspn(at, " ");
		}
	}
	golden_check_text("unit/golden", "likelihoods.txt", text_get(&text));
	text_done(&text);
}
END_TEST

/* Whole calls, as technicians bring them: what is believed of every part afterwards. */
static const char *const calls[] = {
	"breaker_tripped=no",
	"call_for_cooling=yes, control_voltage=25, contactor_pulled_in=yes, line_voltage=232, "
	"load_side_voltage=231, compressor_state=hums, fan_state=runs",
	"compressor_state=hums, compressor_capacitor_rated=45, compressor_capacitance=12, fan_state=runs",
	"compressor_state=runs, fan_state=silent, blower_state=runs",
	"compressor_state=runs, fan_state=hums, fan_capacitor_rated=5, fan_capacitance=2.1",
	"compressor_state=silent, fan_state=silent, blower_state=silent",
	"compressor_state=silent, fan_state=silent, blower_state=runs, line_voltage=0",
	"compressor_state=silent, fan_state=silent, blower_state=runs, line_voltage=231, control_voltage=0",
	"compressor_state=silent, fan_state=silent, control_voltage=25, contactor_pulled_in=no, "
	"contactor_coil_resistance=OL",
	"compressor_state=silent, fan_state=runs, load_side_voltage=230, line_voltage=231",
	"compressor_state=silent, fan_state=runs, common_run_resistance=OL, common_start_resistance=OL, "
	"start_run_resistance=4.3, shell_temp=190",
	"compressor_state=silent, fan_state=runs, common_run_resistance=OL, common_start_resistance=OL, "
	"start_run_resistance=4.3, shell_temp=85",
	"compressor_state=silent, common_run_resistance=0.9, common_start_resistance=OL, "
	"start_run_resistance=OL",
	"compressor_state=cycles, fan_state=runs, condenser_condition=blocked",
	"compressor_state=cycles, fan_state=silent",
	"breaker_tripped=yes, compressor_ground_resistance=0.002",
	"breaker_tripped=yes, compressor_ground_resistance=50, compressor_state=hums",
	"breaker_tripped=yes, fan_ground_resistance=0.01",
	"blower_state=silent, coil_condition=iced", "blower_state=hums, blower_capacitor_rated=10, "
	"blower_capacitance=4", "blower_state=silent, blower_motor_type=constant_airflow",
	"filter_condition=blocked, coil_condition=iced, blower_state=runs",
	"float_switch=open, drain_condition=blocked, compressor_state=silent",
	"high_pressure_switch=open, condenser_condition=blocked", "low_pressure_switch=open",
	"control_fuse=open, compressor_state=silent", "transformer_primary=231, transformer_secondary=0",
	"call_for_cooling=no, compressor_state=runs", "contactor_condition=burnt, contactor_drop=1.5",
	"line_voltage=190, rated_voltage=230, compressor_state=hums",
	"line_voltage=268, rated_voltage=230", "line_voltage=231, line_voltage_starting=190, "
	"compressor_state=hums", "compressor_motor=three_phase, line_voltage_ab=231, "
	"line_voltage_bc=118, line_voltage_ca=113, compressor_state=hums",
	"compressor_motor=three_phase, amps_a=10, amps_b=10.2, amps_c=0",
	"compressor_motor=inverter, compressor_state=silent, line_voltage=231",
	"return_static=-0.5, supply_static=0.5, blower_state=runs", "terminal_condition=burnt",
	"compressor_rla=14, compressor_lra=75, common_amps=70, compressor_state=hums",
	"outdoor_db=95, return_db=69, return_wb=55, metering=fixed_orifice",
};

static void draw_beliefs(const struct judged *judged, bool is_first, struct text *text)
{
	static double usual[STATE_COUNT]; /* as the first call has them */
	struct view view = { .visit = &judged->visit, .stage = STAGE_AS_FOUND, .set = &judged->set };
	struct beliefs beliefs;
	struct clues clues;

	clues_collect(&view, &clues);
	network_judge(&view, &clues, false, &beliefs);
	for (int s = 0; s < STATE_COUNT; s++) {
		enum variable variable = state_info((enum state)s)->variable;
		bool is_sound = (int)variable_first(variable) == s;
		/* What stayed as the call without readings has it is drawn there. */
		bool is_moved = fabs(beliefs.posterior[s] - usual[s]) > 0.02 * usual[s];
		usual[s] = is_first ? beliefs.posterior[s] : usual[s];
		if (!is_sound && beliefs.posterior[s] >= 0.001 && (is_first || is_moved))
			text_add_format(text, "    %s %s %.3g\n", variable_names[variable], state_names[s],
			                beliefs.posterior[s]);
	}
}

static void draw_findings(const struct diagnosis *diagnosis, struct text *text)
{
	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		text_add_format(text, "    found: %s, %s%s, %.3g", fault_info(finding->fault)->key,
		                level_key(finding->level), finding->basis == BASIS_MEASURED ? ", measured" : "",
		                finding->probability);
		for (int j = 0; j < finding->evidence_count && j < 3; j++) {
			const struct evidence *evidence = &finding->evidence[j];
			text_add_format(text, "; %s %+.3g", evidence->figure != FIGURE_NONE
			                ? figure_info(evidence->figure)->key : reading_info(evidence->reading)->key,
			                evidence->leans);
		}
		text_add(text, "\n");
	}
	/* Of the parts alone: what tells the circuit's faults apart stands on another table. */
	text_add(text, "    next:");
	for (int i = 0; i < diagnosis->next_check_count; i++)
		if (diagnosis->next_checks[i].reason != CHECK_TELL_APART)
			text_add_format(text, " %s %.3g", reading_info(diagnosis->next_checks[i].reading)->key,
			                diagnosis->next_checks[i].gain);
	text_add(text, "\n");
}

static void draw_sound(const struct diagnosis *diagnosis, struct text *text)
{
	text_add_format(text, "    sound %.3g, unexplained %.3g\n",
	                diagnosis->healthy < LEAST ? 0 : diagnosis->healthy,
	                diagnosis->unexplained < LEAST ? 0 : diagnosis->unexplained);
}

START_TEST(what_whole_calls_come_to)
{
	struct text text;

	text_init(&text);
	for (size_t i = 0; i < sizeof calls / sizeof *calls; i++) {
		struct judged judged;
		judge(&judged, STAGE_AS_FOUND, calls[i]);
		text_add_format(&text, "%s\n", calls[i]);
		draw_beliefs(&judged, i == 0, &text);
		draw_findings(&judged.diagnosis, &text);
		draw_sound(&judged.diagnosis, &text);
	}
	golden_check_text("unit/golden", "beliefs.txt", text_get(&text));
	text_done(&text);
}
END_TEST

/*
 * Circuits by what the gauges mean, in design weather and beside it: the typical cases of the trade's
 * charts (suite diagnose), each a little off, so that no explanation is alone.
 */
static const struct {
	const char *system;
	struct circuit_case given; /* outdoor, return, wet bulb; suction, superheat; condensing, … */
} circuits[] = {
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3", { 95, 80, 67, 45, 12, 115, 10, 18.5 } },
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3", { 88, 76, 63, 38, 22, 103, 5, 16 } },
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3", { 95, 80, 67, 47, 5, 119, 15, 18 } },
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3", { 95, 80, 67, 46, 8, 126, 9, 17 } },
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3", { 82, 75, 62, 37, 5, 101, 9, 24 } },
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3", { 95, 80, 67, 34, 28, 110, 14, 15 } },
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3", { 95, 80, 67, 53, 5, 111, 6, 15 } },
	{ "metering=fixed_orifice, seer=11", { 95, 80, 67, 38, 27, 128, 1, 13 } },
	{ "metering=txv, seer=14, nominal_capacity=3, target_subcooling=10",
	  { 95, 80, 67, 45, 10, 113, 10, 18.5 } },
	{ "metering=txv, seer=14, nominal_capacity=3, target_subcooling=10",
	  { 88, 76, 63, 40, 12, 104, 4, 17 } },
	{ "metering=txv, seer=14, nominal_capacity=3, target_subcooling=10",
	  { 95, 80, 67, 45, 10, 118, 16, 18 } },
	{ "metering=txv, seer=14, nominal_capacity=3, target_subcooling=10, airflow=850",
	  { 95, 80, 67, 38, 9, 110, 11, 23 } },
	{ "metering=txv, seer=14, nominal_capacity=3, drier_in_temp=100, drier_out_temp=93",
	  { 95, 80, 67, 34, 24, 109, 15, 14 } },
	{ "metering=txv, seer=14, nominal_capacity=3, condenser_bend_temp=112",
	  { 95, 80, 67, 46, 10, 131, 18, 17 } },
	{ "metering=txv, seer=14, nominal_capacity=3, discharge_line_temp=145",
	  { 95, 80, 67, 54, 9, 108, 8, 13 } },
	{ "metering=txv, seer=14, nominal_capacity=3, condenser_leaving_db=125",
	  { 95, 80, 67, 46, 10, 130, 10, 17 } },
	{ "metering=exv, compressor_motor=inverter, capacity_percent=100, seer=18",
	  { 95, 80, 67, 46, 8, 108, 8, 19 } },
	{ "metering=capillary, seer=10", { 105, 78, 60, 36, 20, 120, 8, NAN } },
	{ "metering=txv, seer=14", { 85, NAN, NAN, 30, 25, 98, NAN, NAN } },
	/* Two at once: behind a drier beside little air, little charge beside little air, a weak compressor. */
	{ "metering=txv, seer=14, nominal_capacity=3, drier_in_temp=112, drier_out_temp=104, "
	  "condenser_leaving_db=124", { 95, 80, 67, 36, 22, 127, 15, 13 } },
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3, drier_in_temp=104, drier_out_temp=96, "
	  "airflow=800", { 95, 80, 67, 28, 20, 112, 14, 15 } },
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3, airflow=800", { 95, 80, 67, 32, 18, 108, 3, 22 } },
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3, drier_in_temp=105, drier_out_temp=104.5",
	  { 95, 80, 67, 36, 26, 116, 16, 14 } },
	{ "metering=txv, seer=14, nominal_capacity=3, discharge_line_temp=215, condenser_leaving_db=122",
	  { 95, 80, 67, 52, 12, 126, 9, 12 } },
	/* The plate's own approach, met and missed. */
	{ "metering=txv, seer=14, nominal_capacity=3, target_approach=6", { 95, 80, 67, 45, 10, 113, 12, 18.5 } },
	{ "metering=txv, seer=14, nominal_capacity=3, target_approach=13", { 95, 80, 67, 45, 10, 113, 12, 18.5 } },
	/* Liquid at the compressor: no superheat is left, or hardly any. */
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3", { 95, 80, 67, 48, 0, 119, 16, 17.5 } },
	{ "metering=fixed_orifice, seer=11, nominal_capacity=3", { 95, 80, 67, 41, 1, 110, 10, 22 } },
	{ "metering=txv, seer=14, nominal_capacity=3", { 95, 80, 67, 50, -1, 112, 9, 16 } },
	{ "metering=txv, seer=14, nominal_capacity=3, discharge_line_temp=128",
	  { 88, 76, 63, 47, 0.5, 104, 10, 16 } },
};

static void draw_predictions(const struct predictions *predictions, struct text *text)
{
	for (int i = 0; i < predictions->count && i < 2; i++) {
		const struct prediction *prediction = &predictions->list[i];
		text_add_format(text, "    if %s %s:", prediction->first == FAULT_NONE ? "sound"
		                : fault_info(prediction->first)->key, prediction->second == FAULT_NONE ? "alone"
		                : fault_info(prediction->second)->key);
		for (int j = 0; j < prediction->count; j++) {
			const struct predicted *predicted = &prediction->list[j];
			text_add_format(text, " %s %.3g±%.2g%s", reading_info(predicted->reading)->key,
			                predicted->value, predicted->plus_minus, predicted->agrees ? "" : "!");
		}
		text_add(text, "\n");
	}
}

START_TEST(what_circuits_come_to)
{
	struct text text;

	text_init(&text);
	for (size_t i = 0; i < sizeof circuits / sizeof *circuits; i++) {
		const struct circuit_case *given = &circuits[i].given;
		struct judged judged;
		judge_circuit(&judged, circuits[i].system, given);
		text_add_format(&text, "%s: %g/%g/%g, %g+%g, %g-%g, %g\n", circuits[i].system, given->outdoor,
		                given->return_db, given->return_wb, given->suction, given->superheat,
		                given->condensing, given->subcooling, given->split);
		draw_findings(&judged.diagnosis, &text);
		draw_predictions(&judged.diagnosis.predictions, &text);
		text_add(&text, "    worth taking:");
		for (int j = 0; j < judged.diagnosis.next_check_count; j++)
			text_add_format(&text, " %s %.3g", reading_info(judged.diagnosis.next_checks[j].reading)->key,
			                judged.diagnosis.next_checks[j].gain);
		text_add(&text, "\n");
		draw_sound(&judged.diagnosis, &text);
	}
	golden_check_text("unit/golden", "circuits.txt", text_get(&text));
	text_done(&text);
}
END_TEST

/* Calls before and after the work: what is gone, what is there still, what is to be proved. */
static const struct {
	const char *found, *left;
} repairs[] = {
	{ "compressor_state=hums, compressor_motor=psc, compressor_capacitor_rated=45, "
	  "compressor_capacitance=12, fan_state=runs", "" },
	{ "compressor_state=hums, compressor_motor=psc, compressor_capacitor_rated=45, "
	  "compressor_capacitance=12, fan_state=runs", "compressor_state=runs" },
	{ "compressor_state=hums, compressor_motor=psc, compressor_capacitor_rated=45, "
	  "compressor_capacitance=12, fan_state=runs", "compressor_capacitance=45.2, compressor_state=runs" },
	{ "compressor_state=hums, compressor_motor=psc, compressor_capacitor_rated=45, "
	  "compressor_capacitance=12, fan_state=runs", "compressor_capacitance=12.1" },
	{ "compressor_state=silent, fan_state=silent, control_voltage=0, float_switch=open, "
	  "drain_condition=blocked", "drain_condition=flows, compressor_state=runs, fan_state=runs" },
	{ "compressor_state=silent, fan_state=silent, control_voltage=0, float_switch=open, "
	  "drain_condition=blocked", "float_switch=open" },
	{ "compressor_state=silent, fan_state=silent, control_voltage=25, contactor_pulled_in=no, "
	  "contactor_coil_resistance=OL", "contactor_coil_resistance=11" },
	{ "compressor_state=silent, fan_state=silent, control_voltage=25, contactor_pulled_in=no, "
	  "contactor_coil_resistance=OL", "contactor_coil_resistance=OL" },
	{ "compressor_state=silent, fan_state=silent, control_voltage=25, contactor_pulled_in=no, "
	  "contactor_coil_resistance=OL", "compressor_state=runs, fan_state=runs" },
	{ "compressor_state=runs, fan_state=hums, fan_capacitor_rated=5, fan_capacitance=1.1, "
	  "contactor_condition=pitted, contactor_drop=0.9", "fan_state=runs, contactor_drop=0.1" },
	{ "compressor_state=runs, fan_state=hums, fan_capacitor_rated=5, fan_capacitance=1.1, "
	  "contactor_condition=pitted, contactor_drop=0.9", "contactor_drop=0.9, fan_capacitance=5" },
	{ "blower_state=silent, coil_condition=iced, filter_condition=blocked",
	  "blower_state=runs, coil_condition=clean" },
	{ "line_voltage=0, compressor_state=silent, fan_state=silent", "line_voltage=238" },
	{ "line_voltage=198, rated_voltage=230, compressor_state=hums", "line_voltage=199" },
	{ "compressor_ground_resistance=0.02, breaker_tripped=yes, compressor_state=silent, "
	  "insulation_test_volts=500", "compressor_ground_resistance=200, insulation_test_volts=500" },
	{ "refrigerant=R-410A, metering=fixed_orifice, seer=13, nominal_capacity=3, compressor_state=runs, "
	  "outdoor_db=95, return_db=80, return_wb=67, suction_pressure=104, suction_line_temp=65, "
	  "liquid_pressure=330, liquid_line_temp=100, supply_db=64",
	  "compressor_state=runs, outdoor_db=95, return_db=80, return_wb=67, suction_pressure=128, "
	  "suction_line_temp=58, liquid_pressure=365, liquid_line_temp=101, supply_db=61" },
	{ "refrigerant=R-410A, metering=fixed_orifice, seer=13, nominal_capacity=3, compressor_state=runs, "
	  "outdoor_db=95, return_db=80, return_wb=67, suction_pressure=104, suction_line_temp=65, "
	  "liquid_pressure=330, liquid_line_temp=100, supply_db=64", "suction_pressure=112" },
	{ "refrigerant=R-410A, metering=txv, seer=14, nominal_capacity=3, target_subcooling=10, "
	  "compressor_state=runs, condenser_condition=blocked, outdoor_db=90, suction_pressure=132, "
	  "suction_line_temp=56, liquid_pressure=480, liquid_line_temp=119, return_db=78, return_wb=64, "
	  "supply_db=61", "compressor_state=runs, condenser_condition=clean, outdoor_db=90, "
	  "suction_pressure=125, suction_line_temp=54, liquid_pressure=345, liquid_line_temp=96, "
	  "return_db=78, return_wb=64, supply_db=58" },
};

static void draw_stage(const struct diagnosis *diagnosis, const char *stage, bool is_found,
                       struct text *text)
{
	static const char *const reasons[] = {
		[CHECK_PART] = "", [CHECK_TELL_APART] = " to tell apart", [CHECK_CAUSE] = " for the cause",
		[CHECK_PROVE] = " to prove", [CHECK_AGAIN] = " again",
	};

	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		text_add_format(text, "    %s: %s, %s%s, %.3g, before %.3g", stage,
		                fault_info(finding->fault)->key, level_key(finding->level),
		                finding->basis == BASIS_MEASURED ? ", measured" : "", finding->probability,
		                isnan(finding->probability_before) ? 0 : finding->probability_before);
		const char *then = after_work_key(finding->after_work);
		text_add_format(text, "%s%s\n", is_found && *then ? ", then " : "", is_found ? then : "");
	}
	text_add_format(text, "    %s, next:%s", stage, diagnosis->next_check_count ? "" : " nothing");
	for (int i = 0; i < diagnosis->next_check_count; i++) {
		const struct next_check *check = &diagnosis->next_checks[i];
		text_add_format(text, " %s%s %.3g;", reading_info(check->reading)->key,
		                reasons[check->reason], check->gain);
	}
	text_add(text, "\n");
}

START_TEST(what_calls_come_to_after_the_work)
{
	struct text text;

	text_init(&text);
	for (size_t i = 0; i < sizeof repairs / sizeof *repairs; i++) {
		struct judged judged;
		judge(&judged, STAGE_AS_FOUND, repairs[i].found);
		judge_more(&judged, STAGE_AS_LEFT, repairs[i].left);
		text_add_format(&text, "%s\n  then %s\n", repairs[i].found,
		                *repairs[i].left ? repairs[i].left : "nothing");
		draw_stage(&judged.assessment.diagnoses[STAGE_AS_FOUND], "found", true, &text);
		draw_stage(&judged.assessment.diagnoses[STAGE_AS_LEFT], "left", false, &text);
	}
	golden_check_text("unit/golden", "repairs.txt", text_get(&text));
	text_done(&text);
}
END_TEST

Suite *likelihoods_suite(void)
{
	Suite *suite = suite_create("likelihoods");
	TCase *tests = tcase_create("likelihoods");

	tcase_add_test(tests, what_every_reading_says);
	tcase_add_test(tests, what_whole_calls_come_to);
	tcase_add_test(tests, what_circuits_come_to);
	tcase_add_test(tests, what_calls_come_to_after_the_work);
	suite_add_tcase(suite, tests);
	return suite;
}
