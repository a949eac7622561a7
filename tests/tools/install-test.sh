#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What `make install` puts below DESTDIR works from there and goes away again.
tree=$(cd "$(dirname "$0")/../.." && pwd)
. "$tree/tests/tools/facts.sh"
unset MAKEFLAGS MFLAGS MAKELEVEL MODE PAILCAST_DATA
root=$scratch/root
prefix=$root/usr/local

installed() {
    [ -e "$root" ] || make -C "$tree" install "DESTDIR=$root"
}

fact_the_installed_program_finds_what_ships_with_it() {
    installed
    cd "$scratch"
    "$prefix/bin/pailcast" list >listed
    for crop in "$tree"/scenarios/crops/*.cfg; do
        grep -wi "$(basename "$crop" .cfg)" listed
    done
}

fact_an_installed_scenario_runs_from_anywhere() {
    installed
    cd "$scratch"
    set -- "$prefix"/share/pailcast/scenarios/*.cfg
    "$prefix/bin/pailcast" run "$1" --days 9 --quiet --out "$scratch/lived"
    grep -q '<svg' "$scratch/lived/report.html"
}

fact_pkg_config_says_all_that_linking_needs() {
    installed
    cd "$scratch"
    cat >short.c <<'END'
#include <stdio.h>
#include <pailcast/base/status.h>
#include <pailcast/study/risk.h>
int main(int count, char **words)
{
    struct risk risk = {0};
    (void)words; /* risk_live is linked, threads and all, but not called */
    const enum status status = count > 1 ? risk_live(&risk, NULL) : STATUS_OK;
    return puts(status_sentence(status)) < 0;
}
END
    flags=$(PKG_CONFIG_SYSROOT_DIR=$root PKG_CONFIG_PATH=$prefix/lib/pkgconfig \
        pkg-config --cflags --libs pailcast)
    # shellcheck disable=SC2086 # one word a flag
    cc -std=c11 short.c $flags -o short
    [ "$(./short)" = "done" ]
}

fact_every_public_header_stands_alone() {
    installed
    cd "$prefix/include"
    for header in pailcast/*/*.h; do
        cc -std=c11 -D_POSIX_C_SOURCE=200809L -I. -fsyntax-only -x c "$header"
    done
}

fact_uninstalling_leaves_no_file_behind() {
    installed
    make -C "$tree" uninstall "DESTDIR=$root"
    [ -z "$(find "$root" -type f)" ]
}

run_facts
