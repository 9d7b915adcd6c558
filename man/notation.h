#ifndef MAN_NOTATION_H
#define MAN_NOTATION_H

/*
 * What every manual page is written with.  All of it goes to standard output;
 * words are escaped, so that what a table says stands on the page as it is.
 */

/* The page's head: its name in capitals, its section, what the section is called. */
void notation_title(const char *name, int section, const char *subject);

/* Words without a line end. */
void notation_words(const char *words);

/* A line of words. */
void notation_line(const char *words);

/* A line of words, with the full stop that the tables' clauses leave out. */
void notation_sentence(const char *clause);

/* A heading: macro ".SH" or ".SS". */
void notation_heading(const char *macro, const char *words);

/* Begins a paragraph with a bold tag and what follows it in plain; "" for nothing. */
void notation_tag(const char *bold, const char *plain);

/* Rows that carry the notation themselves, ended by NULL; only dashes are escaped. */
void notation_rows(const char *const *rows);

#endif
