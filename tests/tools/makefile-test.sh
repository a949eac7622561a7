#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The Makefile builds again what changed and nothing else, in a tree of four sources.
tree=$(cd "$(dirname "$0")/../.." && pwd)
. "$tree/tests/tools/facts.sh"
unset MAKEFLAGS MFLAGS MAKELEVEL MODE CFLAGS
cd "$scratch" || exit

small_tree() {
    rm -rf ./*
    mkdir -p sim/base sim/scenario sim/cli include/pailcast/base tests/base tests/support
    cp "$tree/Makefile" .
    echo 'double pot_volume_l(void);' >include/pailcast/base/pot.h
    printf '#include "pailcast/base/pot.h"\ndouble pot_volume_l(void) { return 2.385; }\n' \
        >sim/base/pot.c
    echo 'int lid_on(void); int lid_on(void) { return 1; }' >sim/base/lid.c
    echo 'const char *catalog_it(void); const char *catalog_it(void) { return PAILCAST_DATA_DIR; }' \
        >sim/scenario/catalog.c
    printf '#include "pailcast/base/pot.h"\nint main(void) { return pot_volume_l() < 2; }\n' |
        tee sim/cli/main.c >tests/base/pot.c
    make all tests >out 2>&1
}

# rebuilt FILE...: making again builds just these objects, and then rests.
rebuilt() {
    make all tests 2>&1 | sed -n 's|^  make build/release/\(.*\)\.o$|\1|p' | sort | tr '\n' ' ' >did
    [ "$(cat did)" = "$*${*:+ }" ]
    make -q all tests
}

# Make compares times of files; some file systems keep them coarsely.
touched() {
    sleep 0.02
    touch "$@"
}

fact_the_second_make_has_nothing_to_do() {
    small_tree
    build/pailcast
    make -q all tests
    rebuilt
}

fact_a_header_rebuilds_what_includes_it() {
    small_tree
    touched include/pailcast/base/pot.h
    rebuilt sim/base/pot sim/cli/main tests/base/pot
}

fact_a_source_rebuilds_itself_and_the_program() {
    small_tree
    sleep 0.02
    echo 'int main(void) { return 37; }' >sim/cli/main.c
    rebuilt sim/cli/main
    set +e
    build/pailcast
    [ $? -eq 37 ]
}

fact_other_flags_rebuild_everything_once() {
    small_tree
    sleep 0.02
    export CFLAGS=-g
    rebuilt sim/base/lid sim/base/pot sim/cli/main sim/scenario/catalog tests/base/pot
}

fact_another_prefix_rebuilds_only_what_knows_it() {
    small_tree
    sleep 0.02
    export PREFIX=/elsewhere
    rebuilt sim/scenario/catalog
    grep -q /elsewhere/share/pailcast build/release/sim/scenario/catalog.o
}

fact_a_removed_source_leaves_the_library() {
    small_tree
    nm build/libpailcast.a | grep lid_on
    rm sim/base/lid.c
    sleep 0.02
    rebuilt
    refute sh -c 'nm build/libpailcast.a | grep lid_on'
}

fact_a_removed_header_does_not_stop_the_build() {
    small_tree
    sleep 0.02
    rm include/pailcast/base/pot.h
    sed -i 's|#include.*|double pot_volume_l(void);|' sim/base/pot.c sim/cli/main.c tests/base/pot.c
    rebuilt sim/base/pot sim/cli/main tests/base/pot
}

fact_each_mode_has_its_own_folder() {
    small_tree
    make MODE=coverage build/coverage/pailcast
    [ -e build/coverage/sim/base/pot.gcno ]
    make -q all tests
}

fact_a_broken_source_stops_the_build() {
    small_tree
    sleep 0.02
    echo 'int broken(' >sim/base/lid.c
    refute make all
}

run_facts
