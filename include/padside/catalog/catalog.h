#ifndef PADSIDE_CATALOG_H
#define PADSIDE_CATALOG_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/clock.h>
#include <padside/base/error.h>
#include <padside/base/units.h>

/*
 * The catalogue: what can be read on a call (include/padside/catalog/readings.def), what
 * can be worked out (figures.def), what can be wrong (faults.def), the steps
 * of the work and its cautions.  Everything else loops over these tables.
 */

/* ---- Choices: the words that some readings take ---- */

enum choice_list {
	CHOICES_NONE,
	CHOICES_ANSWER, /* yes and no, for conditions; such readings are KIND_YES_NO */
	CHOICES_SYSTEM_KIND, CHOICES_REFRIGERANT, CHOICES_METERING, CHOICES_MOTOR,
	CHOICES_COMPRESSOR_KIND, CHOICES_BLOWER_MOTOR, CHOICES_FUSE, CHOICES_SWITCH, CHOICES_CONTACTS,
	CHOICES_CAPACITOR, CHOICES_TERMINALS, CHOICES_COMPRESSOR_STATE, CHOICES_MOTOR_STATE,
	CHOICES_CONDENSER, CHOICES_COIL, CHOICES_DRAIN, CHOICES_FILTER, CHOICE_LIST_COUNT
};

enum choice {
	CHOICE_NONE,
#define CHOICE(list, id, ...) CHOICE_##list##_##id,
#include <padside/catalog/choices.def>
#undef CHOICE
	CHOICE_COUNT
};

/* The stable word of a choice as files hold it; "" for CHOICE_NONE. */
const char *choice_key(enum choice choice);

/* The choice in plain words. */
const char *choice_label(enum choice choice);

/* What else the trade calls it, separated by semicolons; may be "". */
const char *choice_aliases(enum choice choice);

/* The choices of a list are first, first + 1, … first + count - 1. */
enum choice choice_first(enum choice_list list);
int choice_count(enum choice_list list);

/* ---- Steps and conditions ---- */

enum step {
#define STEP(id, ...) STEP_##id,
#include <padside/catalog/steps.def>
#undef STEP
	STEP_COUNT
};

struct step_info {
	const char *key;     /* stable name */
	const char *label;   /* heading of its sheet */
	const char *brief;   /* name on the route line, at most 8 columns */
	const char *purpose; /* what is done there, one line */
};

const struct step_info *step_info(enum step step);

enum condition {
	CONDITION_NONE, /* always holds */
#define CONDITION(id, ...) CONDITION_##id,
#define CONDITION_ANY CONDITION
#include <padside/catalog/conditions.def>
#undef CONDITION_ANY
#undef CONDITION
	CONDITION_COUNT
};

/* ---- Readings ---- */

enum reading {
	READING_NONE, /* no reading; loops run from 1 to READING_COUNT - 1 */
#define READING(id, ...) READING_##id,
#include <padside/catalog/readings.def>
#undef READING
	READING_COUNT
};

enum reading_kind {
	KIND_NUMBER,     /* a number in the row's unit */
	KIND_RESISTANCE, /* a number or over limit (OL) */
	KIND_CHOICE,     /* one of a list of words */
	KIND_YES_NO,     /* yes or no, with the time it was said */
	KIND_DATE,       /* a day, kept as text: "2031-06-30" */
	KIND_TEXT        /* a few words, at most VALUE_TEXT_SIZE - 1 bytes */
};

/* To what a reading belongs, and so how long it stays true. */
enum scope {
	SCOPE_CALL,   /* this call, in one of its stages */
	SCOPE_SYSTEM, /* the unit: nameplate, comes back next visit */
	SCOPE_SITE    /* the place */
};

/* Whether a step counts as complete without it. */
enum need {
	NEED_EXTRA, /* taken when it helps */
	NEED_CORE   /* a complete step has it, where it applies */
};

/* What a reading shows about the power while it was taken: see padside/model/power.h. */
enum power_need {
	POWER_NEEDED_ANY,    /* power on or off */
	POWER_NEEDED_OFF,    /* taken with the power off, proved dead, discharged */
	POWER_NEEDED_ON,     /* only there with the power on */
	POWER_NEEDED_RUNNING /* only there while the unit runs */
};

struct range {
	double low, high; /* inclusive, in the row's canonical unit; low == high: none */
};

/* ---- Instruments ---- */

enum instrument {
	INSTRUMENT_NONE, /* exact: read from a plate, counted, seen */
#define INSTRUMENT(id, ...) INSTRUMENT_##id,
#include <padside/catalog/instruments.def>
#undef INSTRUMENT
	INSTRUMENT_COUNT
};

/* How far an instrument may be off, as 95 % plus/minus. */
struct accuracy {
	double absolute; /* in the instrument's unit */
	double percent;  /* of the reading; the two are added */
};

struct instrument_info {
	const char *key;          /* stable name */
	const char *label;        /* plain words */
	enum unit unit;           /* of `accuracy.absolute`: a spread, no place on a scale */
	struct accuracy accuracy; /* of a usual field instrument in good order */
};

/* The row of an instrument; `instrument` must be a real one (asserted). */
const struct instrument_info *instrument_info(enum instrument instrument);

/* The instrument with that key; INSTRUMENT_NONE when there is none. */
enum instrument instrument_from_key(const char *key);

/*
 * How far the technician's own instrument may be off: the row's accuracy
 * until it was set.  One process is one technician: set them once, at the
 * start, from the settings.
 */
struct accuracy instrument_accuracy(enum instrument instrument);

/* Sets it; NEGATIVE or NOT_A_NUMBER leave it as it was. */
enum status instrument_set_accuracy(enum instrument instrument, struct accuracy accuracy);

/* All of them as in their rows again. */
void instruments_reset(void);

/*
 * Reads an accuracy as the settings have it: "0.5 + 1 %", "1 %", "0.7", with or
 * without the instrument's unit.  NOT_A_NUMBER, NEGATIVE: *accuracy untouched.
 */
enum status accuracy_parse(enum instrument instrument, const char *typed, struct accuracy *accuracy,
                           struct error *error);

/* Writes it so: "0.5 V + 1 %". */
void accuracy_format(enum instrument instrument, struct accuracy accuracy, char *out, size_t size);

struct reading_info {
	const char *key;          /* stable name in files and the book */
	const char *label;        /* on the sheet, at most 26 columns */
	const char *help;         /* how the reading is taken, one line */
	const char *tells;        /* of a call's: what it should be, and what it tells; else NULL */
	const char *also;         /* other words that it is looked for by; NULL none */
	const char *of_two;       /* which of two values counts here; NULL for that of the label */
	enum step step;           /* the sheet it stands on */
	enum scope scope;         /* what it belongs to */
	enum reading_kind kind;   /* what may be typed */
	enum unit unit;           /* canonical */
	int decimals;             /* shown in the canonical unit */
	struct range hard;        /* outside: refused */
	struct range plausible;   /* outside: kept, with a question */
	const char *or_else;      /* more to ask of a call's: ", or is a leg lost"; NULL nothing */
	struct range expected;    /* sound units read within it, where that is fixed */
	enum instrument instrument; /* it is taken with */
	enum choice_list choices; /* for KIND_CHOICE */
	enum condition condition; /* when it applies */
	enum need need;           /* whether its step is complete without it */
	enum power_need power;    /* what it shows about the power */
	const char *at_zero;      /* 0 V here leaves the supply live: the power, in words; NULL: not */
	enum reading motor;       /* tells what the motor does whose it is; READING_NONE none */
};

/* The row of a reading; `reading` must be a real one (asserted). */
const struct reading_info *reading_info(enum reading reading);

/* Whether it is read on the refrigerant of a running unit. */
bool reading_is_of_circuit(enum reading reading);

/* The reading with that key; READING_NONE when there is none. */
enum reading reading_from_key(const char *key);

enum { CONDITION_MOST_CHOICES = 6 };

/* What a condition looks at: all of its tests must hold, or any one of them. */
struct condition_test {
	enum reading reading;                        /* a choice, or a yes or no */
	bool when_unknown;                           /* the answer when that was not taken */
	enum choice choices[CONDITION_MOST_CHOICES]; /* holds for these; CHOICE_NONE ends */
};

/* The index-th test of a condition, from 0; NULL past the end. */
const struct condition_test *condition_test(enum condition condition, int index);

/* Whether one test that holds is enough for the condition. */
bool condition_is_any(enum condition condition);

/* Whether the choice is one of those of the test. */
bool condition_test_accepts(const struct condition_test *test, enum choice choice);

/* When the condition holds, completing "only …". */
const char *condition_words(enum condition condition);

/*
 * The cautions of a step in order: returns the index-th text and its
 * condition, NULL past the end.
 */
const char *step_caution(enum step step, int index, enum condition *condition);

/* ---- Values ---- */

enum { VALUE_TEXT_SIZE = 64 };

enum value_state {
	VALUE_NOT_TAKEN, /* the reading was not taken: never 0, never NaN */
	VALUE_TAKEN,     /* number, choice or text hold it, by the reading's kind */
	VALUE_OVER_LIMIT /* the meter showed OL */
};

struct value {
	enum value_state state;     /* not taken, taken, over limit */
	double number;              /* canonical unit; 1 yes, 0 no */
	enum choice choice;         /* for KIND_CHOICE */
	char text[VALUE_TEXT_SIZE]; /* for KIND_TEXT and _DATE; UTF-8, no control characters */
	wall_time taken_at;         /* when it was entered; WALL_TIME_NONE unknown */
	bool doubtful;              /* outside the plausible limits: check the meter */
};

/*
 * Reads what was typed for `reading`.  A bare number is in the unit shown in
 * `system`; a unit behind it wins, and a smaller one may follow ("6 lb 8 oz").
 * "OL" on a resistance, "7/8" on a pipe (elsewhere a stroke parts two values),
 * a choice by its key, its label, what else the trade calls it or an
 * unambiguous start of these, yes/no by their start, a day as "2031-06-30".
 * Empty text or spaces give VALUE_NOT_TAKEN.  taken_at is left WALL_TIME_NONE.
 * On failure *value is untouched and the error says what would be accepted.
 */
enum status reading_parse(enum reading reading, const char *typed, enum unit_system system,
                          struct value *value, struct error *error);

/*
 * Checks a number in the canonical unit against the hard limits and fills
 * *value, with `doubtful` set outside the plausible ones.
 */
enum status reading_from_number(enum reading reading, double number, enum unit_system system,
                                struct value *value, struct error *error);

/* How a value is written. */
enum value_form {
	VALUE_FORM_SHEET,     /* "118.0", "OL", "TXV", "yes": no unit */
	VALUE_FORM_WITH_UNIT, /* "118.0 psig" */
	VALUE_FORM_PLAIN      /* "4.5 ohm": as above, ASCII only */
};

/* Writes a value; "" when not taken. */
void reading_format(enum reading reading, const struct value *value, enum unit_system system,
                    enum value_form form, char *out, size_t size);

/*
 * Writes what reading_parse() in US units turns back into the same value,
 * to the last bit: the exact number in the canonical unit, a choice's key.
 */
void reading_format_exact(enum reading reading, const struct value *value, char *out, size_t size);

/* The question for a doubtful value, e.g. "usually 20 to 250 psig: check the gauge". */
void reading_doubt(enum reading reading, enum unit_system system, char *out, size_t size);

/* The instrument's plus/minus, 95 %, for a value in the canonical unit; 0 where it has none. */
double reading_accuracy(enum reading reading, double number);

/* Its two parts, both in the canonical unit; they add up to that. */
struct accuracy reading_accuracy_parts(enum reading reading, double number);

/* The unit shown for a reading in `system`, "" if it has none. */
const char *reading_unit_symbol(enum reading reading, enum unit_system system, bool plain);

/* ---- Figures: what is worked out ---- */

enum figure {
	FIGURE_NONE, /* no figure; loops run from 1 to FIGURE_COUNT - 1 */
#define FIGURE(id, ...) FIGURE_##id,
#include <padside/catalog/figures.def>
#undef FIGURE
	FIGURE_COUNT
};

enum { FIGURE_MOST_NEEDS = 8, FIGURE_MOST_ALTERNATIVES = 3, FIGURE_MOST_USES = 8,
       FIGURE_MOST_PARTS = 2 };

struct figure_info {
	const char *key;     /* stable name in files */
	const char *label;   /* on screen and paper, at most 26 columns */
	enum unit unit;      /* canonical */
	int decimals;        /* shown in the canonical unit */
	bool is_word;        /* the value is a grade: see figure_word() */
	bool takes_over_limit; /* OL is an answer, not a gap */
	bool of_running;     /* says nothing on an iced coil, nor with the compressor at rest */
	/* From each group one reading must be there; READING_NONE ends a group,
	 * an empty group ends the list. */
	enum reading needs[FIGURE_MOST_NEEDS][FIGURE_MOST_ALTERNATIVES];
	enum reading uses[FIGURE_MOST_USES]; /* taken into account when there; READING_NONE ends */
	/* Where `lacking` was not read the figure has that name: the part is still in it. */
	struct figure_part { enum reading lacking; const char *name; } parts[FIGURE_MOST_PARTS];
	/* Where `lacking` was not read: what the value leaves out that somebody could be hurt by. */
	struct { enum reading lacking; const char *words; } caution;
	const char *formula; /* in words */
	const char *source;  /* where it comes from */
};

/* The row of a figure; `figure` must be a real one (asserted). */
const struct figure_info *figure_info(enum figure figure);

/* The figure with that key; FIGURE_NONE when there is none. */
enum figure figure_from_key(const char *key);

/* Whether the figure is worked out from the reading, or takes it into account when it is there. */
bool figure_takes(enum figure figure, enum reading reading);

/*
 * The word for a grade: of insulation_grade "below floor" 0, "watch" 1, "good"
 * 2, "not proved" 3.  NULL for figures that are numbers.
 */
const char *figure_word(enum figure figure, double value);

/* Writes a figure's number as shown in `system`, with or without unit; a grade as its word. */
void figure_format(enum figure figure, double value, enum unit_system system,
                   enum value_form form, char *out, size_t size);

/* Writes a figure's plus/minus as shown in `system`, without unit. */
void figure_format_spread(enum figure figure, double plus_minus, enum unit_system system,
                          char *out, size_t size);

#endif
