#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Takes the README's pictures anew: a real report of scenarios/renew-or-not.cfg in a
# browser without a window, cropped by hiding the rest of the page. Needs chromium.
#
#   docs/pictures/take.sh [FOLDER]      into FOLDER (default: docs/pictures)
set -eu
cd "$(dirname "$0")/../.."
pictures=${1:-docs/pictures}
out=$PWD/build/pictures
build/pailcast run scenarios/renew-or-not.cfg --quiet --out "$out"

# take NAME WIDTH HEIGHT CSS
take() {
    css=$(printf '%s' "$4" | tr '\n' ' ')
    sed "s|</style>|$css</style>|" "$out/report.html" >"$out/$1-cropped.html"
    chromium --headless --no-sandbox --disable-gpu --hide-scrollbars \
        --window-size="$2,$3" --screenshot="$pictures/$1.png" \
        "file://$out/$1-cropped.html" >"$out/$1.log" 2>&1
    [ -s "$pictures/$1.png" ] || { cat "$out/$1.log"; exit 1; }
}

page='body { max-width: none; margin: 0; padding: 6px 16px; } .hint { display: none !important; }'

take report 1000 645 "$page"

# One strategy: its EC above what the EC is made of, and the ions beside them.
take flat-ec 1120 680 "$page body > *, figcaption { display: none; }
#strategy-5 { display: grid; grid-template-columns: 1fr 1fr; gap: 2px 14px; }
#strategy-5 > h2, #strategy-5 > p { grid-column: 1 / 3; margin: 1px 0; border: 0; }
#strategy-5 > p.note, #strategy-5 > details, #strategy-5 > figure { display: none; }
#strategy-5 > figure { margin: 0; }
#strategy-5 > figure:nth-of-type(2) { display: block; grid-area: 4 / 1; }
#strategy-5 > figure:nth-of-type(4) { display: block; grid-area: 5 / 1; }
#strategy-5 > figure:nth-of-type(3) { display: block; grid-area: 4 / 2 / 6 / 3; }"
