/*
 * What is still open when the call is over, and whether the unit may be used until it is done.
 */
#include "report/paper_parts.h"

#include <string.h>

#include <padside/model/charging.h>
#include <padside/model/moved.h>
#include <padside/model/power.h>
#include <padside/model/tightness.h>
#include <padside/report/told.h>

static bool is_off(const struct paper *paper)
{
	return power_is_off(power_of_call(paper->call).state);
}

/* What was worked on and not measured again may be done: it is open where it was put off. */
static bool is_open(const struct paper *paper, enum stage stage, const struct finding *finding)
{
	bool is_put_off = paper_is_put_off(paper, finding);

	if (paper_is_taken_out(paper) || !paper_is_told(paper, stage, finding) ||
	    (finding->level == LEVEL_NOTE && !is_put_off))
		return false;
	switch (finding->after_work) {
	case AFTER_WORK_GONE:
		return false;
	case AFTER_WORK_STILL_THERE:
		return true;
	case AFTER_WORK_NOT_TESTED:
		return is_put_off;
	default:
		return stage == STAGE_AS_LEFT || is_put_off || is_off(paper) || !paper_lists_work(paper);
	}
}

/* What is less than likely keeps nobody from using a unit, nor what is likely one that may run. */
static bool is_kind(const struct paper *paper, const struct finding *finding, enum meanwhile kind)
{
	if (fault_info(finding->fault)->meanwhile == MEANWHILE_STOP)
		return kind == MEANWHILE_OFF &&
		       (finding->level == LEVEL_ACT || paper_is_sure(paper, finding));
	return fault_info(finding->fault)->meanwhile == kind &&
	       (kind != MEANWHILE_OFF || paper_is_sure(paper, finding) ||
	        (is_off(paper) && finding->probability >= told_likely_from));
}

/* What is open of a kind. */
struct open {
	const char *names; /* in one list; "" for nothing */
	bool has_watched;  /* some of it is only looked at again */
	bool has_due;      /* some of it is to be done */
};

/* Gathers what is open of a kind; MEANWHILE_COUNT: of all. */
static struct open open_of(const struct paper *paper, enum meanwhile kind)
{
	bool was_told[FAULT_COUNT] = { false };
	struct open open = { .names = "" };
	struct text names;

	text_init(&names);
	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];
		for (int i = 0; i < diagnosis->finding_count; i++) {
			const struct finding *finding = &diagnosis->findings[i];
			if (was_told[finding->fault] || !is_open(paper, (enum stage)stage, finding) ||
			    (kind != MEANWHILE_COUNT && !is_kind(paper, finding, kind)))
				continue;
			bool is_watched = paper_is_watched(paper, finding);
			was_told[finding->fault] = true;
			open.has_watched = open.has_watched || is_watched;
			open.has_due = open.has_due || !is_watched;
			paper_join(&names, ", ", paper_fault(paper, finding->fault));
		}
	}
	open.names = document_keep(paper->document, text_get(&names));
	text_done(&names);
	return open;
}

const char paper_leak[] = "a leak of refrigerant";

const char *paper_open_names(const struct paper *paper)
{
	const char *names = open_of(paper, MEANWHILE_COUNT).names;

	if (!paper_leak_is_open(paper))
		return names;
	return document_format(paper->document, "%s%s%s", names, *names ? ", " : "", paper_leak);
}

bool paper_is_switched_off(const struct paper *paper)
{
	return is_off(paper) && *open_of(paper, MEANWHILE_OFF).names;
}

static void tell_off(const struct paper *paper, const char *names)
{
	document_paragraph(paper->document, TONE_ACT,
		document_format(paper->document, is_off(paper)
			? "The unit is switched off. Do not switch it on until this is "
			  "repaired or replaced: %s."
			: "Do not use the unit until this is repaired or replaced: %s.", names));
}

/* Whether refrigerant was taken out, all or most of it, and none put in. */
static bool is_emptied(const struct paper *paper)
{
	static const double most_of_it = 0.5;

	struct moved moved;
	double factory_oz;

	moved_work_out(paper->call, &moved);
	if (visit_number(&paper->call->visit, STAGE_AS_FOUND, READING_FACTORY_CHARGE, &factory_oz) !=
	    STATUS_OK)
		factory_oz = 0;
	return moved.recovered_oz > most_of_it * factory_oz && !(moved.added_oz > 0);
}

/* Whether the circuit may not be ready to run: emptied, or its evacuation not seen to hold. */
static bool is_circuit_open(const struct paper *paper)
{
	struct tightness_told tightness;

	tightness_work_out(paper->call, &tightness);
	bool is_evacuated = tightness.vacuum == VACUUM_NONE || tightness.vacuum == VACUUM_HELD;
	return !paper_is_taken_out(paper) && (!is_evacuated || is_emptied(paper));
}

/* Tells that the unit stays off for what is beside the findings; false where it may be used. */
static bool tell_unready(const struct paper *paper)
{
	bool is_any = *open_of(paper, MEANWHILE_USE).names || *open_of(paper, MEANWHILE_COOL).names;

	if (is_circuit_open(paper)) {
		/* One that ran since is no danger, and no proof either. */
		if (!charging_is_read_since(paper->call))
			document_paragraph(paper->document, TONE_ACT,
			                   "Leave the unit off: its refrigerant circuit is not ready to run.");
		return true;
	}
	if (is_off(paper) && is_any)
		document_paragraph(paper->document, TONE_ACT,
		                   "The unit was switched off for work. Ask us before you switch it on.");
	return is_off(paper);
}

bool paper_tells_use(const struct paper *paper)
{
	return paper_stays_off_for(paper) == FAULT_NONE && !power_left_locked(paper->call) &&
	       !is_off(paper) && !is_circuit_open(paper) &&
	       !*open_of(paper, MEANWHILE_OFF).names && *open_of(paper, MEANWHILE_USE).names;
}

void paper_tell_meanwhile(const struct paper *paper)
{
	static const struct {
		enum meanwhile kind; /* of what is open */
		const char *words;   /* what ends the use */
	} uses[] = {
		{ MEANWHILE_USE, "Switch it off if it smells burnt, smokes, sparks, hums without starting "
		                 "or trips its breaker." },
		{ MEANWHILE_COOL, "Switch it off if ice forms or it no longer cools." },
	};
	const char *off = open_of(paper, MEANWHILE_OFF).names;

	/* That it must stay off is told already. */
	if (paper_stays_off_for(paper) != FAULT_NONE ||
	    power_left_locked(paper->call))
		return;
	if (*off) {
		tell_off(paper, off);
		return;
	}
	if (tell_unready(paper))
		return;
	for (size_t i = 0; i < sizeof uses / sizeof *uses; i++) {
		struct open open = open_of(paper, uses[i].kind);
		if (*open.names)
			document_paragraph(paper->document, TONE_WATCH,
				document_format(paper->document,
				                "You may use the unit until this is %s%s%s: %s. %s",
				                open.has_due ? "repaired" : "", open.has_due &&
				                open.has_watched ? " or " : "",
				                open.has_watched ? "looked at again" : "", open.names,
				                uses[i].words));
	}
}
