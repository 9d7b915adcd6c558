#ifndef SUPPORT_GOLDEN_H
#define SUPPORT_GOLDEN_H

#include "tui/canvas.h"

/*
 * Golden files: what a screen or a paper is to look like, reviewed by eye.
 *
 * What was drawn is written to $BUILD/golden/NAME.txt on every run; when it
 * is right, copy it to tests/screens/golden/ by hand.  Nothing in the tests
 * ever writes there.
 */

/*
 * Compares a canvas — its text, then its inks — with
 * tests/screens/golden/NAME.txt; fails the running test with the lines that
 * differ.
 */
void golden_check(const char *name, const struct canvas *canvas);

/* Only draws it for review: of several pages all are drawn before the first that differs fails. */
void golden_draw(const char *name, const struct canvas *canvas);

/*
 * The same for any text, with a file of the tests: FOLDER is a folder under
 * tests/, e.g. "report/golden", and NAME the file's name with its ending.
 */
void golden_check_text(const char *folder, const char *name, const char *text);

#endif
