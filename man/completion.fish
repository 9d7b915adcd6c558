# Completion for padside in fish.  Everything is asked of the program itself.

function __padside_commands
    padside --help 2>/dev/null | string match -rg '^  ([a-z]+) .*? {2,}(?:\S+ +)?(.*)$' | paste - -
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

function __padside_is
    contains -- (__padside_command; or echo none) $argv
end

complete -c padside -n 'not __padside_command' -f -a '(__padside_commands)'
complete -c padside -n 'string match -q -- "-*" (commandline -ct)' -f -a '(__padside_options)'
complete -c padside -n '__padside_is figure' -f -a '(padside figure --list 2>/dev/null | string match -r "^[a-z_]+")'
complete -c padside -n '__padside_is show export' -f -a '(padside calls 2>/dev/null | string match -r "^[0-9a-f-]{36}")'
complete -c padside -n '__padside_is settings' -f -a '(padside settings 2>/dev/null | string match -r "^[a-z_]+=")'
