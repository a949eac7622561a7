# SPDX-License-Identifier: GPL-3.0-or-later
# EC of many lives, a panel a strategy: the band of 8 lives in 10 and the median. Written:
#   days ec_unit top count names[]   ec_high ec_low: the limits, NaN for none
#   $fans: one index a strategy: day, p10, p50, p90
rows = (count + 1) / 2
eval canvas(60 + 240 * rows)
set multiplot layout rows, (count > 1 ? 2 : 1) \
    title 'EC of many lives: the line is their median, the band holds 8 of 10, dots mark limits'
unset key
set yrange [0:top]
set ylabel 'EC, '.ec_unit noenhanced
do for [i=1:count] {
    set title names[i] noenhanced
    plot $fans index i-1 using 1:2:4 with filledcurves lc rgb sky fs solid 0.5 noborder, \
        '' index i-1 using 1:3 with lines lc rgb blue lw 2.2, \
        ec_high with lines lc rgb vermilion lw 1.2 dt 3, \
        ec_low with lines lc rgb vermilion lw 1.2 dt 3
}
unset multiplot
