#!/bin/sh
# What the commands print of the demo book, whole: every line and every member of the JSON, as in
# tests/cli/pages/.  What was printed now is left in build/pages/: read the difference, then copy.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

pages=tests/cli/pages
printed=${BUILD:-build}/pages
rm -rf "$printed"
mkdir -p "$printed"

# Ages are counted to today, and today is another day.
same() { # NAME: what was printed is the page of that name
	sed -E 's/\([0-9]+ years?\)/(so many years)/; s/^(\$.*age_years) [0-9]+$/\1 N/' "$out" >"$printed/$1.txt"
	if ! cmp -s "$pages/$1.txt" "$printed/$1.txt"; then
		diff "$pages/$1.txt" "$printed/$1.txt" | head -n 12
	fi
	check "$1: as on its page" cmp -s "$pages/$1.txt" "$printed/$1.txt"
}

# Each member once, as it stands first, numbers to four digits, by another reader of JSON than ours.
members() {
	sqlite3 :memory: "SELECT fullkey || ' ' || CASE type WHEN 'real' THEN printf('%.4g', atom)
		ELSE coalesce(atom, type) END FROM json_tree(CAST(readfile('$out') AS TEXT))" >"$scratch/members"
	sed 's/\[[0-9]*\]/[]/g' "$scratch/members" | awk '!seen[$1]++' >"$out"
}

run record demo/book.ndjson
last=$(tail -n 1 "$out")
for customer in oduya thistlewood; do
	run history --customer $customer
	same "history-$customer"
	run history --customer $customer --json
	members
	same "history-$customer-json"
done
run history --customer abara --all --plots --units si
same history-all-si
run history --compare "$last"
same compare
run history --compare "$last" --json
members
same compare-json
run calls
same calls
run calls --json
head -n 2 "$out" | tail -n 1 >"$scratch/one" && mv "$scratch/one" "$out"
members
same calls-json
run ledger
same ledger
run ledger --json
head -n 1 "$out" >"$scratch/one" && mv "$scratch/one" "$out"
members
same ledger-json
run figure superheat refrigerant=R-410A suction_pressure=118 suction_line_temp=60
same figure
run figure superheat refrigerant=R-410A suction_pressure=118 suction_line_temp=60 --json
members
same figure-json
run figure superheat refrigerant=R-410A suction_pressure=118
cat "$err" >>"$out"
same figure-missing

close pages
