-- A book that was put back from an old copy of its file uses its numbers again,
-- and where its clock had run ahead its stamps as well.  Such changes of one
-- field are told apart by their checksums: both stay, in an order that is the same
-- in every book.

-- For those who read a book with other tools: a table that is renamed takes its views along.
DROP VIEW call_reading;
DROP VIEW reading_change;
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

CREATE VIEW call_reading AS
SELECT entry.thing AS call, substr(name, 1, instr(name, '.') - 1) AS stage,
	substr(name, instr(name, '.') + 1) AS key, iif(new = 'OL', 'over_limit', 'taken') AS state,
	iif(is_number AND new <> 'OL', CAST(new AS REAL), NULL) AS number,
	iif(is_number, NULL, new) AS word,
	strftime('%Y-%m-%dT%H:%M:%S', at, 'unixepoch') AS taken_at
FROM call JOIN entry ON entry.thing = call.id JOIN field ON field.id = entry.field
WHERE instr(name, '.') > 0 AND new IS NOT NULL AND NOT EXISTS (SELECT 1 FROM entry AS later
	WHERE later.thing = entry.thing AND later.field = entry.field
	AND (later.stamp, later.book, later.number, later.sum) >
		(entry.stamp, entry.book, entry.number, entry.sum));

CREATE VIEW reading_change AS
SELECT stamp AS id, entry.thing AS call, substr(name, 1, instr(name, '.') - 1) AS stage,
	substr(name, instr(name, '.') + 1) AS key, old AS old_value, new AS new_value,
	strftime('%Y-%m-%dT%H:%M:%S', stamp / 65536000, 'unixepoch') AS changed_at
FROM call JOIN entry ON entry.thing = call.id JOIN field ON field.id = entry.field
WHERE instr(name, '.') > 0;
