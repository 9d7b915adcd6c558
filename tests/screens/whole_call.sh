#!/bin/sh
# One whole call typed by hand into the real program at 80 by 24: a compressor
# that hums and trips.  Half-way the program is killed without warning, and
# opened again; every value that stood as kept must be in the book and on the
# screen.  Then the work, the findings and the paper.
#
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/../cli/lib"

# shellcheck source=tests/screens/lib
. "$(dirname "$0")/lib"

why=$(no_terminal_here)
if [ -n "$why" ]; then
	fail "tmux" "$why"
	close whole-call
	exit
fi

write() { # TEXT: types it and goes on
	terminal send-keys -t work -l -- "$1"
	press Enter
}

# Goes to a field of the sheet by its label: down, and when it was not there, up.
go_to() {
	for way in Down Up; do
		for _ in $(seq 45); do
			is_at "$1" && return 0
			before=$(inked)
			press "$way"
			[ "$(inked)" = "$before" ] && break
		done
	done
	is_at "$1"
}

# Goes to a field, also to one that is folded away.
go_to_any() { # LABEL
	go_to "$1" && return 0
	press M-m
	go_to "$1"
}

# What the book holds of the newest call, read by another program.
in_book() { # STAGE KEY
	sqlite3 "$book" "SELECT coalesce(word, CAST(number AS TEXT), state) FROM call_reading
		WHERE stage = '$1' AND key = '$2' AND call = (SELECT max(id) FROM call)"
}

is_counted() { # TABLE NUMBER
	[ "$(rows "$1")" = "$2" ]
}

holds_value() { # STAGE KEY VALUE
	[ "$(in_book "$1" "$2")" = "$3" ]
}

# Takes a reading by hand: a row "step|stage|label|typed|key|stored|shown".
take() {
	if [ "$step" != "$at_step" ]; then
		press "$step"
		at_step=$step
	fi
	if ! go_to_any "$label"; then
		give_up "the sheet has no $label"
	fi
	case $at_stage,$stage in
	as_found,as_left) press Right; at_stage=$stage ;;
	as_left,as_found) press Left; at_stage=$stage ;;
	esac
	write "$typed"
	if within holds_value "$stage" "$key" "$stored"; then
		pass
	else
		give_up "$stage $label: $typed is not in the book as $stored"
	fi
}

# Nothing behind a field that cannot be written makes sense.
give_up() { # WHY
	screen >"$out"
	fail "the call" "$1"
	sed 's/^/  /' "$out"
	close whole-call
	exit 1
}

take_all() { # FILE, in a workbook that stands as found
	at_step=
	at_stage=as_found
	while IFS='|' read -r step stage label typed key stored shown <&3; do
		take
	done 3<"$1"
}

# One's own short texts are read when the workbook starts.
export XDG_CONFIG_HOME="$scratch/config"
mkdir -p "$XDG_CONFIG_HOME/padside"
echo "hum = Hums, then trips." >"$XDG_CONFIG_HOME/padside/short-texts"

# ---- The call, typed ----

cat >"$scratch/first" <<'END'
F3|system|refrigerant|R-410A|refrigerant|R-410A|R-410A
F3|system|metering device|fixed|metering|fixed_orifice|fixed orifice
F3|system|compressor motor|psc|compressor_motor|psc|PSC
F3|system|nominal capacity|3|nominal_capacity|3.0|3.0
F3|system|liquid line OD|3/8|liquid_line_od|0.375|0.375
F3|system|rated voltage|230|rated_voltage|230.0|230
F3|system|compressor RLA|16.7|compressor_rla|16.7|16.7
F3|system|compressor LRA|82|compressor_lra|82.0|82.0
F3|system|condenser fan FLA|1.3|fan_motor_fla|1.3|1.30
F3|system|run capacitor, rated|45|compressor_capacitor_rated|45.0|45.0
F4|as_found|disconnect locked out|y|disconnect_locked|yes|yes
F4|as_found|meter proved live, before|y|meter_proved_before|yes|yes
F4|as_found|power proved off|y|power_off_verified|yes|yes
F4|as_found|meter proved live, after|y|meter_proved_after|yes|yes
F4|as_found|capacitors discharged|y|capacitor_discharged|yes|yes
F4|as_found|terminal cover checked|y|terminal_cover_checked|yes|yes
F5|as_found|line voltage|241v|line_voltage|241.0|241.0
F5|as_found|control voltage|26.4|control_voltage|26.4|26.4
F5|as_found|run capacitor, measured|27|compressor_capacitance|27.0|27.0
F6|as_found|common – run|0.9|common_run_resistance|0.9|0.90
F6|as_found|common – start|2.7|common_start_resistance|2.7|2.70
F6|as_found|start – run|3.6|start_run_resistance|3.6|3.60
F6|as_found|windings to shell|OL|compressor_ground_resistance|over_limit|OL
F7|as_found|compressor|hums|compressor_state|hums|hums
F7|as_found|condenser fan|runs|fan_state|runs|runs
F7|as_found|starting amps|81|starting_amps|81.0|81.0
F7|as_found|time at starting amps|5|starting_seconds|5.0|5.0
END
cat >"$scratch/second" <<'END'
F5|as_left|run capacitor, measured|45.1|compressor_capacitance|45.1|45.1
F7|as_left|compressor|runs|compressor_state|runs|runs
F7|as_left|common current|13.2|common_amps|13.2|13.2
F7|as_found|condenser fan current|1.5|fan_amps|1.5|1.50
F7|as_left|condenser fan current|1.5|fan_amps|1.5|1.50
F8|as_found|outdoor dry bulb|88|outdoor_db|88.0|88.0
F8|as_found|suction pressure|108.5|suction_pressure|108.5|108.5
F8|as_found|liquid pressure|340|liquid_pressure|340.0|340.0
F8|as_found|suction line temperature|56.5 F|suction_line_temp|56.5|56.5
F8|as_found|liquid line temperature|101|liquid_line_temp|101.0|101.0
F9|as_found|return dry bulb|78|return_db|78.0|78.0
F9|as_found|return wet bulb|63|return_wb|63.0|63.0
F9|as_found|supply dry bulb|63.5|supply_db|63.5|63.5
F8|as_left|outdoor dry bulb|88|outdoor_db|88.0|88.0
F8|as_left|suction pressure|122|suction_pressure|122.0|122.0
F8|as_left|liquid pressure|362|liquid_pressure|362.0|362.0
F8|as_left|suction line temperature|50|suction_line_temp|50.0|50.0
F8|as_left|liquid line temperature|99.5|liquid_line_temp|99.5|99.5
F9|as_left|return dry bulb|78|return_db|78.0|78.0
F9|as_left|return wet bulb|63|return_wb|63.0|63.0
F9|as_left|supply dry bulb|56|supply_db|56.0|56.0
END

begin_terminal 80 24
check "the workbook opens" open_workbook
check "it has 80 by 24" is "$(terminal display-message -p -t work '#{pane_width} #{pane_height}')" "80 24"
press C-n
check_screen "a new call" "customer, site, complaint"
write "Maren Oduya"
check_screen "the customer's name stands" "Maren Oduya"
check "the customer's name is in the book" within is_counted "customer WHERE name = 'Maren Oduya'" 1
check "the sheet has the complaint" go_to complaint
write "hum"
check "a short text of one's own stands for its sentence in the book" within is_counted "call WHERE complaint = 'Hums, then trips.'" 1

take_all "$scratch/first"
check_screen "the so-far line names the capacitor" "capacitor"

# Refused: what was typed stays, and nothing is kept.
check "the sheet has the common current" go_to "common current"
write "99999"
check_screen "a refused value stays with a sentence" "99999"
check "a refused value is not in the book" is "$(in_book as_found common_amps)" ""
press Escape

# ---- Killed in the middle of a word ----

check "the sheet has the fan's current" go_to "condenser fan current"
terminal send-keys -t work -l 7
check "half a value stands on the screen" within sees_row "^.condenser fan current +7 "
kill -KILL "$(terminal display-message -p -t work '#{pane_pid}')"
check "the book is whole" is "$(sqlite3 "$book" 'PRAGMA integrity_check')" ok
check "opened again" open_workbook
check_screen "the call is found again" "Maren Oduya"
press Enter
check_screen "and opens" "Hums, then trips."
at_step=
while IFS='|' read -r step stage label typed key stored shown <&3; do
	[ "$step" = "$at_step" ] || press "$step"
	at_step=$step
	go_to_any "$label" || give_up "the sheet has no $label after the kill"
	screen >"$out"
	check "after the kill: $stage $label is in the book" holds_value "$stage" "$key" "$stored"
	check "after the kill: $stage $label on the screen" grep -qE -e "^.$label +$shown( |\$)" "$out"
done 3<"$scratch/first"
check "after the kill: what was not kept is not there" is "$(in_book as_found fan_amps)" ""

# ---- The work, and what it comes to ----

take_all "$scratch/second"
press F10
press Left
check_screen "findings: the capacitor" "run capacitor failed"
check_screen "findings: the charge" "low refrigerant charge"
press Right
check_screen "findings as left: the fan's motor" "fan motor draws too much"
press w
check "noted for next time" within is_counted "watch_item WHERE fault = 'fan_motor_overloaded'" 1

press F12
write 3
check "refrigerant added, with its time" within is_counted "charge_entry WHERE added = 3 AND at IS NOT NULL" 1
press C-n
write 2.5
check "and once more" within is_counted charge_entry 2
press Tab
press Left
write part
write "Run capacitor 45 µF"
write 1
write 34.50
check "the part is in the book" within is_counted "work_line WHERE kind = 'part' AND unit_price = 3450" 1
press C-n
press Left
write labour
write "Valve core replaced, charge set"
write 1
write 95
check "the labour is in the book" within is_counted "work_line WHERE kind = 'labour' AND unit_price = 9500" 1

press C-p
check "the paper has its lines" go_to "this call is"
write closed
check "the call is closed" within is_counted "call WHERE closed_at IS NOT NULL" 1
press C-q
check "the workbook ends" within is_over

call=$("$program" --book "$book" calls | sed 's/ .*//;q')
run calls --customer oduya
expect "the call in the history" 0 "run capacitor failed"
run export "$call"
expect "its paper" 0 "Maren Oduya"
for words in "Hums, then trips." "Run capacitor failed" "Low refrigerant charge" "R-410A" \
	"as found" "as left" "Outdoor fan motor draws too much" "Run capacitor 45 µF" "5.5 oz added" "What we will look at again" \
	"129.50"; do
	check "its paper says: $words" holds "$out" "$words"
done
run figure superheat refrigerant=R-410A suction_pressure=108.5 suction_line_temp=56.5
superheat=$(sed 's/superheat \([0-9.]*\) .*/\1/' "$out")
check "the readings give a superheat" [ -n "$superheat" ]
run export "$call"
check "its paper has the superheat that the readings give" holds "$out" "$superheat °F"
run verify
expect "the book is sound" 0

close whole-call
