/*
 * The duct that the blower works against, and the load that the house gives.
 */
#include "diagnose/clue_makers.h"

#include <math.h>

#include "diagnose/density.h"

static void collect_duct(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_DUCT, FIGURE_TOTAL_EXTERNAL_STATIC);

	if (clue) {
		/* 0.5 in. w.c. is the usual rating point. */
		double x = clue->value, sd = clue_meter_sd(clue, 0.01);
		double good = 0.6 * density_normal(x, 0.42, hypot(0.1, sd)) +
		              0.4 * density_even(x, 0.08, 0.52, sd);
		clue_set(clue, (double[]){ good, density_even(x, 0.5, 0.68, sd),
		                                  0.8 * density_even(x, 0.62, 1.1, sd) +
		                                  0.2 * density_even(x, 0.62, 2.5, sd) });
		clue_expect(clue, 0.45);
	}
}

/*
 * Cool, dry return air: a condition.  Below about 59 °F wet bulb an orifice
 * machine has no target superheat in warm weather (RA3.2's 5 °F floor).
 */
static void collect_load(const struct view *view, struct clues *clues)
{
	double dry = view_number(view, READING_RETURN_DB);
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_LOAD, FIGURE_RETURN_WB);

	if (!clue)
		return;
	double sd = hypot(clue_meter_sd(clue, 0.3), 1.0);
	double usual = 0.8 * density_normal(clue->value, 64, 3.5) +
	               0.2 * density_even(clue->value, 55, 78, sd);
	double low = density_even(clue->value, 44, 57.5, sd);
	/* A cool room with a low wet bulb is low load twice over. */
	if (!isnan(dry)) {
		usual *= density_tailed(dry, 77, 4);
		low *= density_tailed(dry, 69, 4);
	}
	clue_set(clue, (double[]){ usual, low });
	clue_expect(clue, 63);
}

void clues_of_air(const struct view *view, struct clues *clues)
{
	collect_duct(view, clues);
	collect_load(view, clues);
}
