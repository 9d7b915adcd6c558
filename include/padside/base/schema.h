#ifndef PADSIDE_SCHEMA_H
#define PADSIDE_SCHEMA_H

/* The migrations of schema/, embedded at build time by schema/embed.awk. */

struct schema_migration {
	int number;       /* counts up from 1; 0 ends the table */
	const char *name; /* the file's name without .sql, for messages */
	const char *sql;  /* the whole file */
};

/* In ascending order, ended by a row with number 0. */
extern const struct schema_migration schema_migrations[];

/* The same of the office's server (schema/office/). */
extern const struct schema_migration office_migrations[];

#endif
