#ifndef STORE_LIBPQ_H
#define STORE_LIBPQ_H

#include <libpq-fe.h>

#include <padside/base/error.h>

/*
 * What is used of libpq (libpq.c).  It is loaded when an office is met for the
 * first time: with all that it brings along, it would take longer than the rest
 * of a start.
 */
#define PQ_FUNCTIONS(F) \
	F(clear) F(connectStartParams) F(connectdbParams) F(conninfo) F(conninfoFree) \
	F(conninfoParse) F(db) F(errorMessage) F(exec) F(execParams) F(finish) F(freemem) \
	F(getCopyData) F(getResult) F(getvalue) F(host) F(hostaddr) F(nfields) F(ntuples) \
	F(putCopyData) F(putCopyEnd) F(resultStatus) F(setNoticeProcessor) F(sslInUse) F(status)

/* pq.exec() is PQexec(), and so on; usable once pq_load() answered STATUS_OK. */
struct pq_functions {
#define PQ_MEMBER(name) __typeof__(&PQ##name) name;
	PQ_FUNCTIONS(PQ_MEMBER)
#undef PQ_MEMBER
};

extern struct pq_functions pq;

/* Loads it, once; STATUS_NOT_APPLICABLE and a sentence where this machine does not have it. */
enum status pq_load(struct error *error);

#endif
