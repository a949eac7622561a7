#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The test runner believes what tests counted, and nothing else.
. "$(dirname "$0")/facts.sh"
runner=$(dirname "$0")/run-tests.sh
out=$scratch/out
unset GOLDEN LIMIT_S JOBS UNDER

# test_that NAME BODY: a test that is a shell script.
test_that() {
    printf '#!/bin/sh\n%s\n' "$2" >"$scratch/$1"
    chmod +x "$scratch/$1"
}

run() {
    "$runner" "$scratch" "$@" >"$out" 2>&1
}

fact_counts_of_all_programs_and_groups_are_summed() {
    test_that cmocka 'echo "[  PASSED  ] 13 test(s)."; echo "[  PASSED  ] 4 test(s)."'
    test_that shell 'echo "29 passed, 0 failed"'
    run "$scratch/cmocka" "$scratch/shell"
    [ "$(tail -1 "$out")" = "46 passed, 0 failed" ]
    [ "$(cat "$scratch/log/total")" = "46 passed, 0 failed" ]
}

fact_failures_are_counted_shown_and_end_in_failure() {
    test_that bad 'echo "[  PASSED  ] 5 test(s)."
        echo "salt = 2.385, expected 2.386"
        echo "[  FAILED  ] 3 test(s), listed below:"; exit 3'
    refute run "$scratch/bad"
    [ "$(tail -1 "$out")" = "5 passed, 3 failed" ]
    grep 'salt = 2.385' "$out"
}

fact_failures_count_even_when_the_program_ends_well() {
    test_that liar 'echo "[  FAILED  ] 256 test(s), listed below:"; exit 0'
    refute run "$scratch/liar"
    [ "$(tail -1 "$out")" = "0 passed, 256 failed" ]
}

fact_tests_can_be_run_under_another_program() {
    test_that under 'echo "2 passed, 0 failed"; exec "$@"'
    test_that inner 'echo "3 passed, 0 failed"'
    UNDER="sh $scratch/under"
    export UNDER
    run "$scratch/inner"
    [ "$(tail -1 "$out")" = "5 passed, 0 failed" ]
}

fact_a_crash_is_one_failure() {
    test_that crash 'echo "[  PASSED  ] 7 test(s)."; kill -SEGV $$'
    refute run "$scratch/crash"
    [ "$(tail -1 "$out")" = "7 passed, 1 failed" ]
}

fact_a_test_past_its_time_is_stopped_and_fails() {
    test_that slow 'echo "[  PASSED  ] 2 test(s)."; exec sleep 20'
    LIMIT_S=0.3
    export LIMIT_S
    refute run "$scratch/slow"
    [ "$(tail -1 "$out")" = "2 passed, 1 failed" ]
    grep 'stopped after 0.3 s' "$out"
}

fact_a_program_that_ran_no_test_fails() {
    test_that empty 'exit 0'
    refute run "$scratch/empty"
    grep 'ran no test' "$out"
}

fact_no_test_at_all_is_a_failure() {
    refute run
    [ "$(tail -1 "$out")" = "0 passed, 0 failed" ]
}

fact_a_test_that_skips_itself_fails() {
    test_that some 'echo "[  PASSED  ] 3 test(s)."; echo "[  SKIPPED ] 2 test(s), listed:"'
    refute run "$scratch/some"
    [ "$(tail -1 "$out")" = "3 passed, 2 failed" ]
}

fact_a_scenario_passes_only_with_its_report() {
    test_that pailcast 'shift 4; mkdir -p "$1"; echo a >"$1/summary.json"'
    echo >"$scratch/pot.cfg"
    refute run "$scratch/pot.cfg"
    grep 'report.html was not written' "$out"
    test_that pailcast 'shift 4; mkdir -p "$1"
        echo a >"$1/summary.json"; echo b >"$1/report.html"'
    run "$scratch/pot.cfg"
    [ "$(tail -1 "$out")" = "1 passed, 0 failed" ]
}

fact_a_scenario_that_ends_otherwise_than_kept_fails() {
    test_that pailcast 'shift 4; mkdir -p "$1"
        echo "{\"ec\": 2.385}" >"$1/summary.json"; echo b >"$1/report.html"'
    echo >"$scratch/pot.cfg"
    echo '{"ec": 2.385}' >"$scratch/pot.json"
    GOLDEN=$scratch
    export GOLDEN
    run "$scratch/pot.cfg"
    echo '{"ec": 2.395}' >"$scratch/pot.json"
    refute run "$scratch/pot.cfg"
    grep 'near "ec": kept 2.395, now 2.385' "$out"
    rm "$scratch/pot.json"
    refute run "$scratch/pot.cfg"
}

run_facts
