/*
 * Runs every suite that the Makefile found (suites.def), or those named on
 * the command line.  Closes with Check's own line and the plain count.  A name
 * that is no suite's is an error, so that nothing passes unseen.
 *
 * Every test has a process of its own, unless CK_FORK=no: under the sanitizers a
 * process costs more than nearly every test, and `make sanitize` shares one.
 */
#include <check.h>
#include <stdbool.h>
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

/* The C library's locale is read once in a process: each test of it needs one. */
static bool needs_processes(const char *name)
{
	return strcmp(name, "local") == 0;
}

static bool is_wanted(const char *name, int count, char **wanted)
{
	for (int i = 0; i < count; i++)
		if (strcmp(name, wanted[i]) == 0)
			return true;
	return count == 0;
}

static bool is_suite(const char *name)
{
	for (size_t i = 0; i < sizeof suites / sizeof *suites; i++)
		if (strcmp(suites[i].name, name) == 0)
			return true;
	fprintf(stderr, "no suite is called %s\n", name);
	return false;
}

struct count {
	int run, failed;
};

static void run_suites(bool in_processes, int count, char **wanted, struct count *sum)
{
	SRunner *runner = srunner_create(NULL);
	bool is_shared = srunner_fork_status(runner) == CK_NOFORK;
	int added = 0;

	for (size_t i = 0; i < sizeof suites / sizeof *suites; i++) {
		bool is_in_processes = !is_shared || needs_processes(suites[i].name);
		if (is_in_processes != in_processes || !is_wanted(suites[i].name, count, wanted))
			continue;
		srunner_add_suite(runner, suites[i].make());
		added++;
	}
	srunner_set_fork_status(runner, in_processes ? CK_FORK : CK_NOFORK);
	if (added > 0)
		srunner_run_all(runner, CK_NORMAL);
	sum->failed += srunner_ntests_failed(runner);
	sum->run += srunner_ntests_run(runner);
	srunner_free(runner);
}

int main(int argc, char **argv)
{
	struct count sum = { 0 };

	for (int i = 1; i < argc; i++)
		if (!is_suite(argv[i]))
			return EXIT_FAILURE;
	/* No test depends on how fast it runs: a busy machine is no failure, a loop without end is. */
	setenv("CK_DEFAULT_TIMEOUT", "60", 0);
	skip_begin();
	run_suites(true, argc - 1, argv + 1, &sum);
	run_suites(false, argc - 1, argv + 1, &sum);
	int skipped = skip_count();
	printf("unit: %d passed, %d failed", sum.run - sum.failed - skipped, sum.failed);
	if (skipped > 0)
		printf(", %d skipped", skipped);
	printf("\n");
	return sum.failed || sum.run == 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
