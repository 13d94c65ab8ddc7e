# Completion for bash: the program itself says what may stand next.
_voltfall() {
    local current=${COMP_WORDS[COMP_CWORD]} line quoted=
    [[ $current == [\"\']* ]] && quoted=yes
    COMPREPLY=()
    while IFS= read -r line; do
        if [[ $line == '*files' ]]; then
            compopt -o default
        elif [[ -n $quoted ]]; then
            COMPREPLY+=("$line")
        else
            COMPREPLY+=("$(printf '%q' "$line")")
        fi
    done < <("${COMP_WORDS[0]}" complete -- "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
}
complete -F _voltfall voltfall
