/*
 * Numerical propagation of the instruments' accuracy.
 */
#include <padside/calc/uncertainty.h>

#include <assert.h>
#include <math.h>
#include <stdbool.h>

/* Moves tried one after another when a full one fails either way. */
static const double shares[] = { 1, 0.25, 0.05, 0.01 };

/* What is being propagated, and where it stands. */
struct propagation {
	uncertainty_function function;        /* the figure */
	void *context;                        /* its own */
	const struct uncertain_input *inputs; /* as read */
	size_t count;                         /* of them */
	double numbers[UNCERTAINTY_INPUTS];   /* as read, some of them moved */
	double value;                         /* of the inputs as read */
};

/* Which inputs are moved together, and by which of their ±. */
struct move {
	size_t first;  /* this one … */
	bool is_shared; /* … or all of its meter, by what they share */
};

static bool is_moved(const struct propagation *job, struct move move, size_t i)
{
	return i == move.first || (move.is_shared && job->inputs[move.first].meter != 0 &&
	                           job->inputs[i].meter == job->inputs[move.first].meter);
}

/* How far the figure goes under a move; false when it fails there. */
static bool try_move(struct propagation *job, struct move move, double share, double *distance)
{
	double out = NAN;
	enum status status;

	for (size_t i = 0; i < job->count; i++) {
		const struct uncertain_input *input = &job->inputs[i];
		job->numbers[i] = input->value;
		if (is_moved(job, move, i))
			job->numbers[i] += share * (move.is_shared ? input->shared : input->own);
	}
	status = job->function(job->numbers, job->context, &out);
	*distance = out - job->value;
	return status == STATUS_OK && isfinite(*distance);
}

/* Square of the part that a move has in the plus/minus. */
static enum status part_of(struct propagation *job, struct move move, double *square)
{
	for (size_t s = 0; s < sizeof shares / sizeof *shares; s++) {
		double up, down;
		bool is_up = try_move(job, move, shares[s], &up);
		bool is_down = try_move(job, move, -shares[s], &down);

		if (!is_up && !is_down)
			continue;
		up = is_up ? up : down;
		down = is_down ? down : up;
		*square = (up * up + down * down) / (2 * shares[s] * shares[s]);
		return STATUS_OK;
	}
	return STATUS_NO_CONVERGENCE;
}

/* Whether an earlier input was taken with the same meter. */
static bool is_done(const struct propagation *job, size_t i)
{
	for (size_t j = 0; j < i; j++)
		if (job->inputs[j].meter != 0 && job->inputs[j].meter == job->inputs[i].meter)
			return true;
	return false;
}

/*
 * The plus/minus that comes from the meter of input `first`: its readings' own parts and the
 * shared.
 */
static enum status part_of_meter(struct propagation *job, size_t first, double *part)
{
	double own = 0, shared = 0, square;
	enum status status = STATUS_OK;

	for (size_t i = first; i < job->count && status == STATUS_OK; i++) {
		if (!is_moved(job, (struct move){ first, true }, i) || job->inputs[i].own == 0)
			continue;
		status = part_of(job, (struct move){ i, false }, &square);
		own += square;
	}
	if (status == STATUS_OK && job->inputs[first].shared != 0) {
		status = part_of(job, (struct move){ first, true }, &square);
		shared = square;
	}
	*part = sqrt(own) + sqrt(shared);
	return status;
}

static enum status check_inputs(const struct uncertain_input *inputs, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (!isfinite(inputs[i].own) || !isfinite(inputs[i].shared))
			return STATUS_NOT_A_NUMBER;
		if (inputs[i].own < 0 || inputs[i].shared < 0)
			return STATUS_NEGATIVE;
	}
	return STATUS_OK;
}

enum status uncertainty_propagate(uncertainty_function function, void *context,
                                  const struct uncertain_input *inputs, size_t count,
                                  double *value, double *plus_minus)
{
	struct propagation job = {
		.function = function, .context = context, .inputs = inputs, .count = count,
	};
	double sum = 0;
	enum status status;

	assert(count <= UNCERTAINTY_INPUTS);
	*value = *plus_minus = NAN;
	for (size_t i = 0; i < count; i++)
		job.numbers[i] = inputs[i].value;
	status = function(job.numbers, context, &job.value);
	if (status)
		return status;
	*value = job.value;
	status = check_inputs(inputs, count);
	for (size_t i = 0; i < count && status == STATUS_OK; i++) {
		double part = 0;

		if (!is_done(&job, i))
			status = part_of_meter(&job, i, &part);
		sum += part * part;
	}
	if (status == STATUS_OK)
		*plus_minus = sqrt(sum);
	return status;
}
