#ifndef PADSIDE_TRAIL_WORDS_H
#define PADSIDE_TRAIL_WORDS_H

#include <stddef.h>

#include <padside/base/units.h>

/*
 * Fields and values of the trail in words: what the book calls
 * "as_found.suction_pressure", "118" is "suction pressure as found", "118.0
 * psig" to a person.
 */

enum { TRAIL_LABEL_SIZE = 96 };

/* What a field is called; `what` is the kind of thing: "call", "work line", … */
void trail_words_field(const char *what, const char *field, char *out, size_t size);

/* A value of it from its exact text, in the reader's units; "nothing" for none. */
void trail_words_value(const char *what, const char *field, const char *exact,
                       enum unit_system units, char *out, size_t size);

#endif
