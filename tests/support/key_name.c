/*
 * Names of keys that a terminal sent.  Only key_from_name() knows them: a name is tried.
 */
#include "support/key_name.h"

#include <stdio.h>

#include <padside/base/text.h>

static const char *const named[] = {
	"Enter", "Esc", "Tab", "Shift+Tab", "Backspace", "Del", "Ins", "Up", "Down", "Left", "Right",
	"Ctrl+Left", "Ctrl+Right", "Home", "End", "PgUp", "PgDn", "Space", "Ctrl+Space", "Alt+Space",
	"F1", "F2", "F3", "F4", "F5", "F6", "F7", "F8", "F9", "F10", "F11", "F12",
};

static bool is_named(struct key key, const char *name)
{
	struct key other;

	return key_from_name(name, &other) && key_equal(key, other);
}

void key_write_name(struct key key, char *name, size_t size)
{
	static const char *const before[] = { "", "Ctrl+", "Alt+" };

	for (size_t i = 0; i < sizeof named / sizeof *named; i++)
		if (is_named(key, named[i])) {
			text_copy(name, size, named[i]);
			return;
		}
	for (size_t i = 0; i < sizeof before / sizeof *before; i++) {
		struct text text;
		unsigned character = key.character;
		/* With Ctrl and Alt a letter stands as a capital. */
		if (i > 0 && character >= 'a' && character <= 'z')
			character -= 'a' - 'A';
		text_init(&text);
		text_add(&text, before[i]);
		text_add_character(&text, character);
		text_copy(name, size, text_get(&text));
		text_done(&text);
		if (is_named(key, name))
			return;
	}
	*name = '\0';
}
