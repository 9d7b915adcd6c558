/*
 * Saturation lookups a second, for compare.py: on standard input lines of
 * "refrigerant temperature_f pressure_psia"; for each refrigerant a line of
 * "refrigerant nanoseconds-for-a-dew-pressure nanoseconds-for-a-dew-temperature"
 * on standard output, the best of many rounds over its points in their order.
 */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include <padside/calc/refrigerant.h>

enum { MOST_POINTS = 4096, ROUNDS = 400 };

struct points {
	int count;                         /* of the arrays below */
	double temp_f[MOST_POINTS];        /* °F */
	double pressure_psia[MOST_POINTS]; /* dew pressure there, psia */
};

typedef enum status (*lookup)(enum refrigerant, double, double *);

static struct points points[REFRIGERANT_COUNT];

static double seconds_now(void)
{
	struct timespec now;

	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Nanoseconds a lookup in the best round; exits when a point is refused. */
static double best_ns(lookup look_up, enum refrigerant refrigerant, const double *arguments,
                      int count)
{
	double best = 1e9;

	for (int round = 0; round < ROUNDS; round++) {
		double began = seconds_now();
		unsigned refused = 0;

		for (int i = 0; i < count; i++) {
			double result;

			refused += look_up(refrigerant, arguments[i], &result) != STATUS_OK;
		}
		double ns = 1e9 * (seconds_now() - began) / count;
		if (refused != 0) {
			fprintf(stderr, "saturation: %s refuses %u points\n",
			        refrigerant_name(refrigerant), refused);
			exit(EXIT_FAILURE);
		}
		if (ns < best)
			best = ns;
	}
	return best;
}

int main(void)
{
	char name[16];
	double temp_f, pressure_psia;

	while (scanf("%15s %lf %lf", name, &temp_f, &pressure_psia) == 3) {
		enum refrigerant refrigerant;

		if (!refrigerant_from_name(name, &refrigerant)
		    || points[refrigerant].count == MOST_POINTS) {
			fprintf(stderr, "saturation: cannot take %s\n", name);
			return EXIT_FAILURE;
		}
		struct points *of = &points[refrigerant];
		of->temp_f[of->count] = temp_f;
		of->pressure_psia[of->count++] = pressure_psia;
	}
	for (int i = 0; i < REFRIGERANT_COUNT; i++) {
		enum refrigerant refrigerant = (enum refrigerant)i;
		const struct points *of = &points[i];

		if (of->count == 0)
			continue;
		printf("%s %.3f %.3f\n", refrigerant_name(refrigerant),
		       best_ns(refrigerant_dew_pressure, refrigerant, of->temp_f, of->count),
		       best_ns(refrigerant_dew_temp, refrigerant, of->pressure_psia, of->count));
	}
	return EXIT_SUCCESS;
}
