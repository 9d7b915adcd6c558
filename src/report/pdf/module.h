#ifndef REPORT_PDF_MODULE_H
#define REPORT_PDF_MODULE_H

#include <padside/report/document.h>

/*
 * What padside-pdf.so offers.  It stands apart from the program and is loaded
 * when a PDF is asked for, so that nobody else waits for pango and its forty
 * libraries when the program starts.
 */
struct pdf_module {
	const char *version; /* of the program that it was built with */
	void (*write)(const struct document *document, struct text *text);
};

/* Its name within the module. */
#define PDF_MODULE_SYMBOL "padside_pdf_module"
extern const struct pdf_module padside_pdf_module;

#endif
