#ifndef TUI_CHOICE_LINES_H
#define TUI_CHOICE_LINES_H

#include "tui/form.h"

/* What is written on the page of the options: the tables of its lines. */

/* The lines of an option, then those of the season below all options. */
enum {
	OPTION_TITLE, OPTION_PRICE_LOW, OPTION_PRICE_HIGH, OPTION_YEARS_LOW, OPTION_YEARS_HIGH,
	OPTION_SEER, OPTION_DECISION, OPTION_DECIDED_BY, OPTION_NOTE, OPTION_COUNT,
	OPTION_HOURS = OPTION_COUNT, OPTION_RATE, OPTION_ALL
};

extern const struct form_kind choice_offer_kind, choice_season_kind;

/* Nothing written yet. */
extern const struct offer choice_blank;

#endif
