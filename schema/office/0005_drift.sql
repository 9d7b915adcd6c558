-- Units that drift, by more than their run capacitors.

SET LOCAL search_path TO @firm@;

-- What is followed from call to call of a unit, as it was left, or as found where
-- nothing was left: what was measured, the nameplate's value, and the temperature
-- on which the reading depends, °F.
CREATE VIEW unit_series AS
SELECT calls.call, system, customer_name, customer_phone, address, serial, opened_at, part,
	measured, rated, temperature
FROM calls
CROSS JOIN LATERAL (
	SELECT jsonb_object_agg(field, new) AS said FROM value
	WHERE value.thing = calls.call AND new IS NOT NULL
	AND split_part(field, '.', 1) IN ('as_left', 'as_found', 'system')) AS readings
CROSS JOIN (VALUES
	('compressor capacitor', 'compressor_capacitance', 'compressor_capacitor_rated', NULL),
	('fan capacitor', 'fan_capacitance', 'fan_capacitor_rated', NULL),
	('blower capacitor', 'blower_capacitance', 'blower_capacitor_rated', NULL),
	('compressor insulation', 'compressor_ground_resistance', NULL, 'winding_temp'),
	('compressor amps', 'common_amps', 'compressor_rla', NULL)
	) AS followed (part, reading, rating, warmth)
CROSS JOIN LATERAL (
	SELECT number_of(coalesce(said->>('as_left.' || reading), said->>('as_found.' || reading))) AS measured,
		number_of(said->>('system.' || rating)) AS rated,
		number_of(coalesce(said->>('as_left.' || warmth), said->>('as_found.' || warmth),
			said->>'as_left.outdoor_db', said->>'as_found.outdoor_db')) AS temperature) AS numbers
WHERE measured IS NOT NULL;

-- Units worth a call, with what they last showed beside what is expected of them:
--   a capacitor that has lost 3 % or more of its rating;
--   insulation at a third or less of what two earlier calls or more showed (their
--   median), each halved with every 18 °F that the winding is warmer (the older
--   correction of IEEE 43), as the book's own trend has it;
--   amps a tenth of the RLA above what such calls showed, each brought to today's
--   outdoor air by 0.75 % of the RLA a degree (common practice, likewise).
-- Earlier calls count while serial number and nameplate are the same: a part that
-- was replaced without that, the server does not know.
DROP VIEW drifting_units;
CREATE VIEW drifting_units AS
WITH series AS MATERIALIZED (SELECT * FROM unit_series),
latest AS (
	SELECT DISTINCT ON (system, part) * FROM series ORDER BY system, part, opened_at DESC),
before AS (
	SELECT system, part, (percentile_cont(0.5) WITHIN GROUP (ORDER BY
		CASE WHEN part = 'compressor amps'
		THEN earlier.measured + 0.0075 * latest.rated
			* coalesce(latest.temperature - earlier.temperature, 0)
		ELSE earlier.measured * power(2, coalesce(earlier.temperature - latest.temperature, 0) / 18)
		END))::numeric AS usual
	FROM latest JOIN series AS earlier USING (system, part)
	WHERE part NOT LIKE '% capacitor' AND earlier.opened_at < latest.opened_at
	AND earlier.measured > 0 AND earlier.serial IS NOT DISTINCT FROM latest.serial
	AND earlier.rated IS NOT DISTINCT FROM latest.rated
	GROUP BY system, part HAVING count(*) >= 2),
compared AS (
	SELECT latest.*, CASE WHEN part LIKE '% capacitor' THEN rated ELSE usual END AS expected
	FROM latest LEFT JOIN before USING (system, part))
SELECT system, customer_name, customer_phone, address, part, opened_at, measured,
	round(expected, 1) AS expected, round(100 * (measured - expected) / expected, 1) AS percent
FROM compared
WHERE expected > 0 AND CASE part
	WHEN 'compressor insulation' THEN measured <= expected / 3
	WHEN 'compressor amps' THEN measured >= expected + 0.1 * rated
	ELSE measured <= 0.97 * expected END;

REVOKE ALL ON unit_series, drifting_units FROM PUBLIC;
GRANT SELECT ON unit_series, drifting_units TO @firm@_truck, @firm@_reader;
