# SPDX-License-Identifier: GPL-3.0-or-later
# What matters, a panel a strategy. Written:
#   count names[] targets[]: for what; bars: most bars in a panel
#   labels[]: of bar k of strategy i at (i - 1) * bars + k
#   $matters: one index a strategy: bar, total index, its error, first-order index
rows = (count + 1) / 2
tall = 70 + 26 * bars
eval canvas(60 + (tall + 46) * rows)
set multiplot layout rows, (count > 1 ? 2 : 1) \
    title 'What matters. Pale: the share of the spread left if only this were unknown; dark: gone if only this were known'
unset key
unset grid
set xlabel 'Share of the spread' noenhanced
unset ytics
set border 2
set lmargin 26
set xrange [0:1.15<*]
set xtics 0,0.25,1
set yrange [bars + 0.6 : 0.4]
do for [i=1:count] {
    set title names[i]."\n".targets[i] noenhanced
    do for [k=1:bars] {
        set label k labels[(i - 1) * bars + k] at graph -0.02, first k right noenhanced
    }
    plot $matters index i-1 using (0.5 * $2):1:(0.5 * $2):(0.3) with boxxyerror \
            lc rgb sky fs solid 0.35 border lc rgb blue, \
        '' index i-1 using (0.5 * $4):1:(0.5 * $4):(0.16) with boxxyerror \
            lc rgb blue fs solid 1 noborder, \
        '' index i-1 using 2:1:3 with xerrorbars lc rgb black lw 1.2 pt 0
}
unset multiplot
