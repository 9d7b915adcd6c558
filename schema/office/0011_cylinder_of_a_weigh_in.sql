-- What was weighed in has the cylinder that it came from.

SET LOCAL search_path TO @firm@;

-- Refrigerant added and recovered, ounces.  An entry without a time counts on its
-- call's day.
CREATE OR REPLACE VIEW refrigerant_moves AS
WITH written AS (
	SELECT present.call, present.thing, present.kind,
		max(new) FILTER (WHERE field = 'cylinder') AS cylinder,
		max(new) FILTER (WHERE field = 'at') AS at,
		coalesce(number_of(max(new) FILTER (WHERE field = 'added')), 0) AS added,
		coalesce(number_of(max(new) FILTER (WHERE field = 'recovered')), 0) AS recovered,
		coalesce(number_of(max(new) FILTER (WHERE field = 'amount')), 0) AS amount,
		max(new) FILTER (WHERE field = 'kind') AS what
	FROM present JOIN value ON value.thing = present.thing
	WHERE present.kind IN (5, 10) GROUP BY present.call, present.thing, present.kind),
charged AS (
	SELECT call, cylinder, at, added, recovered,
		row_number() OVER (PARTITION BY call ORDER BY at, thing) AS place
	FROM written WHERE kind = 5),
weighed AS (
	SELECT call, cylinder, at, amount,
		row_number() OVER (PARTITION BY call ORDER BY at, thing) AS place
	FROM written WHERE kind = 10 AND what = 'weigh_in' AND amount > 0),
charged_run AS (
	SELECT a.call, (SELECT sum(p.added) FROM charged AS p
		WHERE p.call = a.call AND p.place BETWEEN a.place AND z.place) AS ounces
	FROM charged AS a JOIN charged AS z ON z.call = a.call AND z.place >= a.place),
weighed_run AS (
	SELECT a.call, a.place AS first, z.place AS last, (SELECT sum(p.amount) FROM weighed AS p
		WHERE p.call = a.call AND p.place BETWEEN a.place AND z.place) AS ounces
	FROM weighed AS a JOIN weighed AS z ON z.call = a.call AND z.place >= a.place),
whole AS (
	SELECT call, (SELECT coalesce(sum(added), 0) FROM charged WHERE charged.call = weighed.call) AS added,
		sum(amount) AS amount FROM weighed GROUP BY call),
move AS (
	SELECT call, cylinder, at, added, recovered FROM charged
	UNION ALL
	SELECT weighed.call, cylinder, at, weighed.amount, 0 FROM weighed
	JOIN whole ON whole.call = weighed.call
	WHERE abs(whole.added - whole.amount) >= greatest(0.05, least(1.05, 0.15 * whole.amount))
	AND NOT EXISTS (SELECT FROM charged_run AS run WHERE run.call = weighed.call
		AND abs(run.ounces - weighed.amount) < greatest(0.05, least(1.05, 0.15 * weighed.amount)))
	AND NOT EXISTS (SELECT FROM weighed_run AS run JOIN charged ON charged.call = run.call
		WHERE run.call = weighed.call AND weighed.place BETWEEN run.first AND run.last
		AND abs(run.ounces - charged.added) < greatest(0.05, least(1.05, 0.15 * charged.added))))
SELECT calls.call, calls.system, calls.customer_name, calls.address, coalesce(refrigerant, '') AS refrigerant,
	cylinder, at, substr(coalesce(at, opened_at), 1, 4) AS year, added, recovered,
	opened_at, coalesce(factory_charge, 0) AS charge, manufacture_year
FROM move JOIN calls ON calls.call = move.call
WHERE added > 0 OR recovered > 0;
