#ifndef PADSIDE_ASSESSMENT_H
#define PADSIDE_ASSESSMENT_H

#include <padside/diagnose/diagnose.h>

/*
 * What the readings of a call mean, both stages at once: the one place where
 * figures and diagnosis are worked out together.  Facts only, in canonical
 * units.  Pure: no allocation, no I/O, the same answer every time.
 */

/* What is assessed. */
struct assessment_input {
	const struct visit *visit; /* the readings; borrowed */
	bool with_before;          /* also work out each finding's probability_before */
};

struct assessment {
	struct figure_set figures[STAGE_COUNT];  /* of the readings, by stage */
	struct diagnosis diagnoses[STAGE_COUNT]; /* of the same */
	bool was_read[STAGE_COUNT]; /* something was read in the stage, safety answers apart */
	enum stage leading;         /* which one speaks: as left only when nothing was read as found */
};

/* Works out everything. */
void assessment_make(const struct assessment_input *input, struct assessment *assessment);

#endif
