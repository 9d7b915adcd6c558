-- The two views for tools that look into a book followed the trail's table when it was
-- renamed, and that name is gone.  They are made again, and of changes with one stamp
-- by one book the one counts that counts in the tables.

DROP VIEW call_reading;
DROP VIEW reading_change;

-- The readings of the calls as they are: the last entry of each that is not nothing.
CREATE VIEW call_reading AS
SELECT entry.thing AS call, substr(name, 1, instr(name, '.') - 1) AS stage,
	substr(name, instr(name, '.') + 1) AS key, iif(new = 'OL', 'over_limit', 'taken') AS state,
	iif(is_number AND new <> 'OL', CAST(new AS REAL), NULL) AS number,
	iif(is_number, NULL, new) AS word,
	strftime('%Y-%m-%dT%H:%M:%S', at, 'unixepoch') AS taken_at
FROM call JOIN entry ON entry.thing = call.id JOIN field ON field.id = entry.field
WHERE instr(name, '.') > 0 AND new IS NOT NULL AND NOT EXISTS (SELECT 1 FROM entry AS later
	WHERE later.thing = entry.thing AND later.field = entry.field
	AND (later.stamp, later.book, later.number, later.sum)
	  > (entry.stamp, entry.book, entry.number, entry.sum));

-- Every change of a reading, likewise.
CREATE VIEW reading_change AS
SELECT stamp AS id, entry.thing AS call, substr(name, 1, instr(name, '.') - 1) AS stage,
	substr(name, instr(name, '.') + 1) AS key, old AS old_value, new AS new_value,
	strftime('%Y-%m-%dT%H:%M:%S', stamp / 65536000, 'unixepoch') AS changed_at
FROM call JOIN entry ON entry.thing = call.id JOIN field ON field.id = entry.field
WHERE instr(name, '.') > 0;
