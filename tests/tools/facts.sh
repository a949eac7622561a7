# shellcheck shell=sh
# SPDX-License-Identifier: GPL-3.0-or-later
# For shell tests, sourced: every function of the test named fact_... is run in a
# subshell of its own and holds when each of its commands succeeds. Ends with the line
# the test runner counts by. $scratch is an empty folder for the whole test.
scratch=$(mktemp -d)
facts=$(sed -n 's/^\(fact_[a-z0-9_]*\)() {$/\1/p' "$0")
trap 'rm -rf "$scratch"' EXIT

run_facts() {
    passed=0
    failed=0
    for fact in $facts; do
        set +e
        (set -ex; "$fact") >"$scratch.log" 2>&1
        status=$?
        if [ $status -eq 0 ]; then
            passed=$((passed + 1))
        else
            failed=$((failed + 1))
            echo "[  FAILED  ] $fact (status $status), its last lines:"
            tail -20 "$scratch.log"
        fi
        rm -f "$scratch.log"
    done
    echo "$passed passed, $failed failed"
    [ $failed -eq 0 ] && [ $passed -gt 0 ]
}

# Holds when the command fails, as set -e does not look behind a `!`.
refute() {
    if "$@"; then
        return 1
    fi
}
