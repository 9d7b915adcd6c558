#!/bin/sh
# The README: every command line of it works, on the invented book.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

cp demo/prices.csv "$scratch/prices.csv"
awk '/^```/ { inside = $0 == "```json"; next } inside' README.md >"$scratch/call.json"
run record demo/book.ndjson
cp "$book" "$scratch/truck.db"
id=$(head -n 1 "$out")

# "    padside WORDS   what it does": the words end at two blanks.  What needs a
# server is in tests/store/office.sh.
sed -nE 's/^    (padside .*)$/\1/p' README.md | sed -E 's/ {2,}.*//' |
	sed -E 's/^ *//' | grep '^padside ' | grep -vE '^padside (office|sync)|sync=' >"$scratch/lines"
check "there are command lines to run" [ "$(wc -l <"$scratch/lines")" -ge 12 ]
while read -r line; do
	words=$(echo "${line#padside}" | sed "s/\\bCALL\\b/$id/; s/\\bFILE\\b/file/")
	(cd "$scratch" && rm -f file && eval "\"$program\" --book \"$book\" $words") \
		>"$out" 2>"$err" </dev/null
	status=$?
	ran=$line
	expect "README: $line" 0
done <"$scratch/lines"

# What it says of the parts of the house is so.
grep -oE '\b(demo|tests)/[a-z]+(\.[a-z]+)?' README.md | sort -u >"$scratch/paths"
while read -r path; do
	check "README: $path is there" [ -e "$path" ]
done <"$scratch/paths"

close readme
