#!/bin/sh
# padside assess: what is wrong, from JSON, stored nowhere.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

assess() { # JSON WORD…
	printf '%s' "$1" >"$scratch/in"
	shift
	run assess - "$@" <"$scratch/in"
}

value() { # PATH: of the JSON answer, read by another program than ours
	sqlite3 :memory: "SELECT json_extract(CAST(readfile('$out') AS TEXT), '$1')"
}

assess '{"as_found": {"compressor_ground_resistance": 0.05}}'
expect "in text" 0 "winding grounded to the shell"
check "in text: what to measure next" holds "$out" "What to measure next"
assess '{"as_found": {"compressor_ground_resistance": 0.05}}' --json
expect "as JSON" 0
check "as JSON: one line" is "$(wc -l <"$out")" 1
check "as JSON: the finding" is "$(value '$.findings[0].id')" winding_grounded
for member in family label probability level evidence advice caution; do
	check "as JSON: a finding has $member" [ -n "$(value "\$.findings[0].$member")" ]
done
for member in figure value expected unit leans; do
	check "as JSON: evidence has $member" holds "$out" "\"$member\": "
done
for member in reading why gain; do
	check "as JSON: a next check has $member" [ -n "$(value "\$.next_checks[0].$member")" ]
done
check "as JSON: not evaluated" is "$(value '$.not_evaluated[0]')" suction_saturation_temp

assess '{"as_found": {"oil_condition": "burnt"}}'
expect "in text: what is noted beside the findings, with its caution" 0 \
	"Burnt oil is acid: gloves and glasses, and keep it off the skin."
assess '{}' --json
expect "nothing read" 0 '"figures": {}'
check "nothing read: nothing found" is "$(value '$.findings')" '[]'

# ---- The classic calls ----
# How each fault shows is common practice of the trade; the signs of the
# refrigerant faults follow Rossi & Braun 1997 and Breuker & Braun 1998.

first() { # WHAT FAULT JSON
	assess "$3" --json
	check "$1" is "$(value '$.findings[0].id')" "$2"
}

psc='"compressor_motor": "psc", "metering": "fixed_orifice", "refrigerant": "R-410A", "nominal_capacity": 3,
 "rated_voltage": 230, "compressor_rla": 16.7, "compressor_lra": 82, "compressor_capacitor_rated": 45,
 "fan_motor_fla": 1.3'
sound='"line_voltage": 240, "control_voltage": 26, "common_run_resistance": 0.9,
 "common_start_resistance": 2.7, "start_run_resistance": 3.6, "compressor_ground_resistance": "OL"'

first "hums on a failed capacitor" compressor_capacitor_failed \
	"{\"system\": {$psc}, \"as_found\": {$sound, \"compressor_capacitance\": 27, \"compressor_state\": \"hums\", \"starting_amps\": 80, \"starting_seconds\": 8}}"
first "runs on a weak capacitor" compressor_capacitor_weak \
	"{\"system\": {$psc}, \"as_found\": {\"line_voltage\": 240, \"control_voltage\": 26, \"compressor_capacitance\": 40, \"compressor_state\": \"runs\"}}"
first "locked rotor on a sound capacitor" locked_rotor \
	"{\"system\": {$psc}, \"as_found\": {$sound, \"compressor_capacitance\": 45, \"compressor_state\": \"hums\", \"starting_amps\": 82, \"starting_seconds\": 6}}"
first "run winding open" winding_open_run \
	"{\"system\": {$psc}, \"as_found\": {\"line_voltage\": 240, \"compressor_state\": \"hums\", \"common_run_resistance\": \"OL\", \"common_start_resistance\": 2.7, \"start_run_resistance\": \"OL\", \"compressor_ground_resistance\": \"OL\"}}"
first "start winding open" winding_open_start \
	"{\"system\": {$psc}, \"as_found\": {\"line_voltage\": 240, \"compressor_state\": \"hums\", \"common_run_resistance\": 0.9, \"common_start_resistance\": \"OL\", \"start_run_resistance\": \"OL\", \"compressor_ground_resistance\": \"OL\"}}"
first "overload open on a hot shell" overload_open \
	"{\"system\": {$psc}, \"as_found\": {\"line_voltage\": 240, \"compressor_state\": \"silent\", \"shell_temp\": 210, \"common_run_resistance\": \"OL\", \"common_start_resistance\": \"OL\", \"start_run_resistance\": 3.6, \"compressor_ground_resistance\": \"OL\"}}"
first "no control voltage" no_control_voltage \
	"{\"system\": {$psc}, \"as_found\": {\"line_voltage\": 240, \"control_voltage\": 0, \"load_side_voltage\": 0, \"compressor_state\": \"silent\", \"fan_state\": \"silent\"}}"
first "low supply voltage" low_line_voltage \
	"{\"system\": {$psc}, \"as_found\": {\"line_voltage\": 196, \"control_voltage\": 21, \"compressor_state\": \"runs\"}}"
first "burnt lead" compressor_lead_open \
	"{\"system\": {$psc}, \"as_found\": {$sound, \"load_side_voltage\": 239, \"compressor_state\": \"silent\", \"fan_state\": \"runs\", \"common_amps\": 0, \"compressor_capacitance\": 45}}"

weather='"outdoor_db": 88, "return_db": 78, "return_wb": 63, "running_minutes": 20'
first "undercharge" undercharge \
	"{\"system\": {$psc}, \"as_found\": {$weather, \"suction_pressure\": 108.5, \"suction_line_temp\": 56.5, \"liquid_pressure\": 340, \"liquid_line_temp\": 101, \"supply_db\": 63.5}}"
first "overcharge" overcharge \
	"{\"system\": {$psc}, \"as_found\": {$weather, \"suction_pressure\": 132, \"suction_line_temp\": 46, \"liquid_pressure\": 425, \"liquid_line_temp\": 96, \"supply_db\": 58}}"

# ---- Readings that cannot all be right ----

# Physics: a thermometer in a wet wick shows no more than a dry one.
wrong='{"as_found": {"return_db": 70, "return_wb": 75}}'
assess "$wrong"
expect "a contradiction in text" 0 "cannot all be right"
check "a contradiction in text: which" holds "$out" "wet bulb"
assess "$wrong" --json
check "a contradiction as JSON" is "$(value '$.contradictions[1]')" ""
check "a contradiction as JSON: which" holds "$out" "wet bulb"
check "a contradiction as JSON: named" [ -n "$(value '$.contradictions[0]')" ]
assess '{"as_found": {"return_db": 75, "return_wb": 62}}' --json
check "readings that agree contradict nothing" is "$(value '$.contradictions')" "[]"
assess '{"as_found": {"return_db": 75, "return_wb": 62}}'
check "readings that agree contradict nothing, in text" lacks "$out" "cannot all be right"

# ---- The unit's own past, and what the explanations predict ----

plate='"system": {"refrigerant": "R-410A", "metering": "txv", "seer": 13, "target_subcooling": 10}'
usual='"compressor_state": "runs", "outdoor_db": 95, "return_db": 80, "return_wb": 67,
 "suction_pressure": 130, "suction_line_temp": 56, "supply_db": 61.5'
sound="{$usual, \"liquid_pressure\": 390, \"liquid_line_temp\": 103}"
today="{$usual, \"liquid_pressure\": 439, \"liquid_line_temp\": 112}"
visit="{\"opened_at\": \"2025-07-02T10:15\", \"as_left\": $sound}"

assess "{$plate, \"as_found\": $today, \"earlier\": [$visit, $visit]}" --json
check "own_past: what is not as on earlier visits" holds "$out" "above this unit's own, 2 visits"
check "earlier: the head gone up is found" is "$(value '$.findings[0].id')" low_outdoor_airflow
assess "{$plate, \"as_found\": $today}" --json
check "own_past: empty where nothing is known" is "$(value '$.own_past')" '[]'
assess "{$plate, \"as_found\": $today, \"earlier\": [$visit, {\"refit\": true, \"as_found\": $sound}]}" --json
check "earlier: a refit ends the past" is "$(value '$.own_past')" '[]'
assess "{$plate, \"as_found\": $today, \"earlier\": [{\"refit\": true, \"as_left\": $sound}]}" --json
check "earlier: what a refit left begins another past" holds "$out" "this unit's own, 1 visit"
assess "{\"earlier\": [{\"refit\": 2}]}"
expect "earlier: a refit is true or false" 1 "earlier[0].refit: true or false is expected"
assess '{"earlier": [{"as_found": {"suction_presure": 130}}]}'
expect "earlier: a wrong member is named" 1 "earlier[0].as_found.suction_presure: "
assess "{$plate, \"as_found\": $sound}" --json
check "predictions: a sound unit first" is "$(value '$.predictions[0].faults')" '[]'
check "predictions: the reading as it was typed" is \
	"$(value '$.predictions[0].readings.liquid_pressure.measured')" 390
check "predictions: it agrees" is "$(value '$.predictions[0].readings.liquid_pressure.agrees')" 1
for member in value plus_minus unit; do
	check "predictions: a reading has its $member" [ -n \
		"$(value "\$.predictions[0].readings.suction_line_temp.$member")" ]
done
assess "{$plate, \"as_found\": $today}" --json
check "predictions: explanations are named by their faults" holds "$out" '"faults": ["low_outdoor_airflow"]'
assess '{"as_found": {"compressor_state": "silent"}}' --json
check "predictions: none of a unit that stands" is "$(value '$.predictions')" '[]'

# ---- Several calls, bad ones among them ----

cat >"$scratch/lines" <<'END'
{"as_found": {"compressor_ground_resistance": 0.05}}
{"as_found": {"nope": 1}}
{"as_found": {"suction_pressure": 1e9}}
{"as_found": {
{}
END
run assess "$scratch/lines" --json
check "a bad line fails the whole" is "$status" 1
check "a bad line: nothing on standard error" [ ! -s "$err" ]
cat >"$scratch/cut" <<'END'
{"as_found": {"suction_pressure": 58}
{"as_found": {"return_db": 75, "supply_db": 55}}
{"as_found": {"suction_pressure": "58
{"as_found": {"suction_pressure":
{"as_found": {"return_db": 76, "supply_db": 55}}
END
run assess "$scratch/cut" --json
check "lines cut short: an answer to each" is "$(wc -l <"$out")" 5
check "lines cut short: each its own error" is "$(grep -c '^{"error"' "$out")" 3
check "lines cut short: the others are answered" holds "$out" '"value": 21'
sed -i '4d' "$scratch/lines"
run assess "$scratch/lines" --json
check "one answer a line" is "$(wc -l <"$out")" 4
check "the first is answered" is "$(sed -n 1p "$out" | cut -c1-12)" '{"figures": '
check "the second has its error, with the path" is "$(sed -n 2p "$out" | cut -c1-26)" '{"error": "as_found.nope: '
check "the third too" is "$(sed -n 3p "$out" | cut -c1-36)" '{"error": "as_found.suction_pressure'
check "those behind them are answered" is "$(sed -n 4p "$out" | cut -c1-12)" '{"figures": '
cp "$out" "$scratch/answers"
run assess "$scratch/lines"
check "several calls are answered one line each, also without --json" cmp -s "$out" "$scratch/answers"

head -c 100000000 /dev/zero | tr '\0' '[' | "$program" assess - --json >"$out" 2>"$err"
check "100 MB of nesting is answered with an error" grep -q '^{"error": ' "$out"

assess '{"as_found": {"nope": 1}}'
expect "one bad call in text" 1 "as_found.nope: "
run assess /nowhere/call.json
expect "a file that is not there" 1 "/nowhere/call.json"
run assess
expect "no file named" 2
check "no book was made" [ ! -e "$book" ]

close assess
