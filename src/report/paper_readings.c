/*
 * Readings and figures, as found and as left side by side: tables of what was
 * read, rulers for what it means.
 */
#include "report/paper_parts.h"

#include <math.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/calc/electrical.h>

/* Values are prepared in the unit that is shown. */
struct paper_view {
	const struct paper *paper; /* whose */
	enum unit canonical;       /* unit of the catalogue's row */
	enum unit shown;           /* unit on this paper */
	int decimals;              /* in the shown unit */
};

static struct paper_view view_of(const struct paper *paper, enum unit unit, int decimals)
{
	enum unit_system units = paper->input->units;

	return (struct paper_view){
		.paper = paper, .canonical = unit, .shown = unit_shown(unit, units),
		.decimals = unit_decimals_shown(decimals, unit, units),
	};
}

/* A number in the shown unit, without idle zeros behind the point. */
static void format_short(const struct paper_view *view, double value, char *out, size_t size)
{
	number_format(unit_convert(value, view->canonical, view->shown), view->decimals, out, size);
	if (!strchr(out, '.'))
		return;
	size_t length = strlen(out);
	while (out[length - 1] == '0')
		out[--length] = '\0';
	if (out[length - 1] == '.')
		out[length - 1] = '\0';
}

/* "3 to 13", "at most 0.5", "assumed 4 to 16"; "" when nothing is expected. */
static const char *expected_words(const struct paper_view *view,
                                  const struct expectation *expectation)
{
	char low[NUMBER_SIZE], high[NUMBER_SIZE];
	struct document *document = view->paper->document;

	if (!expectation->known)
		return "";
	if (isfinite(expectation->low))
		format_short(view, expectation->low, low, sizeof low);
	if (isfinite(expectation->high))
		format_short(view, expectation->high, high, sizeof high);
	const char *standing = !expectation->is_assumed ? "" : view->paper->for_office ? "assumed "
	                                                                                : "usually ";
	if (!isfinite(expectation->low))
		return document_format(document, "%sat most %s", standing, high);
	if (!isfinite(expectation->high))
		return document_format(document, "%sat least %s", standing, low);
	return document_format(document, "%s%s to %s", standing, low, high);
}

/* The customer reads what "ambiguous" means. */
static const char not_certain[] = "at the limit, not certain";

static const char *verdict_words(const struct paper *paper, enum band_verdict verdict)
{
	return verdict == BAND_AMBIGUOUS && !paper->for_office ? not_certain
	                                                       : band_verdict_word(verdict);
}

/* What of the measures is at its limit. */
struct doubt {
	bool any;     /* some stage of one */
	bool is_last; /* the last that was read of one */
	bool is_done; /* of one as found, and good after the work */
};

static void note_doubt(const struct measure *measure, struct doubt *doubt)
{
	const struct measured *left = &measure->stages[STAGE_AS_LEFT];
	bool found_in_doubt = measure->stages[STAGE_AS_FOUND].verdict == not_certain;
	bool last_in_doubt = left->has_band ? left->verdict == not_certain : found_in_doubt;

	doubt->any = doubt->any || found_in_doubt || last_in_doubt;
	doubt->is_last = doubt->is_last || last_in_doubt;
	doubt->is_done = doubt->is_done || (found_in_doubt && !last_in_doubt);
}

/* What "at the limit" means stands wherever a line says so. */
static void tell_doubt(const struct paper *paper, const struct doubt *doubt)
{
	if (doubt->any)
		document_paragraph(paper->document, TONE_SMALL,
			document_format(paper->document, "At the limit, not certain: the meters cannot tell on "
			                "which side it is.%s%s",
			                doubt->is_done ? " Whether to work on it is the "
			                                 "technician's judgement." : "",
			                doubt->is_last && !paper_is_to_be_replaced(paper)
			                ? " We measure it again at the next visit." : ""));
}

/* Fills in what a value with an expectation has beside it. */
static void judge(const struct paper_view *view, const struct expectation *expectation,
                  double value, double plus_minus, struct measured *measured)
{
	char spread[NUMBER_SIZE];

	measured->expected = expected_words(view, expectation);
	measured->verdict = verdict_words(view->paper,
	                                  expectation_judge(expectation, value, plus_minus));
	measured->band = (struct band){
		.value = unit_convert(value, view->canonical, view->shown), .has_value = true,
		.plus_minus = unit_convert_spread(plus_minus, view->canonical, view->shown),
		.low = NAN, .high = NAN, .is_assumed = expectation->is_assumed,
	};
	measured->has_band = expectation->known;
	if (expectation->known) {
		measured->band.low = unit_convert(expectation->low, view->canonical, view->shown);
		measured->band.high = unit_convert(expectation->high, view->canonical, view->shown);
	}
	if (!view->paper->for_office || !(plus_minus > 0))
		return;
	number_format(measured->band.plus_minus, view->decimals, spread, sizeof spread);
	/* One too small to be written would read as none at all. */
	if (strspn(spread, "0.") == strlen(spread))
		return;
	measured->plus_minus = document_keep(view->paper->document, spread);
}

/* ---- Readings ---- */

/*
 * The unit of a row: what leaks to a shell stands in kΩ where all that was read of it is
 * below 1 MΩ.
 */
static struct paper_view view_of_reading(const struct paper *paper, enum reading reading)
{
	const struct reading_info *info = reading_info(reading);
	struct paper_view view = view_of(paper, info->unit, info->decimals);
	bool is_small = info->unit == UNIT_MEGOHM;

	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		const struct value *value = visit_value(&paper->call->visit, (enum stage)stage, reading);
		is_small = is_small && value->state != VALUE_OVER_LIMIT &&
		           !(value->state == VALUE_TAKEN && value->number >= 1);
	}
	if (is_small) {
		view.shown = UNIT_KILOHM_AS_MEGOHM;
		view.decimals = 1;
	}
	return view;
}

/* No resistance is below zero: a meter too coarse for it tells the most that it can be. */
static void tell_most(const struct paper_view *view, double value, struct measured *measured)
{
	char most[NUMBER_SIZE];

	if (view->canonical != UNIT_MEGOHM || !measured->plus_minus || !*measured->plus_minus ||
	    measured->band.plus_minus <= measured->band.value)
		return;
	number_format(unit_convert(value, view->canonical, view->shown) + measured->band.plus_minus,
	              view->decimals, most, sizeof most);
	measured->at_most = document_keep(view->paper->document, most);
}

/*
 * Whether a measured finding of the stage rests on the reading: what it shows is the proof of it.
 */
static bool is_proof(const struct paper *paper, enum reading reading, enum stage stage)
{
	const struct diagnosis *diagnosis = &paper->input->assessment->diagnoses[stage];

	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		for (int e = 0; finding->basis == BASIS_MEASURED && e < finding->evidence_count; e++) {
			const struct evidence *evidence = &finding->evidence[e];
			if (evidence->leans > 0 && (evidence->figure == FIGURE_NONE
			                            ? evidence->reading == reading
			                            : figure_takes(evidence->figure, reading)))
				return true;
		}
	}
	return false;
}

static struct measured measure_reading(const struct paper *paper, enum reading reading,
                                       enum stage stage)
{
	const struct reading_info *info = reading_info(reading);
	const struct value *value = visit_value(&paper->call->visit, stage, reading);
	struct measured measured = { .shown = "" };
	char out[VALUE_TEXT_SIZE + NUMBER_SIZE];

	reading_format(reading, value, paper->input->units, VALUE_FORM_SHEET, out, sizeof out);
	measured.shown = document_keep(paper->document, out);
	if (value->state == VALUE_TAKEN &&
	    (info->kind == KIND_NUMBER || info->kind == KIND_RESISTANCE)) {
		struct paper_view view = view_of_reading(paper, reading);
		struct expectation expectation = reading_expect(&paper->call->visit, stage, reading);
		measured.is_number = true;
		judge(&view, &expectation, value->number, reading_accuracy(reading, value->number),
		      &measured);
		tell_most(&view, value->number, &measured);
		if (view.shown == UNIT_KILOHM_AS_MEGOHM) {
			number_format(measured.band.value, view.decimals, out, sizeof out);
			measured.shown = document_keep(paper->document, out);
		}
	}
	if (value->doubtful && !is_proof(paper, reading, stage))
		measured.verdict = "in doubt";
	clock_format_hour(value->taken_at, out, sizeof out);
	measured.when = document_keep(paper->document, out);
	return measured;
}

static void fill_reading(const struct paper *paper, enum reading reading, struct measure *measure)
{
	bool is_small = view_of_reading(paper, reading).shown == UNIT_KILOHM_AS_MEGOHM;

	*measure = (struct measure){
		.label = reading_info(reading)->label,
		.unit = is_small ? unit_symbol(UNIT_KILOHM_AS_MEGOHM, false)
		                 : reading_unit_symbol(reading, paper->input->units, false),
	};
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		measure->stages[stage] = measure_reading(paper, reading, (enum stage)stage);
}

static bool is_taken(const struct visit *visit, enum reading reading)
{
	return visit_has(visit, STAGE_AS_FOUND, reading) || visit_has(visit, STAGE_AS_LEFT, reading);
}

bool paper_has_readings(const struct paper *paper, enum stage stage)
{
	return paper->input->assessment->was_read[stage];
}

bool paper_was_read(const struct paper *paper)
{
	return paper_has_readings(paper, STAGE_AS_FOUND) || paper_has_readings(paper, STAGE_AS_LEFT);
}

/* Whether a reading stands in the tables of its step. */
static bool is_of_step(enum reading reading, enum step step)
{
	const struct reading_info *info = reading_info(reading);

	return info->step == step && info->scope == SCOPE_CALL;
}

/* The readings of a step as one table; nothing when none was taken. */
static void add_step(const struct paper *paper, enum step step)
{
	const struct visit *visit = &paper->call->visit;
	bool open = false;

	for (int reading = 1; reading < READING_COUNT; reading++) {
		if (!is_of_step((enum reading)reading, step) || !is_taken(visit, (enum reading)reading))
			continue;
		if (!open)
			document_readings(paper->document, step_info(step)->label);
		open = true;
		struct measure measure;
		fill_reading(paper, (enum reading)reading, &measure);
		document_measure(paper->document, &measure);
	}
}

/* On ice pressures and pipes of the running circuit are not read: they would say nothing. */
static bool is_void_on_ice(const struct visit *visit, enum reading reading)
{
	const struct reading_info *info = reading_info(reading);

	return visit_choice(visit, STAGE_AS_FOUND, READING_COIL_CONDITION) == CHOICE_COIL_ICED &&
	       !visit_has(visit, STAGE_AS_LEFT, READING_COIL_CONDITION) &&
	       info->step == STEP_REFRIGERANT && info->power == POWER_NEEDED_RUNNING;
}

/* What would make the step complete and was not taken; the heading before the first of them. */
static void add_not_taken(const struct paper *paper, enum step step, bool *begun)
{
	const struct visit *visit = &paper->call->visit;
	struct text names;

	text_init(&names);
	for (int reading = 1; reading < READING_COUNT; reading++)
		if (is_of_step((enum reading)reading, step) &&
		    reading_info((enum reading)reading)->need == NEED_CORE &&
		    visit_applies(visit, STAGE_AS_FOUND, (enum reading)reading) &&
		    !is_void_on_ice(visit, (enum reading)reading) &&
		    !is_taken(visit, (enum reading)reading))
			paper_join(&names, ", ", reading_info((enum reading)reading)->label);
	if (names.length > 0 && !*begun) {
		document_heading(paper->document, 2, "Not taken");
		document_pairs(paper->document);
		*begun = true;
	}
	if (names.length > 0)
		document_pair(paper->document, step_info(step)->label, text_get(&names));
	text_done(&names);
}

void paper_add_readings(const struct paper *paper)
{
	document_heading(paper->document, 2, "Readings");
	for (int step = 0; step < STEP_COUNT; step++)
		if (step != STEP_SAFETY)
			add_step(paper, (enum step)step);
	if (!paper_was_read(paper))
		document_paragraph(paper->document, TONE_PLAIN, "None were taken.");
	if (!paper->for_office)
		return;
	bool begun = false;
	for (int step = 0; step < STEP_COUNT && paper_was_read(paper); step++)
		if (step != STEP_SAFETY)
			add_not_taken(paper, (enum step)step, &begun);
}

void paper_add_nameplate(const struct paper *paper)
{
	const struct visit *visit = &paper->call->visit;
	char out[VALUE_TEXT_SIZE + NUMBER_SIZE];
	bool is_headed = false;

	for (int reading = 1; reading < READING_COUNT; reading++) {
		const struct reading_info *info = reading_info((enum reading)reading);
		if (info->scope == SCOPE_CALL || !visit_has(visit, STAGE_AS_FOUND, (enum reading)reading))
			continue;
		reading_format((enum reading)reading,
		               visit_value(visit, STAGE_AS_FOUND, (enum reading)reading),
		               paper->input->units, VALUE_FORM_WITH_UNIT, out, sizeof out);
		if (!is_headed) {
			document_heading(paper->document, 2, "Nameplate");
			document_pairs(paper->document);
			is_headed = true;
		}
		document_pair(paper->document, info->label, out);
	}
}

/* ---- Figures ---- */

/* The limit that decides, MΩ: below the floor the floor, else that which the trend heads for. */
static double insulation_limit(const struct paper *paper, enum stage stage)
{
	const struct visit *visit = &paper->call->visit;
	const struct figure_set *set = &paper->input->assessment->figures[stage];
	bool inverter = visit_choice(visit, stage, READING_COMPRESSOR_MOTOR) == CHOICE_MOTOR_INVERTER;
	double floor;

	if (visit_number(visit, stage, READING_INSULATION_FLOOR, &floor) != STATUS_OK)
		floor = inverter ? ELECTRICAL_INSULATION_FLOOR_INVERTER : ELECTRICAL_INSULATION_FLOOR;
	return set->values[FIGURE_INSULATION_GRADE].value <= INSULATION_BELOW_FLOOR
	       ? floor : fmax(floor, ELECTRICAL_INSULATION_WATCH);
}

/* The grade with what it stands on: "good: 45.0 MΩ at 500 V", "at least 20 MΩ". */
static void tell_insulation(const struct paper *paper, enum stage stage, bool is_expected,
                            struct measured *measured)
{
	const struct visit *visit = &paper->call->visit;
	char shown[VALUE_TEXT_SIZE], volts[VALUE_TEXT_SIZE + 8] = "";

	reading_format(READING_COMPRESSOR_GROUND_RESISTANCE,
	               visit_value(visit, stage, READING_COMPRESSOR_GROUND_RESISTANCE),
	               paper->input->units, VALUE_FORM_WITH_UNIT, shown, sizeof shown);
	if (visit_has(visit, stage, READING_INSULATION_TEST_VOLTS))
		reading_format(READING_INSULATION_TEST_VOLTS,
		               visit_value(visit, stage, READING_INSULATION_TEST_VOLTS),
		               paper->input->units, VALUE_FORM_WITH_UNIT, volts, sizeof volts);
	measured->shown = document_format(paper->document, "%s: %s%s%s", measured->shown, shown,
	                                  *volts ? " at " : "", volts);
	measured->expected = is_expected ? document_format(paper->document, "at least %g MΩ",
	                                                   insulation_limit(paper, stage)) : "";
}

static struct measured measure_figure(const struct paper *paper, enum figure figure,
                                      enum stage stage, const struct expectation *expectation)
{
	const struct figure_info *info = figure_info(figure);
	const struct figure_value *value = &paper->input->assessment->figures[stage].values[figure];
	struct paper_view view = view_of(paper, info->unit, info->decimals);
	struct measured measured = { .shown = "", .is_number = !info->is_word };
	char out[NUMBER_SIZE];

	figure_format(figure, value->value, paper->input->units, VALUE_FORM_SHEET, out, sizeof out);
	measured.shown = document_keep(paper->document, out);
	if (figure == FIGURE_INSULATION_GRADE && paper->for_office && value->status == STATUS_OK) {
		tell_insulation(paper, stage, expectation->known, &measured);
		return measured;
	}
	if (info->is_word) {
		measured.expected = expectation->known ? figure_word(figure, expectation->low) : "";
		return measured;
	}
	judge(&view, expectation, value->value, value->plus_minus, &measured);
	if (*figure_assumed(&paper->call->visit, stage, figure))
		measured.verdict = "assumed";
	return measured;
}

/* Both rulers of a figure run from the same to the same. */
static void share_scale(struct measure *measure)
{
	struct band *found = &measure->stages[STAGE_AS_FOUND].band;
	struct band *left = &measure->stages[STAGE_AS_LEFT].band;

	if (measure->stages[STAGE_AS_FOUND].has_band)
		band_fit(found);
	if (measure->stages[STAGE_AS_LEFT].has_band)
		band_fit(left);
	if (!measure->stages[STAGE_AS_FOUND].has_band || !measure->stages[STAGE_AS_LEFT].has_band)
		return;
	found->scale_low = left->scale_low = fmin(found->scale_low, left->scale_low);
	found->scale_high = left->scale_high = fmax(found->scale_high, left->scale_high);
}

static bool is_evaluated(const struct paper *paper, enum stage stage, enum figure figure)
{
	const struct figure_set *set = &paper->input->assessment->figures[stage];

	return set->values[figure].status == STATUS_OK && paper_has_readings(paper, stage);
}

/*
 * Fills in a figure's measure.  False when it was not evaluated in any stage;
 * *has_ruler tells whether something is expected of it.
 */
static bool fill_figure(const struct paper *paper, enum figure figure, struct measure *measure,
                        bool *has_ruler)
{
	const struct figure_info *info = figure_info(figure);
	bool evaluated = false;

	*has_ruler = false;
	*measure = (struct measure){
		.label = info->label,
		.unit = unit_symbol(unit_shown(info->unit, paper->input->units), false),
	};
	for (int i = 0; i < STAGE_COUNT; i++) {
		enum stage stage = (enum stage)i;
		if (!is_evaluated(paper, stage, figure))
			continue;
		struct expectation expectation = figure_expect(&paper->call->visit, stage,
		                                               &paper->input->assessment->figures[stage],
		                                               figure);
		evaluated = true;
		measure->label = figure_name(&paper->call->visit, stage, figure);
		*has_ruler = *has_ruler || expectation.known;
		measure->stages[i] = measure_figure(paper, figure, stage, &expectation);
		if (expectation.known && paper->for_office)
			measure->note = document_format(paper->document, "source: %s", expectation.source);
	}
	share_scale(measure);
	return evaluated;
}

/* What the columns and the bar are; of a unit that was only read after the work, that. */
static const char *ruler_help(const struct paper *paper)
{
	const char *usually = paper->for_office ? "" : " Usually: a common value.";

	return document_format(paper->document, "%sHeavy bar: a sound unit in this weather.%s",
	                       paper_has_readings(paper, STAGE_AS_FOUND)
	                       ? "As found: before the work on a part. As left: after it. "
	                       : "As left: after the work. ", usually);
}

/* Adds the figures of which something is expected, or the others. */
static void add_figures(const struct paper *paper, bool with_ruler,
                        void (*open)(const struct paper *paper, const char *caption),
                        const char *caption)
{
	struct measure measure;
	bool has_ruler, any = false;

	for (int figure = 1; figure < FIGURE_COUNT; figure++) {
		if (!fill_figure(paper, (enum figure)figure, &measure, &has_ruler) ||
		    has_ruler != with_ruler)
			continue;
		if (!any)
			open(paper, caption);
		any = true;
		document_measure(paper->document, &measure);
	}
}

static void open_rulers(const struct paper *paper, const char *caption)
{
	document_heading(paper->document, 2, "What the readings mean");
	document_paragraph(paper->document, TONE_SMALL, ruler_help(paper));
	document_paragraph(paper->document, TONE_SMALL,
		"±: how far the meters may be off (95 %).");
	document_rulers(paper->document, caption);
}

static void open_other_figures(const struct paper *paper, const char *caption)
{
	document_heading(paper->document, 2, "Other figures");
	document_readings(paper->document, caption);
}

/* What the figures marked so take for granted: "usual airflow (expected split), …". */
static void add_assumed(const struct paper *paper)
{
	struct text words;

	text_init(&words);
	for (int figure = 1; figure < FIGURE_COUNT; figure++) {
		const char *assumed = "";
		for (int stage = 0; stage < STAGE_COUNT && !*assumed; stage++)
			if (is_evaluated(paper, (enum stage)stage, (enum figure)figure))
				assumed = figure_assumed(&paper->call->visit, (enum stage)stage,
				                         (enum figure)figure);
		if (*assumed)
			text_add_format(&words, "%s%s (%s)", words.length > 0 ? ", " : "", assumed,
			                figure_info((enum figure)figure)->label);
	}
	if (words.length > 0)
		document_paragraph(paper->document, TONE_SMALL,
		                   document_format(paper->document,
		                                   "Assumed, because nobody measured, read or set it: %s.",
		                                   text_get(&words)));
	text_done(&words);
}

/* What a value leaves out that somebody could be hurt by. */
static void add_cautions(const struct paper *paper)
{
	for (int figure = 1; figure < FIGURE_COUNT; figure++) {
		const char *caution = "";
		for (int stage = 0; stage < STAGE_COUNT && !*caution; stage++)
			if (is_evaluated(paper, (enum stage)stage, (enum figure)figure))
				caution = figure_caution(&paper->call->visit, (enum stage)stage,
				                         (enum figure)figure);
		if (*caution)
			document_paragraph(paper->document, TONE_PLAIN,
				document_format(paper->document, "For %s: %s.",
				                figure_info((enum figure)figure)->label, caution));
	}
}

void paper_add_rulers(const struct paper *paper)
{
	add_figures(paper, true, open_rulers, "figure");
	add_figures(paper, false, open_other_figures, "figure");
	add_assumed(paper);
	add_cautions(paper);
}

/* What a customer reads of the measurements: each with words of its own. */
static const struct {
	enum figure figure;  /* shown where something is expected of it */
	const char *words;   /* what it is */
	const char *if_high; /* what the customer can do where it stays high; NULL: nothing */
} customer_figures[] = {
	{ FIGURE_TEMPERATURE_SPLIT, "cooling of the air", NULL },
	{ FIGURE_SUPERHEAT, "refrigerant charge, shown by a temperature (high: too little, low: too "
	                    "much)", NULL },
	{ FIGURE_SUBCOOLING, "refrigerant charge, shown by a temperature (low: too little, high: too "
	                     "much)", NULL },
	{ FIGURE_COMPRESSOR_CAPACITOR_DEVIATION, "compressor capacitor, from its rating", NULL },
	{ FIGURE_FAN_CAPACITOR_DEVIATION, "fan capacitor, from its rating", NULL },
	{ FIGURE_RLA_SHARE, "compressor current, share of rating", NULL },
	{ FIGURE_FAN_FLA_SHARE, "outdoor fan current, share of rating", NULL },
	{ FIGURE_BLOWER_FLA_SHARE, "indoor blower current, share of rating", NULL },
	{ FIGURE_TOTAL_EXTERNAL_STATIC, "air resistance of filter and ducts",
	  "Filter and ducts restrict the air. Larger ducts would help: ask us for a price." },
};

/* The one of superheat and subcooling by which this unit is not charged. */
static enum figure not_charged_by(const struct paper *paper)
{
	enum choice metering = visit_choice(&paper->call->visit, STAGE_AS_FOUND, READING_METERING);

	return metering_is_valve(metering) ? FIGURE_SUPERHEAT : FIGURE_SUBCOOLING;
}

/*
 * What stands without a verdict where the figure that would judge it has no limit: by what
 * the charge was set, and what a rating on the nameplate would say more of.
 */
static const struct {
	enum reading reading; /* READING_NONE: `figure` itself is shown */
	enum figure figure;   /* that would judge it; FIGURE_NONE: the one the charge is set by */
	const char *words;    /* what it is */
} bare_measures[] = {
	{ READING_SUCTION_PRESSURE, FIGURE_NONE, "refrigerant pressure, cold side" },
	{ READING_LIQUID_PRESSURE, FIGURE_NONE, "refrigerant pressure, warm side" },
	{ READING_NONE, FIGURE_SUPERHEAT, "refrigerant gas, above boiling by" },
	{ READING_NONE, FIGURE_SUBCOOLING, "refrigerant liquid, below boiling by" },
	{ READING_RETURN_DB, FIGURE_TEMPERATURE_SPLIT, "air into the indoor unit" },
	{ READING_SUPPLY_DB, FIGURE_TEMPERATURE_SPLIT, "air out of the indoor unit" },
	{ READING_COMPRESSOR_CAPACITANCE, FIGURE_COMPRESSOR_CAPACITOR_DEVIATION,
	  "compressor capacitor" },
	{ READING_FAN_CAPACITANCE, FIGURE_FAN_CAPACITOR_DEVIATION, "fan capacitor" },
	{ READING_COMMON_AMPS, FIGURE_RLA_SHARE, "compressor current" },
	{ READING_FAN_AMPS, FIGURE_FAN_FLA_SHARE, "outdoor fan current" },
	{ READING_BLOWER_AMPS, FIGURE_BLOWER_FLA_SHARE, "indoor blower current" },
};

/* Whether a figure stands on a ruler of the customer's report. */
static bool has_verdict(const struct paper *paper, enum figure figure)
{
	struct measure measure;
	bool has_ruler;

	return fill_figure(paper, figure, &measure, &has_ruler) && has_ruler;
}

/* Whether the circuit was worked on, or read so far that its pressures say something. */
static bool proves_charge(const struct paper *paper)
{
	bool any = paper->call->charge_count > 0;

	for (int stage = 0; stage < STAGE_COUNT; stage++)
		any = any || is_evaluated(paper, (enum stage)stage, FIGURE_SUPERHEAT) ||
		      is_evaluated(paper, (enum stage)stage, FIGURE_SUBCOOLING);
	return any;
}

static bool fill_bare(const struct paper *paper, size_t which, struct measure *measure)
{
	enum reading reading = bare_measures[which].reading;
	enum figure figure = bare_measures[which].figure;
	bool has_ruler;

	if (reading == READING_NONE) {
		if (!fill_figure(paper, figure, measure, &has_ruler))
			return false;
	} else {
		if (!is_taken(&paper->call->visit, reading))
			return false;
		fill_reading(paper, reading, measure);
	}
	measure->label = bare_measures[which].words;
	measure->note = NULL;
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		measure->stages[stage].expected = measure->stages[stage].verdict = "";
	return true;
}

/* The heading of what was measured, before the first of it. */
static void open_measured(const struct paper *paper, bool *open)
{
	if (!*open)
		document_heading(paper->document, 2, "What we measured");
	*open = true;
}

/* What was measured and can be compared with nothing stands as proof of the work all the same. */
static void add_bare(const struct paper *paper, bool open)
{
	enum figure charged_by = not_charged_by(paper) == FIGURE_SUPERHEAT ? FIGURE_SUBCOOLING
	                                                                   : FIGURE_SUPERHEAT;
	bool begun = false, tells_charge = proves_charge(paper) && !has_verdict(paper, charged_by);
	struct measure measure;

	for (size_t i = 0; i < sizeof bare_measures / sizeof *bare_measures; i++) {
		enum figure judge = bare_measures[i].figure;
		bool of_charge = judge == FIGURE_NONE || bare_measures[i].reading == READING_NONE;
		if (of_charge ? !tells_charge : has_verdict(paper, judge))
			continue;
		if (!fill_bare(paper, i, &measure))
			continue;
		open_measured(paper, &open);
		if (!begun) {
			document_paragraph(paper->document, TONE_SMALL,
				"Measured; no limit for this unit is on record, so there is no \"good\" or "
				"\"low\".");
			document_readings(paper->document, "measured");
		}
		begun = true;
		document_measure(paper->document, &measure);
	}
}

void paper_add_measured(const struct paper *paper)
{
	struct measure measure;
	bool has_ruler, open = false, rulers = false;
	struct doubt doubt = { .any = false };

	for (size_t i = 0; i < sizeof customer_figures / sizeof *customer_figures; i++) {
		enum figure figure = customer_figures[i].figure;
		if (figure == not_charged_by(paper) ||
		    !fill_figure(paper, figure, &measure, &has_ruler) || !has_ruler)
			continue;
		open_measured(paper, &open);
		if (!rulers) {
			document_paragraph(paper->document, TONE_SMALL, ruler_help(paper));
			document_rulers(paper->document, "measured");
		}
		rulers = true;
		note_doubt(&measure, &doubt);
		measure.label = customer_figures[i].words;
		document_measure(paper->document, &measure);
	}
	tell_doubt(paper, &doubt);
	add_bare(paper, open);
}

/* What a customer's figure was after the work: BAND_UNKNOWN where it is not shown. */
static enum band_verdict verdict_as_left(const struct paper *paper, enum figure figure)
{
	const struct figure_set *set = &paper->input->assessment->figures[STAGE_AS_LEFT];

	if (figure == not_charged_by(paper) || !is_evaluated(paper, STAGE_AS_LEFT, figure))
		return BAND_UNKNOWN;
	struct expectation expected = figure_expect(&paper->call->visit, STAGE_AS_LEFT, set, figure);
	return expectation_judge(&expected, set->values[figure].value, set->values[figure].plus_minus);
}

void paper_tell_outside(const struct paper *paper)
{
	struct text names, advice;

	text_init(&names);
	text_init(&advice);
	for (size_t i = 0; i < sizeof customer_figures / sizeof *customer_figures; i++) {
		enum figure figure = customer_figures[i].figure;
		enum band_verdict verdict = verdict_as_left(paper, figure);
		if (verdict != BAND_LOW && verdict != BAND_HIGH)
			continue;
		paper_join(&names, ", ", paper->for_office ? figure_info(figure)->label
		                                           : customer_figures[i].words);
		if (verdict == BAND_HIGH && customer_figures[i].if_high && !paper->for_office)
			text_add_format(&advice, " %s", customer_figures[i].if_high);
	}
	if (names.length > 0)
		document_paragraph(paper->document, TONE_PLAIN,
			document_format(paper->document, "Outside what is usual after the work: %s.%s",
			                text_get(&names), text_get(&advice)));
	text_done(&names);
	text_done(&advice);
}

/* Whether a missing figure is worth a line: not one that is for other units. */
static bool is_missed(const struct paper *paper, enum stage stage, enum figure figure)
{
	const struct figure_value *value = &paper->input->assessment->figures[stage].values[figure];

	return !is_evaluated(paper, STAGE_AS_FOUND, figure) &&
	       !is_evaluated(paper, STAGE_AS_LEFT, figure) &&
	       value->status != STATUS_NOT_APPLICABLE &&
	       (value->blame == READING_NONE ||
	        visit_applies(&paper->call->visit, stage, value->blame));
}

/* Why a figure was not worked out: of both columns where they lack different things. */
static const char *why_missed(const struct paper *paper, enum figure figure)
{
	char found[160], left[160];

	figure_explain(&paper->input->assessment->figures[STAGE_AS_FOUND].values[figure], found,
	               sizeof found);
	figure_explain(&paper->input->assessment->figures[STAGE_AS_LEFT].values[figure], left,
	               sizeof left);
	if (!paper_has_readings(paper, STAGE_AS_LEFT) || strcmp(found, left) == 0)
		return document_keep(paper->document, found);
	return document_format(paper->document, "as found: %s; as left: %s", found, left);
}

void paper_add_not_evaluated(const struct paper *paper)
{
	bool open = false;

	for (int figure = 1; figure < FIGURE_COUNT && paper_was_read(paper); figure++) {
		if (!is_missed(paper, STAGE_AS_FOUND, (enum figure)figure))
			continue;
		if (!open) {
			document_heading(paper->document, 2, "Not worked out");
			document_pairs(paper->document);
		}
		open = true;
		document_pair(paper->document, figure_info((enum figure)figure)->label,
		              why_missed(paper, (enum figure)figure));
	}
}
