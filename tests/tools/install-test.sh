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

fact_the_manual_is_installed_for_this_version() {
    installed
    version=$("$prefix/bin/pailcast" --version)
    grep "^\.TH PAILCAST 1 .*\"$version\"" "$prefix/share/man/man1/pailcast.1"
}

fact_completion_is_installed_where_bash_looks_and_asks_the_installed_program() {
    installed
    PATH=$prefix/bin:$PATH bash -c '
        . "$0/share/bash-completion/completions/pailcast"
        complete -p pailcast | grep -w _pailcast
        COMP_WORDS=(pailcast tune --tr) COMP_CWORD=2
        _pailcast pailcast --tr tune
        [ "${COMPREPLY[*]}" = --trouble ]' "$prefix"
}

# The archive holds all that a build, an install and another archive take, and asks
# nothing of the network: what would reach it is a trap.
fact_the_archive_builds_by_itself() {
    make -C "$tree" dist
    version=$("$tree/build/pailcast" --version | tr ' ' -)
    tar -xzf "$tree/build/$version.tar.gz" -C "$scratch"
    mkdir -p "$scratch/traps"
    for tool in apt-get apt curl wget git ssh sudo; do
        printf '#!/bin/sh\necho %s "$@" >>%s/trapped\nexit 1\n' $tool "$scratch" >"$scratch/traps/$tool"
        chmod +x "$scratch/traps/$tool"
    done
    cd "$scratch/$version"
    export PATH="$scratch/traps:$PATH" http_proxy=http://127.0.0.1:9 https_proxy=http://127.0.0.1:9
    # -O0 is quickest; that the code builds at all levels is tried elsewhere
    make CFLAGS=-O0 all install "DESTDIR=$scratch/dist-root"
    refute [ -e "$scratch/trapped" ]
    [ "$("$scratch/dist-root/usr/local/bin/pailcast" --version | tr ' ' -)" = "$version" ]
    build/pailcast check scenarios/first-bucket.cfg
    make dist
    tar -tzf "build/$version.tar.gz" | grep -v '/$' | sort >again
    tar -tzf "$tree/build/$version.tar.gz" | grep -v '/$' | sort >first
    refute grep -e '/build/' -e '/out/' again
    grep -v -x "$version/again" again | diff first -
}

fact_uninstalling_leaves_no_file_behind() {
    installed
    make -C "$tree" uninstall "DESTDIR=$root"
    [ -z "$(find "$root" -type f)" ]
}

run_facts
