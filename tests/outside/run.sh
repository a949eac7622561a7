#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Comparisons with what is outside the project: another solver, other people's measurements,
# a browser. Needs what the Makefile builds in build/release/tests/outside for it, R,
# deSolve, ade4, nlme and chromium.
# Ends with counts.
set -euo pipefail
cd "$(dirname "$0")/../.."

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
built=build/release/tests/outside
passed=0
failed=0

# part TITLE COMMAND...: runs it and adds up the counts of its last line; ending badly or
# without counts is a failure too.
part() {
    local log=$work/log status=0 part_failed=0
    printf '\n%s\n' "$1"
    shift
    "$@" | tee "$log" || status=$?
    if [[ $(tail -n 1 "$log") =~ ^([0-9]+)\ passed,\ ([0-9]+)\ failed$ ]]; then
        passed=$((passed + BASH_REMATCH[1]))
        part_failed=${BASH_REMATCH[2]}
    else
        status=1
    fi
    if ((status != 0 && part_failed == 0)); then
        part_failed=1
    fi
    failed=$((failed + part_failed))
}

# tight NAME: a copy of a shipped scenario solved far more closely than needed.
tight() {
    cp "scenarios/$1.cfg" "$work/$1.cfg"
    printf '\nnumerics = { rtol = 1e-10; };\n' >>"$work/$1.cfg"
}

PAILCAST_DATA=$PWD
export PAILCAST_DATA

# against NAME NUMBER STRATEGY SLUG: one life here and in deSolve.
against() {
    tight "$1"
    build/pailcast run "$work/$1.cfg" --quiet --out "$work/out" --strategy "$3"
    part "$1, $3: the same right-hand side in LSODA" \
        Rscript tests/outside/desolve.R $built/desolve.so "$work/$1.cfg" "$2" "$work/out/$4.csv"
}

against renew-or-not 0 "Soft water, never renew" soft-water-never-renew
against renew-or-not 3 "Hard water, renew every 30 d" hard-water-renew-every-30-d
against evergreen-two-years 0 "Never renew, EC 1.1" never-renew-ec-1-1
against measured-cucumber 0 "Stock always" stock-always

part "evergreen-two-years, its rates written again in R" \
    Rscript tests/outside/rates.R $built/desolve.so "$work/evergreen-two-years.cfg" 1
build/pailcast run "$work/evergreen-two-years.cfg" --quiet --out "$work/mix" \
    --strategy "Never renew, third stock"
part "evergreen-two-years, third stock, its equations written again in R" \
    Rscript tests/outside/grown.R "$work/mix/never-renew-third-stock.csv"

# The cucumber with nobody coming, until the roots have lost the water.
tight measured-cucumber
sed -i -e 's/^duration.*/duration = "34 d";/' -e '/^strategies/,/^);/d' "$work/measured-cucumber.cfg"
echo 'strategies = ( { name = "left alone"; fill = "water"; visit_every = "99 d"; } );' \
    >>"$work/measured-cucumber.cfg"
build/pailcast run "$work/measured-cucumber.cfg" --quiet --out "$work/table"
part "measured-cucumber left alone, its equations written again in R" \
    Rscript tests/outside/table.R "$work/table/left-alone.csv"
part "a report page in a browser" \
    tests/outside/browser.sh build/release/pailcast scenarios/first-bucket.cfg
part "39 river waters" Rscript tests/outside/rhone.R $built/rhone
part "growth of soybeans, least squares here and in R" \
    Rscript tests/outside/soybean.R $built/soybean

printf '\n%d passed, %d failed\n' "$passed" "$failed"
((failed == 0 && passed > 0))
