#!/bin/sh
# The workbook as other terminals have it: a text console by its own sequences, GNU
# screen with its own idea of the keys, a place where only ASCII can be shown.
#
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/../cli/lib"

# shellcheck source=tests/screens/lib
. "$(dirname "$0")/lib"

why=$(no_terminal_here)
if [ -n "$why" ]; then
	fail "tmux" "$why"
	close terminals
	exit
fi

run record demo/book.ndjson
begin_terminal 80 25

# A function key by the bytes that the kind of terminal sends for it.
raw() {
	terminal send-keys -t work -l -- "$1"
}

# To the windings of the newest call, and its history.
look_at_windings() { # BYTES-OF-F6
	terminal send-keys -t work Enter
	check_screen "$kind: the call opens" "customer, site, complaint"
	raw "$1"
	check_screen "$kind: F6 is known" "start – run"
}

kind="a text console"
check "$kind: the workbook opens" open_workbook TERM=linux LC_ALL=C.UTF-8
look_at_windings "${escape}[17~"
check "$kind: omega, ticks and diamonds have stand-ins" is "$(screen | grep -c '[Ω✓◆◇▌▐]')" 0
check "$kind: what its fonts have is drawn" sees "0.78 ohm"
check "$kind: lines and dots are drawn" sees_row '^─+ figures'
raw "${escape}[[A"
check_screen "$kind: F1 is known" "On a reading as found and as left"
terminal send-keys -t work C-q

kind="a console with ASCII only"
check "$kind: the workbook opens" open_workbook TERM=linux LC_ALL=C
terminal send-keys -t work Enter
check_screen "$kind: the call opens" "customer, site, complaint"
check "$kind: nothing else is drawn" is "$(screen | LC_ALL=C grep -c '[^ -~]')" 0
terminal send-keys -t work C-q

kind="GNU screen"
# The function that reads the page has the program's name.
where=$(unset -f screen; command -v screen)
if [ -n "$where" ]; then
	mkdir -m 700 "$scratch/sockets"
	within_screen() {
		terminal respawn-pane -k -t work "exec env LC_ALL=C.UTF-8 SCREENDIR='$scratch/sockets' \
			'$where' -U -c /dev/null '$program' --book '$book'" || return 1
		within sees "Ctrl+N"
	}
	check "$kind: the workbook opens" within_screen
	terminal send-keys -t work Enter
	check_screen "$kind: the call opens" "customer, site, complaint"
	terminal send-keys -t work F6
	check_screen "$kind: F6 is known" "0.78 Ω"
	terminal send-keys -t work M-z
	check_screen "$kind: the book has a key besides Ctrl+B" "find:"
	terminal send-keys -t work C-q
	check "$kind: the workbook ends" within is_over
else
	skip "$kind" "it is not installed"
fi

close terminals
