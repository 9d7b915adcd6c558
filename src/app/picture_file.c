/*
 * Reading the picture of the report's head.
 */
#include "app/picture_file.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_BYTES = 1 << 20, LONGEST_PATH = 511 };

/* How files begin: PNG (ISO/IEC 15948, 5.2), JPEG (ISO/IEC 10918-1, B.1.1.3: SOI and a marker). */
static const unsigned char png_start[] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n' };
static const unsigned char jpeg_start[] = { 0xff, 0xd8, 0xff };

static bool begins(const unsigned char *bytes, size_t length, const unsigned char *start,
                   size_t size)
{
	return length > size && memcmp(bytes, start, size) == 0;
}

/* What is wrong with the file, as a clause; NULL when nothing is and *picture was filled. */
static const char *load(const char *path, struct picture *picture)
{
	FILE *file = fopen(path, "rb");
	const char *why = NULL;

	*picture = (struct picture){ .bytes = NULL };
	if (!file)
		return strerror(errno);
	unsigned char *bytes = malloc(MOST_BYTES + 1);
	size_t length = bytes ? fread(bytes, 1, MOST_BYTES + 1, file) : 0;
	bool is_jpeg = begins(bytes, length, jpeg_start, sizeof jpeg_start);
	if (!bytes)
		why = "there is no memory left";
	else if (length > MOST_BYTES)
		why = "it is larger than 1 MB";
	else if (!is_jpeg && !begins(bytes, length, png_start, sizeof png_start))
		why = "it is neither a PNG nor a JPEG picture";
	fclose(file);
	if (why)
		free(bytes);
	else
		*picture = (struct picture){ .bytes = bytes, .length = length, .is_jpeg = is_jpeg };
	return why;
}

void picture_load(const char *path, struct picture *picture)
{
	load(path, picture);
}

enum status picture_check(const char *path, struct error *error)
{
	struct picture picture;

	if (*path != '/')
		return error_set(error, STATUS_BAD_INPUT,
		                 "%.200s: give the whole path of the logo, from / on; nothing was changed",
		                 path);
	if (strlen(path) > LONGEST_PATH)
		return error_set(error, STATUS_OUT_OF_RANGE,
		                 "the path of the logo is longer than %d characters; nothing was changed",
		                 LONGEST_PATH);
	const char *why = load(path, &picture);
	free(picture.bytes);
	if (why)
		return error_set(error, STATUS_BAD_INPUT,
		                 "%.200s cannot be the logo: %s; nothing was changed", path, why);
	return STATUS_OK;
}
