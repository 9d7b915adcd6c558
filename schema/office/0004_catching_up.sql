-- A book that carries its own and has not met for long: what it lacks is looked
-- up by what it carries, since walking through all that others wrote costs more.
-- Nor are its queries worth compiling: each runs once a meeting.

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
		RETURN QUERY SELECT entry.* FROM entry
		WHERE kind <> 0 AND seq > lacking.seen AND seq <= lacking.newest AND EXISTS (
			SELECT FROM carried WHERE book = own AND carried.thing = coalesce(entry.call, entry.thing));
	ELSE
		RETURN QUERY SELECT entry.* FROM carried JOIN entry ON entry.thing = carried.thing
		WHERE carried.book = own AND entry.kind <> 0 AND entry.call IS NULL
		AND entry.seq > lacking.seen AND entry.seq <= lacking.newest;
		RETURN QUERY SELECT entry.* FROM carried JOIN thing ON thing.call = carried.thing
		JOIN entry ON entry.thing = thing.thing
		WHERE carried.book = own AND entry.seq > lacking.seen AND entry.seq <= lacking.newest;
	END IF;
	-- And all of it where the thing came to be carried since.
	RETURN QUERY SELECT entry.* FROM carried JOIN entry ON entry.thing = carried.thing
	WHERE carried.book = own AND carried.at > lacking.seen AND carried.at <= lacking.newest
	AND entry.seq <= lacking.seen;
	RETURN QUERY SELECT entry.* FROM carried JOIN thing ON thing.call = carried.thing
	JOIN entry ON entry.thing = thing.thing
	WHERE carried.book = own AND carried.at > lacking.seen AND carried.at <= lacking.newest
	AND entry.seq <= lacking.seen;
END
$$;

ALTER FUNCTION carry(bigint, bigint, bigint, bigint, bigint, text, text) SET jit = off;
ALTER FUNCTION carry_on(bigint, text[], bigint) SET jit = off;
