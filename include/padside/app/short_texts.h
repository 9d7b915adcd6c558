#ifndef PADSIDE_SHORT_TEXTS_H
#define PADSIDE_SHORT_TEXTS_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Short texts: letters that stand for a sentence.
 *
 * The table short_texts.def has some; the file
 * $XDG_CONFIG_HOME/padside/short-texts ($HOME/.config/… where that is not set)
 * holds one's own, "letters = sentence" a line, '#' begins a remark.  It is
 * read once, when a text is first expanded; a file that is not there is no
 * error, a line without '=' is passed over.
 */

/*
 * Writes into `out` what `typed` stands for.  True when every word of it is a
 * short text (case does not matter) and the sentences fit; else `out` is
 * `typed` and the answer false.
 */
bool short_texts_expand(const char *typed, char *out, size_t size);

/* The i-th short text, one's own first; false behind the last. */
bool short_texts_at(size_t i, const char **letters, const char **text);

/* Forgets what was read from the file, so that it is read again. */
void short_texts_forget(void);

#endif
