#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs each fuzz target for so many seconds from its corpus, a line for each with what was
# run, reached and found, and ends in the counts of targets without and with a finding.
#
#   tests/fuzz/fuzz.sh FUZZERS PLAIN SECONDS TARGET...
#
# FUZZERS holds the targets under the fuzzer and the sanitizers; PLAIN the same built as
# they ship. New inputs gather in FUZZERS/corpus/, from which later runs go on; what was
# found lies in FUZZERS/found/. An input that takes over 2 s is a finding; sanitizers slow
# things eight times over, so one that takes 10 s under them is timed again as shipped.
set -u

findings_most=20 # of one target, then it is left

# The scenarios of `life` are written in the words of any scenario.
dictionary() {
    case $1 in
        life) echo "$here/scenario.dict" ;;
        *) echo "$here/$1.dict" ;;
    esac
}

# Whether an input keeps the shipped code busy for over 2 s, other work on the machine not
# counted, or waiting for a minute.
is_slow() {
    (ulimit -t 2 && exec timeout 60 "$plain/tests/fuzz/$1" "$2") >/dev/null 2>&1
    local status=$?
    [ $status -eq 124 ] || [ $status -eq $((128 + $(kill -l XCPU))) ] ||
        [ $status -eq $((128 + $(kill -l KILL))) ]
}

# Takes inputs that are slow under the sanitizers only out of the findings, and out of
# what later runs go on from; adds to forgiven.
forgive_slow() {
    local input
    for input in "$found"/timeout-* "$found"/slow-unit-*; do
        if [ -e "$input" ] && ! is_slow "$1" "$input"; then
            rm -f "$input" "$corpus/${input##*-}"
            forgiven=$((forgiven + 1))
        fi
    done
}

# Runs a target until its time is up, anew after each finding, unless it left none.
run_fuzzer() {
    local end=$((SECONDS + seconds)) before left
    while ((SECONDS < end)); do
        before=$(($(find "$found" -type f | wc -l) + forgiven))
        "$fuzzers/tests/fuzz/$1" -timeout=10 -max_total_time=$((end - SECONDS)) \
            -print_final_stats=1 -dict="$(dictionary "$1")" -artifact_prefix="$found/" \
            "$corpus" "$here/corpus/$1" </dev/null && break
        forgive_slow "$1"
        left=$(find "$found" -type f | wc -l)
        ((left + forgiven > before && left < findings_most)) || break
    done
    forgive_slow "$1"
}

fuzz_one() {
    found=$fuzzers/found/$1
    corpus=$fuzzers/corpus/$1
    forgiven=0
    local log=$fuzzers/log/$1 begin=$SECONDS
    rm -rf "$found"
    mkdir -p "$found" "$corpus" "$fuzzers/log"
    ASAN_OPTIONS=detect_leaks=1:strict_string_checks=1:detect_stack_use_after_return=1 \
        UBSAN_OPTIONS=print_stacktrace=1 LSAN_OPTIONS=print_suppressions=0 \
        run_fuzzer "$1" >"$log" 2>&1
    find "$found" -type f | awk -v target="$1" -v seconds=$((SECONDS - begin)) -v forgiven="$forgiven" '
        FILENAME == "-" { files[++findings] = $0; next }
        $1 == "stat::number_of_executed_units:" { runs += $2 }
        /^#[0-9]+\t/ { for (i = 2; i < NF; i++) if ($i == "cov:" && $(i + 1) > edges) edges = $(i + 1) }
        END {
            failed = findings > 0 || runs == 0 || edges == 0
            printf "  %-5s %-9s %5d s %9d runs %6d edges  %d findings",
                failed ? "FAIL" : "ok", target, seconds, runs, edges, findings
            print (forgiven > 0 ? ", " forgiven " slow under the sanitizers only" : "")
            for (i = 1; i <= findings; i++) print "        " files[i]
            exit failed
        }' - "$log"
}

here=$(dirname "$0")
if [ "$1" = --one ]; then
    fuzzers=$2 plain=$3 seconds=$4
    said=$(fuzz_one "$5")
    status=$?
    printf '%s\n' "$said"
    exit $status
fi

TMPDIR=$(mktemp -d -p "$([ -w /dev/shm ] && echo /dev/shm || echo /tmp)")
export TMPDIR
trap 'rm -rf "$TMPDIR"' EXIT
arguments=("${@:1:3}")
shift 3
printf '%s\0' "$@" |
    xargs -0 -n 1 -P "${JOBS:-$(nproc 2>/dev/null || echo 2)}" "$0" --one "${arguments[@]}" |
    tee "$TMPDIR/said"
passed=$(grep -c '^  ok ' "$TMPDIR/said")
echo "$passed passed, $(($# - passed)) failed"
[ $# -gt 0 ] && [ "$passed" -eq $# ]
