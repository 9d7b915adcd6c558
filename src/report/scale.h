#ifndef REPORT_SCALE_H
#define REPORT_SCALE_H

#include <stdbool.h>

#include <padside/report/document.h>

/* What the edges of a drawn trend stand for, with round numbers between them. */
struct scale {
	double low, high;      /* values at the bottom and at the top, whole steps */
	double step;           /* between two lines: 1, 2 or 5 times a power of ten */
	int decimals;          /* that the steps need */
	wall_time first, last; /* times at the left and at the right */
};

/* False when there is nothing to draw. */
bool scale_of_trend(const struct trend *trend, struct scale *scale);

#endif
