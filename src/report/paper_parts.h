#ifndef REPORT_PAPER_PARTS_H
#define REPORT_PAPER_PARTS_H

#include <padside/report/paper.h>

/* The parts of the report, one file each; paper.c puts them in order. */

struct paper {
	const struct paper_input *input; /* what is known; borrowed */
	const struct call *call;         /* input->call */
	enum paper_reader reader;        /* for whom */
	bool for_office;                 /* reader is PAPER_OFFICE */
	struct document *document;       /* what is written; borrowed */
};

/* paper_words.c */
const char *paper_day(const struct paper *paper, wall_time time);
const char *paper_moment(const struct paper *paper, wall_time time);
const char *paper_money(const struct paper *paper, cents amount);
/* An estimate: rounded to whole dollars, or whatever the currency is. */
const char *paper_money_about(const struct paper *paper, cents amount);
/* The first letter made a capital. */
const char *paper_capital(const struct paper *paper, const char *words);

/* "call us (555-0199)", `where` behind "us"; `otherwise` when the head has no phone. */
const char *paper_call_us(const struct paper *paper, const char *where, const char *otherwise);

/* What a fault is called: by its label, for the customer in plain words where it has them. */
const char *paper_fault(const struct paper *paper, enum fault fault);
/* Appends a piece behind ", " (or another mark); nothing for an empty piece. */
void paper_join(struct text *text, const char *mark, const char *piece);
/* Appends "; cylinder N-0502"; nothing where none is said. */
void paper_join_cylinder(struct text *text, const char *cylinder);

/* paper_readings.c */
/* Whether anything was read in a stage, safety apart. */
bool paper_has_readings(const struct paper *paper, enum stage stage);
/* In any of them.  Where nothing was read, nothing is said to be lacking: it was no such visit. */
bool paper_was_read(const struct paper *paper);
void paper_add_rulers(const struct paper *paper);
/* For the customer: the few figures that show how the unit runs, in plain words. */
void paper_add_measured(const struct paper *paper);
/* Which of those are low or high after the work, and what the customer can do about it. */
void paper_tell_outside(const struct paper *paper);
void paper_add_readings(const struct paper *paper);
void paper_add_nameplate(const struct paper *paper);
void paper_add_not_evaluated(const struct paper *paper);

/* paper_told.c */
/* Whether a line says what was done, beside fees. */
bool paper_lists_work(const struct paper *paper);
/* Whether the unit was taken out for good: nothing is open on it, and nobody is to be warned. */
bool paper_is_taken_out(const struct paper *paper);
/* Whether a new unit was accepted: no repair gives a unit more than the SEER of its nameplate. */
bool paper_is_to_be_replaced(const struct paper *paper);
/*
 * Whether a finding of a stage weighs enough to be told; the customer is not told of what is only
 * possible while all that speaks for it is within its range.
 */
bool paper_is_told(const struct paper *paper, enum stage stage, const struct finding *finding);
/* How far it asks for work on this report: what the technician listed is looked at again. */
enum level paper_level(const struct paper *paper, const struct finding *finding);
/* Whether the technician put it off to another visit. */
bool paper_is_put_off(const struct paper *paper, const struct finding *finding);
/* Whether it is only watched, and nothing has to be done yet. */
bool paper_is_watched(const struct paper *paper, const struct finding *finding);
/* Whether an option of this call is for the fault, by its title. */
bool paper_is_offered(const struct paper *paper, enum fault fault);
/* Whether something found is good again. */
bool paper_is_something_cured(const struct paper *paper);
/* Whether it is told as a fact. */
bool paper_is_sure(const struct paper *paper, const struct finding *finding);

/* paper_open.c */
/* The code that the unit shows, by the last look; "" for none. */
const char *paper_code(const struct paper *paper);
/* What was seen and has no cause yet: a breaker that tripped, a code.  False for nothing. */
bool paper_tell_open(const struct paper *paper);
/* What is said where no finding was written. */
const char *paper_words_of_none(const struct paper *paper);
/* Where the readings after the work show nothing: why that calls no unit sound; "": it does. */
const char *paper_words_of_doubt(const struct paper *paper);

/* paper_meanwhile.c */
/* What is still open when the call is over, in one list; "" for nothing. */
const char *paper_open_names(const struct paper *paper);
/* What a leak that is open is called there. */
extern const char paper_leak[];
/* For the customer: whether the unit may be used until that is done. */
void paper_tell_meanwhile(const struct paper *paper);
/* Whether that says when to switch it off for what smells, smokes or trips. */
bool paper_tells_use(const struct paper *paper);
/* Whether the unit is switched off, as far as that was written down, for what is not to run. */
bool paper_is_switched_off(const struct paper *paper);

/* paper_findings.c */
/* What a fault means, by how far its part is off on this call. */
const char *paper_meaning(const struct paper *paper, enum fault fault);
void paper_add_findings(const struct paper *paper);
void paper_add_safety(const struct paper *paper);
void paper_add_next_checks(const struct paper *paper);
/* Whether something that needs doing is left: a fault that stands, a leak, what is noted. */
bool paper_leaves_work(const struct paper *paper);

/* paper_work.c */
/* Whether anything was done, if only measuring. */
bool paper_has_work(const struct paper *paper);
void paper_add_work(const struct paper *paper);
/*
 * An option's words without the full stop, so that they can stand before others;
 * who decided is addressed where it is the customer who reads.
 */
const char *paper_offer_title(const struct paper *paper, const struct offer *offer);
void paper_add_options(const struct paper *paper);
void paper_add_declined(const struct paper *paper);

/* paper_checklist.c */
void paper_add_checklist(const struct paper *paper);

/* paper_tightness.c */
/* The logs as they are. */
void paper_add_tightness(const struct paper *paper);
/* For the customer: what kind of tests were made. */
void paper_tell_tightness(const struct paper *paper);
/* An amount of refrigerant as this paper shows it; "" for none. */
const char *paper_mass(const struct paper *paper, double ounces);
/*
 * Charge that was low and is right again is a leak that is still there, unless a place was found.
 */
bool paper_leak_is_open(const struct paper *paper);
/* The fault for which the unit must stay off when the call is over; FAULT_NONE: it may run. */
enum fault paper_stays_off_for(const struct paper *paper);
/* Whether it was left locked, or such a one without power, as far as that was written down. */
bool paper_is_left_off(const struct paper *paper);
/* Whether a pressure test or a vacuum did not hold; the notice of it, nothing where all held. */
bool paper_is_not_tight(const struct paper *paper);
void paper_warn_of_leak(const struct paper *paper);

/* paper_agreement.c */
void paper_add_agreement(const struct paper *paper);

/* paper_money.c */
/* Whether the report has a bill. */
bool paper_has_bill(const struct paper *paper);
void paper_add_money(const struct paper *paper);

#endif
