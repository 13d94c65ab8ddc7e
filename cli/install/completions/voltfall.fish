# Completion for fish: the program itself says what may stand next.
function __voltfall_complete
    set -l words (commandline -opc) (commandline -ct)
    set -l lines ($words[1] complete -- $words[2..] 2>/dev/null)
    for line in $lines
        if test "$line" = '*files'
            __fish_complete_path (commandline -ct)
        else
            echo $line
        end
    end
end
complete -c voltfall -f -a '(__voltfall_complete)'
