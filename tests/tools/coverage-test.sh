#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The share of lines that ran is weighed by lines, told by file, and at least 90 %.
tools=$(cd "$(dirname "$0")" && pwd)
. "$tools/facts.sh"
out=$scratch/out

# told FILE SHARE LINES...: what gcov says of each notes file of the folder, one a source.
told() {
    rm -rf "${scratch:?}/build" "${scratch:?}/bin"
    mkdir -p "$scratch/build/sim/chem" "$scratch/bin"
    printf '#!/bin/sh\ncat "$4"\n' >"$scratch/bin/gcov"
    chmod +x "$scratch/bin/gcov"
    while [ $# -gt 0 ]; do
        printf "File '%s'\nLines executed:%s%% of %s\n\nLines executed:%s%% of %s\n" \
            "$1" "$2" "$3" "$2" "$3" >"$scratch/build/sim/chem/$(basename "$1").gcno"
        shift 3
    done
    PATH=$scratch/bin:$PATH "$tools/coverage.sh" "$scratch/build" >"$out"
}

fact_shares_are_weighed_by_lines() {
    told sim/chem/pot.c 100.00 300 sim/chem/lid.c 70.00 100
    [ "$(tail -1 "$out")" = "92.5 % of the 400 lines of sim/ ran" ]
    head -1 "$out" | grep ' 70.0 %  of  100 lines  sim/chem/lid.c'
}

fact_other_folders_do_not_count() {
    told sim/chem/pot.c 95.00 200 tests/chem/pail.c 10.00 900 /usr/include/math.h 0.00 50
    [ "$(tail -1 "$out")" = "95.0 % of the 200 lines of sim/ ran" ]
}

fact_less_than_nine_tenths_fails() {
    told sim/chem/pot.c 90.00 200
    refute told sim/chem/pot.c 89.50 200
    grep 'at least 90 %' "$out"
}

fact_nothing_counted_fails() {
    refute told
}

run_facts
