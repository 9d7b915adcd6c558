#ifndef PADSIDE_CHECKLIST_H
#define PADSIDE_CHECKLIST_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/error.h>
#include <padside/model/call.h>

/*
 * Tune-up lists: the readings and tasks that a visit of a kind takes, and what
 * of them is still missing on a call.  The built-in ones are the table
 * padside/catalog/checklists.def; a firm's own have the same form.
 */

enum { CHECKLIST_NAME_SIZE = 64, CHECKLIST_MOST = 64 };

struct checklist_item {
	enum reading reading; /* READING_NONE for a task */
	char task[LINE_SIZE]; /* "" for a reading */
};

struct checklist {
	char name[CHECKLIST_NAME_SIZE];              /* as the technician chooses it */
	struct checklist_item items[CHECKLIST_MOST]; /* in the order of the list */
	int count;                                   /* of them */
};

enum checklist_state {
	CHECKLIST_MISSING, /* not taken, not done */
	CHECKLIST_DONE,    /* taken in either stage; the work has a line of these words */
	CHECKLIST_IDLE     /* does not apply to this kind of unit */
};

/* How many built-in lists there are, and the line of one (0 to count - 1); static. */
int checklist_built_in_count(void);
const char *checklist_built_in(int index);

/*
 * Reads "NAME: ITEM; ITEM; …".  Fails with STATUS_BAD_INPUT, a sentence in
 * `error`, when the name or the items are missing, an item is too long or
 * there are more than CHECKLIST_MOST; the list is empty then.
 */
enum status checklist_parse(const char *line, struct checklist *list, struct error *error);

/*
 * The list that a call has: as its line says, or the built-in one of that name.
 * False, and an empty list, where it has none or one that cannot be read.
 */
bool checklist_of_call(const struct call *call, struct checklist *list);

/* Where the work has a line of a task's words; call->work_count where it has none. */
size_t checklist_find_work(const struct call *call, const char *task);

/* What an item is called: the reading's label or the task itself.  Borrowed. */
const char *checklist_item_label(const struct checklist_item *item);

/* How an item of a list stands on a call. */
enum checklist_state checklist_judge(const struct checklist_item *item, const struct call *call);

/* How many items are missing. */
int checklist_missing(const struct checklist *list, const struct call *call);

#endif
