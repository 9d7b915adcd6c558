#!/bin/sh
# padside export: one call in every format, to standard output or a new file,
# and back in again.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

run record demo/book.ndjson
latest=$(tail -n 1 "$out")
cp "$out" "$scratch/ids"

too_wide=0
while read -r id; do
	run export "$id" --for office
	{ [ "$status" -eq 0 ] && [ "$(tr '\f' '\n' <"$out" | wc -L)" -le 80 ]; } ||
		too_wide=$((too_wide + 1))
done <"$scratch/ids"
check "no paper of the demo is wider than 80 columns" is "$too_wide" 0

# A customer reads one sheet or two: what would be longer is set closer, with every number in it.
numbers() { # FILE
	tr '\f|' '\n ' <"$1" | tr -d '\134' | sed '/page [0-9]* of [0-9]*$/d' | grep -oE '[0-9]+([.,:][0-9]+)*' | LC_ALL=C sort -u
}
too_long=0
left_out=
while read -r id; do
	run export "$id" --for customer --format markdown
	numbers "$out" >"$scratch/told"
	run export "$id" --for customer
	[ "$(tr -cd '\f' <"$out" | wc -c)" -le 1 ] || too_long=$((too_long + 1))
	numbers "$out" >"$scratch/printed"
	left_out=$left_out$(LC_ALL=C comm -23 "$scratch/told" "$scratch/printed")
done <"$scratch/ids"
check "no customer's report of the demo has more than two sheets" is "$too_long" 0
check "what is set close has every number of the report" is "$left_out" ""
run export "$latest" --for customer
check "what is set close is signed and dated in one line" grep -q '^  Name and signature  *Date$' "$out"

# A heading that nothing follows promises what is not there.
bare=
while read -r id; do
	for reader in office customer; do
		run export "$id" --for "$reader" --format markdown
		bare=$bare$(awk '/^#/ { if (h) print h; h = $0; next } NF { h = "" } END { print h }' "$out")
	done
done <"$scratch/ids"
check "every heading of the demo's reports has something under it" is "$bare" ""

run export "$latest"
expect "text by default" 0 "Service report"
check "text keeps to 80 columns" [ "$(tr '\f' '\n' <"$out" | wc -L)" -le 80 ]
check "text is on sheets" holds "$out" "page 1 of "
check "text: no office words for the customer" lacks "$out" "$latest"
is_ascii() { # FILE: every line of a whole report, form feeds apart
	grep -qE "^(Service|Office) report" "$1" && ! tr -d '\f' <"$1" | LC_ALL=C grep -q '[^ -~]'
}
check "plain: what is asked tells one from the other" [ "$(tr -d '\f' <"$out" | LC_ALL=C grep -c '[^ -~]')" -gt 0 ]
run export "$latest" --plain
expect "plain" 0
check "plain is ASCII" is_ascii "$out"
for command in export show; do
	LC_ALL=C "$program" --book "$book" $command "$latest" >"$out" 2>"$err"
	status=$?
	expect "$command where the locale has ASCII only" 0
	check "where the locale has ASCII only, $command keeps to it" is_ascii "$out"
done
LC_ALL=C "$program" --book "$book" export "$latest" --output "$scratch/whole.txt" 2>"$err"
check "a file has every letter in any locale" holds "$scratch/whole.txt" "°F"
run export "$latest" --for office
expect "for the office" 0 "$latest"
run export "$latest" --format markdown
expect "markdown" 0 "# Service report"
check "markdown calls a bar a bar" holds "$out" "| bar |"
run export "$latest" --format html
expect "html" 0 "<html"
check "html asks nothing of the network" [ "$(grep -cE 'https?:|src=|@import' "$out")" -eq 0 ]
check "html calls a bar a bar" holds "$out" "on its bar"
check "html runs no script" lacks "$out" "<script"
run export "$latest" --format csv
expect "csv" 0 "section,item,stage,value,unit"
run export "$latest" --format json
expect "json" 0 '{"customer": {'
check "json is whole" holds "$out" "as_found"
cp "$out" "$scratch/whole"
run export "$latest" --format json --for office
check "json for the office is the same" cmp -s "$out" "$scratch/whole"
run export "$latest" --format json --for customer
expect "json for the customer" 0 '{"customer": {'
for member in office_note suction_pressure disconnect_locked unsafe_at rla; do
	check "json for the customer: no $member" lacks "$out" "$member"
done
run export "$latest" --output -
expect "standard output by its name" 0 "Service report"
run export "$latest" --format papyrus
expect "unknown format" 2 "papyrus"
run export "$latest" --for cat
expect "unknown reader" 2 "cat"
run export ffffffff
expect "no such call" 1 "no such entry"
run export
expect "no call named" 2

# ---- Into a file ----

for format in text markdown html csv json; do
	file=$scratch/paper.$format
	run export "$latest" --format "$format" --output "$file"
	expect "$format into a file" 0
	check "$format into a file: nothing on standard output" [ ! -s "$out" ]
	check "$format into a file: its owner's only" is "$(stat -c %a "$file")" 600
	run export "$latest" --format "$format"
	check "$format into a file: the same bytes" cmp -s "$out" "$file"
done
file=$scratch/paper.text
echo "mine" >"$file"
run export "$latest" --output "$file"
expect "a file that is there" 1 "--force"
check "a file that is there: untouched" is "$(cat "$file")" mine
chmod 644 "$file"
run export "$latest" --output "$file" --force
expect "a file that is there, by force" 0
check "by force: replaced" holds "$file" "Service report"
check "by force: its owner's only" is "$(stat -c %a "$file")" 600
echo "elsewhere" >"$scratch/target"
ln -s "$scratch/target" "$scratch/link"
run export "$latest" --output "$scratch/link"
expect "a link that is there" 1
check "a link that is there: its target untouched" is "$(cat "$scratch/target")" elsewhere
run export "$latest" --output "$scratch/none/paper.text"
expect "a folder that is not there" 1 "none/paper.text"

# ---- Out and in again ----

source=$book
differ=0
while read -r id; do
	book=$source
	run export "$id" --format json
	cp "$out" "$scratch/first.json"
	book=$scratch/other.db
	run record "$scratch/first.json"
	again=$(cat "$out")
	run export "$again" --format json
	cmp -s "$out" "$scratch/first.json" || differ=$((differ + 1))
	[ "$again" = "$id" ] || differ=$((differ + 1))
done <"$scratch/ids"
check "every call of the demo: out, into an empty book, out again: byte for byte" is "$differ" 0
book=$scratch/other.db
check "as many calls in the other book" is "$(rows call)" "$(wc -l <"$scratch/ids")"
run record "$scratch/first.json"
expect "a call that the book has already" 1
check "a call that the book has already: once" is "$(rows call)" "$(wc -l <"$scratch/ids")"

# ---- What the customer's data leaves out ----

book=$scratch/secrets.db
cat >"$scratch/secrets.json" <<'END'
{"customer": {"name": "Ada"}, "system": {"model": "SPL-036", "compressor_lra": 77},
 "call": {"complaint": "No cooling", "office_note": "secret-1", "access_note": "secret-2"},
 "as_found": {"disconnect_locked": false, "board_code": "secret-3"},
 "charge_log": [{"at": "2026-06-03T10:40", "added": 3.0, "cylinder": "secret-4", "note": "secret-5"}],
 "work": [{"kind": "part", "description": "Capacitor", "quantity": 1, "unit_price": "12.50", "note": "secret-6"}],
 "watch": [{"text": "secret-7", "noted_at": "2026-06-03T10:40", "closed_at": "2026-06-03T10:41"},
  {"text": "Listen to the fan", "noted_at": "2026-06-03T10:40"}]}
END
run record "$scratch/secrets.json"
secrets=$(cat "$out")
run export "$secrets" --format json
check "the whole call has all seven" is "$(grep -o 'secret-[0-9]' "$out" | sort -u | wc -l)" 7
run export "$secrets" --format json --for customer
check "the customer's has none" is "$(grep -c secret "$out")" 0
for words in '"model": "SPL-036"' '"description": "Capacitor"' "Listen to the fan" "No cooling"; do
	check "the customer's has $words" holds "$out" "$words"
done
check "no reading of the work" lacks "$out" disconnect
check "no nameplate that says nothing to a customer" lacks "$out" compressor_lra

# ---- Hostile words ----

book=$scratch/hostile.db
cat >"$scratch/hostile.json" <<'END'
{"customer": {"name": "=HYPERLINK(\"http://evil.example\",\"x\")", "phone": "+1+1", "email": "@SUM(A1)"},
 "site": {"address": "<script>alert(1)</script> & \"quoted\" 'single'"},
 "system": {"name": "\u001b[2J\u001b]0;owned\u0007", "model": "a|b\n# heading", "serial": "\u202e12345"},
 "call": {"complaint": "\u001b[31mred\u001b[0m\r\nDear customer: [link](http://evil.example) ![x](y) *b* `c` <img src=x onerror=y>", "summary": "-2+3|cmd"},
 "work": [{"kind": "part", "description": "\t=1+1", "quantity": 1, "unit_price": "1.00"}]}
END
run record "$scratch/hostile.json"
expect "hostile words go in" 0
id=$(cat "$out")

escape=$(printf '\033')
bell=$(printf '\007')
for words in "show $id" "export $id" "export $id --plain" "export $id --format markdown" \
	"export $id --format html" "export $id --format csv" "export $id --format json" \
	"calls" "calls --json" "history --customer evil" "history --customer evil --json"; do
	# shellcheck disable=SC2086 # a command and its words
	run $words
	expect "hostile: padside $words" 0
	check "hostile: no escape in $words" lacks "$out" "$escape"
	check "hostile: no bell in $words" lacks "$out" "$bell"
done
run export "$id" --format html
check "hostile: no element made in html" is "$(grep -ciE '<(script|img)' "$out")" 0
check "hostile: html still says it" holds "$out" "&lt;script&gt;"
run export "$id" --format csv
check "hostile: no formula begins a cell" is "$(grep -cE '(^|,)"?[=+@	-][^0-9]' "$out")" 0
run export "$id" --format markdown
check "hostile: no element made in markdown" is "$(grep -cE '(^|[^\\])<(script|img)' "$out")" 0
check "hostile: no link made in markdown" is "$(grep -cF '[link](http' "$out")" 0
check "hostile: no heading made in markdown" is "$(grep -c '^# heading' "$out")" 0

close export
