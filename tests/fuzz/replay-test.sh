#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The inputs kept for the fuzz targets, each run once through its target as it ships.
tree=$(cd "$(dirname "$0")/../.." && pwd)
. "$tree/tests/tools/facts.sh"

replay() {
    TMPDIR=$scratch "$tree/build/release/tests/fuzz/$1" "$tree/tests/fuzz/corpus/$1"/*
}

fact_kept_quantities_are_read_or_refused() {
    replay quantity
}

fact_kept_logbooks_are_read_or_refused() {
    replay logbook
}

fact_kept_analyses_are_read_or_refused() {
    replay analyses
}

fact_kept_scenarios_are_read_or_refused() {
    replay scenario
}

fact_kept_lives_are_lived_and_told_without_a_gap() {
    replay life
}

run_facts
