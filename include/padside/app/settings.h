#ifndef PADSIDE_SETTINGS_H
#define PADSIDE_SETTINGS_H

#include <stddef.h>

#include <padside/model/call.h>
#include <padside/base/error.h>
#include <padside/store/store.h>

/*
 * What is set once for a truck (include/padside/app/settings.def): the head of the report, and
 * what a new call starts with.  A call keeps its own copy, so that changing a
 * setting changes no old paper.
 */

enum setting {
#define SETTING(id, ...) SETTING_##id,
#include <padside/app/settings.def>
#undef SETTING
	SETTING_COUNT
};

/* The longest value is a firm's tune-up lists; other texts are shorter. */
enum { SETTING_SIZE = 4096 };

/* The stable key, and what it is for. */
const char *setting_key(enum setting setting);
const char *setting_help(enum setting setting);

/* The setting with that key; SETTING_COUNT when there is none. */
enum setting setting_from_key(const char *key);

/* The value as it was typed; "" when it was never set. */
enum status setting_get(struct store *store, enum setting setting, char *value, size_t size,
                        struct error *error);

/* Checks and keeps a value; "" takes it away. */
enum status setting_put(struct store *store, enum setting setting, const char *typed,
                        struct error *error);

/*
 * Sets the accuracy of the technician's own instruments for this process, as
 * the setting "meters" has it; the usual ones where it says nothing.
 */
enum status settings_use_meters(struct store *store, struct error *error);

/* Fills in what a new call starts with: who works on it, payment terms, taxes, energy. */
enum status settings_start_call(struct store *store, struct call *call, struct error *error);

#endif
