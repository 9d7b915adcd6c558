-- A book that carries its own and has not met for long: what it lacks is looked
-- up by what it carries, since walking through all that others wrote costs more.
-- It is looked up thing by thing (LATERAL … OFFSET 0 keeps it so), by indices: a
-- table that has just grown is planned for as if it were empty, and would be
-- joined row by row with all that others wrote.  Nor are these queries worth
-- compiling: each runs once a meeting.

SET LOCAL search_path TO @firm@;

CREATE INDEX entry_of_met ON entry (seq) WHERE kind = 0;

CREATE OR REPLACE FUNCTION lacking(own bigint, seen bigint, newest bigint) RETURNS SETOF entry
LANGUAGE plpgsql STABLE SET search_path = @firm@, pg_temp SET jit = off SET enable_seqscan = off
SET enable_hashjoin = off SET enable_mergejoin = off AS $$
DECLARE
	-- A thing that is carried costs about as much as this many entries that are looked at.
	each_thing CONSTANT integer := 40;
BEGIN
	-- What books knew of each other goes to all.
	RETURN QUERY SELECT entry.* FROM entry
	WHERE kind = 0 AND seq > lacking.seen AND seq <= lacking.newest;
	-- What was written behind `seen` about what is carried.
	IF lacking.newest - lacking.seen < each_thing * (SELECT count(*) FROM carried WHERE book = own) THEN
		RETURN QUERY SELECT entry.* FROM entry JOIN LATERAL (
			SELECT FROM carried
			WHERE book = own AND carried.thing = coalesce(entry.call, entry.thing) OFFSET 0) AS of ON true
		WHERE kind <> 0 AND seq > lacking.seen AND seq <= lacking.newest;
	ELSE
		RETURN QUERY SELECT behind.* FROM carried JOIN LATERAL (
			SELECT entry.* FROM entry WHERE entry.thing = carried.thing AND entry.call IS NULL
			AND kind <> 0 AND seq > lacking.seen AND seq <= lacking.newest OFFSET 0) AS behind ON true
		WHERE carried.book = own;
		RETURN QUERY SELECT behind.* FROM carried JOIN LATERAL (
			SELECT thing.thing FROM thing WHERE thing.call = carried.thing OFFSET 0) AS line ON true
		JOIN LATERAL (
			SELECT entry.* FROM entry WHERE entry.thing = line.thing
			AND seq > lacking.seen AND seq <= lacking.newest OFFSET 0) AS behind ON true
		WHERE carried.book = own;
	END IF;
	-- And all of it where the thing came to be carried since.
	RETURN QUERY SELECT before.* FROM carried JOIN LATERAL (
		SELECT entry.* FROM entry WHERE entry.thing = carried.thing AND seq <= lacking.seen OFFSET 0)
		AS before ON true
	WHERE carried.book = own AND carried.at > lacking.seen AND carried.at <= lacking.newest;
	RETURN QUERY SELECT before.* FROM carried JOIN LATERAL (
		SELECT thing.thing FROM thing WHERE thing.call = carried.thing OFFSET 0) AS line ON true
	JOIN LATERAL (
		SELECT entry.* FROM entry WHERE entry.thing = line.thing AND seq <= lacking.seen OFFSET 0)
		AS before ON true
	WHERE carried.book = own AND carried.at > lacking.seen AND carried.at <= lacking.newest;
END
$$;

-- Brings up to date what a book carries, as in 0003.  What came to belong to it is
-- looked for among what changed, or, where more changed than it carries, among
-- what names a thing that it carries.
CREATE OR REPLACE FUNCTION carry(own bigint, before bigint, since bigint, seen bigint, newest bigint,
	for_technician text, asked text) RETURNS void LANGUAGE plpgsql SECURITY DEFINER
SET search_path = @firm@, pg_temp SET jit = off AS $$
DECLARE
	each_thing CONSTANT integer := 40;
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
	IF newest - seen < each_thing * (SELECT count(*) FROM carried WHERE book = own) THEN
		SELECT array_agg(DISTINCT thing) INTO reached FROM (
			SELECT carried.thing FROM entry JOIN LATERAL (
				SELECT entry.thing UNION ALL SELECT value.new FROM value WHERE value.thing = entry.thing
				AND value.field IN ('customer', 'site', 'system', 'joined') OFFSET 0) AS near ON true
			JOIN LATERAL (SELECT carried.thing FROM carried
				WHERE carried.book = own AND carried.thing = near.thing OFFSET 0) AS carried ON true
			WHERE seq > seen AND entry.field IN ('customer', 'site', 'system', 'joined')) AS named;
	ELSE
		SELECT array_agg(thing) INTO reached FROM carried WHERE book = own;
	END IF;
	PERFORM carry_on(own, reached, newest);
END
$$;

ALTER FUNCTION carry_on(bigint, text[], bigint) SET jit = off;
