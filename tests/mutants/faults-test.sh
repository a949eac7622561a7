#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The faults still have their places, docs/trust.md tells of them, and run.sh believes
# nothing but a failing test.
tree=$(cd "$(dirname "$0")/../.." && pwd)
. "$tree/tests/tools/facts.sh"
here=$tree/tests/mutants
out=$scratch/out
unset MAKEFLAGS MFLAGS MAKELEVEL JOBS LIMIT_S

fact_every_fault_has_its_place() {
    "$here/run.sh" "$tree" "$here/faults.txt" --applies
}

fact_faults_are_spread_over_what_is_computed() {
    for folder in chem plant bucket visit; do
        [ "$(grep -c "^sim/$folder/" "$here/faults.txt")" -ge 12 ]
    done
}

# The rows of docs/trust.md: file, slip, test, fact.
rows() {
    sed -n 's/^| \([a-z]*\/[a-z_]*\.c\) | \(.*\) | \(tests\/[a-z_\/]*\): \([a-z0-9_]*\) |$/\1|\2|\3|\4/p' \
        "$tree/docs/trust.md"
}

fact_the_guide_tells_every_fault() {
    sed -n 's/^sim\/\([^:]*\): \(.*\)/\1|\2/p' "$here/faults.txt" >"$scratch/faults"
    rows | cut -d '|' -f 1,2 >"$scratch/told"
    diff "$scratch/faults" "$scratch/told"
}

fact_the_tests_it_names_are_there() {
    rows | while IFS='|' read -r file slip test fact; do
        grep -q "cmocka_unit_test" "$tree/$test.c"
        grep -qw "$fact" "$tree/$test.c" || { echo "$file, $slip: no $fact in $test"; exit 1; }
    done
}

# A tree with one source and a test of it that sees the volume but not the colour.
small_tree() {
    rm -rf "$scratch/pots"
    mkdir -p "$scratch/pots/sim/chem" "$scratch/pots/tests/chem"
    cd "$scratch/pots" || exit
    printf '%s\n' 'int volume(void);' 'int volume(void)' '{' '    return 19;' '}' \
        'int colour(void);' 'int colour(void)' '{' '    return 7;' '}' >sim/chem/pot.c
    cat >tests/chem/pot.c <<'END'
#include <stdio.h>
int volume(void);
int main(void)
{
    if (volume() != 19) {
        printf("[  FAILED  ] a_pot_holds_its_litres\n");
        return 1;
    }
    return 0;
}
END
    cat >Makefile <<'END'
all: build/release/pot.o
build/release/pot.o: sim/chem/pot.c
	@mkdir -p $(@D) && $(CC) -c $< -o $@
build/release/tests/chem/pot: tests/chem/pot.c build/release/pot.o
	@mkdir -p $(@D) && $(CC) $^ -o $@
END
    make all build/release/tests/chem/pot
}

# spoilt FROM TO: what comes of one fault in the small tree.
spoilt() {
    printf 'sim/chem/pot.c: a slip\n    - %s\n    + %s\n' "$1" "$2" >faults
    "$here/run.sh" . faults build/release build/release/tests/chem/pot >"$out" 2>&1
}

fact_a_fault_that_a_test_sees_is_caught_by_its_name() {
    small_tree
    cp sim/chem/pot.c kept
    spoilt 'return 19' 'return 91'
    [ "$(tail -1 "$out")" = "1 passed, 0 failed" ]
    grep 'caught.*a slip -- tests/chem/pot: a_pot_holds_its_litres' "$out"
    grep '| chem/pot.c | a slip | tests/chem/pot: a_pot_holds_its_litres |' build/mutants/caught.md
    cmp sim/chem/pot.c kept
}

fact_a_fault_that_no_test_sees_fails() {
    small_tree
    refute spoilt 'return 7' 'return 8'
    grep 'FAILED.*SURVIVED' "$out"
    [ "$(tail -1 "$out")" = "0 passed, 1 failed" ]
}

fact_code_that_does_not_compile_is_no_catch() {
    small_tree
    refute spoilt 'return 19' 'return litres'
    grep 'FAILED.*does not compile' "$out"
}

fact_a_fault_without_its_place_fails() {
    small_tree
    refute spoilt 'return 23' 'return 32'
    grep 'FAILED.*not there exactly once' "$out"
    refute spoilt 'return ' 'return 1 + '
    grep 'FAILED.*not there exactly once' "$out"
    refute "$here/run.sh" . faults --applies
}

fact_one_fault_does_not_stay_for_the_next() {
    small_tree
    printf 'sim/chem/pot.c: %s\n    - %s\n    + %s\n' 'too much' 'return 19' 'return 91' \
        'blue' 'return 7' 'return 8' 'too little' 'return 19' 'return 1' >faults
    export JOBS=1
    refute "$here/run.sh" . faults build/release build/release/tests/chem/pot >"$out" 2>&1
    [ "$(tail -1 "$out")" = "2 passed, 1 failed" ]
    grep 'FAILED.*blue' "$out"
}

run_facts
