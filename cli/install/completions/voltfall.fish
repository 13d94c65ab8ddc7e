# Completion for fish: the program itself says what may stand next.
function __voltfall_complete
    set -l current (commandline -ct)
    set -l plain (string unescape -- $current)
    test -n "$plain"; and set current $plain
    set -l words (commandline -opc) "$current"
    set -l lines ($words[1] complete -- $words[2..] 2>/dev/null)
    for line in $lines
        if test "$line" = '*files'
            __fish_complete_path "$current"
        else
            echo $line
        end
    end
end
complete -c voltfall -f -a '(__voltfall_complete)'
