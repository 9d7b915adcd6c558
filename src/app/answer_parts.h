#ifndef APP_ANSWER_PARTS_H
#define APP_ANSWER_PARTS_H

#include <stdbool.h>

#include <padside/figures.h>
#include <padside/text.h>

/* "value", "unit" and "plus_minus" of an evaluated figure; a grade is its word. */
void answers_add_value(enum figure figure, const struct figure_value *value, struct text *text,
                       bool *first);

#endif
