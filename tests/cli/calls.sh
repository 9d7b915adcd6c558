#!/bin/sh
# padside calls, show and history: what is in the book, found again.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

run record demo/book.ndjson
expect "the demo book" 0
all=$(wc -l <"$out")
latest=$(tail -n 1 "$out")

run calls
expect "the list" 0
check "every call has its line" is "$(grep -cE '^[0-9a-f]{8}-' "$out")" "$all"
grep -oE ' 20[0-9-]+ [0-9:]+ ' "$out" >"$scratch/times"
check "every line has its time" is "$(wc -l <"$scratch/times")" "$all"
check "newest first" sort -rc "$scratch/times"
check "newest first: the latest" is "$(head -n 1 "$out" | cut -d' ' -f1)" "$latest"
check "with what was found" holds "$out" "found: run capacitor failed"

run calls --json
expect "as JSON" 0
check "as JSON: one object a line" is "$(grep -cE '^\{"id": ".*\}$' "$out")" "$all"
check "as JSON: JSON to another program" is \
	"$(sqlite3 :memory: "SELECT json_extract('$(head -n 1 "$out" | sed "s/'/''/g")', '\$.id')")" "$latest"

value() { # PATH: of the newest call
	sqlite3 :memory: "SELECT json_extract('$(sed "1!d; s/'/''/g" "$scratch/list")', '$1')"
}
cp "$out" "$scratch/list"
check "as JSON: every call has what it comes to" is "$(grep -cE '"total": -?[0-9]+\.[0-9]{2}\}$' "$scratch/list")" "$all"
run export "$latest" --table lines --format csv
check "as JSON: the total is the sum of its lines" is "$(value '$.total')" \
	"$(sqlite3 :memory: '.mode csv' ".import '$out' t" '.mode list' \
		"SELECT round(sum(total), 2) FROM t WHERE kind <> 'deposit'")"

run calls --customer oduya
expect "by customer, whatever the case" 0 "Maren Oduya"
check "by customer: nobody else" is "$(grep -E '^[0-9a-f]{8}-' "$out" | grep -vc 'Maren Oduya')" 0
of_customer=$(grep -cE '^[0-9a-f]{8}-' "$out")
check "by customer: as many as the demo has" is "$of_customer" "$(grep -c 'Maren Oduya' demo/book.ndjson)"
run calls --customer "0114"
check "by a part of the telephone number" is "$(grep -cE '^[0-9a-f]{8}-' "$out")" "$of_customer"
run calls --customer "cedar loop"
expect "by address" 0 "14 Cedar Loop"
run calls --customer "nobody of that name"
expect "no such customer is an answer" 0
check "no such customer: empty" [ ! -s "$out" ]
run calls --customer "%"
check "no pattern characters" is "$(wc -l <"$out")" 0
run calls --customer "' OR 1=1 --"
expect "no way into the database" 0
check "no way into the database: nothing found" [ ! -s "$out" ]

run calls --since 2026-07-09
check "since a day, that day included" is "$(grep -cE '^[0-9a-f]{8}-' "$out")" 1
run calls --since 2026-07-10
check "since the day after" [ ! -s "$out" ]
run calls --since yesterday
expect "no date" 2 "yesterday"
run calls --open
check "all of the demo's calls are closed" [ ! -s "$out" ]
echo '{"customer": {"name": "Ada"}}' >"$scratch/call.json"
run record "$scratch/call.json"
run calls --open
expect "an open call" 0 "(open) Ada"
run calls oduya
expect "words where none belong" 2

# ---- One call ----

run show "$latest"
expect "show" 0 "Maren Oduya"
for words in "No cooling since last night" "Run capacitor 45 µF" "21.1 ±1.2 °F" "8.6 ±1.2 °F" \
	"Low refrigerant charge" "Outdoor fan 1.5 A on a 1.3 A motor"; do
	check "show has $words" holds "$out" "$words"
done
check "show keeps to 80 columns" [ "$(wc -L <"$out")" -le 80 ]
run show "$(echo "$latest" | cut -c1-12)"
expect "the beginning of an id is enough" 0 "Maren Oduya"
run show 0
expect "the beginning of many" 1
run show ffffffff
expect "no such call" 1 "no such entry"
run show "%"
expect "no pattern characters in an id" 1
run show
expect "no call named" 2
run --units si show "$latest"
expect "in SI" 0 "kPa"
check "in SI: no psig" lacks "$out" psig

# ---- A customer's history ----

run history --customer oduya
expect "history" 0 "Maren Oduya"
run history --customer oduya --json
expect "history as JSON" 0 '{'
run history
expect "history of nobody" 2

close calls
