#!/bin/sh
# A book whose rates have two decimals, as the first two versions of its schema
# kept them, is opened with the same rates.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

id() { # LAST TWO DIGITS
	echo "019f0a5d-ac96-774b-bcce-b302099a80$1"
}

{
	cat schema/0001_*.sql schema/0002_*.sql
	cat <<-EOF
		PRAGMA user_version = 2;
		PRAGMA application_id = 1885430899;
		INSERT INTO customer (id, uid, name, phone, email, changed_at)
			VALUES (1, '$(id 01)', 'Ada Winterbourne', '', '', '2026-06-03T09:00:00');
		INSERT INTO site (id, uid, customer, address, changed_at)
			VALUES (1, '$(id 02)', 1, '', '2026-06-03T09:00:00');
		INSERT INTO system (id, uid, site, name, changed_at)
			VALUES (1, '$(id 03)', 1, '', '2026-06-03T09:00:00');
		INSERT INTO call (uid, customer, site, system, complaint, summary, office_note, opened_at,
			tax_labour, tax_part, tax_refrigerant, tax_fee, discount, deposit, cooling_hours,
			energy_rate, found_line, done_line, changed_at)
			VALUES ('$(id 04)', 1, 1, 1, '', '', '', '2026-06-03T09:00:00', 0, 825, 700, 10000, 1250, 0,
			0, 0, '', '', '2026-06-03T09:00:00');
	EOF
} | sqlite3 "$book"

run export "$(id 04)" --format json
expect "the old book opens" 0
check "taxes are what they were" holds "$out" '"tax": {"part": 8.25, "refrigerant": 7, "fee": 100}'
check "the discount is what it was" holds "$out" '"discount": 12.5'
check "the book holds thousandths" test \
	"$(sqlite3 "$book" 'SELECT tax_part, discount FROM call')" = "8250|12500"

close rates
