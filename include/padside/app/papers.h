#ifndef PADSIDE_PAPERS_H
#define PADSIDE_PAPERS_H

#include <stdbool.h>

#include <padside/model/call.h>
#include <padside/report/document.h>
#include <padside/base/error.h>
#include <padside/report/paper.h>
#include <padside/store/store.h>
#include <padside/base/text.h>

/*
 * The report of a call as bytes: gathers what the book knows of the unit, works
 * figures and findings out, builds the document and writes it.
 */

enum paper_format {
	PAPER_TEXT, PAPER_MARKDOWN, PAPER_HTML, PAPER_CSV, /* those of padside/report/document.h */
	PAPER_PDF,                                         /* where its module is */
	PAPER_JSON,                                        /* the whole call, for `record` */
	PAPER_FORMAT_COUNT
};

/* "text", "markdown", "html", "csv", "pdf", "json". */
const char *paper_format_key(enum paper_format format);
bool paper_format_from_key(const char *key, enum paper_format *format);

/* "txt", "md", "html", "csv", "pdf", "json". */
const char *paper_format_ending(enum paper_format format);

struct paper_choice {
	enum paper_format format; /* how it is written */
	enum paper_reader reader; /* for whom; the customer's JSON leaves out what is the office's */
	enum unit_system units;   /* shown; does not matter for JSON */
	bool plain;               /* ASCII only where the format can */
	int columns;              /* of text; 0: a page's 80 */
	bool on_sheets;           /* text: cut into sheets, each with its foot */
};

/* The book's currency, "$" where none was set. */
enum status papers_currency(struct store *store, char *currency, size_t size, struct error *error);

/*
 * Its code (ISO 4217) for accounting: the setting; else what "$", "€" or "£" usually
 * stands for, and the currency as it was set where it is another.
 */
enum status papers_currency_code(struct store *store, char *code, size_t size,
                                 struct error *error);

/* Whether the head of the report says where the firm can be called. */
enum status papers_has_phone(struct store *store, bool *has_phone, struct error *error);

/* Appends the report of a call of the book to `out`.  STATUS_NOT_APPLICABLE: no PDF here. */
enum status papers_write(struct store *store, const struct call *call,
                         const struct paper_choice *choice, struct text *out, struct error *error);

/*
 * Writes bytes into a new file, rights 0600; an existing one is refused with
 * STATUS_EXISTS unless `force`, and then replaced only once the new one is
 * whole on the drive.
 */
enum status papers_save(const char *path, const struct text *bytes, bool force,
                        struct error *error);

#endif
