# Completion for padside in bash.  Commands, options and figures are asked of
# the program itself, so that this file knows none of them.

_padside() {
	local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}
	local program=${COMP_WORDS[0]} command='' words='' at

	for ((at = 1; at < COMP_CWORD; at++)); do
		case ${COMP_WORDS[at]} in
		--book | --units | -b | -u) at=$((at + 1)) ;;
		-*) ;;
		*) command=${COMP_WORDS[at]}; break ;;
		esac
	done
	if [[ $before == --units || $before == -u ]]; then
		words="us si"
	elif [[ $word == -* ]]; then
		words=$("$program" "${command:-calls}" --help 2>/dev/null | grep -oE -e '--[a-z-]+ ')
	elif [[ -z $command ]]; then
		words=$("$program" --help 2>/dev/null | sed -n 's/^  \([a-z][a-z]*\) .*/\1/p')
	elif [[ $before == figure ]]; then
		words=$("$program" figure --list 2>/dev/null | grep -oE '^[a-z_]+')
	fi
	mapfile -t COMPREPLY < <(compgen -W "$words" -- "$word")
}

complete -o default -F _padside padside
