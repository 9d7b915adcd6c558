#!/bin/sh
# The words of DEVELOPERS.md: what a person reads says unit, repair, replace, expected, kept,
# and none of the words that the table there rules out.  Literals of the code and of its
# tables, the manual, and the reports of the demo book.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

forbidden='mend|mends|mended|mending|wants?|wanted|swap|swaps|swapped|swapping|ideal|alarms?'
forbidden="$forbidden|machines?|diagnosis|diagnoses|tickets?|saved|starves?|whence|hence|thus"

# A recovery machine is what the trade calls it; what a firm calls its work is its own.
look() { # FILE WHERE
	sed 's/recovery machine//g; s/Service call and diagnosis//' "$1" | grep -niwE "$forbidden" | sed "s|^|$2: |" >>"$scratch/found"
}

literals() { # FILE
	grep -v '#include' "$1" | grep -oE '"([^"\\]|\\.)*"'
}

: >"$scratch/found"
for file in include/padside/*/*.def src/*/*.def src/*/*.c src/report/pdf/*.c; do
	case $file in
	*/refrigerant_curves.def) continue ;;
	esac
	literals "$file" >"$scratch/literals"
	look "$scratch/literals" "$file"
done
check "no such word in code and tables: $(head -n 3 "$scratch/found")" [ ! -s "$scratch/found" ]

: >"$scratch/found"
for page in man/padside*.[157]; do
	case $page in
	# A computer is a machine there.
	*/padside-office.7) continue ;;
	esac
	look "$page" "$page"
done
check "no such word in the manual: $(head -n 3 "$scratch/found")" [ ! -s "$scratch/found" ]

: >"$scratch/found"
run record demo/book.ndjson
cp "$out" "$scratch/ids"
while read -r id; do
	for reader in customer office; do
		run export "$id" --for "$reader" --format text
		look "$out" "$reader $id"
	done
done <"$scratch/ids"
check "no such word in the reports of the demo: $(head -n 3 "$scratch/found")" [ ! -s "$scratch/found" ]
check "reports were looked at" [ "$(wc -l <"$scratch/ids")" -gt 10 ]

# The sieve itself finds what it is for.
printf 'it wants a swap\nrecovery machine\n' >"$scratch/example"
: >"$scratch/found"
look "$scratch/example" example
check "a forbidden word is found" is "$(wc -l <"$scratch/found")" 1

close words
