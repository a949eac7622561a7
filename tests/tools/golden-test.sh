#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Which changes of a result the comparison with kept results sees.
tools=$(cd "$(dirname "$0")" && pwd)
. "$tools/facts.sh"

# now JSON: compares it with the kept one.
now() {
    printf '%s' '{"name": "half stock", "ec": {"max": 2.385, "low": null},
        "balance": 3.1e-16, "advice": ["day 96: drain 7.1 L"]}' >"$scratch/kept"
    printf '%s' "$1" >"$scratch/new"
    "$tools/golden.sh" "$scratch/kept" "$scratch/new"
}

fact_the_same_result_in_another_layout_is_the_same() {
    now '{"name":"half stock","ec":{"max":2.385,"low":null},"balance":3.1e-16,"advice":["day 96: drain 7.1 L"]}'
}

fact_rounding_is_no_change() {
    now '{"name":"half stock","ec":{"max":2.38501,"low":null},"balance":-7e-17,"advice":["day 97: drain 7.2 L"]}'
}

fact_the_number_of_steps_is_not_compared() {
    printf '{"effort": {"steps": 371, "restarts": 5}}' >"$scratch/kept"
    printf '{"effort": {"steps": 417, "restarts": 5}}' >"$scratch/new"
    "$tools/golden.sh" "$scratch/kept" "$scratch/new"
    printf '{"effort": {"steps": 371, "restarts": 6}}' >"$scratch/new"
    refute "$tools/golden.sh" "$scratch/kept" "$scratch/new"
}

fact_the_other_side_of_midnight_is_no_change_and_a_lost_date_is_one() {
    printf '{"advice": ["Day 96 (Mon 2027-06-07): drain"]}' >"$scratch/kept"
    printf '{"advice": ["Day 97 (Tue 2027-06-08): drain"]}' >"$scratch/new"
    "$tools/golden.sh" "$scratch/kept" "$scratch/new"
    printf '{"advice": ["Day 97: drain"]}' >"$scratch/new"
    refute "$tools/golden.sh" "$scratch/kept" "$scratch/new"
}

fact_a_number_off_by_a_thousandth_is_seen_with_its_name() {
    refute now '{"name":"half stock","ec":{"max":2.3875,"low":null},"balance":3.1e-16,"advice":["day 96: drain 7.1 L"]}'
    now '{"name":"half stock","ec":{"max":2.3875,"low":null},"balance":3.1e-16,"advice":["day 96: drain 7.1 L"]}' |
        grep -F 'near "max": kept 2.385, now 2.3875'
}

fact_a_number_where_there_was_none_is_seen() {
    refute now '{"name":"half stock","ec":{"max":2.385,"low":96.1},"balance":3.1e-16,"advice":["day 96: drain 7.1 L"]}'
}

fact_a_changed_sign_is_seen() {
    refute now '{"name":"half stock","ec":{"max":-2.385,"low":null},"balance":3.1e-16,"advice":["day 96: drain 7.1 L"]}'
}

fact_other_words_are_seen() {
    refute now '{"name":"half stock","ec":{"max":2.385,"low":null},"balance":3.1e-16,"advice":["day 96: add 7.1 L"]}'
    refute now '{"name":"full stock","ec":{"max":2.385,"low":null},"balance":3.1e-16,"advice":["day 96: drain 7.1 L"]}'
}

fact_a_missing_or_added_part_is_seen() {
    refute now '{"name":"half stock","ec":{"max":2.385,"low":null},"balance":3.1e-16,"advice":[]}'
    refute now '{"name":"half stock","ec":{"max":2.385,"low":null},"balance":3.1e-16,"advice":["day 96: drain 7.1 L"],"k":1}'
    refute now ''
}

run_facts
