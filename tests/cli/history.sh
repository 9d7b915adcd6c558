#!/bin/sh
# padside history on the demo book: pages, JSON, comparisons, refusals.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

value() { # PATH: of the JSON answer, read by another program than ours
	sqlite3 :memory: "SELECT json_extract(CAST(readfile('$out') AS TEXT), '$1')"
}

run record demo/book.ndjson
expect "the demo is recorded" 0
last=$(tail -n 1 "$out")

run history --customer abara
expect "a customer's pages" 0 "Offered and not taken"
check "readings stand over the visits" \
	grep -q '^run capacitor deviation, %  *0.7  *-1.3  *-3.1  *-5.1$' "$out"
check "the drift is told" \
	grep -q 'run capacitor deviation (assumed -6 to 6 %): falling 1.9 % a year' "$out"
run history --customer oduya
check "what was read beyond its limit is not to pass it later" \
	is "$(tr '\n' ' ' <"$out" | grep -c '105 % since around January 2025 (by')" 0
run history --customer abara
check "a date that lies behind on the line keeps its range" grep -q 'at the latest' "$out"
check "the drift is plotted over its time" grep -q '^ *2023-05-23 .* 2026-05-19$' "$out"
check "the drift is plotted with its limit" grep -q 'limit$' "$out"
check "declined work is on the page" holds "$out" 'Replace the run capacitor now, 61.00'
check "lines stay short" is "$(wc -L <"$out")" 80
LC_ALL=C "$program" --book "$book" history --customer abara >"$scratch/plain"
check "plain terminals get the page" holds "$scratch/plain" "run capacitor deviation"
check "plain terminals get ASCII only" is "$(LC_ALL=C grep -c '[^ -~]' "$scratch/plain")" 0
run history --customer fennimore
check "visits that do not fit are counted" holds "$out" "1 earlier visit is not shown."
run history --customer oduya
check "what nobody decided was not refused" holds "$out" "Offered, not decided yet"
check "a limit that was read is expected" holds "$out" 'run capacitor deviation (expected -6 to 6 %)'
check "one that nobody read is assumed" holds "$out" 'total external static (assumed at most 0.5 in. w.c.)'
run history --customer oduya --units si
expect "in SI" 0
check "SI is shown when asked for" grep -q '^superheat over target, K .*7\.3→0\.3$' "$out"

run history --customer thistlewood --json
expect "as JSON" 0 '"'
check "a customer is one JSON object" is "$(wc -l <"$out")" 1
check "a customer is one JSON object: JSON to another program" is "$(value '$.name')" \
	"Owen Thistlewood"
run history --customer thistlewood
check "a unit that was taken out says so" holds "$out" "taken out on 2025-08-05"
check "its age stops there" holds "$out" "(27 years)"
check "what was declined on it says so too" grep -q '(the unit was taken' "$out"
run history --customer thistlewood --json
check "a unit that was taken out says so in JSON" is "$(value '$.systems[0].taken_out')" 2025-08-05
check "what was declined on it says so in JSON" is "$(value '$.declined[0].unit_taken_out')" 2025-08-05
check "the unit that took its place does not" is "$(value '$.systems[1].taken_out')" ""
run history --customer larkmere --json
check "every customer that matches is told" is "$(wc -l <"$out")" 13
run calls --customer library --json
machine=$(sed -n '1s/.*"system_id": *"\([^"]*\)".*/\1/p' "$out")
run history --system "$machine" --json
expect "a machine is found by its id" 0
check "a machine is found by its id: its readings" grep -q '"key": *"insulation"' "$out"
run history --system "$machine" --plots --all
check "all readings are shown when asked for" grep -q '^phase A current, A' "$out"

cat >"$scratch/units" <<'END'
{"customer": {"uid": "018064fd-db40-7a32-b2c7-20181a45f3aa", "name": "Ida Quill"}, "site": {"uid": "018064fd-db40-7a32-b2c7-20181a45f3ab", "address": "1 Low Lane"}, "system": {"uid": "018064fd-db40-7a32-b2c7-20181a45f3ac", "name": "attic", "taken_out": "2026-05-06"}, "call": {"opened_at": "2026-05-06T08:00"}, "watch": [{"text": "Fan bearing is loud"}]}
{"customer": {"name": "Jon Quillen"}, "system": {"name": "attic"}, "call": {"opened_at": "2026-05-06T08:00"}, "watch": [{"text": "Fan bearing is loud"}]}
END
run record "$scratch/units"
run history --customer "Ida Quill"
check "nothing is watched on a unit that was taken out" lacks "$out" "Fan bearing"
gone=018064fd-db40-7a32-b2c7-20181a45f3ac
run history --system "$gone"
check "nor on its own page" lacks "$out" "Fan bearing"
check "nor on its own page: which is there" holds "$out" "taken out on 2026-05-06"
run history --customer "Jon Quillen"
check "it is on one that is there" holds "$out" "Fan bearing"
cat >"$scratch/gone" <<'END'
{"customer": {"uid": "018064fd-db40-7a32-b2c7-20181a45f3aa", "name": "Ida Quill"}, "site": {"uid": "018064fd-db40-7a32-b2c7-20181a45f3ab", "address": "1 Low Lane"}, "system": {"uid": "018064fd-db40-7a32-b2c7-20181a45f3ac", "name": "attic", "taken_out": "2026-05-06"}, "call": {"opened_at": "2026-05-07T08:00"}}
END
run record "$scratch/gone"
run export "$(cat "$out")" --for office
check "nor on a later report" lacks "$out" "Fan bearing"
check "nor on a later report, which says why" holds "$out" "taken out on 2026-05-06"

run history --compare "$last"
expect "as found against as left" 0
check "as found is compared with as left" \
	grep -q '^run capacitor deviation  *-40.0 %  *0.4 %  *changed$' "$out"
run history --compare "$last" --json
expect "as found against as left, as JSON" 0
check "as JSON: what was before" is "$(value '$.before.stage')" as_found
check "as JSON: what came after" is "$(value '$.after.stage')" as_left
check "as JSON: both of this call" is "$(value '$.before.call') $(value '$.after.call')" "$last $last"
change() { # KEY MEMBER: of one change
	sqlite3 :memory: "SELECT json_extract(value, '\$.$2')
		FROM json_each(CAST(readfile('$out') AS TEXT), '\$.changes')
		WHERE json_extract(value, '\$.figure') = '$1' OR json_extract(value, '\$.reading') = '$1'"
}
# 100 · (27 − 45) / 45 and 100 · (45.2 − 45) / 45.
check "as JSON: a capacitor before" is "$(change compressor_capacitor_deviation before)" -40
check "as JSON: a capacitor after" is "$(change compressor_capacitor_deviation after | cut -c1-4)" 0.44
check "as JSON: a change beyond the meters" is "$(change compressor_capacitor_deviation real)" 1
check "as JSON: the difference is after less before" is "$(sqlite3 :memory: \
	"SELECT count(*) FROM json_each(CAST(readfile('$out') AS TEXT), '\$.changes')
	 WHERE abs(json_extract(value, '\$.after') - json_extract(value, '\$.before')
	 - json_extract(value, '\$.change')) > 1e-9")" 0
check "as JSON: the weather's target did not change" is "$(change target_superheat real)" 0
run calls --customer oduya
first=$(grep '2023-05-16' "$out" | cut -d' ' -f1)
run history --compare "$first" --with "$last"
expect "two visits" 0
check "two visits are compared" grep -q '^fan share of FLA  *93 %  *115 %  *changed$' "$out"

printf '{"customer": {"name": "Ada"}}' >"$scratch/in"
run record "$scratch/in"
run calls --customer Ada --json
machine=$(sed -n '1s/.*"system_id": *"\([^"]*\)".*/\1/p' "$out")
run history --system "$machine"
expect "a machine of somebody without a phone" 0
check "no comma stands behind the name" is "$(sed -n '/^Ada/p' "$out")" "Ada"

run history
expect "asking for nothing is wrong usage" 2
run history --customer nobody
expect "an unknown customer is told" 1 'no customer has "nobody"'
run history --system 01890a5d-ac96-774b-bcce-b302099a8057
expect "an unknown machine is told" 1

close history
