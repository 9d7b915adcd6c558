/*
 * Writing HTML: our own markup, and text in which nothing is markup.
 */
#include "report/html.h"

#include <ctype.h>
#include <string.h>

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

void html_add_css_string(struct pen *pen, const char *string)
{
	text_add_char(pen->text, '"');
	for (; *string; string++) {
		unsigned char byte = (unsigned char)*string;
		bool plain = isalnum(byte) || byte >= 0x80 || strchr(" .,-", byte);
		if (plain)
			text_add_char(pen->text, *string);
		else
			text_add_format(pen->text, "\\%06x", byte);
	}
	text_add_char(pen->text, '"');
}

void html_add_base64(struct pen *pen, const unsigned char *bytes, size_t length)
{
	static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

	for (size_t i = 0; i < length; i += 3) {
		size_t left = length - i;
		unsigned group = (unsigned)bytes[i] << 16;
		group |= left > 1 ? (unsigned)bytes[i + 1] << 8 : 0;
		group |= left > 2 ? (unsigned)bytes[i + 2] : 0;
		text_add_char(pen->text, digits[group >> 18]);
		text_add_char(pen->text, digits[group >> 12 & 63]);
		text_add_char(pen->text, (char)(left > 1 ? digits[group >> 6 & 63] : '='));
		text_add_char(pen->text, (char)(left > 2 ? digits[group & 63] : '='));
	}
}
