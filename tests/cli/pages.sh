#!/bin/sh
# What the commands print of the demo book, whole: every line and every member of the JSON, as in
# tests/cli/pages/.  What was printed now is left in build/pages/: read the difference, then copy.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

pages=tests/cli/pages
printed=${BUILD:-build}/pages
rm -rf "$printed"
mkdir -p "$printed"

# Ages are counted to today, and today is another day.
same() { # NAME: what was printed is the page of that name
	sed -E 's/\([0-9]+ years?\)/(so many years)/; s/^(\$.*age_years) [0-9]+$/\1 N/' "$out" >"$printed/$1.txt"
	if ! cmp -s "$pages/$1.txt" "$printed/$1.txt"; then
		diff "$pages/$1.txt" "$printed/$1.txt" | head -n 12
	fi
	check "$1: as on its page" cmp -s "$pages/$1.txt" "$printed/$1.txt"
}

# Each member once, as it stands first, numbers to four digits, by another reader of JSON than ours.
members() {
	sqlite3 :memory: "SELECT fullkey || ' ' || CASE type WHEN 'real' THEN printf('%.4g', atom)
		ELSE coalesce(atom, type) END FROM json_tree(CAST(readfile('$out') AS TEXT))" >"$scratch/members"
	sed 's/\[[0-9]*\]/[]/g' "$scratch/members" | awk '!seen[$1]++' >"$out"
}

run record demo/book.ndjson
cp "$out" "$scratch/ids"
last=$(tail -n 1 "$out")
for customer in oduya thistlewood; do
	run history --customer $customer
	same "history-$customer"
	run history --customer $customer --json
	members
	same "history-$customer-json"
done
run history --customer abara --all --plots --units si
same history-all-si
run history --compare "$last"
same compare
run history --compare "$last" --json
members
same compare-json
run calls
same calls
run calls --json
head -n 2 "$out" | tail -n 1 >"$scratch/one" && mv "$scratch/one" "$out"
members
same calls-json
# ---- Reports ----

# The call of a line of the demo, for a reader, in units.
report() { # LINE READER UNITS
	run export "$(sed -n "$1p" "$scratch/ids")" --for "$2" --units "$3"
	same "report-$1-$2-$3"
}

report 19 office us
report 28 customer si
report 28 office si
report 36 customer us
report 36 office us

# ---- The ledger and figures ----

run ledger
same ledger
run ledger --json
head -n 1 "$out" >"$scratch/one" && mv "$scratch/one" "$out"
members
same ledger-json
run figure superheat refrigerant=R-410A suction_pressure=118 suction_line_temp=60
same figure
run figure superheat refrigerant=R-410A suction_pressure=118 suction_line_temp=60 --json
members
same figure-json
run figure superheat refrigerant=R-410A suction_pressure=118
cat "$err" >>"$out"
same figure-missing

# ---- Help, lists, refusals ----

: >"$scratch/all"
for command in calls find show export record assess figure history ledger prices settings sync office \
	merge backup verify; do
	run "$command" --help
	cat "$out" >>"$scratch/all"
done
run --help
cat "$out" "$scratch/all" >"$scratch/help" && mv "$scratch/help" "$out"
same help
run figure --list
same figure-list
run settings
same settings
run prices demo/prices.csv
cat "$out" >"$scratch/all"
run prices
cat "$out" >>"$scratch/all"
run prices --find 'capacitor 440'
cat "$scratch/all" "$out" >"$scratch/prices" && mv "$scratch/prices" "$out"
same prices

# What is refused, with its status and its whole sentence; nothing of it is answered.
: >"$scratch/all"
while read -r line; do
	# shellcheck disable=SC2086 # the words of the line
	eval run $line </dev/null
	printf 'padside %s\n  %s: ' "$line" "$status" >>"$scratch/all"
	sed "s|$scratch|SCRATCH|g; s|^padside: ||" "$err" >>"$scratch/all"
	check "$line: nothing is answered" [ ! -s "$out" ]
done <<'END'
colour
calls --colour
calls -x
calls extra
calls --since
calls --since soon
calls --customer
calls --format csv
calls --format
calls --json --format json
calls --json=yes
calls --units metric
calls --theme blue
calls --open=1
find
find a b
show
show a b
show nobody
export
export a b
export nobody
export nobody --format word
export nobody --for friend
export nobody --table sums
export nobody --since 2026-01-01
export nobody --table readings --format json
export nobody --bom
export nobody --table lines --format text
export --since 2026-01-01 --table report
export --since soon
export --until soon
export --until 2026-02-30
export --since 2026-01-01 --format text
export --since 2026-01-01 --format html --table lines
record
record a b
record /nowhere
assess
assess a b
assess /nowhere
assess - --format csv
assess -
figure
figure heat
figure superheat suction_pressure
figure superheat colour=red
figure superheat suction_pressure=much
figure superheat suction_pressure=6000
figure superheat refrigerant=R-410A
figure superheat=4
figure - a
find --fetch 7
find --fetch 7 name
history extra
history --customer nobody
history --system nobody
history --compare nobody
history --with nobody
history --compare
history --all --format csv
history --plots --json
ledger extra
ledger --csv --json
ledger --format html
prices a b
prices /nowhere
prices --find
prices demo/prices.csv --find x
settings colour
settings colour=red
settings company licence
settings tax_part=725 company=x
merge
merge a b
merge /nowhere
backup
backup a b
backup /nowhere/at/all
verify extra
office
office init
office billed
office billed nobody
office close
office init a b
sync a b
END
cp "$scratch/all" "$out"
same refusals

# ---- What readings mean ----

for line in 1 8 15 22 29 36; do
	sed -n "${line}p" demo/book.ndjson >"$scratch/call"
	run assess "$scratch/call"
	same "assess-$line"
done
run assess "$scratch/call" --units si
same assess-36-si
run assess demo/book.ndjson
{ echo '['; sed '$!s/$/,/' "$out"; echo ']'; } >"$scratch/one"
cp "$scratch/one" "$out"
members
same assess-json
# Every word that stands for a value, by its member.
sqlite3 :memory: "SELECT fullkey || ' ' || coalesce(atom, type) FROM
	json_tree(CAST(readfile('$scratch/one') AS TEXT)) WHERE type IN ('text', 'true', 'false', 'null')
	AND key NOT IN ('words', 'source')" | sed 's/\[[0-9]*\]/[]/g' | sort -u >"$out"
same assess-words
# A unit with a past of its own, readings that cannot all be right, and judgements.
cat >"$scratch/call" <<'END'
{"system": {"refrigerant": "R-410A", "metering": "txv", "nominal_capacity": 3, "compressor_rla": 17,
  "compressor_capacitor_rated": 45, "fan_motor_fla": 1.3, "rated_voltage": 230},
 "earlier": [
  {"opened_at": "2024-06-03", "as_found": {"outdoor_db": 85, "suction_pressure": 122, "suction_line_temp": 52,
   "liquid_pressure": 330, "liquid_line_temp": 94, "return_db": 75, "return_wb": 63, "supply_db": 55,
   "compressor_state": "running", "common_amps": 12}},
  {"opened_at": "2025-06-03", "as_found": {"outdoor_db": 88, "suction_pressure": 123, "suction_line_temp": 53,
   "liquid_pressure": 340, "liquid_line_temp": 97, "return_db": 75, "return_wb": 63, "supply_db": 55,
   "compressor_state": "running", "common_amps": 12.3}}],
 "as_found": {"outdoor_db": 95, "suction_pressure": 100, "suction_line_temp": 65, "liquid_pressure": 330,
  "liquid_line_temp": 99, "discharge_line_temp": 90, "return_db": 75, "return_wb": 80, "supply_db": 62,
  "compressor_state": "running", "common_amps": 10, "fan_state": "running", "line_voltage": 235,
  "compressor_ground_resistance": "OL", "common_run_resistance": "OL", "common_start_resistance": 2.3,
  "start_run_resistance": 3.1, "breaker_tripped": true, "compressor_capacitance": 41, "fan_amps": 1.5},
 "as_left": {"suction_pressure": 118, "suction_line_temp": 50, "fan_amps": 1.0},
 "judgement": [{"fault": "undercharge", "verdict": "confirmed"}, {"fault": "compressor_capacitor_weak",
  "verdict": "ruled_out", "why": "another can"}, {"fault": "contactor_worn", "verdict": "watch"}]}
END
run assess "$scratch/call"
same assess-past
run assess "$scratch/call" --json
members
same assess-past-json

# ---- Calls, rows, the past ----

run calls --open
same calls-open
run calls --customer oduya --since 2025-01-01
same calls-since
run history --customer oduya --plots
same history-plots
run history --system 018823c9-ae80-7e26-ac40-59fd03d04a43
same history-system
run history --compare "$last" --with "$(head -n 1 "$scratch/ids")" --units si
same compare-with
run ledger --units si
same ledger-si
run ledger --csv
same ledger-csv
run export --since 2024-01-01 --until 2026-12-31
same lines
run export "$last" --table readings
same readings
run export "$last" --table readings --units si
same readings-si
run export "$last" --table lines --bom
same lines-bom

run find larkmere
cp "$out" "$scratch/all"
run find nobody
cat "$out" >>"$scratch/all" && mv "$scratch/all" "$out"
same find
run figure --list --json
{ echo '['; sed '$!s/$/,/' "$out"; echo ']'; } >"$scratch/one" && mv "$scratch/one" "$out"
members
same figure-list-json
cat >"$scratch/questions" <<'END'
{"figure": "superheat", "readings": {"refrigerant": "R-410A", "suction_pressure": 118, "suction_line_temp": 60}}
{"figure": "heat"}

{"figure": "temperature_split", "readings": {"return_db": "24 °C", "supply_db": 55}}
{"figure": "superheat", "readings": {"suction_pressure": "much"}}
{"figure": "superheat"
{"figure": "subcooling"}
END
run figure - <"$scratch/questions"
cat "$err" >>"$out"
echo "status $status" >>"$out"
same figure-questions
cat >"$scratch/calls" <<'END'
{"as_found": {"suction_pressure": 118}, "system": {"refrigerant": "R-410A"}}
{"as_found": {"suction_presure": 118}}
{}
END
: >"$scratch/all"
while read -r line; do
	# shellcheck disable=SC2086 # the words of the line
	run figure $line
	{ printf 'padside figure %s\n' "$line"; cat "$out" "$err"; echo "status $status"; } >>"$scratch/all"
done <<'END'
target_subcooling metering=txv
target_subcooling metering=txv --json
superheat refrigerant=R-410A suction_pressure=814 suction_line_temp=16 --units si
superheat refrigerant=R-410A suction_pressure=118psig suction_line_temp=16C
insulation_grade compressor_ground_resistance=500
insulation_grade compressor_ground_resistance=OL --json
temperature_split return_db=75 supply_db=55 --json
superheat --json
superheat suction_pressure= refrigerant=R-410A
condenser_over_outdoor refrigerant=R-410A liquid_pressure=300 outdoor_db=85 altitude=5000
fan_capacitor_deviation fan_capacitance=4.5 fan_capacitor_rated=5
END
mv "$scratch/all" "$out"
same figures
run assess "$scratch/calls"
cat "$err" >>"$out"
echo "status $status" >>"$out"
sed -E 's/"not_evaluated".*/…/; s/([0-9]\.[0-9]{3})[0-9]+/\1/g' "$out" >"$scratch/one" && mv "$scratch/one" "$out"
same assess-calls
sed -n 2p "$scratch/calls" >"$scratch/call"
run assess "$scratch/call"
{ cat "$err"; echo "status $status"; } >"$scratch/all"
run assess "$scratch/call" --json
cat "$scratch/all" >>"$out"
same assess-refused
printf '{}' >"$scratch/call"
run assess "$scratch/call"
same assess-nothing

# A book with next to nothing in it.
book=$scratch/small.db
cat >"$scratch/call" <<'END'
{"customer": {"name": "Ada"}, "call": {"complaint": "warm", "opened_at": "2026-06-03T09:12"}}
{"customer": {"name": "Bo"}, "call": {"complaint": "?", "opened_at": "2025-06-03T09:12", "closed_at": "2025-06-03T10:12"},
 "work": [{"kind": "labour", "description": "Looked at it"}]}
END
run record "$scratch/call"
small=$(head -n 1 "$out")
: >"$scratch/all"
while read -r line; do
	# shellcheck disable=SC2086 # the words of the line
	eval run $line
	printf 'padside %s\n' "$line" >>"$scratch/all"
	sed -E 's/[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}/ID/g; s/[0-9a-f]{8}-[0-9a-f]{4}/ID/' \
		"$out" >>"$scratch/all"
done <<END
calls
calls --json
calls --since 2026-06-04
calls --open
find ada
ledger
ledger --csv
ledger --json
prices
prices --find x
history --customer ada
history --customer bo
history --compare $small
export $small --table lines
export $small --table readings
export --since 2026-06-03 --until 2026-06-03
verify
END
sed -i "s/$small/CALL/" "$scratch/all"
mv "$scratch/all" "$out"
same small

not_printed() {
	for page in "$pages"/*; do
		[ -e "$printed/$(basename "$page")" ] || printf '%s ' "$page"
	done
}
check "every page is printed by a command" is "$(not_printed)" ""

close pages
