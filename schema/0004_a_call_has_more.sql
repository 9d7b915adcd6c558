-- What a call has besides: the day, the people, what was decided, the
-- tightness log and the cylinders.

ALTER TABLE call ADD COLUMN planned_at TEXT CHECK (planned_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?');
ALTER TABLE call ADD COLUMN access_note TEXT NOT NULL DEFAULT '';
ALTER TABLE call ADD COLUMN job_number TEXT NOT NULL DEFAULT '';
ALTER TABLE call ADD COLUMN technician TEXT NOT NULL DEFAULT '';
ALTER TABLE call ADD COLUMN licence TEXT NOT NULL DEFAULT '';
ALTER TABLE call ADD COLUMN certification TEXT NOT NULL DEFAULT '';
ALTER TABLE call ADD COLUMN arrived_at TEXT CHECK (arrived_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?');
ALTER TABLE call ADD COLUMN left_at TEXT CHECK (left_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?');
ALTER TABLE call ADD COLUMN authorised_by TEXT NOT NULL DEFAULT '';
ALTER TABLE call ADD COLUMN authorised_at TEXT CHECK (authorised_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?');
ALTER TABLE call ADD COLUMN authorised_amount INTEGER NOT NULL DEFAULT 0;
ALTER TABLE call ADD COLUMN accepted_by TEXT NOT NULL DEFAULT '';
ALTER TABLE call ADD COLUMN accepted_at TEXT CHECK (accepted_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?');
ALTER TABLE call ADD COLUMN payment_terms TEXT NOT NULL DEFAULT '';
ALTER TABLE call ADD COLUMN billed_at TEXT CHECK (billed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?');

-- What the technician decided about a fault.
CREATE TABLE judgement (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	call INTEGER NOT NULL REFERENCES call (id),
	position INTEGER NOT NULL,
	fault TEXT NOT NULL,
	verdict TEXT NOT NULL CHECK (verdict IN ('confirmed', 'ruled_out', 'watch')),
	why TEXT NOT NULL,
	"by" TEXT NOT NULL,
	at TEXT CHECK (at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'),
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

CREATE INDEX judgement_by_call ON judgement (call, position);

-- Nitrogen pressure, vacuum and weigh-in over time; NULL: not measured.
CREATE TABLE tightness (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	call INTEGER NOT NULL REFERENCES call (id),
	position INTEGER NOT NULL,
	kind TEXT NOT NULL CHECK (kind IN ('nitrogen', 'vacuum', 'weigh_in')),
	at TEXT CHECK (at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'),
	pressure REAL,
	temperature REAL,
	microns REAL,
	amount REAL,
	note TEXT NOT NULL,
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

CREATE INDEX tightness_by_call ON tightness (call, position);

-- A cylinder as it stood on this call; 0: not said.
CREATE TABLE cylinder (
	id INTEGER PRIMARY KEY,
	uid TEXT NOT NULL UNIQUE CHECK (uid GLOB '????????-????-????-????-????????????'),
	call INTEGER NOT NULL REFERENCES call (id),
	position INTEGER NOT NULL,
	name TEXT NOT NULL,
	refrigerant TEXT NOT NULL,
	water_capacity REAL NOT NULL CHECK (water_capacity >= 0),
	tare REAL NOT NULL CHECK (tare >= 0),
	weight REAL NOT NULL CHECK (weight >= 0),
	test_date TEXT CHECK (test_date GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?'),
	changed_at TEXT NOT NULL CHECK (changed_at GLOB '[12]???-[01]?-[0-3]?T[0-2]?:[0-5]?:[0-5]?')
) STRICT;

CREATE INDEX cylinder_by_call ON cylinder (call, position);
