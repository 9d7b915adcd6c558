#!/bin/sh
# The fences between the rooms: who includes whom, and who may touch which
# system library.  The order of the house is in DEVELOPERS.md.
# shellcheck disable=SC2013 # lists of names without spaces
set -u
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
passed=0
failed=0

verdict() { # WHAT OFFENDERS
	if [ -z "$2" ]; then
		passed=$((passed + 1))
	else
		failed=$((failed + 1))
		echo "fences: $1:"
		echo "$2"
	fi
}

# What each room may include, itself and those below.
may_include() {
	case $1 in
	base) echo "base" ;;
	calc) echo "calc base" ;;
	catalog) echo "catalog base" ;;
	model) echo "model catalog calc base" ;;
	diagnose) echo "diagnose model catalog calc base" ;;
	store) echo "store model catalog calc base" ;;
	report) echo "report model catalog calc base diagnose" ;;
	app) echo "app store report diagnose model catalog calc base" ;;
	tui) echo "tui app store report diagnose model catalog calc base" ;;
	cli) echo "cli tui app store report diagnose model catalog calc base" ;;
	esac
}

for room in base calc catalog model diagnose store report app tui cli; do
	verdict "$room is a room with files" "$(find "src/$room" -name '*.c' | grep -q . || echo "none in src/$room")"
	allowed=" $(may_include $room) "
	offenders=
	for header in $(cat src/"$room"/*.[ch] include/padside/"$room"/* 2>/dev/null |
		sed -nE 's/^#include <padside\/([^>]*)>.*/\1/p' | sort -u); do
		case $allowed in
		*" ${header%%/*} "*) ;;
		*) offenders="$offenders padside/$header" ;;
		esac
	done
	for other in $(cat src/$room/*.[ch] 2>/dev/null | sed -n 's/^#include "\([a-z]*\)\/.*\.h"$/\1/p' | sort -u); do
		[ "$other" = "$room" ] || offenders="$offenders private header of $other"
	done
	verdict "$room includes what it may not" "$offenders"
done

# Of two migrations with one number, a book of the number before would get only one.
for folder in schema schema/office; do
	verdict "two migrations in $folder have one number" \
		"$(find "$folder" -maxdepth 1 -name '*.sql' | sed -E 's|.*/([0-9]+)_.*|\1|' | sort | uniq -d)"
done

# Headers lie one above the other: none comes back to itself.
above=$(for header in $(cd include && find padside -name '*.h') $(cd src && find . -name '*.h'); do
	file=$(find "include/$header" "src/$header" 2>/dev/null)
	sed -nE "s|^#include [<\"](([a-z_]+/)+[a-z_0-9]+\.h)[>\"].*|${header#./} \1|p" "$file"
done)
verdict "headers in a circle" "$(echo "$above" | tsort 2>&1 >/dev/null)"

# Which file calls into which, read from the objects; a room below is no part of a circle.
calls_within() { # ROOM
	# shellcheck disable=SC2046 # files without spaces
	nm -A -g $(find "src/$1" -maxdepth 1 -name '*.c' | sed "s|^|$build/|; s|c$|o|") | awk '
		{ sub(/^.*src\//, ""); sub(/\.o:/, " ") }
		NF == 3 && $2 == "U" { user[++users] = $1; used[users] = $3 }
		NF == 4 && $3 ~ /^[A-TV-Z]$/ { home[$4] = $1 }
		END {
			for (i = 1; i <= users; i++)
				if (used[i] in home && home[used[i]] != user[i])
					print user[i], home[used[i]]
		}'
}
for room in base calc catalog model diagnose store app report tui cli; do
	verdict "no calls within src/$room were found" "$([ "$(calls_within $room | wc -l)" -gt 3 ] || echo none)"
	verdict "files of src/$room in a circle" "$(calls_within $room | tsort 2>&1 >/dev/null)"
done

# One meaning a name: a tag stands for one thing in the whole program, also where only one file
# knows it, and a function of one file has the name of no public one.
tags=$(grep -nHoE '^[[:space:]]*((static|const|typedef) )*(struct|enum|union) [a-z_0-9]+ \{' \
	-r src include --include='*.[ch]' |
	sed -E 's/^([^:]*:[0-9]+):.*(struct|enum|union) ([a-z_0-9]+) \{/\3 \1/')
verdict "no tags were found" "$([ "$(echo "$tags" | wc -l)" -gt 200 ] || echo none)"
verdict "a tag means two things" \
	"$(echo "$tags" | sort | awk '{ where[$1] = where[$1] " " $2; count[$1]++ }
		END { for (tag in count) if (count[tag] > 1) print tag ":" where[tag] }')"
# shellcheck disable=SC2046 # files without spaces
public=$(nm -g --defined-only $(find src -name '*.c' | sed "s|^|$build/|; s|c$|o|") 2>/dev/null |
	awk '$2 ~ /^[A-TV-Z]$/ { print $3 }' | sort -u)
verdict "no public functions were found" "$([ "$(echo "$public" | wc -l)" -gt 500 ] || echo none)"
verdict "a function of one file has the name of a public one" \
	"$(cat src/*/*.[ch] src/*/*/*.[ch] | sed -nE 's/^static [^=(]*[ *]([a-z_0-9]+)\(.*/\1/p' | sort -u |
		{ echo "$public"; cat; } | sort | uniq -d)"
verdict "what a valve is, is told in two places: metering_is_valve()" \
	"$(grep -nE '[!=]= CHOICE_METERING_(TXV|EXV)' -r src include | grep -v '^src/model/visit\.c:')"

# Code that only tests use stands in tests. What is public and is named nowhere in the program
# but where it is defined, is theirs alone; these may be:
only_tests_use() {
	cat <<-'END'
	moist_air_from_dew_point: air is given by any two of its four properties; the set is whole
	moist_air_from_wet_bulb_and_relative_humidity: of the same set
	moist_air_from_wet_bulb_and_dew_point: of the same set
	moist_air_from_dew_point_and_relative_humidity: of the same set
	moist_air_saturation_pressure: the equation below that set, which the source tabulates
	refrigerant_lowest_temp_f: the range that every function of refrigerant.h names
	refrigerant_highest_temp_f: of the same range
	refrigerant_critical_temp_f: of the same range, which the source tabulates
	gauge_pressure_psig: the inverse of absolute_pressure_psia()
	airflow_heat_output_gas: what airflow_from_heat_rise() takes
	airflow_heat_output_electric: what airflow_from_heat_rise() takes
	coil_capacity_share: a curve of coil_expect(), held against its source
	coil_energy_share: a curve of coil_expect(), held against its source
	charge_learned_answer: what charge_advise() makes of the log, held against Bayes' rule
	padside_pdf_module: looked up by its name when a PDF is asked for
	END
}
# shellcheck disable=SC2046 # files without spaces
called=$(nm -u $(find "$build/src" "$build/man" -name '*.o') 2>/dev/null | awk '$1 == "U" { print $2 }' |
	sort -u)
named_once=$(find src man include \( -name '*.c' -o -name '*.def' \) -exec cat {} + | awk '
	{ gsub(/\/\*[^*]*\*\//, ""); sub(/\/\*.*/, "") }
	!/^[[:space:]]*\*/ { gsub(/[^A-Za-z0-9_]+/, "\n"); print }' | sort | uniq -u)
may_be=$(only_tests_use | sed 's/:.*//')
not_called=$({ echo "$public"; echo "$called"; echo "$called"; } | sort | uniq -u)
unused=$({ echo "$not_called"; echo "$named_once"; } | sort | uniq -d)
verdict "only tests call it" "$({ echo "$unused"; echo "$may_be"; echo "$may_be"; } | sort | uniq -u)"
verdict "it is called now, or gone, and needs no leave" \
	"$({ echo "$unused"; echo "$unused"; echo "$may_be"; } | sort | uniq -u | grep -v '^padside_pdf_module$')"

# Columns, not bytes: what goes on a character is left out, and a tab goes to the next fourth.
verdict "a line of more than 100 columns" \
	"$(LC_ALL=C find src include man -name '*.[ch]' -exec awk '
		length > 60 {
			gsub(/[\200-\277]/, "")
			while ((at = index($0, "\t")))
				$0 = substr($0, 1, at - 1) substr("    ", 1 + (at - 1) % 4) substr($0, at + 1)
			if (length > 100) print FILENAME ":" FNR ": " length }' {} +)"
verdict "sqlite3.h outside src/store" \
	"$(grep -lE '#include <sqlite3' -r src include | grep -v '^src/store/')"
verdict "curses outside src/tui/curses.c" \
	"$(grep -lE '#include <(curses|ncurses|panel|menu|form)' -r src include | grep -v '^src/tui/curses\.c$')"
verdict "pango or cairo outside src/report/pdf, which is loaded on demand" \
	"$(grep -lE '#include <(pango|cairo)' -r src include | grep -v '^src/report/pdf/')"
verdict "the store is called from src/tui: ask the session" \
	"$(grep -nE '\b(store_[a-z_]+\(|session_store\()|padside/store/' -r src/tui include/padside/tui)"
verdict "unbounded string functions" \
	"$(grep -nE '\b(strcpy|strcat|sprintf|vsprintf|gets)\(' -r src include)"
# A text takes the name of a key from the table of requests, so that a row changes both.
strings_of() { # FILE: its lines without comments and includes
	sed -E 's,/\*([^*]|\*[^/])*\*/,,g; s,^[[:space:]]*(/\*|\*|#include).*,,' "$1" |
		grep -noE '"([^"\\]|\\.)*"' | sed "s|^|$1:|"
}
keys=$(sed -nE 's/^\t\{ PRESS_[A-Z_]+, "([A-Za-z]+)" \},$/\1/p' src/tui/key.c | paste -sd '|')
keys="\b($keys|Space|F[0-9]+|(Ctrl|Alt|Shift)\+[^ ]+)\b"
written=$(find src -name '*.[ch]' -o -name '*.def' | sort | while read -r file; do strings_of "$file"; done |
	grep -E ":.*$keys")
verdict "keys are not found in the strings of src/tui/key.c" \
	"$([ "$(echo "$written" | grep -c '^src/tui/key.c')" -ge 15 ] && echo "$written" | grep -q '^src/tui/requests.def:.*"Ctrl+N"' ||
	   echo "the search finds too few")"
verdict "a key's name in a string: take it from its row, request_info(...)->key" \
	"$(echo "$written" | grep -vE '^src/tui/(key\.c|requests\.def):')"
# What was pressed is asked for in one place: what comes with the mouse and the window is no key.
verdict "a key tested raw: give it a row and ask request_from_key()" \
	"$(grep -nE '\bkey(\.|->)(press|character)\b|\bPRESS_[A-Z_]+' -r src |
	   grep -vE '^src/tui/(key|curses|requests)\.[ch]:|PRESS_(CLICK|WHEEL_UP|WHEEL_DOWN|RESIZE|CHANGED|NOTHING|CLOSE)\b' |
	   grep -vF 'insert(edit, key.character)')"
# The process in which a PDF is written has an end of its own.
verdict "exit() outside main" \
	"$(grep -nE '\b_?exit\(' -r src include | grep -v '^src/cli/main\.c' | grep -v '^src/report/pdf\.c:.*_exit(write_apart(')"
verdict "a header includes a table of src" \
	"$(grep -nE '#include "' -r include)"
for header in include/padside/*/*.h; do
	verdict "$header does not stand alone" \
		"$(echo "#include <${header#include/}>" |
		   ${CC:-cc} -std=c11 -D_XOPEN_SOURCE=700 -Iinclude -fsyntax-only -x c - 2>&1)"
done

# What is promised names its test: each is there, and the table is one.
promises=$(sed -n '/^## What is promised/,/^## The office$/p' DEVELOPERS.md)
verdict "DEVELOPERS.md promises nothing: its table was not found" \
	"$([ "$(echo "$promises" | grep -c '^| [^|]* | .*`')" -ge 40 ] || echo "fewer than 40 rows")"
verdict "DEVELOPERS.md has another table of what is promised" \
	"$(grep -n '^| promise | test |' DEVELOPERS.md | sed 1d)"
# shellcheck disable=SC2016 # the backticks are Markdown's
verdict "a test that DEVELOPERS.md names is not there" \
	"$(echo "$promises" | grep -oE '`tests/[a-z_./]+`' | tr -d '`' | while read -r path; do
		[ -e "$path" ] || echo "$path"
	done)"
# shellcheck disable=SC2016 # the backticks are Markdown's
verdict "a target that DEVELOPERS.md names is not there" \
	"$(echo "$promises" | grep -oE '`make [a-z-]+`' | tr -d '`' | while read -r _ target; do
		grep -qE "^([a-z-]+ )*$target( [a-z-]+)*:" Makefile || echo "$target"
	done)"

echo "fences: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
