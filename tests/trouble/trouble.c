/*
 * Trouble on demand.  A library laid under a program (LD_PRELOAD) counts what is
 * asked of memory, or of the drive, and lets one chosen moment go wrong:
 *
 *   TROUBLE=memory    this request for memory is refused
 *   TROUBLE=short     this one and every one behind it
 *   TROUBLE=kill      the program is killed right before this change of a file
 *   TROUBLE=torn      the same, with the first half of the bytes written
 *   TROUBLE_AT=N      which moment, from 1; 0 or nothing: none, only count
 *   TROUBLE_SEEN=FILE how many moments there were: a line for each process that ends by itself
 *
 * A program without memory that falls over inside the terminal's library ends with status 77,
 * so that it can be told from one that falls over by itself.
 *
 * Changes of files are writes to regular files, and every change of a name or a
 * size.  Nothing waits for the drive, since a killed program is not a cut in power:
 * what was written is there.
 */
#define _GNU_SOURCE 1
#include <dlfcn.h>
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

enum trouble { NO_TROUBLE, MEMORY, SHORT, KILL, TORN };

enum { MOST_FRAMES = 16, IN_TERMINAL_LIBRARY = 77 };

static struct {
	enum trouble kind;    /* what goes wrong */
	long at;              /* which moment; 0: none */
	long seen;            /* moments so far */
	const char *seen_path; /* where to tell them; NULL: nowhere */
	pid_t process;        /* children of the program have no trouble of their own */
} trouble;

/* What glibc's own functions are called behind the names that this file takes over. */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *memory, size_t size);

/* What is behind a name that this file takes over. */
#define BELOW(name) (__extension__(__typeof__(&name))below(#name))

static void *below(const char *name)
{
	void *found = dlsym(RTLD_NEXT, name);

	if (!found)
		abort();
	return found;
}

/* Whose code that is: "" the C library's or this file's, who only passes on what it was given. */
static const char *owner_of(void *code)
{
	Dl_info found;

	if (!dladdr(code, &found) || !found.dli_fname)
		return "?";
	return strstr(found.dli_fname, "/libc.so") || strstr(found.dli_fname, "trouble.so")
		? "" : found.dli_fname;
}

static void fall(int number)
{
	void *frames[MOST_FRAMES];
	int count = backtrace(frames, MOST_FRAMES), at = 0;

	while (at < count && !*owner_of(frames[at]))
		at++;
	const char *owner = at < count ? owner_of(frames[at]) : "";
	if (strstr(owner, "/libtinfo") || strstr(owner, "/libncurses"))
		syscall(SYS_exit_group, IN_TERMINAL_LIBRARY);
	signal(number, SIG_DFL);
}

/* Its first use loads a library: before memory is counted. */
static void watch_falls(void)
{
	void *frame;

	backtrace(&frame, 1);
	signal(SIGSEGV, fall);
}

__attribute__((constructor)) static void begin(void)
{
	static const char *const kinds[] = { "", "memory", "short", "kill", "torn" };
	const char *kind = getenv("TROUBLE"), *at = getenv("TROUBLE_AT");

	for (int i = MEMORY; kind && i <= TORN; i++)
		if (strcmp(kind, kinds[i]) == 0)
			trouble.kind = (enum trouble)i;
	if (trouble.kind == MEMORY || trouble.kind == SHORT)
		watch_falls();
	trouble.at = at ? atol(at) : 0;
	trouble.seen_path = getenv("TROUBLE_SEEN");
	trouble.process = getpid();
	trouble.seen = 0;
}

__attribute__((destructor)) static void end(void)
{
	char number[24];

	if (!trouble.seen_path)
		return;
	int length = snprintf(number, sizeof number, "%ld\n", trouble.seen);
	trouble.kind = NO_TROUBLE;
	int file = open(trouble.seen_path, O_WRONLY | O_CREAT | O_APPEND, 0600);
	if (file >= 0 && write(file, number, (size_t)length) == length)
		close(file);
}

void _exit(int status)
{
	end();
	for (;;)
		syscall(SYS_exit_group, status);
}

/* ---- Memory ---- */

static bool is_refused(void)
{
	if (trouble.kind != MEMORY && trouble.kind != SHORT)
		return false;
	trouble.seen++;
	bool refused = trouble.at > 0 && (trouble.kind == MEMORY ? trouble.seen == trouble.at
	                                                         : trouble.seen >= trouble.at);
	if (refused)
		errno = ENOMEM;
	return refused;
}

void *malloc(size_t size)
{
	return is_refused() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
	return is_refused() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *memory, size_t size)
{
	return is_refused() ? NULL : __libc_realloc(memory, size);
}

/* ---- The drive ---- */

static bool is_moment(void)
{
	if (trouble.kind != KILL && trouble.kind != TORN)
		return false;
	if (trouble.process != getpid())
		return false;
	return ++trouble.seen == trouble.at;
}

static void end_here(void)
{
	kill(getpid(), SIGKILL);
	for (;;)
		pause();
}

static void change(void)
{
	if (is_moment())
		end_here();
}

static bool is_regular(int file)
{
	struct stat found;

	return fstat(file, &found) == 0 && S_ISREG(found.st_mode);
}

ssize_t write(int file, const void *bytes, size_t size)
{
	if (is_regular(file) && is_moment()) {
		if (trouble.kind == TORN)
			BELOW(write)(file, bytes, size / 2);
		end_here();
	}
	return BELOW(write)(file, bytes, size);
}

ssize_t pwrite64(int file, const void *bytes, size_t size, off64_t at)
{
	if (is_regular(file) && is_moment()) {
		if (trouble.kind == TORN)
			BELOW(pwrite64)(file, bytes, size / 2, at);
		end_here();
	}
	return BELOW(pwrite64)(file, bytes, size, at);
}

ssize_t pwrite(int file, const void *bytes, size_t size, off_t at)
{
	return pwrite64(file, bytes, size, at);
}

int fsync(int file)
{
	(void)file;
	change();
	return 0;
}

int fdatasync(int file)
{
	return fsync(file);
}

int ftruncate64(int file, off64_t size)
{
	change();
	return BELOW(ftruncate64)(file, size);
}

int ftruncate(int file, off_t size)
{
	return ftruncate64(file, size);
}

int rename(const char *from, const char *to)
{
	change();
	return BELOW(rename)(from, to);
}

int renameat2(int from_folder, const char *from, int to_folder, const char *to, unsigned flags)
{
	change();
	return BELOW(renameat2)(from_folder, from, to_folder, to, flags);
}

int link(const char *from, const char *to)
{
	change();
	return BELOW(link)(from, to);
}

int unlink(const char *path)
{
	change();
	return BELOW(unlink)(path);
}

int mkdir(const char *path, mode_t rights)
{
	change();
	return BELOW(mkdir)(path, rights);
}
