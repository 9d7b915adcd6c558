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
check "units are called so" holds "$out" "By unit, oz"
# 104 oz by weight and 0.6 oz for each of the 15 ft beyond the maker's: 52 of 113 oz.
check "the line set's charge counts" grep -q '^Odalys Brandt, house, R-410A  *2026  *52\.0  *46\.0 %$' "$out"
check "what was done beside it is marked" \
	is "$(sed -n '/^Odalys Brandt, house, R-410A  *2026/{n;p;}' "$out")" "    leak found, leak tested or evacuated"
check "a place of a leak alone is no repair" \
	is "$(sed -n '/^Maren Oduya, house, R-410A  *2026/{n;p;}' "$out")" "    leak found"
check "where nothing of it is on record there is no mark" \
	is "$(grep -A1 '^Lucinda Park-Hale, upstairs, R-410A  *2024' "$out" | grep -c '^    ')" 0
# A record of each movement: day, call, technician, cylinder (40 CFR 82.166: date, amount, who).
check "each movement has its day, call, technician and cylinder" \
	is "$(grep -A1 '^Odalys Brandt, house, R-410A  *0\.0  *61\.0$' "$out" | tail -1)" \
	"    2026-06-24, call 019ef8b2-5fa0, Imre Castellane, cylinder R-17"
check "a bottle that was filled gained" grep -q '^R-17, R-410A  *0\.0  *61\.0  *61\.0$' "$out"
check "a first filling is left out, and that is said" holds "$out" "first filling"
check "the ledger keeps to 80 columns" [ "$(wc -L <"$out")" -le 80 ]
run ledger --units si
expect "in SI" 0
check "grams are shown when asked for" grep -q '^N-0417, R-410A  *1446  *0  *-1446$' "$out"
run ledger --csv
expect "as CSV" 0
check "a cylinder is a line of CSV" grep -q '^cylinder,R-0083,R-0083,R-22,,0,58,-58,,' "$out"
check "the years of the CSV add up to the book" \
	is "$(awk -F, '$1 == "year" { net += $8 } END { print net }' "$out")" 57.5
check "the movements of the CSV add up to the same" \
	is "$(sed 's/"[^"]*"//g' "$out" | awk -F, '$1 == "move" { net += $8 } END { print net }')" 57.5
check "a movement is a line of CSV with its day and who" \
	grep -q '^move,019ef8b2-5fa0-.*,2026,0,61,-61,.*,2026-06-24,019ef8b2-5fa0,Imre Castellane,R-17' "$out"
moved=$(sqlite3 "$book" "SELECT sum(coalesce(added, 0) - coalesce(recovered, 0)) FROM charge_entry")
check "the book says the same to another program" is "$moved" 57.5
check "the share can be worked out again from the CSV" is "$(awk -F, '$1 == "made_up" && $(NF - 8) > 0 {
	rows++; x = 100 * $(NF - 9) / ($(NF - 8) + $(NF - 7)) - $(NF - 6); if (x > 1e-9 || x < -1e-9) wrong++ }
	END { print (rows > 2 ? "several" : rows + 0) " rows, " wrong + 0 " wrong" }' "$out")" "several rows, 0 wrong"
check "as many fields in every line" is "$(sed 's/"[^"]*"//g' "$out" | awk -F, '{ print NF }' | sort -u | wc -l)" 1
run ledger --json
expect "as JSON" 0
check "JSON has the marks" grep -q '"leak_found": *true, *"after_repair": *true' "$out"
check "JSON has the same" grep -q '"made_up": *17, *"factory_charge": *176' "$out"
run ledger --json --csv
expect "two forms at once are wrong usage" 2

# Blends by their own names; 32 of 128 oz is a quarter.  A charge that came out and went in
# again is no loss.
book=$scratch/blends.db
cat >"$scratch/blends.ndjson" <<'END'
{"customer": {"name": "Ada"}, "system": {"refrigerant": "R-407C", "factory_charge": 128}, "call": {"opened_at": "2026-06-03T09:12"}, "charge_log": [{"at": "2026-06-03T10:00", "added": 32, "cylinder": "B-1"}]}
{"customer": {"name": "Ben"}, "system": {"refrigerant": "R-454B", "factory_charge": 100}, "call": {"opened_at": "2026-06-04T09:12"}, "charge_log": [{"at": "2026-06-04T10:00", "recovered": 90, "cylinder": "R-9"}, {"at": "2026-06-04T11:00", "added": 100, "cylinder": "B-2"}]}
{"customer": {"name": "Dot"}, "system": {"refrigerant": "R-454B", "factory_charge": 100}, "call": {"opened_at": "2026-06-06T09:12"}, "as_found": {"leak_place": "none found"}, "charge_log": [{"at": "2026-06-06T10:00", "added": 5, "cylinder": "B-2"}]}
{"customer": {"name": "Cid"}, "system": {"refrigerant": "R-407C", "factory_charge": 128}, "call": {"opened_at": "2026-06-05T09:12"}, "charge_log": [{"at": "2026-06-05T10:00", "recovered": 60, "cylinder": "R-9"}, {"at": "2026-06-05T11:00", "added": 60, "cylinder": "B-1"}]}
END
run record "$scratch/blends.ndjson"
expect "four calls with blends" 0
run ledger
check "a quarter of the charge" grep -q '^Ada, R-407C  *2026  *32\.0  *25\.0 %$' "$out"
check "a tenth of the charge" grep -q '^Ben, R-454B  *2026  *10\.0  *10\.0 %$' "$out"
check "a leak that was not found is not marked as found" \
	is "$(sed -n '/^Dot, R-454B  *2026/{n;p;}' "$out" | grep -c 'leak found')" 0
check "taken out and put back is no loss" is "$(grep -c '^Cid, R-407C  *2026' "$out")" 0
check "one cylinder by its refrigerants" is "$(grep -c '^R-9, R-' "$out")" 2
check "a blend in its year" grep -q '^2026, R-407C  *92\.0  *60\.0  *32\.0$' "$out"

book=$scratch/back.db
sed -n '/"Cid"/p' "$scratch/blends.ndjson" >"$scratch/back.ndjson"
run record "$scratch/back.ndjson"
run ledger
check "where nothing was made up nothing is said of it" is "$(grep -c 'beyond recovery' "$out")" 0

book=$scratch/empty.db
run prices demo/prices.csv
expect "a book without a call" 0
run ledger
expect "an empty book says so" 0 'No refrigerant was moved yet'

close ledger
