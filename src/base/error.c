/*
 * Filling a caller's error.  A sentence that does not fit is cut at a whole
 * character, so that half of a UTF-8 sequence never reaches the screen.
 */
#include <padside/base/error.h>

#include <stdarg.h>
#include <stdio.h>

#include <padside/base/text.h>

enum status error_set(struct error *error, enum status status,
                      const char *format, ...)
{
	va_list arguments;

	va_start(arguments, format);
	int length = vsnprintf(error->text, sizeof error->text, format, arguments);
	va_end(arguments);
	if (length < 0)
		error->text[0] = '\0';
	else if ((size_t)length >= sizeof error->text)
		text_trim_broken_utf8(error->text);
	error->status = status;
	return status;
}
