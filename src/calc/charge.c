/*
 * Charge: the liquid in a line set, and how much more to move.
 *
 * The log is walked once.  Wherever refrigerant moves, and at its end, the
 * readings since the last move are looked at: if they had settled, the newest
 * is a point of rest.  Two points of rest and the ounces between them say how
 * the unit answers.  A reading at the end of its scale (flooded, or liquid
 * line flashing) says nothing about that and is left out.
 */
#include <padside/calc/charge.h>

#include <math.h>

#define OZ_PER_LB 16.0
#define SQUARE_IN_PER_SQUARE_FT 144.0
#define PI 3.14159265358979323846

#define SUPERHEAT_PER_PERCENT 1.0  /* °F for 1 % of charge; see the header */
#define SUBCOOLING_PER_PERCENT 0.5
#define USUAL_SPREAD 0.5           /* of either, as a share: standard deviation */
#define UNSURE_SPREAD 0.6          /* when the charge itself is guessed */
#define WEAKEST_SHARE 0.5          /* of the usual: 19 of 20 units answer with at least it */
#define LEAST_SHARE 0.25           /* the learned answer stays above this share of the guess */
#define DEVIATIONS 2.0             /* how far a range reaches */
#define ALLOWED_PASS_F 1.5         /* how far a strongly answering unit may pass the target */
#define ALLOWED_PASS_OFF_SCALE_F 2.5 /* the same when more is off than the reading shows */
#define ADDING_SHARE 0.9           /* of what seems needed, when adding */
#define OFF_SCALE_F 1.0            /* below this a reading stands at its end */
#define LEAST_DEVIATION_F 0.35     /* no reading repeats better */
#define MUCH 0.30                  /* share of the charge after which to weigh it in */
#define TELLING 0.03               /* share of the charge to have moved before judging the answer */
#define LEAST_MOVE_OZ 0.5          /* what a charging scale resolves well */

/* Annealed (soft) ACR coils, ASTM B280, in. */
static const struct {
	double outside, bore;
} tubes[] = {
	{ 1.0 / 4, 0.190 }, { 5.0 / 16, 0.248 }, { 3.0 / 8, 0.311 }, { 1.0 / 2, 0.436 },
	{ 5.0 / 8, 0.555 }, { 3.0 / 4, 0.680 }, { 7.0 / 8, 0.785 }, { 1.125, 1.025 }, { 1.375, 1.265 },
};

enum status charge_line_set_liquid(double outside_in, double length_ft, double density_lb_ft3,
                                   double *ounces)
{
	*ounces = NAN;
	if (!isfinite(outside_in) || !isfinite(length_ft) || !isfinite(density_lb_ft3))
		return STATUS_NOT_A_NUMBER;
	if (length_ft < 0)
		return STATUS_NEGATIVE;
	if (density_lb_ft3 <= 0)
		return STATUS_NOT_POSITIVE;
	for (size_t i = 0; i < sizeof tubes / sizeof *tubes; i++)
		if (fabs(tubes[i].outside - outside_in) <= 0.01) {
			double bore = tubes[i].bore;

			*ounces = PI / 4 * bore * bore / SQUARE_IN_PER_SQUARE_FT * length_ft
			          * density_lb_ft3 * OZ_PER_LB;
			return STATUS_OK;
		}
	return STATUS_TUBE_SIZE;
}

/* Which way the reading goes when refrigerant is added. */
static double direction(const struct charge_machine *machine)
{
	return machine->mode == CHARGE_BY_SUPERHEAT ? -1 : 1;
}

/* The factory charge, or the usual one for the tonnage. */
static enum status find_charge(const struct charge_machine *machine, double *charge_oz)
{
	bool is_known = !isnan(machine->factory_charge_oz);
	double basis = is_known ? machine->factory_charge_oz : machine->capacity_ton;

	*charge_oz = NAN;
	if (!isfinite(basis))
		return STATUS_NOT_A_NUMBER;
	if (basis <= 0)
		return STATUS_NOT_POSITIVE;
	*charge_oz = is_known ? basis : basis * CHARGE_OZ_PER_TON;
	return STATUS_OK;
}

enum status charge_usual_answer(const struct charge_machine *machine, double *slope_f_oz,
                                double *spread_f_oz)
{
	double per_percent = machine->mode == CHARGE_BY_SUPERHEAT ? SUPERHEAT_PER_PERCENT
	                                                          : SUBCOOLING_PER_PERCENT;
	double charge_oz, size;
	enum status status = find_charge(machine, &charge_oz);

	*slope_f_oz = *spread_f_oz = NAN;
	if (status)
		return status;
	size = per_percent * 100 / charge_oz;
	*slope_f_oz = direction(machine) * size;
	*spread_f_oz = (isnan(machine->factory_charge_oz) ? UNSURE_SPREAD : USUAL_SPREAD) * size;
	return STATUS_OK;
}

enum status charge_usual_move(const struct charge_machine *machine, double response_f,
                              double target_f, double *ounces)
{
	double slope, spread;
	enum status status = charge_usual_answer(machine, &slope, &spread);

	*ounces = NAN;
	if (!status && (!isfinite(response_f) || !isfinite(target_f)))
		status = STATUS_NOT_A_NUMBER;
	if (!status)
		*ounces = (target_f - response_f) / slope;
	return status;
}

static bool has_reading(const struct charge_step *step)
{
	return isfinite(step->response_f) && isfinite(step->target_f);
}

static enum status check_log(const struct charge_step *steps, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (!isfinite(steps[i].minutes) || !isfinite(steps[i].added_oz)
		    || (has_reading(&steps[i]) && !isfinite(steps[i].plus_minus_f)))
			return STATUS_NOT_A_NUMBER;
		if (steps[i].plus_minus_f < 0)
			return STATUS_NEGATIVE;
		if (i > 0 && steps[i].minutes < steps[i - 1].minutes)
			return STATUS_LOG_ORDER;
	}
	return STATUS_OK;
}

/* The readings of steps[from] to steps[to] as seen from the newest. */
struct rest {
	const struct charge_step *newest; /* NULL when there is no reading */
	double minutes;                   /* how long they have stayed close to one another */
};

static struct rest look_back(const struct charge_step *steps, size_t from, size_t to)
{
	struct rest rest = { NULL, 0 };
	double low = INFINITY, high = -INFINITY;

	for (size_t i = to + 1; i-- > from;) {
		if (!has_reading(&steps[i]))
			continue;
		low = fmin(low, steps[i].response_f);
		high = fmax(high, steps[i].response_f);
		if (high - low > CHARGE_SETTLED_F)
			break;
		if (!rest.newest)
			rest.newest = &steps[i];
		rest.minutes = rest.newest->minutes - steps[i].minutes;
	}
	return rest;
}

static bool is_at_rest(struct rest rest)
{
	return rest.newest && rest.minutes >= CHARGE_SETTLED_MINUTES;
}

/* The estimate of the answer, and what else the walk through the log brings out. */
struct learning {
	double direction;         /* +1 or -1: which way an ounce added should move the reading */
	double usual;             /* the answer guessed beforehand, °F/oz */
	double slope, spread;     /* posterior, °F/oz */
	double weight, weighted;  /* sums of oz²/variance and oz·change/variance */
	double told_oz;           /* ounces, either way, behind those sums */
	double moved_oz;          /* net ounces in the whole log */
	double since_rest_oz;     /* net ounces since the last point of rest */
	const struct charge_step *rest, *rest_before; /* last two points of rest */
	size_t since_move;        /* first step after the last move */
	double last_move_minutes; /* -INFINITY when none */
};

static double error_of(const struct charge_step *step)
{
	return step->response_f - step->target_f;
}

/* Standard deviation of one reading from its 95 % plus/minus. */
static double deviation_of(const struct charge_step *step)
{
	return fmax(step->plus_minus_f / 2, LEAST_DEVIATION_F);
}

static void learn_from_rest(struct learning *learning, const struct charge_step *rest)
{
	const struct charge_step *before = learning->rest;
	double moved = learning->since_rest_oz;

	learning->since_rest_oz = 0;
	learning->rest = rest;
	if (before && moved != 0) {
		double variance = deviation_of(rest) * deviation_of(rest)
		                  + deviation_of(before) * deviation_of(before);

		learning->rest_before = before;
		if (rest->response_f < OFF_SCALE_F || before->response_f < OFF_SCALE_F)
			return;
		learning->weight += moved * moved / variance;
		learning->weighted += moved * (error_of(rest) - error_of(before)) / variance;
		learning->told_oz += fabs(moved);
	}
}

/* Walks the log; prior in, posterior out. */
static enum status learn(const struct charge_machine *machine, const struct charge_step *steps,
                         size_t count, struct learning *learning)
{
	double usual, usual_spread, prior;
	enum status status = charge_usual_answer(machine, &usual, &usual_spread);

	*learning = (struct learning){
		.direction = direction(machine), .last_move_minutes = -INFINITY,
	};
	if (!status)
		status = check_log(steps, count);
	if (status)
		return status;
	learning->usual = usual;
	for (size_t i = 0; i < count; i++) {
		bool is_move = steps[i].added_oz != 0;

		if (is_move || i + 1 == count) {
			struct rest rest = look_back(steps, learning->since_move, i);
			if (is_at_rest(rest))
				learn_from_rest(learning, rest.newest);
		}
		if (is_move) {
			learning->since_rest_oz += steps[i].added_oz;
			learning->moved_oz += steps[i].added_oz;
			learning->last_move_minutes = steps[i].minutes;
			learning->since_move = i + 1;
		}
	}
	prior = 1 / (usual_spread * usual_spread);
	learning->slope = (prior * usual + learning->weighted) / (prior + learning->weight);
	learning->spread = 1 / sqrt(prior + learning->weight);
	if (learning->slope * learning->direction < LEAST_SHARE * fabs(usual))
		learning->slope = learning->direction * LEAST_SHARE * fabs(usual);
	return STATUS_OK;
}

enum status charge_learned_answer(const struct charge_machine *machine,
                                  const struct charge_step *steps, size_t count,
                                  double *slope_f_oz, double *spread_f_oz)
{
	struct learning learning;
	enum status status = learn(machine, steps, count, &learning);

	*slope_f_oz = status ? NAN : learning.slope;
	*spread_f_oz = status ? NAN : learning.spread;
	return status;
}

/* Whether what was moved changed the reading the wrong way, or not at all, beyond doubt. */
static bool is_unanswered(const struct learning *learning, double charge_oz)
{
	double seen, doubt;

	if (learning->told_oz < TELLING * charge_oz)
		return false;
	seen = learning->direction * learning->weighted / learning->weight;
	doubt = DEVIATIONS / sqrt(learning->weight);
	return seen + doubt < LEAST_SHARE / 2 * fabs(learning->usual);
}

/* Minutes to wait before another reading is worth having; 0 when settled. */
static double wait_for(const struct learning *learning, const struct charge_step *steps,
                       size_t count)
{
	double now = steps[count - 1].minutes, wait = CHARGE_WAIT_MINUTES;

	if (learning->since_move < count) {
		struct rest rest = look_back(steps, learning->since_move, count - 1);

		if (is_at_rest(rest))
			wait = 0;
		else
			wait = rest.newest ? CHARGE_SETTLED_MINUTES - rest.minutes
			                   : CHARGE_SETTLED_MINUTES;
	}
	return fmax(wait, learning->last_move_minutes + CHARGE_WAIT_MINUTES - now);
}

/* Sizes the next step for a point of rest that is off the target. */
static void size_move(double charge_oz, struct charge_advice *advice, double error)
{
	double size = fabs(advice->slope_f_oz);
	double strong = size + DEVIATIONS * advice->spread_f_oz;
	double pass = advice->is_off_scale ? ALLOWED_PASS_OFF_SCALE_F : ALLOWED_PASS_F;
	double most = fmin((fabs(error) + pass) / strong, CHARGE_LARGEST_MOVE * charge_oz);
	bool is_adding = advice->total_oz > 0;
	double move = fmin(fabs(advice->total_oz) * (is_adding ? ADDING_SHARE : 1), most);

	move = fmax(floor(move / LEAST_MOVE_OZ), 1) * LEAST_MOVE_OZ;
	advice->verdict = is_adding ? CHARGE_ADD : CHARGE_RECOVER;
	advice->move_oz = is_adding ? move : -move;
	advice->wait_minutes = CHARGE_WAIT_MINUTES;
}

/*
 * All that is to be moved for an error of the reading, and its 95 % plus/minus:
 * the meters' and the doubt about the answer.  The farther end of the range
 * goes to both sides: one number that holds on both sides.
 */
static void find_total(double error_f, double plus_minus_f, double slope, double spread,
                       double *total_oz, double *plus_minus_oz)
{
	double size = fabs(slope), off = fabs(error_f);
	double weak = fmax(size - DEVIATIONS * spread, WEAKEST_SHARE * size);
	double strong = size + DEVIATIONS * spread;
	double middle = off / size;

	*total_oz = -error_f / slope;
	*plus_minus_oz = fmax((off + plus_minus_f) / weak - middle,
	                      middle - (off - plus_minus_f) / strong);
}

enum status charge_usual_range(const struct charge_machine *machine, double error_f,
                               double plus_minus_f, double *total_oz, double *plus_minus_oz)
{
	double slope, spread;
	enum status status = charge_usual_answer(machine, &slope, &spread);

	*total_oz = *plus_minus_oz = NAN;
	if (!status && (!isfinite(error_f) || !isfinite(plus_minus_f)))
		status = STATUS_NOT_A_NUMBER;
	if (!status && plus_minus_f < 0)
		status = STATUS_NEGATIVE;
	if (!status)
		find_total(error_f, plus_minus_f, slope, spread, total_oz, plus_minus_oz);
	return status;
}

/* The same for the newest reading and what the log has shown. */
static void size_total(const struct charge_step *reading, double slope, double spread,
                       struct charge_advice *advice)
{
	double error = error_of(reading), size = fabs(slope);
	double strong = size + DEVIATIONS * spread;

	advice->slope_f_oz = slope;
	advice->spread_f_oz = spread;
	find_total(error, reading->plus_minus_f, slope, spread, &advice->total_oz,
	           &advice->total_plus_minus_oz);
	advice->may_overshoot = fabs(error) / size * strong - fabs(error) > CHARGE_TOLERANCE_F;
	advice->is_off_scale = reading->response_f < OFF_SCALE_F && error < 0;
}

/* Where the reading stands after the step, doubt about the answer included. */
static void foresee(const struct charge_step *reading, struct charge_advice *advice)
{
	double middle = reading->response_f + advice->slope_f_oz * advice->move_oz;
	double doubt = hypot(reading->plus_minus_f,
	                     DEVIATIONS * advice->spread_f_oz * advice->move_oz);

	advice->after_low_f = middle - doubt;
	advice->after_high_f = middle + doubt;
}

static const struct charge_step *newest_reading(const struct charge_step *steps, size_t count)
{
	while (count-- > 0)
		if (has_reading(&steps[count]))
			return &steps[count];
	return NULL;
}

static enum status advise(const struct charge_machine *machine, const struct charge_step *steps,
                          size_t count, struct charge_advice *advice)
{
	struct learning learning;
	const struct charge_step *reading = newest_reading(steps, count);
	double charge_oz = NAN, error;
	enum status status = find_charge(machine, &charge_oz);

	if (!status)
		status = learn(machine, steps, count, &learning);
	if (!status && !reading)
		status = STATUS_LOG_EMPTY;
	if (status)
		return status;
	error = error_of(reading);
	size_total(reading, learning.slope, learning.spread, advice);
	advice->move_oz = 0;
	advice->is_much = fabs(learning.moved_oz) > MUCH * charge_oz;
	advice->has_overshot = learning.rest == reading && learning.rest_before
	                       && error * error_of(learning.rest_before) < 0
	                       && fabs(error) > CHARGE_TOLERANCE_F;
	advice->wait_minutes = wait_for(&learning, steps, count);
	if (!machine->airflow_sound)
		advice->verdict = CHARGE_FIX_AIRFLOW;
	else if (advice->wait_minutes > 0)
		advice->verdict = CHARGE_WAIT;
	else if (is_unanswered(&learning, charge_oz))
		advice->verdict = CHARGE_NO_ANSWER;
	else if (fabs(error) <= CHARGE_TOLERANCE_F)
		advice->verdict = CHARGE_HOLD;
	else
		size_move(charge_oz, advice, error);
	foresee(reading, advice);
	return STATUS_OK;
}

enum status charge_advise(const struct charge_machine *machine, const struct charge_step *steps,
                          size_t count, struct charge_advice *advice)
{
	enum status status = advise(machine, steps, count, advice);

	if (status)
		*advice = (struct charge_advice){
			CHARGE_WAIT, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN,
			false, false, false, false,
		};
	return status;
}
