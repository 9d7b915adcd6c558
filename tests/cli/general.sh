#!/bin/sh
# What holds for every command: help, version, wrong words, where the book lies.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

run --version
expect "version" 0 "padside "
check "version: one line" is "$(wc -l <"$out")" 1
run --help
expect "help" 0 "usage: padside"
commands=$(sed -n 's/^  \([a-z]*\) .*/\1/p' "$out")
check "help names the commands of the promise" is \
	"$(echo "$commands" | grep -cxE 'calls|show|export|history|record|assess|figure|merge|backup|verify')" 10
for command in $commands; do
	run "$command" --help
	expect "help of $command" 0 "usage: padside $command"
	for option in '-b, --book' '-u, --units' '-h, --help' '-V, --version'; do
		check "help of $command names $option" holds "$out" "  $option"
	done
	run help "$command"
	expect "help $command is the same" 0 "usage: padside $command"
	run "$command" -h
	expect "$command -h is the same" 0 "usage: padside $command"
	run "$command" --nonsense
	expect "$command: unknown option" 2 "--nonsense"
	run "$command" --units furlongs
	expect "$command: unknown units" 2 "us or si"
	run "$command" --theme purple
	expect "$command: unknown theme" 2 "auto, light, dark or mono"
	run "$command" --book
	expect "$command: option without its value" 2 "--book"
	run "$command" --help=yes
	expect "$command: value for a flag" 2 "--help"
done

run nonsense
expect "unknown command" 2 "nonsense"
check "a usage error names the help" holds "$err" "padside --help"
run calls --since
expect "an option at the end without its value" 2 "--since DATE"
check "a command's usage error names its help" holds "$err" "padside calls --help"
run calls --customer --open
expect "an option is never taken for another's value" 2 "--customer needs a value"
run calls --customer=--open
check "a value that looks like an option behind =" is "$status" 1
run calls -cAda -j
check "letters, the value at once" is "$status" 1
run calls -z
expect "an unknown letter" 2 "no option -z"
run calls --format yaml
expect "an unknown format" 2 "text|json"
run calls --format json --json
expect "two formats" 2 "one format"
run -V
expect "the version by letter" 0 "padside "
run help nonsense
expect "help on what is no command" 2
run figure return_rh return_db=24 return_wb=17 -u si
check "letters behind the words" is "$status" 0
run --nonsense
expect "unknown option" 2 "--nonsense"
run verify x
expect "too many words" 2
run merge
expect "too few words" 2
run "$(printf 'a\033]0;b\007')"
expect "terminal escapes in a command" 2
check "terminal escapes in a command: harmless" lacks "$err" "$(printf '\033')"

run </dev/null
expect "the workbook without a terminal" 1 "terminal"
check "the workbook without a terminal makes no book" [ ! -e "$book" ]

# ---- Where the book lies ----

for command in calls verify "show 1" "export 1" "backup $scratch/copy.db"; do
	book=$scratch/none.db
	# shellcheck disable=SC2086 # a command and its words
	run $command
	expect "no book yet: $command" 1
	check "no book yet: $command makes none" [ ! -e "$scratch/none.db" ]
done

echo '{"customer": {"name": "Ada"}}' >"$scratch/call.json"
XDG_DATA_HOME=$scratch/data "$program" record "$scratch/call.json" >"$out" 2>"$err"
check "the default place" [ -f "$scratch/data/padside/book.db" ]
check "the default place: its owner's only" is \
	"$(stat -c %a "$scratch/data/padside/book.db" "$scratch/data/padside" | tr '\n' ' ')" "600 700 "
(unset XDG_DATA_HOME; HOME=$scratch/home "$program" record "$scratch/call.json" >"$out" 2>"$err")
check "the default place without XDG_DATA_HOME" [ -f "$scratch/home/.local/share/padside/book.db" ]
XDG_DATA_HOME=relative HOME=$scratch/other "$program" record "$scratch/call.json" >"$out" 2>"$err"
check "a relative XDG_DATA_HOME is no place" [ -f "$scratch/other/.local/share/padside/book.db" ]
(unset XDG_DATA_HOME HOME; "$program" calls >"$out" 2>"$err")
check "no home: says so" holds "$err" "--book"

book=$scratch/text.db
echo "This is no database, but a shopping list." >"$book"
run calls
expect "a file that is no book" 1 "$book"
check "a file that is no book: untouched" is "$(cat "$book")" "This is no database, but a shopping list."
run record "$scratch/call.json"
expect "a file that is no book: record" 1 "$book"
check "a file that is no book: still untouched" is "$(cat "$book")" \
	"This is no database, but a shopping list."
book=$scratch/no/such/folder/book.db
run calls
expect "a book in a folder that is not there" 1

# A write that cannot be done is no success: the answer goes to a full device.
if [ -c /dev/full ]; then
	book=$scratch/data/padside/book.db
	"$program" --book "$book" calls >/dev/full 2>"$err"
	check "a full device: status 1" is "$?" 1
	check "a full device: a sentence" is_one_sentence "$err"
else
	skip "a full device" "there is no /dev/full"
fi

# With all that it brings along it takes longer to load than the rest of a start takes.
if command -v readelf >/dev/null; then
	readelf -d "$program" >"$scratch/needs"
	check "what the program needs is known" holds "$scratch/needs" "libsqlite3"
	check "libpq is loaded when an office is met, not before" is "$(grep -c libpq "$scratch/needs")" 0
else
	skip "what the program loads" "there is no readelf"
fi

close general
