#ifndef PADSIDE_PDF_H
#define PADSIDE_PDF_H

#include <padside/base/status.h>
#include <padside/base/text.h>
#include <padside/report/document.h>

/*
 * A document as PDF, through a module (cairo and pango) that is loaded when it
 * is asked for: Letter or A4 sheets with whose it is, its number and "page 1 of 3" at the
 * foot, and the logo beside the letterhead.
 */

/*
 * Appends the document as the bytes of a PDF file.  STATUS_NOT_APPLICABLE: there is
 * no such module for this program; STATUS_NO_MEMORY: it could not be written whole.
 */
enum status pdf_write(const struct document *document, struct text *text);

#endif
