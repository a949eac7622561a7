#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# How long a run waits for what does not come: half a minute for gnuplot, a minute for
# another run that writes to the same folder. Both wait side by side, while other tests run.
tree=$(cd "$(dirname "$0")/../.." && pwd)
. "$tree/tests/tools/facts.sh"
program=$tree/build/pailcast
cd "$scratch" || exit

# lives FOLDER: a run into it; FOLDER.err says why it failed, FOLDER.status how and when.
lives() {
    begin=$(date +%s)
    status=0
    "$program" run "$tree/scenarios/no-plant.cfg" --quiet --out "$1" 2>"$1.err" || status=$?
    echo "$status $(($(date +%s) - begin))" >"$1.status.part"
    mv "$1.status.part" "$1.status"
}

# fails_after SECONDS FOLDER: with exit status 1, not sooner.
fails_after() {
    until [ -e "$2.status" ]; do
        sleep 0.2
    done
    cat "$2.err" >&2
    read -r status waited <"$2.status"
    [ "$status" -eq 1 ]
    [ "$waited" -ge "$1" ]
}

fact_a_gnuplot_that_hangs_is_ended_and_the_numbers_stay() {
    fails_after 29 drawn
    grep -x 'gnuplot did not finish within 30 s and was ended' drawn.err
    [ -s drawn/summary.json ]
    tail -n 1 drawn/report.html | grep -x '</html>'
    [ -z "$(find drawn -name '*.svg' -o -name '.*.part')" ]
}

fact_a_folder_that_stays_taken_is_left_alone() {
    fails_after 59 taken
    grep 'another run has been writing to taken for 60 s; end it' taken.err
    [ -z "$(ls taken)" ]
}

mkdir bin taken
printf '#!/bin/sh\nexec sleep 100\n' >bin/gnuplot
chmod +x bin/gnuplot
flock --no-fork taken sleep 100 &
holder=$!
until ! flock -n taken true; do
    sleep 0.1
done
(PATH=$PWD/bin:$PATH lives drawn) &
lives taken &
run_facts
status=$?
kill $holder
wait
exit $status
