#!/bin/sh
# padside prices: in from CSV, out as the same CSV, all or nothing.
set -u
cd "$(dirname "$0")/../.." || exit 1
padside=$PWD/${BUILD:-build}/padside
place=$(mktemp -d) || exit 1
trap 'rm -rf "$place"' EXIT
passed=0
failed=0

verdict() { # WHAT EXIT-STATUS
	if [ "$2" -eq 0 ]; then
		passed=$((passed + 1))
	else
		failed=$((failed + 1))
		echo "prices: $1"
	fi
}

book="$place/book.db"
prices() { "$padside" --book "$book" prices "$@"; }

[ "$(prices demo/prices.csv)" = "28 prices" ]
verdict "the demo's list is imported" $?
prices >"$place/out.csv"
[ "$(wc -l <"$place/out.csv")" -eq 29 ] && grep -q '^part,CAP-45/5,"Dual capacitor 45 + 5 µF, 440 V",44.00' "$place/out.csv"
verdict "the list is printed as CSV" $?
prices "$place/out.csv" >/dev/null && prices | cmp -s - "$place/out.csv"
verdict "what was printed reads back the same" $?
[ "$(prices --find 'capacitor 45' | wc -l)" -eq 3 ]
verdict "the list is searched by words" $?

printf 'kind,code,description,unit_price\npart,A,b,1\npart,B,b,free\n' >"$place/bad.csv"
prices "$place/bad.csv" >"$place/said" 2>"$place/complaint"
[ $? -eq 1 ] && [ ! -s "$place/said" ] && grep -q 'line 3: unit_price' "$place/complaint"
verdict "a bad price is refused with its line" $?
printf 'kind,code,description,unit_price\npart,A,b,1\npart,a,b,2\n' >"$place/bad.csv"
prices "$place/bad.csv" 2>&1 | grep -q 'line 3: the code "a" stands on line 2 already'
verdict "a code that stands twice is refused with its line" $?
prices "$place/none.csv" 2>&1 | grep -q 'cannot be read'
verdict "a file that is not there is told" $?
prices | cmp -s - "$place/out.csv"
verdict "the list stayed as it was" $?
prices one two >/dev/null 2>&1
[ $? -eq 2 ]
verdict "two files are wrong usage" $?

echo "prices: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
