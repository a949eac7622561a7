#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs each fuzz target for so many seconds from its corpus, a line for each with what was
# run, reached and found, and ends in the counts of targets without and with a finding.
#
#   tests/fuzz/fuzz.sh FUZZERS PLAIN SECONDS TARGET...
#
# FUZZERS holds the targets under the fuzzer and the sanitizers; PLAIN the same built as
# they ship. New inputs gather in FUZZERS/corpus/, from which later runs go on; what was
# found lies in FUZZERS/found/. Sanitizers slow things many times over: an input that takes
# over 2 s is a finding when it does so as shipped, too.
set -u

# The scenarios of `life` are written in the words of any scenario.
dictionary() {
    case $1 in
        life) echo "$here/scenario.dict" ;;
        *) echo "$here/$1.dict" ;;
    esac
}

# Whether an input keeps the shipped code busy for over 2 s, twice in a row.
is_slow() {
    for _ in 1 2; do
        timeout 2 "$plain/tests/fuzz/$1" "$2" >/dev/null 2>&1
        [ $? -eq 124 ] || return 1
    done
}

# Takes inputs out of the findings that are slow under the sanitizers only; how many.
forgive_slow() {
    local input forgiven=0
    for input in "$found"/timeout-* "$found"/slow-unit-*; do
        if [ -e "$input" ] && ! is_slow "$1" "$input"; then
            rm "$input"
            forgiven=$((forgiven + 1))
        fi
    done
    echo $forgiven
}

# run_fuzzer TARGET OPTION... FOLDER...
run_fuzzer() {
    local target=$1
    shift
    ASAN_OPTIONS=detect_leaks=1:strict_string_checks=1:detect_stack_use_after_return=1 \
        UBSAN_OPTIONS=print_stacktrace=1 LSAN_OPTIONS=print_suppressions=0 \
        "$fuzzers/tests/fuzz/$target" "$@" 2>&1 </dev/null
}

# Edges are counted by running the corpus once more: those of parallel work count double.
fuzz_one() {
    found=$fuzzers/found/$1
    local corpus=$fuzzers/corpus/$1 log=$fuzzers/log/$1 forgiven
    rm -rf "$found"
    mkdir -p "$found" "$corpus" "$fuzzers/log"
    run_fuzzer "$1" -fork=1 -ignore_crashes=1 -ignore_timeouts=1 -ignore_ooms=1 -timeout=2 \
        -max_total_time="$seconds" -dict="$(dictionary "$1")" -artifact_prefix="$found/" \
        "$corpus" "$here/corpus/$1" >"$log"
    run_fuzzer "$1" -runs=0 "$corpus" "$here/corpus/$1" >>"$log"
    forgiven=$(forgive_slow "$1")
    find "$found" -type f | awk -v target="$1" -v seconds="$seconds" -v forgiven="$forgiven" '
        FILENAME == "-" { files[++findings] = $0; next }
        /^#[0-9]+: cov: / { runs = substr($1, 2) + 0 }
        /^#[0-9]+\tDONE +cov: / { edges = $4 }
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
