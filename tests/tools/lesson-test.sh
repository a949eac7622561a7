#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# docs/lesson.md: its commands are run, what it quotes is what they say, every number in
# its sentences is in what the same chapter quotes, and every picture it points at is made.
# After results have moved: tests/tools/docs-blocks.sh --write docs/lesson.md renews the
# quotations, and this test then names the sentences to look at.
tools=$(cd "$(dirname "$0")" && pwd)
. "$tools/facts.sh"
tree=$(cd "$tools/../.." && pwd)
lesson=$tree/docs/lesson.md
unset PAILCAST_DATA

# stray DOCUMENT: numbers in the sentences of a chapter that it does not quote, with the
# line; fails when there is one.
stray() {
    awk '
        function settle(  i, n, word, seen) {
            for (i = 1; i <= told; i++) {
                n = number[i]
                gsub(/\./, "[.]", n)
                if (quoted !~ ("(^|[^0-9.])" n "($|[^0-9.]|[.]($|[^0-9]))")) {
                    print chapter ": " number[i] " is not in what is quoted there: " line[i]
                    bad = 1
                }
            }
            told = 0
            quoted = ""
        }
        /^```/ { fence = fence == "" ? substr($0, 4) : ""; next }
        fence == "text" { quoted = quoted "\n" $0; next }
        fence != "" { next }
        /^## / { settle(); chapter = substr($0, 4); next }
        {
            text = $0
            gsub(/<[^>]*>/, "", text)
            gsub(/`[^`]*`/, "", text)
            while (match(text, /[0-9]+([.][0-9]+)?/)) {
                number[++told] = substr(text, RSTART, RLENGTH)
                line[told] = $0
                text = substr(text, RSTART + RLENGTH)
            }
        }
        END { settle(); exit bad }' "$1"
}

# commands DOCUMENT: what stands in its sh blocks.
commands() {
    awk '/^```/ { fence = fence == "" ? substr($0, 4) : ""; next } fence == "sh"' "$1"
}

fact_what_the_lesson_quotes_is_what_its_commands_say() {
    "$tools/docs-blocks.sh" "$lesson"
}

fact_every_number_in_a_sentence_is_quoted_in_its_chapter() {
    [ "$(grep -c '^## ' "$lesson")" -ge 6 ]
    stray "$lesson"
}

fact_every_picture_pointed_at_is_made_by_the_commands() {
    mkdir "$scratch/stage"
    ln -s "$tree/build" "$tree/scenarios" "$scratch/stage"
    commands "$lesson" >"$scratch/commands"
    grep -q . "$scratch/commands"
    (cd "$scratch/stage" && sh -e "$scratch/commands" >"$scratch/said")
    grep -o '`out/[^`]*`' "$lesson" | tr -d '`' | sort -u >"$scratch/pictures"
    [ "$(wc -l <"$scratch/pictures")" -ge 5 ]
    while read -r picture; do
        [ -s "$scratch/stage/$picture" ] || { echo "$picture"; exit 1; }
    done <"$scratch/pictures"
    for heading in 'EC of all strategies' 'What the EC is made of' 'The ions'; do
        grep -qF "*$heading*" "$lesson"
        grep -qF "$heading" "$scratch/stage/out/renew-or-not/report.html"
    done
}

fact_every_command_is_quoted_and_has_something_to_write_down_before() {
    [ "$(commands "$lesson" | grep -c .)" -eq "$(grep -c '^```text$' "$lesson")" ]
    awk '
        /^## (Why|When)/ { chapters++; written = 0 }
        /\*\*Write down/ { written++ }
        /^```sh/ && !written { print "nothing to write down before: " NR; bad = 1 }
        /^<details>/ { answers++ }
        /^<\/details>/ { closed++ }
        END { exit bad || chapters != 5 || answers != closed || answers < 10 }' "$lesson"
}

# plant TEXT: a lesson of one chapter, with TEXT as its sentence.
plant() {
    printf '# Planted\n\n## One\n\n%s\n\n```text\nEC went from 1.92 to 2.94 mS/cm in 12 days.\n```\n\n' "$1"
    printf '## Two\n\nNothing is counted here.\n\n```text\nday 7.5\n```\n'
}

fact_a_number_from_nowhere_is_seen() {
    plant 'It rose from 1.92 to 2.94.' >"$scratch/true.md"
    stray "$scratch/true.md"
    for wrong in 'It rose to 2.95.' 'It rose to 2.9 mS/cm.' 'It rose by 92 %.' 'On day 7.5.' \
        'It took 2 days.'; do
        plant "$wrong" >"$scratch/wrong.md"
        refute stray "$scratch/wrong.md"
    done
    plant 'See `out/5/x.svg`, 12 days.' >"$scratch/true.md"
    stray "$scratch/true.md"
}

run_facts
