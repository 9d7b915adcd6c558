#ifndef PADSIDE_BAND_H
#define PADSIDE_BAND_H

#include <stdbool.h>

#include <padside/base/text.h>

/*
 * The band: a figure drawn as a short ruler.  The expected stretch is heavy, a
 * mark says where the reading stands, and the mark is as wide as the meters'
 * uncertainty.
 *
 *	├──▐███▌───◇◆◇─┤ expected 8 ±5: high
 *
 * Screen, findings, history and paper all draw it with this module; the
 * colours that the screen adds come from the same cells.
 */

struct band {
	double value;      /* where the reading stands */
	bool has_value;    /* false: not taken, or not evaluated */
	double plus_minus; /* its uncertainty, 0 when unknown */
	double low, high;  /* the expected stretch; -INFINITY or INFINITY where it is
	                      open; low above high (or NAN): nothing is expected */
	bool is_assumed;   /* the stretch stands on a value that nobody measured or read */
	double scale_low;  /* what the ends of the ruler stand for; left at 0 and 0, */
	double scale_high; /* or equal, the scale is chosen as by band_fit() */
};

/*
 * Where a reading stands against what is expected.  The whole interval of the
 * reading counts: where a limit lies within it the meters cannot tell on which
 * side the true value is.
 */
enum band_verdict {
	BAND_UNKNOWN,   /* no value, or nothing expected */
	BAND_INSIDE,
	BAND_AMBIGUOUS, /* the interval crosses a limit */
	BAND_LOW,
	BAND_HIGH,
};

enum band_part {
	BAND_RULE,     /* the ruler itself */
	BAND_EXPECTED, /* its heavy stretch */
	BAND_SPREAD,   /* a side of the mark: the uncertainty */
	BAND_MARK,     /* the reading */
	BAND_BEYOND,   /* an arrow at the end: the reading lies beyond the ruler */
};

struct band_cell {
	unsigned character;  /* what is drawn, one column wide */
	enum band_part part; /* what it is, for the ink */
};

enum { BAND_WIDTH_LEAST = 7, BAND_WIDTH_MOST = 100 };

/*
 * Chooses the scale: the expected stretch with room on both sides, widened so
 * far as the reading needs it, but never so far that the stretch cannot be
 * seen any more; then the reading is shown by an arrow at the end.
 */
void band_fit(struct band *band);

/*
 * Works out the cells of a ruler of `width` columns (held to the limits
 * above); `cells` has room for that many.  Returns the width used.
 */
int band_cells(const struct band *band, int width, struct band_cell *cells);

/* Appends the ruler as text. */
void band_draw(const struct band *band, int width, bool plain, struct text *text);

enum band_verdict band_judge(const struct band *band);

/* "low", "ambiguous", "good"; "" for BAND_UNKNOWN.  Static text. */
const char *band_verdict_word(enum band_verdict verdict);

/*
 * Appends the words that go behind the ruler, so that nothing hangs on shape
 * or colour: "expected 8 ±5: high", "expected at least 20: good", "expected 8 ±5" without
 * a value, "assumed 4 to 16: good"; nothing when nothing is expected.
 */
void band_add_words(const struct band *band, int decimals, bool plain, struct text *text);

#endif
