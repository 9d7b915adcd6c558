#!/bin/sh
# What should never be handed to the program: one sentence, the right exit
# status, nothing lost.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

echo '{"customer": {"name": "Ada"}}' >"$scratch/call.json"
run record "$scratch/call.json"
expect "a call to begin with" 0
id=$(cat "$out")

# ---- Input that is none ----

input() { # WHAT TEXT: refused by both, in the same words
	run record "$scratch/input"
	expect "$1: record" 1 "$2"
	run assess "$scratch/input"
	expect "$1: assess" 1 "$2"
	check "$1: nothing stored" is "$(rows call)" 1
}

: >"$scratch/input"
input "an empty file" "there is no call in it"
printf '\n \r\n\t\n' >"$scratch/input"
input "an empty file of several lines" "there is no call in it"
printf '\0\0\0' >"$scratch/input"
input "NUL bytes" "not a JSON value"
printf '\177ELF\002\001\001\377\376\200' >"$scratch/input"
input "a program" "not a JSON value"
rm "$scratch/input"
mkdir "$scratch/input"
input "a folder" "Is a directory"
rmdir "$scratch/input"
for number in 1e400 -1e400 NaN '"NaN"' '"inf"' '"1e999"' '"0x76"' 123456789012345678901234567890; do
	echo "{\"customer\": {\"name\": \"A\"}, \"as_found\": {\"suction_pressure\": $number}}" >"$scratch/input"
	input "a pressure of $number" "as_found.suction_pressure"
done
for number in 1e300 '"99999999999999999999"' -1e18 '"1e5"' '"NaN"'; do
	printf '{"customer": {"name": "A"}, "work": [{"kind": "part", "description": "x", "unit_price": %s}]}\n' \
		"$number" >"$scratch/input"
	input "a price of $number" "work[0].unit_price"
done

# ---- Books that are none ----

cp "$book" "$scratch/whole.db"
sound=$book
mkdir "$scratch/folder"
mkfifo "$scratch/pipe"
for book in "" "$scratch/folder" "$scratch/pipe" /dev/null; do
	for words in calls verify "record $scratch/call.json" "show $id" "backup $scratch/copy.db" \
		"merge $scratch/whole.db"; do
		# shellcheck disable=SC2086 # a command and its words
		run $words
		expect "the book '$book': $words" 1 "cannot be opened"
	done
done
check "the books that are none: no copy" [ ! -e "$scratch/copy.db" ]
check "a pipe stays a pipe" [ -p "$scratch/pipe" ]

# Cut off or overwritten in the middle: said, and left as it is.
for length in 2 99 4096 20000; do
	book=$scratch/cut.db
	head -c "$length" "$scratch/whole.db" >"$book"
	before=$(cksum <"$book")
	for words in calls verify "record $scratch/call.json" "merge $scratch/whole.db"; do
		# shellcheck disable=SC2086 # a command and its words
		run $words
		expect "a book cut off after $length bytes: $words" 1 "nothing was changed"
	done
	check "a book cut off after $length bytes: untouched" is "$(cksum <"$book")" "$before"
	rm -f "$book"*
done

# The page that the list of calls begins with: its header, then the cells.
book=$scratch/whole.db
root=$(sqlite3 "$book" "SELECT rootpage FROM sqlite_schema WHERE name = 'call'")
size=$(sqlite3 "$book" "PRAGMA page_size")
for at in 0 1 3 5 8; do
	book=$scratch/struck.db
	cp "$scratch/whole.db" "$book"
	printf '\377\377\377\377' | dd of="$book" bs=1 seek=$(((root - 1) * size + at)) conv=notrunc 2>/dev/null
	run calls
	expect "a damaged page (byte $at) is no empty list" 1 "it is damaged"
	rm -f "$book"*
done
book=$sound

# ---- Papers onto what is no file ----

run export "$id" --output ""
expect "a paper to nowhere" 1 "no file is named"
for target in "$scratch/pipe" "$scratch/folder" /dev/null; do
	run export "$id" --output "$target"
	expect "a paper onto $target" 1 "there already"
	run export "$id" --output "$target" --force
	expect "a paper onto $target, by force" 1 "left as it was"
done
check "a pipe is still a pipe" [ -p "$scratch/pipe" ]
check "a device is still a device" [ -c /dev/null ]
check "no part of a paper is left" is "$(find "$scratch" /dev -maxdepth 1 -name '*.part' 2>/dev/null)" ""
run verify
expect "the book is sound in the end" 0

close hostile
