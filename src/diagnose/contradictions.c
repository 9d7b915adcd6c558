/*
 * Contradictions: what physics does not allow, beyond the instruments' error.
 *
 * They ask to check the meter, not the part, and stand beside the findings.
 * Each rule is a row of contradictions.def: two quantities, the one that must
 * not exceed the other, and by how much readings may be off.
 */
#include "diagnose/contradictions.h"

#include <math.h>

/* When a rule holds. */
enum when {
	WHEN_ALWAYS, WHEN_RUNNING, WHEN_PUMPING, WHEN_COMPRESSOR_SILENT, WHEN_STANDS_AND_READ,
	WHEN_FAN_SILENT, WHEN_BLOWER_SILENT, WHEN_START_READS_MORE
};

/* A figure or a reading; both none: no term. */
struct term {
	enum figure figure;
	enum reading reading;
};

/* How two terms make one number. */
enum combination { COMBINE_SUM, COMBINE_DIFFERENCE, COMBINE_LARGER };

/* The terms combined, times `times`, plus `plus`; without terms, `plus`. */
struct combined {
	struct term terms[2];
	enum combination combination;
	double times, plus;
};

struct contradiction_rule {
	enum when when;                       /* what has to be seen for it to hold */
	struct combined low, high;            /* `low` must not lie above `high` */
	double slack;                         /* nor by this much, canonical unit */
	struct combined also_low, also_high;  /* another such pair; all 0: none */
	bool may_be_right;                    /* both may be, of another moment than what was seen */
};

#define OF_FIGURE(id) { .figure = FIGURE_##id }
#define OF_READING(id) { .reading = READING_##id }
#define FIGURE_OF(id) { .terms = { OF_FIGURE(id) }, .times = 1 }
#define READING_OF(id) { .terms = { OF_READING(id) }, .times = 1 }
#define NUMBER(number) { .plus = number }
#define SCALED(term, times_, plus_) { .terms = { term }, .times = times_, .plus = plus_ }
#define SUM(a, b) { .terms = { a, b }, .combination = COMBINE_SUM, .times = 1 }
#define LESS(a, b) { .terms = { a, b }, .combination = COMBINE_DIFFERENCE, .times = 1 }
#define LARGER(a, b) { .terms = { a, b }, .combination = COMBINE_LARGER, .times = 1 }

static const struct contradiction_rule rules[CONTRADICTION_COUNT] = {
#define CONTRADICTION(id, words, ...) [CONTRADICTION_##id] = { __VA_ARGS__ },
#include <padside/diagnose/contradictions.def>
#undef CONTRADICTION
};

/* Steady running before pressures count (RA3.2): after less it was not started between. */
enum { STEADY_SECONDS = 15 * 60 };

/* Whether it was started by then: it ran for minutes that were written later, or as left. */
static bool was_started(const struct view *view, wall_time seen, wall_time by)
{
	const struct value *left = visit_value(view->visit, STAGE_AS_LEFT, READING_COMPRESSOR_STATE);
	wall_time written = visit_value(view->visit, view->stage, READING_RUNNING_MINUTES)->taken_at;
	double minutes = view_number(view, READING_RUNNING_MINUTES);

	if (minutes > 0 && written != WALL_TIME_NONE && written >= seen)
		return (double)written - 60 * minutes <= (double)by;
	return left->choice == CHOICE_COMPRESSOR_STATE_RUNS && left->taken_at != WALL_TIME_NONE &&
	       left->taken_at >= seen && left->taken_at <= by;
}

/*
 * Whether the compressor was started between what was seen of it and the pressures, or may have
 * been.
 */
static bool may_have_run_since(const struct view *view)
{
	wall_time seen = visit_value(view->visit, view->stage, READING_COMPRESSOR_STATE)->taken_at;
	wall_time read = visit_value(view->visit, view->stage, READING_LIQUID_PRESSURE)->taken_at;

	return seen != WALL_TIME_NONE && read != WALL_TIME_NONE &&
	       (read - seen >= STEADY_SECONDS || was_started(view, seen, read));
}

static bool holds(const struct view *view, enum when when)
{
	enum choice state = view_choice(view, READING_COMPRESSOR_STATE);

	switch (when) {
	case WHEN_RUNNING:
		return (state == CHOICE_NONE || state == CHOICE_COMPRESSOR_STATE_RUNS) &&
		       visit_circuit_ran(view->visit, view->stage);
	case WHEN_PUMPING:
		/*
		 * One that turns and does not pump, as backwards, leaves the circuit at rest: nothing is
		 * below saturation nor outdoor air then that could not be.
		 */
		return holds(view, WHEN_RUNNING) &&
		       visit_pressures(view->visit, view->stage) != PRESSURES_TOGETHER;
	case WHEN_COMPRESSOR_SILENT:
		return state == CHOICE_COMPRESSOR_STATE_SILENT;
	case WHEN_STANDS_AND_READ:
		return (state == CHOICE_COMPRESSOR_STATE_SILENT || state == CHOICE_COMPRESSOR_STATE_HUMS) &&
		       !may_have_run_since(view);
	case WHEN_START_READS_MORE: /* on every kind but some rotaries */
		return view_choice(view, READING_COMPRESSOR_KIND) != CHOICE_COMPRESSOR_KIND_ROTARY;
	case WHEN_FAN_SILENT:
		return view_choice(view, READING_FAN_STATE) == CHOICE_MOTOR_STATE_SILENT;
	case WHEN_BLOWER_SILENT:
		return view_choice(view, READING_BLOWER_STATE) == CHOICE_MOTOR_STATE_SILENT;
	default:
		return true;
	}
}

static bool is_term(const struct term *term)
{
	return term->figure != FIGURE_NONE || term->reading != READING_NONE;
}

/* The number of a term and its error; NAN when it is not known. */
static double measure_term(const struct view *view, const struct term *term, double *error)
{
	double number;

	if (term->figure != FIGURE_NONE) {
		number = view_figure(view, term->figure);
		*error = view->set->values[term->figure].plus_minus;
	} else {
		number = view_number(view, term->reading);
		*error = isnan(number) ? 0 : reading_accuracy(term->reading, number);
	}
	return number;
}

/* The number of a quantity and its error; NAN when a term is not known. */
static double measure(const struct view *view, const struct combined *quantity, double *error)
{
	double numbers[2] = { 0, 0 }, errors[2] = { 0, 0 }, number;

	for (int i = 0; i < 2; i++)
		if (is_term(&quantity->terms[i]))
			numbers[i] = measure_term(view, &quantity->terms[i], &errors[i]);
	*error = fabs(quantity->times) * hypot(errors[0], errors[1]);
	switch (quantity->combination) {
	case COMBINE_DIFFERENCE:
		number = numbers[0] - numbers[1];
		break;
	case COMBINE_LARGER:
		/* fmax() would pass over a number that is not known. */
		number = numbers[0] > numbers[1] ? numbers[0] : numbers[1];
		number = isnan(numbers[0]) ? NAN : number;
		break;
	default:
		number = numbers[0] + numbers[1];
		break;
	}
	return quantity->times * number + quantity->plus;
}

static bool exceeds(const struct view *view, const struct combined *low,
                    const struct combined *high, double slack)
{
	double low_error, high_error;
	double low_number = measure(view, low, &low_error);
	double high_number = measure(view, high, &high_error);

	return !isnan(low_number) && !isnan(high_number) &&
	       low_number - high_number > hypot(low_error, high_error) + slack;
}

static bool has_second(const struct contradiction_rule *rule)
{
	return is_term(&rule->also_low.terms[0]) || is_term(&rule->also_high.terms[0]);
}

static bool is_broken(const struct view *view, const struct contradiction_rule *rule)
{
	return holds(view, rule->when) && exceeds(view, &rule->low, &rule->high, rule->slack) &&
	       (!has_second(rule) || exceeds(view, &rule->also_low, &rule->also_high, 0));
}

static void quote(const struct view *view, const struct combined *quantity,
                  struct contradiction *contradiction)
{
	double ignored;

	for (int i = 0; i < 2 && contradiction->quoted_count < MOST_QUOTED; i++) {
		const struct term *term = &quantity->terms[i];
		if (is_term(term))
			contradiction->quoted[contradiction->quoted_count++] = (struct quoted){
				.figure = term->figure, .reading = term->reading,
				.value = measure_term(view, term, &ignored) };
	}
}

void contradictions_find(const struct view *view, struct diagnosis *diagnosis)
{
	diagnosis->contradiction_count = 0;
	for (int i = 0; i < CONTRADICTION_COUNT; i++) {
		if (!is_broken(view, &rules[i]))
			continue;
		if (diagnosis->contradiction_count == MOST_CONTRADICTIONS)
			return;
		struct contradiction *found = &diagnosis->contradictions[diagnosis->contradiction_count++];
		*found = (struct contradiction){ .id = (enum contradiction_id)i,
			                                 .may_be_right = rules[i].may_be_right };
		quote(view, &rules[i].low, found);
		quote(view, &rules[i].high, found);
	}
}
