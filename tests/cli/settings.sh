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
run settings colour=red
expect "an unknown setting" 1 'no setting "colour=red"'
run settings energy_rate=-3
expect "a negative rate" 1 "number of 0 or more"

printf '%s' '{"customer": {"name": "Ada Winterbourne"}}' >"$scratch/in"
run record "$scratch/in"
run export "$(cat "$out")"
check "the head stands on the paper" holds "$out" "Larkmere Cooling"

close settings
