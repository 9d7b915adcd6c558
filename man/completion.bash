# Completion for padside in bash.  Commands, options, their values, figures,
# readings and call ids are asked of the program itself, so that this file
# knows none of them.

# The option lines of a command's help: "  -f, --format text|json   …".
_padside_options() { # PROGRAM COMMAND
	"$1" help ${2:+"$2"} 2>/dev/null | grep -E '^ +(-[a-zA-Z], )?--'
}

# The values of an option whose help lists them: "text|json".
_padside_values() { # PROGRAM COMMAND OPTION
	_padside_options "$1" "${2:-calls}" |
		sed -nE 's/^ +(-[a-zA-Z], )?(--[a-z-]+) ([a-z0-9]+(\|[a-z0-9]+)+) .*/\1\2 \3/p' |
		grep -E -e "(^|, )$3(,| )" | sed 's/.* //; s/|/ /g'
}

_padside() {
	local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}
	local program=${COMP_WORDS[0]} command='' book='' words='' at

	for ((at = 1; at < COMP_CWORD; at++)); do
		case ${COMP_WORDS[at]} in
		--book | -b) book=${COMP_WORDS[at + 1]}; at=$((at + 1)) ;;
		--units | -u | --theme) at=$((at + 1)) ;;
		-*) ;;
		*) command=${COMP_WORDS[at]}; break ;;
		esac
	done
	if [[ $before == -* ]]; then
		words=$(_padside_values "$program" "$command" "$before")
	fi
	if [[ -n $words ]]; then
		:
	elif [[ $word == -* ]]; then
		words=$(_padside_options "$program" "${command:-calls}" | grep -oE -e '--?[a-zA-Z-]+')
	elif [[ -z $command ]]; then
		words="help $("$program" --help 2>/dev/null | sed -nE 's/^  ([a-z]+) .*/\1/p')"
	else
		case $command in
		help) words=$("$program" --help 2>/dev/null | sed -nE 's/^  ([a-z]+) .*/\1/p') ;;
		figure) words=$("$program" figure --list 2>/dev/null | grep -oE '^[a-z_]+') ;;
		show | export) words=$("$program" ${book:+--book "$book"} calls 2>/dev/null | grep -oE '^[0-9a-f-]+') ;;
		settings) words=$("$program" ${book:+--book "$book"} settings 2>/dev/null | grep -oE '^[a-z_]+=') ;;
		esac
	fi
	mapfile -t COMPREPLY < <(compgen -W "$words" -- "$word")
}

complete -o default -F _padside padside
