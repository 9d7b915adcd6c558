#ifndef TUI_MEETING_H
#define TUI_MEETING_H

#include <stdbool.h>
#include <sys/types.h>

/*
 * Meeting the office beside the workbook: another run of the program ("padside
 * sync") does it, so that no key waits for a network.
 */

enum { MEETING_SAID_SIZE = 200 };

struct meeting {
	pid_t process;                /* 0: none runs */
	int output;                   /* what it says comes here */
	char line[MEETING_SAID_SIZE]; /* being read */
	size_t length;                /* of it */
	char said[MEETING_SAID_SIZE]; /* its last whole line */
};

enum meeting_state {
	MEETING_NONE,  /* none runs */
	MEETING_RUNS,  /* one runs */
	MEETING_MET,   /* it just ended well */
	MEETING_FAILED /* it just ended otherwise: `said` tells why */
};

/* Begins one with this program on this book; false when it cannot be started. */
bool meeting_begin(struct meeting *meeting, const char *program, const char *book);

/* What became of it; never waits.  MET and FAILED are told once. */
enum meeting_state meeting_look(struct meeting *meeting);

/* Asks one that runs to stop; what it did is kept on both sides. */
void meeting_stop(struct meeting *meeting);

#endif
