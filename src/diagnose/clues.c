/* All the clues of a visit, part by part. */
#include "diagnose/clue_makers.h"

void clues_collect(const struct view *view, struct clues *clues)
{
	clues->count = 0;
	clues_of_supply(view, clues);
	clues_of_control(view, clues);
	clues_of_capacitors(view, clues);
	clues_of_windings(view, clues);
	clues_of_motors(view, clues);
	clues_of_blower(view, clues);
	clues_of_air(view, clues);
}
