#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The house rule, proved: folders stand in a row, and a file includes headers only from
# its own folder or from folders to its left; some libraries stay behind walls. And each
# file opens with its licence and is no longer than one sitting.
#
#   tests/tools/layers.sh TREE
#
# Prints each line that breaks the rule as FILE:LINE: what is wrong.
set -eu
cd "$1"

status=0
find sim include/pailcast -name '*.[ch]' | sort | xargs awk '
    FNR == 1 && !/SPDX-License-Identifier: GPL-3.0-or-later/ {
        print FILENAME ":1: no licence line"
        bad = 1
    }
    FNR == 501 {
        print FILENAME ": more than 500 lines"
        bad = 1
    }
    END { exit bad }' || status=1

find sim include/pailcast -name '*.[ch]' | sort | xargs grep -Hn '^[[:space:]]*#[[:space:]]*include' |
    awk -F: '
    BEGIN {
        split("base chem plant bucket visit scenario run study report cli", row, " ")
        for (i in row) place[row[i]] = i

        # header, files that may include it
        wall["^(cvodes?|arkode|nvector|sun[a-z]+)/"] = "^sim/run/(solver|engine|vector)[a-z_]*\\.[ch]$"
        wall["^(libconfig|udunits2)\\.h$"] = "^sim/scenario/"
        wall["^cjson/"] = "^sim/base/tree\\.c$"
        wall["^gsl/gsl_(multifit|multilarge|rng|qrng|randist)"] = "^sim/study/"
    }
    function broken(what) {
        print $1 ":" $2 ": " what
        bad = 1
    }
    {
        header = $0
        sub(/^[^"<]*["<]/, "", header)
        sub(/[">].*/, "", header)
        count = split($1, part, "/")
        folder = part[1] == "sim" ? part[2] : part[3]
        if (!(folder in place) || count != (part[1] == "sim" ? 3 : 4)) {
            broken("stands in no folder of the row")
        } else if (header ~ /^pailcast\//) {
            split(header, part, "/")
            if (!(part[2] in place)) {
                broken(header " is from no folder of the row")
            } else if (place[part[2]] + 0 > place[folder] + 0) {
                broken(folder " must not know " part[2] ", which stands to its right")
            }
        } else if ($0 ~ /include[ \t]*"/) {
            beside = $1
            sub(/[^\/]*$/, "", beside)
            if (header ~ /\// || (getline line < (beside header)) < 0) {
                broken("\"" header "\" is no header beside this file")
            }
            close(beside header)
        }
        for (w in wall) {
            if (header ~ w && $1 !~ wall[w]) broken(header " is behind a wall")
        }
    }
    END {
        if (!NR) print "no include line found: is this the tree?"
        exit bad || !NR
    }' || status=1
exit $status
