#!/bin/sh
# padside settings: the head of the paper, and what a new call starts with.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

run settings
expect "looking makes no book" 1 "no book yet"
check "and none is there" [ ! -e "$book" ]

run settings 'company=Larkmere Cooling\n12 Mill Lane\nLicence 0000' currency=EUR tax_part=7.25
expect "several at once" 0
run settings
expect "all are listed" 0 "company="
check "each says what it is for" holds "$out" "full-load cooling hours"
check "lines are shown as they are typed" holds "$out" 'company=Larkmere Cooling\n12 Mill Lane\nLicence 0000'
check "a percentage is kept as it was typed" holds "$out" "tax_part=7.25"
run settings tax_part
expect "one alone" 0
check "one alone: its value and no more" is "$(cat "$out")" 7.25
run settings colour
expect "one that is not there" 1 'no setting "colour"'

run settings tax_fee=5 tax_labour=lots
expect "all or nothing" 1 "tax_labour takes a percentage"
run settings
check "nothing of it was kept" lacks "$out" "tax_fee=5"
run settings company licence
expect "a key alone among several" 1 "company needs a value, as in company=VALUE; nothing was changed"
run settings colour=red
expect "an unknown setting" 1 'no setting "colour=red"'
run settings energy_rate=-3
expect "a negative rate" 1 "energy_rate takes 0 to 1000"

# What a call would refuse is refused here, since a new call starts with it.
for value in tax_part=725 tax_part=-5 tax_labour=100.001 cooling_hours=1e9 cooling_hours=8785 energy_rate=1001; do
	run settings "$value"
	expect "$value is refused" 1 "${value%%=*} takes 0 to "
done
run settings tax_part=8.8755
expect "a fourth decimal is refused" 1 "at most three decimals"
run settings tax_part=8.875 cooling_hours=8784 energy_rate=1000 tax_labour=100
expect "the ends of the ranges" 0
run settings tax_labour=0
expect "none" 0

printf '%s' '{"customer": {"name": "Ada Winterbourne"}}' >"$scratch/in"
run record "$scratch/in"
named=$(cat "$out")
run export "$named"
check "the head stands on the paper" holds "$out" "Larkmere Cooling"
check "without a phone nobody is told to call" lacks "$out" "call us"
check "and the one who exports is told so" holds "$err" "note: the company setting has no phone number"
run export "$named" --for office
check "the office is not" [ ! -s "$err" ]
run settings 'company=Larkmere Cooling\nLarkmere 90210-1234\nTel. 555-0199'
run export "$named" --format markdown
check "with a phone the report says whom to call" holds "$out" "call us (Tel."
check "and nothing is noted" [ ! -s "$err" ]


# 8.875 % of 46.50 is 4.126875.  Rates reach the paper with all their decimals.
printf '%s' '{"customer": {"name": "Ada Winterbourne"}, "billing": {"tax": {"part": 8.875}},
	"work": [{"kind": "part", "description": "Capacitor", "quantity": 1, "unit_price": "46.50"}]}' >"$scratch/in"
run record "$scratch/in"
call=$(cat "$out")
run export "$call"
check "three decimals stand on the paper" holds "$out" "Tax on parts, 8.875 % of 46.50"
check "and are worked out" holds "$out" "4.13"
run export "$call" --format json
check "and in the data" holds "$out" '"part": 8.875'

# ---- One's own meters ----

run settings 'meters=voltmeter 0.3 V + 0.5 %; clamp_meter 1.5 %'
expect "meters" 0
run settings meters
expect "as they were typed" 0 "voltmeter 0.3 V + 0.5 %; clamp_meter 1.5 %"
run settings 'meters=crystal_ball 1 %'
expect "an instrument that is none" 1 "there is no instrument"
run settings 'meters=voltmeter good'
expect "an accuracy that is none" 1 "it is given as 0.5 V + 1 %"
run settings 'meters=voltmeter -1'
expect "an accuracy below 0" 1 "not below 0"
run settings meters=
expect "the usual ones again" 0

# ---- Who works on it, and the picture ----

run settings 'technician=Robin Vale' licence=0417 certification=U-20731 'payment_terms=Within 14 days' \
	'warranty=One year on parts' 'terms=Prices hold 30 days'
expect "people and terms" 0
run settings "licence=$(printf '%050d' 1)"
expect "a licence longer than a call holds" 1 "licence takes at most 39 characters"
echo words >"$scratch/words.png"
run settings "logo=$scratch/words.png"
expect "a logo that is no picture" 1 "neither a PNG nor a JPEG picture"
run settings "logo=$scratch/none.png"
expect "a logo that is not there" 1 "cannot be the logo"
run settings logo=words.png
expect "a logo without its whole path" 1 "whole path"
# The smallest PNG: one grey pixel.
printf '%s' iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg== |
	base64 -d >"$scratch/logo.png"
run settings "logo=$scratch/logo.png"
expect "a logo" 0
run export "$call" --format html
check "the logo is in the page" holds "$out" 'src="data:image/png;base64,iVBORw0KGgoAAAANSUhEUg'
check "the warranty too" holds "$out" "One year on parts"
rm "$scratch/logo.png"
run export "$call" --format html
expect "a logo that went away stops no report" 0 "One year on parts"

# ---- Tune-up lists of one's own ----

run settings 'checklists=Autumn check: outdoor_db; Gutter cleared\nWinter check: Burner cleaned'
expect "lists of one's own" 0
run settings checklists
expect "each on its line" 0 "Winter check: Burner cleaned"
run settings 'checklists=Autumn check'
expect "a list without items" 1 'write it as "Name: item; item"'
run settings "checklists=Long: $(printf '%01030d' 1)"
expect "a list longer than a call holds" 1 "more than 1023 characters"
run settings checklists
expect "what was there stays" 0 "Gutter cleared"
printf '%s' '{"customer": {"name": "Ada Winterbourne"}, "call": {"checklist": "Spring check, split system"}}' >"$scratch/in"
run record "$scratch/in"
run export "$(cat "$out")" --for office
expect "a planned call brings its list by name" 0 "Spring check, split system: 2"
printf '%s' '{"customer": {"name": "Ada Winterbourne"}, "call": {"checklist": "Moon check"}}' >"$scratch/in"
run record "$scratch/in"
run export "$(cat "$out")" --for office
expect "a list that nobody knows is said" 0 'cannot be read as a list'

# ---- Words to choose from ----

run settings theme=purple
expect "a theme that there is not" 1 "auto, light, dark or mono"
run settings theme=dark
expect "a theme" 0
run settings theme=
expect "no theme of one's own any more" 0

close settings
