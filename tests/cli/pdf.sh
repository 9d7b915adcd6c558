#!/bin/sh
# The report as PDF: read by another program than ours.  A program without its
# module says so, and starts without waiting for it.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

# Font libraries keep what they once looked up until the end.
export ASAN_OPTIONS="${ASAN_OPTIONS:+$ASAN_OPTIONS:}detect_leaks=0"

run record demo/book.ndjson
tail -n 3 "$out" >"$scratch/ids"
latest=$(tail -n 1 "$out")

run export "$latest" --format pdf
if [ "$status" -ne 0 ]; then
	expect "without the module" 1 "padside-pdf.so"
	skip "reports as PDF" "it was built without pango and cairo"
	close pdf
	exit
fi
expect "a report as PDF" 0
check "it is one" is "$(head -c 5 "$out")" %PDF-
run export "$latest" --format pdf --output "$scratch/report.pdf"
expect "into a file" 0
check "its owner's only" is "$(stat -c %a "$scratch/report.pdf")" 600
if ! command -v pdftotext >/dev/null 2>&1; then
	skip "what stands in the PDF" "poppler-utils is not installed"
	close pdf
	exit
fi

# The program itself is linked with none of it.
check "no font library at the start" is "$(ldd "$program" | grep -c 'pango\|cairo')" 0
mkdir "$scratch/alone"
cp "$program" "$scratch/alone"
"$scratch/alone/padside" --book "$book" export "$latest" --format pdf >"$out" 2>"$err"
status=$?
expect "alone" 1 "padside-pdf.so"
mkdir -p "$scratch/usr/bin" "$scratch/usr/lib/padside"
cp "$program" "$scratch/usr/bin"
cp "${program%/*}/padside-pdf.so" "$scratch/usr/lib/padside"
"$scratch/usr/bin/padside" --book "$book" export "$latest" --format pdf >"$out" 2>"$err"
status=$?
expect "as it is installed" 0

# The words of the last answer, sheet by sheet, and what it is called.
read_pdf() {
	pdfinfo "$out" >"$scratch/info"
	sheets=$(sed -n 's/^Pages: *//p' "$scratch/info")
	pdftotext -layout "$out" "$scratch/words"
}

sheets_without_foot() { # CUSTOMER
	without=0
	sheet=1
	while [ "$sheet" -le "$sheets" ]; do
		pdftotext -f "$sheet" -l "$sheet" "$out" "$scratch/sheet"
		{ grep -q "page $sheet of $sheets" "$scratch/sheet" && grep -q "^$1" "$scratch/sheet"; } ||
			without=$((without + 1))
		sheet=$((sheet + 1))
	done
	echo "$without"
}

# Words that reach beyond the margins, or into the foot and below it.
words_outside() {
	pdftotext -bbox "$out" - | awk -F'"' '
		/<page / { width = $2; height = $4 }
		/<word / { if ($2 < 42 || $6 > width - 42 || $4 < 34 || $8 > height - 22) print }' | wc -l
}

while read -r id; do
	run export "$id" --format json
	name=$(sed -n 's/.*"customer": {.*"name": "\([^"]*\)".*/\1/p' "$out")
	for reader in customer office; do
		what="$reader's report of $name"
		run export "$id" --for "$reader"
		tr '\f' '\n' <"$out" | sed -n 's/^  Total  *//p' >"$scratch/total"
		run export "$id" --for "$reader" --format pdf
		expect "$what" 0
		read_pdf
		check "$what: at most $([ "$reader" = customer ] && echo 2 || echo 8) sheets" \
			[ "$sheets" -le "$([ "$reader" = customer ] && echo 2 || echo 8)" ]
		check "$what: its foot on every sheet" is "$(sheets_without_foot "$name")" 0
		check "$what: nothing is cut" is "$(words_outside)" 0
		check "$what: its title" [ "$(pdfinfo "$out" | grep -c "^Title: .* report for $name")" -eq 1 ]
		[ ! -s "$scratch/total" ] || check "$what: the total" \
			[ "$(grep -c "Total  *$(cat "$scratch/total")" "$scratch/words")" -eq 1 ]
	done
	check "the customer's has nothing of the office" lacks "$scratch/words" "leans +9"
done <"$scratch/ids"

run export "$latest" --format pdf --for customer
read_pdf
for word in "leans" "made safe" "not recorded" "FLA"; do
	check "the customer does not read: $word" lacks "$scratch/words" "$word"
done
check "which mark on a bar is which" holds "$scratch/words" "as left ◆"
check "but what is looked at again" holds "$scratch/words" "What we will look at again"

check "Letter when nothing was set" holds "$scratch/info" "612 x 792"
run settings paper_size=foolscap
expect "no such sheet" 1 "letter or a4"
run settings paper_size=a4
expect "A4" 0
run export "$latest" --format pdf --for customer
read_pdf
check "A4 as ISO 216 has it" holds "$scratch/info" "595.28 x 841.89"
check "A4: two sheets" is "$sheets" 2
check "A4: nothing is cut" is "$(words_outside)" 0
run export "$latest" --format html
check "A4 in print too" holds "$out" "@page { size: A4; }"
run settings paper_size=letter

# ---- Hostile words, long words, and a logo ----

cat >"$scratch/hostile.json" <<'END'
{"customer": {"name": "<b>&amp; \u001b[31m \u202eAda مرحبا 空調"}, "site": {"address": "1 Long Road"},
 "call": {"complaint": "Loooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooooong"},
 "work": [{"kind": "part", "description": "Wiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiide", "quantity": 1, "unit_price": "1.00"}]}
END
run record "$scratch/hostile.json"
hostile=$(cat "$out")
run export "$hostile" --format pdf
expect "hostile and long words" 0
read_pdf
check "they stay words" holds "$scratch/words" "<b>&amp;"
check "they stay on the sheet" is "$(words_outside)" 0
head -c 3000 /dev/urandom | base64 -w 0 | head -c 500 >"$scratch/noise"
{ printf '\211PNG\r\n\032\n'; cat "$scratch/noise"; } >"$scratch/broken.png"
{ printf '\377\330\377\340'; cat "$scratch/noise"; } >"$scratch/broken.jpg"
printf '%s' iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg== |
	base64 -d >"$scratch/logo.png"
run export "$latest" --format pdf
bare=$(wc -c <"$out")
for logo in logo.png broken.png broken.jpg; do
	run settings "logo=$scratch/$logo" "company=Larkmere Cooling"
	run export "$latest" --format pdf
	expect "with $logo" 0
	read_pdf
	check "with $logo: the letterhead" holds "$scratch/words" "Larkmere Cooling"
	[ "$logo" != logo.png ] || check "the logo is inside" [ "$(wc -c <"$out")" -gt "$bare" ]
done

close pdf
