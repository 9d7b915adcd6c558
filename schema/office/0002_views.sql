-- What a bookkeeper or a report tool reads.  Money is in whole units with two
-- decimals, times are local as the truck's clock showed them.

SET LOCAL search_path TO @firm@;

-- The value that a field has now; NULL for nothing.
CREATE FUNCTION now_of(of_thing text, of_field text) RETURNS text
LANGUAGE sql STABLE SET search_path = @firm@, pg_temp
AS $$ SELECT new FROM value WHERE thing = of_thing AND field = of_field $$;

-- The thing that stands for this one, after joins.
CREATE FUNCTION stands_for(of_thing text) RETURNS text
LANGUAGE sql STABLE SET search_path = @firm@, pg_temp AS $$
	WITH RECURSIVE way (thing, steps) AS (
		SELECT of_thing, 0
		UNION ALL
		SELECT value.new, steps + 1 FROM way JOIN value
			ON value.thing = way.thing AND field = 'joined' AND new IS NOT NULL
		WHERE steps < 16)
	SELECT thing FROM way ORDER BY steps DESC LIMIT 1
$$;

-- Things that were not taken out.
CREATE VIEW present AS
SELECT thing, kind, call FROM thing
WHERE NOT EXISTS (SELECT FROM value WHERE value.thing = thing.thing
	AND field = 'removed' AND new IS NOT NULL);

CREATE VIEW customers AS
SELECT thing AS customer, now_of(thing, 'name') AS name, now_of(thing, 'phone') AS phone,
	now_of(thing, 'email') AS email
FROM present WHERE kind = 1;

CREATE VIEW calls AS
SELECT thing AS call, now_of(thing, 'job_number') AS job_number,
	now_of(thing, 'opened_at') AS opened_at, now_of(thing, 'closed_at') AS closed_at,
	now_of(thing, 'planned_at') AS planned_at, now_of(thing, 'billed_at') AS billed_at,
	now_of(thing, 'technician') AS technician,
	stands_for(now_of(thing, 'customer')) AS customer,
	now_of(stands_for(now_of(thing, 'customer')), 'name') AS customer_name,
	now_of(stands_for(now_of(thing, 'customer')), 'phone') AS customer_phone,
	now_of(stands_for(now_of(thing, 'site')), 'address') AS address,
	stands_for(now_of(thing, 'system')) AS system,
	now_of(thing, 'system.model') AS model, now_of(thing, 'system.serial') AS serial,
	now_of(thing, 'complaint') AS complaint, now_of(thing, 'summary') AS summary,
	now_of(thing, 'office_note') AS office_note,
	now_of(thing, 'payment_terms') AS payment_terms
FROM present WHERE kind = 4;

-- One row a reading.
CREATE VIEW readings AS
SELECT present.thing AS call, split_part(field, '.', 1) AS stage, split_part(field, '.', 2) AS reading,
	new AS value, CASE WHEN new ~ '^-?[0-9.]+(e[-+]?[0-9]+)?$' THEN new::numeric END AS number,
	to_timestamp(at) AT TIME ZONE 'UTC' AS taken_at
FROM present JOIN value ON value.thing = present.thing
WHERE kind = 4 AND position('.' IN field) > 0 AND new IS NOT NULL;

-- The readings that a list of units shows most often, in columns.
CREATE VIEW call_readings AS
SELECT call, stage,
	max(number) FILTER (WHERE reading = 'suction_pressure') AS suction_pressure,
	max(number) FILTER (WHERE reading = 'liquid_pressure') AS liquid_pressure,
	max(number) FILTER (WHERE reading = 'suction_line_temp') AS suction_line_temp,
	max(number) FILTER (WHERE reading = 'liquid_line_temp') AS liquid_line_temp,
	max(number) FILTER (WHERE reading = 'outdoor_db') AS outdoor_db,
	max(number) FILTER (WHERE reading = 'return_db') AS return_db,
	max(number) FILTER (WHERE reading = 'return_wb') AS return_wb,
	max(number) FILTER (WHERE reading = 'supply_db') AS supply_db,
	max(number) FILTER (WHERE reading = 'line_voltage') AS line_voltage,
	max(number) FILTER (WHERE reading = 'common_amps') AS common_amps,
	max(number) FILTER (WHERE reading = 'compressor_capacitance') AS compressor_capacitance,
	max(number) FILTER (WHERE reading = 'fan_capacitance') AS fan_capacitance,
	max(number) FILTER (WHERE reading = 'compressor_ground_resistance') AS compressor_ground_resistance
FROM readings WHERE stage IN ('as_found', 'as_left') GROUP BY call, stage;

-- What the technician decided about findings.
CREATE VIEW findings AS
SELECT call, now_of(thing, 'fault') AS fault, coalesce(now_of(thing, 'verdict'), 'confirmed') AS verdict,
	now_of(thing, 'why') AS why, now_of(thing, 'by') AS judged_by, now_of(thing, 'at') AS judged_at
FROM present WHERE kind = 9;

-- Lines of the bill.  An amount is rounded to the cent once, half a cent away from zero.
CREATE VIEW work_lines AS
SELECT call, thing AS line, coalesce(now_of(thing, 'position')::integer, 0) AS position,
	coalesce(now_of(thing, 'kind'), 'labour') AS kind, now_of(thing, 'description') AS description,
	round(coalesce(now_of(thing, 'quantity')::numeric, 0) / 1000, 3) AS quantity,
	round(coalesce(now_of(thing, 'unit_price')::numeric, 0) / 100, 2) AS unit_price,
	now_of(thing, 'no_charge') IS NOT NULL AS no_charge,
	CASE WHEN now_of(thing, 'no_charge') IS NOT NULL THEN 0.00
	ELSE round(round(coalesce(now_of(thing, 'quantity')::numeric, 0)
		* coalesce(now_of(thing, 'unit_price')::numeric, 0) / 1000) / 100, 2) END AS amount
FROM present WHERE kind = 6;

-- The bill by class, as the report prints it: discount and tax of the printed
-- subtotal, each rounded once.
CREATE VIEW bill_classes AS
SELECT call, kind, subtotal, discount, tax_percent,
	round((subtotal - discount) * tax_percent / 100, 2) AS tax
FROM (
	SELECT call, kind, sum(amount) AS subtotal,
		round(sum(amount) * coalesce(now_of(call, 'discount')::numeric, 0) / 100000, 2) AS discount,
		round(coalesce(now_of(call, 'tax_' || kind)::numeric, 0) / 1000, 3) AS tax_percent
	FROM work_lines GROUP BY call, kind) AS class;

CREATE VIEW bills AS
SELECT call, sum(subtotal) AS subtotal, sum(discount) AS discount, sum(tax) AS tax,
	sum(subtotal - discount + tax) AS total,
	round(coalesce(now_of(call, 'deposit')::numeric, 0) / 100, 2) AS deposit,
	sum(subtotal - discount + tax) - round(coalesce(now_of(call, 'deposit')::numeric, 0) / 100, 2) AS due
FROM bill_classes GROUP BY call;

CREATE VIEW unbilled_calls AS
SELECT calls.call, job_number, closed_at, technician, customer, customer_name, customer_phone,
	address, payment_terms, coalesce(total, 0) AS total, coalesce(due, 0) AS due
FROM calls LEFT JOIN bills ON bills.call = calls.call
WHERE closed_at IS NOT NULL AND billed_at IS NULL;

CREATE VIEW planned_calls AS
SELECT call, planned_at, technician, customer_name, customer_phone, address, complaint
FROM calls WHERE planned_at IS NOT NULL AND closed_at IS NULL;

-- Refrigerant added and recovered, ounces, by unit, cylinder and year.  The leak
-- rate is what was added net in the year against the unit's charge.
CREATE VIEW refrigerant_moves AS
SELECT present.call, calls.system, now_of(present.call, 'system.refrigerant') AS refrigerant,
	now_of(thing, 'cylinder') AS cylinder, now_of(thing, 'at') AS at,
	substr(coalesce(now_of(thing, 'at'), calls.opened_at), 1, 4) AS year,
	coalesce(now_of(thing, 'added')::numeric, 0) AS added,
	coalesce(now_of(thing, 'recovered')::numeric, 0) AS recovered
FROM present JOIN calls ON calls.call = present.call WHERE present.kind = 5;

CREATE VIEW refrigerant_by_unit AS
SELECT system, year, max(refrigerant) AS refrigerant, sum(added) AS added, sum(recovered) AS recovered,
	max(charge) AS charge,
	CASE WHEN max(charge) > 0 THEN round(100 * greatest(sum(added - recovered), 0) / max(charge), 1) END
		AS leak_percent
FROM refrigerant_moves LEFT JOIN LATERAL (
	SELECT now_of(refrigerant_moves.call, 'system.factory_charge')::numeric AS charge) AS plate ON true
GROUP BY system, year;

CREATE VIEW refrigerant_by_cylinder AS
SELECT cylinder, year, refrigerant, sum(added) AS added, sum(recovered) AS recovered
FROM refrigerant_moves WHERE cylinder IS NOT NULL GROUP BY cylinder, year, refrigerant;

-- Run capacitors as they were left, or found where nothing was left, against
-- their rating: units that have lost 3 % or more are worth a call.
CREATE VIEW drifting_units AS
SELECT system, customer_name, customer_phone, address, opened_at, measured, rated,
	round(100 * (measured - rated) / rated, 1) AS percent
FROM (
	SELECT calls.system, calls.customer_name, calls.customer_phone, calls.address, calls.opened_at,
		coalesce(now_of(call, 'as_left.compressor_capacitance'),
			now_of(call, 'as_found.compressor_capacitance'))::numeric AS measured,
		now_of(call, 'system.compressor_capacitor_rated')::numeric AS rated
	FROM calls) AS capacitor
WHERE rated > 0 AND measured < 0.97 * rated;

CREATE VIEW declined_work AS
SELECT present.call, calls.customer_name, calls.customer_phone, calls.address,
	now_of(thing, 'title') AS title,
	round(coalesce(now_of(thing, 'price_low')::numeric, 0) / 100, 2) AS price_low,
	round(coalesce(now_of(thing, 'price_high')::numeric, 0) / 100, 2) AS price_high,
	now_of(thing, 'decided_by') AS decided_by, now_of(thing, 'decided_at') AS decided_at
FROM present JOIN calls ON calls.call = present.call
WHERE present.kind = 7 AND now_of(thing, 'decision') = 'declined';

REVOKE ALL ON ALL TABLES IN SCHEMA @firm@ FROM PUBLIC;
REVOKE ALL ON ALL FUNCTIONS IN SCHEMA @firm@ FROM PUBLIC;
GRANT SELECT ON present, customers, calls, readings, call_readings, findings, work_lines,
	bill_classes, bills, unbilled_calls, planned_calls, refrigerant_moves, refrigerant_by_unit,
	refrigerant_by_cylinder, drifting_units, declined_work TO @firm@_truck, @firm@_reader;
GRANT EXECUTE ON FUNCTION now_of(text, text), stands_for(text) TO @firm@_truck, @firm@_reader;
