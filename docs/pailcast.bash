# shellcheck shell=bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Completion for bash: commands, options and shipped names are asked of the program itself.
#
# `make install` puts it where bash looks; from the source tree: . docs/pailcast.bash

# Commands, from the list in --help.
_pailcast_commands() {
    "$1" --help 2>/dev/null | sed -n '/^Commands:/,/^$/s/^  \([a-z]*\) .*/\1/p'
}

# Options of a command, from its help.
_pailcast_options() {
    "$1" "$2" --help 2>/dev/null | grep -o -- '--[a-z][a-z0-9-]*' | sort -u
}

# The list of that name in JSON on standard input, a word a line.
_pailcast_shelf() {
    sed -n 's/^\t"'"$1"'":\t\[\(.*\)\].*/\1/p' | tr ',' '\n' | sed 's/^ *"\(.*\)"$/\1/'
}

# Names of the strategies in the scenario among the words so far.
_pailcast_strategies() {
    local word
    for word in "${COMP_WORDS[@]}"; do
        [[ $word == *.cfg ]] || continue
        "$1" check "$word" --json 2>/dev/null | sed -n '/^\t"strategies":/,/^\t\]/s/^\t\t\t"name":\t"\(.*\)",$/\1/p'
    done
}

_pailcast() {
    local program=$1 word=$2 before=$3 command=${COMP_WORDS[1]-} line
    COMPREPLY=()
    if ((COMP_CWORD == 1)); then
        mapfile -t COMPREPLY < <(compgen -W "$(_pailcast_commands "$program") --help --version" -- "$word")
        return
    fi
    case $before in
        --crop | --water | --recipe)
            mapfile -t COMPREPLY < <(compgen -W "$("$program" list --json 2>/dev/null |
                _pailcast_shelf "${before#--}s")" -- "$word")
            ;;
        --strategy)
            while IFS= read -r line; do
                [[ $line != "$word"* ]] || COMPREPLY+=("$(printf %q "$line")")
            done < <(_pailcast_strategies "$program")
            ;;
        --out)
            compopt -o filenames 2>/dev/null
            mapfile -t COMPREPLY < <(compgen -d -- "$word")
            ;;
        *)
            if [[ $word == -* ]]; then
                mapfile -t COMPREPLY < <(compgen -W "$(_pailcast_options "$program" "$command")" -- "$word")
            else
                compopt -o filenames 2>/dev/null
                mapfile -t COMPREPLY < <(compgen -f -- "$word")
            fi
            ;;
    esac
}

complete -F _pailcast pailcast
