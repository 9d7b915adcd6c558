-- A book of service calls.
--
-- Two kinds of name for a row.  `id` is short and means something in this
-- book only; rows of the book refer to each other by it.  `uid` is globally
-- unique (UUID, made offline), never changes, and is what a row is called
-- outside: in JSON, in another truck's book, one day in the office's server.
--
-- Times are what the clock on the wall showed, as text: 2026-06-03T09:12:00.
-- Money is whole cents, quantities are thousandths, percentages hundredths.
-- `changed_at` is when a row was last written; of two books the later one wins.
-- Nothing that can be worked out is kept as truth.

CREATE TABLE customer (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	name TEXT NOT NULL COLLATE NOCASE,
	phone TEXT NOT NULL COLLATE NOCASE,
	email TEXT NOT NULL,
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

-- One or two letters are too short for the index of parts (customer_search).
CREATE INDEX customer_by_name ON customer (name);
CREATE INDEX customer_by_phone ON customer (phone);

CREATE TABLE site (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	customer INTEGER NOT NULL REFERENCES customer (id), -- who is there now
	address TEXT NOT NULL COLLATE NOCASE,
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

CREATE INDEX site_by_customer ON site (customer);
CREATE INDEX site_by_address ON site (address);

CREATE TABLE system (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	site INTEGER NOT NULL REFERENCES site (id), -- where it stands now
	name TEXT NOT NULL,
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

CREATE INDEX system_by_site ON system (site);

-- Who, where and which machine are the call's own: the customer of a site
-- may be another one next year, and this call must still say who it was.
CREATE TABLE call (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	customer INTEGER NOT NULL REFERENCES customer (id),
	site INTEGER NOT NULL REFERENCES site (id),
	system INTEGER NOT NULL REFERENCES system (id),
	complaint TEXT NOT NULL,
	summary TEXT NOT NULL,
	office_note TEXT NOT NULL,
	opened_at TEXT NOT NULL CHECK (opened_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'),
	closed_at TEXT CHECK (closed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'), -- NULL while open
	unsafe_at TEXT CHECK (unsafe_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'), -- first resistance reading before the machine was made safe
	tax_labour INTEGER NOT NULL CHECK (tax_labour >= 0),
	tax_part INTEGER NOT NULL CHECK (tax_part >= 0),
	tax_refrigerant INTEGER NOT NULL CHECK (tax_refrigerant >= 0),
	tax_fee INTEGER NOT NULL CHECK (tax_fee >= 0),
	discount INTEGER NOT NULL CHECK (discount BETWEEN 0 AND 10000),
	deposit INTEGER NOT NULL CHECK (deposit >= 0),
	cooling_hours REAL NOT NULL CHECK (cooling_hours >= 0), -- 0: not said
	energy_rate REAL NOT NULL CHECK (energy_rate >= 0),     -- cents per kWh; 0: not said
	found_line TEXT NOT NULL, -- one line of what was found: a cache for lists, the session rebuilds it
	done_line TEXT NOT NULL,  -- one line of what was done: likewise
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

-- Newest first, whole or of one customer, site or machine; and those still open.
CREATE INDEX call_by_time ON call (opened_at);
CREATE INDEX call_by_customer ON call (customer, opened_at);
CREATE INDEX call_by_site ON call (site, opened_at);
CREATE INDEX call_by_system ON call (system, opened_at);
CREATE INDEX call_open ON call (opened_at) WHERE closed_at IS NULL;

-- One value a row.  A reading that was not taken has no row.  `key` is a key
-- of the catalogue; numbers are in its canonical unit, at full precision;
-- choices, yes/no and text are words.  The nameplate and the site's readings
-- are kept with each call as they were then (stages system and site), so that
-- an old call still works out as it did; a new call on the same machine
-- starts from the latest.
CREATE TABLE call_reading (
	call INTEGER NOT NULL REFERENCES call (id),
	stage TEXT NOT NULL CHECK (stage IN ('as_found', 'as_left', 'system', 'site')),
	key TEXT NOT NULL,
	state TEXT NOT NULL CHECK (state IN ('taken', 'over_limit')),
	number REAL,
	word TEXT,
	taken_at TEXT CHECK (taken_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'), -- NULL: not known
	PRIMARY KEY (call, stage, key),
	CHECK ((number IS NOT NULL) + (word IS NOT NULL) = (state = 'taken'))
) STRICT, WITHOUT ROWID;

-- Every change of a reading, never altered: what was there and what came, as
-- exact text in the canonical unit ('OL' for over limit, NULL for not taken).
CREATE TABLE reading_change (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	call INTEGER NOT NULL REFERENCES call (id),
	stage TEXT NOT NULL CHECK (stage IN ('as_found', 'as_left', 'system', 'site')),
	key TEXT NOT NULL,
	old_value TEXT,
	new_value TEXT,
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

CREATE INDEX reading_change_by_call ON reading_change (call);

CREATE TRIGGER reading_change_is_kept BEFORE UPDATE ON reading_change
BEGIN
	SELECT raise(ABORT, 'the trail of changes is never altered');
END;

CREATE TRIGGER reading_change_stays BEFORE DELETE ON reading_change
BEGIN
	SELECT raise(ABORT, 'the trail of changes is never altered');
END;

-- Refrigerant in and out, ounces, with the readings at that time.
CREATE TABLE charge_entry (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	call INTEGER NOT NULL REFERENCES call (id),
	position INTEGER NOT NULL,
	at TEXT CHECK (at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'),
	added REAL NOT NULL CHECK (added >= 0),
	recovered REAL NOT NULL CHECK (recovered >= 0),
	cylinder TEXT NOT NULL, -- its label; '' not said
	note TEXT NOT NULL,
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

CREATE INDEX charge_entry_by_call ON charge_entry (call, position);
CREATE INDEX charge_entry_by_cylinder ON charge_entry (cylinder) WHERE cylinder <> '';

CREATE TABLE charge_reading (
	entry INTEGER NOT NULL REFERENCES charge_entry (id) ON DELETE CASCADE,
	key TEXT NOT NULL,
	number REAL NOT NULL,
	PRIMARY KEY (entry, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE work_line (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	call INTEGER NOT NULL REFERENCES call (id),
	position INTEGER NOT NULL,
	kind TEXT NOT NULL CHECK (kind IN ('labour', 'part', 'refrigerant', 'fee')),
	description TEXT NOT NULL,
	quantity INTEGER NOT NULL,
	unit_price INTEGER NOT NULL,
	no_charge INTEGER NOT NULL CHECK (no_charge IN (0, 1)), -- shown at its price, charged at 0
	note TEXT NOT NULL,                                     -- for the office
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

CREATE INDEX work_line_by_call ON work_line (call, position);

-- One of the choices that the customer was given.
CREATE TABLE offer (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	call INTEGER NOT NULL REFERENCES call (id),
	position INTEGER NOT NULL,
	title TEXT NOT NULL,
	price_low INTEGER NOT NULL,
	price_high INTEGER NOT NULL,
	years_low REAL NOT NULL CHECK (years_low >= 0),   -- 0: not said
	years_high REAL NOT NULL CHECK (years_high >= 0), -- 0: not said
	seer REAL NOT NULL CHECK (seer >= 0),             -- 0: not said
	decision TEXT NOT NULL CHECK (decision IN ('none', 'accepted', 'declined')),
	decided_by TEXT NOT NULL,
	decided_at TEXT CHECK (decided_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'),
	note TEXT NOT NULL,
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

CREATE INDEX offer_by_call ON offer (call, position);

-- Something that works today and is expected to fail next.
CREATE TABLE watch_item (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	call INTEGER NOT NULL REFERENCES call (id),
	position INTEGER NOT NULL,
	fault TEXT NOT NULL, -- a fault id; '' when written by hand
	text TEXT NOT NULL,
	noted_at TEXT CHECK (noted_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'),
	closed_at TEXT CHECK (closed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'), -- NULL while open
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

CREATE INDEX watch_item_by_call ON watch_item (call, position);

-- A line that was taken out stays out when another truck's book still has it.
CREATE TABLE removed_line (
	uid TEXT PRIMARY KEY CHECK (uid GLOB '????????-????-????-????-????????????'),
	removed_at TEXT NOT NULL CHECK (removed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT, WITHOUT ROWID;

-- The price list, replaced as a whole when a new one is imported.
CREATE TABLE price_item (
	id INTEGER PRIMARY KEY,
	kind TEXT NOT NULL CHECK (kind IN ('labour', 'part', 'refrigerant', 'fee')),
	code TEXT NOT NULL UNIQUE COLLATE NOCASE,
	description TEXT NOT NULL,
	unit_price INTEGER NOT NULL
) STRICT;

-- What this truck works with: default taxes, labour rate, the lines on top of the paper.
CREATE TABLE setting (
	key TEXT PRIMARY KEY,
	value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- What a customer can be found by, any part of it: name, phone, mail,
-- addresses, models and serials.  A cache that can be rebuilt; rowid is
-- customer.id.
CREATE VIRTUAL TABLE customer_search USING fts5 (words, tokenize = 'trigram');
