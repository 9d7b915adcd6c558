-- A filling may stand in the charge log, in the tightness log as a weigh-in, or in
-- both: what stands in both counts once, as in the book's ledger.

SET LOCAL search_path TO @firm@;

-- Refrigerant added and recovered, ounces.  An entry without a time counts on its
-- call's day.
CREATE OR REPLACE VIEW refrigerant_moves AS
WITH charged AS (
	SELECT present.call, max(new) FILTER (WHERE field = 'cylinder') AS cylinder,
		max(new) FILTER (WHERE field = 'at') AS at,
		coalesce(number_of(max(new) FILTER (WHERE field = 'added')), 0) AS added,
		coalesce(number_of(max(new) FILTER (WHERE field = 'recovered')), 0) AS recovered
	FROM present JOIN value ON value.thing = present.thing
	WHERE present.kind = 5 GROUP BY present.call, present.thing),
weighed AS (
	SELECT present.call, max(new) FILTER (WHERE field = 'at') AS at,
		coalesce(number_of(max(new) FILTER (WHERE field = 'amount')), 0) AS amount
	FROM present JOIN value ON value.thing = present.thing
	WHERE present.kind = 10 GROUP BY present.call, present.thing
	HAVING max(new) FILTER (WHERE field = 'kind') = 'weigh_in'),
move AS (
	SELECT call, cylinder, at, added, recovered FROM charged
	UNION ALL
	SELECT call, NULL, at, amount, 0 FROM weighed
	WHERE NOT EXISTS (SELECT FROM charged
		WHERE charged.call = weighed.call AND abs(charged.added - weighed.amount) < 0.05)
	AND abs((SELECT coalesce(sum(charged.added), 0) FROM charged WHERE charged.call = weighed.call)
		- (SELECT sum(other.amount) FROM weighed AS other WHERE other.call = weighed.call)) >= 0.05)
SELECT calls.call, calls.system, calls.customer_name, calls.address, coalesce(refrigerant, '') AS refrigerant,
	cylinder, at, substr(coalesce(at, opened_at), 1, 4) AS year, added, recovered,
	opened_at, coalesce(factory_charge, 0) AS charge, manufacture_year
FROM move JOIN calls ON calls.call = move.call
WHERE added > 0 OR recovered > 0;
