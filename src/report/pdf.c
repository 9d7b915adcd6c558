/*
 * The module that writes PDF: beside the program, as it is built, or in
 * lib/padside of where it is installed.
 *
 * It works in a process of its own.  The libraries behind it end the process that
 * they are in when memory runs out, and what somebody is typing must not end with it.
 */
#include <padside/report/pdf.h>

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "report/pdf/module.h"

enum { PATH_BYTES = 4096 };

/* How the process that writes ends. */
enum { DONE, NO_MODULE, FAILED };

/* A paper takes a tenth of a second; without memory some libraries try for ever. */
enum { MOST_WORK_SECONDS = 5, MOST_WAIT_SECONDS = 60 };

/* Where the module may be, seen from the program's folder. */
static const char *const places[] = { "padside-pdf.so", "../lib/padside/padside-pdf.so" };

/* Loads the module of a path; NULL when there is none that was built with this program. */
static const struct pdf_module *load(const char *path)
{
	void *library = dlopen(path, RTLD_NOW | RTLD_LOCAL);
	const struct pdf_module *module = library ? dlsym(library, PDF_MODULE_SYMBOL) : NULL;

	if (module && strcmp(module->version, PADSIDE_VERSION) == 0)
		return module;
	if (library)
		dlclose(library);
	return NULL;
}

/* The folder of the running program, where the system tells it. */
static bool program_folder(char *out, size_t size)
{
	ssize_t length = readlink("/proc/self/exe", out, size - 1);

	if (length <= 0)
		return false;
	out[length] = '\0';
	char *slash = strrchr(out, '/');
	if (!slash)
		return false;
	*slash = '\0';
	return true;
}

static const struct pdf_module *find(void)
{
	const struct pdf_module *found = NULL;
	char folder[PATH_BYTES], path[PATH_BYTES + 64];

	if (!program_folder(folder, sizeof folder))
		return NULL;
	for (size_t i = 0; i < sizeof places / sizeof *places && !found; i++) {
		snprintf(path, sizeof path, "%s/%s", folder, places[i]);
		found = load(path);
	}
	return found;
}

static bool send(int to, const struct text *bytes)
{
	const char *at = text_get(bytes);
	size_t left = bytes->length;

	while (left > 0) {
		ssize_t sent = write(to, at, left);
		if (sent < 0 && errno != EINTR)
			return false;
		at += sent > 0 ? sent : 0;
		left -= sent > 0 ? (size_t)sent : 0;
	}
	return true;
}

/* What a library says when it gives up is no sentence for anybody, nor is a dump of memory. */
static void set_limits(void)
{
	int nowhere = open("/dev/null", O_WRONLY);

	if (nowhere >= 0)
		dup2(nowhere, STDERR_FILENO);
	setrlimit(RLIMIT_CORE, &(struct rlimit){ 0, 0 });
	setrlimit(RLIMIT_CPU, &(struct rlimit){ MOST_WORK_SECONDS, MOST_WORK_SECONDS });
	alarm(MOST_WAIT_SECONDS);
}

/* The process that writes. */
static int write_apart(const struct document *document, int to)
{
	unsigned long times_short = text_times_short();
	struct text bytes;

	set_limits();
	const struct pdf_module *module = find();
	if (!module)
		return text_times_short() == times_short ? NO_MODULE : FAILED;
	text_init(&bytes);
	module->write(document, &bytes);
	bool whole = !bytes.failed && text_times_short() == times_short && send(to, &bytes);
	return whole ? DONE : FAILED;
}

static void take_bytes(int from, struct text *text)
{
	char bytes[PATH_BYTES];
	ssize_t count;

	while ((count = read(from, bytes, sizeof bytes)) > 0 || (count < 0 && errno == EINTR))
		if (count > 0)
			text_add_bytes(text, bytes, (size_t)count);
}

/* How the process ended; FAILED too when a signal ended it. */
static int await(pid_t process)
{
	int status;

	while (waitpid(process, &status, 0) < 0)
		if (errno != EINTR)
			return FAILED;
	return WIFEXITED(status) ? WEXITSTATUS(status) : FAILED;
}

enum status pdf_write(const struct document *document, struct text *text)
{
	int ends[2];

	if (pipe(ends) != 0)
		return STATUS_NO_MEMORY;
	pid_t process = fork();
	if (process == 0)
		_exit(write_apart(document, ends[1]));
	close(ends[1]);
	if (process > 0)
		take_bytes(ends[0], text);
	close(ends[0]);
	int ended = process > 0 ? await(process) : FAILED;
	return ended == NO_MODULE ? STATUS_NOT_APPLICABLE
	       : ended == DONE    ? STATUS_OK
	                          : STATUS_NO_MEMORY;
}
