#ifndef SUPPORT_SKIP_H
#define SUPPORT_SKIP_H

/*
 * Tests that cannot be made on this machine.  Each runs in a process of its
 * own, so that what was skipped is written down in $BUILD/skipped.log.
 */

/* Says that the running test is skipped, and why; it then returns. */
void skip_test(const char *what, const char *why);

/* For the runner: nothing skipped yet; and how many tests were. */
void skip_begin(void);
int skip_count(void);

#endif
