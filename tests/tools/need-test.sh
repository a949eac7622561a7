#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# need.sh on machines made up for it: a folder of a few commands is the whole PATH.
. "$(dirname "$0")/facts.sh"
need=$(dirname "$0")/need.sh
log=$scratch/log
out=$scratch/out

# A machine with everything the group "run" needs, less the commands named.
machine() {
    rm -rf "${scratch:?}/bin"
    mkdir "$scratch/bin"
    : >"$log"
    for tool in env cat tr sed sort id cc pkg-config; do
        give $tool "exec $(command -v $tool) \"\$@\""
    done
    give gnuplot :
    for tool in "$@"; do
        rm "$scratch/bin/$tool"
    done
}

# give COMMAND BODY
give() {
    printf '#!/bin/sh\n%s\n' "$2" >"$scratch/bin/$1"
    chmod +x "$scratch/bin/$1"
}

give_working_apt_get() {
    give apt-get "echo \"\$DEBIAN_FRONTEND \$*\" >>$log
        case \$* in *install*) echo >$scratch/bin/gnuplot; chmod +x $scratch/bin/gnuplot; esac"
    give chmod "exec $(command -v chmod) \"\$@\""
}

run_need() {
    env PATH="$scratch/bin" CC=cc /bin/sh "$need" "$@" >"$out" 2>&1
}

fact_nothing_is_said_or_installed_when_nothing_is_missing() {
    machine
    give_working_apt_get
    run_need run
    refute [ -s "$out" ]
    refute [ -s "$log" ]
}

fact_without_apt_the_missing_package_is_named_and_the_present_one_not() {
    machine gnuplot
    refute run_need run
    grep -w gnuplot-nox "$out"
    refute grep -w libgsl-dev "$out"
}

fact_a_header_the_compiler_cannot_find_is_missing() {
    machine
    give cc "exec $(command -v cc) -nostdinc -isystem $scratch \"\$@\""
    refute run_need run
    grep -w libsundials-dev "$out"
    refute grep -w gnuplot-nox "$out"
}

fact_root_installs_what_is_missing_without_questions() {
    machine gnuplot
    give id 'echo 0'
    give_working_apt_get
    run_need run
    grep -x 'noninteractive -q update' "$log"
    grep -x 'noninteractive -q install -y --no-install-recommends gnuplot-nox ' "$log" ||
        grep -x 'noninteractive -q install -y --no-install-recommends gnuplot-nox' "$log"
}

fact_a_user_installs_through_sudo() {
    machine gnuplot
    give id 'echo 1000'
    give sudo "echo sudo >>$log; exec \"\$@\""
    give_working_apt_get
    run_need run
    grep -x sudo "$log"
    grep 'install.* gnuplot-nox' "$log"
}

fact_a_user_without_sudo_is_told_and_nothing_is_tried() {
    machine gnuplot
    give id 'echo 1000'
    give_working_apt_get
    refute run_need run
    grep 'apt-get install gnuplot-nox' "$out"
    refute [ -s "$log" ]
}

fact_an_install_that_brought_nothing_is_not_taken_for_done() {
    machine gnuplot
    give id 'echo 0'
    give apt-get :
    refute run_need run
    grep 'still not found: gnuplot-nox' "$out"
}

fact_an_install_that_fails_fails() {
    machine gnuplot
    give id 'echo 0'
    give apt-get 'case $* in *install*) exit 100; esac'
    refute run_need run
}

fact_the_test_group_needs_what_the_run_group_needs() {
    machine gnuplot
    refute run_need test
    grep -w gnuplot-nox "$out"
}

fact_a_clang_without_its_fuzzer_misses_it() {
    machine
    give clang 'case "$*" in *fuzzer*) exit 1; esac'
    refute run_need fuzz
    grep -w libclang-rt-dev "$out"
    refute grep -w ' clang ' "$out"
    give clang :
    run_need fuzz || refute grep -w libclang-rt-dev "$out"
}

fact_an_unknown_group_is_refused() {
    machine
    refute run_need everything
    grep 'no group everything' "$out"
}

run_facts
