# SPDX-License-Identifier: GPL-3.0-or-later
# EC of all strategies.
eval canvas(440 + 12 * count)
set title 'EC of all strategies' noenhanced
set ylabel 'EC, '.ec_unit noenhanced
set yrange [0:ec_top]
eval note('ec')
set key maxrows (count + 2) / 2
plot for [i=1:ec_band] $band using 1:2:3 with filledcurves lc rgb pale fs solid noborder \
        title 'wanted band', \
    for [i=1:count] $ec index i-1 using 1:2 with lines lc rgb stroke_colour(i) \
        dt stroke_dash(i) lw 1.8 title names[i] noenhanced
eval panel('line', ec_unit)
