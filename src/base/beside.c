/*
 * Files that are whole or not there.
 */
#define _GNU_SOURCE 1 /* renameat2() */
#include <padside/base/beside.h>

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>
#ifdef __linux__
#include <sys/inotify.h>
#endif

static enum status refuse(const char *path, int why, struct error *error)
{
	enum status status = why == ENOMEM ? STATUS_NO_MEMORY :
	                     why == ENOSPC || why == EDQUOT ? STATUS_FULL :
	                     why == EROFS || why == EACCES || why == EPERM ? STATUS_CANNOT_OPEN :
	                     why == ENOENT || why == ENOTDIR ? STATUS_CANNOT_OPEN : STATUS_IO;

	return error_set(error, status, "%s could not be written: %s; nothing was changed", path,
	                 strerror(why));
}

static void forget(struct beside *beside)
{
	if (beside->file >= 0)
		close(beside->file);
	free(beside->path);
	free(beside->part);
	*beside = (struct beside){ .file = -1 };
}

enum status beside_begin(struct beside *beside, const char *path, mode_t rights,
                         struct error *error)
{
	size_t size = strlen(path) + sizeof ".part";

	*beside = (struct beside){ .file = -1, .path = strdup(path), .part = malloc(size) };
	if (!beside->path || !beside->part) {
		forget(beside);
		return refuse(path, ENOMEM, error);
	}
	snprintf(beside->part, size, "%s.part", path);
	beside->file = open(beside->part, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, rights);
	if (beside->file < 0) {
		enum status status = refuse(path, errno, error);
		forget(beside);
		return status;
	}
	if (flock(beside->file, LOCK_EX | LOCK_NB) != 0) {
		enum status status = errno == EWOULDBLOCK
			? error_set(error, STATUS_BUSY,
			            "%s is being written by another program; nothing was changed; "
			            "try again when it is done", path) : refuse(path, errno, error);
		forget(beside);
		return status;
	}
	/* The mask of the shell may have taken more away than was asked for. */
	if (ftruncate(beside->file, 0) != 0 || fchmod(beside->file, rights) != 0) {
		enum status status = refuse(path, errno, error);
		beside_drop(beside);
		return status;
	}
	return STATUS_OK;
}

/* The folder must be on the drive as well, or the name may be lost. */
static int sync_folder(const char *path)
{
	const char *slash = strrchr(path, '/');
	char *folder = slash ? strndup(path, slash == path ? 1 : (size_t)(slash - path)) : strdup(".");
	int file = folder ? open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC) : -1;

	free(folder);
	if (file < 0)
		return 0;
	/* Some file systems cannot do this; the data itself is there. */
	int code = fsync(file) == 0 || errno == EINVAL ? 0 : -1;
	close(file);
	return code;
}

/* Renames unless the name is taken: in one step, where the system has one. */
static int rename_new(const struct beside *beside)
{
#ifdef RENAME_NOREPLACE
	return renameat2(AT_FDCWD, beside->part, AT_FDCWD, beside->path, RENAME_NOREPLACE);
#else
	(void)beside;
	errno = ENOSYS;
	return -1;
#endif
}

/*
 * Else by a second name, after which a killed program leaves the first one lying
 * about; and a drive without hard links (a stick) leaves only to look and then rename.
 */
static int name_new(const struct beside *beside)
{
	struct stat found;

	if (rename_new(beside) == 0)
		return 0;
	if (errno != EINVAL && errno != ENOSYS)
		return -1;
	if (link(beside->part, beside->path) == 0)
		return unlink(beside->part);
	if (errno == EEXIST || (errno != EPERM && errno != EOPNOTSUPP && errno != ENOSYS))
		return -1;
	if (lstat(beside->path, &found) == 0) {
		errno = EEXIST;
		return -1;
	}
	return rename(beside->part, beside->path);
}

enum status beside_end(struct beside *beside, bool replace, struct error *error)
{
	enum status status = STATUS_OK;

	if (fsync(beside->file) != 0 ||
	    (replace ? rename(beside->part, beside->path) : name_new(beside)) != 0)
		status = errno == EEXIST
		             ? error_set(error, STATUS_EXISTS,
		                         "%s is there already; nothing was written; choose another name",
		                         beside->path)
		             : refuse(beside->path, errno, error);
	else if (sync_folder(beside->path) != 0)
		status = refuse(beside->path, errno, error);
	if (status != STATUS_OK)
		unlink(beside->part);
	forget(beside);
	return status;
}

void beside_drop(struct beside *beside)
{
	if (beside->part)
		unlink(beside->part);
	forget(beside);
}

#ifdef __linux__
/* The folder of a path, into `folder`; false where that is too long. */
static bool folder_of(const char *path, char *folder, size_t size)
{
	const char *slash = strrchr(path, '/');
	size_t length = !slash ? 1 : slash == path ? 1 : (size_t)(slash - path);

	if (length >= size)
		return false;
	memcpy(folder, slash ? path : ".", length);
	folder[length] = '\0';
	return true;
}
#endif

int beside_watch(const char *path)
{
#ifdef __linux__
	char folder[4096];
	int file = *path && folder_of(path, folder, sizeof folder)
		? inotify_init1(IN_NONBLOCK | IN_CLOEXEC) : -1;

	if (file >= 0 && inotify_add_watch(file, folder, IN_MODIFY | IN_MOVED_TO | IN_CREATE) < 0) {
		close(file);
		file = -1;
	}
	return file;
#else
	(void)path;
	return -1;
#endif
}
