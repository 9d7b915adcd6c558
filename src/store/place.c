/*
 * Where a book lies: its folders and who may read it.
 *
 * A book holds names, addresses and phone numbers, so it is its owner's
 * alone from the first byte.  SQLite gives its side files (-wal, -shm) the
 * rights of the book.
 */
#include "store/parts.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum status place_make_folders(const char *path, struct error *error)
{
	char *folder = strdup(path);

	if (!folder)
		return book_refuse(path, SQLITE_NOMEM, error);
	enum status status = STATUS_OK;
	for (char *slash = strchr(folder + 1, '/'); *folder && slash; slash = strchr(slash + 1, '/')) {
		*slash = '\0';
		if (mkdir(folder, 0700) != 0 && errno != EEXIST && errno != EISDIR) {
			status = error_set(error, STATUS_CANNOT_OPEN,
			                   "the folder %s cannot be made: %s; nothing was changed; "
			                   "choose another place with --book", folder, strerror(errno));
			break;
		}
		*slash = '/';
	}
	free(folder);
	return status;
}

void place_restrict(const char *path)
{
	struct stat found;

	if (stat(path, &found) == 0 && S_ISREG(found.st_mode) && (found.st_mode & 0077) &&
	    found.st_uid == geteuid())
		(void)chmod(path, found.st_mode & 0700);
}

bool place_is_no_file(const char *path)
{
	struct stat found;

	return stat(path, &found) == 0 && !S_ISREG(found.st_mode);
}
