#!/bin/sh
# The mouse in the whole program at 80 by 24: the bytes that a terminal sends for a
# click and for the wheel (xterm's control sequences, "Mouse Tracking", the SGR way).
#
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/../cli/lib"

# shellcheck source=tests/screens/lib
. "$(dirname "$0")/lib"

why=$(no_terminal_here)
if [ -n "$why" ]; then
	fail "tmux" "$why"
	close mouse
	exit
fi

mouse() { # BUTTON ROW COLUMN, from 1: pressed and let go
	terminal send-keys -t work -l -- "${escape}[<$1;$3;$2M${escape}[<$1;$3;$2m"
}

row_of() { # TEXT: its row, from 1
	screen | grep -nF -e "$1" | sed 's/:.*//;q'
}

# The terminal inside tmux sends the old way unless the program asks for SGR: its
# kind is named, so that the program reads what is sent here.
begin_terminal 80 24
check "the workbook opens" open_workbook TERM=xterm-256color
terminal send-keys -t work C-n
check_screen "a new call" "customer, site, complaint"

mouse 0 2 41 # F5·supply, in the strip of steps
check_screen "a click on a step goes there" "line voltage"

mouse 0 "$(row_of 'line voltage')" 30
check "a click on a field goes there" within is_at "line voltage"
terminal send-keys -t work -l 239
check "what is typed stands in it" within sees_row '^.line voltage +239'
mouse 0 "$(row_of 'call for cooling')" 53
check_screen "a click elsewhere keeps what was typed" "239.0 V"
terminal send-keys -t work -l y
terminal send-keys -t work Enter
check "a click on the other column goes there" within sees_row '^.call for cooling .* yes '
in_book() {
	[ "$(sqlite3 "$book" "SELECT group_concat(stage || ' ' || key || ' ' || coalesce(word, number), ', ')
		FROM (SELECT * FROM call_reading ORDER BY stage)")" = "$1" ]
}
check "as found and as left are in the book" within in_book \
	"as_found line_voltage 239.0, as_left call_for_cooling yes"

mouse 0 2 15 # F3·plate
check_screen "the nameplate" "metering device"
mouse 64 10 10
mouse 65 10 10
mouse 65 10 10
mouse 65 10 10
mouse 65 10 10
mouse 65 10 10
mouse 65 10 10
check_screen "the wheel scrolls the sheet" "↑"
# The wheel comes last, and is seen: what was clicked before it was heard.
before=$(inked)
is_as_before() {
	[ "$(inked)" = "$before" ]
}
is_another() {
	! is_as_before
}
mouse 0 24 80
mouse 2 10 10
mouse 64 10 10
check "the wheel scrolls back" within is_another
mouse 65 10 10
check "a click on nothing changes nothing" within is_as_before
terminal send-keys -t work C-q
check "the workbook ends" within is_over

close mouse
