/*
 * The two sides of a comparison on the page of a unit's history.
 */
#include "tui/history_page.h"

bool history_has_sides(const struct history_screen *screen)
{
	return screen->history.visit_count > 0;
}

struct sides history_sides(const struct history_screen *screen)
{
	const struct past_call *visits = screen->history.visits;
	int chosen = list_chosen(&screen->visits), mark = screen->mark;

	if (mark == HISTORY_NO_MARK || mark == chosen)
		return (struct sides){ &visits[chosen], &visits[chosen], STAGE_AS_FOUND, STAGE_AS_LEFT };
	/* The newest visit is the first. */
	int older = mark > chosen ? mark : chosen, newer = mark > chosen ? chosen : mark;
	return (struct sides){ &visits[older], &visits[newer], screen->stage, STAGE_AS_FOUND };
}

void history_read_on(struct history_screen *screen, int by)
{
	int last = screen->change_count - screen->change_rows;
	int top = screen->change_top + by;

	screen->change_top = top > last ? last : top;
	if (screen->change_top < 0)
		screen->change_top = 0;
}

int history_hold(int value, int least, int most)
{
	return value < least ? least : value > most ? most : value;
}
