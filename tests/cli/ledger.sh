#!/bin/sh
# padside ledger on the demo book: text, CSV, JSON.
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
		echo "ledger: $1"
	fi
}

book="$place/book.db"
ledger() { LC_ALL=C.UTF-8 "$padside" --book "$book" ledger "$@"; }

"$padside" --book "$book" record demo/book.ndjson >/dev/null || exit 1
ledger | grep -q '^2025, R-410A  *176\.0  *159\.0  *17\.0$'
verdict "a year adds up" $?
ledger | grep -q '^Lucinda Park-Hale, upstairs, R-410A  *2025  *17\.0  *9\.7 %$'
verdict "what was made up is a share of the charge" $?
ledger --units si | grep -q '^N-0417, R-410A  *1446  *0  *1446$'
verdict "grams are shown when asked for" $?
ledger --csv | grep -q '^cylinder,R-0083,R-0083,R-22,,0,58,-58,,'
verdict "a cylinder is a line of CSV" $?
[ "$(ledger --csv | awk -F, '$1 == "year" { net += $8 } END { print net }')" = "5.5" ]
verdict "the years of the CSV add up to the book" $?
ledger --json | grep -q '"made_up": *17, *"factory_charge": *176'
verdict "JSON has the same" $?
ledger --json --csv >/dev/null 2>&1
[ $? -eq 2 ]
verdict "two forms at once are wrong usage" $?
"$padside" --book "$place/empty.db" prices demo/prices.csv >/dev/null
"$padside" --book "$place/empty.db" ledger | grep -q 'No refrigerant was moved yet'
verdict "an empty book says so" $?

echo "ledger: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
