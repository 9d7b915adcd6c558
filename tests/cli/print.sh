#!/bin/sh
# The HTML report in a browser: printed on Letter and on A4, and on a phone.
# Every sheet says whose it is and its number, nothing is cut, the customer's
# type is 9 points or more, and on a phone nothing is off the screen.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

browser=$(command -v chromium || command -v chromium-browser) || browser=
if [ -z "$browser" ] || ! command -v pdftotext >/dev/null 2>&1; then
	skip "printing and phones" "chromium or poppler-utils is not installed"
	close print
	exit
fi

browse() { # OPTION… FILE
	"$browser" --headless --no-sandbox --disable-gpu --hide-scrollbars \
		--user-data-dir="$scratch/profile" "$@" 2>/dev/null
}

# Words outside the sheet's margins, from pdftotext's boxes.
words_outside() { # PDF
	pdftotext -bbox "$1" - | awk -F'"' '
		/<page / { width = $2 }
		/<word / { if ($2 < 30 || $6 > width - 30) print }' | wc -l
}

# How many sheets lack their foot.
sheets_without_foot() { # PDF COUNT CUSTOMER
	without=0
	sheet=1
	while [ "$sheet" -le "$2" ]; do
		pdftotext -f "$sheet" -l "$sheet" "$1" "$scratch/sheet"
		grep -q "page $sheet of $2" "$scratch/sheet" && grep -q "^$3" "$scratch/sheet" ||
			without=$((without + 1))
		sheet=$((sheet + 1))
	done
	echo "$without"
}

print_one() { # READER SIZE CUSTOMER MOST
	sed "s/<\\/style>/@page { size: $2 }&/" "$out" >"$scratch/page.html"
	browse --no-pdf-header-footer --print-to-pdf="$scratch/page.pdf" "file://$scratch/page.html"
	sheets=$(pdfinfo "$scratch/page.pdf" | sed -n 's/^Pages: *//p')
	what="$1's report on $2"
	check "$what: at most $4 sheets, not ${sheets:-none}" [ "${sheets:-99}" -le "$4" ]
	check "$what: a foot on every sheet" is \
		"$(sheets_without_foot "$scratch/page.pdf" "${sheets:-0}" "$3")" 0
	check "$what: nothing is cut" is "$(words_outside "$scratch/page.pdf")" 0
}

# The farthest that anything reaches to the right on a screen of 390 pixels: the
# page in a frame of that width, since a browser's own window is never so narrow.
reach_on_a_phone() {
	{
		printf '<!DOCTYPE html><iframe style="width:390px;height:800px;border:0" srcdoc="'
		sed -e '/Content-Security-Policy/d' -e 's/&/\&amp;/g' -e 's/"/\&quot;/g' "$out"
		cat <<-'EOF'
			"></iframe>
			<script>
			const frame = document.querySelector("iframe");
			frame.onload = () => {
				let far = frame.contentDocument.documentElement.scrollWidth;
				for (const e of frame.contentDocument.querySelectorAll("main *:not(.aloud)"))
					far = Math.max(far, Math.round(e.getBoundingClientRect().right));
				document.title = "reach " + far + " of " + frame.contentWindow.innerWidth;
			};
			</script>
		EOF
	} >"$scratch/phone.html"
	browse --dump-dom "file://$scratch/phone.html" | sed -n 's/.*<title>\(reach[^<]*\)<.*/\1/p'
}

run record demo/book.ndjson
tail -n 2 "$out" >"$scratch/ids"
while read -r id; do
	for reader in customer office; do
		run export "$id" --for "$reader" --format html
		name=$(sed -n 's/.*<title>[A-Za-z]* report for \([^,]*\),.*/\1/p' "$out")
		check "the title says whose it is" [ -n "$name" ]
		most=$([ "$reader" = customer ] && echo 2 || echo 6)
		print_one "$reader" letter "$name" "$most"
		[ "$reader" = office ] || check "the customer's type is 9 points or more" is \
			"$(pdftohtml -xml -zoom 1 -i -stdout "$scratch/page.pdf" |
				grep -c '<fontspec [^>]*size="[0-8]"')" 0
		print_one "$reader" A4 "$name" "$most"
		check "$reader's report on a phone: nothing is off the screen" is \
			"$(reach_on_a_phone)" "reach 390 of 390"
	done
done <"$scratch/ids"

close print
