#!/bin/sh
# padside history on the demo book: pages, JSON, comparisons, refusals.
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
		echo "history: $1"
	fi
}

book="$place/book.db"
history() { LC_ALL=C.UTF-8 "$padside" --book "$book" history "$@"; }

"$padside" --book "$book" record demo/book.ndjson >"$place/ids"
verdict "the demo is recorded" $?

history --customer abara >"$place/page"
grep -q '^run capacitor deviation, %  *0.7  *-1.3  *-3.1  *-5.1$' "$place/page"
verdict "readings stand over the visits" $?
grep -q 'run capacitor deviation (wants -6 to 6 %): falling 1.9 % a year' "$place/page"
verdict "the drift is told" $?
grep -q '^ *2023-05-23 .* 2026-05-19$' "$place/page" && grep -q 'limit$' "$place/page"
verdict "the drift is plotted with its limit" $?
grep -q 'Declined' "$place/page" && grep -q 'Replace the run capacitor now, 61.00' "$place/page"
verdict "declined work is on the page" $?
awk 'length($0) > 400 { exit 1 }' "$place/page"
verdict "lines stay short" $?
LC_ALL=C "$padside" --book "$book" history --customer abara | LC_ALL=C grep -q '[^ -~]'
[ $? -eq 1 ]
verdict "plain terminals get ASCII only" $?
history --customer oduya --units si | grep -q '^superheat over target, K .*7\.3→0\.3$'
verdict "SI is shown when asked for" $?

[ "$(history --customer thistlewood --json | wc -l)" -eq 1 ]
verdict "a customer is one JSON object" $?
[ "$(history --customer larkmere --json | wc -l)" -eq 8 ]
verdict "every customer that matches is told" $?
machine=$("$padside" --book "$book" calls --customer library --json | sed -n '1s/.*"system_id": *"\([^"]*\)".*/\1/p')
history --system "$machine" --json | grep -q '"key": *"insulation"'
verdict "a machine is found by its id" $?
history --system "$machine" --plots --all | grep -q '^phase A current, A'
verdict "all readings are shown when asked for" $?

last=$(tail -1 "$place/ids")
history --compare "$last" | grep -q '^run capacitor deviation  *-40.0 %  *0.4 %  *changed$'
verdict "as found is compared with as left" $?
first=$("$padside" --book "$book" calls --customer oduya | grep '2023-05-16' | cut -d' ' -f1)
history --compare "$first" --with "$last" | grep -q '^fan share of FLA  *93 %  *115 %  *changed$'
verdict "two visits are compared" $?

history >/dev/null 2>&1
[ $? -eq 2 ]
verdict "asking for nothing is wrong usage" $?
history --customer nobody >"$place/out" 2>"$place/err"
[ $? -eq 1 ] && [ ! -s "$place/out" ] && grep -q 'no customer has "nobody"' "$place/err"
verdict "an unknown customer is told" $?
history --system 01890a5d-ac96-774b-bcce-b302099a8057 >/dev/null 2>&1
[ $? -eq 1 ]
verdict "an unknown machine is told" $?

echo "history: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
