/*
 * Runs every suite that the Makefile found (suites.def), or those named on
 * the command line.  Closes with Check's own line and the plain count.  A name
 * that is no suite's is an error, so that nothing passes unseen.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/skip.h"

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

/* The leak sanitizer's question: the C library keeps the folders of LOCPATH; no leak of ours. */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void)
{
	return "leak:__argz_add_sep\n";
}

static int is_wanted(const char *name, int count, char **wanted)
{
	for (int i = 0; i < count; i++)
		if (strcmp(name, wanted[i]) == 0)
			return 1;
	return count == 0;
}

static int is_suite(const char *name)
{
	for (size_t i = 0; i < sizeof suites / sizeof *suites; i++)
		if (strcmp(suites[i].name, name) == 0)
			return 1;
	fprintf(stderr, "no suite is called %s\n", name);
	return 0;
}

int main(int argc, char **argv)
{
	SRunner *runner = srunner_create(NULL);

	for (int i = 1; i < argc; i++)
		if (!is_suite(argv[i]))
			return EXIT_FAILURE;
	/* No test depends on how fast it runs: a busy machine is no failure, a loop without end is. */
	setenv("CK_DEFAULT_TIMEOUT", "60", 0);
	skip_begin();
	for (size_t i = 0; i < sizeof suites / sizeof *suites; i++)
		if (is_wanted(suites[i].name, argc - 1, argv + 1))
			srunner_add_suite(runner, suites[i].make());
	srunner_run_all(runner, CK_NORMAL);
	int failed = srunner_ntests_failed(runner);
	int run = srunner_ntests_run(runner);
	srunner_free(runner);
	int skipped = skip_count();
	printf("unit: %d passed, %d failed", run - failed - skipped, failed);
	if (skipped > 0)
		printf(", %d skipped", skipped);
	printf("\n");
	return failed || run == 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
