/*
 * Looks at one entry of a trail: whether it is whole (its checksum), and
 * whether its value is one that this program's field takes.  For verify, and
 * for merge before it takes anything.
 */
#include "store/parts.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/trail.h"

union any_part {
	struct charge_entry charge;
	struct work_line work;
	struct offer offer;
	struct watch_item watch;
	struct judgement judgement;
	struct tightness_entry tightness;
	struct cylinder cylinder;
};

/* Where values are put to see whether they can be. */
struct checker {
	struct call call;
	union any_part line;
};

struct checker *checker_new(void)
{
	struct checker *checker = calloc(1, sizeof *checker);

	if (checker)
		call_init(&checker->call);
	return checker;
}

void checker_free(struct checker *checker)
{
	free(checker);
}

/* A value with a length that nobody's terminal minds. */
#define VALUE_SHOWN "%.60s"

static void say(struct text *wrong, const struct thing *thing, const char *field,
                const char *what, const char *value)
{
	text_add_format(wrong, "%s %s: %s %s", thing_word(thing->kind), thing->uid.text, field, what);
	if (value)
		text_add_format(wrong, " (" VALUE_SHOWN ")", value);
}

static bool is_whole_number(const char *text)
{
	size_t length = strspn(text, "0123456789");

	return length > 0 && length < 19 && text[length] == '\0';
}

static bool can_read_reading(const struct thing *thing, const struct field_meaning *meaning,
                             const char *new)
{
	struct value value;
	struct error why;

	return thing->kind == THING_CALL &&
	       (!new || (value_from_text(meaning->reading, new, &value, &why) &&
	                 value_is_within(meaning->reading, &value)));
}

static bool can_read_column(struct checker *checker, const struct thing *thing,
                            const struct shape_column *column, const char *new)
{
	void *base = kind_is_line(thing->kind) ? (void *)&checker->line : (void *)&checker->call;
	struct value value;
	struct error why;

	if (!new)
		return true;
	if (column->kind == COLUMN_POSITION)
		return is_whole_number(new);
	if (!shape_parse(column, base, new))
		return false;
	return column->kind != COLUMN_READING || !value_from_text(column->reading, new, &value, &why) ||
	       value_is_within(column->reading, &value);
}

static void look_at_mark(const struct thing *thing, const struct field_meaning *meaning,
                         const char *new, struct text *wrong)
{
	bool fits = !new;

	if (new && meaning->mark == MARK_REMOVED)
		fits = strcmp(new, "1") == 0;
	else if (new && meaning->mark == MARK_JOINED)
		fits = uid_is_valid(new) && thing->kind >= THING_CUSTOMER && thing->kind <= THING_SYSTEM;
	else if (new)
		fits = is_whole_number(new) && thing->kind == THING_BOOK;
	if (!fits)
		say(wrong, thing, meaning->name, "has a value that cannot be read", new);
}

bool checker_look(struct checker *checker, struct store *store, const struct thing *thing,
                  const struct entry *entry, uint32_t sum, struct text *wrong)
{
	const struct field_meaning *meaning = field_meaning(store, entry->field);
	bool is_known = thing->kind != THING_NEWER;
	int column = is_known ? field_column(store, thing->kind, entry->field) : -1;

	if (!meaning) {
		say(wrong, thing, "a field", "is not known", NULL);
		return false;
	}
	if (entry_sum(thing->seed, meaning->seed, entry) != sum)
		say(wrong, thing, meaning->name, "is not as it was written: its checksum differs", NULL);
	else if (entry->stamp < 1 || entry->number < 1 || entry->book < 0)
		say(wrong, thing, meaning->name, "has no place in the trail", NULL);
	else if (is_known && meaning->mark != MARK_COUNT)
		look_at_mark(thing, meaning, entry->new, wrong);
	else if (column >= 0)
		return can_read_column(checker, thing, &store->shapes[thing->kind].columns[column],
		                       entry->new);
	else
		return is_known && meaning->reading != READING_NONE &&
		       can_read_reading(thing, meaning, entry->new);
	return is_known;
}
