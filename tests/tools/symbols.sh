#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Names in the object files of sim/, as the linker sees them.
#
#   tests/tools/symbols.sh FOLDER     where the objects were built
#
# 1. What sim/x/y.o exports begins with y_ (y.c and y_z.c may form one group and share
#    the first word), so that a name says where it lives.
# 2. Nothing that can be written to is exported, and a file remembers nothing between calls
#    but these: the unit system and the data folder, both found once; the request to stop;
#    what a command works on.
# 3. Only report/plot starts another program, only cli ends this one, and nobody changes
#    the locale, on which reading and writing of numbers depends.
set -eu
cd "$1"

list=$(mktemp)
trap 'rm -f "$list"' EXIT
find sim -name '*.o' | sort | xargs nm -A -f sysv >"$list"

awk -F'|' '
    function broken(what) {
        print file ": " name " " what
        bad = 1
    }
    NF < 7 || !index($1, ":") { next }
    {
        gsub(/ /, "")
        file = $1
        sub(/:.*/, "", file)
        name = $1
        sub(/.*:/, "", name)
        stem = file
        sub(/.*\//, "", stem)
        sub(/\.o$/, "", stem)
        word = stem
        sub(/_.*/, "", word)
        undefined = $3 == "U"
        exported = $3 ~ /^[A-Z]$/ && !undefined && name !~ /^__(asan|odr_asan|ubsan)/
        seen += exported
    }
    exported && (stem == "main" ? name != "main" : name != word && index(name, word "_") != 1) {
        broken("is exported but does not begin with " word "_")
    }
    $3 != "" && $7 ~ /^(\.data|\.bss|\*COM\*)/ && $7 !~ /^\.data\.rel\.ro/ {
        if (exported) {
            broken("is exported and can be written to")
        } else if (file !~ /^sim\/(scenario\/(units|catalog)|run\/life|cli\/.*)\.o$/) {
            broken("can be written to and outlives the call")
        }
    }
    undefined && name ~ /^(popen|system|v?fork|exec[lv][pe]*|posix_spawnp?)$/ &&
        file != "sim/report/plot.o" { broken("may be called by report/plot.c only") }
    undefined && name ~ /^(exit|_exit|_Exit|abort|quick_exit)$/ &&
        file !~ /^sim\/cli\// { broken("may be called in cli/ only") }
    undefined && name == "setlocale" { broken("must not be called") }
    END {
        if (!seen) print "no exported name found: were the objects built?"
        exit bad || !seen
    }' "$list"
