# SPDX-License-Identifier: GPL-3.0-or-later
# EC of one strategy, the wanted band, and the visits along the foot.
eval canvas(440)
set title name noenhanced
set ylabel 'EC, '.ec_unit noenhanced
set yrange [0:ec_top]
eval note('ec')
set y2range [0:1]
plot for [i=1:ec_band] $band using 1:2:3 with filledcurves lc rgb pale fs solid noborder \
        title 'wanted band', \
    for [i=1:ec_band] $band using 1:2 with lines lc rgb grey lw 1 dt (6,4) notitle, \
    for [i=1:ec_band] $band using 1:3 with lines lc rgb grey lw 1 dt (6,4) notitle, \
    $samples using 1:4 with lines ls 1 lw 1.8 title 'EC', \
    for [i=1:(visits > 0)] $visits using 1:(0.025) axes x1y2 with points pt 9 ps 0.45 \
        lc rgb black title 'visit', \
    for [i=1:(renewals > 0)] $renewals using 1:(0.07) axes x1y2 with points pt 13 ps 0.9 \
        lc rgb vermilion title 'renewal'
eval panel('line', ec_unit)
