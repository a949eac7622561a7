#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs tests side by side, each within a time limit, and counts what they counted.
#
#   tests/tools/run-tests.sh FOLDER TEST...
#
# FOLDER is where the program was built; logs go to FOLDER/log. A TEST is a cmocka
# program, a shell test that ends in "N passed, N failed", or a scenario (.cfg), which
# passes when the program lives it, writes its report and comes to the result kept for it
# in the folder GOLDEN, if that is set. JOBS and LIMIT_S may be set too, and UNDER to the
# words of a program to run tests and program under.
# The closing line is the sum; it is kept in FOLDER/log/total as well.
set -u

# Sets passed and failed from what a test printed. cmocka prints one summary a group; a
# shell test one line at its end. A test that skips itself has not passed: it failed.
count() {
    counts=$(awk '
        /^\[  PASSED  \] [0-9]+ test\(s\)/ { passed += $4 }
        /^\[  FAILED  \] [0-9]+ test\(s\)/ { failed += $4 }
        /^\[  SKIPPED \] [0-9]+ test\(s\)/ { failed += $4 }
        /^[0-9]+ passed, [0-9]+ failed$/ { passed += $1; failed += $3 }
        END { print passed + 0, failed + 0 }' "$1")
    passed=${counts%% *}
    failed=${counts##* }
}

live_scenario() {
    out=$folder/scenarios/$(basename "$1" .cfg)
    rm -rf "$out"
    # shellcheck disable=SC2086 # several words
    timeout -k 5 "$LIMIT_S" ${UNDER-} "$folder/pailcast" run "$1" --quiet --out "$out" || return
    for file in summary.json report.html; do
        [ -s "$out/$file" ] || { echo "$file was not written"; return 1; }
    done
    if [ -n "${GOLDEN-}" ]; then
        "${0%/*}/golden.sh" "$GOLDEN/$(basename "$1" .cfg).json" "$out/summary.json" || return
    fi
    echo "1 passed, 0 failed"
}

run_one() {
    name=${test#"$folder"/}
    log=$folder/log/$(echo "$name" | tr / -)
    begin=$(date +%s%N)
    # shellcheck disable=SC2086
    case $test in
        *.cfg) live_scenario "$test" ;;
        *) timeout -k 5 "$LIMIT_S" ${UNDER-} "$test" ;;
    esac >"$log" 2>&1 </dev/null
    status=$?
    seconds=$(awk -v b="$begin" -v e="$(date +%s%N)" 'BEGIN { printf "%.2f", (e - b) / 1e9 }')
    count "$log"
    why=
    if [ $status -eq 124 ] || [ $status -eq 137 ]; then
        why="stopped after $LIMIT_S s"
    elif [ $status -ne 0 ] && [ "$failed" -eq 0 ]; then
        why="ended with status $status"
    elif [ $((passed + failed)) -eq 0 ]; then
        why="ran no test"
    fi
    [ -z "$why" ] || failed=$((failed + 1))
    echo "$passed $failed $name" >"$log.count"
    if [ "$failed" -eq 0 ]; then
        printf '  ok    %-44s %4d passed %7s s\n' "$name" "$passed" "$seconds"
    else
        printf '  FAIL  %-44s %4d passed, %d failed  %s\n' "$name" "$passed" "$failed" "$why"
        grep -v '^\[ RUN\|^\[       OK' "$log" | sed 's/^/        /' | tail -60
    fi
}

if [ "$1" = --one ]; then
    folder=$2
    test=$3
    said=$(run_one)
    printf '%s\n' "$said"
    exit
fi

folder=$1
shift
LIMIT_S=${LIMIT_S:-300}
export LIMIT_S
rm -rf "$folder/log"
mkdir -p "$folder/log"
# One more job than cores: some tests wait more than they work.
JOBS=${JOBS:-$(($(nproc 2>/dev/null || echo 2) + 1))}
[ $# -eq 0 ] || printf '%s\0' "$@" | xargs -0 -n 1 -P "$JOBS" "$0" --one "$folder"

# A test whose runner was killed has left no count; that is a failure too.
cat "$folder"/log/*.count 2>/dev/null | awk -v tests=$# '
    { passed += $1; failed += $2; counted++ }
    $2 > 0 { print "failed: " $3 }
    END {
        failed += tests - counted
        printf "%d passed, %d failed\n", passed, failed
        exit failed > 0 || passed == 0
    }' >"$folder/log/all"
status=$?
tail -n 1 "$folder/log/all" >"$folder/log/total"
cat "$folder/log/all"
exit $status
