/*
 * What to measure next: expected information against effort.
 *
 * A reading about one part of the machine is worth a share of what is still
 * unknown about that part (its entropy).  A reading of the circuit is worth
 * what its predicted values under the leading explanations would tell about
 * which of them is right.  Both are bits, so they compare; effort is minutes,
 * with the time to lock out and prove dead where that has not been done.
 */
#include "diagnose/next_check.h"

#include <math.h>

#include <padside/model/power.h>

/* Minutes to lock out, prove the meter, discharge: usual, common practice. */
static const double minutes_to_make_safe = 3;

/* Less than this is not worth walking for. */
static const double least_bits = 0.01;

struct check {
	enum reading reading;   /* what to take */
	bool of_circuit;        /* `seen` counts, else `variable` */
	enum variable variable; /* which part it tells about */
	enum seen seen;         /* what it is to the circuit */
	double tells;           /* share of the part's entropy */
	double minutes;         /* effort */
	bool power_off;         /* needs a machine made safe */
};

static const struct check checks[] = {
#define PART_CHECK(reading_, variable_, tells_, minutes_, power_off_, why_) \
	{ .reading = READING_##reading_, .variable = VARIABLE_##variable_, .tells = tells_, \
	  .minutes = minutes_, .power_off = power_off_ },
#define CIRCUIT_CHECK(reading_, seen_, minutes_) \
	{ .reading = READING_##reading_, .of_circuit = true, .seen = SEEN_##seen_, .minutes = minutes_ },
#include <padside/diagnose/next_checks.def>
#undef PART_CHECK
#undef CIRCUIT_CHECK
};

/* Bits that are open about a part. */
static double entropy(const double *probability, enum variable variable)
{
	double bits = 0;

	for (int i = 0; i < variable_states(variable); i++) {
		double p = probability[(int)variable_first(variable) + i];
		if (p > 1e-9)
			bits -= p * log2(p);
	}
	return bits;
}

/* Bits that are open about a part and worth settling. */
static double open_bits(const struct beliefs *beliefs, enum variable variable)
{
	double bits = entropy(beliefs->posterior, variable);

	/* What opens a switch or leaks is looked at when something points to it. */
	if (variable_role(variable) == ROLE_ALONE && variable != VARIABLE_DUCT)
		bits = fmax(0, bits - entropy(beliefs->prior, variable));
	return bits;
}

/* Bits between a part's state and what is seen of it; `tells` times its entropy when unknown. */
static double part_bits(const struct view *view, const struct beliefs *beliefs,
                        const struct check *check)
{
	enum choice state = view_choice(view, READING_COMPRESSOR_STATE);
	int first = (int)variable_first(check->variable), count = 0;
	double joint[MOST_STATES][MOST_OUTCOMES], sums[MOST_OUTCOMES] = { 0 }, bits = 0;

	for (int s = 0; s < variable_states(check->variable); s++) {
		count = clues_outcomes(check->reading, state, s, joint[s]);
		for (int o = 0; o < count; o++)
			sums[o] += joint[s][o] *= beliefs->posterior[first + s];
	}
	if (count == 0)
		return check->tells * open_bits(beliefs, check->variable);
	for (int s = 0; s < variable_states(check->variable); s++)
		for (int o = 0; o < count; o++)
			if (joint[s][o] > 1e-12)
				bits += joint[s][o] * log2(joint[s][o] / (beliefs->posterior[first + s] * sums[o]));
	return bits;
}

/* Circuit readings are for a machine known to run. */
static bool is_time_for_circuit(const struct view *view, const struct circuit *circuit)
{
	enum choice state = view_choice(view, READING_COMPRESSOR_STATE);

	return circuit->ran && (state == CHOICE_COMPRESSOR_STATE_RUNS ||
	                        state == CHOICE_COMPRESSOR_STATE_CYCLES || circuit->taken_count > 0);
}

/* Whether the readings that it needs beside it are the wrong way round. */
static bool is_possible(const struct view *view, const struct check *check)
{
	enum choice state = view_choice(view, READING_COMPRESSOR_STATE);
	bool running = state == CHOICE_COMPRESSOR_STATE_RUNS;

	if (visit_has(view->visit, view->stage, check->reading) ||
	    !visit_applies(view->visit, view->stage, check->reading))
		return false;
	if (check->reading == READING_RETURN_WB && visit_has(view->visit, view->stage, READING_RETURN_RH))
		return false;
	/* Drop under load and running amps take a load. */
	if (check->reading == READING_CONTACTOR_DROP)
		return running;
	/* A hot shell only matters where something inside reads open. */
	if (check->reading == READING_SHELL_TEMP)
		return view_over_limit(view, READING_COMMON_RUN_RESISTANCE) ||
		       view_over_limit(view, READING_COMMON_START_RESISTANCE);
	return true;
}

/* The nth finding that is not electrical; FAULT_NONE when there are not so many. */
static enum fault nth_of_circuit(const struct diagnosis *diagnosis, int nth)
{
	for (int i = 0; i < diagnosis->finding_count; i++) {
		enum fault fault = diagnosis->findings[i].fault;
		if (fault_info(fault)->family != FAMILY_ELECTRICAL && nth-- == 0)
			return fault;
	}
	return FAULT_NONE;
}

/*
 * An open switch leads on to its cause: what to look at, and how much it is
 * worth beside the bits of other readings.  Common practice.
 */
static void lead_on(const struct view *view, const struct beliefs *beliefs, double *bits)
{
	static const struct {
		enum state open;
		enum reading reading;
		double worth;
	} rows[] = {
		{ STATE_CONTROL_FLOAT, READING_DRAIN_CONDITION, 1 },
		{ STATE_CONTROL_FLOAT, READING_COIL_CONDITION, 0.5 },
		{ STATE_CONTROL_HIGH_PRESSURE, READING_CONDENSER_CONDITION, 1 },
		{ STATE_CONTROL_HIGH_PRESSURE, READING_FAN_STATE, 0.3 },
		{ STATE_CONTROL_LOW_PRESSURE, READING_STANDING_PRESSURE, 5 },
		{ STATE_CONTROL_LOW_PRESSURE, READING_FILTER_CONDITION, 0.6 },
		{ STATE_CONTROL_LOW_PRESSURE, READING_COIL_CONDITION, 0.9 },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (beliefs->measured.of[rows[i].open] == MEASURED_FAULTY &&
		    !visit_has(view->visit, view->stage, rows[i].reading))
			bits[rows[i].reading] += rows[i].worth;
}

/* Keeps the best; a reading that tells about two things counts once, with both. */
static void offer(struct next_check *best, int *count, const struct next_check *offered)
{
	int at = *count < MOST_NEXT_CHECKS ? (*count)++ : MOST_NEXT_CHECKS;

	while (at > 0 && best[at - 1].gain < offered->gain) {
		if (at < MOST_NEXT_CHECKS)
			best[at] = best[at - 1];
		at--;
	}
	if (at < MOST_NEXT_CHECKS)
		best[at] = *offered;
}

void next_check_choose(const struct view *view, const struct beliefs *beliefs,
                       const struct circuit *circuit, struct diagnosis *diagnosis)
{
	enum { CHECKS = sizeof checks / sizeof *checks };
	double bits[READING_COUNT] = { 0 };
	double gains[SEEN_COUNT] = { 0 };
	bool safe = power_of_visit(view->visit).state == POWER_STATE_SAFE;

	if (is_time_for_circuit(view, circuit))
		circuit_gains(circuit, gains);
	for (int i = 0; i < CHECKS; i++)
		if (is_possible(view, &checks[i]))
			bits[checks[i].reading] += checks[i].of_circuit ? gains[checks[i].seen]
			                                                : part_bits(view, beliefs, &checks[i]);
	lead_on(view, beliefs, bits);
	diagnosis->next_check_count = 0;
	for (int i = 0; i < CHECKS; i++) {
		const struct check *check = &checks[i];
		if (bits[check->reading] < least_bits)
			continue;
		double effort = check->minutes + (check->power_off && !safe ? minutes_to_make_safe : 0);
		struct next_check offered = { .reading = check->reading,
		                              .gain = bits[check->reading] / effort };
		bits[check->reading] = 0;
		if (check->of_circuit) {
			offered.tells_apart = true;
			offered.between[0] = nth_of_circuit(diagnosis, 0);
			offered.between[1] = nth_of_circuit(diagnosis, 1);
		}
		offer(diagnosis->next_checks, &diagnosis->next_check_count, &offered);
	}
}
