-- A truck need not carry the firm: its book may hold its own customers and
-- those that it asked for.  Here stands what each such book carries, so that
-- later changes of it follow.

SET LOCAL search_path TO @firm@;

-- A thing that a book carries: a customer, site, unit or call (lines go with
-- their call).  Of a customer that is `whole`, all sites, units and calls are
-- carried; of another one only the name, because a call tells it.  `at` is the
-- last entry of all when it came to be carried: a book that has not read so far
-- gets the whole trail of the thing, one that has gets what comes behind.
CREATE TABLE carried (
	book bigint NOT NULL,
	thing text NOT NULL,
	whole boolean NOT NULL,
	at bigint NOT NULL,
	PRIMARY KEY (book, thing)
);
CREATE INDEX carried_by_at ON carried (book, at);

CREATE INDEX value_by_technician ON value (new) WHERE field = 'technician';
CREATE INDEX entry_of_reference ON entry (seq)
	WHERE field IN ('customer', 'site', 'system', 'joined');

-- Whether a book is the caller's.
CREATE FUNCTION is_own(own bigint) RETURNS boolean LANGUAGE sql STABLE
SET search_path = @firm@, pg_temp
AS $$ SELECT EXISTS (SELECT FROM truck WHERE book = own AND role = session_user) $$;

-- Adds to what a book carries all that belongs to `reached`, things that it carries.
CREATE FUNCTION carry_on(own bigint, reached text[], newest bigint) RETURNS void
LANGUAGE plpgsql SET search_path = @firm@, pg_temp SET enable_seqscan = off
SET enable_hashjoin = off SET enable_mergejoin = off AS $$
BEGIN
	WHILE cardinality(reached) > 0 LOOP
		WITH had AS (
			SELECT carried.thing, carried.whole, thing.kind FROM unnest(reached) AS one (thing)
			JOIN carried ON carried.book = own AND carried.thing = one.thing
			JOIN thing ON thing.thing = one.thing),
		found AS (
			-- What a thing names.
			SELECT value.new AS thing, value.field = 'joined' AND had.whole AS whole
			FROM had JOIN value ON value.thing = had.thing
			WHERE value.field IN ('customer', 'site', 'system', 'joined') AND value.new IS NOT NULL
			UNION ALL
			-- What names it; of a customer only where all of it is carried.
			SELECT value.thing, value.field = 'joined' AND had.whole
			FROM had JOIN value ON value.new = had.thing
			WHERE value.field IN ('customer', 'site', 'system', 'joined')
			AND (value.field = 'joined' OR had.kind <> 1 OR had.whole)),
		added AS (
			INSERT INTO carried AS c (book, thing, whole, at)
			SELECT own, found.thing, bool_or(found.whole), newest FROM found GROUP BY found.thing
			ON CONFLICT (book, thing) DO UPDATE SET whole = true WHERE excluded.whole AND NOT c.whole
			RETURNING c.thing)
		SELECT array_agg(added.thing) INTO reached FROM added;
	END LOOP;
END
$$;

-- Customers that a book is to carry whole from now on.
CREATE FUNCTION carry_whole(own bigint, customers text[], newest bigint) RETURNS void
LANGUAGE plpgsql SET search_path = @firm@, pg_temp AS $$
DECLARE
	added text[];
BEGIN
	WITH put AS (
		INSERT INTO carried AS c (book, thing, whole, at)
		SELECT DISTINCT own, customer, true, newest FROM unnest(customers) AS one (customer)
		WHERE customer IS NOT NULL
		ON CONFLICT (book, thing) DO UPDATE SET whole = true WHERE NOT c.whole
		RETURNING c.thing)
	SELECT array_agg(thing) INTO added FROM put;
	PERFORM carry_on(own, added, newest);
END
$$;

-- A place in the order of entries that is behind all that are there.
CREATE FUNCTION mark(OUT newest bigint) LANGUAGE plpgsql SECURITY DEFINER
SET search_path = @firm@, pg_temp AS $$
BEGIN
	PERFORM append_lock();
	newest := nextval(pg_get_serial_sequence('@firm@.entry', 'seq'));
END
$$;

-- Brings up to date what a book carries that has read up to `seen`: customers
-- whom it wrote about itself since `since`, those of calls planned for its
-- technician, one that it asks for, and what came to belong to what it has.
-- `before` is the id that the book had when it last did this.  What is added
-- stands with `newest`, a place that mark() gave.
CREATE FUNCTION carry(own bigint, before bigint, since bigint, seen bigint, newest bigint,
	for_technician text, asked text) RETURNS void LANGUAGE plpgsql SECURITY DEFINER
SET search_path = @firm@, pg_temp AS $$
DECLARE
	reached text[];
BEGIN
	IF NOT is_own(own) THEN
		RAISE EXCEPTION 'this book belongs to another truck' USING ERRCODE = 'insufficient_privilege';
	END IF;
	IF before <> own AND is_own(before) THEN
		INSERT INTO carried (book, thing, whole, at)
		SELECT own, thing, whole, carry.newest FROM carried WHERE book = before ON CONFLICT DO NOTHING;
	END IF;
	SELECT array_agg(DISTINCT customer) INTO reached FROM (
		SELECT CASE WHEN entry.kind = 1 THEN entry.thing ELSE value.new END AS customer
		FROM entry LEFT JOIN value ON value.thing = coalesce(entry.call, entry.thing)
			AND value.field = 'customer'
		WHERE entry.book = own AND entry.seq > since AND entry.kind > 0
		UNION
		SELECT whose.new FROM value AS who
		JOIN value AS planned ON planned.thing = who.thing AND planned.field = 'planned_at'
			AND planned.new IS NOT NULL
		JOIN value AS whose ON whose.thing = who.thing AND whose.field = 'customer'
		LEFT JOIN value AS closed ON closed.thing = who.thing AND closed.field = 'closed_at'
		WHERE who.field = 'technician' AND who.new = for_technician AND closed.new IS NULL
		UNION
		SELECT asked WHERE asked <> '') AS named;
	PERFORM carry_whole(own, reached, newest);
	-- What began to name something carried, or to be named by it, since the book last read.
	WITH changed AS (
		SELECT DISTINCT thing FROM entry
		WHERE seq > seen AND field IN ('customer', 'site', 'system', 'joined')),
	added AS (
		INSERT INTO carried (book, thing, whole, at)
		SELECT own, changed.thing, bool_or(value.field = 'joined' AND carried.whole), newest
		FROM changed JOIN value ON value.thing = changed.thing
			AND value.field IN ('customer', 'site', 'system', 'joined')
		JOIN carried ON carried.book = own AND carried.thing = value.new
		JOIN thing ON thing.thing = carried.thing
		WHERE value.field = 'joined' OR thing.kind <> 1 OR carried.whole
		GROUP BY changed.thing ON CONFLICT DO NOTHING)
	SELECT array_agg(thing) INTO reached FROM changed;
	PERFORM carry_on(own, reached, newest);
END
$$;

-- The entries that a book lacks of what it carries, up to `newest`; those of
-- what books knew of each other go to all.
CREATE FUNCTION lacking(own bigint, seen bigint, newest bigint) RETURNS SETOF entry
LANGUAGE sql STABLE SET search_path = @firm@, pg_temp AS $$
	SELECT entry.* FROM entry WHERE seq > seen AND seq <= newest AND (kind = 0 OR EXISTS (
		SELECT FROM carried WHERE book = own AND carried.thing = coalesce(entry.call, entry.thing)))
	UNION ALL
	SELECT entry.* FROM carried JOIN entry ON entry.thing = carried.thing AND entry.seq <= lacking.seen
	WHERE carried.book = own AND carried.at > seen AND carried.at <= newest
	UNION ALL
	SELECT entry.* FROM carried JOIN thing ON thing.call = carried.thing
	JOIN entry ON entry.thing = thing.thing AND entry.seq <= lacking.seen
	WHERE carried.book = own AND carried.at > seen AND carried.at <= newest
$$;

-- Customers of whom every word is a part of name, phone, mail, an address, a
-- model or a serial, with how many calls there are.
CREATE FUNCTION find_customers(words text[], most integer)
RETURNS TABLE (customer text, name text, phone text, address text, calls bigint)
LANGUAGE sql STABLE SET search_path = @firm@, pg_temp AS $$
	WITH said AS (
		SELECT CASE thing.kind WHEN 1 THEN thing.thing ELSE whose.new END AS customer, value.new AS words
		FROM value JOIN thing ON thing.thing = value.thing
		LEFT JOIN value AS whose ON whose.thing = value.thing AND whose.field = 'customer'
		WHERE value.field IN ('name', 'phone', 'email', 'address', 'system.model', 'system.serial')
		AND thing.kind IN (1, 2, 4) AND EXISTS (
			SELECT FROM unnest(find_customers.words) AS one (word)
			WHERE position(lower(word) IN lower(value.new)) > 0)),
	hit AS (
		SELECT said.customer FROM said WHERE said.customer IS NOT NULL GROUP BY said.customer
		HAVING (SELECT bool_and(found) FROM (
			SELECT position(lower(word) IN lower(string_agg(said.words, chr(10)))) > 0 AS found
			FROM unnest(find_customers.words) AS one (word)) AS each)),
	stands AS (
		SELECT DISTINCT stands_for(hit.customer) AS customer FROM hit)
	SELECT customers.customer, customers.name, customers.phone,
		(SELECT max(place.new) FROM value AS whose JOIN value AS place
			ON place.thing = whose.thing AND place.field = 'address'
			WHERE whose.field = 'customer' AND whose.new = customers.customer),
		(SELECT count(*) FROM value AS whose JOIN thing ON thing.thing = whose.thing AND thing.kind = 4
			WHERE whose.field = 'customer' AND whose.new = customers.customer)
	FROM stands JOIN customers ON customers.customer = stands.customer
	ORDER BY customers.name, customers.customer LIMIT most
$$;

ALTER TABLE carried ENABLE ROW LEVEL SECURITY;
CREATE POLICY reading ON carried FOR SELECT TO @firm@_truck USING (book IN (
	SELECT truck.book FROM truck WHERE truck.role = session_user));
REVOKE ALL ON carried FROM PUBLIC;
REVOKE ALL ON ALL FUNCTIONS IN SCHEMA @firm@ FROM PUBLIC;
GRANT SELECT ON carried TO @firm@_truck;
GRANT EXECUTE ON FUNCTION is_own(bigint), mark(), carry(bigint, bigint, bigint, bigint, bigint, text, text),
	lacking(bigint, bigint, bigint), find_customers(text[], integer) TO @firm@_truck;
GRANT EXECUTE ON FUNCTION find_customers(text[], integer) TO @firm@_reader;
