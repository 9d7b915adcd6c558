-- Units that drift, by more than their run capacitors.

SET LOCAL search_path TO @firm@;

-- A reading of a call as it was left, or as found where nothing was left.
CREATE FUNCTION last_reading(of_call text, of_reading text) RETURNS numeric
LANGUAGE sql STABLE SET search_path = @firm@, pg_temp AS $$
	SELECT number_of(new) FROM value
	WHERE thing = of_call AND field IN ('as_left.' || of_reading, 'as_found.' || of_reading)
	AND new IS NOT NULL ORDER BY field DESC LIMIT 1
$$;

-- What is followed from call to call of a unit: what was measured, the nameplate's
-- value, and the temperature on which the reading depends, °F.
CREATE VIEW unit_series AS
SELECT calls.call, system, customer_name, customer_phone, address, serial, opened_at, part,
	last_reading(calls.call, reading) AS measured, number_of(nameplate.new) AS rated,
	coalesce(last_reading(calls.call, warmth), last_reading(calls.call, weather)) AS temperature
FROM calls
CROSS JOIN (VALUES
	('compressor capacitor', 'compressor_capacitance', 'compressor_capacitor_rated', NULL, NULL),
	('fan capacitor', 'fan_capacitance', 'fan_capacitor_rated', NULL, NULL),
	('blower capacitor', 'blower_capacitance', 'blower_capacitor_rated', NULL, NULL),
	('compressor insulation', 'compressor_ground_resistance', NULL, 'winding_temp', 'outdoor_db'),
	('compressor amps', 'common_amps', 'compressor_rla', NULL, 'outdoor_db')
	) AS followed (part, reading, rating, warmth, weather)
LEFT JOIN value AS nameplate ON nameplate.thing = calls.call AND nameplate.field = 'system.' || rating
WHERE EXISTS (SELECT FROM value WHERE value.thing = calls.call
	AND value.field IN ('as_left.' || reading, 'as_found.' || reading) AND new IS NOT NULL);

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
WITH latest AS (
	SELECT DISTINCT ON (system, part) * FROM unit_series WHERE measured IS NOT NULL
	ORDER BY system, part, opened_at DESC),
compared AS (
	SELECT latest.*, CASE WHEN part LIKE '% capacitor' THEN rated ELSE usual END AS expected
	FROM latest LEFT JOIN LATERAL (
		SELECT (percentile_cont(0.5) WITHIN GROUP (ORDER BY
			CASE WHEN latest.part = 'compressor amps'
			THEN earlier.measured + 0.0075 * latest.rated
				* coalesce(latest.temperature - earlier.temperature, 0)
			ELSE earlier.measured * power(2, coalesce(earlier.temperature - latest.temperature, 0) / 18)
			END))::numeric AS usual
		FROM unit_series AS earlier
		WHERE earlier.system = latest.system AND earlier.part = latest.part
		AND earlier.opened_at < latest.opened_at AND earlier.measured > 0
		AND earlier.serial IS NOT DISTINCT FROM latest.serial
		AND earlier.rated IS NOT DISTINCT FROM latest.rated
		HAVING count(*) >= 2) AS before ON latest.part NOT LIKE '% capacitor')
SELECT system, customer_name, customer_phone, address, part, opened_at, measured,
	round(expected, 1) AS expected, round(100 * (measured - expected) / expected, 1) AS percent
FROM compared
WHERE expected > 0 AND CASE part
	WHEN 'compressor insulation' THEN measured <= expected / 3
	WHEN 'compressor amps' THEN measured >= expected + 0.1 * rated
	ELSE measured <= 0.97 * expected END;

REVOKE ALL ON unit_series, drifting_units FROM PUBLIC;
REVOKE ALL ON FUNCTION last_reading(text, text) FROM PUBLIC;
GRANT SELECT ON unit_series, drifting_units TO @firm@_truck, @firm@_reader;
GRANT EXECUTE ON FUNCTION last_reading(text, text) TO @firm@_truck, @firm@_reader;
