#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Share of the lines of sim/ that ran, by file (the least first) and in all, from the counts
# that a build with --coverage left. Fails under 90 % in all.
#
#   tests/tools/coverage.sh FOLDER
set -eu

find "$1/sim" -name '*.gcno' | sort | while read -r notes; do
    gcov -n -o "${notes%/*}" "$notes" 2>/dev/null
done | awk '
    /^File / {
        file = substr($2, 2, length($2) - 2)
        next
    }
    /^Lines executed:/ && file ~ /^sim\/.*\.c$/ {
        split($0, part, /[:% ]+/)
        lines = $NF
        share = part[3]
        printf "  %6.1f %%  of %4d lines  %s\n", share, lines, file | "sort -n"
        total += lines
        ran += lines * share / 100
    }
    { file = "" }
    END {
        close("sort -n")
        if (!total) exit 1
        printf "%.1f %% of the %d lines of sim/ ran\n", 100 * ran / total, total
        if (ran < 0.9 * total) {
            print "at least 90 % are wanted"
            exit 1
        }
    }'
