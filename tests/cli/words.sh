#!/bin/sh
# The words of DEVELOPERS.md: what a person reads says unit, repair, replace, expected, kept,
# and none of the words that the table there rules out.  Literals of the code and of its
# tables, the manual, and the reports of the demo book.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

forbidden='mend|mends|mended|mending|wants?|wanted|swap|swaps|swapped|swapping|ideal|alarms?'
forbidden="$forbidden|machines?|diagnosis|diagnoses|tickets?|saved|starves?|whence|hence|thus"

# What was said in a quaint way before: each is said in plain words now.
quaint='would tell most|would decide most|explanations apart|is of the second|what was of |called so|found by that'
quaint="$quaint|goes on meanwhile|value that is none|entry that is none|what is theirs|by which customers are found"
quaint="$quaint|not answer is said|is said to be so|so much fits|is no (number|unit|key=value|list|name|file)"
quaint="$quaint|[Tt]aken along|take .* along|in sight|by what is written|asks for a repair|that the readings point to"
quaint="$quaint|it can burn|is still to come|not looked for|somebody's|it has besides"
quaint="$quaint|lets it go|let it go|judge so|cools no more|make it hard|told by a|Why is not found|causes it is not"
quaint="$quaint|is to be (found|dried|checked)|checksum is another|who is not named|that is not named|no finding comes"

# A recovery machine is what the trade calls it; what a firm calls its work is its own.
look() { # FILE WHERE
	sed 's/recovery machine//g; s/Service call and diagnosis//' "$1" | grep -niE "(^|[^a-z])($forbidden)([^a-z]|$)|$quaint" | sed "s|^|$2: |" >>"$scratch/found"
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
printf 'it wants a swap\nrecovery machine\nNothing is called so.\n' >"$scratch/example"
: >"$scratch/found"
look "$scratch/example" example
check "a forbidden word and a quaint phrase are found" is "$(wc -l <"$scratch/found")" 2

# In comments too the equipment is a unit; a machine is a computer, or struct machine of the circuit.
comments() { # FILE
	awk '/\/\*/ { inside = 1 } inside { print } /\*\// { inside = 0 }' "$1" | sed 's|^[^/*]*/\*|/*|'
}
: >"$scratch/found"
for file in include/padside/*/*.h include/padside/*/*.def src/*/*.c src/*/*.h; do
	case $file in
	# These speak of computers.
	*/clock.[ch] | */sync.h | */libpq.h | src/store/office.c) continue ;;
	esac
	comments "$file" | grep -niwE 'machines?' | grep -viE 'recovery machine|struct' | sed "s|^|$file: |" >>"$scratch/found"
done
check "a unit is no machine in comments: $(head -n 3 "$scratch/found")" [ ! -s "$scratch/found" ]

close words
