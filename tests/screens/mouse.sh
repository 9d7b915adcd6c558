#!/bin/sh
# The mouse in the whole program at 80 by 24: the bytes that a terminal sends for a
# click and for the wheel (xterm's control sequences, "Mouse Tracking", the SGR way).
#
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/../cli/lib"

if ! command -v tmux >/dev/null 2>&1; then
	fail "tmux" "it is not installed; tests/packages test installs it"
	close mouse
	exit
fi

socket=padside-mouse-$$
escape=$(printf '\033')
ran="the workbook"
trap 'tmux -L "$socket" kill-server 2>/dev/null; rm -rf "$scratch"' EXIT

terminal() {
	tmux -L "$socket" "$@"
}

sees() { # TEXT
	terminal capture-pane -p -t work | grep -qF -e "$1"
}

check_screen() { # WHAT TEXT
	check "$1" within sees "$2"
	terminal capture-pane -p -t work >"$out"
}

mouse() { # BUTTON ROW COLUMN, from 1: pressed and let go
	terminal send-keys -t work -l -- "${escape}[<$1;$3;$2M${escape}[<$1;$3;$2m"
}

row_of() { # TEXT: its row, from 1
	terminal capture-pane -p -t work | grep -nF -e "$1" | sed 's/:.*//;q'
}

# The terminal inside tmux sends the old way unless the program asks for SGR: its
# kind is named, so that the program reads what is sent here.
terminal -f /dev/null new-session -d -s work -x 80 -y 24 \
	"exec env TERM=xterm-256color '$program' --book '$book'" \; set -g status off \; \
	resize-window -t work -x 80 -y 24
check_screen "the workbook opens" "Ctrl+N"
terminal send-keys -t work C-n
check_screen "a new call" "customer, site, complaint"

mouse 0 2 41 # F5·supply, in the strip of steps
check_screen "a click on a step goes there" "line voltage"

mouse 0 "$(row_of 'line voltage')" 30
terminal send-keys -t work -l 239
check_screen "a click on a field goes there" "239"
mouse 0 "$(row_of 'call for cooling')" 53
check_screen "a click elsewhere keeps what was typed" "239.0 V"
terminal send-keys -t work -l y
terminal send-keys -t work Enter
check_screen "a click on the other column goes there" "yes"
check "as found and as left are in the book" is "$(sqlite3 "$book" \
	"SELECT group_concat(stage || ' ' || key, ', ') FROM (SELECT stage, key FROM call_reading ORDER BY stage)")" \
	"as_found line_voltage, as_left call_for_cooling"

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
mouse 0 24 80
mouse 2 10 10
check_screen "a click on nothing changes nothing" "↑"
terminal send-keys -t work C-q

close mouse
