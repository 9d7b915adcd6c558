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

CREATE INDEX entry_by_thing ON entry (thing);

-- What things there are.  The last change of a thing that is no removal says
-- whether a removal still counts.
CREATE TABLE thing (
	thing text PRIMARY KEY,
	kind smallint NOT NULL,
	call text,
	stamp bigint,
	book bigint
);
CREATE INDEX thing_by_kind ON thing (kind);
CREATE INDEX thing_by_call ON thing (call) WHERE call IS NOT NULL;

-- The entry that counts, of each field of each thing; whether several books wrote any.
CREATE TABLE value (
	thing text NOT NULL,
	field text NOT NULL,
	stamp bigint NOT NULL,
	book bigint NOT NULL,
	new text,
	at bigint,
	several boolean NOT NULL,
	PRIMARY KEY (thing, field)
);
CREATE INDEX value_by_reference ON value (new, field)
	WHERE field IN ('customer', 'site', 'system', 'joined');
CREATE INDEX value_by_words ON value (field)
	WHERE field IN ('name', 'phone', 'email', 'address', 'system.model', 'system.serial');

-- From its entry `number` on, `book` knew the entries of `other` up to `upto`.
CREATE TABLE met (
	book bigint NOT NULL,
	other bigint NOT NULL,
	number bigint NOT NULL,
	upto bigint NOT NULL,
	PRIMARY KEY (book, other, number)
);

-- Fields that two books changed without knowing of each other.
CREATE TABLE question (
	thing text NOT NULL,
	field text NOT NULL,
	PRIMARY KEY (thing, field)
);

-- Whether the author of entry a knew entry b when writing it.
CREATE FUNCTION knew(a_book bigint, a_number bigint, a_stamp bigint,
	b_book bigint, b_number bigint, b_stamp bigint) RETURNS boolean
LANGUAGE sql STABLE SET search_path = @firm@, pg_temp AS $$
	SELECT CASE
		WHEN a_book = b_book THEN CASE WHEN a_book = 0 THEN a_stamp > b_stamp ELSE a_number > b_number END
		-- What was there before there was a trail, all have seen.
		WHEN a_book = 0 OR b_book = 0 THEN b_book = 0
		ELSE coalesce((SELECT upto FROM met WHERE book = a_book AND other = b_book AND number <= a_number
			ORDER BY number DESC LIMIT 1) >= b_number, false)
	END
$$;

-- Whether no later author of the field knew of this entry: its last values.
CREATE FUNCTION heads(of_thing text, of_field text) RETURNS SETOF entry
LANGUAGE sql STABLE SET search_path = @firm@, pg_temp AS $$
	SELECT * FROM entry AS a WHERE thing = of_thing AND field = of_field AND NOT EXISTS (
		SELECT FROM entry AS b WHERE b.thing = of_thing AND b.field = of_field AND b.seq <> a.seq
		AND knew(b.book, b.number, b.stamp, a.book, a.number, a.stamp))
$$;

-- Whether a field is in question: it has several last values, or was taken out
-- by one and changed by another.  The places of lines are never asked.
CREATE FUNCTION is_question(of_thing text, of_field text) RETURNS boolean
LANGUAGE sql STABLE SET search_path = @firm@, pg_temp AS $$
	SELECT CASE
		WHEN of_field = 'position' THEN false
		WHEN of_field = 'removed' THEN EXISTS (
			SELECT FROM heads(of_thing, of_field) AS r JOIN entry AS i ON i.thing = of_thing
			WHERE r.new IS NOT NULL AND i.field <> of_field AND i.book <> r.book
			AND NOT knew(i.book, i.number, i.stamp, r.book, r.number, r.stamp)
			AND NOT knew(r.book, r.number, r.stamp, i.book, i.number, i.stamp))
		ELSE (SELECT count(DISTINCT coalesce(new, '')) > 1 FROM heads(of_thing, of_field))
	END
$$;

-- Looks things up by their indices, however few there were when it was planned.
CREATE FUNCTION fold() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
SET search_path = @firm@, pg_temp SET enable_seqscan = off SET enable_hashjoin = off
SET enable_mergejoin = off AS $$
BEGIN
	INSERT INTO met (book, other, number, upto)
	SELECT came.book, ('x' || right(came.thing, 12))::bit(48)::bigint, came.number, came.new::bigint
	FROM came WHERE came.kind = 0 AND came.field = 'met' AND came.new ~ '^[0-9]{1,18}$'
	AND came.thing ~ '^00000000-0000-0000-0000-[0-9a-f]{12}$'
	ON CONFLICT DO NOTHING;
	INSERT INTO thing AS had (thing, kind, call, stamp, book)
	SELECT DISTINCT ON (came.thing) came.thing, came.kind, came.call,
		CASE WHEN came.field <> 'removed' THEN came.stamp END,
		CASE WHEN came.field <> 'removed' THEN came.book END
	FROM came
	ORDER BY came.thing, (came.field = 'removed'), came.stamp DESC, came.book DESC
	ON CONFLICT (thing) DO UPDATE SET stamp = excluded.stamp, book = excluded.book
	WHERE excluded.stamp IS NOT NULL
	AND (had.stamp IS NULL OR (excluded.stamp, excluded.book) > (had.stamp, had.book));
	INSERT INTO value AS had (thing, field, stamp, book, new, at, several)
	SELECT DISTINCT ON (came.thing, came.field)
		came.thing, came.field, came.stamp, came.book, came.new, came.at,
		min(came.book) OVER field <> max(came.book) OVER field
	FROM came
	WINDOW field AS (PARTITION BY came.thing, came.field)
	ORDER BY came.thing, came.field, came.stamp DESC, came.book DESC
	ON CONFLICT (thing, field) DO UPDATE SET
		several = had.several OR excluded.several OR had.book <> excluded.book,
		stamp = greatest(had.stamp, excluded.stamp),
		book = CASE WHEN (excluded.stamp, excluded.book) > (had.stamp, had.book) THEN excluded.book ELSE had.book END,
		new = CASE WHEN (excluded.stamp, excluded.book) > (had.stamp, had.book) THEN excluded.new ELSE had.new END,
		at = CASE WHEN (excluded.stamp, excluded.book) > (had.stamp, had.book) THEN excluded.at ELSE had.at END
	WHERE (excluded.stamp, excluded.book) > (had.stamp, had.book) OR (NOT had.several AND (excluded.several OR had.book <> excluded.book));
	WITH touched AS (
		SELECT thing, field FROM came JOIN value USING (thing, field)
		WHERE came.kind <> 0 AND several AND field <> 'removed'
		UNION
		SELECT thing, value.field FROM came JOIN value USING (thing) WHERE value.field = 'removed'),
	asked AS MATERIALIZED (
		SELECT thing, field, is_question(thing, field) AS is_open FROM touched),
	answered AS (
		DELETE FROM question USING asked WHERE question.thing = asked.thing
		AND question.field = asked.field AND NOT is_open)
	INSERT INTO question (thing, field) SELECT thing, field FROM asked WHERE is_open
	ON CONFLICT DO NOTHING;
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
GRANT SELECT ON entry, thing, value, met, question, truck, office TO @firm@_truck, @firm@_reader;
GRANT INSERT (book, number, stamp, kind, thing, call, field, technician, old, new, at, sum)
	ON entry TO @firm@_truck;
GRANT EXECUTE ON FUNCTION meet(bigint), take(), append_lock() TO @firm@_truck;
