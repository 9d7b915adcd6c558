-- The leak rate counts what the line set holds too, as the book's ledger does.

SET LOCAL search_path TO @firm@;

-- What the line set of a call's unit holds beyond the factory charge, ounces: the
-- maker's rate for each foot beyond the length that was charged at the factory.
-- Nothing where one of the three is not on record.
CREATE FUNCTION line_set_charge(of_call text) RETURNS numeric
LANGUAGE sql STABLE SET search_path = @firm@, pg_temp AS $$
	SELECT CASE WHEN beyond < 0 THEN 0 ELSE beyond * per_foot END FROM (
		SELECT max(number_of(new)) FILTER (WHERE field = 'system.line_set_length')
			- max(number_of(new)) FILTER (WHERE field = 'system.precharged_length') AS beyond,
			max(number_of(new)) FILTER (WHERE field = 'system.charge_per_length') AS per_foot
		FROM value WHERE thing = of_call) AS line_set
$$;

-- What the calls of a year put into a unit beyond what they took out, as a share of
-- its charge.  The year in which a unit was made is its first filling.
DROP VIEW leak_rates;
CREATE VIEW leak_rates AS
SELECT system, max(customer_name) AS customer_name, max(address) AS address, year,
	max(refrigerant) AS refrigerant, sum(net) AS made_up, max(charge) AS charge,
	max(line_set) AS line_set,
	CASE WHEN max(charge) > 0
		THEN round(100 * sum(net) / (max(charge) + coalesce(max(line_set), 0)), 1) END AS leak_percent
FROM (
	SELECT call, system, customer_name, address, refrigerant, substr(opened_at, 1, 4) AS year, charge,
		manufacture_year, line_set_charge(call) AS line_set, sum(added - recovered) AS net
	FROM refrigerant_moves
	GROUP BY call, system, customer_name, address, refrigerant, opened_at, charge,
		manufacture_year) AS moved
WHERE net > 0 AND (manufacture_year IS NULL OR number_of(year) > manufacture_year)
GROUP BY system, year;

REVOKE ALL ON leak_rates FROM PUBLIC;
REVOKE ALL ON FUNCTION line_set_charge(text) FROM PUBLIC;
GRANT SELECT ON leak_rates TO @firm@_truck, @firm@_reader;
GRANT EXECUTE ON FUNCTION line_set_charge(text) TO @firm@_truck, @firm@_reader;
