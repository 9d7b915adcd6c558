/*
 * libpq, loaded when it is needed.  Only where its headers are: the Makefile
 * leaves this file out elsewhere.
 */
#include "store/libpq.h"

#include <dlfcn.h>
#include <stdbool.h>
#include <stddef.h>
#include <string.h>

struct pq_functions pq;

/* What it is called; its functions stay as they are under this name. */
static const char library_name[] = "libpq.so.5";

static const struct {
	const char *name; /* of the function */
	size_t offset;    /* of its pointer */
} functions[] = {
#define PQ_ROW(name) { "PQ" #name, offsetof(struct pq_functions, name) },
	PQ_FUNCTIONS(PQ_ROW)
#undef PQ_ROW
};

static enum status refuse(struct error *error)
{
	return error_set(error, STATUS_NOT_APPLICABLE, "%s was not found here, so no office can be "
	                 "met; nothing was changed; install it (package libpq5)", library_name);
}

enum status pq_load(struct error *error)
{
	static bool is_loaded;
	struct pq_functions found;

	if (is_loaded)
		return STATUS_OK;
	void *library = dlopen(library_name, RTLD_NOW | RTLD_LOCAL);
	if (!library)
		return refuse(error);
	for (size_t i = 0; i < sizeof functions / sizeof *functions; i++) {
		void *function = dlsym(library, functions[i].name);
		if (!function) {
			dlclose(library);
			return refuse(error);
		}
		/* ISO C has no cast from one to the other. */
		memcpy((char *)&found + functions[i].offset, &function, sizeof function);
	}
	pq = found;
	is_loaded = true;
	return STATUS_OK;
}
