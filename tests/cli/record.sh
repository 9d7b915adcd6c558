#!/bin/sh
# padside record: calls from JSON, all of them or none.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

record() { # JSON: through standard input
	printf '%s' "$1" >"$scratch/in"
	run record - <"$scratch/in"
}

is_id() {
	echo "$1" | grep -qE '^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$'
}

cat >"$scratch/call.json" <<'END'
{
  "customer": {"name": "Ada Winterbourne", "phone": "555-0101"},
  "site": {"address": "1 Mill Lane", "altitude": 600},
  "system": {"refrigerant": "R-22", "metering": "fixed_orifice", "nominal_capacity": 2.5},
  "call": {"complaint": "No cooling", "opened_at": "2026-06-03T09:12"},
  "as_found": {"suction_pressure": 58, "common_run_resistance": "OL", "suction_line_temp": "4.5 °C"},
  "as_left": {},
  "charge_log": [{"at": "2026-06-03T10:40", "recovered": 3.0}],
  "work": [{"kind": "part", "description": "Contactor", "quantity": 1, "unit_price": "12.50"}]
}
END

# ---- What is taken ----

run record "$scratch/call.json"
expect "one call, spread over lines" 0
check "its id, alone on a line" is_id "$(cat "$out")"
check "it is in the book" is "$(rows call)" 1
check "only its owner can read the book" is "$(stat -c %a "$book")" 600
run show "$(cat "$out")"
expect "the book shows it" 0 "Ada Winterbourne"

run record - <"$scratch/call.json"
expect "from standard input" 0
check "another id for another call" is "$(rows call)" 2

tr -d '\n' <"$scratch/call.json" >"$scratch/line"
{ cat "$scratch/line"; echo; echo; cat "$scratch/line"; echo; cat "$scratch/line"; } >"$scratch/lines"
run record "$scratch/lines"
expect "one call a line, blank lines between, no end of the last line" 0
check "one id a line" is "$(sort -u "$out" | wc -l)" 3
check "all of them are in the book" is "$(rows call)" 5
run record demo/book.ndjson
expect "the demo book" 0
check "the demo book: one id a call" is "$(wc -l <"$out")" "$(wc -l <demo/book.ndjson)"

# ---- What is refused, with the member's path, storing nothing ----

before=$(rows call)
readings=$(rows call_reading)

refused() { # WHAT JSON TEXT…
	what=$1
	record "$2"
	shift 2
	for text; do
		expect "$what" 1 "$text"
	done
	check "$what: nothing stored" is "$(rows call) $(rows call_reading)" "$before $readings"
}

name='"customer": {"name": "Ada"}'
refused "unknown part" "{$name, \"mood\": {}}" "mood: " "nothing was stored"
refused "unknown reading" "{$name, \"as_found\": {\"nope\": 1}}" "as_found.nope: "
refused "unknown member of a list" "{$name, \"work\": [{\"kind\": \"part\"}, {\"prize\": 1}]}" "work[1].prize: "
refused "true where a number is expected" "{$name, \"as_found\": {\"suction_pressure\": true}}" \
	"as_found.suction_pressure: "
refused "a list where a number is expected" "{$name, \"as_left\": {\"suction_pressure\": [58]}}" \
	"as_left.suction_pressure: "
refused "a number where a text is expected" "{\"customer\": {\"name\": 7}}" "customer.name: "
refused "words where a number is expected" "{$name, \"as_found\": {\"outdoor_db\": \"warm\"}}" \
	"as_found.outdoor_db: "
refused "outside the hard limits" "{$name, \"as_found\": {\"suction_pressure\": 1e9}}" \
	"as_found.suction_pressure: " "-14.6 to 600 psig"
refused "outside them with a unit" "{$name, \"as_found\": {\"suction_pressure\": \"99 bar\"}}" \
	"as_found.suction_pressure: "
refused "OL where no ohms are read" "{$name, \"as_found\": {\"line_voltage\": \"OL\"}}" \
	"as_found.line_voltage: "
refused "no such refrigerant" "{$name, \"system\": {\"refrigerant\": \"R-0\"}}" "system.refrigerant: "
refused "a text too long" "{\"customer\": {\"name\": \"$(head -c 200 /dev/zero | tr '\0' n)\"}}" "customer.name: "
refused "no such day" "{$name, \"call\": {\"opened_at\": \"2026-02-30T09:00\"}}" "call.opened_at: "
refused "a fraction of a cent" "{$name, \"work\": [{\"kind\": \"part\", \"unit_price\": \"1.005\"}]}" \
	"work[0].unit_price: "
refused "a member twice" "{$name, $name}" "customer"
refused "nobody's call" '{"as_found": {"suction_pressure": 58}}' "customer: "
refused "cut off in a string" '{"customer": {"name": "Ad' "in the middle of a string"
refused "cut off behind a value" "{$name" "nothing was stored"
refused "no JSON" 'hello' "nothing was stored"
refused "a list of calls" "[{$name}]" "nothing was stored"
refused "something behind it" "{$name} x" "nothing was stored"
refused "nothing" '' "no call in it"
refused "only blanks" '  
 ' "no call in it"
refused "not a number" "{$name, \"as_found\": {\"suction_pressure\": NaN}}" "as_found.suction_pressure"
refused "a number too large for any" "{$name, \"as_found\": {\"suction_pressure\": 1e999}}" \
	"as_found.suction_pressure"
refused "broken UTF-8" "$(printf '{"customer": {"name": "\377\376"}}')" "nothing was stored"
refused "half a surrogate pair" '{"customer": {"name": "\ud800"}}' "nothing was stored"
refused "the second of two" "{$name}
{$name, \"mood\": 1}" "call 2: mood: "
refused "terminal escapes in a member's name" '{"customer": {"name": "A"}, "\u001b[31mred": 1}' "no such"
check "terminal escapes in a member's name: harmless" lacks "$err" "$(printf '\033')"

head -c 100000000 /dev/zero | tr '\0' '[' >"$scratch/deep"
run record "$scratch/deep"
expect "100 MB of nesting" 1 "nothing was stored"
head -c 2000000 "$scratch/deep" >"$scratch/less"
run record "$scratch/less"
expect "2 MB of nesting" 1 "nothing was stored"
{ printf '{%s, "as_found": ' "$name"; head -c 100000 "$scratch/deep"; } >"$scratch/within"
run record "$scratch/within"
expect "nesting inside a part" 1 "as_found: "
rm "$scratch/deep"
check "nesting: nothing stored" is "$(rows call) $(rows call_reading)" "$before $readings"

run record /nowhere/call.json
expect "a file that is not there" 1 "/nowhere/call.json"
run record "$scratch"
expect "a folder" 1
run record
expect "no file named" 2 "record takes one file"
run record a b
expect "two files named" 2 "record takes one file"

run record --schema
# shellcheck disable=SC2016 # a dollar that is meant
expect "the schema" 0 '"$schema": "https://json-schema.org/draft/2020-12/schema"'
cmp -s "$out" schema/call.schema.json ||
	echo "the schema is behind the tables: run \`make man\` and commit schema/call.schema.json"
check "schema/call.schema.json in step with the tables" cmp -s "$out" schema/call.schema.json

close record
