#ifndef TESTS_FUZZ_H
#define TESTS_FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/*
 * What the targets of `make fuzz` share.  A target is one file that offers
 * LLVMFuzzerTestOneInput(); what must hold is asked with must(), which stops
 * the fuzzer and leaves the input behind.
 */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static inline void must(int holds)
{
	if (!holds)
		abort();
}

/* The bytes as a string; free it. */
static inline char *as_string(const uint8_t *data, size_t size)
{
	char *string = malloc(size + 1);

	must(string != NULL);
	if (size > 0)
		memcpy(string, data, size);
	string[size] = '\0';
	return string;
}

#endif
