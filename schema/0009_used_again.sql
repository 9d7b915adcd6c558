-- A book that was put back from an old copy of its file uses its numbers again,
-- and where its clock had run ahead its stamps as well.  Such changes of one
-- field are told apart by their checksums: both stay, in an order that is the same
-- in every book.

DROP TRIGGER entry_is_kept;
DROP TRIGGER entry_stays;
DROP INDEX entry_by_number;
ALTER TABLE entry RENAME TO old_entry;

CREATE TABLE entry (
	thing INTEGER NOT NULL,
	field INTEGER NOT NULL,
	stamp INTEGER NOT NULL,
	book INTEGER NOT NULL,       -- where it was written
	number INTEGER NOT NULL,     -- there
	sum INTEGER NOT NULL,        -- checksum of all of this, with names instead of ids
	technician INTEGER NOT NULL, -- by whom
	old TEXT,                    -- what was there
	new TEXT,                    -- what came
	at INTEGER,                  -- when a reading was taken, seconds on the wall
	PRIMARY KEY (thing, field, stamp, book, number, sum)
) STRICT, WITHOUT ROWID;

INSERT INTO entry (thing, field, stamp, book, number, sum, technician, old, new, at)
SELECT thing, field, stamp, book, number, sum, technician, old, new, at FROM old_entry;
DROP TABLE old_entry;

CREATE INDEX entry_by_number ON entry (book, number);

CREATE TRIGGER entry_is_kept BEFORE UPDATE ON entry
BEGIN
	SELECT raise(ABORT, 'the trail of changes is never altered');
END;

CREATE TRIGGER entry_stays BEFORE DELETE ON entry
BEGIN
	SELECT raise(ABORT, 'the trail of changes is never altered');
END;
