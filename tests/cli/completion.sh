#!/bin/sh
# Completion: what the shells offer, asked of the same program.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

run record demo/book.ndjson
offered() { # WORD… (the last one is being typed)
	bash -c '
		. man/completion.bash
		COMP_WORDS=("$@")
		COMP_CWORD=$(($# - 1))
		_padside
		printf "%s\n" "${COMPREPLY[@]}"' complete "$@" >"$out" 2>"$err"
	status=$?
	ran="completion of $*"
}

offered "$program" ca
check "a command" is "$(cat "$out")" calls
offered "$program" --book "$book" he
check "help is one" is "$(cat "$out")" help
offered "$program" calls --cu
check "an option" is "$(cat "$out")" --customer
offered "$program" calls --format ""
check "the values of an option" is "$(tr '\n' ' ' <"$out")" "text json "
offered "$program" export --format ""
check "those of a long list" is "$(tr '\n' ' ' <"$out")" "text markdown html csv pdf json "
offered "$program" export --for ""
check "whom a report is for" is "$(tr '\n' ' ' <"$out")" "customer office "
offered "$program" ledger -f c
check "the values of an option by its letter" is "$(cat "$out")" csv
offered "$program" --units ""
check "the values of a global option" is "$(tr '\n' ' ' <"$out")" "us si "
offered "$program" figure superh
check "a figure" is "$(cat "$out")" superheat
offered "$program" --book "$book" settings tax_p
check "a setting" is "$(cat "$out")" tax_part=
offered "$program" --book "$book" show ""
check "the calls of the book" is "$(wc -l <"$out")" "$(wc -l <demo/book.ndjson)"

# The same asked of fish, which completes without a terminal.
fish_offers() { # LINE
	fish --no-config -c "function padside; $program \$argv; end; source man/completion.fish; complete -C '$1'" \
		>"$out" 2>"$err"
	status=$?
	ran="fish's completion of $1"
}

if command -v fish >/dev/null 2>&1; then
	fish_offers "padside ca"
	check "fish: a command" is "$(cut -f1 <"$out")" calls
	fish_offers "padside calls --format "
	check "fish: the values of an option" is "$(tr '\n' ' ' <"$out")" "json text "
	fish_offers "padside --units "
	check "fish: the values of a global option" is "$(tr '\n' ' ' <"$out")" "si us "
	fish_offers "padside figure superheat "
	check "fish: the readings of a figure" is "$(tr '\n' ' ' <"$out")" \
		"altitude= refrigerant= suction_line_temp= suction_pressure= "
	fish_offers "padside --book $book show "
	check "fish: the calls of the book" is "$(wc -l <"$out")" "$(wc -l <demo/book.ndjson)"
	fish_offers "padside prices demo/pri"
	check "fish: a file" is "$(cut -f1 <"$out")" demo/prices.csv
else
	skip "fish's completion" "no fish here"
fi

# And of zsh, whose completion speaks to its line editor: what it would add is printed instead.
zsh_offers() { # WORD… (the last one is being typed)
	# shellcheck disable=SC2016 # zsh's own
	zsh -f -c '
		compadd() {
			while [[ $1 != -- ]]; do shift; done
			shift
			for word in "$@"; do [[ $word == ${words[CURRENT]}* ]] && print -r -- $word; done
		}
		_files() { print -r -- files; }
		words=("$@") CURRENT=$#
		. man/completion.zsh' complete "$@" >"$out" 2>"$err"
	status=$?
	ran="zsh's completion of $*"
}

# The same by the Tab key, in a shell that loads the file as an installed one.
zsh_types() { # TEXT
	mkdir -p "$scratch/zsh"
	cp man/completion.zsh "$scratch/zsh/_padside"
	ln -sf "$(realpath "$program")" "$scratch/zsh/padside"
	# shellcheck disable=SC2016 # zsh's own
	timeout 60 zsh -f -c '
		zmodload zsh/zpty
		zpty -b shell "env PATH=$1:$PATH TERM=dumb zsh -f -i"
		zpty -w shell "fpath=($1 \$fpath); autoload -Uz compinit; compinit -u -D; echo read''y"
		zpty -m -r shell ignored "*ready*"
		zpty -w -n shell "$2"$'\''\t'\''
		repeat 100; do
			zpty -r -t shell more && shown+=$more
			[[ $shown == *$3* ]] && print -r -- "$3" && break
			sleep 0.1
		done' complete "$scratch/zsh" "$1" "$2" >"$out" 2>"$err"
	status=$?
	ran="zsh, typing $1"
}

if command -v zsh >/dev/null 2>&1; then
	zsh_offers "$program" ca
	check "zsh: a command" is "$(cat "$out")" calls
	zsh_offers "$program" calls --cu
	check "zsh: an option" is "$(cat "$out")" --customer
	zsh_offers "$program" calls --format ""
	check "zsh: the values of an option" is "$(tr '\n' ' ' <"$out")" "text json "
	zsh_offers "$program" export --format ""
	check "zsh: those of a long list" is "$(tr '\n' ' ' <"$out")" "text markdown html csv pdf json "
	zsh_offers "$program" ledger -f c
	check "zsh: the values of an option by its letter" is "$(cat "$out")" csv
	zsh_offers "$program" --units ""
	check "zsh: the values of a global option" is "$(tr '\n' ' ' <"$out")" "us si "
	zsh_offers "$program" figure superheat ""
	check "zsh: the readings of a figure" is "$(sort "$out" | tr '\n' ' ')" \
		"altitude= refrigerant= suction_line_temp= suction_pressure= "
	zsh_offers "$program" --book "$book" settings tax_p
	check "zsh: a setting" is "$(cat "$out")" tax_part=
	zsh_offers "$program" --book "$book" show ""
	check "zsh: the calls of the book" is "$(wc -l <"$out")" "$(wc -l <demo/book.ndjson)"
	zsh_offers "$program" prices demo/pri
	check "zsh: a file" is "$(cat "$out")" files
	zsh_types "padside calls --cu" "padside calls --customer"
	check "zsh: by the Tab key" is "$(cat "$out")" "padside calls --customer"
else
	skip "zsh's completion" "no zsh here"
fi

for shell in zsh fish; do
	if ! command -v $shell >/dev/null 2>&1; then
		continue
	fi
	$shell -n "man/completion.$shell" >"$out" 2>"$err"
	check "$shell reads its file" [ ! -s "$err" ]
done

close completion
