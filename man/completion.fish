# Completion for padside in fish.  Commands, options, their values, figures,
# readings and call ids are asked of the program itself, so that this file
# knows none of them.

function __padside_commands
    padside --help 2>/dev/null | string match -rg '^  ([a-z]+) (?:.*  )?(\S.*)$' | paste - -
    printf 'help\tone command and its options\n'
end

function __padside_command
    set -l words (commandline -opc)
    set -e words[1]
    while set -q words[1]
        switch $words[1]
            case --book -b --units -u --theme
                set -e words[1]
            case '-*'
            case '*'
                echo $words[1]
                return
        end
        set -e words[1]
    end
    return 1
end

function __padside_options
    set -l name (__padside_command; or echo calls)
    padside help $name 2>/dev/null | string match -rg '^ +(?:-[a-zA-Z], )?(--[a-z-]+)'
end

# The value behind an option that was typed: the book, for the ids of its calls.
function __padside_book
    set -l words (commandline -opc)
    for at in (seq (count $words))
        if contains -- $words[$at] --book -b; and test $at -lt (count $words)
            printf '%s\n' --book $words[(math $at + 1)]
        end
    end
end

# The values of the option before the cursor, where its help lists them: "text|json".
function __padside_values
    set -l words (commandline -opc)
    set -l name (__padside_command; or echo calls)
    string match -q -- '-*' $words[-1]; or return 1
    padside help $name 2>/dev/null | grep -E -e "^ +($words[-1],|(-[a-zA-Z], )?$words[-1] )" |
        string match -rg -- '--[a-z-]+ ([a-z0-9]+(?:\|[a-z0-9]+)+) ' | string split '|'
end

# The readings that the figure typed is worked out from, each to be given a value.
function __padside_needs
    set -l words (commandline -opc)
    set -l at (contains -i -- figure $words); or return
    test (count $words) -gt $at; or return
    set -l figure $words[(math $at + 1)]
    padside figure --list 2>/dev/null | sed -nE "/^$figure( |\$)/,/^ +formula/s/^ +(needs|uses) +//p" |
        grep -oE '[a-z_]{3,}' | sed 's/$/=/'
end

function __padside_names_figure
    set -l words (commandline -opc)
    set -l at (contains -i -- figure $words); and test (count $words) -gt $at
end

function __padside_is
    contains -- (__padside_command; or echo none) $argv
end

function __padside_wants
    not __padside_values >/dev/null; and __padside_is $argv
end

complete -c padside -n '__padside_values >/dev/null' -f -a '(__padside_values)'
complete -c padside -n '__padside_wants help' -f -a '(__padside_commands)'
complete -c padside -n 'not __padside_command; and not __padside_values >/dev/null' -f -a '(__padside_commands)'
complete -c padside -n 'string match -q -- "-*" (commandline -ct)' -f -a '(__padside_options)'
complete -c padside -n '__padside_wants figure; and not __padside_names_figure' -f -a '(padside figure --list 2>/dev/null | string match -r "^[a-z_]+")'
complete -c padside -n '__padside_wants figure; and __padside_names_figure' -f -a '(__padside_needs)'
complete -c padside -n '__padside_wants show export' -f -a '(padside (__padside_book) calls 2>/dev/null | string match -r "^[0-9a-f-]{36}")'
complete -c padside -n '__padside_wants settings' -f -a '(padside (__padside_book) settings 2>/dev/null | string match -r "^[a-z_]+=")'
