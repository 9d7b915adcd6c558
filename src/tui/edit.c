/*
 * The line editor.
 *
 * Positions are byte offsets that always stand between two letters: a base
 * character together with its combining marks counts as one.
 */
#include "tui/edit.h"

#include <string.h>

#include <padside/base/glyph.h>
#include <padside/base/text.h>

#include "tui/requests.h"

/* Where the letter at `at` ends. */
static size_t letter_end(const struct edit *edit, size_t at)
{
	const char *cursor = edit->text + at;

	if (at >= edit->length)
		return edit->length;
	text_next_character(&cursor);
	for (;;) {
		const char *next = cursor;
		unsigned character = text_next_character(&next);
		if (character == 0 || text_character_columns(character) != 0)
			return (size_t)(cursor - edit->text);
		cursor = next;
	}
}

/* Where the letter before `at` begins. */
static size_t letter_start(const struct edit *edit, size_t at)
{
	while (at > 0) {
		at--;
		while (at > 0 && ((unsigned char)edit->text[at] & 0xc0) == 0x80)
			at--;
		const char *cursor = edit->text + at;
		if (text_character_columns(text_next_character(&cursor)) != 0)
			break;
	}
	return at;
}

static size_t word_start(const struct edit *edit, size_t at)
{
	while (at > 0 && edit->text[at - 1] == ' ')
		at--;
	while (at > 0 && edit->text[at - 1] != ' ')
		at--;
	return at;
}

static size_t word_end(const struct edit *edit, size_t at)
{
	while (at < edit->length && edit->text[at] == ' ')
		at++;
	while (at < edit->length && edit->text[at] != ' ')
		at++;
	return at;
}

static void remember(struct edit *edit, bool typing)
{
	if (typing && edit->typing)
		return;
	memcpy(edit->before, edit->text, edit->length + 1);
	edit->before_cursor = edit->cursor;
	edit->typing = typing;
}

static enum edit_answer move_to(struct edit *edit, size_t at)
{
	edit->cursor = at;
	edit->typing = false;
	return EDIT_MOVED;
}

static enum edit_answer delete_between(struct edit *edit, size_t from, size_t to)
{
	if (from >= to)
		return EDIT_MOVED;
	remember(edit, false);
	memmove(edit->text + from, edit->text + to, edit->length - to + 1);
	edit->length -= to - from;
	edit->cursor = from;
	return EDIT_CHANGED;
}

/* True for what may stand in a text: nothing that acts instead of being seen. */
static bool is_typeable(unsigned character)
{
	return character >= 0x20 && glyph_shown(character) == character && character != 0xfffd;
}

static enum edit_answer insert(struct edit *edit, unsigned character)
{
	struct text bytes;

	if (character == 0xa0 || character == '\t')
		character = ' ';
	if (!is_typeable(character))
		return EDIT_MOVED;
	text_init(&bytes);
	text_add_character(&bytes, character);
	bool fits = !bytes.failed && bytes.length <= edit->limit - edit->length;
	if (fits) {
		remember(edit, true);
		char *at = edit->text + edit->cursor;
		memmove(at + bytes.length, at, edit->length - edit->cursor + 1);
		memcpy(at, text_get(&bytes), bytes.length);
		edit->length += bytes.length;
		edit->cursor += bytes.length;
	}
	text_done(&bytes);
	return fits ? EDIT_CHANGED : EDIT_FULL;
}

void edit_init(struct edit *edit, size_t limit)
{
	memset(edit, 0, sizeof *edit);
	edit->limit = limit < EDIT_SIZE ? limit : EDIT_SIZE - 1;
}

void edit_set(struct edit *edit, const char *text)
{
	unsigned character;

	edit_init(edit, edit->limit);
	while ((character = text_next_character(&text)) != 0)
		if (insert(edit, character) == EDIT_FULL)
			break;
	text_copy(edit->before, sizeof edit->before, edit->text);
	edit->before_cursor = edit->cursor;
	edit->typing = false;
}

const char *edit_get(const struct edit *edit)
{
	return edit->text;
}

enum edit_answer edit_key(struct edit *edit, struct key key)
{
	size_t at = edit->cursor;

	switch (request_from_key(PLACE_WRITING, key)) {
	case REQUEST_TYPE:
		return insert(edit, key.character);
	case REQUEST_WRITE_LEFT:
		return move_to(edit, letter_start(edit, at));
	case REQUEST_WRITE_RIGHT:
		return move_to(edit, letter_end(edit, at));
	case REQUEST_WRITE_WORD_LEFT:
		return move_to(edit, word_start(edit, at));
	case REQUEST_WRITE_WORD_RIGHT:
		return move_to(edit, word_end(edit, at));
	case REQUEST_WRITE_HOME:
		return move_to(edit, 0);
	case REQUEST_WRITE_END:
		return move_to(edit, edit->length);
	case REQUEST_WRITE_BACKSPACE:
		return delete_between(edit, letter_start(edit, at), at);
	case REQUEST_WRITE_DELETE:
		return delete_between(edit, at, letter_end(edit, at));
	case REQUEST_WRITE_CUT_WORD:
		return delete_between(edit, word_start(edit, at), at);
	case REQUEST_WRITE_CUT_BEFORE:
		return delete_between(edit, 0, at);
	case REQUEST_WRITE_CUT_BEHIND:
		return delete_between(edit, at, edit->length);
	case REQUEST_WRITE_BACK:
		return edit_undo(edit) ? EDIT_CHANGED : EDIT_MOVED;
	default:
		return EDIT_IGNORED;
	}
}

bool edit_undo(struct edit *edit)
{
	char kept[EDIT_SIZE];
	size_t kept_cursor = edit->cursor;

	if (strcmp(edit->text, edit->before) == 0)
		return false;
	memcpy(kept, edit->text, edit->length + 1);
	edit->length = strlen(edit->before);
	memcpy(edit->text, edit->before, edit->length + 1);
	edit->cursor = edit->before_cursor;
	memcpy(edit->before, kept, strlen(kept) + 1);
	edit->before_cursor = kept_cursor;
	edit->typing = false;
	return true;
}

/* Columns of the bytes [from, to) on this canvas. */
static int columns_between(const struct edit *edit, bool plain, size_t from, size_t to)
{
	const char *cursor = edit->text + from;
	int columns = 0;

	while (cursor < edit->text + to)
		columns += glyph_columns(text_next_character(&cursor), plain);
	return columns;
}

/* Scrolls so that the cursor and the cell under it are inside of `width`. */
static void follow_cursor(struct edit *edit, bool plain, int width)
{
	/* Room for the cursor behind the text, and for "…" before it. */
	int room = width - 2 > 1 ? width - 2 : 1;

	if (columns_between(edit, plain, 0, edit->length) < width) {
		edit->scroll = 0;
		return;
	}
	if (edit->scroll > edit->cursor)
		edit->scroll = edit->cursor;
	int ahead = columns_between(edit, plain, edit->scroll, edit->cursor);
	while (ahead > room && edit->scroll < edit->cursor) {
		size_t next = letter_end(edit, edit->scroll);
		ahead -= columns_between(edit, plain, edit->scroll, next);
		edit->scroll = next;
	}
}

void edit_draw(struct edit *edit, struct canvas *canvas, struct area area, int row, int column,
               int width, unsigned style)
{
	bool plain = canvas_is_plain(canvas);

	if (width <= 0)
		return;
	/* A deletion may have left the start of the view inside or behind the text. */
	if (edit->scroll > edit->length)
		edit->scroll = edit->length;
	while (((unsigned char)edit->text[edit->scroll] & 0xc0) == 0x80)
		edit->scroll--;
	follow_cursor(edit, plain, width);
	int offset = 0;
	if (edit->scroll > 0 && width > 2) {
		canvas_put_padded(canvas, area, row, column, 1, style, plain ? "<" : "…");
		offset = 1;
	}
	canvas_put_padded(canvas, area, row, column + offset, width - offset, style,
	                  edit->text + edit->scroll);
	int at = offset + columns_between(edit, plain, edit->scroll, edit->cursor);
	canvas_set_cursor(canvas, area, row, column + (at < width ? at : width - 1));
}
