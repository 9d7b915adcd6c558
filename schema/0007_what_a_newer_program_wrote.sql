-- Entries whose kind of thing, field or value this program does not know: a
-- newer one wrote them in another book.  They stay in the trail as they came
-- and count for nothing; a program that knows them works them out when it
-- opens the book.
CREATE TABLE unread (
	thing INTEGER NOT NULL,
	field INTEGER NOT NULL,
	stamp INTEGER NOT NULL,
	book INTEGER NOT NULL,
	PRIMARY KEY (thing, field, stamp, book)
) STRICT, WITHOUT ROWID;
