#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# fuzz.sh counts what a fuzzer found: here one made up, which leaves a file of findings.
. "$(dirname "$0")/../tools/facts.sh"
fuzz=$(dirname "$0")/fuzz.sh

# fuzzer LEAVES: a target that ran 137 inputs and leaves a finding of that name, if any;
# as shipped it runs the command SHIPPED for an input.
fuzzer() {
    rm -rf "${scratch:?}"/*
    mkdir -p "$scratch/fuzz/tests/fuzz" "$scratch/plain/tests/fuzz"
    cat >"$scratch/fuzz/tests/fuzz/quantity" <<END
#!/bin/sh
for option in "\$@"; do
    case \$option in -artifact_prefix=*) prefix=\${option#*=} ;; esac
done
printf '#137\\tDONE   cov: 53 ft: 61\\n'
echo 'stat::number_of_executed_units: 137'
[ -z "$1" ] || ! echo 5 L >"\${prefix}$1"
END
    printf '#!/bin/sh\n%s\n' "${SHIPPED:-exit}" >"$scratch/plain/tests/fuzz/quantity"
    chmod +x "$scratch"/*/tests/fuzz/quantity
}

run_fuzz() {
    "$fuzz" "$scratch/fuzz" "$scratch/plain" "${1:-1}" quantity >"$scratch/said"
}

fact_a_target_without_findings_passes_and_says_what_it_ran() {
    fuzzer ''
    run_fuzz
    grep -x '  ok    quantity      [01] s       137 runs     53 edges  0 findings' "$scratch/said"
    [ "$(tail -n 1 "$scratch/said")" = '1 passed, 0 failed' ]
}

fact_a_crash_is_a_finding_and_its_file_is_named() {
    fuzzer crash-37
    refute run_fuzz
    grep 'FAIL  quantity .* 1 findings' "$scratch/said"
    grep 'found/quantity/crash-37$' "$scratch/said"
    [ "$(tail -n 1 "$scratch/said")" = '0 passed, 1 failed' ]
}

# The target goes on until its time is up, without the input.
fact_what_is_slow_under_the_sanitizers_only_is_no_finding() {
    fuzzer ''
    mkdir -p "$scratch/fuzz/corpus/quantity"
    echo 5 L >"$scratch/fuzz/corpus/quantity/37"
    cat >>"$scratch/fuzz/tests/fuzz/quantity" <<'END'
for corpus in "$@"; do
    [ ! -e "$corpus/37" ] || { cp "$corpus/37" "${prefix}timeout-37"; exit 70; }
done
sleep 2
END
    run_fuzz 5
    grep '[0-9] s       274 runs .* 0 findings, 1 slow under the sanitizers only' "$scratch/said"
}

fact_what_is_slow_as_shipped_is_a_finding() {
    SHIPPED='while :; do :; done'
    fuzzer timeout-37
    refute run_fuzz
    grep 'found/quantity/timeout-37$' "$scratch/said"
}

fact_a_fuzzer_that_does_not_run_is_a_failure() {
    fuzzer ''
    printf '#!/bin/sh\nexit 1\n' >"$scratch/fuzz/tests/fuzz/quantity"
    refute run_fuzz
    [ "$(tail -n 1 "$scratch/said")" = '0 passed, 1 failed' ]
}

run_facts
