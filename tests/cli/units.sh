#!/bin/sh
# Every output in the reader's units: a full call in SI shows no unit of the US
# system, and the other way round.  JSON and CSV name the unit beside each number.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

# Style sheets are no text.
strip() {
	sed -e '/<style>/,/<\/style>/d' "$out"
}

# What only the one system writes, behind a number or in a heading.
us='[0-9] ?(°F|psig|psi|in\. ?w\.c\.|in\.|oz|lb|ft|ton|tons|cfm|Btu/h|Btu/lb|Btu/Wh|inch|inches)([^a-zA-Z]|$)|°F|psig|in\. w\.c\.'
si='[0-9] ?(°C|K|kPa|Pa|mm|kg|m|L/s|m³/h|kJ/kg|W/W)([^a-zA-Z0-9]|$)|[0-9] g([^a-zA-Z]|$)|°C|kPa'

# Typed text and what a source is called stay as they were written.
cat >"$scratch/call.json" <<'END'
{"customer": {"name": "Mara Quill"}, "site": {"address": "Alder Court", "altitude": 1200},
 "system": {"refrigerant": "R-410A", "metering": "fixed_orifice", "compressor_motor": "psc",
  "nominal_capacity": 3, "seer": 13, "factory_charge": 104, "line_set_length": 40, "liquid_line_od": "3/8",
  "suction_line_od": "3/4", "target_subcooling": 10, "rated_voltage": 230, "compressor_rla": 14.1,
  "compressor_lra": 73, "fan_motor_fla": 1.3, "blower_motor_fla": 4.3, "compressor_capacitor_rated": 45,
  "fan_capacitor_rated": 5, "run_winding_rated": 0.8, "start_winding_rated": 3.1, "target_approach": 8,
  "precharged_length": 15, "charge_per_length": 0.6, "heat_output": 60000},
 "call": {"complaint": "No cooling", "opened_at": "2026-06-03T09:12"},
 "as_found": {"line_voltage": 236, "line_voltage_starting": 228, "control_voltage": 26,
  "compressor_capacitance": 27, "fan_capacitance": 5, "common_run_resistance": 0.8,
  "common_start_resistance": 3.1, "start_run_resistance": 3.9, "compressor_ground_resistance": 500,
  "winding_temp": 95, "shell_temp": 120, "compressor_state": "runs", "fan_state": "runs",
  "blower_state": "runs", "common_amps": 10.2, "fan_amps": 1.5, "blower_amps": 3.9, "unit_power": 2.7,
  "outdoor_db": 88, "suction_pressure": 108.5, "suction_line_temp": 58, "liquid_pressure": 340,
  "liquid_line_temp": 101, "discharge_line_temp": 178, "drier_in_temp": 101, "drier_out_temp": 100.5,
  "condenser_leaving_db": 106, "condenser_bend_temp": 104, "running_minutes": 20, "return_db": 78,
  "return_wb": 63, "supply_db": 63.5, "supply_wb": 58, "return_static": -0.35, "supply_static": 0.28,
  "filter_drop": 0.21, "coil_drop": 0.25, "airflow": 1180, "filter_condition": "loaded",
  "standing_pressure": 150, "standing_temp": 88},
 "as_left": {"compressor_capacitance": 45.2, "compressor_state": "runs", "outdoor_db": 90,
  "suction_pressure": 122, "suction_line_temp": 50, "liquid_pressure": 362, "liquid_line_temp": 99.5,
  "return_db": 76, "return_wb": 62.5, "supply_db": 57, "running_minutes": 18},
 "charge_log": [{"at": "2026-06-03T10:20", "added": 8.5, "suction_pressure": 118, "suction_line_temp": 55},
  {"at": "2026-06-03T10:50", "added": 4, "suction_pressure": 121, "suction_line_temp": 52}],
 "work": [{"kind": "part", "description": "Run capacitor", "quantity": 1, "unit_price": "61.00"}]}
END

run --units si assess "$scratch/call.json"
expect "assess in SI" 0
grep -nE "$us" "$out" >"$scratch/foreign"
check "assess in SI: no unit of the other system: $(head -n 3 "$scratch/foreign")" [ ! -s "$scratch/foreign" ]
run assess "$scratch/call.json"
check "assess in US units: no unit of the other system" is "$(grep -cE "$si" "$out")" 0

cat >"$scratch/low.json" <<'END'
{"system": {"refrigerant": "R-410A", "metering": "fixed_orifice", "nominal_capacity": 3, "seer": 13},
 "as_found": {"compressor_state": "runs", "outdoor_db": 88, "return_db": 78, "return_wb": 63,
  "suction_pressure": 95, "suction_line_temp": 66, "liquid_pressure": 300, "liquid_line_temp": 95,
  "supply_db": 66}}
END
run --units si assess "$scratch/low.json"
check "a difference is scaled without offset" grep -qE 'superheat: [0-9.]+ K, about [0-9.]+ K expected' "$out"
run assess "$scratch/low.json"
check "a difference in US units" grep -qE 'superheat: [0-9.]+ °F, about [0-9.]+ °F expected' "$out"

printf '{"as_found": {"return_db": 78, "return_wb": 86}}' >"$scratch/contradiction.json"
run --units si assess "$scratch/contradiction.json"
expect "a contradiction is in SI" 0 "return wet bulb 30.0 °C, return dry bulb 25.6 °C"

run record "$scratch/call.json"
expect "recorded" 0
id=$(cat "$out")
sed 's/2026-06-03/2027-06-10/g' "$scratch/call.json" >"$scratch/later.json"

walk() { # WHAT WORD…
	what=$1
	shift
	run --units si "$@"
	expect "$what in SI" 0
	strip | grep -nE "$us" >"$scratch/foreign"
	check "$what in SI: no unit of the other system: $(head -n 3 "$scratch/foreign")" [ ! -s "$scratch/foreign" ]
	run --units us "$@"
	expect "$what in US units" 0
	strip | grep -nE "$si" >"$scratch/foreign"
	check "$what in US units: no unit of the other system: $(head -n 3 "$scratch/foreign")" [ ! -s "$scratch/foreign" ]
}

for reader in customer office; do
	for format in text markdown html; do
		walk "the $reader's report as $format" export "$id" --for "$reader" --format "$format"
	done
done

# Advice that names a quantity; what the oil tells stands on the report too.
cat >"$scratch/much-air.json" <<'END'
{"customer": {"name": "Mara Quill"},
 "system": {"refrigerant": "R-410A", "metering": "fixed_orifice", "nominal_capacity": 3, "seer": 13},
 "as_found": {"compressor_state": "runs", "fan_state": "runs", "outdoor_db": 88, "suction_pressure": 135,
  "suction_line_temp": 66, "liquid_pressure": 340, "liquid_line_temp": 98, "running_minutes": 20,
  "return_db": 78, "return_wb": 63, "supply_db": 64.5, "airflow": 2100, "oil_condition": "dark"}}
END
run record "$scratch/much-air.json"
much=$(cat "$out")
walk "the report on much air" export "$much" --for office --format markdown
walk "its assessment" assess "$scratch/much-air.json"
run --units si export "$much" --for office --format markdown
expect "advice is in SI" 0 "Set 47 to 60 L/s a kW"
run export "$much" --for office --format markdown
expect "advice is in US units" 0 "Set 350 to 450 cfm a ton"
walk "show" show "$id"
system=$(sqlite3 "$book" 'SELECT uid FROM system LIMIT 1')
walk "history" history --system "$system"
walk "the ledger" ledger

close units
