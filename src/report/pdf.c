/*
 * Finding the module that writes PDF: beside the program, as it is built, or in
 * lib/padside of where it is installed.
 */
#include <padside/report/pdf.h>

#include <assert.h>
#include <dlfcn.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "report/pdf/module.h"

enum { PATH_BYTES = 4096 };

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

/* Looked for once; NULL when there is none. */
static const struct pdf_module *module(void)
{
	static const struct pdf_module *found;
	static bool is_looked_for;

	if (!is_looked_for)
		found = find();
	is_looked_for = true;
	return found;
}

bool pdf_is_built(void)
{
	return module() != NULL;
}

void pdf_write(const struct document *document, struct text *text)
{
	assert(pdf_is_built());
	module()->write(document, text);
}
