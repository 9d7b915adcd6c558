/*
 * What was found, with the numbers that say so; whether the unit was made
 * safe first; what to measure next.
 */
#include "report/paper_parts.h"

#include <ctype.h>
#include <string.h>

#include <padside/base/quantities.h>
#include <padside/model/charging.h>
#include <padside/model/moved.h>
#include <padside/model/power.h>
#include <padside/report/noted.h>
#include <padside/report/told.h>
#include <padside/report/wording.h>

/* The customer reads the strongest evidence only. */
enum { EVIDENCE_FOR_CUSTOMER = 3 };

static enum tone tone_of(enum level level)
{
	static const enum tone tones[] = {
		[LEVEL_NOTE] = TONE_NOTE, [LEVEL_WATCH] = TONE_WATCH, [LEVEL_ACT] = TONE_ACT,
	};

	return tones[level];
}

/* ---- Evidence ---- */

/* "superheat: 21.0 °F, about 8.2 °F expected"; for the office with how much it proves. */
static void add_evidence(const struct paper *paper, const struct evidence *evidence)
{
	char out[WORDING_SIZE];

	wording_evidence(evidence, paper->input->units, out, sizeof out);
	document_item(paper->document, !paper->for_office ? out :
	              document_format(paper->document, "%s (%s)", out,
	                              wording_strength(evidence->leans)));
}

static void add_all_evidence(const struct paper *paper, const struct finding *finding)
{
	int shown = 0;

	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		bool wanted = paper->for_office ||
		              (evidence->leans > 0 && shown < EVIDENCE_FOR_CUSTOMER);
		if (!wanted || (evidence->figure == FIGURE_NONE && evidence->reading == READING_NONE))
			continue;
		add_evidence(paper, evidence);
		shown++;
	}
}

/* ---- Findings ---- */

static bool is_shown(const struct paper *paper, enum stage stage, const struct finding *finding)
{
	return paper->for_office || paper_is_told(paper, stage, finding);
}

/* The technician's word, with how much was added where that repaired it. */
static const char *with_added(const struct paper *paper, const struct finding *finding,
                              const char *words)
{
	struct moved moved;

	moved_work_out(paper->call, &moved);
	if (finding->fault != FAULT_UNDERCHARGE || finding->after_work != AFTER_WORK_GONE ||
	    !finding->is_judged || !(moved.added_oz > 0))
		return document_keep(paper->document, words);
	return document_format(paper->document, "%s, %s added", words,
	                       paper_mass(paper, moved.added_oz));
}

/* Beside the heading: whose judgement it is, "measured", or how likely. */
static const char *standing(const struct paper *paper, const struct finding *finding)
{
	const char *likelihood = paper_likelihood(finding->probability);
	char words[WORDING_SIZE];

	wording_standing(finding, paper->call, paper->for_office, words, sizeof words);
	if (*words)
		return with_added(paper, finding, words);
	if (told_is_listed(paper->call, finding->fault))
		return "noted by the technician";
	return paper->for_office ? document_format(paper->document, "%s, %.1f %%", likelihood,
	                                           finding->probability * 100)
	                         : likelihood;
}

/* Whether a part is watched, and no more, that still is within its limits. */
static bool is_within(const struct paper *paper, enum stage stage, const struct finding *finding)
{
	bool is_watched = finding->is_judged ? finding->verdict == JUDGEMENT_WATCH
	                                     : told_is_listed(paper->call, finding->fault);

	return fault_info(finding->fault)->within && is_watched &&
	       finding->after_work != AFTER_WORK_GONE &&
	       told_is_within(paper->call, paper->input->assessment, stage, finding);
}

/* What it means of such a part: that it is within its limits, or near one. */
static const char *meaning_within(const struct paper *paper, enum stage stage,
                                  const struct finding *finding)
{
	const struct fault_info *info = fault_info(finding->fault);

	return told_is_near(paper->call, paper->input->assessment, stage, finding) ? info->near
	                                                                            : info->within;
}

const char *paper_meaning(const struct paper *paper, enum fault fault)
{
	const struct fault_info *info = fault_info(fault);

	for (int stage = STAGE_COUNT - 1; stage >= 0; stage--) {
		const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];
		for (int i = 0; i < diagnosis->finding_count; i++)
			if (diagnosis->findings[i].fault == fault)
				return is_within(paper, (enum stage)stage, &diagnosis->findings[i])
				       ? meaning_within(paper, (enum stage)stage, &diagnosis->findings[i])
				       : info->meaning;
	}
	return info->meaning;
}

/* What the fault means; of electronics that keep a unit off with the code that they show. */
static const char *meaning_of(const struct paper *paper, enum fault fault)
{
	const char *meaning = fault_info(fault)->meaning;

	if (fault != FAULT_ELECTRONICS_HOLD_OFF)
		return meaning;
	const char *code = paper_code(paper);
	return document_format(paper->document, "%.*s%s%s.", (int)strlen(meaning) - 1, meaning,
	                       *code ? "; the unit shows code " : "", code);
}

/* What is less than very likely is not told as a fact. */
static const char *meaning(const struct paper *paper, enum stage stage,
                           const struct finding *finding)
{
	const char *words = meaning_of(paper, finding->fault);
	bool gone = finding->after_work == AFTER_WORK_GONE;

	/* What was measured needs no if. */
	if (is_within(paper, stage, finding))
		return meaning_within(paper, stage, finding);
	/* Its first sentence says what it was; what may come of it, or is to be done, is over. */
	if (gone)
		words = document_format(paper->document, "%.*s.", (int)strcspn(words, "."), words);
	if (paper_is_sure(paper, finding))
		return gone ? document_format(paper->document, "As found: %s", words) : words;
	return document_format(paper->document, "%s %c%s", gone ? "As found, if so:" : "If so,",
	                       tolower((unsigned char)words[0]), words + 1);
}

/* For the customer, behind what it means: how it comes to be done; "" where it asks for nothing. */
static const char *way_to_it(const struct paper *paper, enum stage stage,
                             const struct finding *finding)
{
	const struct call *call = paper->call;
	bool is_open = finding->level == LEVEL_ACT && (finding->after_work == AFTER_WORK_NONE ||
	                                               finding->after_work == AFTER_WORK_STILL_THERE);

	if (!is_open)
		return "";
	if (paper_is_offered(paper, finding->fault))
		return " See \"Your options\".";
	/* What was worked on may be done, but not what the readings after it show. */
	bool is_left = stage == STAGE_AS_LEFT || finding->after_work == AFTER_WORK_STILL_THERE;
	for (size_t i = 0; i < call->work_count; i++)
		if (call->work[i].kind != WORK_FEE && !is_left)
			return "";
	return " Ask us what it costs to repair.";
}

/* Whether it is not to be called unlikely: the technician noted it, or each gauge of it says so. */
static bool is_plain(const struct paper *paper, enum stage stage, const struct finding *finding)
{
	return told_is_listed(paper->call, finding->fault) ||
	       told_is_gauged(paper->call, paper->input->assessment, stage, finding);
}

/* What is only possible while all that speaks for it is good is not looked at again. */
static enum tone tone_of_finding(const struct paper *paper, enum stage stage,
                                 const struct finding *finding)
{
	enum level level = paper_level(paper, finding);
	bool is_idle = level == LEVEL_WATCH &&
	               told_is_idle(paper->call, paper->input->assessment, stage, finding);

	if (finding->after_work == AFTER_WORK_GONE)
		return TONE_GONE;
	return is_idle ? TONE_NOTE : tone_of(level);
}

/* For the customer: where it leaks, as it was written last; "" where no place was found. */
static const char *leak_words(const struct paper *paper)
{
	const struct visit *visit = &paper->call->visit;
	enum stage stage = visit_leak_found(visit, STAGE_AS_LEFT) ? STAGE_AS_LEFT : STAGE_AS_FOUND;

	if (paper->for_office || !visit_leak_found(visit, stage))
		return "";
	const char *place = visit_value(visit, stage, READING_LEAK_PLACE)->text;
	return document_format(paper->document, "The leak was found at: %s%s", place,
	                       place[strlen(place) - 1] == '.' ? "" : ".");
}

static void add_finding(const struct paper *paper, enum stage stage, const struct finding *finding)
{
	const struct fault_info *fault = fault_info(finding->fault);
	struct document *document = paper->document;
	bool gone = finding->after_work == AFTER_WORK_GONE;
	char to_do[QUANTITIES_SIZE];

	bool is_watched = paper_is_watched(paper, finding);
	const char *due = is_watched && fault->due ? fault->due : "";
	const char *leak = finding->fault == FAULT_UNDERCHARGE ? leak_words(paper) : "";

	document_finding(document, tone_of_finding(paper, stage, finding),
	                 paper_capital(paper, paper_fault(paper, finding->fault)),
	                 standing(paper, finding));
	if (!paper->for_office) {
		document_item(document,
			document_format(document, "%s%s%s%s%s%s", meaning(paper, stage, finding),
			                *leak ? " " : "", leak, way_to_it(paper, stage, finding),
			                *due ? " " : "", due));
		return;
	}
	add_all_evidence(paper, finding);
	document_item(document, document_format(document, "id: %s, %s", fault->key,
	                                        fault_family_key(fault->family)));
	if (finding->after_work != AFTER_WORK_NONE)
		document_item(document, document_format(document, "after the work: %s",
		                                        wording_after_work(finding)));
	/* What was seen is known, whether or not the unit ran. */
	const char *why = wording_not_judged(&paper->call->visit, stage);
	if (finding->is_symptom_masked && finding->basis == BASIS_INFERRED && *why)
		document_item(document, document_format(document, "not judged well: %s", why));
	/* What is gone needs no work any more. */
	if (gone)
		return;
	if (is_plain(paper, stage, finding))
		quantities_write(fault->advice, paper->input->units, to_do, sizeof to_do);
	else
		wording_to_do(finding, paper->input->units, to_do, sizeof to_do);
	document_item(document,
	              document_format(document, "to do: %s%s%s%s%s",
	                              is_watched ? "Look at it again. " : "", due, *due ? " " : "",
	                              is_watched ? "When it is due: " : "", to_do));
	if (*fault->caution)
		document_item(document, document_format(document, "caution: %s", fault->caution));
}

static bool was_found(const struct paper *paper, enum fault fault)
{
	const struct diagnosis *found = &paper->input->assessment->diagnoses[STAGE_AS_FOUND];

	for (int i = 0; i < found->finding_count; i++)
		if (found->findings[i].fault == fault &&
		    is_shown(paper, STAGE_AS_FOUND, &found->findings[i]))
			return true;
	return false;
}

/* What keeps a unit off and was ruled out, in words without ohms; returns how many there are. */
static int tell_ruled_out(const struct paper *paper)
{
	bool was_told[FAULT_COUNT] = { false };
	int told = 0;

	for (int stage = 0; stage < STAGE_COUNT && !paper->for_office; stage++) {
		const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];
		for (int i = 0; i < diagnosis->finding_count; i++) {
			const struct finding *finding = &diagnosis->findings[i];
			if (!finding_stays_off(finding) || !finding->is_judged || was_told[finding->fault] ||
			    finding->verdict != JUDGEMENT_RULED_OUT)
				continue;
			was_told[finding->fault] = true;
			told++;
			document_paragraph(paper->document, TONE_WATCH,
				fault_info(finding->fault)->stays_off_by == READING_COMPRESSOR_GROUND_RESISTANCE
				? "A low reading to the shell was ruled out by the technician."
				: "A low reading of the fan motor to its frame was ruled out by the technician.");
		}
	}
	return told;
}

/* The findings of a stage; returns how many were written. */
static int add_stage(const struct paper *paper, enum stage stage)
{
	const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];
	int shown = 0;

	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		bool told = stage == STAGE_AS_LEFT && !paper->for_office &&
		            was_found(paper, finding->fault);
		if (!is_shown(paper, stage, finding) || told)
			continue;
		add_finding(paper, stage, finding);
		shown++;
	}
	return shown;
}

/* Whether the findings of a stage still ask for something to be done. */
static bool asks_for_work(const struct paper *paper, enum stage stage)
{
	const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];

	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		if (finding->level == LEVEL_ACT && finding->after_work != AFTER_WORK_GONE &&
		    paper_is_told(paper, stage, finding))
			return true;
	}
	return false;
}

/* Whether any finding of a stage is told at all. */
static bool tells_any(const struct paper *paper, enum stage stage)
{
	const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];

	for (int i = 0; i < diagnosis->finding_count; i++)
		if (paper_is_told(paper, stage, &diagnosis->findings[i]))
			return true;
	return false;
}

/* Names the findings of the arrival of which that became; returns whether there are any. */
static bool name_those(const struct paper *paper, enum after_work after_work, enum tone tone,
                       const char *head, const char *tail)
{
	const struct diagnosis *found = &paper->input->assessment->diagnoses[STAGE_AS_FOUND];
	struct text line;

	text_init(&line);
	for (int i = 0; i < found->finding_count; i++)
		if (found->findings[i].after_work == after_work &&
		    paper_is_told(paper, STAGE_AS_FOUND, &found->findings[i]))
			paper_join(&line, ", ", paper_fault(paper, found->findings[i].fault));
	bool any = line.length > 0;
	if (any)
		document_paragraph(paper->document, tone,
		                   document_format(paper->document, "%s: %s.%s", head, text_get(&line),
		                                   tail));
	text_done(&line);
	return any;
}

/* In which way low charge is told. */
enum low { LOW_TOLD, LOW_CURED, LOW_CURED_SURE };

/* Whether it is told at all, as right again, or as right again and a fact. */
static bool is_low_charge_told(const struct paper *paper, enum low low)
{
	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];
		for (int i = 0; i < diagnosis->finding_count; i++)
			if (diagnosis->findings[i].fault == FAULT_UNDERCHARGE &&
			    (low == LOW_TOLD || diagnosis->findings[i].after_work == AFTER_WORK_GONE) &&
			    (low != LOW_CURED_SURE || paper_is_sure(paper, &diagnosis->findings[i])) &&
			    paper_is_told(paper, (enum stage)stage, &diagnosis->findings[i]))
				return true;
	}
	return false;
}

/* What was added to a circuit that was not opened; 0 where it was. */
static double topped_up_oz(const struct paper *paper)
{
	struct moved moved;

	moved_work_out(paper->call, &moved);
	return moved.recovered_oz > 0 || paper->call->tightness_count > 0 ? 0 : moved.added_oz;
}

bool paper_leak_is_open(const struct paper *paper)
{
	const struct visit *visit = &paper->call->visit;

	return !visit_leak_found(visit, STAGE_AS_FOUND) && !visit_leak_found(visit, STAGE_AS_LEFT) &&
	       (is_low_charge_told(paper, LOW_CURED) ||
	        (!is_low_charge_told(paper, LOW_TOLD) && topped_up_oz(paper) > 0));
}

/* What is known of the refrigerant where the leak is open: surely low, or only added to. */
static const char *words_of_low(const struct paper *paper)
{
	const char *added = paper_mass(paper, topped_up_oz(paper));

	if (is_low_charge_told(paper, LOW_CURED_SURE))
		return "The refrigerant was low. No place of a leak is on record, so it "
		       "can leak away again.";
	return document_format(paper->document,
	                       "%s%s on record. If it was low, it can leak away again.", added,
	                       *added ? " of refrigerant was added, and no place of a leak is"
	                              : "No place of a leak of refrigerant is");
}

/* A leak search, for the customer to ask for. */
static const char *words_of_search(const struct paper *paper)
{
	const char *call_us = paper_capital(paper, paper_call_us(paper, "", "call us"));

	return document_format(paper->document, " %s when it cools less: a leak search looks for the "
	                                        "place.", call_us);
}

/* Whether something beside the findings is to be acted on. */
static bool noted_asks_for_work(const struct paper *paper)
{
	struct noted noted;

	for (int i = 0; i < NOTED_ROWS; i++)
		if (noted_row(&paper->call->visit, paper->input->assessment, i, paper->input->units,
		              &noted) &&
		    noted.level == LEVEL_ACT)
			return true;
	return false;
}

bool paper_leaves_work(const struct paper *paper)
{
	return asks_for_work(paper, STAGE_AS_FOUND) || asks_for_work(paper, STAGE_AS_LEFT) ||
	       paper_leak_is_open(paper) || noted_asks_for_work(paper) || paper_is_not_tight(paper);
}

/* Whether something noted is beyond its limit, and this report tells it: that is to be done. */
static bool tells_beyond(const struct paper *paper)
{
	struct noted noted;

	for (int i = 0; i < NOTED_ROWS; i++)
		if (noted_row(&paper->call->visit, paper->input->assessment, i, paper->input->units,
		              &noted) &&
		    noted.is_beyond && (paper->for_office || *noted.customer))
			return true;
	return false;
}

static void add_after_the_work(const struct paper *paper)
{
	if (!paper_has_readings(paper, STAGE_AS_LEFT))
		return;
	document_heading(paper->document, 3, "After the work");
	bool there = name_those(paper, AFTER_WORK_STILL_THERE, TONE_PLAIN, "Still there", "");
	bool untested = name_those(paper, AFTER_WORK_NOT_TESTED, TONE_WATCH,
	                           "Not tested again after the work", "");
	bool is_outdated = charging_is_outdated(paper->call);
	if (is_outdated)
		document_paragraph(paper->document, TONE_WATCH,
		                   "Refrigerant was moved after the last readings; "
		                   "not yet measured again.");
	bool leaks = paper_leak_is_open(paper);
	if (leaks)
		document_paragraph(paper->document, TONE_WATCH,
			document_format(paper->document, "%s%s", words_of_low(paper),
			                paper->for_office ? "" : words_of_search(paper)));
	bool is_silent = !there && !untested && !is_outdated && !leaks &&
	                 !asks_for_work(paper, STAGE_AS_LEFT);
	bool is_left = tells_beyond(paper) || paper_is_not_tight(paper);
	bool is_quiet = is_silent && !is_left &&
	                !noted_any(&paper->call->visit, paper->input->assessment);
	if (is_silent && is_left)
		document_paragraph(paper->document, TONE_PLAIN,
		                   "The work noted on this report is still to be done.");
	if (is_quiet) {
		const char *doubt = paper_words_of_doubt(paper);
		document_paragraph(paper->document, *doubt ? TONE_WATCH : TONE_PLAIN,
		                   *doubt ? doubt : tells_any(paper, STAGE_AS_LEFT)
		                   ? "After the work only this is to be watched."
		                   : "The readings taken after the work point to no fault.");
		paper_tell_outside(paper);
	}
	add_stage(paper, STAGE_AS_LEFT);
}

static void add_contradictions(const struct paper *paper)
{
	char words[WORDING_SIZE];

	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];
		for (int i = 0; i < diagnosis->contradiction_count; i++) {
			wording_contradiction(&diagnosis->contradictions[i], paper->input->units, words,
			                      sizeof words);
			document_paragraph(paper->document, TONE_PLAIN,
				document_format(paper->document, "Cannot all be right, %s: %s.",
				                document_stage_words[stage], words));
		}
	}
}

/* Percentages of several findings are of each alone; a reader with a calculator adds them up. */
static void tell_percentages(const struct paper *paper)
{
	const struct diagnosis *found = &paper->input->assessment->diagnoses[STAGE_AS_FOUND];
	int guesses = 0;

	for (int i = 0; i < found->finding_count; i++)
		guesses += found->findings[i].basis == BASIS_INFERRED && !found->findings[i].is_judged;
	if (guesses > 1)
		document_paragraph(paper->document, TONE_SMALL,
			"Percentages: how likely each finding is by itself. Two can be true at once, and what "
			"causes a finding counts in it: they need not add up to 100.");
}

/* Whether a fault stands when the work is over, and is no mere guess. */
static bool still_stands(const struct paper *paper, enum fault fault)
{
	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];
		for (int i = 0; i < diagnosis->finding_count; i++)
			if (diagnosis->findings[i].fault == fault &&
			    paper_is_told(paper, (enum stage)stage, &diagnosis->findings[i]) &&
			    paper_is_sure(paper, &diagnosis->findings[i]) &&
			    diagnosis->findings[i].after_work != AFTER_WORK_GONE)
				return true;
	}
	return false;
}

enum fault paper_stays_off_for(const struct paper *paper)
{
	for (int fault = FAULT_NONE + 1; fault < FAULT_COUNT && !paper_is_taken_out(paper); fault++)
		if (fault_info((enum fault)fault)->stays_off_by != READING_NONE &&
		    still_stands(paper, (enum fault)fault))
			return (enum fault)fault;
	return FAULT_NONE;
}

bool paper_is_left_off(const struct paper *paper)
{
	struct power power = power_of_call(paper->call);
	bool is_off = power_is_off(power.state);

	/* Locked for the work is locked at the end, unless the technician says otherwise. */
	return power_left_locked(paper->call) ||
	       (paper_stays_off_for(paper) != FAULT_NONE && is_off &&
	        !visit_has(&paper->call->visit, STAGE_AS_FOUND, READING_LEFT_LOCKED));
}

static const char *words_of_left(const struct paper *paper)
{
	if (!paper_is_left_off(paper))
		return "Do not switch the unit on";
	return power_left_locked(paper->call)
	       ? "The unit was left off, locked and tagged. Do not switch it on"
	       : "The unit was left off. Do not switch it on";
}

/* That it was left off, locked and tagged, where no fault says it; with what was recorded since. */
static void tell_lock(const struct paper *paper)
{
	struct power power = power_of_call(paper->call);
	char locked[CLOCK_TEXT_SIZE], since[CLOCK_TEXT_SIZE];
	wall_time at;

	if (!power_was_left_locked(paper->call, &at))
		return;
	if (power_left_locked(paper->call)) {
		if (paper_stays_off_for(paper) == FAULT_NONE)
			document_paragraph(paper->document, TONE_ACT,
			                   "The unit was left off, locked and tagged. Do not switch it on.");
		return;
	}
	clock_format_hour(at, locked, sizeof locked);
	clock_format_hour(power.since, since, sizeof since);
	document_paragraph(paper->document, TONE_ACT,
		document_format(paper->document,
		                "Recorded%s%s: left off, locked and tagged. Recorded after that%s%s: %s.",
		                *locked ? " at " : "", locked,
		                *since ? ", at " : "", since, power_words(paper->call, &power)));
}

static void tell_sensor_is_off(const struct paper *paper)
{
	if (paper_is_left_off(paper) &&
	    visit_condition_holds(&paper->call->visit, STAGE_AS_FOUND, CONDITION_FLAMMABLE))
		document_paragraph(paper->document, TONE_ACT, "With the power off, any leak sensor and its "
		                   "fan are off: keep the room aired.");
}

static void warn_of_dead_unit(const struct paper *paper)
{
	const struct visit *visit = &paper->call->visit;
	char value[VALUE_TEXT_SIZE];
	enum fault fault = paper_stays_off_for(paper);

	if (fault == FAULT_NONE)
		return;
	enum reading reading = fault_info(fault)->stays_off_by;
	enum stage stage = visit_has(visit, STAGE_AS_LEFT, reading) ? STAGE_AS_LEFT : STAGE_AS_FOUND;
	reading_format(reading, visit_value(visit, stage, reading), paper->input->units,
	               VALUE_FORM_WITH_UNIT, value, sizeof value);
	document_paragraph(paper->document, TONE_ACT,
		document_format(paper->document, "%s: %s%s.", words_of_left(paper),
		                paper_fault(paper, fault), paper->for_office && *value
		                ? document_format(paper->document, ", %s %s", reading_info(reading)->label,
		                                  value)
		                : ""));
}

/* What no finding is drawn from and asks for something all the same; false for none. */
static bool add_noted(const struct paper *paper)
{
	struct noted noted;
	bool any = false;

	for (int i = 0; i < NOTED_ROWS; i++) {
		if (!noted_row(&paper->call->visit, paper->input->assessment, i, paper->input->units,
		               &noted))
			continue;
		const char *words = paper->for_office ? noted.office : noted.customer;
		any = any || *words;
		if (*words)
			document_paragraph(paper->document, tone_of(noted.level),
			                   document_keep(paper->document, words));
		if (paper->for_office && *noted.caution)
			document_paragraph(paper->document, TONE_CAUTION, noted.caution);
	}
	return any;
}

/* For the customer where no finding of low charge has it: where it leaks. */
static void tell_leak_place(const struct paper *paper)
{
	const char *words = leak_words(paper);

	if (*words && !is_low_charge_told(paper, LOW_TOLD))
		document_paragraph(paper->document, TONE_PLAIN, words);
}

void paper_add_findings(const struct paper *paper)
{
	document_heading(paper->document, 2, "What we found");
	document_paragraph(paper->document, TONE_LEAD, paper->call->summary);
	int shown = add_stage(paper, STAGE_AS_FOUND);
	tell_leak_place(paper);
	shown += tell_ruled_out(paper);
	const struct diagnosis *found = &paper->input->assessment->diagnoses[STAGE_AS_FOUND];
	const char *unexplained = wording_unexplained(found);
	if (*unexplained)
		document_paragraph(paper->document, TONE_PLAIN, paper->for_office
			? document_format(paper->document, "%s.", paper_capital(paper, unexplained))
			: "We have not found the cause yet; more has to be measured.");
	bool silent = shown == 0 && !*unexplained && !*paper->call->summary;
	bool contradicted = found->contradiction_count > 0;
	if (silent && contradicted && !paper->for_office)
		document_paragraph(paper->document, TONE_PLAIN,
			"Some readings do not fit together and have to be taken again.");
	warn_of_dead_unit(paper);
	tell_lock(paper);
	tell_sensor_is_off(paper);
	paper_warn_of_leak(paper);
	bool is_open = paper_tell_open(paper);
	if (!add_noted(paper) && silent && !is_open && !contradicted && !paper_is_not_tight(paper))
		document_paragraph(paper->document, TONE_PLAIN, paper_words_of_none(paper));
	if (paper->for_office) {
		tell_percentages(paper);
		add_contradictions(paper);
	}
	add_after_the_work(paper);
}

void paper_add_next_checks(const struct paper *paper)
{
	char why[WORDING_SIZE];
	bool open = false;

	/* After the work nothing can be measured as found any more. */
	int first = paper_has_readings(paper, STAGE_AS_LEFT) ? STAGE_AS_LEFT : STAGE_AS_FOUND;
	for (int stage = first; stage < STAGE_COUNT && paper_was_read(paper); stage++) {
		const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];
		for (int i = 0; i < diagnosis->next_check_count; i++) {
			const struct next_check *check = &diagnosis->next_checks[i];
			if (!open) {
				document_heading(paper->document, 2, "What to measure next");
				document_list(paper->document);
			}
			open = true;
			wording_next_check(check, why, sizeof why);
			document_item(paper->document,
				document_format(paper->document, "%s: %s (%s)",
				                reading_info(check->reading)->label, why,
				                document_stage_words[stage]));
		}
	}
}

/* ---- Made safe ---- */

static const char *answer(const struct paper *paper, enum reading reading)
{
	char hour[CLOCK_TEXT_SIZE];

	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		const struct value *value = visit_value(&paper->call->visit, (enum stage)stage, reading);
		if (value->state != VALUE_TAKEN)
			continue;
		clock_format_hour(value->taken_at, hour, sizeof hour);
		return document_format(paper->document, "%s%s%s", value->number != 0 ? "yes" : "no",
		                       *hour ? ", " : "", hour);
	}
	return "not recorded";
}

static bool is_any_recorded(const struct visit *visit)
{
	for (int reading = 1; reading < READING_COUNT; reading++)
		if (reading_info((enum reading)reading)->step == STEP_SAFETY &&
		    (visit_has(visit, STAGE_AS_FOUND, (enum reading)reading) ||
		     visit_has(visit, STAGE_AS_LEFT, (enum reading)reading)))
			return true;
	return false;
}

/* Whether refrigerant was taken out or the circuit was tested for tightness after a time. */
static bool is_opened_after(const struct call *call, wall_time time)
{
	for (size_t i = 0; i < call->charge_count; i++)
		if (call->charge[i].recovered_oz > 0 && call->charge[i].at > time)
			return true;
	for (size_t i = 0; i < call->tightness_count; i++)
		if (call->tightness[i].kind != TIGHTNESS_WEIGH_IN && call->tightness[i].at > time)
			return true;
	return false;
}

/* When there was power again, and what shows it; whether the circuit was worked on after it. */
static void add_power_back(const struct paper *paper)
{
	struct power back = power_came_back(paper->call);
	char hour[CLOCK_TEXT_SIZE];

	if (back.state == POWER_STATE_UNKNOWN)
		return;
	clock_format_hour(back.since, hour, sizeof hour);
	const char *shown_by = back.shown_by == READING_NONE ? "charge log"
	                                                     : reading_info(back.shown_by)->label;
	bool is_seen = back.shown_by != READING_NONE &&
	               reading_info(back.shown_by)->kind == KIND_CHOICE;
	document_pair(paper->document, "power seen again",
		document_format(paper->document, "%s (%s%s)%s", hour, shown_by, is_seen ? " runs" : "",
		                is_opened_after(paper->call, back.since) && !power_left_locked(paper->call)
		                ? "; no lock-out on record after it" : ""));
}

static void add_answers(const struct paper *paper)
{
	document_pairs(paper->document);
	for (int reading = 1; reading < READING_COUNT; reading++) {
		const struct reading_info *info = reading_info((enum reading)reading);
		/* What every call answers is told where it was not answered. */
		bool is_told = info->need == NEED_CORE ||
		               visit_has(&paper->call->visit, STAGE_AS_FOUND, (enum reading)reading);
		if (info->step == STEP_SAFETY && is_told &&
		    visit_applies(&paper->call->visit, STAGE_AS_FOUND, (enum reading)reading))
			document_pair(paper->document, info->label, answer(paper, (enum reading)reading));
	}
	add_power_back(paper);
}

/* Names what was read while the unit was not recorded as safe, each with its time. */
static void tell_unsafe(const struct paper *paper)
{
	char hour[CLOCK_TEXT_SIZE];
	struct text list;

	text_init(&list);
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
			enum reading reading = (enum reading)i;
			if (!power_was_unsafe(paper->call, (enum stage)stage, reading))
				continue;
			clock_format_hour(visit_value(&paper->call->visit, (enum stage)stage,
			                              reading)->taken_at,
			                  hour, sizeof hour);
			paper_join(&list, ", ", reading_info(reading)->label);
			text_add_format(&list, " at %s", hour);
		}
	document_paragraph(paper->document, TONE_CAUTION, list.length > 0
		? document_format(paper->document, "Read without the unit being recorded as "
		                  "made safe by then: %s.", text_get(&list))
		: document_format(paper->document,
		                  "A resistance was read at %s without the unit being recorded "
		                  "as made safe by then. Those of this report were read after that.",
		                  paper_moment(paper, paper->call->unsafe_at)));
	text_done(&list);
}

void paper_add_safety(const struct paper *paper)
{
	document_heading(paper->document, 2, "Made safe");
	if (is_any_recorded(&paper->call->visit))
		add_answers(paper);
	else
		document_paragraph(paper->document, TONE_PLAIN,
			"Lock-out and proving dead were not recorded on this call.");
	if (paper->call->unsafe_at != WALL_TIME_NONE)
		tell_unsafe(paper);
}
