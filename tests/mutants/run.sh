#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Do the tests see a slip? Puts each fault of a table into a copy of the tree by itself and
# runs the tests until one fails: first that of the same file, then those of its folder,
# then the others, and last the shipped scenarios, whose results are kept.
#
#   tests/mutants/run.sh TREE FAULTS BUILD TEST...
#   tests/mutants/run.sh TREE FAULTS --applies
#
# TREE is built in its folder BUILD (build/release); a TEST is a program there, named as
# BUILD/tests/FOLDER/NAME, or a scenario (.cfg). Copies and logs lie in TREE/build/mutants,
# where caught.md is the table of docs/trust.md. --applies only looks whether each fault
# still has its place. JOBS copies are at work at a time (2); LIMIT_S bounds one test (60).
# A fault that has lost its place, does not compile or is not caught fails.
set -u

if [ "$1" = --one ]; then
    one=$2
else
    one=
    tree=$(cd "$1" && pwd)
    faults=$2
    mode=$3
    shift 3
    tests=$*
    JOBS=${JOBS:-2}
    LIMIT_S=${LIMIT_S:-60}
    work=$tree/build/mutants
    export tree mode tests LIMIT_S work
fi

# One fault a line: file, meaning, from, to, with tabs between.
table() {
    awk '
        function rest(line) { return substr(line, index(line, $1) + 2) }
        /^sim\// { file = $1; meaning = rest($0); sub(/^[^ ]* */, "", meaning) }
        /^ *- / { from = rest($0) }
        /^ *\+ / { sub(/:$/, "", file); print file "\t" meaning "\t" from "\t" rest($0) }
    ' "$1"
}

# spoil FILE: to stdout, with $from replaced by $to; fails unless it is there exactly once.
spoil() {
    from=$from to=$to awk '
        { line = $0 }
        (i = index(line, ENVIRON["from"])) {
            tail = substr(line, i + length(ENVIRON["from"]))
            found += index(tail, ENVIRON["from"]) ? 2 : 1
            line = substr(line, 1, i - 1) ENVIRON["to"] tail
        }
        { print line }
        END { exit found != 1 }' "$1"
}

# Tests in the order in which they are likely to see a fault in FILE.
likely() {
    local folder=${1%/*} name
    folder=${folder#sim/}
    name=$(basename "$1" .c)
    for test in $tests; do
        case $test in
            */tests/"$folder/$name") echo "0 $test" ;;
            */tests/"$folder"/*) echo "1 $test" ;;
            */tests/bucket/* | */tests/visit/* | */tests/plant/* | */tests/chem/*) echo "2 $test" ;;
            */tests/run/*) echo "3 $test" ;;
            *.cfg) echo "5 $test" ;;
            *) echo "4 $test" ;;
        esac
    done | sort -s -k 1,1 | cut -d ' ' -f 2
}

# runs TEST: in the copy; a scenario as the test runner does it. Sets `why` if it fails.
runs() {
    local status
    case $1 in
        *.cfg) GOLDEN=tests/golden tests/tools/run-tests.sh --one "$mode" "$1" >"$log" 2>&1
            grep -q '^  FAIL' "$log" && status=1 || status=0 ;;
        *) make "$1" >"$log" 2>&1 && timeout -k 5 "$LIMIT_S" "$1" >"$log" 2>&1 </dev/null
            status=$? ;;
    esac
    why=$(sed -n 's/^\[  FAILED  \] \([a-z][a-z0-9_]*\)$/\1/p' "$log" | head -n 1)
    case $1/$status in
        *.cfg/*) why=${1##*/} ;;
        */124 | */137) why="stopped after $LIMIT_S s" ;;
        *) why=${why:-ended with status $status} ;;
    esac
    return $status
}

# catch FILE: the verdict on the spoilt copy.
catch() {
    local test name
    make all >"$log" 2>&1 || { echo "no code: does not compile"; return; }
    for test in $(likely "$1"); do
        runs "$test" && continue
        name=${test#"$mode"/}
        case $test in
            *.cfg) echo "kept $name" ;;
            *) echo "test $name: $why" ;;
        esac
        return
    done
    echo "no test: SURVIVED"
}

if [ -n "$one" ]; then
    IFS=$'\t' read -r file meaning from to < <(sed -n "${one}p" "$work/table")
    cd "$work/tree-$slot" && mkdir -p "$mode/log" || exit
    log=$work/log-$slot
    if spoil "$tree/$file" >"$work/spoilt-$slot"; then
        cat "$work/spoilt-$slot" >"$file"
        verdict=$(catch "$file")
        cat "$tree/$file" >"$file"
    else
        verdict="no place: its text is not there exactly once"
    fi
    printf '%s\t%s\t%s\t%s\n' "$one" "$file" "$meaning" "$verdict" | tee -a "$work/verdicts" |
        awk -F'\t' '{ printf "  %-7s %s: %s -- %s\n",
            $4 ~ /^test/ ? "caught" : $4 ~ /^kept/ ? "kept" : "FAILED", $2, $3,
            $4 ~ /^no/ ? $4 : substr($4, 6) }'
    exit
fi

mkdir -p "$work"
table "$faults" >"$work/table"
count=$(wc -l <"$work/table")

if [ "$mode" = --applies ]; then
    failed=0
    while IFS=$'\t' read -r file meaning from to; do
        spoil "$tree/$file" >"$work/spoilt" && ! cmp -s "$work/spoilt" "$tree/$file" && continue
        echo "$file: $meaning: its text is not there exactly once"
        failed=$((failed + 1))
    done <"$work/table"
    echo "$((count - failed)) passed, $failed failed"
    exit $((failed > 0 || count == 0))
fi

: >"$work/verdicts"
for ((slot = 0; slot < JOBS; slot++)); do
    rm -rf "$work/tree-$slot"
    mkdir -p "$work/tree-$slot/build"
    for part in Makefile sim include tests scenarios plots docs "$mode"; do
        [ ! -e "$tree/$part" ] || cp -a "$tree/$part" "$work/tree-$slot/$part"
    done
done
seq "$count" | xargs -P "$JOBS" -n 1 --process-slot-var=slot "$0" --one

sort -n "$work/verdicts" | awk -F'\t' '
    BEGIN { print "| file | slip | seen by |\n|---|---|---|" }
    { seen = $4; sub(/^(test|kept) /, "", seen); print "| " substr($2, 5) " | " $3 " | " seen " |" }
' >"$work/caught.md"
awk -F'\t' -v count="$count" '
    $4 ~ /^test/ { caught++ }
    $4 ~ /^kept/ { kept++ }
    END {
        printf "%d seen by a test that states a fact, %d by the kept results alone\n", caught, kept
        printf "%d passed, %d failed\n", caught + kept, count - caught - kept
        exit caught + kept != count || count == 0
    }' "$work/verdicts"
