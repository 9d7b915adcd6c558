-- Of two changes of one field with one stamp of one book, as a book makes that was
-- put back from an old copy, the greater number counts, then the greater checksum:
-- here as in every book.

SET LOCAL search_path TO @firm@;

ALTER TABLE value ADD COLUMN number bigint, ADD COLUMN sum bigint;
UPDATE value SET number = last.number, sum = last.sum, new = last.new, at = last.at
FROM (
	SELECT DISTINCT ON (thing, field) thing, field, number, sum, new, at FROM entry
	ORDER BY thing, field, stamp DESC, book DESC, number DESC, sum DESC) AS last
WHERE value.thing = last.thing AND value.field = last.field;
ALTER TABLE value ALTER COLUMN number SET NOT NULL, ALTER COLUMN sum SET NOT NULL;

-- Looks things up by their indices, however few there were when it was planned.
CREATE OR REPLACE FUNCTION fold() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
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
	INSERT INTO value AS had (thing, field, stamp, book, number, sum, new, at, several)
	SELECT DISTINCT ON (came.thing, came.field)
		came.thing, came.field, came.stamp, came.book, came.number, came.sum, came.new, came.at,
		min(came.book) OVER field <> max(came.book) OVER field
	FROM came
	WINDOW field AS (PARTITION BY came.thing, came.field)
	ORDER BY came.thing, came.field, came.stamp DESC, came.book DESC, came.number DESC, came.sum DESC
	ON CONFLICT (thing, field) DO UPDATE SET
		several = had.several OR excluded.several OR had.book <> excluded.book,
		(stamp, book, number, sum, new, at) = (
			SELECT one.* FROM (VALUES
				(had.stamp, had.book, had.number, had.sum, had.new, had.at),
				(excluded.stamp, excluded.book, excluded.number, excluded.sum, excluded.new, excluded.at)
			) AS one (stamp, book, number, sum, new, at)
			ORDER BY stamp DESC, book DESC, number DESC, sum DESC LIMIT 1)
	WHERE (excluded.stamp, excluded.book, excluded.number, excluded.sum) >
		(had.stamp, had.book, had.number, had.sum)
	OR (NOT had.several AND (excluded.several OR had.book <> excluded.book));
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
