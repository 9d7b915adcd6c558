#ifndef TESTS_SCRATCH_H
#define TESTS_SCRATCH_H

#include <stddef.h>

/* Folders that tests write in, in memory where the machine has such a place. */

enum { SCRATCH_SIZE = 64 };

/* Makes a new empty folder and writes its path. */
void scratch_make(char path[SCRATCH_SIZE]);

/* Removes it with all that is in it. */
void scratch_remove(const char *path);

/* Copies a file over another one. */
void scratch_copy(const char *from, const char *to);

#endif
