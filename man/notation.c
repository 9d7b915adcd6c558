/*
 * Words in the notation of a manual page (man macros), on standard output.
 */
#include "notation.h"

#include <stdio.h>
#include <string.h>

void notation_title(const char *name, int section, const char *subject)
{
	puts(".\\\" Written by man/ from the program's tables: do not edit, run `make man`.");
	printf(".TH %s %d \"%s\" \"padside %s\" \"%s\"\n", name, section, PADSIDE_RELEASED,
	       PADSIDE_VERSION, subject);
}

void notation_words(const char *words)
{
	if (*words == '.' || *words == '\'')
		fputs("\\&", stdout);
	for (; *words; words++) {
		if (*words == '\\')
			fputs("\\e", stdout);
		else if (*words == '-')
			fputs("\\-", stdout);
		else
			putchar(*words);
	}
}

void notation_line(const char *words)
{
	notation_words(words);
	putchar('\n');
}

void notation_sentence(const char *clause)
{
	size_t length = strlen(clause);

	notation_words(clause);
	puts(length && clause[length - 1] == '.' ? "" : ".");
}

void notation_heading(const char *macro, const char *words)
{
	printf("%s \"", macro);
	notation_words(words);
	puts("\"");
}

void notation_tag(const char *bold, const char *plain)
{
	fputs(".TP\n\\fB", stdout);
	notation_words(bold);
	fputs("\\fR", stdout);
	if (*plain) {
		putchar(' ');
		notation_words(plain);
	}
	putchar('\n');
}

void notation_rows(const char *const *rows)
{
	for (; *rows; rows++) {
		for (const char *at = *rows; *at; at++) {
			if (*at == '-' && **rows != '.')
				putchar('\\');
			putchar(*at);
		}
		putchar('\n');
	}
}
