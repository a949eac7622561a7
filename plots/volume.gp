# SPDX-License-Identifier: GPL-3.0-or-later
# Water in the bucket, with the level on the right and the depth the roots have reached.
eval canvas(440)
top = full * 1.07
set title name noenhanced
set ylabel 'Water in the bucket, '.volume_unit noenhanced
set y2label 'Level above the floor, '.level_unit noenhanced
set border 11
set yrange [0:top]
set y2range [0:top]
eval 'set y2tics ('.level_tics.')'
plot $samples using 1:2 with lines ls 1 lw 1.8 title 'water', \
    '+' using ($1 < days ? 0 : days):(full) with lines ls 8 lw 1.4 title 'fill line', \
    for [i=1:plant] $samples using 1:3 with lines ls 2 title 'root tips', \
    for [i=1:(renewals > 0)] $renewals using 1:(0.025 * top) with points pt 13 ps 0.9 \
        lc rgb vermilion title 'renewal'
eval panel('line', volume_unit)
