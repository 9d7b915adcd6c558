#ifndef REPORT_HTML_H
#define REPORT_HTML_H

#include "report/writer.h"

/* What the HTML writer is made of: html.c, the drawings of html_drawings.c, the foot of sheets. */

/* Markup of our own, as it is. */
void html_mark(struct pen *pen, const char *string);

/* Text from the document: nothing in it is markup. */
void html_add(struct pen *pen, const char *string);

/* The same between two pieces of markup. */
void html_element(struct pen *pen, const char *open, const char *string, const char *close);

/* A CSS string in quotes: nothing in it ends the string or the style sheet. */
void html_add_css_string(struct pen *pen, const char *string);

/* Bytes as base64 (RFC 4648, section 4). */
void html_add_base64(struct pen *pen, const unsigned char *bytes, size_t length);

/* Whether both stages are held to the same stretch, so that one ruler serves them. */
bool html_shares_ruler(const struct measure *measure);

/* The ruler of a measure of which something is expected. */
void html_add_ruler(struct pen *pen, const struct measure *measure);

/* The course of a trend; nothing when it has no point. */
void html_add_trend(struct pen *pen, const struct trend *trend);

#endif
