#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Compares two JSON files: the same names, words and order, and numbers alike.
#
#   tests/tools/golden.sh KEPT NEW
#
# Numbers may differ by 1e-4 of themselves or 1e-9: a life is solved to 1e-6, and another
# compiler or C library may lead the solver over other steps to the same end, while a
# change of the model worth telling moves more. Digits and dates within sentences are not
# compared, nor how many steps the solver took.
set -eu

kept=$(mktemp)
new=$(mktemp)
trap 'rm -f "$kept" "$new"' EXIT

# One word, number or sign a line, behind it the name last seen.
words() {
    awk '
    { text = text $0 "\n" }
    END {
        while (text != "") {
            if (match(text, /^[ \t\r\n]+/)) {
                text = substr(text, RLENGTH + 1)
                continue
            }
            if (match(text, /^"([^"\\]|\\.)*"/)) {
                word = substr(text, 1, RLENGTH)
                length_ = RLENGTH
                gsub(/-?[0-9]+(\.[0-9]+)?/, "#", word)
                gsub(/\((Mon|Tue|Wed|Thu|Fri|Sat|Sun) ###\)/, "(#)", word)
                if (substr(text, length_ + 1) ~ /^[ \t\r\n]*:/) name = word
            } else {
                if (!match(text, /^[-+0-9.eE]+/) && !match(text, /^[a-z]+/)) RLENGTH = 1
                word = substr(text, 1, RLENGTH)
                length_ = RLENGTH
            }
            print word "\t" name
            text = substr(text, length_ + 1)
        }
    }' "$1"
}

words "$1" >"$kept"
words "$2" >"$new"
paste "$kept" "$new" | awk -F'\t' '
    function distance(a, b) { return a > b ? a - b : b - a }
    function size(a) { return a < 0 ? -a : a }
    $1 ~ /^-?[0-9]/ && $3 ~ /^-?[0-9]/ && distance($1, $3) <= 1e-4 * size($1) + 1e-9 { next }
    $2 ~ /^"(steps|rate_calls)"$/ && $1 ~ /^[0-9]/ && $3 ~ /^[0-9]/ { next }
    $1 != $3 {
        if (++shown <= 10) print "  near " $2 ": kept " $1 ", now " $3
    }
    END { exit shown > 0 }' || {
    echo "$2 is not what $1 keeps; if that is meant, \`make golden\` and say why in the commit"
    exit 1
}
