#compdef padside
# Completion for padside in zsh.  Everything is asked of the program itself.

_padside() {
	local program=${words[1]} name='' book='' at line
	local -a found

	for ((at = 2; at < CURRENT; at++)); do
		case ${words[at]} in
		--book | -b) book=${words[at + 1]}; at=$((at + 1)) ;;
		--units | -u | --theme) at=$((at + 1)) ;;
		-*) ;;
		*) name=${words[at]}; break ;;
		esac
	done
	if [[ ${words[CURRENT]} == -* ]]; then
		found=(${(f)"$($program help ${name:-calls} 2>/dev/null | grep -oE -e '--[a-z-]+ ' | tr -d ' ')"})
	elif [[ -z $name || $name == help ]]; then
		for line in ${(f)"$($program --help 2>/dev/null | sed -nE 's/^  ([a-z]+) .*/\1/p')"}; do
			found+=($line)
		done
		[[ -z $name ]] && found+=(help)
	else
		case $name in
		figure) found=(${(f)"$($program figure --list 2>/dev/null | grep -oE '^[a-z_]+')"}) ;;
		show | export) found=(${(f)"$($program ${book:+--book} $book calls 2>/dev/null | grep -oE '^[0-9a-f-]+')"}) ;;
		settings) found=(${(f)"$($program ${book:+--book} $book settings 2>/dev/null | grep -oE '^[a-z_]+=')"}) ;;
		*) _files; return ;;
		esac
	fi
	compadd -- $found
}

_padside "$@"
