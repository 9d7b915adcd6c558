#ifndef PADSIDE_ASSESSMENT_H
#define PADSIDE_ASSESSMENT_H

#include <padside/diagnose/diagnose.h>
#include <padside/model/charging.h>

/*
 * What the readings of a call mean, both stages at once: the one place where
 * figures and diagnosis are worked out together.  Facts only, in canonical
 * units.  Pure: no allocation, no I/O, the same answer every time.
 */

/* What is assessed. */
struct assessment_input {
	const struct call *call; /* readings and judgements; borrowed */
	const struct past *past; /* of the unit; NULL: none is known; borrowed */
	bool with_before;        /* also work out each finding's probability_before */
};

struct assessment {
	struct figure_set figures[STAGE_COUNT];  /* of the readings, by stage */
	struct diagnosis diagnoses[STAGE_COUNT]; /* of the same */
	bool was_read[STAGE_COUNT]; /* something was read in the stage, safety answers apart */
	enum stage leading;         /* which one speaks: as left only when nothing was read as found */
};

/*
 * Works out everything.  A finding that the technician judged follows the
 * judgement: confirmed is to be acted on and stands first, watch is watched,
 * ruled out is a note and stands last.  A confirmed fault that the readings do
 * not show is added, with no evidence.
 */
void assessment_make(const struct assessment_input *input, struct assessment *assessment);

/*
 * The one advice on the charge: what the log and the readings of a stage ask
 * for, unless a finding has to be repaired first.
 */
void assessment_charging(const struct call *call, const struct assessment *assessment,
                         enum stage stage, struct charging *charging);

#endif
