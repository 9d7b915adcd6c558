#!/bin/sh
# padside ledger on the demo book: text, CSV, JSON.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

run record demo/book.ndjson
expect "the demo is recorded" 0

run ledger
expect "the ledger" 0
check "a year adds up" grep -q '^2025, R-410A  *176\.0  *159\.0  *17\.0$' "$out"
check "what was made up is a share of the charge" \
	grep -q '^Lucinda Park-Hale, upstairs, R-410A  *2025  *17\.0  *9\.7 %$' "$out"
run ledger --units si
expect "in SI" 0
check "grams are shown when asked for" grep -q '^N-0417, R-410A  *1446  *0  *1446$' "$out"
run ledger --csv
expect "as CSV" 0
check "a cylinder is a line of CSV" grep -q '^cylinder,R-0083,R-0083,R-22,,0,58,-58,,' "$out"
check "the years of the CSV add up to the book" \
	is "$(awk -F, '$1 == "year" { net += $8 } END { print net }' "$out")" 5.5
moved=$(sqlite3 "$book" "SELECT sum(coalesce(added, 0) - coalesce(recovered, 0)) FROM charge_entry")
check "the book says the same to another program" is "$moved" 5.5
run ledger --json
expect "as JSON" 0
check "JSON has the same" grep -q '"made_up": *17, *"factory_charge": *176' "$out"
run ledger --json --csv
expect "two forms at once are wrong usage" 2
book=$scratch/empty.db
run prices demo/prices.csv
expect "a book without a call" 0
run ledger
expect "an empty book says so" 0 'No refrigerant was moved yet'

close ledger
