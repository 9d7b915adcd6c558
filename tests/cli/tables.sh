#!/bin/sh
# Readings and bills as rows: read by another program than ours, and held
# against what the report prints.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

# Asks the rows of a file a question, in SQL; the table is `t`.
ask() { # FILE QUESTION
	sqlite3 :memory: '.mode csv' ".import '$1' t" '.mode list' "$2" 2>&1
}

run record demo/book.ndjson
cp "$out" "$scratch/ids"
latest=$(tail -n 1 "$out")

# ---- Lines ----

run export "$latest" --table lines
expect "lines of one call" 0 "call_number,call_id,date,customer_id,customer,address,technician,kind"
cp "$out" "$scratch/lines.csv"
run export "$latest" --table lines --format csv
check "the same when the format is said" cmp -s "$out" "$scratch/lines.csv"
check "days as ISO has them" is \
	"$(ask "$scratch/lines.csv" "SELECT count(*) FROM t WHERE date NOT GLOB '20??-[01]?-[0-3]?'")" 0
check "whose they are" is \
	"$(ask "$scratch/lines.csv" "SELECT count(*) FROM t WHERE call_id <> '$latest' OR customer_id = ''")" 0

# A bill with everything: a discount, taxes of three decimals, a gift, a credit, a deposit.
cat >"$scratch/bill.json" <<'END'
{"customer": {"name": "Ada Winterbourne"}, "call": {"opened_at": "2026-02-03T09:12", "job_number": "J-77"},
 "billing": {"tax": {"part": 8.875, "labour": 6.5}, "discount": 3.333, "deposit": "20.00"},
 "work": [{"kind": "part", "description": "Capacitor", "quantity": 1, "unit_price": "46.55"},
  {"kind": "part", "description": "=HYPERLINK(\"x\")", "quantity": 3, "unit_price": "0.35"},
  {"kind": "part", "description": "Returned contactor", "quantity": 1, "unit_price": "-18.35"},
  {"kind": "labour", "description": "Hours", "quantity": 1.25, "unit_price": "129.99"},
  {"kind": "fee", "description": "Call, \"evening\"", "quantity": 1, "unit_price": "89.00"},
  {"kind": "part", "description": "Cap", "quantity": 1, "unit_price": "4.00", "no_charge": true}]}
END
run record "$scratch/bill.json"
bill=$(cat "$out")
run export "$bill" --table lines
cp "$out" "$scratch/bill.csv"
run export "$bill"
cents="printf('%.2f', sum(total))"
balance=$(sed -n 's/^  Balance to pay  *//p' "$out")
check "the totals add up to the balance of the report" is \
	"$(ask "$scratch/bill.csv" "SELECT $cents FROM t")" "$balance"
check "without the deposit to its total" is \
	"$(ask "$scratch/bill.csv" "SELECT $cents FROM t WHERE kind <> 'deposit'")" \
	"$(sed -n 's/^  Total  *//p' "$out")"
check "the tax on parts is the report's" is \
	"$(ask "$scratch/bill.csv" "SELECT printf('%.2f', sum(tax)) FROM t WHERE tax_class = 'part'")" \
	"$(sed -n 's/^  Tax on parts, .* //p' "$out")"
check "so is the discount on labour" is \
	"$(ask "$scratch/bill.csv" "SELECT printf('%.2f', -sum(discount)) FROM t WHERE kind = 'labour'")" \
	"$(sed -n 's/^  Discount on labour, .* //p' "$out")"
check "each row adds up" is "$(ask "$scratch/bill.csv" "SELECT count(*) FROM t WHERE
	abs(list - discount - amount) > 0.0001 OR abs(amount + tax - total) > 0.0001 OR
	abs(round(quantity * unit_price, 2) - list) > 0.0051")" 0
check "a gift keeps its price, and all of it is taken off" is "$(ask "$scratch/bill.csv" \
	"SELECT unit_price, list, discount_percent, discount, amount, tax, total FROM t WHERE description = 'Cap'")" \
	"4.00|4.00|100|4.00|0.00|0.00|0.00"
check "hours are hours, the rest is each" is \
	"$(ask "$scratch/bill.csv" "SELECT group_concat(DISTINCT kind || ' ' || unit) FROM t")" \
	"part each,labour hour,fee each,deposit each"
check "refrigerant is in ounces" is \
	"$(ask "$scratch/lines.csv" "SELECT unit || ' ' || quantity FROM t WHERE kind = 'refrigerant'")" "oz 8.5"
cat >"$scratch/washed.json" <<'END'
{"customer": {"name": "Ada Winterbourne"}, "call": {"opened_at": "2026-03-03T09:12"},
 "work": [{"kind": "labour", "description": "Outdoor coil washed", "quantity": 1, "unit_price": "0.00"}]}
END
run record "$scratch/washed.json"
run export "$(cat "$out")" --table lines
cp "$out" "$scratch/washed.csv"
check "a line that only says what was done sells no hours" is "$(ask "$scratch/washed.csv" \
	"SELECT description || ':' || quantity || ':' || unit || ':' || total FROM t")" "Outdoor coil washed:::0.00"
# ISO 4217: USD, EUR, CAD.
check "the currency by its code" is "$(ask "$scratch/bill.csv" 'SELECT DISTINCT currency FROM t')" USD
run settings 'currency=€'
run export "$bill" --table lines
check "of another sign too" is "$(grep -c ',EUR,' "$out")" 7
run settings 'currency=$' currency_code=CAD
run export --since 2026-02-03 --until 2026-02-03
check "of one that was set" is "$(grep -c ',CAD,' "$out")" 7
run settings currency_code=dollars
expect "what is no code" 1 "three capital letters"
run settings currency_code=
check "rates have their decimals" is \
	"$(ask "$scratch/bill.csv" "SELECT DISTINCT tax_percent FROM t WHERE kind = 'part' AND list + 0 <> 0")" 8.875
check "the firm's number" is "$(ask "$scratch/bill.csv" 'SELECT DISTINCT call_number FROM t')" J-77
check "no formula" is "$(ask "$scratch/bill.csv" "SELECT description FROM t WHERE description LIKE '%HYPER%'")" \
	"'=HYPERLINK(\"x\")"

# ---- Readings ----

run export "$latest" --table readings
expect "readings of one call" 0 "stage,reading,label,number,word,unit,taken_at,in_doubt"
cp "$out" "$scratch/us.csv"
run --units si export "$latest" --table readings
cp "$out" "$scratch/si.csv"
run export "$latest" --format json
pressure=$(sed -n 's/.*"as_left": {.*"suction_pressure": \([0-9.]*\).*/\1/p' "$out")
check "a number as it was typed, its unit beside it" is \
	"$(ask "$scratch/us.csv" "SELECT number || ' ' || unit FROM t
		WHERE stage = 'as_left' AND reading = 'suction_pressure'")" "$pressure psig"
# NIST SP 811: 1 psi is 6.894757 kPa.
check "in SI units" is \
	"$(ask "$scratch/si.csv" "SELECT abs(number - $pressure * 6.894757) < 0.5, unit FROM t
		WHERE stage = 'as_left' AND reading = 'suction_pressure'")" "1|kPa"
check "a number or a word" is \
	"$(ask "$scratch/us.csv" "SELECT count(*) FROM t WHERE (number = '') = (word = '')")" 0
check "every number is one" is \
	"$(ask "$scratch/us.csv" "SELECT count(*) FROM t WHERE number GLOB '*[^-0-9.e]*'")" 0
check "times as ISO has them" is "$(ask "$scratch/us.csv" "SELECT count(*) FROM t WHERE
	taken_at <> '' AND taken_at NOT GLOB '20??-??-??T??:??*'")" 0
check "the unit's plate is there once" is \
	"$(ask "$scratch/us.csv" "SELECT count(*) FROM t WHERE reading = 'refrigerant' AND stage = 'system'")" 1

# ---- A period ----

run export --since 2000-01-01 --format csv
expect "everything since" 0
cp "$out" "$scratch/all.csv"
check "every call with a bill is there" is "$(ask "$scratch/all.csv" 'SELECT count(DISTINCT call_id) FROM t')" \
	"$(rows call WHERE 'id IN (SELECT call FROM work_line)')"
check "every line too" is "$(ask "$scratch/all.csv" "SELECT count(*) FROM t WHERE kind <> 'deposit'")" \
	"$(rows work_line)"
check "oldest first" is "$(ask "$scratch/all.csv" 'SELECT date FROM t' | sort -c && echo sorted)" sorted
run export --since 2026-02-03 --until 2026-02-03 --table lines
check "a day of its own" is "$(grep -c J-77 "$out")" 7
run export --since 2026-02-04 --until 2026-02-28 --table lines
check "not in the days after" lacks "$out" J-77
run export --until 2026-02-02 --table readings
expect "readings of a period" 0 "stage,reading"
run export --since 2026-02-03 --until 2026-02-03 --bom --output "$scratch/month.csv"
expect "into a file, with a mark" 0
check "the mark is UTF-8's" is "$(head -c 3 "$scratch/month.csv" | od -An -tx1 | tr -d ' ')" efbbbf
run export --since 2026-02-03 --until 2026-02-03
check "no mark unasked" is "$(head -c 4 "$out")" call

# ---- What does not go together ----

run export
expect "nothing named" 2 "one call"
run export "$latest" --since 2026-01-01
expect "a call and a period" 2 "one call"
run export --since 2026-01-01 --format html
expect "a period as a page" 2 "csv"
run export --since 2026-01-01 --table report
expect "a period as a report" 2 "--table lines"
run export --since yesterday
expect "no date" 2 "2026-06-03"
run export "$latest" --table legs
expect "no such table" 2 "readings or lines"
run export "$latest" --bom
expect "a mark on text" 2 "csv"

close tables
