#ifndef PADSIDE_SHORT_TEXTS_H
#define PADSIDE_SHORT_TEXTS_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Short texts: letters that stand for a sentence.
 *
 * The table short_texts.def has some; the file
 * $XDG_CONFIG_HOME/padside/short-texts ($HOME/.config/… where that is not set)
 * holds one's own, "letters = sentence" a line, '#' begins a remark.  The
 * workbook reads it when it starts; a file that is not there is no error, a
 * line without '=' is passed over.
 */

/* Where a short text belongs: together by "or". */
enum short_place {
	SHORT_NONE = 0,
	SHORT_OWN = 1,       /* a field that only one's own are for */
	SHORT_COMPLAINT = 2, /* what the customer says */
	SHORT_OPTION = 4,    /* what is proposed */
	SHORT_DONE = 8,      /* what was done, in words for the customer */
	SHORT_WORK = 16      /* what was done, as a line of the bill */
};

/*
 * Writes into `out` what `typed` stands for.  True when every word of it is a
 * short text of `place` (case does not matter) and the sentences fit; else
 * `out` is `typed` and the answer false.
 */
bool short_texts_expand(enum short_place place, const char *typed, char *out, size_t size);

/* The i-th short text of `place`, one's own first; false behind the last. */
bool short_texts_at(enum short_place place, size_t i, const char **letters, const char **text);

/* Reads one's own from the file; those of an earlier reading go. */
void short_texts_read(void);

#endif
