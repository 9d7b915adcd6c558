#ifndef PADSIDE_SLIPS_H
#define PADSIDE_SLIPS_H

#include <stdbool.h>

#include <padside/model/visit.h>

/*
 * Values that fit badly beside another of the call: a likely slip of the
 * decimal point, or of the unit, or a breaker that is larger than allowed.  They
 * are kept and asked about; what is kept is what was typed.
 */
enum slip_kind {
	SLIP_CHARGE,     /* a charge that fits no unit of that capacity */
	SLIP_TENTH,      /* about a tenth of its rating */
	SLIP_TENFOLD,    /* about ten times its rating */
	SLIP_BREAKER,    /* larger than the nameplate allows */
	SLIP_TEST_VOLTS, /* an insulation test at more volts than the motor bears */
	SLIP_WINDINGS    /* one pair of three windings above the two others together */
};

struct slip {
	enum slip_kind kind;  /* report/wording.h has its words */
	enum reading reading; /* what is asked about */
	enum reading beside;  /* what it does not fit; READING_NONE where that is no reading */
};

/*
 * What is to be asked where `reading` was typed in the stage; false, leaving *slip alone, where
 * nothing is.
 */
bool slip_find(const struct visit *visit, enum stage stage, enum reading reading,
               struct slip *slip);

#endif
