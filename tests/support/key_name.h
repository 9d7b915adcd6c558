#ifndef TESTS_KEY_NAME_H
#define TESTS_KEY_NAME_H

#include "tui/key.h"

/* The name that key_from_name() knows a key by; "" when it has none. */
void key_write_name(struct key key, char *name, size_t size);

#endif
