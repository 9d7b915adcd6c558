#!/bin/sh
# padside merge, backup, verify: whole books.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

dump() { # BOOK: what is in it, in an order of its own
	sqlite3 "$1" "SELECT uid, complaint, opened_at FROM call ORDER BY uid; SELECT count(*) FROM call_reading;
		SELECT count(*) FROM work_line; SELECT count(*) FROM charge_entry; SELECT uid, name FROM customer ORDER BY uid"
}

# What is wrong, in words, and no word of its being sound.
said_something() {
	cat "$out" "$err" >"$scratch/said"
	lacks "$scratch/said" "sound"
}

truck=$scratch/truck.db
office=$scratch/book.db
head -n 12 demo/book.ndjson >"$scratch/mine"
tail -n +9 demo/book.ndjson >"$scratch/theirs"
run record "$scratch/mine"
expect "the office's book" 0
# Every table and view answers other tools: one that was renamed takes along who names it.
for each in $(sqlite3 "$book" "SELECT name FROM sqlite_schema WHERE type IN ('table', 'view')"); do
	sqlite3 "$book" "SELECT count(*) FROM $each" >"$out" 2>"$err"
	check "other tools read $each" [ ! -s "$err" ]
done
check "readings among them" [ "$(rows call_reading)" -gt 100 ]
check "and their changes" [ "$(rows reading_change)" -ge "$(rows call_reading)" ]
book=$truck
run record "$scratch/theirs"
expect "the truck's book" 0
book=$office

# ---- Merge ----

run merge "$truck"
expect "merge" 0 "calls"
check "every call, those of both once" is "$(rows call)" "$(wc -l <demo/book.ndjson)"
dump "$office" >"$scratch/once"
check "what is in a book can be compared" [ "$(wc -l <"$scratch/once")" -gt 20 ]
run merge "$truck"
expect "merge again" 0 "0 calls"
dump "$office" >"$scratch/twice"
check "merged twice is merged once" cmp -s "$scratch/once" "$scratch/twice"
book=$truck
run merge "$office"
expect "and the other way" 0
dump "$truck" >"$scratch/other"
check "the same in both books" cmp -s "$scratch/once" "$scratch/other"
check "no question where nobody changed the same" lacks "$out" "question"
# One call written down in two books, with another complaint in each.
sed -n 9p demo/book.ndjson >"$scratch/here"
sed 's/"complaint": *"[^"]*"/"complaint": "written elsewhere"/' "$scratch/here" >"$scratch/elsewhere"
book=$scratch/elsewhere.db
run record "$scratch/elsewhere"
expect "a call in another book" 0
book=$scratch/here.db
run record "$scratch/here"
expect "the same call here" 0
run merge "$scratch/elsewhere.db"
expect "merge prints what was changed in two books" 0 "complaint:"
check "with the other value" grep -q "^question: .*written elsewhere" "$out"
check "and how many there are" grep -q "^1 question: open the call in the workbook, Alt+q" "$out"
book=$office
run merge "$office"
expect "a book merged into itself" 1 "this book itself"
run merge "$scratch/none.db"
expect "a book that is not there" 1 "none.db"
check "a book that is not there is not made" [ ! -e "$scratch/none.db" ]
echo "no book" >"$scratch/shopping"
run merge "$scratch/shopping"
expect "a file that is no book" 1 "shopping"
dump "$office" >"$scratch/after"
check "nothing changed by what failed" cmp -s "$scratch/once" "$scratch/after"

# ---- Backup ----

run backup "$scratch/copy.db"
expect "backup" 0
check "backup: its owner's only" is "$(stat -c %a "$scratch/copy.db")" 600
dump "$scratch/copy.db" >"$scratch/copied"
check "backup: the same" cmp -s "$scratch/once" "$scratch/copied"
run backup "$scratch/copy.db"
expect "backup onto a file that is there" 1 "copy.db"
dump "$scratch/copy.db" >"$scratch/copied"
check "backup onto a file that is there: untouched" cmp -s "$scratch/once" "$scratch/copied"
run backup "$scratch/none/copy.db"
expect "backup into a folder that is not there" 1

# While another program has the book open in the middle of writing.
mkfifo "$scratch/talk"
sqlite3 "$office" <"$scratch/talk" >"$scratch/heard" 2>&1 &
writer=$!
exec 9>"$scratch/talk"
echo "BEGIN IMMEDIATE; UPDATE customer SET name = 'half done'; SELECT 'begun';" >&9
for _ in $(seq 200); do
	grep -q begun "$scratch/heard" && break
	sleep 0.05
done
check "another program is in the middle of writing" holds "$scratch/heard" begun
run backup "$scratch/open.db"
expect "backup while the book is being written" 0
exec 9>&-
wait "$writer"
dump "$scratch/open.db" >"$scratch/copied"
check "backup while the book is being written: what was whole" cmp -s "$scratch/once" "$scratch/copied"
book=$scratch/open.db
run verify
expect "the backup is a sound book" 0

# ---- Verify ----

book=$office
run verify
expect "a sound book" 0 "sound"
cp "$office" "$scratch/bad.db"
size=$(stat -c %s "$scratch/bad.db")
dd if=/dev/zero of="$scratch/bad.db" bs=1024 seek=$((size / 2048)) count=32 conv=notrunc 2>/dev/null
book=$scratch/bad.db
run verify
check "a damaged book: status 1" is "$status" 1
check "a damaged book: says so" said_something
cp "$office" "$scratch/cut.db"
truncate -s $((size / 2)) "$scratch/cut.db"
book=$scratch/cut.db
run verify
check "a book cut short: status 1" is "$status" 1
check "a book cut short: says so" said_something
cp "$office" "$scratch/orphan.db"
sqlite3 "$scratch/orphan.db" "PRAGMA foreign_keys = off; DELETE FROM customer"
book=$scratch/orphan.db
run verify
check "calls without their customers: status 1" is "$status" 1
check "calls without their customers: says so" said_something

# ---- A book that cannot be written, and one from a later version ----

cp "$office" "$scratch/later.db"
sqlite3 "$scratch/later.db" "PRAGMA user_version = 9999"
book=$scratch/later.db
run calls
expect "a book from a later version" 1 "newer"
run record "$scratch/mine"
expect "a book from a later version is not written" 1

# ---- Only a book is a book: others are refused, untouched, their rights included ----

: >"$scratch/empty.db"
sqlite3 "$scratch/foreign.db" "CREATE TABLE recipe (name); INSERT INTO recipe VALUES ('soup')"
sqlite3 "$scratch/bare.db" "PRAGMA user_version = 0; VACUUM"
cp "$office" "$scratch/marked.db"
sqlite3 "$scratch/marked.db" "PRAGMA application_id = 1"
echo "not a data base at all" >"$scratch/text.db"
for name in empty foreign bare marked text later; do
	file=$scratch/$name.db
	chmod 644 "$file"
	before="$(cksum <"$file") $(stat -c '%a %Y' "$file")"
	for words in calls verify "record $scratch/mine" "merge $scratch/truck.db" "backup $scratch/of.db" \
		"prices demo/prices.csv" "settings currency=x" ledger "history --customer a"; do
		book=$file
		# shellcheck disable=SC2086 # a command and its words
		run $words
		check "$name: $words: refused" is "$status" 1
	done
	book=$scratch/truck.db
	run merge "$file"
	check "$name: merged from: refused" is "$status" 1
	check "$name: untouched" is "$(cksum <"$file") $(stat -c '%a %Y' "$file")" "$before"
	check "$name: nothing beside it" is "$(find "$scratch" -name "$name.db-*" -o -name "$name.db.*")" ""
done
check "no copy of what is no book" [ ! -e "$scratch/of.db" ]

# ---- A new book made by several at once ----

many=$scratch/many/new.db
for i in 1 2 3 4 5 6; do
	"$program" --book "$many" record "$scratch/mine" >"$scratch/many.$i" 2>&1 &
done
wait
check "made at once: nothing half made" is "$(find "$scratch/many" -name '*.part')" ""
book=$many
run verify
expect "made at once: the book is sound" 0 "sound"
# The same calls were recorded by the first; the others were told so.
check "made at once: each call once" is "$(rows call)" 12

# ---- A backup that is killed leaves nothing at its name ----

whole_or_absent() { # BOOK
	[ ! -e "$1" ] || "$program" --book "$1" verify >"$scratch/said" 2>&1
}

for delay in 0.001 0.003 0.006 0.01 0.02; do
	"$program" --book "$office" backup "$scratch/killed.db" 2>"$scratch/said" &
	sleep "$delay"
	kill -KILL $! 2>/dev/null
	wait $! 2>/dev/null
	check "a backup killed after $delay s is whole or not there" whole_or_absent "$scratch/killed.db"
	rm -f "$scratch/killed.db"*
done
# What a killed one left beside is written over, not in the way.
echo "half a copy" >"$scratch/killed.db.part"
book=$office
run backup "$scratch/killed.db"
expect "a backup after killed ones" 0
check "nothing is left of the killed ones" is "$(find "$scratch" -name 'killed.db.part')" ""


# ---- A report likewise ----

echo "half a report" >"$scratch/report.txt.part"
run export "$("$program" --book "$office" calls | sed 's/ .*//;q')" --output "$scratch/report.txt"
expect "a report after a killed one" 0
check "a report after a killed one: whole" lacks "$scratch/report.txt" "half a report"
check "nothing is left of the killed report" [ ! -e "$scratch/report.txt.part" ]

close books
