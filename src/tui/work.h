#ifndef TUI_WORK_H
#define TUI_WORK_H

#include "tui/form.h"

/* What is written on the page of the work: the tables of its three parts. */

/* Columns of a line of the charge log; the readings follow CHARGE_COLUMN_READINGS. */
enum {
	CHARGE_COLUMN_AT, CHARGE_COLUMN_ADDED, CHARGE_COLUMN_RECOVERED, CHARGE_COLUMN_CYLINDER,
	CHARGE_COLUMN_READINGS,
	CHARGE_COLUMN_NOTE = CHARGE_COLUMN_READINGS + CHARGE_READING_COUNT,
	CHARGE_COLUMN_COUNT
};

/* Columns of a line of the work. */
enum {
	WORK_COLUMN_KIND, WORK_COLUMN_DESCRIPTION, WORK_COLUMN_QUANTITY, WORK_COLUMN_PRICE,
	WORK_COLUMN_CHARGED, WORK_COLUMN_NOTE, WORK_COLUMN_COUNT
};

/* Lines of the money. */
enum {
	MONEY_LINE_DISCOUNT, MONEY_LINE_DEPOSIT, MONEY_LINE_TAX,
	MONEY_LINE_COUNT = MONEY_LINE_TAX + WORK_KIND_COUNT
};

extern const struct form_kind work_charge_kind, work_line_kind, work_money_kind;

/* Nothing written yet. */
extern const struct charge_entry work_blank_charge;
extern const struct work_line work_blank_line;

#endif
