# SPDX-License-Identifier: GPL-3.0-or-later
# pH of one strategy.
eval canvas(400)
set title name noenhanced
set ylabel 'pH' noenhanced
stats $samples using 5 nooutput
set yrange [(STATS_min < 5 ? floor(STATS_min) : 5):(STATS_max > 8 ? ceil(STATS_max) : 8)]
set y2range [0:1]
plot for [i=1:ph_band] $ph_band using 1:2:3 with filledcurves lc rgb pale fs solid noborder \
        title 'wanted band', \
    $samples using 1:5 with lines ls 1 lw 1.8 title 'pH', \
    for [i=1:(adjusts > 0)] $adjusts using 1:2 with points pt 9 ps 0.7 lc rgb black \
        title 'dosed', \
    for [i=1:(renewals > 0)] $renewals using 1:(0.03) axes x1y2 with points pt 13 ps 0.9 \
        lc rgb vermilion title 'renewal'
eval panel('line', 'pH')
