/*
 * Facts into words.
 */
#include <padside/report/wording.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/quantities.h>
#include <padside/base/text.h>
#include <padside/calc/tightness.h>
#include <padside/model/moved.h>

/* ---- Values ---- */

/* A figure or a reading, with its unit: a number, a word, OL. */
static void format_value(enum figure figure, enum reading reading, double number, bool over_limit,
                         enum unit_system units, char *out, size_t size)
{
	if (figure != FIGURE_NONE) {
		figure_format(figure, number, units, VALUE_FORM_WITH_UNIT, out, size);
		return;
	}
	/* What was written stands in the sheet; here that something is shown. */
	if (reading_info(reading)->kind == KIND_TEXT) {
		text_copy(out, size, "shown");
		return;
	}
	struct value value = { .state = over_limit ? VALUE_OVER_LIMIT : VALUE_TAKEN,
	                       .number = number, .taken_at = WALL_TIME_NONE };
	if (reading_info(reading)->kind == KIND_CHOICE)
		value.choice = (enum choice)(int)number;
	reading_format(reading, &value, units, VALUE_FORM_WITH_UNIT, out, size);
}

static const char *label_of(enum figure figure, enum reading reading)
{
	return figure != FIGURE_NONE ? figure_info(figure)->label : reading_info(reading)->label;
}

/* ---- Evidence ---- */

/* What leans less than this says nothing either way. */
#define NEUTRAL_BELOW 0.1

void wording_evidence(const struct evidence *evidence, enum unit_system units, char *out,
                      size_t size)
{
	char value[VALUE_TEXT_SIZE], expected[VALUE_TEXT_SIZE];
	const char *label = label_of(evidence->figure, evidence->reading);

	format_value(evidence->figure, evidence->reading, evidence->over_limit ? 0 : evidence->value,
	             evidence->over_limit, units, value, sizeof value);
	if (evidence->has_expected && !isnan(evidence->expected)) {
		format_value(evidence->figure, evidence->reading, evidence->expected, false, units,
		             expected, sizeof expected);
		snprintf(out, size, "%s: %s, about %s expected", label, value, expected);
	} else {
		snprintf(out, size, "%s: %s", label, value);
	}
	text_trim_broken_utf8(out);
}

const char *wording_side(double leans)
{
	return leans >= NEUTRAL_BELOW ? "for" : leans >= -NEUTRAL_BELOW ? "neither" : "against";
}

const char *wording_strength(double leans)
{
	static const struct {
		double from;       /* from which it holds */
		const char *words; /* what it is called */
	} rows[] = {
		{ 1.0, "strong evidence for it" }, { 0.3, "evidence for it" },
		{ NEUTRAL_BELOW, "weak evidence for it" }, { -NEUTRAL_BELOW, "neutral" },
		{ -0.3, "weak evidence against it" },
		{ -1.0, "evidence against it" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (leans >= rows[i].from)
			return rows[i].words;
	return "strong evidence against it";
}

/* ---- Findings ---- */

static void standing_of_judgement(const struct judgement *judgement, bool with_why, char *out,
                                  size_t size)
{
	static const char *const verdicts[JUDGEMENT_VERDICT_COUNT] = {
		[JUDGEMENT_CONFIRMED] = "confirmed by", [JUDGEMENT_RULED_OUT] = "ruled out by",
		[JUDGEMENT_WATCH] = "set to watch by",
	};

	const char *why = with_why ? judgement->why : "";
	snprintf(out, size, "%s %s%s%s", verdicts[judgement->verdict],
	         *judgement->by ? judgement->by : "the technician", *why ? ": " : "", why);
	text_trim_broken_utf8(out);
}

const char *wording_basis(const struct finding *finding)
{
	if (finding->basis != BASIS_MEASURED)
		return "";
	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		bool is_seen = evidence->figure == FIGURE_NONE && evidence->reading != READING_NONE &&
		               (reading_info(evidence->reading)->kind == KIND_CHOICE ||
		                reading_info(evidence->reading)->kind == KIND_YES_NO);
		if (evidence->leans > 0 && !is_seen)
			return "measured";
	}
	return finding->evidence_count > 0 ? "seen" : "measured";
}

void wording_standing(const struct finding *finding, const struct call *call, bool with_why,
                      char *out, size_t size)
{
	if (finding->is_judged)
		standing_of_judgement(&call->judgements[finding->judgement], with_why, out, size);
	else
		snprintf(out, size, "%s", wording_basis(finding));
}

void wording_to_do(const struct finding *finding, enum unit_system units, char *out, size_t size)
{
	bool is_unlikely = finding->level == LEVEL_NOTE && finding->basis == BASIS_INFERRED &&
	                   !finding->is_judged;

	quantities_write(is_unlikely ? "Measure more before you act on it."
	                             : fault_info(finding->fault)->advice, units, out, size);
}

const char *wording_not_judged(const struct visit *visit, enum stage stage)
{
	enum choice fan = visit_choice(visit, stage, READING_FAN_STATE);

	switch (figure_void(visit, stage)) {
	case STATUS_ON_ICE:
		return "the coil was iced";
	case STATUS_AT_REST:
		return "the compressor did not run";
	default:
		break;
	}
	if (fan != CHOICE_NONE && fan != CHOICE_MOTOR_STATE_RUNS)
		return "the condenser fan did not run";
	if (visit_choice(visit, stage, READING_COMPRESSOR_MOTOR) == CHOICE_MOTOR_INVERTER &&
	    !visit_has(visit, stage, READING_CAPACITY_PERCENT))
		return "the compressor's speed was not read";
	return "";
}

static bool is_seen(enum reading reading)
{
	enum reading_kind kind = reading_info(reading)->kind;

	return kind == KIND_CHOICE || kind == KIND_YES_NO;
}

/* Whether all that speaks for it was looked at: no meter read any of it. */
static bool is_only_seen(const struct finding *finding)
{
	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		if (evidence->leans > 0 && (evidence->figure != FIGURE_NONE || !is_seen(evidence->reading)))
			return false;
	}
	return finding->evidence_count > 0;
}

const char *wording_after_work(const struct finding *finding)
{
	static const char *const words[] = {
		[AFTER_WORK_NONE] = "", [AFTER_WORK_GONE] = "gone, measured again",
		[AFTER_WORK_STILL_THERE] = "still there", [AFTER_WORK_NOT_TESTED] = "not tested again",
	};

	return finding->after_work == AFTER_WORK_GONE && is_only_seen(finding)
		? "gone, seen again" : words[finding->after_work];
}

const char *wording_unexplained(const struct diagnosis *diagnosis)
{
	return diagnosis->unexplained > 0.5
		? "cannot tell: no known fault explains these readings together; check the meters and the "
		  "refrigerant, then read again" : "";
}

/* ---- Contradictions ---- */

void wording_contradiction(const struct contradiction *contradiction, enum unit_system units,
                           char *out, size_t size)
{
	static const char *const rows[CONTRADICTION_COUNT] = {
#define CONTRADICTION(id, words, ...) [CONTRADICTION_##id] = words,
#include <padside/diagnose/contradictions.def>
#undef CONTRADICTION
	};
	char value[VALUE_TEXT_SIZE];
	struct text text;

	text_init(&text);
	text_add(&text, rows[contradiction->id]);
	for (int i = 0; i < contradiction->quoted_count; i++) {
		const struct quoted *quoted = &contradiction->quoted[i];
		format_value(quoted->figure, quoted->reading, quoted->value, false, units, value,
		             sizeof value);
		text_add_format(&text, "%s%s %s", i == 0 ? " (" : ", ",
		                label_of(quoted->figure, quoted->reading), value);
	}
	if (contradiction->quoted_count > 0)
		text_add_char(&text, ')');
	text_copy(out, size, text_get(&text));
	text_done(&text);
}

/* ---- Predictions ---- */

static const char *explanation(enum fault fault)
{
	return fault == FAULT_NONE ? "a sound unit" : fault_info(fault)->label;
}

void wording_explanation(const struct prediction *prediction, char *out, size_t size)
{
	bool is_pair = prediction->second != FAULT_NONE;

	snprintf(out, size, "%s%s%s", explanation(prediction->first), is_pair ? " with " : "",
	         is_pair ? explanation(prediction->second) : "");
	text_trim_broken_utf8(out);
}

void wording_predicted(const struct predicted *predicted, enum unit_system units, char *out,
                       size_t size)
{
	const struct reading_info *info = reading_info(predicted->reading);
	enum unit shown = unit_shown(info->unit, units);
	char value[NUMBER_SIZE], spread[NUMBER_SIZE];
	int decimals = unit_decimals_shown(info->decimals, info->unit, units);

	number_format(unit_convert(predicted->value, info->unit, shown), decimals, value, sizeof value);
	number_format(unit_convert_spread(predicted->plus_minus, info->unit, shown), decimals, spread,
	              sizeof spread);
	snprintf(out, size, "%s ±%s", value, spread);
	text_trim_broken_utf8(out);
}

/*
 * A difference in the unit of the figure or reading: temperatures without the offset of the scales.
 */
void wording_own(const struct own_difference *own, enum unit_system units, char *out, size_t size)
{
	bool is_figure = own->figure != FIGURE_NONE;
	enum unit unit = is_figure ? figure_info(own->figure)->unit : reading_info(own->reading)->unit;
	int decimals = is_figure ? figure_info(own->figure)->decimals
	                         : reading_info(own->reading)->decimals;
	enum unit difference = unit == UNIT_F ? UNIT_F_DIFF : unit;
	enum unit shown = unit_shown(difference, units);
	char digits[NUMBER_SIZE];

	number_format(unit_convert_spread(fabs(own->difference), difference, shown),
	              unit_decimals_shown(decimals, difference, units), digits, sizeof digits);
	snprintf(out, size, "%s %s %s %s this unit's own, %d visit%s",
	         label_of(own->figure, own->reading), digits, unit_symbol(shown, false),
	         own->difference > 0 ? "above" : "below", own->visits, own->visits == 1 ? "" : "s");
	text_trim_broken_utf8(out);
}

/* ---- Charging ---- */

enum { MASS_SIZE = NUMBER_SIZE + 16 };

/* Refrigerant as the scale shows it: "6.3 oz", "179 g". */
static const char *mass(double ounces, int decimals, enum unit_system units, char out[MASS_SIZE])
{
	enum unit unit = unit_shown(UNIT_OZ, units);
	char digits[NUMBER_SIZE];

	number_format(unit_convert(ounces, UNIT_OZ, unit),
	              unit_decimals_shown(decimals, UNIT_OZ, units), digits, sizeof digits);
	snprintf(out, MASS_SIZE, "%s %s", digits, unit_symbol(unit, false));
	return out;
}

/* "in all 17 oz ±4 oz (95 %)"; less sure than it is large, it would say to take some out too. */
static void word_total(const struct charge_advice *advice, double sign, enum unit_system units,
                       char *out, size_t size)
{
	char total[MASS_SIZE], off[MASS_SIZE];

	if (advice->total_plus_minus_oz >= fabs(advice->total_oz))
		snprintf(out, size, "how much in all is not certain yet");
	else
		snprintf(out, size, "in all %s ±%s (95 %%)", mass(sign * advice->total_oz, 0, units, total),
		         mass(advice->total_plus_minus_oz, 0, units, off));
}

/* What comes before any is added. */
static const char *leak_words(enum charging_leak leak)
{
	switch (leak) {
	case CHARGING_LEAK_OPEN:
		return "find and repair the leak, hold a test; then ";
	case CHARGING_LEAK_FOUND:
		return "repair the leak, hold a test; then ";
	case CHARGING_LEAK_UNPROVED:
		return "no held test is on record: prove the circuit tight first; then ";
	default:
		return "";
	}
}

static void word_move(const struct charging *charging, enum unit_system units, char *out,
                      size_t size)
{
	const struct charge_advice *advice = &charging->advice;
	bool adds = advice->verdict == CHARGE_ADD;
	char now[MASS_SIZE], total[WORDING_SIZE];
	double sign = adds ? 1 : -1;
	const char *caution = adds ? advice->may_overshoot ? "; all at once could pass the target" : ""
	                           : advice->has_overshot ? "; the last step passed the target" : "";

	word_total(advice, sign, units, total, sizeof total);
	snprintf(out, size, "%s%s %s, wait %.0f min, read again; %s%s",
	         leak_words(charging->leak), adds ? "add" : "recover",
	         mass(sign * advice->move_oz, 1, units, now), advice->wait_minutes, total, caution);
}

static void word_advice(const struct charging *charging, enum unit_system units, char *out,
                        size_t size)
{
	const struct charge_advice *advice = &charging->advice;
	bool by_superheat = charging->mode == CHARGE_BY_SUPERHEAT;
	const char *what = by_superheat ? "superheat" : "subcooling";
	char now[VALUE_TEXT_SIZE];

	figure_format(by_superheat ? FIGURE_SUPERHEAT : FIGURE_SUBCOOLING, charging->now_f, units,
	              VALUE_FORM_WITH_UNIT, now, sizeof now);
	switch (advice->verdict) {
	case CHARGE_HOLD:
		snprintf(out, size, "%s %s is at its target: leave the charge as it is", what, now);
		break;
	case CHARGE_ADD:
	case CHARGE_RECOVER:
		word_move(charging, units, out, size);
		break;
	case CHARGE_WAIT:
		if (charging->filled_since)
			snprintf(out, size, "refrigerant was moved after these readings: run %.0f min and read "
			         "again first", advice->wait_minutes);
		else
			snprintf(out, size, "not settled: read again in %.0f min", advice->wait_minutes);
		break;
	case CHARGE_FIX_AIRFLOW:
		snprintf(out, size, "repair first: %s; the charge cannot be judged before",
		         charging->first == FAULT_NONE ? "airflow" : fault_info(charging->first)->label);
		break;
	default:
		snprintf(out, size, "%s does not follow the refrigerant: look for another fault", what);
		break;
	}
}

static void word_charging(const struct charging *charging, enum unit_system units, char *out,
                          size_t size)
{
	if (charging->status == STATUS_MISSING) {
		text_copy(out, size, charging->mode == CHARGE_BY_SUPERHEAT
		          ? "no target: outdoor dry bulb and return wet bulb are needed"
		          : "no target: the nameplate's subcooling is needed");
		return;
	}
	if (charging->status == STATUS_TABLE_DASH) {
		text_copy(out, size, "no target in this weather: weigh the charge in");
		return;
	}
	if (charging->status == STATUS_NOT_APPLICABLE) {
		snprintf(out, size, "inverter: charge by weight or by the maker's table");
		return;
	}
	if (!charging->possible) {
		text_copy(out, size, status_sentence(charging->status));
		return;
	}
	/* What is to be repaired first is told by its name. */
	if (charging->may_be_iced && charging->advice.verdict != CHARGE_FIX_AIRFLOW) {
		snprintf(out, size,
		         "look for ice on the indoor coil before charging: suction saturation is "
		         "below freezing, and readings on ice are void");
		return;
	}
	word_advice(charging, units, out, size);
	size_t length = strlen(out);
	if (charging->advice.is_much)
		snprintf(out + length, size - length, "; a lot was moved: weigh it in");
}

void wording_charging(const struct charging *charging, enum unit_system units, char *out,
                      size_t size)
{
	bool waits = !charging->possible || charging->advice.verdict == CHARGE_WAIT;

	word_charging(charging, units, out, size);
	size_t length = strlen(out);
	if (waits && charging->leak == CHARGING_LEAK_FOUND)
		snprintf(out + length, size - length,
		         "; a leak was found: repair it and hold a test before any is added");
}

/* ---- Tightness ---- */

const char *wording_nitrogen_result(enum nitrogen_state state)
{
	static const char *const results[] = {
		[NITROGEN_NONE] = "", [NITROGEN_WAITING] = "not finished", [NITROGEN_HELD] = "held",
		[NITROGEN_UNCLEAR] = "not clear", [NITROGEN_LEAKING] = "NOT held",
	};

	return results[state];
}

const char *wording_vacuum_result(enum vacuum_state state)
{
	static const char *const results[] = {
		[VACUUM_NONE] = "", [VACUUM_WAITING] = "not finished", [VACUUM_HELD] = "held",
		[VACUUM_MOIST] = "NOT held", [VACUUM_LEAKING] = "NOT held", [VACUUM_UNCLEAR] = "NOT held",
	};

	return results[state];
}

void wording_nitrogen(const struct tightness_told *tightness, enum unit_system units, char *out,
                      size_t size)
{
	static const char *const means[] = {
		[NITROGEN_NONE] = "", [NITROGEN_WAITING] = "", [NITROGEN_HELD] = "",
		[NITROGEN_UNCLEAR] = ", the temperature could be why",
		[NITROGEN_LEAKING] = ": the circuit leaks",
	};
	enum unit shown = unit_shown(UNIT_PSIG, units);
	double by = unit_convert_spread(fabs(tightness->lost_psi), UNIT_PSIG, shown);
	double off = unit_convert_spread(tightness->lost_plus_minus, UNIT_PSIG, shown);
	struct text words;

	text_init(&words);
	if (tightness->nitrogen != NITROGEN_NONE)
		text_add_format(&words, "pressure test %s%s, %s %.1f ±%.1f %s in %d min%s",
		                wording_nitrogen_result(tightness->nitrogen), means[tightness->nitrogen],
		                tightness->lost_psi >= 0 ? "down" : "up", by, off,
		                shown == UNIT_PSIG ? "psi" : unit_symbol(shown, false),
		                tightness->nitrogen_minutes,
		                tightness->is_corrected ? ", corrected for temperature"
		                : "; write both temperatures, the pressure follows them");
	if (tightness->nitrogen == NITROGEN_WAITING)
		text_add_format(&words, "; it takes %d min", tightness->nitrogen_least);
	text_copy(out, size, text_get(&words));
	text_done(&words);
}

void wording_vacuum(const struct tightness_told *tightness, char *out, size_t size)
{
	static const struct {
		const char *means, *advice;
	} tells[] = {
		[VACUUM_NONE] = { "", "" },
		[VACUUM_WAITING] = { "", "; read again 15 min after the lowest reading, pump valved off" },
		[VACUUM_HELD] = { "", ", at or below 500" },
		[VACUUM_MOIST] = { ": moisture, the rise levels off",
		                   "; break with dry nitrogen and pump again" },
		[VACUUM_LEAKING] = { ": a leak, the rise is steady", "; find it before charging" },
		[VACUUM_UNCLEAR] = { ": a leak or moisture",
		                     "; a steady rise is a leak, one that "
		                     "levels off is moisture" },
	};

	/* Above the limit no wait begins: the pump goes on (makers' installation instructions). */
	bool is_too_high = tightness->vacuum == VACUUM_WAITING &&
	                   tightness->lowest > TIGHTNESS_MICRONS;

	if (tightness->vacuum == VACUUM_NONE)
		text_copy(out, size, "");
	else if (is_too_high)
		snprintf(out, size, "vacuum not finished: lowest %.0f microns; pump down to %d or lower, "
		         "then valve the pump off and read again after 15 min", tightness->lowest,
		         (int)TIGHTNESS_MICRONS);
	else
		snprintf(out, size, "vacuum %s%s: lowest %.0f microns, %.0f after %d min%s",
		         wording_vacuum_result(tightness->vacuum), tells[tightness->vacuum].means,
		         tightness->lowest, tightness->newest, tightness->vacuum_minutes,
		         tells[tightness->vacuum].advice);
}

void wording_over_full(const struct call *call, enum unit_system units, char *out, size_t size)
{
	char full[VALUE_TEXT_SIZE];
	double full_oz;
	bool by_plate;

	*out = '\0';
	if (!moved_is_over_full(call, &full_oz, &by_plate))
		return;
	figure_format(FIGURE_CHARGE_BY_WEIGHT, full_oz, units, VALUE_FORM_WITH_UNIT, full, sizeof full);
	if (by_plate)
		snprintf(out, size,
		         "the nameplate has %s, and more is in now: if that is not for a long line set, "
		         "read the scale again before it runs", full);
	else
		snprintf(out, size,
		         "the unit and its lines hold %s, and more is in now: read the scale again "
		         "before it runs", full);
}

/* ---- Next checks ---- */


/* What a part's row, or the row of a fault's cause, says; "" where there is none. */
static const char *row_words(enum fault fault, enum reading reading)
{
	static const struct {
		enum fault fault;     /* FAULT_NONE: the row of a part */
		enum reading reading; /* what is taken */
		const char *words;    /* what it answers */
	} rows[] = {
#define PART_CHECK(reading_, variable, tells, minutes, power_off, why) \
		{ FAULT_NONE, READING_##reading_, why },
#define CAUSE_CHECK(fault_, reading_, why) { FAULT_##fault_, READING_##reading_, why },
#define CIRCUIT_CHECK(...)
#define DECIDING_CHECK(...)
#include <padside/diagnose/next_checks.def>
#undef DECIDING_CHECK
#undef PART_CHECK
#undef CAUSE_CHECK
#undef CIRCUIT_CHECK
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (rows[i].fault == fault && rows[i].reading == reading)
			return rows[i].words;
	return "";
}

void wording_next_check(const struct next_check *check, char *out, size_t size)
{
	const char *first = explanation(check->between[0]), *second = explanation(check->between[1]);

	switch (check->reason) {
	case CHECK_CAUSE:
		snprintf(out, size, "%s", row_words(check->between[0], check->reading));
		break;
	case CHECK_ROTATION:
		snprintf(out, size, "whether it turns the right way: suction falls, head rises");
		break;
	case CHECK_BEFORE_RESET:
		snprintf(out, size, "power off, before the breaker is reset, at a tester's volts: "
		         "whether a winding is grounded");
		break;
	case CHECK_AGAIN:
		snprintf(out, size, "again: it cannot be right beside the others");
		break;
	case CHECK_PROVE:
		snprintf(out, size, "whether this is repaired: %s", first);
		break;
	case CHECK_TELL_APART:
		if (check->between[0] == check->between[1])
			snprintf(out, size, "whether the circuit is sound");
		else
			snprintf(out, size, "%s or %s", first, second);
		break;
	default:
		snprintf(out, size, "%s", row_words(FAULT_NONE, check->reading));
		break;
	}
	text_trim_broken_utf8(out);
}

/* ---- Slips ---- */

static void write_reading(const struct visit *visit, enum stage stage, enum reading reading,
                          enum unit_system units, char *out, size_t size)
{
	*out = '\0';
	if (reading != READING_NONE)
		reading_format(reading, visit_value(visit, stage, reading), units, VALUE_FORM_WITH_UNIT,
		               out, size);
}

void wording_slip(const struct visit *visit, enum stage stage, const struct slip *slip,
                  enum unit_system units, char *out, size_t size)
{
	static const char usual_charge[] = /* common practice */
		"Usual are {2 to 4 LB/TON}. Type the unit behind the number: {6 LB 8 OZ}.";
	char value[VALUE_TEXT_SIZE], beside[VALUE_TEXT_SIZE], usual[QUANTITIES_SIZE];

	write_reading(visit, stage, slip->reading, units, value, sizeof value);
	write_reading(visit, stage, slip->beside, units, beside, sizeof beside);
	switch (slip->kind) {
	case SLIP_CHARGE:
		quantities_write(usual_charge, units, usual, sizeof usual);
		snprintf(out, size, "a charge of %s? %s", value, usual);
		break;
	case SLIP_TENTH:
		snprintf(out, size,
		         "%s is about a tenth of the %s on the plate: is the decimal point right?", value,
		         beside);
		break;
	case SLIP_TENFOLD:
		snprintf(out, size,
		         "%s is about ten times the %s on the plate: is the decimal point right?", value,
		         beside);
		break;
	case SLIP_BREAKER:
		snprintf(out, size, "%s is larger than the %s that the nameplate allows (NEC 440.22): a "
		         "licensed electrician changes it, by local code.", value, beside);
		break;
	case SLIP_TEST_VOLTS:
		snprintf(out, size, "tested at %s? 500 V is usual; above about twice the rated voltage the "
		         "test may harm the motor.", value);
		break;
	case SLIP_WINDINGS:
		snprintf(out, size,
		         "%s is more than the other two together: decimal point or a bad contact?", value);
		break;
	}
	text_trim_broken_utf8(out);
}
