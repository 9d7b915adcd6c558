#ifndef PADSIDE_BESIDE_H
#define PADSIDE_BESIDE_H

#include <stdbool.h>
#include <sys/types.h>

#include <padside/base/error.h>

/*
 * Writing a file so that at its name there is either what was there before or
 * the whole new one, whenever power fails or the program is killed: it is
 * written beside, as NAME.part, brought to the drive, and renamed.
 */
struct beside {
	char *path; /* the name in the end; owned */
	char *part; /* the name while it is written; owned */
	int file;   /* open and locked; -1: none */
};

/*
 * Makes NAME.part, empty, with these rights.  One that an earlier program left
 * is written over; one that another program writes just now is STATUS_BUSY.
 */
enum status beside_begin(struct beside *beside, const char *path, mode_t rights,
                         struct error *error);

/*
 * Brings it to the drive and gives it its name.  Without `replace`, a file that
 * has the name already stays, and the answer is STATUS_EXISTS.  Whatever the
 * answer, NAME.part is gone and `beside` done with.
 */
enum status beside_end(struct beside *beside, bool replace, struct error *error);

/*
 * A file descriptor that can be read when something was written in the folder
 * of a file; -1 where the system cannot tell.  The caller closes it.
 */
int beside_watch(const char *path);

/* Gives up: NAME.part goes, the name is as it was. */
void beside_drop(struct beside *beside);

#endif
