-- Rates have three decimals, as sales taxes have (8.875 %): thousandths of a
-- percent instead of hundredths.  Each value stays what it was.

UPDATE call SET tax_labour = tax_labour * 10, tax_part = tax_part * 10,
	tax_refrigerant = tax_refrigerant * 10, tax_fee = tax_fee * 10;

ALTER TABLE call ADD COLUMN discount_rate INTEGER NOT NULL DEFAULT 0
	CHECK (discount_rate BETWEEN 0 AND 100000);
UPDATE call SET discount_rate = discount * 10;
ALTER TABLE call DROP COLUMN discount;
ALTER TABLE call RENAME COLUMN discount_rate TO discount;
