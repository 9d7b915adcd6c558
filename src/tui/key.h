#ifndef TUI_KEY_H
#define TUI_KEY_H

#include <stdbool.h>
#include <stddef.h>

/*
 * A key as the screens see it: what was pressed, whatever bytes the terminal
 * sent for it.  No curses here, so that tests can press keys too.
 */
enum press {
	PRESS_NOTHING,   /* the wait is over and no key came */
	PRESS_CHARACTER, /* a character to type: `character` */
	PRESS_CTRL,      /* with Ctrl: `character` is a lower-case letter or @[\]^_ */
	PRESS_ALT,       /* with Alt, or behind Escape: `character` */
	PRESS_FUNCTION,  /* a function key: `character` is its number, from 1 */
	PRESS_ENTER,
	PRESS_ESCAPE,
	PRESS_TAB,
	PRESS_BACK_TAB,
	PRESS_BACKSPACE,
	PRESS_DELETE,
	PRESS_INSERT,
	PRESS_UP,
	PRESS_DOWN,
	PRESS_LEFT,
	PRESS_RIGHT,
	PRESS_WORD_LEFT,
	PRESS_WORD_RIGHT,
	PRESS_HOME,
	PRESS_END,
	PRESS_PAGE_UP,
	PRESS_PAGE_DOWN,
	PRESS_CLICK,  /* the mouse: at `row` and `column` */
	PRESS_WHEEL_UP,
	PRESS_WHEEL_DOWN,
	PRESS_RESIZE, /* the terminal has another size: draw again */
	PRESS_CHANGED, /* something was written beside the book (curses_watch) */
	PRESS_CLOSE,  /* the terminal is gone, or the system asks us to end */
};

struct key {
	enum press press;   /* the kind of key */
	unsigned character; /* which one, where the kind says so */
	bool pasted;        /* came with a paste: text, never a command */
	int row, column;    /* of a click, from 0 */
};

/* Plain constructors, for tables of keys and for tests. */
struct key key_press(enum press press);
struct key key_character(unsigned character);
struct key key_ctrl(char letter);

struct key key_click(int row, int column);

/* True when both are the same key (pasted or not). */
bool key_equal(struct key a, struct key b);

/*
 * The key of a name as help lines write it: "Enter", "Ctrl+R", "F2", "PgDn", "a"; false when
 * there is none.  No name is longer than KEY_NAME_SIZE.
 */
enum { KEY_NAME_SIZE = 24 };
bool key_from_name(const char *name, struct key *key);

#endif
