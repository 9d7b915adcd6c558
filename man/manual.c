/*
 * Writes the manual pages from the tables that drive the program: commands
 * and their options, keys, readings, figures, faults, cautions.  What the
 * tables say is written nowhere else, so that a new row reaches the manual by
 * `make man`, and a test fails when that was forgotten.
 *
 *   manual NAME     one page on standard output
 *   manual          the names of all
 */
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pages.h"

static const struct {
	const char *name;    /* of the file in man/ */
	void (*write)(void); /* to standard output */
} pages[] = {
	{ "padside.1", page_program },
	{ "padside-keys.7", page_keys },
	{ "padside-readings.7", page_readings },
	{ "padside-json.5", page_json },
	{ "padside-office.7", page_office },
};

int main(int count, char **words)
{
	bool found = count < 2;

	for (size_t i = 0; i < sizeof pages / sizeof *pages; i++) {
		if (count < 2)
			puts(pages[i].name);
		else if (strcmp(words[1], pages[i].name) == 0) {
			pages[i].write();
			found = true;
		}
	}
	return found && fflush(stdout) == 0 && !ferror(stdout) ? EXIT_SUCCESS : EXIT_FAILURE;
}
