#!/bin/sh
# The manual pages: say what the tables say, and are sound to formatters.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

readings=man/padside-readings.7
"${BUILD:-build}/manual" >"$scratch/pages"
check "a page is in man/ for each that is written" is \
	"$(sort "$scratch/pages" | tr '\n' ' ')" "$(cd man && echo *.[157]) "
while read -r page; do
	"${BUILD:-build}/manual" "$page" >"$scratch/$page" 2>"$err"
	status=$?
	ran="manual $page"
	cp "$scratch/$page" "$out"
	expect "$page: written from the tables" 0
	if ! cmp -s "man/$page" "$scratch/$page"; then
		diff "man/$page" "$scratch/$page" | head -n 10
		echo "the manual is behind the tables: run \`make man\` and commit man/$page"
	fi
	check "$page: in step with the tables" cmp -s "man/$page" "$scratch/$page"
	check "$page: no line that a formatter would take for a command" \
		is "$(grep -E "^[.']" "man/$page" | grep -cvE '^\.(\\"|TH|SH|SS|TP|IP|PP|RS|RE|B|I|br|EX|EE)( |$)')" 0
	if command -v groff >/dev/null 2>&1; then
		groff -man -Tutf8 -K utf8 -ww "man/$page" >"$out" 2>"$err"
		check "$page: groff has nothing to say" [ ! -s "$err" ]
		check "$page: groff prints it" holds "$out" "padside"
	fi
	if command -v mandoc >/dev/null 2>&1; then
		mandoc -W warning "man/$page" >"$out" 2>"$err"
		check "$page: mandoc has nothing to say" [ ! -s "$err" ]
	fi
done <"$scratch/pages"
for formatter in groff mandoc; do
	command -v "$formatter" >/dev/null 2>&1 || skip "the pages through $formatter" "it is not installed"
done

every() { # TABLE MACRO: each key of a table has its paragraph
	sed -nE "s/^$2\([A-Z0-9_]+, \"([a-z0-9_]+)\".*/\1/p" "$1" >"$scratch/keys"
	while read -r key; do
		grep -qF "\\fB$key\\fR" "$readings" || return 1
	done <"$scratch/keys"
	[ -s "$scratch/keys" ]
}
check "has every reading" every include/padside/catalog/readings.def READING
check "has every figure" every include/padside/catalog/figures.def FIGURE
check "has every fault" every include/padside/catalog/faults.def FAULT
for command in $("$program" --help | sed -n 's/^  \([a-z]*\) .*/\1/p'); do
	check "has padside $command" holds man/padside.1 "\\fBpadside $command\\fR"
done
# "-inf to 0.5 V" stood there.
check "a limit that is none is not written, one minute is one" is "$(grep -cE 'inf to|Takes 1 minutes' "$readings")" 0
check "has the cautions" holds "$readings" "never energise with the terminal cover off"

close manual
