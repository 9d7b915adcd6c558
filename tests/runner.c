/*
 * Runs every suite that the Makefile found (suites.def), or those named on
 * the command line.  Closes with Check's own line and the plain count.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SUITE(name) Suite *name##_suite(void);
#include "suites.def"
#undef SUITE

static const struct {
	const char *name;
	Suite *(*make)(void);
} suites[] = {
#define SUITE(name) { #name, name##_suite },
#include "suites.def"
#undef SUITE
};

static int is_wanted(const char *name, int count, char **wanted)
{
	for (int i = 0; i < count; i++)
		if (strcmp(name, wanted[i]) == 0)
			return 1;
	return count == 0;
}

int main(int argc, char **argv)
{
	SRunner *runner = srunner_create(NULL);

	for (size_t i = 0; i < sizeof suites / sizeof *suites; i++)
		if (is_wanted(suites[i].name, argc - 1, argv + 1))
			srunner_add_suite(runner, suites[i].make());
	srunner_run_all(runner, CK_NORMAL);
	int failed = srunner_ntests_failed(runner);
	int run = srunner_ntests_run(runner);
	srunner_free(runner);
	printf("unit: %d passed, %d failed\n", run - failed, failed);
	return failed || run == 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
