#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What bash offers after "pailcast" is what the program takes: no word more or less.
tree=$(cd "$(dirname "$0")/../.." && pwd)
. "$tree/tests/tools/facts.sh"
program=$tree/build/pailcast
cd "$scratch" || exit

# offered WORD...: what is offered for the last word, a line each, sorted.
offered() {
    bash -c '
        . "$0/docs/pailcast.bash"
        COMP_WORDS=("$@")
        COMP_CWORD=$(($# - 1))
        _pailcast "$1" "${@: -1}" "${@: -2:1}"
        printf "%s\n" "${COMPREPLY[@]}"' "$tree" "$program" "$@" | sort
}

commands() {
    sed -n '/main_commands\[\] = {/,/^};/p' "$tree/sim/cli/main.c" |
        grep -o '{"[a-z]*"' | tr -d '{"' | sort
}

# options COMMAND: those of its table and of all commands, as the sources have them.
options() {
    { find "$tree/sim/cli" \( -name "cmd_$1.c" -o -name "$1_wish.c" \) -exec cat {} +
      sed -n '/options_common\[/,/^};/p' "$tree/sim/cli/options.c"; } |
        grep -o '{"[a-z0-9-]*", *\(no\|required\)_argument' | sed 's/{"\([^"]*\)".*/--\1/' | sort
}

fact_the_commands_are_those_of_the_table() {
    { commands; echo --help; echo --version; } | sort >wanted
    [ "$(wc -l <wanted)" -gt 8 ]
    offered "" | diff wanted -
    [ "$(offered ri)" = risk ]
}

fact_the_options_of_each_command_are_those_of_its_table() {
    for command in $(commands); do
        options "$command" >wanted
        [ "$(wc -l <wanted)" -ge 4 ]
        offered "$command" -- | diff wanted -
    done
}

fact_each_option_offered_is_taken() {
    for command in $(commands); do
        for option in $(offered "$command" --); do
            status=0
            "$program" "$command" "$option" >said 2>&1 </dev/null || status=$?
            [ $status -eq 0 ] || [ $status -eq 2 ] # taken, or in want of more
            refute grep 'is not known' said
        done
    done
}

fact_shipped_names_are_offered() {
    for shelf in crop water recipe; do
        find "$tree/scenarios/${shelf}s" -name '*.cfg' -exec basename {} .cfg \; | sort >wanted
        [ -s wanted ]
        offered mix "--$shelf" "" | diff wanted -
    done
    [ "$(offered mix --recipe leafy_we | wc -l)" -eq 2 ]
}

fact_strategies_of_the_scenario_are_offered_whole() {
    "$program" check "$tree/scenarios/first-bucket.cfg" --json |
        sed -n '/"strategies":/,$s/^\t\t\t"name":\t"\(.*\)",$/\1/p' | sort >wanted
    [ "$(wc -l <wanted)" -ge 2 ]
    offered run "$tree/scenarios/first-bucket.cfg" --strategy "" | xargs -n 1 | sort | diff wanted -
}

fact_files_are_offered_for_the_rest_and_folders_after_out() {
    mkdir -p "my buckets"
    echo >mine.cfg
    offered run m | grep -x mine.cfg
    [ "$(offered run --out m)" = "my buckets" ]
}

run_facts
