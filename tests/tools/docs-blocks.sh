#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Holds the output that a document quotes to what the program says. In the document stand
#
#     <!-- shows: FILTER -->
#     ```sh          commands, typed one after the other in an empty folder that has
#     ```            build/ and scenarios/ in it
#     ```text        what is quoted: the last command's output through FILTER
#     ```
#
#   tests/tools/docs-blocks.sh DOCUMENT            fails where a quotation is not true
#   tests/tools/docs-blocks.sh --write DOCUMENT    renews the quotations
#
# Numbers may differ by one in their last digit, which another compiler can tip.
set -eu

write=
[ "$1" != --write ] || { write=yes; shift; }
document=$(realpath "$1")
tree=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/stage"
ln -s "$tree/build" "$tree/scenarios" "$work/stage"

# Cuts the document: for each quotation its filter, its commands and its text, and the
# document with a line @@N@@ in place of each text.
awk -v out="$work" '
    /^<!-- shows: .* -->$/ {
        n++
        sub(/^<!-- shows: /, ""); filter = $0; sub(/ -->$/, "", filter)
        print filter > (out "/filter-" n)
        print "<!-- shows: " $0 > (out "/frame"); part = "mark"; next
    }
    part == "text" && /^```/ { part = "" }
    part == "text" { print > (out "/text-" n); next }
    part == "sh" && /^```/ { part = "told" }
    part == "sh" { print > (out "/commands-" n) }
    { print > (out "/frame") }
    part == "mark" && /^```sh$/ { part = "sh" }
    part == "told" && /^```text$/ { part = "text"; printf "" > (out "/text-" n); print "@@" n "@@" > (out "/frame") }
    END { print n + 0 > (out "/count") }' "$document"

# alike KEPT NOW: the same words, and numbers to their last digit.
alike() {
    pieces "$1" >"$work/a"
    pieces "$2" >"$work/b"
    paste -d '\t' "$work/a" "$work/b" | awk -F'\t' '
        $1 == $2 { next }
        $1 !~ /^[0-9]/ || $2 !~ /^[0-9]/ { exit 1 }
        {
            unit = 1
            for (i = length($1) - (index($1, ".") ? index($1, ".") : length($1)); i > 0; i--)
                unit /= 10
            off = $1 - $2
            if (off > 1.01 * unit || off < -1.01 * unit) exit 1
        }'
}

# One number or stretch of other signs a line.
pieces() {
    sed -e 's/[[:space:]][[:space:]]*/ /g' -e 's/[0-9][0-9]*\(\.[0-9][0-9]*\)\{0,1\}/\n&\n/g' "$1"
}

count=$(cat "$work/count")
[ "$count" -gt 0 ] || { echo "$document quotes nothing"; exit 1; }
false=0
for n in $(seq "$count"); do
    sed '$!s/$/ \&\&/' "$work/commands-$n" >"$work/typed"
    (cd "$work/stage" && COLUMNS=80 LINES=24 sh "$work/typed") >"$work/said" 2>"$work/stderr" ||
        { cat "$work/commands-$n" "$work/stderr"; exit 1; }
    sh -c "$(cat "$work/filter-$n")" <"$work/said" | sed -e 's/[[:space:]]*$//' |
        sed -e '/./,$!d' | sed -e :a -e '/^\n*$/{$d;N;ba' -e '}' >"$work/now-$n"
    [ -s "$work/now-$n" ] || { echo "nothing to quote from: $(cat "$work/commands-$n")"; exit 1; }
    if [ -z "$write" ] && ! alike "$work/text-$n" "$work/now-$n"; then
        false=$((false + 1))
        diff -u "$work/text-$n" "$work/now-$n" || [ $? -eq 1 ]
        echo "not what is said by: $(tail -1 "$work/commands-$n")"
    fi
done

if [ -n "$write" ]; then
    awk -v out="$work" '
        /^@@[0-9]+@@$/ {
            gsub(/@/, ""); file = out "/now-" $0
            while ((getline line < file) > 0) print line
            next
        }
        { print }' "$work/frame" >"$document"
    echo "$count quotations renewed"
elif [ "$false" -gt 0 ]; then
    echo "$false of $count quotations are not true; look, then tests/tools/docs-blocks.sh --write"
    exit 1
fi
