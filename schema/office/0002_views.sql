-- What a bookkeeper or a report tool reads.  Money is in whole units with two
-- decimals, times are local as the truck's clock showed them.

SET LOCAL search_path TO @firm@;

-- A value as a number; NULL where it is none.
CREATE FUNCTION number_of(of_text text) RETURNS numeric LANGUAGE sql IMMUTABLE AS $$
	SELECT CASE WHEN of_text ~ '^-?[0-9]{1,18}([.][0-9]{1,24})?(e[-+]?[0-9]{1,2})?$' THEN of_text::numeric END
$$;

-- The thing that stands for this one, after joins; of two that were joined
-- both ways the lesser id stands for both.
-- Most stand for themselves.
CREATE FUNCTION stands_for(of_thing text) RETURNS text LANGUAGE plpgsql STABLE AS $$
DECLARE
	last text := of_thing;
	following text;
	lesser text;
BEGIN
	FOR steps IN 1 .. 64 LOOP
		following := (SELECT value.new FROM @firm@.value
			WHERE value.thing = last AND value.field = 'joined');
		IF following IS NULL THEN
			RETURN last;
		END IF;
		last := following;
		lesser := least(lesser, last);
		EXIT WHEN last = of_thing;
	END LOOP;
	RETURN lesser;
END
$$;

CREATE INDEX value_of_removed ON value (thing) WHERE field = 'removed' AND new IS NOT NULL;

-- Things that are there: the last of all their changes did not take them out.
CREATE VIEW present AS
SELECT thing, kind, call FROM thing
WHERE NOT EXISTS (SELECT FROM value WHERE value.thing = thing.thing AND field = 'removed'
	AND new IS NOT NULL AND (thing.stamp IS NULL OR (value.stamp, value.book) > (thing.stamp, thing.book)));

-- Things that are joined into nothing.
CREATE VIEW standing AS
SELECT thing, kind, call FROM present
WHERE NOT EXISTS (SELECT FROM value WHERE value.thing = present.thing AND field = 'joined'
	AND new IS NOT NULL) OR stands_for(thing) = thing;

CREATE VIEW customers AS
SELECT thing AS customer, name, phone, email FROM standing
CROSS JOIN LATERAL (
	SELECT max(new) FILTER (WHERE field = 'name') AS name,
		max(new) FILTER (WHERE field = 'phone') AS phone,
		max(new) FILTER (WHERE field = 'email') AS email
	FROM value WHERE value.thing = standing.thing) AS said
WHERE kind = 1;

CREATE VIEW units AS
SELECT thing AS system, name, site, address, customer, customer_name FROM standing
CROSS JOIN LATERAL (
	SELECT max(new) FILTER (WHERE field = 'name') AS name,
		stands_for(max(new) FILTER (WHERE field = 'site')) AS site
	FROM value WHERE value.thing = standing.thing) AS said
LEFT JOIN LATERAL (
	SELECT max(new) FILTER (WHERE field = 'address') AS address,
		stands_for(max(new) FILTER (WHERE field = 'customer')) AS customer
	FROM value WHERE value.thing = site) AS place ON true
LEFT JOIN LATERAL (
	SELECT max(new) AS customer_name FROM value
	WHERE value.thing = customer AND field = 'name') AS owner ON true
WHERE kind = 3;

CREATE VIEW calls AS
SELECT thing AS call, said.*, customer_name, customer_phone, address FROM present
CROSS JOIN LATERAL (
	SELECT max(new) FILTER (WHERE field = 'job_number') AS job_number,
		max(new) FILTER (WHERE field = 'opened_at') AS opened_at,
		max(new) FILTER (WHERE field = 'closed_at') AS closed_at,
		max(new) FILTER (WHERE field = 'planned_at') AS planned_at,
		max(new) FILTER (WHERE field = 'billed_at') AS billed_at,
		max(new) FILTER (WHERE field = 'technician') AS technician,
		stands_for(max(new) FILTER (WHERE field = 'customer')) AS customer,
		stands_for(max(new) FILTER (WHERE field = 'site')) AS site,
		stands_for(max(new) FILTER (WHERE field = 'system')) AS system,
		max(new) FILTER (WHERE field = 'system.model') AS model,
		max(new) FILTER (WHERE field = 'system.serial') AS serial,
		max(new) FILTER (WHERE field = 'system.refrigerant') AS refrigerant,
		number_of(max(new) FILTER (WHERE field = 'system.factory_charge')) AS factory_charge,
		number_of(max(new) FILTER (WHERE field = 'system.manufacture_year')) AS manufacture_year,
		max(new) FILTER (WHERE field = 'complaint') AS complaint,
		max(new) FILTER (WHERE field = 'summary') AS summary,
		max(new) FILTER (WHERE field = 'office_note') AS office_note,
		max(new) FILTER (WHERE field = 'payment_terms') AS payment_terms,
		coalesce(number_of(max(new) FILTER (WHERE field = 'discount')), 0) / 1000 AS discount_percent,
		round(coalesce(number_of(max(new) FILTER (WHERE field = 'deposit')), 0) / 100, 2) AS deposit
	FROM value WHERE value.thing = present.thing) AS said
LEFT JOIN LATERAL (
	SELECT max(new) FILTER (WHERE field = 'name') AS customer_name,
		max(new) FILTER (WHERE field = 'phone') AS customer_phone
	FROM value WHERE value.thing = said.customer) AS who ON true
LEFT JOIN LATERAL (
	SELECT max(new) AS address FROM value
	WHERE value.thing = said.site AND field = 'address') AS place ON true
WHERE kind = 4;

-- One row a reading; `number` where it is one, in the book's own unit (°F, psig, ounces, …).
CREATE VIEW readings AS
SELECT present.thing AS call, split_part(field, '.', 1) AS stage, split_part(field, '.', 2) AS reading,
	new AS value, number_of(new) AS number,
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
SELECT call, said.* FROM present
CROSS JOIN LATERAL (
	SELECT max(new) FILTER (WHERE field = 'fault') AS fault,
		coalesce(max(new) FILTER (WHERE field = 'verdict'), 'confirmed') AS verdict,
		max(new) FILTER (WHERE field = 'why') AS why,
		max(new) FILTER (WHERE field = 'by') AS judged_by,
		max(new) FILTER (WHERE field = 'at') AS judged_at
	FROM value WHERE value.thing = present.thing) AS said
WHERE kind = 9;

-- Lines of the bill.  An amount is rounded to the cent once, half a cent away from zero.
CREATE VIEW work_lines AS
SELECT call, thing AS line, position, kind, description, quantity, unit_price, no_charge,
	CASE WHEN no_charge THEN 0.00 ELSE round(quantity * unit_price, 2) END AS amount
FROM (
	SELECT present.call, present.thing,
		coalesce(number_of(max(new) FILTER (WHERE field = 'position'))::integer, 0) AS position,
		coalesce(max(new) FILTER (WHERE field = 'kind'), 'labour') AS kind,
		max(new) FILTER (WHERE field = 'description') AS description,
		round(coalesce(number_of(max(new) FILTER (WHERE field = 'quantity')), 0) / 1000, 3) AS quantity,
		round(coalesce(number_of(max(new) FILTER (WHERE field = 'unit_price')), 0) / 100, 2) AS unit_price,
		coalesce(bool_or(new IS NOT NULL AND new <> '0') FILTER (WHERE field = 'no_charge'), false)
			AS no_charge
	FROM present JOIN value ON value.thing = present.thing
	WHERE present.kind = 6 GROUP BY present.call, present.thing) AS line;

-- The bill by class, as the report prints it: discount and tax of the printed
-- subtotal, each rounded once.
CREATE VIEW bill_classes AS
SELECT call, kind, subtotal, discount, tax_percent,
	round((subtotal - discount) * tax_percent / 100, 2) AS tax
FROM (
	SELECT class.call, kind, subtotal, round(subtotal * coalesce(discount, 0) / 100000, 2) AS discount,
		round(coalesce(tax, 0) / 1000, 3) AS tax_percent
	FROM (SELECT call, kind, sum(amount) AS subtotal FROM work_lines GROUP BY call, kind) AS class
	CROSS JOIN LATERAL (
		SELECT number_of(max(new) FILTER (WHERE field = 'discount')) AS discount,
			number_of(max(new) FILTER (WHERE field = 'tax_' || kind)) AS tax
		FROM value WHERE value.thing = class.call) AS rate) AS rated;

CREATE VIEW bills AS
SELECT calls.call, coalesce(subtotal, 0) AS subtotal, coalesce(discount, 0) AS discount,
	coalesce(tax, 0) AS tax, coalesce(subtotal - discount + tax, 0) AS total, deposit,
	coalesce(subtotal - discount + tax, 0) - deposit AS due
FROM calls LEFT JOIN LATERAL (
	SELECT sum(subtotal) AS subtotal, sum(discount) AS discount, sum(tax) AS tax
	FROM bill_classes WHERE bill_classes.call = calls.call) AS summed ON true;

CREATE VIEW unbilled_calls AS
SELECT calls.call, job_number, closed_at, technician, customer, customer_name, customer_phone,
	address, payment_terms, total, due
FROM calls JOIN bills ON bills.call = calls.call
WHERE closed_at IS NOT NULL AND billed_at IS NULL;

CREATE VIEW planned_calls AS
SELECT call, planned_at, technician, customer_name, customer_phone, address, complaint
FROM calls WHERE planned_at IS NOT NULL AND closed_at IS NULL;

-- Refrigerant added and recovered, ounces.  An entry without a time counts on its call's day.
CREATE VIEW refrigerant_moves AS
SELECT calls.call, calls.system, calls.customer_name, calls.address, coalesce(refrigerant, '') AS refrigerant,
	cylinder, at, substr(coalesce(at, opened_at), 1, 4) AS year, added, recovered,
	opened_at, coalesce(factory_charge, 0) AS charge, manufacture_year
FROM (
	SELECT present.call, max(new) FILTER (WHERE field = 'cylinder') AS cylinder,
		max(new) FILTER (WHERE field = 'at') AS at,
		coalesce(number_of(max(new) FILTER (WHERE field = 'added')), 0) AS added,
		coalesce(number_of(max(new) FILTER (WHERE field = 'recovered')), 0) AS recovered
	FROM present JOIN value ON value.thing = present.thing
	WHERE present.kind = 5 GROUP BY present.call, present.thing) AS move
JOIN calls ON calls.call = move.call
WHERE added > 0 OR recovered > 0;

CREATE VIEW refrigerant_by_year AS
SELECT year, refrigerant, sum(added) AS added, sum(recovered) AS recovered
FROM refrigerant_moves GROUP BY year, refrigerant;

CREATE VIEW refrigerant_by_cylinder AS
SELECT cylinder, year, refrigerant, sum(added) AS added, sum(recovered) AS recovered
FROM refrigerant_moves WHERE cylinder IS NOT NULL GROUP BY cylinder, year, refrigerant;

CREATE VIEW refrigerant_by_unit AS
SELECT system, max(customer_name) AS customer_name, max(address) AS address, year, refrigerant,
	sum(added) AS added, sum(recovered) AS recovered
FROM refrigerant_moves GROUP BY system, year, refrigerant;

-- The leak rate: what the calls of a year put into a unit beyond what they took
-- out, as a share of its charge.  The year in which a unit was made is its first filling.
CREATE VIEW leak_rates AS
SELECT system, max(customer_name) AS customer_name, max(address) AS address, year,
	max(refrigerant) AS refrigerant, sum(net) AS made_up, max(charge) AS charge,
	CASE WHEN max(charge) > 0 THEN round(100 * sum(net) / max(charge), 1) END AS leak_percent
FROM (
	SELECT call, system, customer_name, address, refrigerant, substr(opened_at, 1, 4) AS year, charge,
		manufacture_year, sum(added - recovered) AS net
	FROM refrigerant_moves
	GROUP BY call, system, customer_name, address, refrigerant, opened_at, charge,
		manufacture_year) AS moved
WHERE net > 0 AND (manufacture_year IS NULL OR number_of(year) > manufacture_year)
GROUP BY system, year;

-- Run capacitors of each unit as they were last left, or found where nothing
-- was left, against their rating: one that has lost 3 % or more is worth a call.
CREATE VIEW drifting_units AS
SELECT system, customer_name, customer_phone, address, part, opened_at, measured, rated,
	round(100 * (measured - rated) / rated, 1) AS percent
FROM (
	SELECT DISTINCT ON (calls.system, part) calls.*, part,
		number_of(coalesce(as_left, as_found)) AS measured, number_of(rated) AS rated
	FROM calls
	CROSS JOIN (VALUES ('compressor'), ('fan')) AS parts (part)
	CROSS JOIN LATERAL (
		SELECT max(new) FILTER (WHERE field = 'as_left.' || part || '_capacitance') AS as_left,
			max(new) FILTER (WHERE field = 'as_found.' || part || '_capacitance') AS as_found,
			max(new) FILTER (WHERE field = 'system.' || part || '_capacitor_rated') AS rated
		FROM value WHERE value.thing = calls.call) AS capacitor
	WHERE coalesce(as_left, as_found) IS NOT NULL AND rated IS NOT NULL
	ORDER BY calls.system, part, opened_at DESC) AS latest
WHERE rated > 0 AND measured <= 0.97 * rated;

CREATE VIEW declined_work AS
SELECT offer.call, calls.customer_name, calls.customer_phone, calls.address, title,
	price_low, price_high, decided_by, decided_at
FROM (
	SELECT present.call, max(new) FILTER (WHERE field = 'title') AS title,
		round(coalesce(number_of(max(new) FILTER (WHERE field = 'price_low')), 0) / 100, 2) AS price_low,
		round(coalesce(number_of(max(new) FILTER (WHERE field = 'price_high')), 0) / 100, 2) AS price_high,
		max(new) FILTER (WHERE field = 'decided_by') AS decided_by,
		max(new) FILTER (WHERE field = 'decided_at') AS decided_at,
		max(new) FILTER (WHERE field = 'decision') AS decision
	FROM present JOIN value ON value.thing = present.thing
	WHERE present.kind = 7 GROUP BY present.call, present.thing) AS offer
JOIN calls ON calls.call = offer.call
WHERE decision = 'declined';

-- Fields that two trucks changed without knowing of each other: both values are kept.
CREATE VIEW questions AS
SELECT coalesce(thing.call, thing.thing) AS about, question.thing, thing.kind, question.field,
	value.new AS counts_now
FROM question JOIN thing ON thing.thing = question.thing
LEFT JOIN value ON value.thing = question.thing AND value.field = question.field;

REVOKE ALL ON ALL TABLES IN SCHEMA @firm@ FROM PUBLIC;
REVOKE ALL ON ALL FUNCTIONS IN SCHEMA @firm@ FROM PUBLIC;
GRANT SELECT ON present, standing, customers, units, calls, readings, call_readings, findings,
	work_lines, bill_classes, bills, unbilled_calls, planned_calls, refrigerant_moves,
	refrigerant_by_year, refrigerant_by_cylinder, refrigerant_by_unit, leak_rates, drifting_units,
	declined_work, questions TO @firm@_truck, @firm@_reader;
GRANT EXECUTE ON FUNCTION stands_for(text), number_of(text) TO @firm@_truck, @firm@_reader;
