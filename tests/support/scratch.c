/*
 * Scratch folders.
 */
#include "support/scratch.h"

#include <check.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

void scratch_make(char path[SCRATCH_SIZE])
{
	const char *place = access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp";

	snprintf(path, SCRATCH_SIZE, "%s/padside-test-XXXXXX", place);
	ck_assert_ptr_nonnull(mkdtemp(path));
}

static int remove_one(const char *path, const struct stat *found, int kind, struct FTW *where)
{
	(void)found;
	(void)kind;
	(void)where;
	return remove(path);
}

void scratch_remove(const char *path)
{
	ck_assert_int_eq(nftw(path, remove_one, 8, FTW_DEPTH | FTW_PHYS), 0);
}

void scratch_copy(const char *from, const char *to)
{
	char bytes[65536];
	size_t count;
	FILE *in = fopen(from, "rb"), *out = fopen(to, "wb");

	ck_assert_ptr_nonnull(in);
	ck_assert_ptr_nonnull(out);
	while ((count = fread(bytes, 1, sizeof bytes, in)) > 0)
		ck_assert_uint_eq(fwrite(bytes, 1, count, out), count);
	ck_assert_int_eq(fclose(in), 0);
	ck_assert_int_eq(fclose(out), 0);
}
