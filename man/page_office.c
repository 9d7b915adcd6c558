/*
 * padside-office(7): several trucks and one office.
 */
#include "pages.h"

#include <stddef.h>

#include "notation.h"

static const char *const page[] = {
	".SH NAME",
	"padside-office - several trucks and one office on a PostgreSQL server",
	".SH DESCRIPTION",
	"A firm with more than one truck can let its books meet on a PostgreSQL server (15 or newer) "
	"that the office hosts or rents. Every truck and every desk keeps its own complete book and "
	"works without the server. The server keeps the trail of changes of all books; nothing on it "
	"is ever altered.",
	".PP",
	"\\fBpadside sync\\fR \\fIADDRESS\\fR fetches the changes that the book lacks, checks them, "
	"folds them as \\fBpadside merge\\fR does, and sends what the server lacks. It can be broken "
	"off at any point and run again; every change arrives once. A change of one field on two "
	"trucks keeps both values and shows them as a question on that call. Ctrl+C stops it after the "
	"batch that is running; what came until then is kept.",
	".PP",
	"Trucks may have programs of different versions. What a newer one wrote and an older one does "
	"not know is kept in its book as it came, goes on to others from there, and is shown by the "
	"first program that knows it.",
	".SH SETTING UP",
	"A database for the firm, its schema, and a role for each truck:",
	".PP",
	".EX",
	"createdb larkmere",
	"padside office init postgresql://owner@office.example/larkmere",
	"psql larkmere -c 'CREATE ROLE truck7 LOGIN PASSWORD ...'",
	"psql larkmere -c 'GRANT larkmere_truck TO truck7'",
	".EE",
	".PP",
	"The schema and the roles are named as the database; \\fB--firm\\fR gives another name. On "
	"the truck:",
	".PP",
	".EX",
	"padside settings sync=postgresql://truck7@office.example/larkmere",
	"padside sync",
	".EE",
	".SH WHAT A TRUCK CARRIES",
	"A book has everything of the firm unless it is told to carry its own: ",
	".PP",
	".EX",
	"padside settings carry=own",
	".EE",
	".PP",
	"Then come the customers whom the book wrote about, those of calls that are planned for its "
	"technician, and those that it asked for, each with all sites, units and calls, and later "
	"changes of them. \\fBpadside find\\fR \\fITEXT\\fR lists whom the book has and then whom only "
	"the office has; \\fBpadside find --fetch\\fR \\fIID\\fR brings one of these over. If the "
	"office does not answer, the program says so. A book that carries its own can take from "
	"another book by \\fBpadside merge\\fR but not give; \\fBcarry=all\\fR makes it whole again at "
	"the next meeting.",
	".SH BILLED CALLS",
	"\\fBpadside office billed\\fR \\fICALL\\fR... notes calls as billed in the book of a desk; "
	"after the next meeting the view unbilled_calls leaves them out, and the trucks show when they "
	"were billed. A call that is planned in the book of a desk, with a technician and a time, is "
	"on that technician's laptop after both have met the office.",
	".SH ADDRESSES AND PASSWORDS",
	"An address is a connection URI of PostgreSQL, or the name of a service in its service file. "
	"Passwords are read from the passfile (~/.pgpass) or the service file only; an address with a "
	"password is refused. Unless the server is on this machine, the connection is encrypted and "
	"the server's certificate is checked (sslmode=verify-full); the root certificate is looked for "
	"where PostgreSQL's clients look for it.",
	".SH WHO MAY DO WHAT",
	".TP",
	".B FIRM_truck",
	"A truck or a desk: appends under its own book only and reads. It alters and deletes nothing. "
	"A book belongs to the role that brought it first.",
	".TP",
	".B FIRM_reader",
	"Reads only: for the bookkeeper and for report tools.",
	".PP",
	"One statement revokes a truck: REVOKE larkmere_truck FROM truck7.",
	".SH VIEWS FOR THE OFFICE",
	".TP",
	".B calls, customers, units, planned_calls",
	"who, where, when, by whom; what is planned",
	".TP",
	".B readings, call_readings",
	"one row a reading; the common ones in columns, as found and as left",
	".TP",
	".B findings",
	"what the technician confirmed, ruled out or set to watch, and why",
	".TP",
	".B work_lines, bill_classes, bills, unbilled_calls",
	"lines, subtotals with discount and tax as the report prints them, totals, closed calls that "
	"are not billed",
	".TP",
	".B refrigerant_moves, refrigerant_by_unit, refrigerant_by_cylinder, refrigerant_by_year",
	"refrigerant added and recovered, ounces",
	".TP",
	".B leak_rates",
	"what was put into a unit in a year beyond what was taken out, as a share of its charge and, "
	"where it is known, its line set's",
	".TP",
	".B unit_series, drifting_units",
	"what is followed from call to call of a unit, as last left: run capacitors, insulation and "
	"amps of the compressor; units of which a capacitor lost 3 % or more of its rating, insulation "
	"fell to a third of what earlier calls showed, or amps rose by a tenth of the RLA, each in the "
	"same weather. Pressures and what follows from them are in the book's own history alone "
	"(\\fBpadside history\\fR).",
	".TP",
	".B declined_work",
	"options that were declined",
	".TP",
	".B questions",
	"fields that two trucks changed without knowing of each other",
	".SH A BOOK PUT BACK FROM A COPY",
	"A backup made with \\fBpadside backup\\fR goes on under an id of its own. A copy of the file "
	"that is put back and written in uses numbers a second time; the next meeting notices it, "
	"keeps both histories, and gives the book a new id.",
	".SH SEE ALSO",
	"\\fBpadside\\fR(1), psql(1), the chapter on the connection service file and the password file "
	"in PostgreSQL's documentation",
	NULL,
};

void page_office(void)
{
	notation_title("PADSIDE-OFFICE", 7, "padside");
	notation_rows(page);
}
