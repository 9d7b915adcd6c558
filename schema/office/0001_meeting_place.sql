-- The office's server: a meeting place for the trails of a firm's books.
--
-- Every truck and every desk keeps its own complete book and appends here what
-- it wrote; nothing here is ever altered.  What the entries say today is worked
-- out as they come (value), the same way as in a book: of each field the entry
-- with the greatest stamp counts, then the greatest book.
--
-- @firm@ is the firm's schema; roles of the same name with an ending say who
-- may do what: _truck appends under its own book and reads, _reader reads.

CREATE SCHEMA @firm@;
SET LOCAL search_path TO @firm@;

DO $$
BEGIN
	IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = '@firm@_truck') THEN
		CREATE ROLE @firm@_truck NOLOGIN;
	END IF;
	IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = '@firm@_reader') THEN
		CREATE ROLE @firm@_reader NOLOGIN;
	END IF;
END
$$;

CREATE TABLE migration (
	number integer PRIMARY KEY,
	name text NOT NULL,
	at timestamptz NOT NULL DEFAULT now()
);

-- Which server this is: a book notes for each how far it has read it.
CREATE TABLE office (
	id uuid PRIMARY KEY DEFAULT gen_random_uuid(),
	alone boolean NOT NULL DEFAULT true UNIQUE CHECK (alone)
);
INSERT INTO office DEFAULT VALUES;

-- Whose book is whose.  A book belongs to the role that brought it first.
CREATE TABLE truck (
	book bigint PRIMARY KEY CHECK (book BETWEEN 1 AND 281474976710655),
	role name NOT NULL,
	since timestamptz NOT NULL DEFAULT now()
);

-- The entries of all trails, in the order in which they came (seq).  Who
-- appends holds the lock of append_lock() until the end of the transaction, so
-- that nobody who has read up to a seq ever lacks a smaller one.
CREATE TABLE entry (
	seq bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
	book bigint NOT NULL CHECK (book BETWEEN 0 AND 281474976710655),
	number bigint NOT NULL CHECK (number >= 0),
	stamp bigint NOT NULL,
	kind smallint NOT NULL CHECK (kind BETWEEN 0 AND 31),
	thing text NOT NULL CHECK (length(thing) = 36),
	call text CHECK (length(call) = 36),
	field text NOT NULL CHECK (length(field) BETWEEN 1 AND 63),
	technician text NOT NULL CHECK (length(technician) < 200),
	old text CHECK (length(old) < 8192),
	new text CHECK (length(new) < 8192),
	at bigint,
	sum bigint NOT NULL,
	PRIMARY KEY (book, number, stamp)
);

CREATE TABLE thing (
	thing text PRIMARY KEY,
	kind smallint NOT NULL,
	call text
);
CREATE INDEX thing_by_kind ON thing (kind);
CREATE INDEX thing_by_call ON thing (call) WHERE call IS NOT NULL;

-- The entry that counts, of each field of each thing.
CREATE TABLE value (
	thing text NOT NULL,
	field text NOT NULL,
	stamp bigint NOT NULL,
	book bigint NOT NULL,
	new text,
	at bigint,
	PRIMARY KEY (thing, field)
);
CREATE INDEX value_by_field ON value (field, new) WHERE length(new) < 200;

CREATE FUNCTION fold() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
SET search_path = @firm@, pg_temp AS $$
BEGIN
	INSERT INTO thing (thing, kind, call)
	SELECT DISTINCT ON (came.thing) came.thing, came.kind, came.call FROM came
	ON CONFLICT DO NOTHING;
	INSERT INTO value AS had (thing, field, stamp, book, new, at)
	SELECT DISTINCT ON (came.thing, came.field)
		came.thing, came.field, came.stamp, came.book, came.new, came.at
	FROM came
	ORDER BY came.thing, came.field, came.stamp DESC, came.book DESC
	ON CONFLICT (thing, field) DO UPDATE
	SET stamp = excluded.stamp, book = excluded.book, new = excluded.new, at = excluded.at
	WHERE (excluded.stamp, excluded.book) > (had.stamp, had.book);
	RETURN NULL;
END
$$;

CREATE TRIGGER entry_is_folded AFTER INSERT ON entry
REFERENCING NEW TABLE AS came FOR EACH STATEMENT EXECUTE FUNCTION fold();

CREATE FUNCTION is_kept() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
	RAISE EXCEPTION 'the trail of changes is never altered';
END
$$;

CREATE TRIGGER entry_is_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON entry
FOR EACH STATEMENT EXECUTE FUNCTION is_kept();

-- One appends at a time, for as long as its transaction lasts.
CREATE FUNCTION append_lock() RETURNS void LANGUAGE sql
SET search_path = @firm@, pg_temp
AS $$ SELECT pg_advisory_xact_lock(hashtext('@firm@.entry')) $$;

-- A book says that it is here.  It becomes the caller's, unless it is already
-- another's.  `last` is its last entry that the server has, `newest` the last
-- entry of all.
CREATE FUNCTION meet(own bigint, OUT office_id uuid, OUT last bigint, OUT newest bigint)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = @firm@, pg_temp AS $$
BEGIN
	IF NOT pg_has_role(session_user, '@firm@_truck', 'MEMBER') THEN
		RAISE EXCEPTION 'the role % is not a truck of this firm', session_user
			USING ERRCODE = 'insufficient_privilege';
	END IF;
	INSERT INTO truck (book, role) VALUES (own, session_user) ON CONFLICT DO NOTHING;
	IF NOT EXISTS (SELECT FROM truck WHERE book = own AND role = session_user) THEN
		RAISE EXCEPTION 'this book belongs to another truck'
			USING ERRCODE = 'insufficient_privilege';
	END IF;
	SELECT id INTO office_id FROM office;
	SELECT coalesce(max(number), 0) INTO last FROM entry WHERE book = own;
	SELECT coalesce(max(seq), 0) INTO newest FROM entry;
END
$$;

-- What a book brought, row by row into the trail; how many of them are new.
CREATE FUNCTION take(OUT taken bigint) LANGUAGE plpgsql
SET search_path = @firm@, pg_temp AS $$
BEGIN
	PERFORM append_lock();
	INSERT INTO entry (book, number, stamp, kind, thing, call, field, technician, old, new, at, sum)
	SELECT book, number, stamp, kind, thing, call, field, technician, old, new, at, sum
	FROM pg_temp.brought ORDER BY book, number
	ON CONFLICT DO NOTHING;
	GET DIAGNOSTICS taken = ROW_COUNT;
END
$$;

-- A truck appends under its own book only.  Book 0 is what was written before
-- there was a trail: no book's own, so anybody's; it can be added to, never changed.
ALTER TABLE entry ENABLE ROW LEVEL SECURITY;
CREATE POLICY reading ON entry FOR SELECT TO @firm@_truck, @firm@_reader USING (true);
CREATE POLICY appending ON entry FOR INSERT TO @firm@_truck
	WITH CHECK (book = 0 OR EXISTS (
		SELECT FROM truck WHERE truck.book = entry.book AND truck.role = current_user));

REVOKE ALL ON ALL TABLES IN SCHEMA @firm@ FROM PUBLIC;
REVOKE ALL ON ALL FUNCTIONS IN SCHEMA @firm@ FROM PUBLIC;
REVOKE ALL ON SCHEMA @firm@ FROM PUBLIC;
GRANT USAGE ON SCHEMA @firm@ TO @firm@_truck, @firm@_reader;
GRANT SELECT ON entry, thing, value, truck, office TO @firm@_truck, @firm@_reader;
GRANT INSERT (book, number, stamp, kind, thing, call, field, technician, old, new, at, sum)
	ON entry TO @firm@_truck;
GRANT EXECUTE ON FUNCTION meet(bigint), take(), append_lock() TO @firm@_truck;
