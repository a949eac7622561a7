#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What goes wrong around the program: disks, folders, limits, gnuplot, a second run. Each
# ends in one clear message and a documented exit status, and leaves whole files only.
tree=$(cd "$(dirname "$0")/../.." && pwd)
. "$tree/tests/tools/facts.sh"
program=$tree/build/pailcast
cd "$scratch" || exit
cat >trial.cfg <<'END'
title = "A trial"; duration = "20 d";
bucket = { full = "12 L"; evaporation = "0.05 L/d"; };
crop = { kind = "table"; name = "t"; stages = ( { name = "s"; drinks = "0.7 L/d";
  eats = { k = "2.3 mmol/L"; no3 = "2.3 mmol/L"; }; } ); };
water = { na = "0.9 mmol/L"; cl = "0.9 mmol/L"; };
stock = { k = "6.1 mmol/L"; no3 = "6.1 mmol/L"; };
strategies = ( { name = "Only"; fill = "mix"; stock_share = 0.67; visit_every = "4 d"; } );
limits = { ec_high = "2 mS/cm"; };
END

# ends STATUS COMMAND...: it ends so, and says why on standard error, which is kept in err.
ends() {
    wanted=$1
    shift
    status=0
    "$@" 2>err || status=$?
    cat err >&2
    [ $status -eq "$wanted" ]
    [ "$wanted" -eq 0 ] || [ -s err ]
}

# Two runs that differ, to know whose file one is.
references() {
    [ ! -e twenty ] || return 0
    "$program" run trial.cfg --quiet --out twenty
    "$program" run trial.cfg --quiet --out thirty --days 30
    refute diff -r twenty thirty >/dev/null
}

# every_file_is_of FOLDER REFERENCE...: all there is in it is a whole file of one of them.
every_file_is_of() {
    folder=$1
    shift
    [ -z "$(find "$folder" -name '.*.part')" ]
    for file in "$folder"/*; do
        for reference in "$@"; do
            cmp -s "$file" "$reference/${file##*/}" && continue 2
        done
        echo "$file is of none of $*"
        return 1
    done
}

# give_gnuplot BODY: a stand-in, in the folder bin.
give_gnuplot() {
    mkdir -p bin
    printf '#!/bin/sh\n%s\n' "$1" >bin/gnuplot
    chmod +x bin/gnuplot
}

fact_a_gnuplot_that_writes_garbage_leaves_the_numbers_and_no_picture() {
    for body in 'cat >/dev/null; head -c 300000 /dev/urandom' \
        'cat >/dev/null; echo "<svg><g>"; head -c 999 /dev/zero; echo "</svg"' \
        'cat >/dev/null' 'cat'; do
        rm -rf o
        give_gnuplot "$body"
        ends 1 env "PATH=$PWD/bin:$PATH" "$program" run trial.cfg --quiet --out o
        grep 'unfinished' err
        ls o | LC_ALL=C sort | tr '\n' ' ' |
            grep -x 'only-visits.csv only.csv report.html summary.json '
        tail -n 1 o/report.html | grep -x '</html>'
    done
}

fact_a_gnuplot_that_writes_without_end_is_ended() {
    for body in 'exec yes' 'exec yes >&2'; do
        give_gnuplot "$body"
        ends 1 env "PATH=$PWD/bin:$PATH" "$program" run trial.cfg --quiet --out o
        grep 'gnuplot wrote without end' err
    done
}

fact_a_gnuplot_that_cannot_start_is_told_from_one_that_is_missing() {
    give_gnuplot 'exit 127'
    ends 1 env "PATH=$PWD/bin:$PATH" "$program" run trial.cfg --quiet --out o
    grep 'gnuplot could not start' err
    rm bin/gnuplot
    ends 1 env "PATH=$PWD/bin" "$program" run trial.cfg --quiet --out o
    grep 'gnuplot was not found' err
}

fact_scripts_of_plots_that_are_not_found_are_told_from_a_gnuplot_that_died() {
    for command in run why; do
        ends 1 env PAILCAST_DATA=/nonexistent "$program" $command trial.cfg --quiet --out o
        grep 'plots are not found; set PAILCAST_DATA' err
        refute grep died err
    done
}

fact_a_full_disk_behind_standard_output_is_told_by_every_command() {
    while read -r words; do
        # shellcheck disable=SC2086 # several words
        ends 1 "$program" $words --out o >/dev/full
        grep 'standard output could not be written' err
    done <<'END'
--version
--help
run --help
list
list --json
check trial.cfg
mix --salt KCl=0.7g/L
pour --volume 12 --full 19 --ec 1.2 --aim 1.9 --water-ec 0.3 --stock-ec 2.4
why trial.cfg
run trial.cfg
run trial.cfg --json
run trial.cfg --quiet --show
risk trial.cfg --lives 8
risk trial.cfg --lives 8 --json
tune trial.cfg --lives 48 --worlds 2
END
}

fact_a_closed_standard_output_is_told() {
    ends 1 "$program" list >&-
}

# Ordinary users meet folders without write permission; root writes there all the same,
# but not below a file or in what the system keeps read-only.
fact_a_folder_that_cannot_be_written_is_named() {
    echo mine >taken
    mkdir -p closed
    chmod 555 closed
    [ "$(id -u)" = 0 ] && set -- taken/o /proc/o || set -- taken/o /proc/o closed/o closed
    for folder in "$@"; do
        ends 1 "$program" run trial.cfg --quiet --out "$folder"
        grep "${folder%/o}" err
        ends 1 "$program" why trial.cfg --quiet --out "$folder"
        ends 1 "$program" risk trial.cfg --lives 8 --quiet --out "$folder"
        ends 1 "$program" tune trial.cfg --lives 48 --worlds 2 --quiet --out "$folder"
    done
    [ "$(cat taken)" = mine ]
}

fact_a_logbook_can_go_through_a_pipe() {
    "$program" run trial.cfg --quiet --out o --logbook kept.csv
    mkfifo pipe
    cat pipe >got &
    "$program" run trial.cfg --quiet --out o --logbook pipe
    wait
    [ -p pipe ]
    cmp got kept.csv
}

# mounted COMMAND...: in a name space of its own, where root, and on many systems everyone,
# may mount; all it mounts is gone with it.
mounted() {
    if [ "$(id -u)" = 0 ]; then
        unshare --mount "$@"
    else
        unshare --user --map-root-user --mount "$@"
    fi
}

# Where nothing may be mounted a limit on the size of files stands for a full disk.
fact_a_disk_that_fills_up_leaves_whole_files_only() {
    references
    # The old set takes about 400 KiB; so many KiB are left for the new one.
    cat >fill.sh <<'END'
set -ex
program=$1
mount -t tmpfs -o size=2m tmpfs disk
"$program" run trial.cfg --quiet --out disk/o
! dd if=/dev/zero of=disk/filler bs=1024 count=2048 2>/dev/null || exit 1 # more than there is
truncate -s -"$2"k disk/filler
status=0
"$program" run trial.cfg --quiet --days 30 --out disk/o 2>err || status=$?
cat err
[ $status -eq 1 ]
grep 'No space left on device' err
cp -r disk/o left
rm disk/filler
"$program" run trial.cfg --quiet --days 30 --out disk/o
diff -r disk/o thirty
END
    mkdir -p disk
    for room in 0 8 32 100; do
        rm -rf left
        if mounted mount -t tmpfs tmpfs disk 2>/dev/null; then
            mounted sh fill.sh "$program" $room
        else
            cp -r twenty left
            refute sh -c "ulimit -f $((2 * room + 16)); exec \"\$0\" \"\$@\"" "$program" run trial.cfg --quiet --days 30 --out left
        fi
        every_file_is_of left twenty thirty
    done
}

fact_a_full_folder_for_passing_files_is_told() {
    references
    cat >fill.sh <<'END'
set -ex
mount --bind "$1" /srv
mount --bind . /mnt
mount -t tmpfs -o size=4k tmpfs /tmp
cd /mnt
status=0
/srv/build/pailcast run trial.cfg --quiet --out o 2>err || status=$?
cat err
[ $status -eq 1 ]
END
    rm -rf o
    if mounted mount -t tmpfs tmpfs /mnt 2>/dev/null; then
        mounted sh fill.sh "$tree"
    else
        give_gnuplot 'exec >/dev/full; exec '"$(command -v gnuplot)"' "$@"'
        ends 1 env "PATH=$PWD/bin:$PATH" "$program" run trial.cfg --quiet --out o
    fi
    cmp o/only.csv twenty/only.csv
    cmp o/only-visits.csv twenty/only-visits.csv
    cmp o/summary.json twenty/summary.json
    tail -n 1 o/report.html | grep -x '</html>'
}

# within LIMIT COMMAND...: the program under a limit of the shell's ulimit, -v among them,
# which dash and bash have.
within() {
    # shellcheck disable=SC2086,SC3045 # an option and its value
    ulimit $1
    shift
    exec "$program" "$@"
}

# limited LIMIT COMMAND...: no crash (status 128 and up), and words for what did not work.
limited() {
    status=0
    # no trace: it would count as words, or go through a file that may not grow
    said=$({ set +x; } 2>/dev/null; within "$@" --quiet --out limited 2>&1 >/dev/null) || status=$?
    [ $status -le 2 ]
    [ $status -eq 0 ] || [ -n "$said" ]
}

# each_limited LIMIT: every kind of command.
each_limited() {
    limited "$1" list
    limited "$1" check trial.cfg
    limited "$1" mix --salt KCl=0.7g/L
    limited "$1" run trial.cfg
    limited "$1" why trial.cfg
    limited "$1" risk trial.cfg --lives 8
    limited "$1" tune trial.cfg --lives 48 --worlds 2
}

# loads LIMIT FROM STEP MOST: $least is the least under which the program can be loaded at
# all: its loader answers 127 below.
loads() {
    least=$2
    until (within "$1 $least" --version) >/dev/null 2>&1; do
        least=$((least + $3))
        [ $least -lt "$4" ]
    done
}

fact_few_open_files_end_in_words() {
    loads -n 3 1 100
    for more in 0 1 2 3 4; do
        each_limited "-n $((least + more))"
    done
}

fact_little_memory_ends_in_words() {
    loads -v 6000 200 400000
    for more in 0 400 800 1200 4000 16000 20000; do
        each_limited "-v $((least + more))"
    done
}

# 16384 KiB are asked for at the start; what the libraries take besides differs much.
fact_what_suffices_for_one_command_suffices_for_another() {
    least=6000
    until (within "-v $least" check trial.cfg) >/dev/null 2>&1; do
        least=$((least + 400))
        [ $least -lt 400000 ]
    done
    (within "-v $least" list)
    (within "-v $least" mix --salt KCl=0.7g/L)
}

# Every command, and files included as deep as is allowed.
fact_a_small_stack_ends_in_words_and_one_mebibyte_suffices() {
    for kib in 64 256 1000; do
        each_limited "-s $kib"
        echo "$said" | grep "limited to $kib KiB .* raise it with ulimit -s 1024"
    done
    each_limited '-s 1024'
    [ $status -eq 0 ]
    for depth in 1 2 3 4 5 6 7 8; do
        echo "@include \"deep$((depth + 1)).cfg\"" >deep$depth.cfg
    done
    echo 'limits = { ec_high = "1.9 mS/cm"; };' >deep9.cfg
    { grep -v '^limits' trial.cfg; echo '@include "deep1.cfg"'; } >deep.cfg
    (within '-s 1024' check deep.cfg) | grep 'EC at most 1.90 mS/cm'
}

fact_short_files_end_in_words_and_leave_none_torn() {
    references
    "$program" run trial.cfg --quiet --out o --logbook logbook.csv
    for blocks in 0 1 8; do
        rm -rf limited
        limited "-f $blocks" run trial.cfg
        limited "-f $blocks" why trial.cfg
        limited "-f $blocks" tune trial.cfg --lives 48 --worlds 2
        limited "-f $blocks" fit trial.cfg logbook.csv
        limited "-f $blocks" run trial.cfg --logbook limited/logbook.csv
        [ -z "$(find limited -name '.*.part')" ]
    done
}

fact_of_two_runs_into_one_folder_one_set_is_left() {
    references
    for turn in 1 2 3 4; do
        rm -rf both
        "$program" run trial.cfg --quiet --out both &
        "$program" run trial.cfg --quiet --out both --days 30
        wait $!
        diff -r both twenty >/dev/null || diff -r both thirty
        echo "turn $turn was not mixed"
    done
}

fact_a_study_that_is_being_written_is_not_begun_again() {
    "$program" risk trial.cfg --lives 2000 --matters 0 --quiet --out study &
    writer=$!
    until [ -s study/risk.journal ]; do
        sleep 0.01
    done
    kill -STOP "$writer" # so that it is not done before the others have asked
    for more in --resume --json; do
        ends 2 "$program" risk trial.cfg --lives 2000 --matters 0 --out study $more >/dev/null
        grep -c . err | grep -x 1
        grep 'another study is writing it' err
    done
    kill -CONT "$writer"
    wait "$writer"
    [ ! -e study/risk.journal ]
    "$program" risk trial.cfg --lives 2000 --matters 0 --quiet --out alone
    cmp study/risk.json alone/risk.json
}

run_facts
