#ifndef APP_PICTURE_FILE_H
#define APP_PICTURE_FILE_H

#include <padside/base/error.h>
#include <padside/report/document.h>

/* The picture of the report's head, from a PNG or JPEG file of at most 1 MB. */

/*
 * Reads a picture; the caller frees picture->bytes.  Leaves it empty when there
 * is no such file, it is no picture or too large.
 */
void picture_load(const char *path, struct picture *picture);

/* Whether the file could be loaded; the error says what is wrong with it. */
enum status picture_check(const char *path, struct error *error);

#endif
