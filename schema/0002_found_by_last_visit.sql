-- Finding as one types: whoever was visited last stands first.
--
-- The index of parts is walked from its newest end, so that a search stops at
-- the lines it shows, however many customers have the text.  A customer's row
-- there is the second of the last visit × 2^24 + customer.id; the newest calls
-- of all who have a text are then those of the first so many rows.  Each field
-- begins behind two line ends: one or two letters are looked up together with
-- these as the beginning of a field.

ALTER TABLE customer ADD COLUMN found_as INTEGER NOT NULL DEFAULT 0; -- its rowid in customer_search

DROP INDEX customer_by_name;
DROP INDEX customer_by_phone;
DROP INDEX site_by_address;

UPDATE customer SET found_as = coalesce((SELECT CAST(strftime('%s', max(opened_at)) AS INTEGER)
	FROM call WHERE call.customer = customer.id), 0) * 16777216 + id;

DELETE FROM customer_search;

INSERT INTO customer_search (rowid, words) SELECT found_as,
	char(10, 10) || name || char(10, 10) || phone || char(10, 10) ||
	replace(replace(replace(replace(replace(phone, '-', ''), ' ', ''), '(', ''), ')', ''), '.', '') ||
	char(10, 10) || email || char(10, 10) ||
	coalesce((SELECT group_concat(address, char(10, 10)) FROM site WHERE customer = customer.id
		OR id IN (SELECT site FROM call WHERE call.customer = customer.id)), '') || char(10, 10) ||
	coalesce((SELECT group_concat(word, char(10, 10)) FROM (SELECT DISTINCT word
		FROM call JOIN call_reading ON call_reading.call = call.id
		WHERE call.customer = customer.id AND stage = 'system' AND key IN ('model', 'serial'))), '')
	FROM customer;
