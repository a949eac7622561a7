#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The report page in a browser without a window: every curve can be switched off and on, and
# the pointer reads EC as the CSV has it; on paper the lists of visits are unfolded. Ends with
# counts.
#
#   tests/outside/browser.sh PROGRAM SCENARIO
set -euo pipefail
cd "$(dirname "$0")/../.."

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$1" run "$2" --quiet --out "$work"
{
    sed '/<\/body>/,$d' "$work/report.html"
    printf '<script>\n%s\n</script></body></html>\n' "$(cat tests/outside/browser.js)"
} >"$work/probe.html"
timeout 60 chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run \
    --disable-background-networking --disable-component-update --disable-sync \
    --user-data-dir="$work/browser" --window-size=1000,900 --dump-dom \
    "file://$work/probe.html" 2>/dev/null | sed -n '/<pre>\[\[\[/,/\]\]\]/p' >"$work/seen"

passed=0
failed=0
expect() {
    local word=ok
    if [ "$2" = "$3" ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        word=FAIL
    fi
    printf '  %-4s %s: %s\n' "$word" "$1" "$2"
}

# near DAY EC CSV: what is read is what the CSV has at most half a shown digit away.
near() {
    awk -F, -v day="$1" -v ec="$2" '
        function take(value) {
            low = low == "" || value < low ? value : low
            high = high == "" || value > high ? value : high
        }
        function at(when) {
            if (last != "" && last <= when && when <= $1 && $1 > last)
                take(before + ($4 - before) * (when - last) / ($1 - last))
        }
        NR > 1 {
            at(day - 0.05)
            at(day + 0.05)
            if ($1 >= day - 0.05 && $1 <= day + 0.05) take($4)
            last = $1
            before = $4
        }
        END { print (ec >= low - 0.001 && ec <= high + 0.001 ? "as the CSV" : low " to " high) }
    ' "$3"
}

# The first plot has EC of every strategy by name; each strategy has six plots, the second
# of which has its EC again.
sed -n 's/^read 0 \(.*\)  \([0-9.]*\)$/\2 \1/p' "$work/seen" >"$work/strategies"
strategies=$(find "$work" -name '*.csv' ! -name '*-visits.csv' | wc -l)
expect "strategies read in one plot" "$(wc -l <"$work/strategies")" "$strategies"
expect "curves switched off and on" "$(grep -c '^key .* hidden visible$' "$work/seen")" \
    $((1 + 6 * strategies))
folded=$(grep -c "<details>" "$work/report.html")
expect "lists of visits folded, all unfolded on paper, and folded again" \
    "$(grep '^folded ' "$work/seen")" "folded $folded 0 $folded"
compared=$(sed -n 's/^read 0 day \([0-9.]*\) .*/\1/p' "$work/seen")
plot=3
while read -r ec name; do
    csv=$work/$(echo "$name" | tr '[:upper:]' '[:lower:]' | sed 's/[^a-z0-9][^a-z0-9]*/-/g').csv
    expect "$name beside the others, day $compared, $ec mS/cm" \
        "$(near "$compared" "$ec" "$csv")" "as the CSV"
    day=$(sed -n "s/^read $plot day \([0-9.]*\) .*/\1/p" "$work/seen")
    ec=$(sed -n "s/^read $plot EC  \([0-9.]*\)$/\1/p" "$work/seen")
    expect "$name alone, day $day, $ec mS/cm" "$(near "$day" "$ec" "$csv")" "as the CSV"
    plot=$((plot + 6))
done <"$work/strategies"
printf '%d passed, %d failed\n' "$passed" "$failed"
((failed == 0 && passed > 0))
