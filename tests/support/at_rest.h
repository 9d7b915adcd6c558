#ifndef SUPPORT_AT_REST_H
#define SUPPORT_AT_REST_H

#include <padside/store/store.h>

/*
 * Fails where a question to the book was not ended: it would hold this connection at what the book
 * was then, and who writes after another program wrote would be refused.
 */
void at_rest(struct store *store);

#endif
