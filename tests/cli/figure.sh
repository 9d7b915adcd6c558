#!/bin/sh
# padside figure: one calculation from words, from JSON lines, and the list.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

# R-410A at 118 psig and R-22 at 68.5 psig both boil at 40 °F in the trade's
# pressure-temperature charts (from memory): superheat is the line's
# temperature less 40 °F, to the charts' whole degrees.
run figure superheat refrigerant=R-410A suction_pressure=118 suction_line_temp=52
expect "in text, with unit and spread" 0 "superheat 12."
check "one line" is "$(wc -l <"$out")" 1
run figure superheat refrigerant=R-22 suction_pressure=68.5 suction_line_temp=50 --json
expect "as JSON" 0 '{"figure": "superheat", "value": 10.0'
check "as JSON: the members of the promise" grep -qE \
	'^\{"figure": "[a-z_]+", "value": [0-9.]+, "unit": "°F", "plus_minus": [0-9.]+\}$' "$out"

# The same reading in three units.
run figure superheat refrigerant=R-410A "suction_pressure=8.1358 bar" "suction_line_temp=11.111 C" --json
metric=$(sed 's/.*"value": \([0-9]*\.[0-9]\).*/\1/' "$out")
check "units behind the numbers are read" grep -q '"value": 12\.[0-9]' "$out"
run figure superheat refrigerant=R-410A suction_pressure=118 suction_line_temp=52 --json
check "a unit behind the number wins" is "$metric" "$(sed 's/.*"value": \([0-9]*\.[0-9]\).*/\1/' "$out")"
run --units si figure superheat refrigerant=R-410A suction_pressure=813.58 suction_line_temp=11.111
expect "bare numbers in SI when SI is asked for" 0 "K"
run figure superheat --units=si refrigerant=R-410A suction_pressure=813.58 suction_line_temp=11.111
expect "a global option behind the command" 0 "superheat 6.8 K"

run figure insulation_grade compressor_ground_resistance=OL insulation_test_volts=500
expect "over limit is an answer where it is one" 0 "insulation_grade good"
run figure line_set_liquid refrigerant=R-410A line_set_length=50 liquid_line_od=3/8 liquid_line_temp=100
expect "a fraction of an inch" 0 "line_set_liquid 26.1 oz"
run figure drier_drop drier_in_temp=95 drier_out_temp=91/1
expect "a fraction of anything else" 1 '"91/1" is two values'

run figure superheat refrigerant=R-410A suction_pressure=118
check "not evaluated: status 1" is "$status" 1
check "not evaluated: says why on standard error" holds "$err" "not evaluated: suction line temperature was not taken"
run figure superheat refrigerant=R-410A suction_pressure=118 --json
check "not evaluated as JSON: status 1" is "$status" 1
check "not evaluated as JSON: null and why" is "$(cat "$out")" \
	'{"figure": "superheat", "value": null, "why": "suction line temperature was not taken"}'
run figure common_amps_expected run_amps=OL
expect "over limit where no ohms are read" 1

run figure
expect "no figure named" 2 "figure --list"
run figure nonsense
expect "unknown figure" 2 'no figure "nonsense"'
run figure superheat nokey=1
expect "unknown reading" 1 'no reading called "nokey"'
run figure superheat suction_pressure
expect "no key=value" 1 "is not key=value"
run figure superheat suction_pressure=5000
expect "outside the hard limits" 1 "-14.6 to 600 psig"
run figure superheat suction_pressure=high
expect "no number" 1 "suction pressure"
run figure superheat refrigerant=R-0
expect "no such refrigerant" 1 "none of R-22, R-410A"
run figure superheat "$(printf 'x\033[31m=1')"
expect "terminal escapes in a key" 1
check "terminal escapes in a key: harmless" lacks "$err" "$(printf '\033')"

cat >"$scratch/lines" <<'END'
{"figure": "superheat", "readings": {"refrigerant": "R-22", "suction_pressure": 68.5, "suction_line_temp": "50 °F"}}
{"figure": "nonsense", "readings": {}}
{"figure": "superheat", "readings": {"refrigerant": "R-22"}}
{"figure": "superheat", "readings": {"refrigerant": "R-22", "suction_pressure": [
{"figure": "drier_drop", "readings": {"drier_in_temp": 95, "drier_out_temp": 94}}
END
head -n 3 "$scratch/lines" | "$program" figure - >"$out" 2>"$err"
check "JSON lines: one answer a line" is "$(wc -l <"$out")" 3
check "JSON lines: nothing on standard error" [ ! -s "$err" ]
check "JSON lines: a value" holds "$out" '"value": 10.0'
check "JSON lines: an error in its place" grep -q '^{"error": ' "$out"
check "JSON lines: not evaluated in its place" holds "$out" '"value": null'

run figure --list
expect "the list" 0
wanted=$(grep -c '^FIGURE(' include/padside/catalog/figures.def)
check "the list names every figure" is "$(grep -cE '^[a-z_]+' "$out")" "$wanted"
for word in needs formula source; do
	check "the list says each one's $word" is "$(grep -cE "^    $word +[^ ]" "$out")" "$wanted"
done
for figure in superheat target_superheat subcooling winding_sum_error seasonal_energy; do
	check "the list has $figure" grep -qE "^$figure( |\$)" "$out"
done

run figure --list --json
expect "the list as JSON" 0
check "one object a figure" is "$(wc -l <"$out")" "$(grep -c '^FIGURE(' include/padside/catalog/figures.def)"
check "the needs of superheat, in groups" holds "$out" \
	'"needs": [["refrigerant"],["suction_pressure"],["suction_line_temp"]]'
while read -r line; do
	printf 'SELECT json_valid(%s);\n' "'$(printf '%s' "$line" | sed "s/'/''/g")'"
done <"$out" | sqlite3 :memory: | sort -u >"$scratch/valid"
check "each is JSON to another reader" is "$(cat "$scratch/valid")" 1

# ---- What is assumed ----

run figure target_subcooling metering=txv
expect "an assumed target says so" 0 "target_subcooling 10.0 °F, assumed: usual target"
run figure target_subcooling metering=txv --json
expect "so in JSON" 0 '"assumed": "usual target"'
run figure target_subcooling metering=txv target_subcooling=8 --json
check "the maker's is not assumed" lacks "$out" assumed

# ---- What the value leaves out, and what is still in it ----

# NEC 440.33 adds every other load on the circuit: a package's blower is one, and not asked here.
run figure circuit_ampacity_needed compressor_rla=25 fan_motor_fla=2.4
expect "wire is not sized by compressor and fan alone" 0 "circuit_ampacity_needed 33.7 A: compressor and outdoor fan only; for a package add the blower; do not size wire by it alone"
run figure circuit_ampacity_needed compressor_rla=25 fan_motor_fla=2.4 min_circuit_ampacity=43
expect "the nameplate wins" 0 "circuit_ampacity_needed 43.0 A"
check "the nameplate counts the blower" lacks "$out" "do not size"
# Definition: static less filter and coil; without the coil's drop the coil is still in it.
run figure duct_static return_static=-0.3 supply_static=0.24 filter_drop=0.12 --json
expect "without the coil's drop it is not the ducts' alone" 0 '"name": "static of ducts and coil"'
run figure duct_static return_static=-0.5 supply_static=0.24 coil_drop=0.2 --json
expect "without the filter's neither" 0 '"name": "static, ducts and filter"'
run figure duct_static return_static=-0.5 supply_static=0.24 filter_drop=0.12 coil_drop=0.2 --json
check "with both it is" lacks "$out" '"name"'

close figure
