#compdef padside
# Completion for padside in zsh.  Commands, options, their values, figures,
# readings and call ids are asked of the program itself, so that this file
# knows none of them.

# The values of an option whose help lists them: "text|json".
_padside_values() { # PROGRAM COMMAND OPTION
	$1 help $2 2>/dev/null | grep -E '^ +(-[a-zA-Z], )?--' |
		sed -nE 's/^ +(-[a-zA-Z], )?(--[a-z-]+) ([a-z0-9]+(\|[a-z0-9]+)+) .*/\1\2 \3/p' |
		grep -E -e "(^|, )$3(,| )" | sed 's/.* //'
}

# The readings that a figure is worked out from, each to be given a value.
_padside_needs() { # PROGRAM FIGURE
	$1 figure --list 2>/dev/null | sed -nE "/^$2( |\$)/,/^ +formula/s/^ +(needs|uses) +//p" |
		grep -oE '[a-z_]{3,}' | sed 's/$/=/'
}

_padside() {
	local program=${words[1]} name='' figure='' book='' at
	local -a found

	for ((at = 2; at < CURRENT; at++)); do
		case ${words[at]} in
		--book | -b) book=${words[at + 1]}; at=$((at + 1)) ;;
		--units | -u | --theme) at=$((at + 1)) ;;
		-*) ;;
		*)
			[[ -n $name && -z $figure ]] && figure=${words[at]}
			[[ -z $name ]] && name=${words[at]} ;;
		esac
	done
	if [[ ${words[CURRENT - 1]} == -* ]]; then
		found=(${(s:|:)"$(_padside_values $program ${name:-calls} ${words[CURRENT - 1]})"})
		[[ ${#found} -gt 0 ]] && compadd -- $found && return
		case ${words[CURRENT - 1]} in
		--book | -b | --output | -o) _files; return ;;
		esac
	fi
	if [[ ${words[CURRENT]} == -* ]]; then
		found=(${(f)"$($program help ${name:-calls} 2>/dev/null | grep -oE -e '--[a-z-]+ ' | tr -d ' ')"})
	elif [[ -z $name || $name == help ]]; then
		found=(${(f)"$($program --help 2>/dev/null | sed -nE 's/^  ([a-z]+) .*/\1/p')"})
		[[ -z $name ]] && found+=(help)
	else
		case $name in
		figure)
			if [[ -z $figure ]]; then
				found=(${(f)"$($program figure --list 2>/dev/null | grep -oE '^[a-z_]+')"})
			else
				compadd -S '' -- ${(f)"$(_padside_needs $program $figure)"}
				return
			fi ;;
		show | export) found=(${(f)"$($program ${book:+--book} $book calls 2>/dev/null | grep -oE '^[0-9a-f-]+')"}) ;;
		settings)
			compadd -S '' -- ${(f)"$($program ${book:+--book} $book settings 2>/dev/null | grep -oE '^[a-z_]+=')"}
			return ;;
		*) _files; return ;;
		esac
	fi
	compadd -- $found
}

_padside "$@"
