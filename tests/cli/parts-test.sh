#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# A study spread over processes gives the bytes of a single run: parts started side by
# side from a shell, and, where Open MPI is installed, by mpirun with the rank as part.
tree=$(cd "$(dirname "$0")/../.." && pwd)
. "$tree/tests/tools/facts.sh"
program=$tree/build/pailcast
study="$tree/scenarios/first-bucket.cfg --days 20 --lives 24 --seed 7 --quiet"

# single FOLDER: the study in one process.
single() {
    # shellcheck disable=SC2086 # several words
    $program risk $study --jobs 1 --out "$1"
}

fact_parts_side_by_side_join_to_the_bytes_of_one_run() {
    single "$scratch/one"
    for part in 1 2; do
        # shellcheck disable=SC2086
        $program risk $study --jobs 1 --part $part/2 --out "$scratch/two" &
    done
    wait
    $program risk --merge "$scratch"/two/*.part --quiet --out "$scratch/joined"
    cmp "$scratch/one/risk.json" "$scratch/joined/risk.json"
    cmp "$scratch/one/risk-bands.csv" "$scratch/joined/risk-bands.csv"
}

fact_two_ranks_of_mpirun_join_to_the_bytes_of_one_run() {
    command -v mpirun || { echo "mpirun is not installed: nothing to try"; return 0; }
    single "$scratch/one"
    # shellcheck disable=SC2016 # the rank is for the shell that mpirun starts
    OMPI_ALLOW_RUN_AS_ROOT=1 OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1 \
        mpirun --oversubscribe -n 2 sh -c 'exec "$0" risk "$@" --jobs 1 \
            --part $((OMPI_COMM_WORLD_RANK + 1))/$OMPI_COMM_WORLD_SIZE' \
        "$program" $study --out "$scratch/ranks"
    [ "$(ls "$scratch"/ranks/*.part | wc -l)" -eq 2 ]
    $program risk --merge "$scratch"/ranks/*.part --quiet --out "$scratch/mpi"
    cmp "$scratch/one/risk.json" "$scratch/mpi/risk.json"
}

run_facts
