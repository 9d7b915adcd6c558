#ifndef PADSIDE_DIAGNOSE_PAST_H
#define PADSIDE_DIAGNOSE_PAST_H

#include <stdbool.h>

#include <padside/catalog/catalog.h>
#include <padside/model/visit.h>

/*
 * The unit's own past: what its circuit showed on earlier visits, kept small,
 * so that today's readings are held against this unit and not only against
 * units of its kind.  Plain data, no allocation: copy it freely.
 *
 * Who fills it: oldest visit first, each with the stage in which the unit was
 * as it was left; past_end() where the work changed the unit.
 */

enum { MOST_PAST_VISITS = 6, PAST_SEEN_MOST = 20, PAST_AIR_COUNT = 3 };

/* One earlier visit, in the measures of `enum seen` (src/diagnose/circuit.h). */
struct past_visit {
	double value[PAST_SEEN_MOST];   /* what was seen */
	double sd[PAST_SEEN_MOST];      /* of its instrument */
	bool taken[PAST_SEEN_MOST];     /* whether it was */
	double air[PAST_AIR_COUNT];     /* outdoor, return, return wet bulb, °F, or the usual */
	double air_sd[PAST_AIR_COUNT];  /* of each; wide where it was not taken */
	double sound;                   /* probability that nothing was wrong with the circuit then */
	enum choice refrigerant;        /* then in it; CHOICE_NONE unknown */
};

struct past {
	struct past_visit visits[MOST_PAST_VISITS]; /* oldest first */
	int count;                                  /* of them; 0: nothing is known */
};

/*
 * How one figure of today stands to this unit's own earlier visits: "head
 * 9 °F above this unit's own, 2 visits".
 */
struct own_difference {
	enum figure figure;   /* or FIGURE_NONE and */
	enum reading reading; /* READING_NONE when it is a figure */
	double difference;    /* today less what this unit would show today, canonical unit */
	double plus_minus;    /* 95 % of that difference when nothing changed */
	int visits;           /* earlier visits that it rests on */
};

/*
 * Adds the visit of this unit that followed those in `past`; the oldest makes
 * room when it is full.  `judged_sound`: somebody found or left the circuit in
 * order; else the readings themselves decide how far they count.  A visit
 * without circuit readings of a running unit adds nothing: false.
 */
bool past_add(struct past *past, const struct visit *visit, enum stage stage, bool judged_sound);

/*
 * The stage of an earlier visit that shows the unit as it was left: as left
 * where its circuit was read then, else as found.
 */
enum stage past_stage(const struct visit *visit);

/*
 * The work changed the unit (compressor, coil, refrigerant or metering device):
 * what it showed before says nothing any more.
 */
void past_end(struct past *past);

/*
 * Whether two nameplates of one unit, the earlier first, are of different
 * units inside: another model, refrigerant, metering device, compressor or
 * coil.  What only one of them says does not count.
 */
bool past_is_refit(const struct visit *before, const struct visit *after);

/*
 * Whether among the parts of a visit, behind each other with ";", is one that
 * makes another circuit of the unit: compressor, coil, metering device,
 * conversion to another refrigerant.
 */
bool past_parts_are_refit(const char *parts);

#endif
