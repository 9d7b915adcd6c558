#ifndef PADSIDE_ERROR_H
#define PADSIDE_ERROR_H

#include <padside/base/status.h>

/*
 * What a layer that talks to files or people reports: the status for the
 * program, the sentence for the technician (what happened, what was kept,
 * what to do).  Owned by the caller, passed as the last parameter, never
 * NULL; untouched on success.
 */
struct error {
	enum status status; /* never STATUS_OK once set */
	char text[320];     /* one sentence, cut at the end if too long */
};

/*
 * Fills `error` and returns `status`, so that a failing function can say
 * `return error_set(error, STATUS_X, "…", …)`.  printf formatting.
 */
enum status error_set(struct error *error, enum status status,
                      const char *format, ...)
	__attribute__((format(printf, 3, 4)));

#endif
