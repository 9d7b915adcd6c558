/*
 * What to measure next: what changes the decision most, for the work it takes.
 *
 * A reading is worth the expected cost of a wrong act that it saves: now the
 * least costly act is taken on what is believed (repair the likeliest, or
 * nothing); after the reading, on what is believed then.  A wrong repair costs
 * 1, a fault left alone 1, one that was only to be watched less.  Effort is
 * minutes, with the time to lock out and prove dead where that has not been done.
 *
 * What stops the unit comes first: a motor that does not run is followed up the
 * wire; on one that runs the circuit is read before any motor is measured.
 */
#include "diagnose/next_check.h"

#include <math.h>

#include <padside/calc/electrical.h>
#include <padside/model/power.h>

/* Minutes to lock out, prove the meter, discharge: usual, common practice. */
static const double minutes_to_make_safe = 3;

/* What saves less than this is not worth walking for: nothing would change … */
static const double least_value = 0.008;
/* … and that much less once it is known what is to be done. */
static const double least_when_settled = 0.05;

/* So sure of a fault, what brought it about decides what is done. */
static const double sure_from = 0.75;

/* A reading that tells a part's state so often settles it. */
static const double settles_from = 0.85;

/* Cost of leaving a state alone, by its level; that of a state of a motor, which is none. */
static const double cost_to_leave[] = { [LEVEL_NOTE] = 0, [LEVEL_WATCH] = 0.2, [LEVEL_ACT] = 1 };
static const double cost_of_condition = 0.5;

/* Between this and its complement an explanation is open. */
static const double open_from = 0.1;

/* How many readings of the circuit are its usual set: two pressures, two pipes. */
enum { USUAL_SET = 4 };

struct possible_check {
	enum reading reading;   /* what to take */
	bool of_circuit;        /* `seen` counts, else `variable` */
	enum variable variable; /* which part it shows */
	enum seen seen;         /* what it is to the circuit */
	double tells;           /* how often it settles the state */
	double minutes;         /* effort */
	bool power_off;         /* needs a unit made safe */
};

#define CAUSE_CHECK(...)
#define DECIDING_CHECK(...)
static const struct possible_check checks[] = {
#define PART_CHECK(reading_, variable_, tells_, minutes_, power_off_, why_) \
	{ .reading = READING_##reading_, .variable = VARIABLE_##variable_, .tells = tells_, \
	  .minutes = minutes_, .power_off = power_off_ },
#define CIRCUIT_CHECK(reading_, seen_, minutes_) \
	{ .reading = READING_##reading_, .of_circuit = true, .seen = SEEN_##seen_, \
	  .minutes = minutes_ },
#include <padside/diagnose/next_checks.def>
#undef PART_CHECK
#undef CIRCUIT_CHECK
};
#undef CAUSE_CHECK
#undef DECIDING_CHECK

/* What to take where a fault is found for sure, in the order of the rows. */
static const struct {
	enum fault fault;     /* what is found */
	enum reading reading; /* what shows its cause */
} causes[] = {
#define PART_CHECK(...)
#define CIRCUIT_CHECK(...)
#define DECIDING_CHECK(...)
#define CAUSE_CHECK(fault_, reading_, why_) { FAULT_##fault_, READING_##reading_ },
#include <padside/diagnose/next_checks.def>
#undef PART_CHECK
#undef CIRCUIT_CHECK
#undef CAUSE_CHECK
#undef DECIDING_CHECK
};

/* What decides between two explanations while both are open. */
static const struct {
	enum fault fault, other; /* the explanations */
	enum reading reading;    /* what decides */
} deciding[] = {
#define PART_CHECK(...)
#define CIRCUIT_CHECK(...)
#define CAUSE_CHECK(...)
#define DECIDING_CHECK(fault_, other_, reading_) \
	{ FAULT_##fault_, FAULT_##other_, READING_##reading_ },
#include <padside/diagnose/next_checks.def>
#undef PART_CHECK
#undef CIRCUIT_CHECK
#undef CAUSE_CHECK
#undef DECIDING_CHECK
};

/* ---- What a part's reading is worth ---- */

static double leaving_costs(enum variable variable, int nth)
{
	if (variable_role(variable) == ROLE_SHOWN)
		return nth == 0 ? 0 : cost_of_condition;
	return cost_to_leave[state_info((enum state)((int)variable_first(variable) + nth))->level];
}

/* Expected cost of the best act when the part's states have these weights. */
static double cost(enum variable variable, const double *weights)
{
	int count = variable_states(variable);
	double total = 0, leave = 0;

	for (int i = 0; i < count; i++) {
		total += weights[i];
		leave += weights[i] * leaving_costs(variable, i);
	}
	double best = leave;
	for (int i = 1; i < count; i++) {
		double here = leaving_costs(variable, i);
		double repair = total - weights[i] + leave - weights[i] * here;
		if (here >= cost_of_condition && repair < best)
			best = repair;
	}
	return best;
}

/*
 * What the reading saves: by what it may show, or `tells` of it all where that
 * is not known.  `pointed`: only what something points to counts.
 */
static double part_value(const struct view *view, const struct beliefs *beliefs,
                         const struct possible_check *check, bool pointed)
{
	enum choice state = view_choice(view, READING_COMPRESSOR_STATE);
	const double *posterior = &beliefs->posterior[(int)variable_first(check->variable)];
	int states = variable_states(check->variable), count = 0;
	double shares[MOST_STATES][MOST_OUTCOMES], weights[MOST_STATES], after = 0;
	double now = cost(check->variable, posterior);

	if (pointed)
		now = fmax(0, now - cost(check->variable,
		                         &beliefs->prior[(int)variable_first(check->variable)]));
	if (now <= 0)
		return 0;
	for (int s = 0; s < states; s++)
		count = clues_outcomes(check->reading, state, s, shares[s]);
	if (count == 0)
		return check->tells * now;
	for (int o = 0; o < count; o++) {
		for (int s = 0; s < states; s++)
			weights[s] = posterior[s] * shares[s][o];
		after += cost(check->variable, weights);
	}
	return fmin(now, cost(check->variable, posterior) - after);
}

/* Whether the part can be in a state that is the fault. */
static bool can_have(enum variable variable, enum fault fault)
{
	for (int i = 0; i < variable_states(variable); i++)
		if (state_info((enum state)((int)variable_first(variable) + i))->fault == fault)
			return true;
	return false;
}

bool next_check_settles(enum reading reading, enum fault fault)
{
	for (size_t i = 0; i < sizeof checks / sizeof *checks; i++)
		if (checks[i].reading == reading && !checks[i].of_circuit &&
		    checks[i].tells >= settles_from && can_have(checks[i].variable, fault))
			return true;
	return false;
}

/* ---- What is in question ---- */

static bool stands_still(const struct view *view, enum reading reading)
{
	enum choice state = view_choice(view, reading);

	return state == CHOICE_MOTOR_STATE_SILENT || state == CHOICE_MOTOR_STATE_HUMS ||
	       state == CHOICE_COMPRESSOR_STATE_SILENT || state == CHOICE_COMPRESSOR_STATE_HUMS;
}

static bool is_running(const struct view *view)
{
	enum choice state = view_choice(view, READING_COMPRESSOR_STATE);

	return state == CHOICE_COMPRESSOR_STATE_RUNS || state == CHOICE_COMPRESSOR_STATE_CYCLES;
}

/* A measured fault that is to be acted on, of the family; others do not count. */
static bool is_measured(const struct diagnosis *diagnosis, enum fault_family family)
{
	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		if (finding->basis == BASIS_MEASURED && finding->level == LEVEL_ACT &&
		    fault_info(finding->fault)->family == family)
			return true;
	}
	return false;
}

/* Whether what is to be done is known: a reading states what is wrong. */
static bool is_settled(const struct diagnosis *diagnosis)
{
	return is_measured(diagnosis, FAMILY_ELECTRICAL) || is_measured(diagnosis, FAMILY_AIR);
}

/*
 * What a part's reading is worth here.  What opens a switch or starves the coil,
 * the motors of a unit that runs, and everything once a fault is measured, are
 * looked at when something points to them.
 */
static double part_worth(const struct view *view, const struct beliefs *beliefs,
                         const struct diagnosis *diagnosis, const struct possible_check *check)
{
	enum role role = variable_role(check->variable);
	bool settled = is_settled(diagnosis);

	if (settled && role == ROLE_SHOWN)
		return 0;
	return part_value(view, beliefs, check, settled || role == ROLE_ALONE ||
	                                        (is_running(view) && role != ROLE_SHOWN));
}

/* How much the part has to do with what is seen of the unit, 0 to 1. */
static double relevance(const struct view *view, const struct circuit *circuit,
                        const struct possible_check *check)
{
	enum variable variable = check->variable;
	bool is_measurement = reading_info(check->reading)->kind != KIND_CHOICE;
	bool compressor_still = stands_still(view, READING_COMPRESSOR_STATE);
	bool circuit_open = is_running(view) && circuit->taken_count < USUAL_SET;
	double of_motors = circuit_open ? 0 : is_running(view) ? 0.3 : compressor_still ? 1 : 0.3;

	switch (variable_role(variable)) {
	case ROLE_SHOWN:
		/* To see whether it runs is a look; how well is measured behind the circuit. */
		return circuit_open && is_measurement ? 0 : 1;
	case ROLE_FAN:
		return stands_still(view, READING_FAN_STATE) ? 1 : compressor_still ? 0.1 : of_motors;
	case ROLE_BLOWER:
		return stands_still(view, READING_BLOWER_STATE) ? 1 : compressor_still ? 0.1 : of_motors;
	case ROLE_FEED:
	case ROLE_COMPRESSOR:
		return stands_still(view, READING_FAN_STATE) || stands_still(view, READING_BLOWER_STATE)
			? 1 : of_motors;
	default:
		return compressor_still ? 0.05 : 1;
	}
}

/* Circuit readings are for a unit known to run, with its air in order and moving. */
static bool is_time_for_circuit(const struct view *view, const struct circuit *circuit,
                                const struct diagnosis *diagnosis)
{
	return circuit->ran && (is_running(view) || circuit->taken_count > 0) &&
	       !is_measured(diagnosis, FAMILY_AIR) && !stands_still(view, READING_BLOWER_STATE);
}

static bool can_be_taken(const struct view *view, enum reading reading)
{
	return !visit_has(view->visit, view->stage, reading) &&
	       visit_applies(view->visit, view->stage, reading);
}

/* Whether the readings that it needs beside it are the wrong way round. */
static bool is_possible(const struct view *view, const struct possible_check *check)
{
	if (!can_be_taken(view, check->reading))
		return false;
	if (check->reading == READING_RETURN_WB &&
	    visit_has(view->visit, view->stage, READING_RETURN_RH))
		return false;
	/* Asked of the electronics that keep a unit off. */
	if (check->reading == READING_BOARD_CODE)
		return view_applies(view, CONDITION_ELECTRONICS) &&
		       (!is_running(view) || stands_still(view, READING_BLOWER_STATE));
	/* A motor that stands still draws nothing to judge it by. */
	if (check->reading == READING_BLOWER_AMPS)
		return view_choice(view, READING_BLOWER_STATE) != CHOICE_MOTOR_STATE_SILENT;
	if (check->reading == READING_FAN_AMPS)
		return view_choice(view, READING_FAN_STATE) != CHOICE_MOTOR_STATE_SILENT;
	/* Drop under load and running amps take a load. */
	if (check->reading == READING_CONTACTOR_DROP)
		return is_running(view);
	/* What does not even hum takes no starting current. */
	if (check->reading == READING_LINE_VOLTAGE_STARTING)
		return view_choice(view, READING_COMPRESSOR_STATE) != CHOICE_COMPRESSOR_STATE_SILENT;
	/* A hot shell only matters where something inside reads open. */
	if (check->reading == READING_SHELL_TEMP)
		return view_over_limit(view, READING_COMMON_RUN_RESISTANCE) ||
		       view_over_limit(view, READING_COMMON_START_RESISTANCE);
	return true;
}

/* ---- The best ---- */

/* Keeps the best first; a reading stands there once. */
static void offer(struct diagnosis *diagnosis, const struct next_check *offered)
{
	struct next_check *best = diagnosis->next_checks;
	int *count = &diagnosis->next_check_count;

	for (int i = 0; i < *count; i++)
		if (best[i].reading == offered->reading)
			return;
	int at = *count < MOST_NEXT_CHECKS ? (*count)++ : MOST_NEXT_CHECKS;
	while (at > 0 && best[at - 1].gain < offered->gain) {
		if (at < MOST_NEXT_CHECKS)
			best[at] = best[at - 1];
		at--;
	}
	if (at < MOST_NEXT_CHECKS)
		best[at] = *offered;
}

static bool is_found_for_sure(const struct diagnosis *diagnosis, enum fault fault)
{
	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		if (finding->fault == fault)
			return finding->level == LEVEL_ACT &&
			       (finding->basis == BASIS_MEASURED || finding->probability >= sure_from);
	}
	return false;
}

/* What is found for sure asks for its cause, before anything that is only likely. */
static void offer_causes(const struct view *view, struct diagnosis *diagnosis)
{
	for (size_t i = 0; i < sizeof causes / sizeof *causes; i++)
		if (is_found_for_sure(diagnosis, causes[i].fault) && can_be_taken(view, causes[i].reading))
			offer(diagnosis, &(struct next_check){
				.reading = causes[i].reading, .reason = CHECK_CAUSE, .gain = 1,
				.between = { causes[i].fault, FAULT_NONE } });
}

/* Whether the circuit leaves the fault open. */
static bool is_open(const struct circuit *circuit, enum fault fault)
{
	return circuit->fault[fault] >= open_from && circuit->fault[fault] <= 1 - open_from;
}

static void offer_deciding(const struct view *view, const struct circuit *circuit,
                           struct diagnosis *diagnosis)
{
	for (size_t i = 0; i < sizeof deciding / sizeof *deciding; i++)
		if (circuit->ran && circuit->taken[SEEN_LIQUID] && !is_measured(diagnosis, FAMILY_AIR) &&
		    is_open(circuit, deciding[i].fault) && is_open(circuit, deciding[i].other) &&
		    can_be_taken(view, deciding[i].reading))
			offer(diagnosis, &(struct next_check){
				.reading = deciding[i].reading, .reason = CHECK_TELL_APART, .gain = 1,
				.between = { deciding[i].fault, deciding[i].other } });
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

static void offer_check(const struct view *view, const struct possible_check *check, double value,
                        struct diagnosis *diagnosis)
{
	struct power power = power_of_visit(view->visit);
	bool must_make_safe = check->power_off && !power_is_safe_for(&power, check->reading);
	double effort = check->minutes + (must_make_safe ? minutes_to_make_safe : 0);
	struct next_check offered = { .reading = check->reading, .gain = value / effort };

	if (check->of_circuit) {
		offered.reason = CHECK_TELL_APART;
		offered.between[0] = nth_of_circuit(diagnosis, 0);
		offered.between[1] = nth_of_circuit(diagnosis, 1);
	}
	offer(diagnosis, &offered);
}

/* Of two rows of one reading the one that is worth more says why. */
static void keep_row(const struct possible_check *check, double worth, double *most,
                     const struct possible_check **rows)
{
	if (worth > most[check->reading] || !rows[check->reading])
		rows[check->reading] = check;
	most[check->reading] = fmax(most[check->reading], worth);
}

/* ---- What cannot be right ---- */

/* The reading to take again for a value that a contradiction names. */
static enum reading reading_behind(const struct view *view, const struct quoted *quoted)
{
	if (quoted->reading != READING_NONE)
		return reading_info(quoted->reading)->scope == SCOPE_CALL ? quoted->reading : READING_NONE;
	const struct figure_info *info = figure_info(quoted->figure);
	for (int i = 0; i < FIGURE_MOST_NEEDS && info->needs[i][0] != READING_NONE; i++)
		for (int j = 0; j < FIGURE_MOST_ALTERNATIVES && info->needs[i][j] != READING_NONE; j++)
			if (reading_info(info->needs[i][j])->scope == SCOPE_CALL &&
			    visit_has(view->visit, view->stage, info->needs[i][j]))
				return info->needs[i][j];
	return READING_NONE;
}

void next_check_again(const struct view *view, struct diagnosis *diagnosis)
{
	struct next_check *list = diagnosis->next_checks;
	enum reading again = READING_NONE;

	for (int i = 0; i < diagnosis->contradiction_count && again == READING_NONE; i++) {
		if (diagnosis->contradictions[i].may_be_right)
			continue;
		for (int j = 0; j < diagnosis->contradictions[i].quoted_count && again == READING_NONE; j++)
			again = reading_behind(view, &diagnosis->contradictions[i].quoted[j]);
	}
	if (again == READING_NONE)
		return;
	if (diagnosis->next_check_count < MOST_NEXT_CHECKS)
		diagnosis->next_check_count++;
	for (int at = diagnosis->next_check_count - 1; at > 0; at--)
		list[at] = list[at - 1];
	list[0] = (struct next_check){ .reading = again, .gain = 1, .reason = CHECK_AGAIN };
}

static void put_first(struct diagnosis *diagnosis, enum reading reading, enum check_reason reason)
{
	struct next_check *list = diagnosis->next_checks;
	int at = 0;

	while (at < diagnosis->next_check_count && list[at].reading != reading)
		at++;
	if (at == diagnosis->next_check_count && at < MOST_NEXT_CHECKS)
		diagnosis->next_check_count++;
	else if (at == MOST_NEXT_CHECKS)
		at--;
	for (; at > 0; at--)
		list[at] = list[at - 1];
	list[0] = (struct next_check){ .reading = reading, .gain = 1, .reason = reason };
}

/*
 * A silent unit that electronics start is asked for its power, then its code; one whose blower
 * stands as well on the same supply for its power: common practice.
 */
static void put_power_first(const struct view *view, struct diagnosis *diagnosis)
{
	static const enum reading last_to_first[] = {
		READING_BOARD_CODE, READING_LINE_VOLTAGE_AB, READING_LINE_VOLTAGE,
	};
	bool has_electronics = view_applies(view, CONDITION_ELECTRONICS);
	bool is_dead = view_applies(view, CONDITION_ONE_SUPPLY) &&
	               view_answers(view, READING_BLOWER_STATE, CHOICE_MOTOR_STATE_SILENT);

	if ((!has_electronics && !is_dead) || is_settled(diagnosis) ||
	    !view_answers(view, READING_COMPRESSOR_STATE, CHOICE_COMPRESSOR_STATE_SILENT))
		return;
	for (size_t i = 0; i < sizeof last_to_first / sizeof *last_to_first; i++)
		if (can_be_taken(view, last_to_first[i]) &&
		    (last_to_first[i] != READING_BOARD_CODE || has_electronics))
			put_first(diagnosis, last_to_first[i], CHECK_PART);
}

/*
 * A silent blower beside a unit that runs is asked for its call before its motor, where a board
 * drives it for what that shows; a motor with a module that is called for its line volts next,
 * then for the call at its own plug: common practice.
 */
static void put_call_first(const struct view *view, struct diagnosis *diagnosis)
{
	if (!is_running(view) || !view_answers(view, READING_BLOWER_STATE, CHOICE_MOTOR_STATE_SILENT))
		return;
	if (!view_applies(view, CONDITION_DUCTED) && can_be_taken(view, READING_BOARD_CODE))
		put_first(diagnosis, READING_BOARD_CODE, CHECK_PART);
	bool is_called = view_answers(view, READING_INDOOR_CALL, CHOICE_ANSWER_YES);
	if (is_called && can_be_taken(view, READING_BLOWER_CALL))
		put_first(diagnosis, READING_BLOWER_CALL, CHECK_PART);
	if (is_called && can_be_taken(view, READING_BLOWER_VOLTS))
		put_first(diagnosis, READING_BLOWER_VOLTS, CHECK_PART);
	if (!can_be_taken(view, READING_INDOOR_CALL))
		return;
	put_first(diagnosis, READING_INDOOR_CALL, CHECK_CAUSE);
	diagnosis->next_checks[0].between[0] = FAULT_BLOWER_FEED_OPEN;
}

void next_check_choose(const struct view *view, const struct beliefs *beliefs,
                       const struct circuit *circuit, struct diagnosis *diagnosis)
{
	enum { CHECKS = sizeof checks / sizeof *checks };
	double values[READING_COUNT] = { 0 }, most[READING_COUNT] = { 0 };
	const struct possible_check *rows[READING_COUNT] = { NULL };
	double gains[SEEN_COUNT] = { 0 };

	diagnosis->next_check_count = 0;
	offer_causes(view, diagnosis);
	offer_deciding(view, circuit, diagnosis);
	if (is_time_for_circuit(view, circuit, diagnosis))
		circuit_gains(circuit, gains);
	/* A reading that shows two things is worth both. */
	for (int i = 0; i < CHECKS; i++) {
		if (!is_possible(view, &checks[i]))
			continue;
		double worth = checks[i].of_circuit ? gains[checks[i].seen]
		                                    : relevance(view, circuit, &checks[i]) *
		                                      part_worth(view, beliefs, diagnosis, &checks[i]);
		values[checks[i].reading] += worth;
		keep_row(&checks[i], worth, most, rows);
	}
	double least = is_settled(diagnosis) ? least_when_settled : least_value;
	for (int i = 0; i < CHECKS; i++)
		if (rows[checks[i].reading] == &checks[i] && values[checks[i].reading] >= least)
			offer_check(view, &checks[i], values[checks[i].reading], diagnosis);
	put_power_first(view, diagnosis);
	put_call_first(view, diagnosis);
}

/* ---- What is settled ---- */

/*
 * Takes out what would tell the fault from others, and what asks for the reading, if one is given.
 */
static void drop_checks(struct diagnosis *diagnosis, enum fault fault, enum reading reading)
{
	int kept = 0;

	for (int i = 0; i < diagnosis->next_check_count; i++) {
		const struct next_check *check = &diagnosis->next_checks[i];
		bool is_of_fault = check->between[0] == fault || check->between[1] == fault;
		if (check->reading != reading && !(check->reason == CHECK_TELL_APART && is_of_fault))
			diagnosis->next_checks[kept++] = *check;
	}
	diagnosis->next_check_count = kept;
}

void next_check_settle(const struct visit *visit, enum fault fault, struct diagnosis *diagnosis)
{
	drop_checks(diagnosis, fault, READING_NONE);
	for (size_t i = 0; i < sizeof causes / sizeof *causes; i++) {
		enum reading reading = causes[i].reading;
		if (causes[i].fault != fault || !visit_applies(visit, STAGE_AS_FOUND, reading) ||
		    visit_has(visit, STAGE_AS_FOUND, reading) || visit_has(visit, STAGE_AS_LEFT, reading))
			continue;
		drop_checks(diagnosis, fault, reading);
		offer(diagnosis, &(struct next_check){ .reading = reading, .reason = CHECK_CAUSE, .gain = 1,
		                                       .between = { fault, FAULT_NONE } });
	}
}

/* ---- Before a breaker is reset ---- */

/* What the compressor's shell is asked for; READING_NONE where it is grounded, or proved good. */
static enum reading shell_in_question(const struct view *view)
{
	struct figure_value grade = view->set->values[FIGURE_INSULATION_GRADE];

	if (!visit_has(view->visit, view->stage, READING_COMPRESSOR_GROUND_RESISTANCE))
		return READING_COMPRESSOR_GROUND_RESISTANCE;
	if (grade.status != STATUS_OK || (int)grade.value == INSULATION_BELOW_FLOOR ||
	    ((int)grade.value != INSULATION_NOT_PROVED && view_insulation_proves(view)))
		return READING_NONE;
	/* OL is as good as the volts behind it. */
	return visit_has(view->visit, view->stage, READING_INSULATION_TEST_VOLTS)
		? READING_COMPRESSOR_GROUND_RESISTANCE : READING_INSULATION_TEST_VOLTS;
}

void next_check_before_reset(const struct view *view, struct diagnosis *diagnosis)
{
	enum reading shell = shell_in_question(view);

	if (!view_answers(view, READING_BREAKER_TRIPPED, CHOICE_ANSWER_YES))
		return;
	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		if (finding_stays_off(finding) && (finding->fault == FAULT_WINDING_GROUNDED ||
		                                   finding->fault == FAULT_FAN_MOTOR_GROUNDED))
			return;
	}
	if (can_be_taken(view, READING_FAN_GROUND_RESISTANCE))
		put_first(diagnosis, READING_FAN_GROUND_RESISTANCE, CHECK_BEFORE_RESET);
	if (shell != READING_NONE && visit_applies(view->visit, view->stage, shell))
		put_first(diagnosis, shell, CHECK_BEFORE_RESET);
}
