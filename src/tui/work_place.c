/*
 * Where one is on the page of the work: the lines of each part, and the field of a line.
 */
#include "tui/work_page.h"

const struct call *work_call(struct workbook *workbook)
{
	return session_call(workbook_session(workbook));
}

int work_rows(struct workbook *workbook, enum work_part part)
{
	const struct call *call = work_call(workbook);

	return part == PART_CHARGE ? (int)call->charge_count + 1
	     : part == PART_WORK ? (int)call->work_count + 1 : MONEY_LINE_COUNT;
}

struct form_place work_place(struct workbook *workbook, const struct work *work,
                             enum work_part part, int row, int column)
{
	const struct call *call = work_call(workbook);
	bool is_fresh = part != PART_MONEY && row >= work_rows(workbook, part) - 1;

	if (part == PART_CHARGE)
		return (struct form_place){ .kind = &work_charge_kind, .line = column, .is_fresh = is_fresh,
			.element = is_fresh ? &work->blank_charge : &call->charge[row],
			.uid = is_fresh ? &work->blank_charge.uid : &call->charge[row].uid };
	if (part == PART_WORK)
		return (struct form_place){ .kind = &work_line_kind, .line = column, .is_fresh = is_fresh,
			.element = is_fresh ? &work_blank_line : &call->work[row],
			.uid = is_fresh ? NULL : &call->work[row].uid };
	return (struct form_place){ .kind = &work_money_kind, .element = &call->billing, .line = row };
}
