#ifndef DIAGNOSE_MEASURED_H
#define DIAGNOSE_MEASURED_H

#include "diagnose/clues.h"

/*
 * What a reading states by itself: a capacitor out of tolerance, an OL, an
 * open fuse.  A stated fault is no guess and needs no probability; what is
 * measured sound cannot be found faulty.
 */
enum measured_state { MEASURED_NOTHING, MEASURED_SOUND, MEASURED_FAULTY };

struct measurements {
	enum measured_state of[STATE_COUNT]; /* by state; sound: it is not in this one */
};

void measure_states(const struct view *view, struct measurements *measurements);

#endif
