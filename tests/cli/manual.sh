#!/bin/sh
# The manual page: says what the tables say, and is sound to a formatter.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

page=man/padside.1
"${BUILD:-build}/manual" >"$scratch/padside.1" 2>"$err"
status=$?
ran="manual"
cp "$scratch/padside.1" "$out"
expect "written from the tables" 0
if ! cmp -s "$page" "$scratch/padside.1"; then
	diff "$page" "$scratch/padside.1" | head -n 10
	echo "the manual is behind the tables: run \`make man\` and commit man/padside.1"
fi
check "in step with the tables" cmp -s "$page" "$scratch/padside.1"

every() { # TABLE MACRO: each key of a table has its paragraph
	sed -nE "s/^$2\([A-Z0-9_]+, \"([a-z0-9_]+)\".*/\1/p" "$1" >"$scratch/keys"
	while read -r key; do
		grep -qF "\\fB$key\\fR" "$page" || return 1
	done <"$scratch/keys"
	[ -s "$scratch/keys" ]
}
check "has every reading" every include/padside/catalog/readings.def READING
check "has every figure" every include/padside/catalog/figures.def FIGURE
check "has every fault" every include/padside/catalog/faults.def FAULT
for command in $("$program" --help | sed -n 's/^  \([a-z]*\) .*/\1/p'); do
	check "has padside $command" holds "$page" "\\fBpadside $command\\fR"
done
check "has the cautions" holds "$page" "never energise with the terminal cover off"
check "no line that a formatter would take for a command" \
	is "$(grep -E "^[.']" "$page" | grep -cvE '^\.(\\"|TH|SH|SS|TP|IP|PP|RS|RE|B|I|br|EX|EE)( |$)')" 0

if command -v groff >/dev/null 2>&1; then
	groff -man -Tutf8 -K utf8 -ww "$page" >"$out" 2>"$err"
	check "groff has nothing to say" [ ! -s "$err" ]
fi

close manual
