/*
 * Writing HTML: our own markup, and text in which nothing is markup.
 */
#include "report/html.h"

void html_mark(struct pen *pen, const char *string)
{
	text_add(pen->text, string);
}

void html_add(struct pen *pen, const char *string)
{
	for (; *string; string++) {
		switch (*string) {
		case '&': html_mark(pen, "&amp;"); break;
		case '<': html_mark(pen, "&lt;"); break;
		case '>': html_mark(pen, "&gt;"); break;
		case '"': html_mark(pen, "&quot;"); break;
		case '\'': html_mark(pen, "&#39;"); break;
		default: text_add_char(pen->text, *string);
		}
	}
}

void html_element(struct pen *pen, const char *open, const char *string, const char *close)
{
	html_mark(pen, open);
	html_add(pen, string);
	html_mark(pen, close);
}
