#ifndef APP_RESULT_JSON_PARTS_H
#define APP_RESULT_JSON_PARTS_H

#include <stdbool.h>

#include <padside/model/figures.h>
#include <padside/base/text.h>

/* Members that several answers share; `first` as in json_add_name(). */

void result_json_add_text(struct text *text, const char *name, const char *value, bool *first);

/* null where the number is not finite. */
void result_json_add_number(struct text *text, const char *name, double value, bool *first);

/* "value", "unit" and "plus_minus" of an evaluated figure; a grade is its word. */
void result_json_add_value(enum figure figure, const struct figure_value *value, struct text *text,
                       bool *first);

/* "name", "assumed", "caution": where it has one of its own, takes for granted or leaves out. */
void result_json_add_words(const struct visit *visit, enum stage stage, enum figure figure,
                             struct text *text, bool *first);

#endif
