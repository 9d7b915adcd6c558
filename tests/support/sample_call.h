#ifndef SUPPORT_SAMPLE_CALL_H
#define SUPPORT_SAMPLE_CALL_H

#include <padside/report/paper.h>

/*
 * An invented call with everything that a paper can show: a 3-ton R-410A split
 * with a fixed orifice that hums and trips; then its charge is low.
 */
struct sample {
	struct call call;                        /* the call */
	struct assessment assessment;            /* figures worked out, diagnoses written by hand */
	struct paper_visit visits[2];            /* before it */
	struct watch_item watch[1];              /* open before it */
	struct past_offer offered[1];            /* not taken before it */
	struct plot_point points[4];             /* of the run capacitor */
	struct trend trends[1];                  /* of the run capacitor */
	struct paper_input input;                /* all of it */
};

/* Fills in a sample; it must not be moved. */
void sample_init(struct sample *sample);
void sample_done(struct sample *sample);

#endif
