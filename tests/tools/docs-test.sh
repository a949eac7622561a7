#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What README.md and docs/ tell is what the program and its files hold: keys, commands,
# options, quoted output, links. Where numbers are from is sources-test.sh.
tree=$(cd "$(dirname "$0")/../.." && pwd)
. "$tree/tests/tools/facts.sh"
unset MAKEFLAGS MFLAGS MAKELEVEL PAILCAST_DATA
program=$tree/build/pailcast
guide=$tree/docs/scenario.md
manual=$tree/docs/pailcast.1

# same KEPT NOW: two files of words, one a line, in any order; shows what differs.
same() {
    sort -u "$1" >"$1.sorted"
    sort -u "$2" >"$2.sorted"
    [ -s "$1.sorted" ] && diff "$1.sorted" "$2.sorted"
}

# ---- keys of the guide and of the reader

# section HEADING: the lines of the guide below one heading.
section() {
    awk -v heading="$1" '/^#+ /{ inside = ($0 == heading); next } inside' "$guide"
}

# keys HEADING: what stands in back-quotes in the first column of its tables; with an
# ellipsis between them all the ions.
keys() {
    section "$1" | awk -F'|' -v ions="$ions" '
        /^\| `/ {
            cell = $2
            if (cell ~ /…/) {
                low = cell ~ /_low`/ ? "_low" : ""
                n = split(ions, ion, " ")
                for (i = 1; i <= n; i++) print ion[i] low
                next
            }
            while (match(cell, /`[^`]*`/)) {
                word = substr(cell, RSTART + 1, RLENGTH - 2)
                cell = substr(cell, RSTART + RLENGTH)
                if (word ~ /^[a-z][a-z0-9_.]*$/) print word
            }
        }'
}

# inner HEADING KEY: the words in back-quotes that the row of a key says belong in it.
inner() {
    section "$1" | awk -F'|' -v key="\`$2\`" '
        index($2, key) {
            cell = $3
            gsub(/"[^"]*"/, "", cell)
            while (match(cell, /`[^`]*`/)) {
                words = substr(cell, RSTART + 1, RLENGTH - 2)
                cell = substr(cell, RSTART + RLENGTH)
                while (match(words, /[a-z][a-z0-9_]*/)) {
                    word = substr(words, RSTART, RLENGTH)
                    words = substr(words, RSTART + RLENGTH)
                    if (word != "or") print word
                }
            }
        }'
}

# probe FILE: scenarios in which every group holds a key that cannot be, so that the
# reader names the keys it knows.
odd='qzqzqzqzqzqz = 1;'
probe_grown() {
    cat <<END
title = "x"; duration = "3 d"; $odd
bucket = { full = "5 L"; $odd }; room = { $odd };
crop = { kind = "grown"; $odd temperatures = { $odd }; salinity = { $odd }; tissue = { $odd };
  luxury = { $odd }; selectivity = { $odd }; cap = { $odd }; stages = ( { name = "s"; $odd } );
  cuts = ( { first = "1 d"; share = 0.1; $odd } ); };
water = { $odd };
recipe = { salts = ( { salt = "KNO3"; dose = "1 g/L"; $odd } ); label = { $odd }; dose = "1 g/L"; $odd };
strategies = ( { name = "s"; $odd away = ( { from = "1 d"; to = "2 d"; $odd } );
  adjust = { with = "HNO3"; to_ph = 6.0; above_ph = 6.5; $odd }; } );
limits = { $odd }; display = { $odd }; numerics = { $odd }; uncertain = { $odd };
END
}
probe_table() {
    cat <<END
title = "x"; duration = "3 d"; bucket = { full = "5 L"; }; water = { };
crop = { kind = "table"; $odd stages = ( { name = "s"; drinks = "1 L/d"; $1 } ); };
strategies = ( { name = "s"; by_stage = ( { stage = "s"; $2 } ); } );
END
}

# known FILE GROUP: the keys the reader knows in a group.
known() {
    refute "$program" check "$1" 2>"$scratch/said"
    sed -n "s/.*\"qzqzqzqzqzqz\" is not known $2; known are //p" "$scratch/said" |
        tr -d ' ' | tr ',' '\n'
}

ions=$("$program" check "$tree/scenarios/first-bucket.cfg" --json |
    grep -o '"\(no3\|nh4\|p\|k\|ca\|mg\|so4\|na\|cl\)"' | tr -d '"' | awk '!seen[$0]++' | tr '\n' ' ')

# agree GROUP HEADING...: the keys known in a group are those listed below the headings.
agree() {
    known "$scratch/probe.cfg" "$1" >"$scratch/known"
    shift
    for heading; do
        keys "$heading"
    done >"$scratch/listed"
    same "$scratch/known" "$scratch/listed"
}

fact_every_key_of_the_guide_is_read_and_every_key_read_is_in_the_guide() {
    [ "$(echo "$ions" | wc -w)" -eq 9 ]
    probe_grown >"$scratch/probe.cfg"
    agree here '## Top level'
    agree 'in bucket' '## `bucket`'
    agree 'in room' '## `room`'
    agree 'in water' '## `water`, `stock`'
    agree 'in recipe' '## `recipe`'
    agree 'in crop' '## `crop`' '### `kind = "grown"`'
    agree 'in this strategy' '## `strategies`'
    agree 'in limits' '## `limits`'
    agree 'in display' '## `display`'
    agree 'in numerics' '## `numerics`'
    agree 'in uncertain' '## `uncertain`'
}

# belong GROUP HEADING KEY: the keys known in the group of a key are those its row names.
belong() {
    known "$scratch/probe.cfg" "in $1" >"$scratch/known"
    inner "$2" "$3" >"$scratch/listed"
    same "$scratch/known" "$scratch/listed"
}

fact_groups_within_groups_agree_too() {
    probe_grown >"$scratch/probe.cfg"
    grown='### `kind = "grown"`'
    belong temperatures "$grown" temperatures
    belong salinity "$grown" salinity
    belong tissue "$grown" tissue
    belong luxury "$grown" luxury
    belong selectivity "$grown" selectivity
    belong cap "$grown" cap
    belong 'this stage' "$grown" stages
    belong 'this cut' '## `crop`' cuts
    belong 'this salt' '## `recipe`' salts
    belong label '## `recipe`' label
    belong adjust '## `strategies`' adjust
    belong away '## `strategies`' away
    probe_table '' "$odd" >"$scratch/probe.cfg"
    belong 'this stage' '## `strategies`' by_stage
}

fact_a_plant_as_a_table_agrees() {
    probe_table "$odd" '' >"$scratch/probe.cfg"
    known "$scratch/probe.cfg" 'in this stage' >"$scratch/known"
    keys '### `kind = "table"`' | sed -n 's/^stages\.//p' >"$scratch/listed"
    same "$scratch/known" "$scratch/listed"
    known "$scratch/probe.cfg" 'in crop' >"$scratch/known"
    { keys '## `crop`' && keys '### `kind = "table"`' | grep -v '^stages\.'; } >"$scratch/listed"
    same "$scratch/known" "$scratch/listed"
}

# ---- README.md

fact_what_the_readme_quotes_is_what_the_program_says() {
    "$tree/tests/tools/docs-blocks.sh" "$tree/README.md" &&
        "$tree/tests/tools/docs-blocks.sh" "$tree/docs/growers.md"
}

# Prose, without fences, marks and links.
fact_every_number_in_the_readme_is_in_what_it_quotes() {
    cd "$tree"
    # Debian 12 and 13, EC up to 10 and at 25 degC, 100 %, version 3 of the licence, the man
    # page's section, the examples of units: no results.
    allowed='12 13 10 25 100 3 3.0 1 4.5 79 5 2 1400'
    sed -n '/^```text/,/^```/p' README.md >"$scratch/quoted"
    awk '/^```/ { fence = !fence; next } !fence' README.md |
        sed -e 's/<!--[^>]*-->//g' -e 's/](\([^)]*\))/]/g' -e 's/`[^`"]*`//g' -e 's/ppm500//g' \
            -e 's/pailcast\.1//g' |
        grep -o '[0-9][0-9]*\(\.[0-9]\{1,\}\)\{0,1\}' | sort -u >"$scratch/numbers"
    while read -r number; do
        case " $allowed " in
            *" $number "*) ;;
            *) grep -qE "(^|[^0-9.])$number([^0-9.]|$)" "$scratch/quoted" ;;
        esac
    done <"$scratch/numbers"
}

fact_the_readme_has_two_lines_for_a_bare_system() {
    cd "$tree"
    awk '/<!-- fresh-check -->/ { m = 1 } m && /^```/ { if (i) exit; i = 1; next } i && NF' \
        README.md >"$scratch/lines"
    [ "$(wc -l <"$scratch/lines")" -eq 2 ]
    sed -n 1p "$scratch/lines" | grep -q 'make demo$'
    sed -n 2p "$scratch/lines" | grep -qx 'make check'
}

fact_the_terminal_plot_of_the_tour_is_drawn() {
    cd "$scratch"
    "$program" run "$tree/scenarios/first-bucket.cfg" --strategy "Water only" --show >shown
    grep -q 'by day since first fill' shown
}

fact_pictures_are_small_and_shown() {
    cd "$tree"
    for picture in docs/pictures/*.png; do
        [ "$(wc -c <"$picture")" -lt 200000 ]
        grep -q "($picture)" README.md
    done
}

# ---- all documents

documents() {
    cd "$tree"
    ls README.md DEVELOPERS.md docs/*.md
}

fact_links_lead_to_files() {
    for document in $(documents); do
        cd "$tree/$(dirname "$document")"
        sed -n 's/](\([^)#]*\)[^)]*)/\n&\n/gp' "$(basename "$document")" |
            sed -n 's/^](\([^)#]*\).*/\1/p' | sed -e '/^http/d' -e '/^$/d' >"$scratch/links"
        while read -r link; do
            [ -e "$link" ] || { echo "$document: $link"; exit 1; }
            echo "$link" >>"$scratch/followed"
        done <"$scratch/links"
    done
    [ -s "$scratch/followed" ]
}

# Names in capitals stand for many, and folders may be empty yet.
fact_files_named_in_documents_exist() {
    cd "$tree"
    for document in $(documents); do
        tr '`' '\n' <"$document" | sed -n -e '/[A-Z]\{3\}/d' \
            -e '/^\(sim\|include\|tests\|scenarios\|plots\|docs\)\/[A-Za-z0-9_./-]*[A-Za-z0-9]$/p' \
            >"$scratch/named"
        while read -r name; do
            [ -e "$name" ] || { echo "$document: $name"; exit 1; }
            echo "$name" >>"$scratch/seen"
        done <"$scratch/named"
    done
    [ -s "$scratch/seen" ]
}

fact_what_make_is_asked_for_it_can_do() {
    cd "$tree"
    # shellcheck disable=SC2046 # file names of ours
    grep -ohE '(`|^ {4}|&& )make [a-z][a-z-]*($|[` ])' $(documents) | tr -d '`' |
        sed -e 's/.*make //' -e 's/ *$//' | sort -u >"$scratch/asked"
    make -s help | awk '{ print $2 }' >"$scratch/offered"
    grep -q . "$scratch/asked"
    while read -r target; do
        grep -qx -e "$target" "$scratch/offered"
    done <"$scratch/asked"
}

fact_the_version_is_one() {
    version=$(sed -n 's/^VERSION := //p' "$tree/Makefile")
    "$program" --version | grep -qx "pailcast $version"
    grep -q "^## $version" "$tree/docs/CHANGELOG.md"
    grep -q "^\.TH .*pailcast $version" "$manual"
}

# ---- the manual

# The page as plain words: no font changes, no escapes.
plain_manual() {
    sed -e 's/\\f[BIRP]//g' -e 's/\\-/-/g' -e 's/\\&//g' "$manual"
}

commands() {
    "$program" --help | awk '/^Commands:/ { on = 1; next } on && /^  / { print $1 }'
}

# entries HEADING: the options with an entry of their own below it.
entries() {
    plain_manual | awk -v heading=".$1" '
        /^\.S[SH] / { on = index($0, heading) == 1 }
        on && entry && /^\.BI? --/ { print $2 }
        { entry = /^\.TP/ }'
}

fact_the_manual_names_every_command_with_its_options_and_no_other() {
    commands >"$scratch/there"
    plain_manual | sed -n 's/^\.SS \([a-z]*\).*/\1/p' >"$scratch/told"
    same "$scratch/there" "$scratch/told"
    plain_manual | sed -n 's/^\.B pailcast \([a-z]*\)$/\1/p' >"$scratch/told"
    same "$scratch/there" "$scratch/told"
    for command in $(commands); do
        "$program" "$command" --help | grep -oE '^  --[a-z0-9-]+' | tr -d ' ' >"$scratch/there"
        { entries "SS $command"; entries 'SH OPTIONS OF EVERY'; } >"$scratch/told"
        same "$scratch/there" "$scratch/told"
    done
}

fact_the_manual_names_what_is_asked_of_the_environment() {
    cd "$tree"
    { grep -rhoE 'getenv\("[A-Z_]+"\)|_said\("[A-Z_]+"\)' sim | grep -oE '[A-Z_]{3,}'; } |
        sort -u >"$scratch/asked"
    grep -q . "$scratch/asked"
    while read -r variable; do
        plain_manual | grep -q "^\.B $variable"
    done <"$scratch/asked"
}

fact_the_manual_is_laid_out_without_a_warning() {
    groff -ww -man -Tutf8 "$manual" >"$scratch/page" 2>"$scratch/warnings"
    [ ! -s "$scratch/warnings" ]
    grep -q 'no warranty' "$scratch/page"
}
if ! command -v groff >/dev/null 2>&1; then
    echo "groff is not here: nobody looked at how the manual is laid out"
    facts=$(echo "$facts" | grep -v laid_out)
fi

run_facts
