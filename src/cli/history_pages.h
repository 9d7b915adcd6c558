#ifndef CLI_HISTORY_PAGES_H
#define CLI_HISTORY_PAGES_H

#include <padside/app/history.h>
#include <padside/base/text.h>

/*
 * The pages of `padside history`, each as text for people and as one JSON
 * object a line, in canonical units.
 */

/* How text is written. */
struct page_style {
	enum unit_system units; /* shown */
	wall_time now;          /* for ages */
	bool plain;             /* ASCII only */
	bool wants_all;         /* plain readings and figures too */
	bool wants_plots;       /* a plot of everything followed, not only of what drifts */
};

/* A customer; the histories of their units follow, one by one. */
void page_add_customer(const struct page_style *style, const struct customer_page *page,
                       struct text *text);
/* A unit; `with_owner` says whose it is. */
void page_add_system(const struct page_style *style, const struct history *history,
                     bool with_owner, struct text *text);

/* Two visits, or stages of one, side by side. */
struct compared {
	const struct call *before;      /* the one visit */
	enum stage before_stage;        /* its stage */
	const struct call *after;       /* the other, or the same */
	enum stage after_stage;         /* its stage */
	struct history_change *changes; /* from history_compare() */
	size_t count;                   /* of them */
};

void page_add_changes(const struct page_style *style, const struct compared *compared,
                      struct text *text);

/* The same in JSON; a customer's object goes on with those of their units, and is ended. */
void page_json_customer(const struct customer_page *page, struct text *text);
void page_json_machine(const struct history *history, bool is_first, struct text *text);
void page_json_customer_end(struct text *text);
void page_json_system(const struct history *history, struct text *text);
void page_json_changes(const struct compared *compared, struct text *text);

#endif
