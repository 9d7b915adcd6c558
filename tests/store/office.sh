#!/bin/sh
# The office: a private PostgreSQL server in the scratch folder, on a socket.
# Trucks and a desk meet there; what each role may do; what a bookkeeper reads;
# a server that is killed; and random histories (tests/store/test_office.c).
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/../cli/lib"

bin=$(find /usr/lib/postgresql/*/bin /usr/pgsql-*/bin -maxdepth 0 2>/dev/null | sort -V | tail -n 1)
[ -n "$bin" ] || bin=$(dirname "$(command -v initdb || echo /none/initdb)")
if [ ! -x "$bin/initdb" ]; then
	skip "meeting the office" "there is no PostgreSQL server here"
	close office
	exit
fi
if "$program" --book "$book" sync postgresql://nobody@/nowhere 2>&1 | grep -q 'without libpq'; then
	skip "meeting the office" "this padside was built without libpq"
	close office
	exit
fi

# The server does not run as root; its socket is where everybody reaches it.
server=$scratch/office
mkdir "$server"
chmod 755 "$scratch"
as=
if [ "$(id -u)" -eq 0 ]; then
	as="runuser -u postgres --"
	chown postgres "$server"
fi
serve() { # start|stop WORDS…
	$as "$bin/pg_ctl" -D "$server/data" -l "$server/log" -w "$@" >"$scratch/pg_ctl" 2>&1
}
sql() { # ROLE DATABASE SQL
	"$bin/psql" -X -q -A -t -v ON_ERROR_STOP=1 -h "$server" -U "$1" -d "$2" -c "$3"
}
at() { # ROLE [FIRM]
	echo "postgresql://$1@/${2:-larkmere}?host=$server"
}
trap '$as "$bin/pg_ctl" -D "$server/data" -m immediate stop >/dev/null 2>&1; rm -rf "$scratch"' EXIT

$as "$bin/initdb" -D "$server/data" -A trust -U keeper --no-sync >"$scratch/initdb" 2>&1
serve start -o "-k $server -c listen_addresses='' -c fsync=off"
check "a private server" sql keeper postgres "SELECT 1"

# ---- Laying out, three trucks and a desk ----

sql keeper postgres "CREATE DATABASE larkmere"
sql keeper postgres "CREATE DATABASE elsewhere"
for role in truck0 truck1 truck2 truck3 truck4 desk bookkeeper stranger; do
	sql keeper postgres "CREATE ROLE $role LOGIN"
done
run office init "$(at keeper)"
expect "the schema" 0 "migrations applied"
run office init "$(at keeper)"
expect "the schema: once is enough" 0 "up to date"
run office init "$(at keeper elsewhere)"
expect "another firm" 0 "migrations applied"
run office init "$(at keeper)" --firm 'x; DROP'
expect "a firm's name that is none" 1 "no name for a firm"
sql keeper larkmere "GRANT larkmere_truck TO truck0, truck1, truck2, desk;
	GRANT larkmere_reader TO bookkeeper"
sql keeper elsewhere "GRANT elsewhere_truck TO stranger"

truck() { # NUMBER WORDS…
	number=$1
	shift
	"$program" --book "$scratch/truck$number.db" "$@" >"$out" 2>"$err"
	status=$?
	ran="truck $number: padside $*"
}

# An afternoon apart: each truck has calls of its own, and one customer is everybody's.
split -n l/3 -d -a 1 demo/book.ndjson "$scratch/part"
for number in 0 1 2; do
	truck "$number" record "$scratch/part$number"
	truck "$number" sync "$(at truck"$number")"
	expect "truck $number meets" 0 "sent "
done
for number in 0 1 2; do
	truck "$number" sync "$(at truck"$number")"
	truck "$number" verify
	expect "truck $number: its book is sound" 0 "sound"
	truck "$number" calls
	sort "$out" >"$scratch/calls$number"
done
check "all have the same calls" cmp -s "$scratch/calls0" "$scratch/calls2"
check "and they are all" is "$(grep -c '^[0-9a-f]' "$scratch/calls1")" "$(wc -l <demo/book.ndjson)"
truck 1 sync "$(at truck1)"
expect "nothing new is nothing" 0 "sent 0 changes, fetched 0;"
truck 3 sync "$(at desk)"
expect "a new desk gets everything" 0 "$(wc -l <demo/book.ndjson) calls"

# The fold of the server against the book's own, byte for byte: what each field
# says, what is there, what is in question, and of whom each call is after joins.
fold_of_book() { # BOOK
	sqlite3 "$1" "SELECT 'value ' || uid || ' ' || name || ' ' || coalesce(new, '-') FROM entry AS e
		JOIN thing ON thing.id = e.thing JOIN field ON field.id = e.field WHERE NOT EXISTS (
		SELECT 1 FROM entry AS f WHERE f.thing = e.thing AND f.field = e.field
		AND (f.stamp, f.book) > (e.stamp, e.book));
		SELECT 'there ' || uid FROM thing WHERE id NOT IN (SELECT thing FROM removed)
		AND EXISTS (SELECT 1 FROM entry WHERE entry.thing = thing.id);
		SELECT 'asked ' || uid || ' ' || name FROM question JOIN thing ON thing.id = question.thing
		JOIN field ON field.id = question.field;
		SELECT 'call ' || call.uid || ' ' || customer.uid || ' ' || customer.name || ' ' || site.uid || ' '
		|| site.address || ' ' || system.uid || ' ' || coalesce(closed_at, '-') FROM call
		JOIN customer ON customer.id = call.customer JOIN site ON site.id = call.site
		JOIN system ON system.id = call.system" | LC_ALL=C sort
}
fold_of_server() { # DATABASE FIRM
	sql keeper "$1" "SET search_path TO $2; SELECT 'value ' || thing || ' ' || field || ' ' || coalesce(new, '-')
		FROM value UNION ALL SELECT 'there ' || thing FROM present
		UNION ALL SELECT 'asked ' || thing || ' ' || field FROM question
		UNION ALL SELECT 'call ' || call || ' ' || customer || ' ' || coalesce(customer_name, '') || ' ' || site
		|| ' ' || coalesce(address, '') || ' ' || system || ' ' || coalesce(closed_at, '-') FROM calls" |
		LC_ALL=C sort
}
fold_of_book "$scratch/truck3.db" >"$scratch/book.fold"
fold_of_server larkmere larkmere >"$scratch/server.fold"
check "the server's fold is the book's" cmp "$scratch/book.fold" "$scratch/server.fold"
check "and it is not empty" [ "$(wc -l <"$scratch/book.fold")" -gt 2000 ]

# ---- What the office reads ----

reads() { # WHAT SQL ANSWER
	check "$1" is "$(sql bookkeeper larkmere "SET search_path TO larkmere; $2" 2>&1)" "$3"
}
call=$(sed -n 's/.*"call": {"uid": "\([0-9a-f-]*\)".*/\1/p' demo/book.ndjson | tail -n 1)
# 95 + 34.50 + 55 + 12 + 20.40 + 110 = 326.90; 7.25 % of 46.50 is 3.37, of 20.40 is 1.48.
reads "an unbilled call" "SELECT customer_name, total FROM unbilled_calls WHERE call = '$call'" \
	"Maren Oduya|331.75"
reads "a declined option" "SELECT title FROM declined_work WHERE call = '$call'" "New 3-ton system"
reads "refrigerant of a unit, as a share of its charge" \
	"SELECT refrigerant, made_up, charge, leak_percent FROM leak_rates WHERE year = '2026'
	AND system = (SELECT system FROM calls WHERE call = '$call')" \
	"R-410A|8.5|112|7.6"
reads "a reading with its number" \
	"SELECT number FROM readings WHERE call = '$call' AND stage = 'as_found' AND reading = 'suction_pressure'" 108.5

# ---- Who may do what ----

refused() { # WHAT ROLE DATABASE SQL WORDS
	"$bin/psql" -X -q -h "$server" -U "$2" -d "$3" -c "$4" >"$out" 2>"$err"
	status=$?
	ran="$2: $4"
	check "$1" grep -q "$5" "$err"
}
refused "a truck alters no entry" truck0 larkmere "UPDATE larkmere.entry SET new = 'x'" "permission denied"
refused "a truck deletes no entry" truck0 larkmere "DELETE FROM larkmere.entry" "permission denied"
refused "nor does the keeper by mistake" keeper larkmere "DELETE FROM larkmere.entry" "never altered"
refused "a truck writes no fold" truck0 larkmere "UPDATE larkmere.value SET new = 'x'" "permission denied"
refused "a truck forges no book" truck0 larkmere "INSERT INTO larkmere.entry (book, number, stamp, kind,
	thing, field, technician, sum) SELECT book, 999999, 1, 1, thing, field, '', 1 FROM larkmere.entry
	WHERE book NOT IN (SELECT book FROM larkmere.truck WHERE role = 'truck0') AND book > 0 LIMIT 1" \
	"row-level security"
refused "a bookkeeper appends nothing" bookkeeper larkmere \
	"INSERT INTO larkmere.entry (book) VALUES (1)" "permission denied"
refused "another firm's truck reads nothing" stranger larkmere "SELECT * FROM larkmere.entry" \
	"permission denied"
refused "nor joins" stranger larkmere "SELECT larkmere.meet(5)" "permission denied"
truck 4 sync "$(at stranger)"
expect "nor meets" 1 "permission denied"
truck 0 sync "$(at truck1)"
expect "a book is one truck's" 1 "another truck"

printf '%s' '{"customer": {"name": "Robert'"'"'); DROP TABLE entry; --\tX"}, "call": {"complaint": "\\N \\. \\\\"}}' >"$scratch/evil"
truck 0 record "$scratch/evil"
truck 0 sync "$(at truck0)"
expect "words that look like SQL and COPY travel" 0 "sent "
truck 2 sync "$(at truck2)"
truck 2 calls --customer Robert
expect "and arrive as they are" 0 "Robert'); DROP TABLE entry; --"

sql keeper larkmere "REVOKE larkmere_truck FROM truck2"
truck 2 sync "$(at truck2)"
expect "one statement revokes a truck" 1 "permission denied"
sql keeper larkmere "GRANT larkmere_truck TO truck2"

# ---- A server that dies ----

truck 1 record "$scratch/evil"
serve stop -m immediate
truck 1 sync "$(at truck1)"
expect "a server that is not there" 1 "nothing was lost"
serve start -o "-k $server -c listen_addresses='' -c fsync=off"
truck 1 sync "$(at truck1)"
expect "and is there again" 0 "sent "

# ---- The setting ----

truck 1 settings "sync=$(at truck1)"
truck 1 sync
expect "the address from the settings" 0 "sent "
truck 0 sync
expect "no address" 1 "no office is named"

# ---- Random histories: a firm each ----

rounds=${PADSIDE_OFFICE_ROUNDS:-5}
sql keeper postgres "CREATE DATABASE histories"
number=0
while [ "$number" -lt "$rounds" ]; do
	"$program" office init "$(at keeper histories)" --firm "firm$number" >>"$scratch/init" 2>&1
	echo "GRANT firm${number}_truck TO truck0, truck1, truck2, truck3, truck4;" >>"$scratch/grants"
	number=$((number + 1))
done
"$bin/psql" -X -q -h "$server" -U keeper -d histories -f "$scratch/grants"
PADSIDE_OFFICE=$server PADSIDE_OFFICE_ROUNDS=$rounds PADSIDE_OFFICE_BOOKS=$scratch \
	"${BUILD:-build}/test-runner" office >"$out" 2>"$err"
status=$?
ran="$rounds random histories"
grep -E ':[EF]:' "$out"
check "random histories of four trucks and a desk" [ "$status" -eq 0 ]
differ=
number=0
while [ "$number" -lt "$rounds" ] && [ "$number" -lt 20 ]; do
	fold_of_book "$scratch/firm$number.db" >"$scratch/book.fold"
	fold_of_server histories "firm$number" >"$scratch/server.fold"
	cmp -s "$scratch/book.fold" "$scratch/server.fold" ||
		differ="$differ firm$number: $(diff "$scratch/book.fold" "$scratch/server.fold" | head -n 4)"
	number=$((number + 1))
done
check "the server's fold of each is the books'" is "$differ" ""

close office
