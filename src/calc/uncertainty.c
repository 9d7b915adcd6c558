/*
 * Numerical propagation of the instruments' accuracy.
 */
#include <padside/calc/uncertainty.h>

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

/* Moves tried one after another when a full one fails either way. */
static const double shares[] = { 1, 0.25, 0.05, 0.01 };

/* What is being propagated, and where it stands. */
struct propagation {
	uncertainty_function function;     /* the figure */
	void *context;                     /* its own */
	double inputs[UNCERTAINTY_INPUTS]; /* as read, one of them moved at a time */
	double value;                      /* of the inputs as read */
};

/* How far the figure goes when input `i` is moved by `move`; false when it fails there. */
static bool try_move(struct propagation *job, size_t i, double move, double *distance)
{
	double as_read = job->inputs[i];
	double out = NAN;
	enum status status;

	job->inputs[i] = as_read + move;
	status = job->function(job->inputs, job->context, &out);
	job->inputs[i] = as_read;
	*distance = out - job->value;
	return status == STATUS_OK && isfinite(*distance);
}

/* Square of the part that input `i` has in the plus/minus. */
static enum status part_of(struct propagation *job, size_t i, double accuracy, double *square)
{
	for (size_t s = 0; s < sizeof shares / sizeof *shares; s++) {
		double up, down, move = accuracy * shares[s];
		bool is_up = try_move(job, i, move, &up);
		bool is_down = try_move(job, i, -move, &down);

		if (!is_up && !is_down)
			continue;
		up = is_up ? up : down;
		down = is_down ? down : up;
		*square = (up * up + down * down) / (2 * shares[s] * shares[s]);
		return STATUS_OK;
	}
	return STATUS_NO_CONVERGENCE;
}

enum status uncertainty_propagate(uncertainty_function function, void *context,
                                  const double *inputs, const double *accuracies, size_t count,
                                  double *value, double *plus_minus)
{
	struct propagation job = { .function = function, .context = context };
	double sum = 0;
	enum status status;

	assert(count <= UNCERTAINTY_INPUTS);
	*value = *plus_minus = NAN;
	if (count > 0)
		memcpy(job.inputs, inputs, count * sizeof *inputs);
	status = function(job.inputs, context, &job.value);
	if (status)
		return status;
	*value = job.value;
	for (size_t i = 0; i < count; i++) {
		double square = 0;

		if (!isfinite(accuracies[i]))
			return STATUS_NOT_A_NUMBER;
		if (accuracies[i] < 0)
			return STATUS_NEGATIVE;
		if (accuracies[i] > 0)
			status = part_of(&job, i, accuracies[i], &square);
		if (status)
			return status;
		sum += square;
	}
	*plus_minus = sqrt(sum);
	return STATUS_OK;
}
