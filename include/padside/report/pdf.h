#ifndef PADSIDE_PDF_H
#define PADSIDE_PDF_H

#include <stdbool.h>

#include <padside/base/text.h>
#include <padside/report/document.h>

/*
 * A document as PDF, through a module (cairo and pango) that is loaded when it
 * is asked for: Letter or A4 sheets with whose it is, its number and "page 1 of 3" at the
 * foot, and the logo beside the letterhead.
 */

/* Whether there is such a module for this program. */
bool pdf_is_built(void);

/*
 * Appends the document as the bytes of a PDF file.  text->failed says when that
 * was not possible; asserts pdf_is_built().
 */
void pdf_write(const struct document *document, struct text *text);

#endif
