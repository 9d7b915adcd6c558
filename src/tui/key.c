/*
 * Keys and their names.
 */
#include "tui/key.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

static const struct {
	enum press press; /* the key */
	const char *name; /* as help lines write it */
} names[] = {
	{ PRESS_ENTER, "Enter" },
	{ PRESS_ESCAPE, "Esc" },
	{ PRESS_TAB, "Tab" },
	{ PRESS_BACK_TAB, "Shift+Tab" },
	{ PRESS_BACKSPACE, "Backspace" },
	{ PRESS_DELETE, "Del" },
	{ PRESS_INSERT, "Ins" },
	{ PRESS_UP, "Up" },
	{ PRESS_DOWN, "Down" },
	{ PRESS_LEFT, "Left" },
	{ PRESS_RIGHT, "Right" },
	{ PRESS_WORD_LEFT, "Ctrl+Left" },
	{ PRESS_WORD_RIGHT, "Ctrl+Right" },
	{ PRESS_HOME, "Home" },
	{ PRESS_END, "End" },
	{ PRESS_PAGE_UP, "PgUp" },
	{ PRESS_PAGE_DOWN, "PgDn" },
};

enum { NAME_COUNT = sizeof names / sizeof *names };

struct key key_press(enum press press)
{
	return (struct key){ .press = press };
}

struct key key_character(unsigned character)
{
	return (struct key){ .press = PRESS_CHARACTER, .character = character };
}

struct key key_ctrl(char letter)
{
	return (struct key){ .press = PRESS_CTRL, .character = (unsigned char)letter };
}

struct key key_click(int row, int column)
{
	return (struct key){ .press = PRESS_CLICK, .row = row, .column = column };
}

bool key_equal(struct key a, struct key b)
{
	return a.press == b.press && a.character == b.character;
}

static unsigned lower(unsigned letter)
{
	return letter >= 'A' && letter <= 'Z' ? letter - 'A' + 'a' : letter;
}

/* The one character that `name` consists of; 0 when it is not one. */
static unsigned single_character(const char *name)
{
	if (strcmp(name, "Space") == 0)
		return ' ';
	unsigned character = text_next_character(&name);
	return *name == '\0' ? character : 0;
}

bool key_from_name(const char *name, struct key *key)
{
	for (int i = 0; i < NAME_COUNT; i++)
		if (strcmp(names[i].name, name) == 0) {
			*key = key_press(names[i].press);
			return true;
		}
	unsigned character = single_character(name);
	if (character) {
		*key = key_character(character);
		return true;
	}
	if (name[0] == 'F' && name[1] >= '1' && name[1] <= '9') {
		char *end;
		unsigned long number = strtoul(name + 1, &end, 10);
		*key = (struct key){ .press = PRESS_FUNCTION, .character = (unsigned)number };
		return *end == '\0' && number <= 12;
	}
	bool ctrl = strncmp(name, "Ctrl+", 5) == 0;
	bool alt = strncmp(name, "Alt+", 4) == 0;
	if (!ctrl && !alt)
		return false;
	character = lower(single_character(name + (ctrl ? 5 : 4)));
	*key = (struct key){ .press = ctrl ? PRESS_CTRL : PRESS_ALT, .character = character };
	return character != 0;
}
