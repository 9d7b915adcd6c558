#!/bin/sh
# padside prices: in from CSV, out as the same CSV, all or nothing.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

run prices demo/prices.csv
expect "the demo's list is imported" 0
check "how many prices there were" is "$(cat "$out")" "28 prices"
run prices
expect "the list" 0 'part,CAP-45/5,"Dual capacitor 45 + 5 µF, 440 V",44.00'
check "the list is printed as CSV, a line each and its head" is "$(wc -l <"$out")" 29
cp "$out" "$scratch/list.csv"
run prices "$scratch/list.csv"
expect "what was printed reads back" 0 "28 prices"
run prices
check "what was printed reads back the same" cmp "$out" "$scratch/list.csv"
run prices --find 'capacitor 45'
expect "the list is searched by words" 0 "CAP-45"
check "the list is searched by words: what has them all" is "$(wc -l <"$out")" 3

printf 'kind,code,description,unit_price\npart,A,b,1\npart,B,b,free\n' >"$scratch/bad.csv"
run prices "$scratch/bad.csv"
expect "a bad price is refused with its line" 1 'line 3: unit_price'
printf 'kind,code,description,unit_price\npart,A,b,1\npart,a,b,2\n' >"$scratch/bad.csv"
run prices "$scratch/bad.csv"
expect "a code that stands twice is refused with its line" 1 \
	'line 3: the code "a" stands on line 2 already'
run prices "$scratch/none.csv"
expect "a file that is not there is told" 1 'cannot be read'
run prices
check "the list stayed as it was" cmp "$out" "$scratch/list.csv"
run prices one two
expect "two files are wrong usage" 2

close prices
