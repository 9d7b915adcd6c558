/*
 * Meeting the office beside the workbook.
 */
#include "tui/meeting.h"

#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <padside/base/text.h>

extern char **environ;

/* A pipe whose ends no other program inherits. */
static bool make_pipe(int ends[2])
{
	if (pipe(ends) != 0)
		return false;
	fcntl(ends[0], F_SETFD, FD_CLOEXEC);
	fcntl(ends[1], F_SETFD, FD_CLOEXEC);
	fcntl(ends[0], F_SETFL, O_NONBLOCK);
	return true;
}

/* In a group of its own: a Ctrl+C or a closed terminal is not meant for it. */
static bool spawn(struct meeting *meeting, char **words, int output)
{
	posix_spawn_file_actions_t actions;
	posix_spawnattr_t attributes;

	posix_spawn_file_actions_init(&actions);
	posix_spawnattr_init(&attributes);
	posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
	posix_spawn_file_actions_adddup2(&actions, output, STDOUT_FILENO);
	posix_spawn_file_actions_adddup2(&actions, output, STDERR_FILENO);
	posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETPGROUP);
	int code = posix_spawnp(&meeting->process, words[0], &actions, &attributes, words, environ);
	posix_spawn_file_actions_destroy(&actions);
	posix_spawnattr_destroy(&attributes);
	return code == 0;
}

bool meeting_begin(struct meeting *meeting, const char *program, const char *book)
{
	char *words[] = { (char *)program, (char *)"--book", (char *)book, (char *)"sync", NULL };
	int ends[2];

	*meeting = (struct meeting){ .process = 0 };
	if (!make_pipe(ends))
		return false;
	bool began = spawn(meeting, words, ends[1]);
	close(ends[1]);
	meeting->output = ends[0];
	if (!began) {
		close(ends[0]);
		meeting->process = 0;
	}
	return began;
}

/* Takes in what it said; the name of the program before it is no news. */
static void take_byte(struct meeting *meeting, char byte)
{
	static const char name[] = "padside: ";

	if (byte != '\n' && byte != '\r') {
		if (meeting->length + 1 < sizeof meeting->line)
			meeting->line[meeting->length++] = byte;
		return;
	}
	meeting->line[meeting->length] = '\0';
	bool is_named = strncmp(meeting->line, name, strlen(name)) == 0;
	if (meeting->length > 0)
		text_copy(meeting->said, sizeof meeting->said,
		          meeting->line + (is_named ? strlen(name) : 0));
	meeting->length = 0;
}

enum meeting_state meeting_look(struct meeting *meeting)
{
	char bytes[256];
	ssize_t count;
	int code;

	if (meeting->process == 0)
		return MEETING_NONE;
	while ((count = read(meeting->output, bytes, sizeof bytes)) > 0)
		for (ssize_t i = 0; i < count; i++)
			take_byte(meeting, bytes[i]);
	/* While it can still say something it runs. */
	if (count < 0 || waitpid(meeting->process, &code, WNOHANG) == 0)
		return MEETING_RUNS;
	close(meeting->output);
	meeting->process = 0;
	return WIFEXITED(code) && WEXITSTATUS(code) == 0 ? MEETING_MET : MEETING_FAILED;
}

void meeting_stop(struct meeting *meeting)
{
	if (meeting->process == 0)
		return;
	kill(meeting->process, SIGTERM);
	close(meeting->output);
	meeting->process = 0;
}
