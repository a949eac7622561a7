#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The lint scripts see what they are there to see: each fact plants one breach in a small
# tree that is clean without it.
tools=$(cd "$(dirname "$0")" && pwd)
. "$tools/facts.sh"
cd "$scratch" || exit

small_tree() {
    rm -rf sim include
    mkdir -p sim/base sim/plant sim/visit sim/run sim/scenario sim/report sim/cli \
        include/pailcast/plant include/pailcast/visit
    plant include/pailcast/plant/leaf.h 'double leaf_area(void);'
    plant include/pailcast/visit/pour.h '#include "pailcast/plant/leaf.h"'
    plant sim/plant/leaf.c '#include "pailcast/plant/leaf.h"' '#include "veins.h"' \
        'double leaf_area(void) { return 2.385; }'
    plant sim/plant/veins.h '#include <math.h>'
    plant sim/visit/pour.c '#include "pailcast/visit/pour.h"' \
        'static double pour_half(void) { return leaf_area() / 2; }' \
        'double pour_of(void); double pour_of(void) { return pour_half(); }'
    plant sim/run/solver.c '#include <cvodes/cvodes.h>'
    plant sim/scenario/reader.c '#include <libconfig.h>'
}

# plant FILE LINE...
plant() {
    file=$1
    shift
    printf '%s\n' '/* SPDX-License-Identifier: GPL-3.0-or-later */' "$@" >"$file"
}

layers() {
    "$tools/layers.sh" . >out 2>&1
}

# Compiles what may be compiled alone, then looks at the names.
symbols() {
    for source in sim/plant/*.c sim/visit/*.c sim/report/*.c sim/cli/*.c; do
        [ ! -e "$source" ] || cc -fPIC -Iinclude -c "$source" -o "${source%.c}.o"
    done
    "$tools/symbols.sh" . >out 2>&1
}

fact_a_clean_tree_is_clean() {
    small_tree
    layers
    symbols
    refute [ -s out ]
}

fact_a_header_to_the_right_is_seen_with_its_line() {
    small_tree
    plant sim/plant/leaf.c '#include <math.h>' '#include "pailcast/visit/pour.h"'
    refute layers
    grep -F 'sim/plant/leaf.c:3: plant must not know visit' out
}

fact_a_public_header_obeys_the_row_too() {
    small_tree
    plant include/pailcast/plant/leaf.h '#include "pailcast/report/page.h"'
    refute layers
    grep -F 'include/pailcast/plant/leaf.h:2: plant must not know report' out
}

fact_a_private_header_of_another_folder_is_seen() {
    small_tree
    plant sim/visit/pour.c '#include "../plant/veins.h"'
    refute layers
    plant sim/visit/pour.c '#include "veins.h"'
    refute layers
}

fact_a_folder_outside_the_row_is_seen() {
    small_tree
    mkdir sim/helpers
    plant sim/helpers/odd.c '#include <math.h>'
    refute layers
}

fact_each_wall_holds() {
    for header in cvode/cvode.h cvodes/cvodes.h nvector/nvector_serial.h sundials/sundials_types.h \
        libconfig.h udunits2.h cjson/cJSON.h gsl/gsl_multifit_nlinear.h gsl/gsl_rng.h; do
        small_tree
        plant sim/report/table.c "#  include <$header>"
        refute layers
        grep -F "$header is behind a wall" out
    done
}

fact_a_name_without_its_files_prefix_is_seen() {
    small_tree
    plant sim/visit/pour.c 'int leaves(void); int leaves(void) { return 3; }'
    refute symbols
    grep -F 'leaves is exported but does not begin with pour_' out
}

fact_files_of_one_group_may_share_their_first_word() {
    small_tree
    plant sim/visit/pour_rim.c 'int pour_over(void); int pour_over(void) { return 3; }'
    symbols
    plant sim/visit/pour_rim.c 'int pours(void); int pours(void) { return 3; }'
    refute symbols
}

fact_a_writable_export_is_seen_and_a_constant_table_is_not() {
    small_tree
    plant sim/visit/pour.c 'const char *const pour_names[] = {"half", "full"};'
    symbols
    plant sim/visit/pour.c 'double pour_level = 2.385;'
    refute symbols
    plant sim/visit/pour.c 'double pour_level;'
    refute symbols
}

fact_a_file_that_remembers_is_seen() {
    small_tree
    plant sim/visit/pour.c 'int pour_count(void);' \
        'int pour_count(void) { static int count; return ++count; }'
    refute symbols
    grep 'pour.o: count.* outlives the call' out
}

fact_another_program_is_started_by_the_plots_only() {
    small_tree
    call='int system(const char *); int plot_a(void); int plot_a(void) { return system(""); }'
    plant sim/report/plot.c "$call"
    symbols
    plant sim/report/plot_other.c "$call"
    refute symbols
    grep -F 'sim/report/plot_other.o: system' out
}

fact_ending_the_program_is_left_to_the_command_line() {
    small_tree
    call='void exit(int); void main_end(void); void main_end(void) { exit(3); }'
    plant sim/cli/main_end.c "$call"
    symbols
    plant sim/visit/main_end.c "$call"
    refute symbols
}

fact_a_file_without_its_licence_is_seen() {
    small_tree
    sed -i 1d sim/visit/pour.c
    refute layers
    grep -F 'sim/visit/pour.c:1: no licence line' out
}

fact_a_file_too_long_is_seen() {
    small_tree
    yes '/* k */' | head -499 >>sim/run/solver.c
    refute layers
    sed -i '$d' sim/run/solver.c
    layers
}

fact_an_empty_tree_is_not_taken_for_a_clean_one() {
    rm -rf sim include
    mkdir -p sim include/pailcast
    refute layers
    refute symbols
}

run_facts
