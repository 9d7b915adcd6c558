#ifndef REPORT_HTML_H
#define REPORT_HTML_H

#include "report/writer.h"

/* What the HTML writer is made of: html.c, and the drawings of html_drawings.c. */

/* Markup of our own, as it is. */
void html_mark(struct pen *pen, const char *string);

/* Text from the document: nothing in it is markup. */
void html_add(struct pen *pen, const char *string);

/* The same between two pieces of markup. */
void html_element(struct pen *pen, const char *open, const char *string, const char *close);

/* Whether both stages are held to the same stretch, so that one ruler serves them. */
bool html_shares_ruler(const struct measure *measure);

/* The ruler of a measure of which something is expected. */
void html_add_ruler(struct pen *pen, const struct measure *measure);

/* The course of a trend; nothing when it has no point. */
void html_add_trend(struct pen *pen, const struct trend *trend);

#endif
