#ifndef MAN_PAGES_H
#define MAN_PAGES_H

/* One function a manual page; each writes its page to standard output. */
void page_program(void);  /* padside(1) */
void page_keys(void);     /* padside-keys(7) */
void page_readings(void); /* padside-readings(7) */
void page_json(void);     /* padside-json(5) */
void page_office(void);   /* padside-office(7) */

#endif
