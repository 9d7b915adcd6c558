/*
 * What a figure stands for, where its readings decide that: its name, and what it leaves out.
 */
#include <padside/model/figures.h>

const char *figure_name(const struct visit *visit, enum stage stage, enum figure figure)
{
	/* What was not measured across the coil or the filter is still in the sum. */
	if (figure == FIGURE_DUCT_STATIC && !visit_has(visit, stage, READING_COIL_DROP))
		return "static of ducts and coil";
	if (figure == FIGURE_DUCT_STATIC && !visit_has(visit, stage, READING_FILTER_DROP))
		return "static, ducts and filter";
	return figure_info(figure)->label;
}

const char *figure_caution(const struct visit *visit, enum stage stage, enum figure figure)
{
	/* Each other load on the circuit adds to it: NEC 440.33. */
	if (figure == FIGURE_CIRCUIT_AMPACITY_NEEDED &&
	    !visit_has(visit, stage, READING_MIN_CIRCUIT_AMPACITY))
		return "compressor and outdoor fan only; for a package add the blower; do not size wire by it "
		       "alone";
	return "";
}
