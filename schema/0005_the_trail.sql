-- The trail is the book's truth.
--
-- Whatever changes in a book is a thing: a customer, a site, a system, a call,
-- a line of one of a call's lists.  Every change of every field of a thing is
-- one entry of the trail, never altered.  Of each field the entry with the
-- greatest stamp counts; the tables behind the trail are worked out from it
-- ("folded") and can be worked out again.  Two books are brought together by
-- taking the entries that the other one has.
--
-- Times in the tables are what the clock on the wall showed, as text; money is
-- whole cents, quantities and percentages are thousandths.

DROP INDEX site_by_customer;
DROP INDEX system_by_site;
DROP INDEX call_by_time;
DROP INDEX call_by_customer;
DROP INDEX call_by_site;
DROP INDEX call_by_system;
DROP INDEX call_open;
DROP INDEX reading_change_by_call;
DROP INDEX charge_entry_by_call;
DROP INDEX charge_entry_by_cylinder;
DROP INDEX work_line_by_call;
DROP INDEX offer_by_call;
DROP INDEX watch_item_by_call;
DROP INDEX judgement_by_call;
DROP INDEX tightness_by_call;
DROP INDEX cylinder_by_call;

ALTER TABLE customer RENAME TO old_customer;
ALTER TABLE site RENAME TO old_site;
ALTER TABLE system RENAME TO old_system;
ALTER TABLE call RENAME TO old_call;
ALTER TABLE call_reading RENAME TO old_call_reading;
ALTER TABLE reading_change RENAME TO old_reading_change;
ALTER TABLE charge_entry RENAME TO old_charge_entry;
ALTER TABLE charge_reading RENAME TO old_charge_reading;
ALTER TABLE work_line RENAME TO old_work_line;
ALTER TABLE offer RENAME TO old_offer;
ALTER TABLE watch_item RENAME TO old_watch_item;
ALTER TABLE judgement RENAME TO old_judgement;
ALTER TABLE tightness RENAME TO old_tightness;
ALTER TABLE cylinder RENAME TO old_cylinder;
ALTER TABLE price_item RENAME TO old_price_item;
ALTER TABLE setting RENAME TO old_setting;

-- Each book whose entries are here.  `id` is 48 random bits, the same in every
-- book; 0 stands for changes of a time before there was a trail.  Entries are
-- numbered in each book from 1 without a gap (not those of book 0).
CREATE TABLE book (
	id INTEGER PRIMARY KEY,
	number INTEGER NOT NULL, -- of its last entry that is here
	stamp INTEGER NOT NULL   -- the greatest of its entries here
) STRICT;

-- Which of them this one is.  A copy (backup) has none: it gets an id of its
-- own with the first change made in it, so that no number is used twice.
CREATE TABLE own (
	book INTEGER PRIMARY KEY,
	sum INTEGER NOT NULL -- checksum
) STRICT;

-- What changes.  `id` means something in this book only, `uid` everywhere.
-- kind: 0 a book (what it has seen), 1 customer, 2 site, 3 system, 4 call,
-- 5 and up the lists: charge log, work, choices, watch items, judgements,
-- tightness, cylinders.
CREATE TABLE thing (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE,
	kind INTEGER NOT NULL,
	call INTEGER             -- of a line: the call that it belongs to
) STRICT;

-- Names of fields: members, "as_found.suction_pressure", "removed", …
CREATE TABLE field (
	id INTEGER PRIMARY KEY,
	name TEXT NOT NULL UNIQUE,
	is_number INTEGER NOT NULL -- a reading that is a number
) STRICT;

CREATE TABLE technician (
	id INTEGER PRIMARY KEY,
	name TEXT NOT NULL UNIQUE
) STRICT;

-- One change of one field.  The stamp is a hybrid logical clock: milliseconds
-- since 1970 × 65536 + a counter, later than every stamp that the book had
-- seen.  Values are exact text, NULL for nothing.
CREATE TABLE entry (
	thing INTEGER NOT NULL,
	field INTEGER NOT NULL,
	stamp INTEGER NOT NULL,
	book INTEGER NOT NULL,       -- where it was written
	number INTEGER NOT NULL,     -- there
	technician INTEGER NOT NULL, -- by whom
	old TEXT,                    -- what was there
	new TEXT,                    -- what came
	at INTEGER,                  -- when a reading was taken, seconds on the wall
	sum INTEGER NOT NULL,        -- checksum of all of this, with names instead of ids
	PRIMARY KEY (thing, field, stamp, book)
) STRICT, WITHOUT ROWID;

CREATE INDEX entry_by_number ON entry (book, number);

CREATE TRIGGER entry_is_kept BEFORE UPDATE ON entry
BEGIN
	SELECT raise(ABORT, 'the trail of changes is never altered');
END;

CREATE TRIGGER entry_stays BEFORE DELETE ON entry
BEGIN
	SELECT raise(ABORT, 'the trail of changes is never altered');
END;

-- From its entry `number` on, `book` knew the entries of `other` up to `upto`.
CREATE TABLE met (
	book INTEGER NOT NULL,
	other INTEGER NOT NULL,
	number INTEGER NOT NULL,
	upto INTEGER NOT NULL,
	PRIMARY KEY (book, other, number)
) STRICT, WITHOUT ROWID;

-- Fields that two books changed without knowing of each other: to be asked.
CREATE TABLE question (
	thing INTEGER NOT NULL,
	field INTEGER NOT NULL,
	PRIMARY KEY (thing, field)
) STRICT, WITHOUT ROWID;

-- What was taken out; it can be brought back.
CREATE TABLE removed (
	thing INTEGER PRIMARY KEY,
	kind INTEGER NOT NULL,
	call INTEGER               -- of a line
) STRICT;

CREATE INDEX removed_by_kind ON removed (kind);

-- What was joined into another one of its kind.
CREATE TABLE joined (
	thing INTEGER PRIMARY KEY,
	other INTEGER NOT NULL
) STRICT;

CREATE INDEX joined_by_other ON joined (other);

CREATE TABLE customer (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE,
	name TEXT NOT NULL DEFAULT '' COLLATE NOCASE,
	phone TEXT NOT NULL DEFAULT '' COLLATE NOCASE,
	email TEXT NOT NULL DEFAULT '',
	found_as INTEGER NOT NULL DEFAULT 0 -- its rowid in customer_search
) STRICT;

CREATE TABLE site (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE,
	customer INTEGER NOT NULL DEFAULT 0, -- who is there now
	address TEXT NOT NULL DEFAULT '' COLLATE NOCASE
) STRICT;

CREATE INDEX site_by_customer ON site (customer);

CREATE TABLE system (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE,
	site INTEGER NOT NULL DEFAULT 0,     -- where it stands now
	name TEXT NOT NULL DEFAULT '',
	model TEXT NOT NULL DEFAULT '',      -- as last read: a cache for finding
	serial TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE INDEX system_by_site ON system (site);

-- Who, where and which unit are the call's own: the customer of a site may be
-- another one next year, and this call must still say who it was.
CREATE TABLE call (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE,
	customer INTEGER NOT NULL DEFAULT 0,
	site INTEGER NOT NULL DEFAULT 0,
	system INTEGER NOT NULL DEFAULT 0,
	complaint TEXT NOT NULL DEFAULT '',
	summary TEXT NOT NULL DEFAULT '',
	office_note TEXT NOT NULL DEFAULT '',
	opened_at TEXT NOT NULL DEFAULT '',
	closed_at TEXT, -- NULL while open
	unsafe_at TEXT, -- first resistance reading before the unit was made safe
	planned_at TEXT,
	access_note TEXT NOT NULL DEFAULT '',
	job_number TEXT NOT NULL DEFAULT '',
	technician TEXT NOT NULL DEFAULT '',
	licence TEXT NOT NULL DEFAULT '',
	certification TEXT NOT NULL DEFAULT '',
	arrived_at TEXT,
	left_at TEXT,
	authorised_by TEXT NOT NULL DEFAULT '',
	authorised_at TEXT,
	authorised_amount INTEGER NOT NULL DEFAULT 0,
	accepted_by TEXT NOT NULL DEFAULT '',
	accepted_at TEXT,
	payment_terms TEXT NOT NULL DEFAULT '',
	billed_at TEXT,
	discount INTEGER NOT NULL DEFAULT 0,
	deposit INTEGER NOT NULL DEFAULT 0,
	cooling_hours REAL NOT NULL DEFAULT 0, -- 0: not said
	energy_rate REAL NOT NULL DEFAULT 0,   -- cents per kWh; 0: not said
	tax_labour INTEGER NOT NULL DEFAULT 0,
	tax_part INTEGER NOT NULL DEFAULT 0,
	tax_refrigerant INTEGER NOT NULL DEFAULT 0,
	tax_fee INTEGER NOT NULL DEFAULT 0,
	found_line TEXT NOT NULL DEFAULT '', -- one line of what was found: a cache for lists
	done_line TEXT NOT NULL DEFAULT '',  -- one line of what was done: likewise
	lines_sum INTEGER NOT NULL DEFAULT 0 -- checksum of the two; -1: to be worked out again
) STRICT;

-- Newest first, whole or of one customer, site or unit; and those still open.
CREATE INDEX call_by_time ON call (opened_at, uid);
CREATE INDEX call_by_customer ON call (customer, opened_at);
CREATE INDEX call_by_site ON call (site, opened_at);
CREATE INDEX call_by_system ON call (system, opened_at);
CREATE INDEX call_open ON call (opened_at, uid) WHERE closed_at IS NULL;
CREATE INDEX call_stale ON call (id) WHERE lines_sum = -1;

-- The sites of a customer's calls.
CREATE TABLE customer_site (
	customer INTEGER NOT NULL,
	site INTEGER NOT NULL,
	PRIMARY KEY (customer, site)
) STRICT, WITHOUT ROWID;

CREATE INDEX customer_site_by_site ON customer_site (site);

-- Refrigerant in and out, ounces, with the readings at that time.
CREATE TABLE charge_entry (
	id INTEGER PRIMARY KEY,
	call INTEGER NOT NULL,
	position INTEGER NOT NULL DEFAULT 0,
	at TEXT,
	added REAL NOT NULL DEFAULT 0,
	recovered REAL NOT NULL DEFAULT 0,
	cylinder TEXT NOT NULL DEFAULT '', -- its label; '' not said
	note TEXT NOT NULL DEFAULT '',
	suction_pressure REAL,
	suction_line_temp REAL,
	liquid_pressure REAL,
	liquid_line_temp REAL,
	outdoor_db REAL,
	return_wb REAL
) STRICT;

CREATE INDEX charge_entry_by_call ON charge_entry (call, position);

CREATE TABLE work_line (
	id INTEGER PRIMARY KEY,
	call INTEGER NOT NULL,
	position INTEGER NOT NULL DEFAULT 0,
	kind TEXT NOT NULL DEFAULT 'labour',
	description TEXT NOT NULL DEFAULT '',
	quantity INTEGER NOT NULL DEFAULT 0,
	unit_price INTEGER NOT NULL DEFAULT 0,
	no_charge INTEGER NOT NULL DEFAULT 0, -- shown at its price, charged at 0
	note TEXT NOT NULL DEFAULT ''         -- for the office
) STRICT;

CREATE INDEX work_line_by_call ON work_line (call, position);

-- One of the choices that the customer was given; 0 years, 0 SEER: not said.
CREATE TABLE offer (
	id INTEGER PRIMARY KEY,
	call INTEGER NOT NULL,
	position INTEGER NOT NULL DEFAULT 0,
	title TEXT NOT NULL DEFAULT '',
	price_low INTEGER NOT NULL DEFAULT 0,
	price_high INTEGER NOT NULL DEFAULT 0,
	years_low REAL NOT NULL DEFAULT 0,
	years_high REAL NOT NULL DEFAULT 0,
	seer REAL NOT NULL DEFAULT 0,
	decision TEXT NOT NULL DEFAULT 'none',
	decided_by TEXT NOT NULL DEFAULT '',
	decided_at TEXT,
	note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE INDEX offer_by_call ON offer (call, position);

-- Something that works today and is expected to fail next.
CREATE TABLE watch_item (
	id INTEGER PRIMARY KEY,
	call INTEGER NOT NULL,
	position INTEGER NOT NULL DEFAULT 0,
	fault TEXT NOT NULL DEFAULT '', -- a fault id; '' when written by hand
	text TEXT NOT NULL DEFAULT '',
	noted_at TEXT,
	closed_at TEXT                  -- NULL while open
) STRICT;

CREATE INDEX watch_item_by_call ON watch_item (call, position);

-- What the technician decided about a fault.
CREATE TABLE judgement (
	id INTEGER PRIMARY KEY,
	call INTEGER NOT NULL,
	position INTEGER NOT NULL DEFAULT 0,
	fault TEXT NOT NULL DEFAULT '',
	verdict TEXT NOT NULL DEFAULT 'confirmed',
	why TEXT NOT NULL DEFAULT '',
	"by" TEXT NOT NULL DEFAULT '',
	at TEXT
) STRICT;

CREATE INDEX judgement_by_call ON judgement (call, position);

-- Nitrogen pressure, vacuum and weigh-in over time; NULL: not measured.
CREATE TABLE tightness (
	id INTEGER PRIMARY KEY,
	call INTEGER NOT NULL,
	position INTEGER NOT NULL DEFAULT 0,
	kind TEXT NOT NULL DEFAULT 'nitrogen',
	at TEXT,
	pressure REAL,
	temperature REAL,
	microns REAL,
	amount REAL,
	note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE INDEX tightness_by_call ON tightness (call, position);

-- A cylinder as it stood on a call; 0: not said.
CREATE TABLE cylinder (
	id INTEGER PRIMARY KEY,
	call INTEGER NOT NULL,
	position INTEGER NOT NULL DEFAULT 0,
	name TEXT NOT NULL DEFAULT '',
	refrigerant TEXT NOT NULL DEFAULT '',
	water_capacity REAL NOT NULL DEFAULT 0,
	tare REAL NOT NULL DEFAULT 0,
	weight REAL NOT NULL DEFAULT 0,
	test_date TEXT
) STRICT;

CREATE INDEX cylinder_by_call ON cylinder (call, position);

-- The readings of the calls as they are, for tools that look into a book: the
-- last entry of each that is not nothing.
CREATE VIEW call_reading AS
SELECT entry.thing AS call, substr(name, 1, instr(name, '.') - 1) AS stage,
	substr(name, instr(name, '.') + 1) AS key, iif(new = 'OL', 'over_limit', 'taken') AS state,
	iif(is_number AND new <> 'OL', CAST(new AS REAL), NULL) AS number,
	iif(is_number, NULL, new) AS word,
	strftime('%Y-%m-%dT%H:%M:%S', at, 'unixepoch') AS taken_at
FROM call JOIN entry ON entry.thing = call.id JOIN field ON field.id = entry.field
WHERE instr(name, '.') > 0 AND new IS NOT NULL AND NOT EXISTS (SELECT 1 FROM entry AS later
	WHERE later.thing = entry.thing AND later.field = entry.field
	AND (later.stamp, later.book) > (entry.stamp, entry.book));

-- Every change of a reading, likewise.
CREATE VIEW reading_change AS
SELECT stamp AS id, entry.thing AS call, substr(name, 1, instr(name, '.') - 1) AS stage,
	substr(name, instr(name, '.') + 1) AS key, old AS old_value, new AS new_value,
	strftime('%Y-%m-%dT%H:%M:%S', stamp / 65536000, 'unixepoch') AS changed_at
FROM call JOIN entry ON entry.thing = call.id JOIN field ON field.id = entry.field
WHERE instr(name, '.') > 0;

-- The price list and the settings are each truck's own; each row carries a checksum.
CREATE TABLE price_item (
	id INTEGER PRIMARY KEY,
	kind TEXT NOT NULL CHECK (kind IN ('labour', 'part', 'refrigerant', 'fee')),
	code TEXT NOT NULL UNIQUE COLLATE NOCASE,
	description TEXT NOT NULL,
	unit_price INTEGER NOT NULL,
	sum INTEGER NOT NULL
) STRICT;

CREATE TABLE setting (
	key TEXT PRIMARY KEY,
	value TEXT NOT NULL,
	sum INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

DELETE FROM customer_search;
