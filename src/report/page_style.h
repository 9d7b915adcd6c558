#ifndef REPORT_PAGE_STYLE_H
#define REPORT_PAGE_STYLE_H

/* The rules of the style sheet that write_html.c puts into each page; NULL ends them. */
extern const char *const page_style[];

#endif
