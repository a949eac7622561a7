#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# docs/sources.md knows every number of the code, the crops, the waters and the recipes,
# and every work the code names.
tree=$(cd "$(dirname "$0")/../.." && pwd)
. "$tree/tests/tools/facts.sh"
sources=$tree/docs/sources.md

# same KEPT NOW: two files of words, one a line, in any order; shows what differs.
same() {
    sort -u "$1" >"$1.sorted"
    sort -u "$2" >"$2.sorted"
    [ -s "$1.sorted" ] && diff "$1.sorted" "$2.sorted"
}

# literals FILE WHICH: its numbers, without comments and texts. Which: `all` those of two
# signs or more; `doubles` those that are no plain counts; `constants` as that, and in
# constants only.
literals() {
    awk -v which="$2" '
        {
            line = $0
            if (comment) {
                i = index(line, "*/")
                if (!i) next
                line = substr(line, i + 2)
                comment = 0
            }
            while ((i = index(line, "/*"))) {
                j = index(substr(line, i + 2), "*/")
                rest = j ? substr(line, i + j + 3) : ""
                if (!j) comment = 1
                line = substr(line, 1, i - 1) " " rest
            }
            gsub(/"([^"\\]|\\.)*"/, "", line)
            if (line ~ /static const (double|struct)/) constant = 1
            number_line = line ~ /double/
            if (which != "constants" || constant) {
                while (match(line, /(^|[^A-Za-z0-9_.])[0-9]+\.?[0-9]*(e[-+]?[0-9]+)?/)) {
                    number = substr(line, RSTART, RLENGTH)
                    line = substr(line, RSTART + RLENGTH)
                    sub(/^[^0-9]/, "", number)
                    if (number ~ /[.e]/ || length(number) > 1 && (which == "all" || number_line))
                        print number
                }
            }
            if ($0 ~ /;/) constant = 0
        }' "$1" | sort -u
}

# source_of FOLDER/FILE: the second column of its rows.
source_of() {
    awk -F'|' -v file="$1" '
        /^\| [a-z]+\/[a-z_]+\.[ch]/ {
            n = split($2, names, /[ ,]+/)
            for (i = 1; i <= n; i++) if (names[i] == file) print $3
        }' "$sources"
}

# Without a row: halves, powers of ten between units, hours of a day, and the slack by
# which times are one.
everywhere='0.5 1.0 2.0 10 100 1000 1e-3 1e-6 1e6 1e-9 24'

fact_every_number_in_the_code_has_its_source() {
    cd "$tree"
    : >"$scratch/missing"
    for file in sim/base/*.c sim/chem/*.c sim/plant/*.c sim/bucket/*.c sim/visit/*.c sim/run/*.c \
        sim/study/*.c sim/scenario/*.c include/pailcast/chem/*.h include/pailcast/plant/*.h \
        include/pailcast/scenario/*.h; do
        name=${file#sim/}
        name=${name#include/pailcast/}
        which=doubles
        case $name in
            # their own tests add these up from atomic weights
            chem/salt.c | chem/ion.c) continue ;;
            # lengths of texts, file modes and room for rows
            base/text.c | base/status.c | base/file.c | run/trajectory.c) continue ;;
            scenario/*.c) which=constants ;;
            chem/*.c | plant/*.c | bucket/*.c) which=all ;;
        esac
        told=" $everywhere $(source_of "$name" | tr '\n' ' ')"
        for number in $(literals "$file" $which); do
            case "$told " in
                *" $number "*) ;;
                *) echo "$name: docs/sources.md has no source of $number" >>"$scratch/missing" ;;
            esac
        done
    done
    set +x
    cat "$scratch/missing"
    [ ! -s "$scratch/missing" ]
}

fact_no_source_speaks_of_a_number_that_is_gone() {
    cd "$tree"
    awk -F'|' '/^\| [a-z]+\/[a-z_]+\.[ch]/ { print $2 "|" $3 }' "$sources" >"$scratch/rows"
    [ "$(wc -l <"$scratch/rows")" -gt 60 ]
    while IFS='|' read -r files numbers; do
        for name in $(echo "$files" | tr ',' ' '); do
            [ -e "sim/$name" ] || [ -e "include/pailcast/$name" ]
        done
        set --
        for name in $(echo "$files" | tr ',' ' '); do
            for file in "sim/$name" "include/pailcast/$name"; do
                [ ! -e "$file" ] || set -- "$@" "$file"
            done
        done
        case $numbers in " all "*) continue ;; esac # a table, compared number by number
        found=$(echo "$numbers" | grep -oE '(^| )[0-9][0-9.e+-]*')
        for number in $found; do
            grep -qF -e "$number" "$@" || { echo "$files: $number is gone"; exit 1; }
        done
    done <"$scratch/rows"
}

# flat FILE: "key numbers" of a crop or water, one line a key, groups with a dot.
flat() {
    sed 's/#.*//' "$1" | awk '
        { text = text $0 " " }
        function value(t) {
            if (t ~ /^"/) t = substr(t, 2, length(t) - 2)
            return t ~ /^-?[0-9]/ ? t + 0 "" : ""
        }
        END {
            while (match(text, /"[^"]*"|[A-Za-z_][A-Za-z_0-9]*|-?[0-9][0-9.]*|[{}()=;,]|\[|\]/)) {
                t = substr(text, RSTART, RLENGTH)
                text = substr(text, RSTART + RLENGTH)
                if (t == "{" || t == "(") { depth++; path[depth] = key; key = "" }
                else if (t == "}" || t == ")") { depth--; key = "" }
                else if (t ~ /^[A-Za-z_]/) key = t
                else if (t ~ /^["0-9-]/ && value(t) != "") {
                    name = ""
                    for (i = 2; i <= depth; i++) if (path[i] != "") name = name path[i] "."
                    name = name key
                    if (!(name in seen)) { order[++n] = name; seen[name] = 1 }
                    numbers[name] = numbers[name] " " value(t)
                }
            }
            for (i = 1; i <= n; i++) print order[i] numbers[order[i]]
        }'
}

# column N: "key numbers" of one column of the table of crops.
column() {
    awk -F'|' -v n="$1" '
        /^## /{ on = ($0 == "## Crops") }
        on && /^\| `/ {
            key = $2
            gsub(/^ `|`.*$/, "", key)
            cell = $n
            numbers = ""
            while (match(cell, /[0-9][0-9.]*/)) {
                numbers = numbers " " (substr(cell, RSTART, RLENGTH) + 0)
                cell = substr(cell, RSTART + RLENGTH)
            }
            if (numbers != "") print key numbers
        }' "$sources"
}

fact_the_table_of_crops_is_what_ships() {
    n=3
    for crop in $(awk -F'|' '/^\| key \| lettuce/ {
        for (i = 3; i < NF; i++) { gsub(/^ | $/, "", $i); gsub(/ /, "_", $i); print $i } }' "$sources"); do
        flat "$tree/scenarios/crops/$crop.cfg" >"$scratch/ships"
        column $n >"$scratch/told"
        same "$scratch/ships" "$scratch/told"
        n=$((n + 1))
    done
    set -- "$tree"/scenarios/crops/*.cfg
    [ $((n - 3)) -eq $# ]
}

# With 7 % of the nitrogen as ammonium, at both ends of growth.
fact_crops_eat_as_much_of_either_charge() {
    for crop in "$tree"/scenarios/crops/*.cfg; do
        flat "$crop" | awk '
            /^tissue\./ { key = substr($1, 8); a[key, 1] = $2; a[key, 2] = NF > 2 ? $3 : $2 }
            END {
                for (i = 1; i <= 2; i++) {
                    n = a["n", i]
                    taken = 0.93 * n + a["p", i] + 2 * a["s", i]
                    off = taken - 0.07 * n - a["k", i] - 2 * a["ca", i] - 2 * a["mg", i]
                    if (n == 0 || off > 0.2 || off < -0.2) exit 1
                }
            }'
    done
}

# row NAME: the numbers of a row of docs/sources.md, in order.
row() {
    awk -F'|' -v name=" $1 " '$2 == name { $1 = $2 = ""; print }' "$sources"
}

fact_waters_and_recipes_are_what_ships() {
    for water in "$tree"/scenarios/waters/*.cfg; do
        row "$(basename "$water" .cfg)" | grep -oE '[0-9]+\.[0-9]+' >"$scratch/told"
        sed 's/#.*//' "$water" | grep -oE '"[0-9.]+ m' | tr -d '" m' >"$scratch/ships"
        same "$scratch/ships" "$scratch/told"
    done
    for recipe in "$tree"/scenarios/recipes/*.cfg; do
        row "$(basename "$recipe" .cfg)" | tr ',;' '\n\n' >"$scratch/told"
        sed 's/#.*//' "$recipe" | grep -oE 'salt = "[^"]*"; dose = "[0-9.]+|[a-z0-9_]+ = "[0-9.]+ %' |
            sed -e 's/salt = "\(.*\)"; dose = "/\1 /' -e 's/ = "/ /' -e 's/ %//' >"$scratch/ships"
        grep -q . "$scratch/ships"
        while read -r part; do
            grep -q -F -e "$part" "$scratch/told"
        done <"$scratch/ships"
    done
}

fact_every_work_named_in_the_code_is_listed() {
    cd "$tree"
    grep -rhoE "[A-Z][A-Za-z]+( (&|and) [A-Z][a-z]+| et al\.)? (1[89]|20)[0-9][0-9]([^-0-9]|$)" sim include tests plots |
        sed "s/[^0-9]$//" | sort -u >"$scratch/works" # a year, not a date
    [ "$(wc -l <"$scratch/works")" -gt 15 ]
    set +x
    while read -r work; do
        grep -F -e "${work##* }" "$sources" | grep -q -F -e "${work%% *}" ||
            { echo "docs/sources.md does not list $work"; exit 1; }
    done <"$scratch/works"
}

fact_keys_of_works_resolve() {
    sed -n 's/^| \([A-Z][A-Z0-9]*\) |.*/\1/p' "$sources" | sort >"$scratch/keys"
    [ -z "$(uniq -d "$scratch/keys")" ]
    { grep -ohE '\[[A-Z]{4,}[0-9A-Z]*' "$tree/docs/model.md" | tr -d '['
        grep -ohE '[A-Z]{5,}[0-9A-Z]*' "$sources"; } | sort -u >"$scratch/used"
    # not works: a file name, an index, what a data set is called
    for word in DOTABLES TMGRO048 PRGRO048; do
        echo $word
    done >>"$scratch/keys"
    set +x
    while read -r key; do
        grep -qx -e "$key" "$scratch/keys" || { echo "$key is not listed"; exit 1; }
    done <"$scratch/used"
}

run_facts
