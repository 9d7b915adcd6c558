/*
 * Findings: what is believed, put so that a technician can weigh it.
 */
#include "diagnose/findings.h"

#include <math.h>
#include <string.h>

bool finding_stays_off(const struct finding *finding)
{
	return finding->basis == BASIS_MEASURED &&
	       fault_info(finding->fault)->stays_off_by != READING_NONE;
}

/*
 * A fault at least this likely is to be acted on, or looked at again.  A part
 * is opened and seen; a circuit is opened at a cost, and needs more: it has to
 * be sure that it is not sound, or quite sure of the fault.
 */
static const double act_from = 0.5, act_on_circuit_from = 0.8, watch_from = 0.3;
static const double sound_at_most = 0.1;

/* Below this, or no more likely than before any reading, a fault is not worth a line. */
static const double list_from = 0.04, list_gain = 1.25;

/* With the circuit this surely not in order, the next faults of it are listed from here. */
static const double second_from = 0.3, list_second_from = 0.01;

/* A fault of the circuit that costs less than this share of the cooling is watched. */
static const double slight_cost = 0.02;

/* What a fault stands for among the parts: its states and their sums. */
struct part_belief {
	enum variable variable; /* whose states */
	enum state state;       /* the likeliest of them; STATE_COUNT: none */
	double probability;     /* of all of them */
	double act;             /* of those that ask for action */
	double prior;           /* of all of them before any reading */
};

/* What is measured and only to be watched stands behind all that is to be acted on. */
static const double measured_to_watch = 0.49;

/* A cause that is at least this likely is told itself, instead of the wider fault. */
static const double known_from = 0.8;

/* And what rests on one look asks for a repair from here on only. */
static const double concluded_from = 0.75;

/* The wider fault of a state, on a unit that can have it: one without 24 V cannot lack it. */
static enum fault wider_fault(const struct beliefs *beliefs, enum state state)
{
	enum fault within = state_info(state)->within;

	return within == FAULT_NO_CONTROL_VOLTAGE && beliefs->prior[STATE_CONTROL_NONE] <= 0
	       ? FAULT_NONE : within;
}

/* Whether the state is the fault, or means it as well, or belongs to it. */
static bool means(const struct beliefs *beliefs, enum state state, enum fault fault)
{
	const struct state_info *info = state_info(state);

	return info->fault == fault || info->also == fault || wider_fault(beliefs, state) == fault;
}

/* How probable each fault is by the parts alone: most are not worth a closer look. */
static void add_up_faults(const struct beliefs *beliefs, double *probability)
{
	memset(probability, 0, FAULT_COUNT * sizeof *probability);
	for (int s = 0; s < STATE_COUNT; s++) {
		const struct state_info *info = state_info((enum state)s);
		enum fault wider = wider_fault(beliefs, (enum state)s);
		probability[info->fault] += beliefs->posterior[s];
		if (info->also != info->fault)
			probability[info->also] += beliefs->posterior[s];
		if (wider != info->fault && wider != info->also)
			probability[wider] += beliefs->posterior[s];
	}
}

static struct part_belief believe(const struct beliefs *beliefs, enum fault fault)
{
	struct part_belief belief = { .state = STATE_COUNT };

	for (int s = 0; s < STATE_COUNT; s++) {
		enum state state = (enum state)s;
		if (!means(beliefs, state, fault))
			continue;
		if (wider_fault(beliefs, state) == fault && beliefs->posterior[s] >= known_from)
			return (struct part_belief){ .state = STATE_COUNT };
		if (belief.state == STATE_COUNT || beliefs->posterior[s] > beliefs->posterior[belief.state])
			belief.state = state;
		belief.variable = state_info(state)->variable;
		belief.probability += beliefs->posterior[s];
		belief.prior += beliefs->prior[s];
		belief.act += state_info(state)->level == LEVEL_ACT ? beliefs->posterior[s] : 0;
	}
	return belief;
}

/*
 * Whether a reading states the fault.  Of two states that one reading leaves
 * open, weak or failed, the likelier one is told.
 */
static bool is_measured(const struct beliefs *beliefs, const struct part_belief *belief)
{
	/* Less, and something else explains it: a dead line behind a grounded winding. */
	const double explained_below = 0.3;

	return beliefs->measured.of[belief->state] == MEASURED_FAULTY &&
	       beliefs->posterior[belief->state] >= explained_below;
}

/* Whether the same reading states another fault of the same part, and that one is likelier. */
static bool is_told_by_another(const struct beliefs *beliefs, const struct part_belief *belief)
{
	int first = (int)variable_first(belief->variable);

	if (variable_role(belief->variable) == ROLE_FEED ||
	    beliefs->measured.of[belief->state] != MEASURED_FAULTY)
		return false;
	for (int i = first; i < first + variable_states(belief->variable); i++)
		if (beliefs->measured.of[i] == MEASURED_FAULTY &&
		    beliefs->posterior[i] > beliefs->posterior[belief->state])
			return true;
	return false;
}

/* ---- Evidence from parts ---- */

/* Likelihood of a clue with the fault against all else, weighed by the priors. */
static double lean(const struct beliefs *beliefs, const struct clue *clue, enum fault fault)
{
	int first = (int)variable_first(clue->variable);
	double with = 0, with_weight = 0, without = 0, without_weight = 0;

	for (int i = 0; i < variable_states(clue->variable); i++) {
		double prior = beliefs->prior[first + i];
		if (means(beliefs, (enum state)(first + i), fault)) {
			with += prior * clue->likelihood[i];
			with_weight += prior;
		} else {
			without += prior * clue->likelihood[i];
			without_weight += prior;
		}
	}
	if (with_weight <= 0 || without_weight <= 0)
		return 0;
	return log10((with / with_weight + 1e-9) / (without / without_weight + 1e-9));
}

/*
 * How likely what a motor is seen to do is where the state holds: behind the
 * breaker that the state tripped the motor is dead.
 */
static double shown_likelihood(const struct clue *clue, enum state state, enum motor motor)
{
	int first = (int)variable_first(clue->variable);
	double trips = state_info(state)->trips;

	return (1 - trips) * clue->likelihood[(int)state_makes(state, motor) - first] +
	       trips * clue->likelihood[(int)state_makes(STATE_SUPPLY_NONE, motor) - first];
}

/* The same for what a motor does, which a fault brings about. */
static double lean_of_shown(const struct beliefs *beliefs, const struct clue *clue,
                            enum state state, enum motor motor)
{
	int first = (int)variable_first(clue->variable);
	int at = (int)state_makes(state, motor) - first;
	double without = 0, weight = 0;

	if (at == 0)
		return 0;
	for (int i = 0; i < variable_states(clue->variable); i++) {
		if (i == at)
			continue;
		without += beliefs->prior[first + i] * clue->likelihood[i];
		weight += beliefs->prior[first + i];
	}
	return log10((shown_likelihood(clue, state, motor) + 1e-9) / (without / weight + 1e-9));
}

static struct evidence from_clue(const struct clue *clue, double leans)
{
	return (struct evidence){
		.figure = clue->figure, .reading = clue->reading, .over_limit = clue->over_limit,
		.value = clue->value, .plus_minus = clue->plus_minus,
		.has_expected = clue->has_expected, .expected = clue->expected, .leans = leans,
	};
}

/* Keeps the strongest, strongest first. */
static void keep(struct finding *finding, const struct evidence *evidence)
{
	int at = finding->evidence_count < MOST_EVIDENCE ? finding->evidence_count++ : MOST_EVIDENCE;
	struct evidence *list = finding->evidence;

	while (at > 0 && fabs(list[at - 1].leans) < fabs(evidence->leans)) {
		if (at < MOST_EVIDENCE)
			list[at] = list[at - 1];
		at--;
	}
	if (at < MOST_EVIDENCE)
		list[at] = *evidence;
}

/* A fan or blower that runs speaks for no fault of it, only against others of its faults. */
static bool is_of_running_motor(const struct clue *clue)
{
	return (clue->reading == READING_FAN_STATE || clue->reading == READING_BLOWER_STATE) &&
	       (enum choice)(int)clue->value == CHOICE_MOTOR_STATE_RUNS;
}

static void add_part_evidence(const struct clues *clues, const struct beliefs *beliefs,
                              const struct part_belief *belief, struct finding *finding)
{
	/* Less than this is nothing said. */
	const double least = 0.04;

	for (int i = 0; i < clues->count; i++) {
		const struct clue *clue = &clues->list[i];
		double leans = 0;
		if (clue->variable == belief->variable)
			leans = lean(beliefs, clue, finding->fault);
		for (int m = 0; m < MOTOR_COUNT; m++)
			if (clue->variable == motor_shown((enum motor)m))
				leans = lean_of_shown(beliefs, clue, belief->state, (enum motor)m);
		if (fabs(leans) < least || (leans > 0 && is_of_running_motor(clue)))
			continue;
		struct evidence evidence = from_clue(clue, leans);
		keep(finding, &evidence);
	}
}

/* ---- Findings ---- */

/* What is seen at a glance, before any meter or cover. */
static bool is_look(enum reading reading)
{
	return reading == READING_COMPRESSOR_STATE || reading == READING_FAN_STATE ||
	       reading == READING_BLOWER_STATE || reading == READING_COIL_CONDITION;
}

/* Whether more than looks tells of the parts of a role. */
static bool is_measured_of(const struct clues *clues, enum role role)
{
	for (int i = 0; i < clues->count; i++)
		if (variable_role(clues->list[i].variable) == role && !is_look(clues->list[i].reading))
			return true;
	return false;
}

static bool is_any_measured(const struct clues *clues)
{
	return is_measured_of(clues, ROLE_FEED) || is_measured_of(clues, ROLE_COMPRESSOR) ||
	       is_measured_of(clues, ROLE_FAN) || is_measured_of(clues, ROLE_BLOWER) ||
	       is_measured_of(clues, ROLE_SHOWN);
}

/* Whether what speaks for it is looks; *several: at more than one place. */
static bool is_only_seen(const struct finding *finding, bool *several)
{
	enum reading first = READING_NONE;

	*several = false;
	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		if (evidence->leans <= 0)
			continue;
		if (!is_look(evidence->reading))
			return false;
		*several = *several || (first != READING_NONE && first != evidence->reading);
		first = first == READING_NONE ? evidence->reading : first;
	}
	return first != READING_NONE;
}

/*
 * Looks tell where to measure, not what to repair.  They conclude where something was
 * measured beside them and they leave little else; of a motor two looks do, or one at a
 * fan or blower whose capacitor or current was measured.
 */
static bool is_concluded(const struct clues *clues, enum role role, const struct finding *finding)
{
	bool several;

	if (!is_only_seen(finding, &several))
		return true;
	if (!is_any_measured(clues))
		return false;
	return finding->probability >= concluded_from || (several && role != ROLE_FEED) ||
	       ((role == ROLE_FAN || role == ROLE_BLOWER) && is_measured_of(clues, role));
}

/* What is left over when all before it is sound is acted on once the last of that was read. */
static bool waits_for(const struct clues *clues, enum state state)
{
	enum reading after = state_info(state)->after;

	for (int i = 0; i < clues->count; i++)
		if (clues->list[i].reading == after)
			return false;
	return after != READING_NONE;
}

static enum level level_of(double probability, double act)
{
	if (act >= act_from)
		return LEVEL_ACT;
	return probability >= watch_from ? LEVEL_WATCH : LEVEL_NOTE;
}

/* A finding from the parts; false when there is nothing to say. */
static bool find_in_parts(const struct clues *clues, const struct beliefs *beliefs,
                          enum fault fault, struct finding *finding)
{
	struct part_belief belief = believe(beliefs, fault);

	if (belief.state == STATE_COUNT || belief.probability < list_from ||
	    (belief.probability < list_gain * belief.prior && belief.probability < act_from) ||
	    is_told_by_another(beliefs, &belief))
		return false;
	finding->probability = belief.probability;
	/* Low load is a condition of the day: nothing to repair. */
	finding->level = fault == FAULT_LOW_INDOOR_LOAD
		? LEVEL_NOTE : level_of(belief.probability, belief.act);
	if (is_measured(beliefs, &belief)) {
		finding->basis = BASIS_MEASURED;
		finding->level = state_info(belief.state)->level;
		finding->probability = finding->level == LEVEL_ACT ? 1 : measured_to_watch;
	}
	add_part_evidence(clues, beliefs, &belief, finding);
	if (finding->level == LEVEL_ACT && finding->basis == BASIS_INFERRED &&
	    (waits_for(clues, belief.state) ||
	     !is_concluded(clues, variable_role(belief.variable), finding)))
		finding->level = LEVEL_WATCH;
	return finding->evidence_count > 0;
}

/*
 * A fault of the circuit that a part explains as well is that part's by the
 * share in which it is there.
 */
static double left_by_parts(const struct view *view, const struct beliefs *beliefs,
                            enum fault fault)
{
	static const struct {
		enum fault fault;
		enum state explains;
	} rows[] = {
		{ FAULT_COMPRESSOR_INEFFICIENT, STATE_REVERSING_VALVE_LEAKING },
		{ FAULT_COMPRESSOR_INEFFICIENT, STATE_SUPPLY_REVERSED },
		/* A blower that stands moves no air: that is not the filter or the ducts. */
		{ FAULT_LOW_INDOOR_AIRFLOW, STATE_BLOWER_CONDITION_DEAD },
		{ FAULT_LOW_INDOOR_AIRFLOW, STATE_BLOWER_CONDITION_PERHAPS_DEAD },
		{ FAULT_LOW_INDOOR_AIRFLOW, STATE_BLOWER_CONDITION_MODULE },
		{ FAULT_LOW_INDOOR_AIRFLOW, STATE_BLOWER_CONDITION_FAILED },
		{ FAULT_LOW_INDOOR_AIRFLOW, STATE_BLOWER_CONDITION_CAPACITOR_FAILED },
	};
	enum choice blower = view_choice(view, READING_BLOWER_STATE);
	double explained = 0;

	/* Seen to stand: filter, ducts and coil are judged when it runs. */
	if (fault == FAULT_LOW_INDOOR_AIRFLOW &&
	    (blower == CHOICE_MOTOR_STATE_SILENT || blower == CHOICE_MOTOR_STATE_HUMS))
		return 0;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (rows[i].fault == fault)
			explained += beliefs->posterior[rows[i].explains];
	return fmax(0, 1 - explained);
}

/* Where something is wrong for sure, one of the first three faults may hide behind another. */
static bool may_hide(const struct circuit *circuit, enum fault fault)
{
	int before = 0;

	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++)
		before += circuit->fault[f] > circuit->fault[fault];
	return before < 3 && circuit->fault[fault] >= list_second_from &&
	       circuit->sound + circuit->unknown < second_from;
}

/* Whether a fault of the circuit is to be acted on, as far as it is worth it. */
static bool asks_to_act(const struct circuit *circuit, enum fault fault, double probability)
{
	if (circuit->cost[fault] < slight_cost)
		return false;
	return probability >= act_on_circuit_from ||
	       (probability >= act_from && circuit->sound <= sound_at_most);
}

static bool find_in_circuit(const struct view *view, const struct beliefs *beliefs,
                            const struct circuit *circuit, enum fault fault,
                            struct finding *finding)
{
	struct evidence evidence[SHOWN_COUNT + 4];
	double probability = circuit->fault[fault] * left_by_parts(view, beliefs, fault), leans = 0;

	bool listed = probability >= list_from &&
	              (probability >= list_gain * circuit->prior[fault] || probability >= act_from);
	if (!listed && (probability < list_second_from || !may_hide(circuit, fault)))
		return false;
	finding->probability = probability;
	finding->level = asks_to_act(circuit, fault, probability) ? LEVEL_ACT
	               : probability >= watch_from ? LEVEL_WATCH : LEVEL_NOTE;
	int count = circuit_evidence(view, circuit, fault, evidence, SHOWN_COUNT + 4);
	for (int i = 0; i < count; i++) {
		keep(finding, &evidence[i]);
		leans += evidence[i].leans;
	}
	/* Only thought of beside another fault, and no reading of its own speaks for it. */
	if (leans <= 0)
		finding->level = LEVEL_NOTE;
	return finding->evidence_count > 0;
}

/* Whether `effect` is among what `cause` brings about. */
static bool brings_about(enum fault cause, enum fault effect)
{
	const enum fault *causes = fault_info(effect)->causes;

	for (int i = 0; i < FAULT_MOST_CAUSES && causes[i] != FAULT_NONE; i++)
		if (causes[i] == cause)
			return true;
	return false;
}

/*
 * The more probable first.  Of two that are measured the cause comes before
 * its effect, then what stops the unit.
 */
static bool goes_before(const struct finding *finding, const struct finding *other)
{
	/* Sums of the same numbers in another order differ in their last digit. */
	if (fabs(finding->probability - other->probability) > 1e-12)
		return finding->probability > other->probability;
	if (brings_about(finding->fault, other->fault))
		return true;
	return fault_info(finding->fault)->family == FAMILY_ELECTRICAL &&
	       fault_info(other->fault)->family != FAMILY_ELECTRICAL &&
	       !brings_about(other->fault, finding->fault);
}

static int place_of(const struct diagnosis *diagnosis, enum fault fault)
{
	for (int i = 0; i < diagnosis->finding_count; i++)
		if (diagnosis->findings[i].fault == fault &&
		    diagnosis->findings[i].basis == BASIS_MEASURED &&
		    diagnosis->findings[i].level == LEVEL_ACT)
			return i;
	return -1;
}

/* Of two causes of one effect, all measured, the one that its row looks for first stands first. */
static void order_causes(struct diagnosis *diagnosis, enum fault effect)
{
	const enum fault *causes = fault_info(effect)->causes;

	for (int i = 0; i + 1 < FAULT_MOST_CAUSES && causes[i + 1] != FAULT_NONE; i++) {
		int first = place_of(diagnosis, causes[i]), second = place_of(diagnosis, causes[i + 1]);
		if (first < 0 || second < 0 || first < second)
			continue;
		struct finding finding = diagnosis->findings[first];
		for (int at = first; at > second; at--)
			diagnosis->findings[at] = diagnosis->findings[at - 1];
		diagnosis->findings[second] = finding;
	}
}

static void add_finding(struct diagnosis *diagnosis, const struct finding *finding)
{
	struct finding *list = diagnosis->findings;
	int at = diagnosis->finding_count < MOST_FINDINGS ? diagnosis->finding_count++ : MOST_FINDINGS;

	while (at > 0 && goes_before(finding, &list[at - 1])) {
		if (at < MOST_FINDINGS)
			list[at] = list[at - 1];
		at--;
	}
	if (at < MOST_FINDINGS)
		list[at] = *finding;
}

/* Nothing to act on: every part that a clue was about, and the circuit if it was judged. */
static double sound_probability(const struct clues *clues, const struct beliefs *beliefs,
                                const struct circuit *circuit)
{
	bool judged[VARIABLE_COUNT] = { false }, any = circuit->taken_count > 0;
	double sound = any ? circuit->sound : 1;

	/* Filter, static and blower tell about airflow even where the circuit was not read. */
	if (!any && circuit->air_clues.count > 0) {
		sound = 1 - circuit->fault[FAULT_LOW_INDOOR_AIRFLOW];
		any = true;
	}

	for (int i = 0; i < clues->count; i++) {
		judged[clues->list[i].variable] = true;
		any = true;
	}
	/* What a motor does is about everything that feeds it. */
	for (int v = 0; v < VARIABLE_COUNT; v++) {
		enum role role = variable_role((enum variable)v);
		judged[v] = judged[v] || (judged[VARIABLE_CONDITION] && (role == ROLE_FEED ||
		                                                        role == ROLE_COMPRESSOR)) ||
		            (judged[VARIABLE_FAN_CONDITION] && role == ROLE_FAN) ||
		            (judged[VARIABLE_BLOWER_CONDITION] && role == ROLE_BLOWER);
	}
	for (int s = 0; s < STATE_COUNT; s++)
		if (judged[state_info((enum state)s)->variable] &&
		    state_info((enum state)s)->level == LEVEL_ACT)
			sound *= 1 - beliefs->posterior[s];
	return any ? sound : 0;
}

/*
 * Where the circuit was not read, a cause that was found is as sure as the
 * effect that the same readings show, and is told before it.
 */
static void tell_before_effect(const struct circuit *circuit, struct finding *cause)
{
	if (circuit->taken_count > 0 || cause->level != LEVEL_ACT)
		return;
	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++)
		if (brings_about(cause->fault, (enum fault)f))
			cause->probability = fmax(cause->probability, circuit->fault[f]);
}

/*
 * Cool, dry return air lowers suction and leaves an orifice unit without a
 * target (RA3.2): what is thought of its circuit there is watched, and judged
 * in a usual load.  A drop at the drier, or a coil far from fed, shows in any.
 */
static void hold_in_low_load(const struct view *view, const struct beliefs *beliefs,
                             struct diagnosis *diagnosis)
{
	const double likely = 0.5, far_from_fed_f = 20;
	enum choice metering = view_choice(view, READING_METERING);
	bool is_orifice = metering == CHOICE_METERING_FIXED_ORIFICE ||
	                  metering == CHOICE_METERING_CAPILLARY;

	if (!is_orifice || beliefs->posterior[STATE_LOAD_LOW] < likely ||
	    !isnan(view_figure(view, FIGURE_DRIER_DROP)) ||
	    view_figure(view, FIGURE_SUPERHEAT) >= far_from_fed_f)
		return;
	for (int i = 0; i < diagnosis->finding_count; i++) {
		struct finding *finding = &diagnosis->findings[i];
		bool is_of_circuit = fault_info(finding->fault)->family == FAMILY_REFRIGERANT ||
		                     finding->fault == FAULT_LOW_INDOOR_AIRFLOW;
		if (is_of_circuit && finding->basis == BASIS_INFERRED && finding->level == LEVEL_ACT)
			finding->level = LEVEL_WATCH;
	}
}

void findings_write(const struct view *view, const struct clues *clues,
                    const struct beliefs *beliefs, const struct circuit *circuit,
                    struct diagnosis *diagnosis)
{
	double of_parts[FAULT_COUNT];
	struct finding finding, of_part;

	diagnosis->finding_count = 0;
	add_up_faults(beliefs, of_parts);
	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++) {
		memset(&finding, 0, sizeof finding);
		finding.fault = (enum fault)f;
		finding.probability_before = NAN;
		finding.is_symptom_masked = fault_info(finding.fault)->family != FAMILY_ELECTRICAL &&
		                            !circuit->ran;
		of_part = finding;
		bool in_circuit = find_in_circuit(view, beliefs, circuit, finding.fault, &finding);
		bool in_parts = of_parts[f] >= list_from &&
		                find_in_parts(clues, beliefs, of_part.fault, &of_part);
		if (in_parts)
			tell_before_effect(circuit, &of_part);
		if (in_parts && (!in_circuit || (of_part.basis == BASIS_MEASURED &&
		                                 of_part.level >= finding.level)))
			finding = of_part;
		else if (!in_circuit)
			continue;
		add_finding(diagnosis, &finding);
	}
	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++)
		if (place_of(diagnosis, (enum fault)f) >= 0)
			order_causes(diagnosis, (enum fault)f);
	hold_in_low_load(view, beliefs, diagnosis);
	diagnosis->healthy = sound_probability(clues, beliefs, circuit);
	diagnosis->unexplained = circuit->taken_count > 0 ? circuit->unknown : 0;
}
