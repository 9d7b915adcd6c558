#ifndef MODEL_INPUTS_H
#define MODEL_INPUTS_H

#include <padside/model/figures.h>

/*
 * The readings of one stage as the figures' functions see them: plain
 * numbers, so that each can be nudged by its instrument's accuracy to find a
 * figure's plus/minus.
 */
struct inputs {
	enum value_state states[READING_COUNT]; /* taken, OL or not */
	double numbers[READING_COUNT];          /* canonical units; NAN unless taken */
	enum choice choices[READING_COUNT];     /* of the readings that are choices */
	double cooling_hours;                   /* full-load hours a year; 0 not said */
};

void inputs_load(struct inputs *inputs, const struct visit *visit, enum stage stage);

bool inputs_has(const struct inputs *inputs, enum reading reading);

/* The number of a reading, or `fallback` when it was not taken. */
double inputs_number_or(const struct inputs *inputs, enum reading reading, double fallback);

/*
 * Works out one figure from readings that are known to be there (`needs` of
 * its row are met).  Failure: a status, *value NAN.
 */
typedef enum status (*evaluate_function)(const struct inputs *inputs, double *value);

/* The function of each figure: one file a subject, gathered in figures.c. */
#define FIGURE(id, ...) enum status evaluate_##id(const struct inputs *inputs, double *value);
#include <padside/catalog/figures.def>
#undef FIGURE

#endif
