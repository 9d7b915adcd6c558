#!/bin/sh
# The tests themselves: none stands under the name of another, none is written
# and never run, no golden file outlives the test that drew it, and their number
# only grows.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

twice() { # the lines of standard input that stand there more than once
	sort | uniq -d | tr '\n' ' '
}

# tests/all empties this folder, then the runner draws every page into it.
golden=${BUILD:-build}/golden
not_drawn() {
	for file in tests/*/golden/*; do
		[ -e "$golden/$(basename "$file")" ] || printf '%s ' "$file"
	done
}

suites=$(sed -nE 's/.*suite_create\("([^"]*)"\).*/\1/p' tests/*/test_*.c)
parts=$(sed -nE 's/^close ([a-z_-]+)$/\1/p' tests/*/*.sh)
check "there are suites to look at" [ "$(echo "$suites" | wc -l)" -gt 40 ]
check "there are parts to look at" [ "$(echo "$parts" | wc -l)" -gt 8 ]
check "no two suites share a name" is "$(echo "$suites" | twice)" ""
check "no two parts share a name" is "$(echo "$parts" | twice)" ""
check "no two files of tests share a name" is \
	"$(for file in tests/*/test_*.c tests/*/*.sh; do basename "$file"; done | twice)" ""
check "no two golden files share a name" is \
	"$(for file in tests/*/golden/*; do basename "$file"; done | twice)" ""
check "every golden file is drawn by a test" is "$(not_drawn)" ""
for file in tests/*/test_*.c; do
	sed -nE 's/^START_TEST\((.*)\)$/\1/p' "$file" | sort >"$scratch/written"
	sed -nE 's/.*tcase_add_[a-z_]*test[a-z_]*\([a-z_]+, ([A-Za-z0-9_]+).*/\1/p' "$file" |
		sort -u >"$scratch/added"
	check "$file: every test written is run" cmp "$scratch/written" "$scratch/added"
done
# Raise the floor when you like; lower it only with tests of code that went.
floor=2100
count=$(cat tests/*/test_*.c tests/*/*.sh | grep -cE '^(START_TEST\(|[[:space:]]*(check|expect) )')
check "there are no fewer than $floor tests ($count)" [ "$count" -ge "$floor" ]

close all-tests
