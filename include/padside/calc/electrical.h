#ifndef PADSIDE_ELECTRICAL_H
#define PADSIDE_ELECTRICAL_H

#include <stdbool.h>

#include <padside/base/status.h>

/*
 * What electrical readings mean: supply, windings, capacitors, currents.
 *
 * Units: volts, amperes, ohms, megohms, microfarads, hertz, °F; shares and
 * deviations in %.  A resistance reading of OL is passed as INFINITY.
 *
 * Every function returns, with its output NAN,
 *   NOT_A_NUMBER   an input is NAN, or infinite where that has no meaning
 *   OVER_LIMIT     a resistance is OL where a number is needed
 *   NEGATIVE       an input is below zero
 *   NOT_POSITIVE   an input by which something is divided is zero
 * and whatever else is said at it.  Results are exact but for rounding; what
 * they claim is limited by the instruments.
 */

/* --- Windings ------------------------------------------------------------- */

/*
 * Start–run less the sum of common–run and common–start, Ω: near zero in a
 * sound compressor, since the windings meet at common.
 * Source: trade textbooks, hermetic motor terminal identification.
 */
enum status electrical_winding_sum_error(double common_run_ohm, double common_start_ohm,
                                         double start_run_ohm, double *error_ohm);

/*
 * How large that error (either way) may be before it means anything: 2 % of
 * the start–run reading + 0.3 Ω.  The leads of a meter have 0.1 to 0.3 Ω; where
 * they are not subtracted, common–run and common–start exceed start–run by one
 * lead resistance (by calculation).  2 %: common practice.
 */
enum status electrical_winding_sum_allowed(double start_run_ohm, double *allowed_ohm);

/* Which of the terminals 1, 2, 3 is which. */
struct terminals {
	int common; /* 1 to 3; 0 when not told */
	int run;    /* the same */
	int start;  /* the same */
};

/*
 * Names three unmarked terminals from the readings between them: the largest
 * is start–run, so the third terminal is common; from common, the smaller
 * reading is run.  A difference counts when it is over 2 % of the larger
 * reading + 0.1 Ω (readings of one meter differ only by their contacts).
 * Source: trade textbooks; the meter's error is common practice.
 * Failures: WINDINGS_ALIKE, TERMINALS_TOO_CLOSE, WINDINGS_DO_NOT_ADD; an OL
 * (an open winding or overload) is OVER_LIMIT.
 */
enum status electrical_identify_terminals(double ohm_12, double ohm_23, double ohm_31,
                                          struct terminals *terminals);

/*
 * Start winding over run winding, from common.  Reciprocating compressors have
 * 2 to 6: a maker's table of sound motors has 2.1, 2.4, 3.0, 3.2, 4.1 and 4.8
 * (Danfoss NTZ selection guideline FRCC.PC.002.A5, p. 10; the ends of the band
 * are common practice).  Scrolls lie lower, and rotaries may lie under 1: there
 * the ratio means nothing without the maker's values.
 */
enum status electrical_start_run_ratio(double common_start_ohm, double common_run_ohm,
                                       double *ratio);

#define ELECTRICAL_START_RUN_LOW 2.0
#define ELECTRICAL_START_RUN_HIGH 6.0

/*
 * A copper winding's resistance at `at_f` from a reading taken at `read_f`
 * (°F, -58 to 392): R2 = R1 (234.5 + t2) / (234.5 + t1), t in °C.
 * Source: physics; the constant is that of IEC 60034-1 for copper (235) as
 * used in the US (234.5).  Failure: OUT_OF_RANGE.
 */
enum status electrical_resistance_at(double ohm, double read_f, double at_f, double *out_ohm);

/* What an insulation reading to the bare shell means. */
enum insulation {
	INSULATION_BELOW_FLOOR, /* below the maker's least value */
	INSULATION_WATCH,       /* from there to 20 MΩ: run it warm, test again, follow it */
	INSULATION_GOOD,        /* 20 MΩ and over, OL included */
	INSULATION_NOT_PROVED,  /* the same, but read with a meter that cannot stress insulation */
	INSULATION_COUNT
};

/* Floor where the maker's is not known, MΩ: Emerson AE4-1294, p. 1. */
#define ELECTRICAL_INSULATION_FLOOR 0.5

/* The same for an inverter compressor, U, V, W to the shell: service sheet AVZC18, insulation. */
#define ELECTRICAL_INSULATION_FLOOR_INVERTER 0.1

/* Below this a reading is followed, MΩ: common practice. */
#define ELECTRICAL_INSULATION_WATCH 20.0

/* An insulation tester has at least this; an ohmmeter about 9 V.  Common practice. */
#define ELECTRICAL_INSULATION_LEAST_VOLTS 100.0

/*
 * Grades `megohm` by the maker's floor (above 0, MΩ) and the volts of the
 * tester (0: not noted, which proves nothing either).  A compressor maker holds
 * 1000 Ω a volt for probably acceptable and sets 0.5 MΩ for all; one low
 * reading condemns nothing, since liquid refrigerant and oil lower it (Emerson
 * AE4-1294, p. 1).  An ohmmeter's OL proves nothing, a reading does.
 * On failure *grade is INSULATION_COUNT.
 */
enum status electrical_insulation_grade(double megohm, double floor_megohm, double test_volts,
                                        enum insulation *grade);

/*
 * A reading taken at `read_f` (°F, -58 to 392) brought to 40 °C, MΩ: it halves
 * for each 10 °C more.  R40 = R · 2^((t − 40)/10), the older correction of IEEE
 * 43 as EASA gives it.  Makers of hermetic compressors give none: it serves to
 * compare readings of one compressor.  Failures: OUT_OF_RANGE, OVER_LIMIT.
 */
enum status electrical_insulation_at_40c(double megohm, double read_f, double *megohm_40c);

/* --- Capacitors ----------------------------------------------------------- */

/* Measured against rated microfarads, %: negative is low. */
enum status electrical_capacitance_deviation(double measured_uf, double rated_uf,
                                             double *percent);

/*
 * Capacitance of a run capacitor at work, µF = 10⁶ A / (2 π f V), from the
 * current in the start lead and the voltage across the capacitor; hertz 40 to
 * 70 (OUT_OF_RANGE).  At 60 Hz this is 2652.6 A/V.  Source: physics.
 */
enum status electrical_capacitance_under_load(double amps, double volts, double hertz,
                                              double *microfarad);

/* --- Supply --------------------------------------------------------------- */

/* Measured against rated volts, %: negative is low. */
enum status electrical_voltage_deviation(double volts, double rated_volts, double *percent);

/*
 * Three-phase unbalance of volts or amps, %: 100 · largest distance from the
 * mean / mean.  A phase may be 0 (lost); NOT_POSITIVE when all are.
 * Source: NEMA MG 1-14.36, second-hand.
 */
enum status electrical_unbalance(double a, double b, double c, double *percent);

/*
 * The share (0.76 to 1) of its rating that a motor may carry at a voltage
 * unbalance, straight between 1.00, 0.985, 0.97, 0.95, 0.93, 0.89, 0.85, 0.82,
 * 0.78, 0.76 at 0.5, 1 … 5 %.  Above 5 % UNBALANCE_TOO_HIGH: it must not run.
 * Source: a published reading of the curve of NEMA MG 1-14.36
 * (engineeringtoolbox.com, d_648).
 */
enum status electrical_unbalance_derating(double unbalance_percent, double *factor);

/*
 * Sag while starting, % of the voltage before; negative when it rose.  Over
 * 10–15 % points to supply, wire or connection (common practice).
 */
enum status electrical_starting_sag(double volts, double volts_starting, double *percent);

/* --- Currents, power, circuit --------------------------------------------- */

/* A current as a share of RLA, FLA or LRA, %. */
enum status electrical_share(double amps, double rated_amps, double *percent);

/* Locked-rotor amps to expect when the nameplate does not say: 5 to 6 RLA (common practice). */
enum status electrical_locked_rotor_expected(double rla_amps, double *low, double *high);

/*
 * Current in the common lead of a PSC compressor from those in the run and
 * start leads, which are about 90° apart: √(run² + start²).  Source: physics
 * of the capacitor motor.
 */
enum status electrical_common_amps(double run_amps, double start_amps, double *common_amps);

/* What a circuit must be. */
struct branch_circuit {
	double ampacity;      /* least ampacity of the wire, A: 1.25 · largest + others */
	double overcurrent;   /* largest device as a rule, A: 1.75 · largest + others */
	double overcurrent_if_tripping; /* where it will not start on that, A: 2.25 · … */
	double device;        /* standard size at or below `overcurrent`, A; at least 15 */
};

/*
 * From the largest motor's rated load amps and the sum of all others on the
 * circuit (0 allowed).  The nameplate wins where it says.  Source: NEC Article
 * 440 (440.33, 440.22); standard sizes 240.6(A).
 * On failure every member is NAN.
 */
enum status electrical_circuit(double largest_amps, double other_amps,
                               struct branch_circuit *circuit);

/*
 * Power, kW, from line volts, amps and power factor (above 0 to 1, else
 * OUT_OF_RANGE): V A PF / 1000, with √3 for three phases (mean line values).
 */
enum status electrical_power(double volts, double amps, double power_factor,
                             bool is_three_phase, double *kilowatt);

/* The power factor of a loaded PSC compressor when not measured (common practice: 0.85–0.95). */
#define ELECTRICAL_POWER_FACTOR 0.9
#define ELECTRICAL_POWER_FACTOR_SPREAD 0.05

/* Cooling per electricity, Btu/Wh, at this moment and weather. */
enum status electrical_eer(double capacity_btu_h, double kilowatt, double *eer);

#endif
