/*
 * Skipped tests.
 */
#include "support/skip.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>

static FILE *open_log(const char *mode)
{
	const char *build = getenv("BUILD");
	char path[512];

	snprintf(path, sizeof path, "%s/skipped.log", build ? build : "build");
	return fopen(path, mode);
}

void skip_test(const char *what, const char *why)
{
	FILE *log = open_log("a");

	ck_assert_ptr_nonnull(log);
	fprintf(log, "skipped: %s: %s\n", what, why);
	ck_assert_int_eq(fclose(log), 0);
}

void skip_begin(void)
{
	FILE *log = open_log("w");

	if (log)
		fclose(log);
}

int skip_count(void)
{
	FILE *log = open_log("r");
	int count = 0, character;

	if (!log)
		return 0;
	while ((character = getc(log)) != EOF) {
		putchar(character);
		count += character == '\n';
	}
	fclose(log);
	return count;
}
