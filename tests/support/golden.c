/*
 * Golden files.
 */
#include "support/canvas_dump.h"
#include "support/golden.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { LINES_SHOWN = 12, BYTES_SHOWN = 160 };

/* Reads a whole file; false when it cannot be opened. */
static bool read_file(const char *path, struct text *text)
{
	char bytes[4096];
	size_t count;
	FILE *file = fopen(path, "r");

	if (!file)
		return false;
	while ((count = fread(bytes, 1, sizeof bytes, file)) > 0)
		text_add_bytes(text, bytes, count);
	fclose(file);
	return true;
}

static void write_for_review(const char *path, const char *text)
{
	FILE *file = fopen(path, "w");

	if (!file)
		ck_abort_msg("cannot write %s", path);
	fputs(text, file);
	ck_assert_int_eq(fclose(file), 0);
}

/* The next line of *rest, without its end; false behind the last. */
static bool next_line(const char **rest, const char **line, int *length)
{
	if (**rest == '\0')
		return false;
	*line = *rest;
	*length = (int)strcspn(*rest, "\n");
	*rest += *length;
	if (**rest == '\n')
		*rest += 1;
	return true;
}

static void show_line(struct text *report, char sign, int number, const char *line, int length)
{
	text_add_format(report, "%c%4d |%.*s\n", sign, number,
	                length < BYTES_SHOWN ? length : BYTES_SHOWN, line);
}

/* The lines that differ, as wanted (-) and drawn (+). */
static void describe(const char *wanted, const char *drawn, struct text *report)
{
	const char *want = NULL, *draw = NULL;
	int want_length = 0, draw_length = 0, shown = 0;

	for (int number = 1; shown < LINES_SHOWN; number++) {
		bool has_want = next_line(&wanted, &want, &want_length);
		bool has_draw = next_line(&drawn, &draw, &draw_length);
		if (!has_want && !has_draw)
			return;
		if (has_want && has_draw && want_length == draw_length &&
		    memcmp(want, draw, (size_t)want_length) == 0)
			continue;
		if (has_want)
			show_line(report, '-', number, want, want_length);
		if (has_draw)
			show_line(report, '+', number, draw, draw_length);
		shown++;
	}
	text_add(report, "  … and perhaps more\n");
}

/* Leaves what was drawn in $BUILD/golden and says where. */
static void draw_for_review(const char *name, const char *text, char path[512])
{
	const char *build = getenv("BUILD");

	snprintf(path, 512, "%s/golden", build ? build : "build");
	mkdir(path, 0777);
	snprintf(path, 512, "%s/golden/%s", build ? build : "build", name);
	write_for_review(path, text);
}

void golden_check_text(const char *folder, const char *name, const char *text)
{
	char drawn_path[512], wanted_path[512];
	struct text wanted, report;

	draw_for_review(name, text, drawn_path);
	snprintf(wanted_path, sizeof wanted_path, "tests/%s/%s", folder, name);
	text_init(&wanted);
	text_init(&report);
	if (!read_file(wanted_path, &wanted))
		ck_abort_msg("%s is not there; review %s and copy it", wanted_path, drawn_path);
	if (strcmp(text_get(&wanted), text) != 0) {
		describe(text_get(&wanted), text, &report);
		ck_abort_msg("%s differs from %s:\n%s", drawn_path, wanted_path, text_get(&report));
	}
	text_done(&wanted);
	text_done(&report);
}

static void dump(const struct canvas *canvas, struct text *text)
{
	canvas_dump(canvas, text);
	text_add(text, "inks:\n");
	canvas_dump_ink(canvas, text);
}

void golden_draw(const char *name, const struct canvas *canvas)
{
	struct text text;
	char file[128], path[512];

	text_init(&text);
	dump(canvas, &text);
	snprintf(file, sizeof file, "%s.txt", name);
	draw_for_review(file, text_get(&text), path);
	text_done(&text);
}

void golden_check(const char *name, const struct canvas *canvas)
{
	struct text text;
	char file[128];

	text_init(&text);
	dump(canvas, &text);
	snprintf(file, sizeof file, "%s.txt", name);
	golden_check_text("screens/golden", file, text_get(&text));
	text_done(&text);
}
