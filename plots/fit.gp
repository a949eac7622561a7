# SPDX-License-Identifier: GPL-3.0-or-later
# Readings of one kind over the fitted curve and the forecast; below, how far each reading
# lies from the curve. Written:
#   days last: the end of the axis, the day of the last entry
#   what unit low high: of the upper axis   level_tics: '' or heights on the right, in level_unit
#   far: the end of the lower axis   odds: readings that were not to be expected
#   $curve: day, fitted   $band: day, low, median, high
#   $read, $odd: day, reading, standard deviations off the curve; where one lies beyond
#   an axis it is drawn at its end, with its number
eval canvas(660)
within(x, a, b) = x < a ? a : x > b ? b : x
beyond(x, a, b) = x < a || x > b ? sprintf('%.3g', x) : ''
edge = 0.03*(high - low)
set multiplot
set lmargin at screen 0.095
set rmargin at screen (level_tics eq '' ? 0.975 : 0.915)
set ylabel what.(unit eq '' ? '' : ', '.unit) offset 1,0 noenhanced
set xrange [0:days]
set yrange [low:high]
set tmargin at screen 0.965
set bmargin at screen 0.46
unset xlabel
set format x ''
set key at screen 0.53,0.43 center top
set arrow 1 from first last, graph 0 to first last, graph 1 nohead lc rgb grey lw 1 dt 3
set label 1 'last entry' at first last, graph 0.97 font ',12' textcolor rgb '#404040' \
    right offset -0.6,0 noenhanced
if (level_tics ne '') {
    set border 11
    set y2label 'Level above the floor, '.level_unit noenhanced
    set y2range [low:high]
    eval 'set y2tics ('.level_tics.')'
}
plot $band using 1:2:4 with filledcurves lc rgb pale fs solid noborder \
        title 'forecast, 9 in 10', \
    $band using 1:2 with lines lc rgb grey lw 1 notitle, \
    $band using 1:4 with lines lc rgb grey lw 1 notitle, \
    $band using 1:3 with lines ls 2 lw 1.8 title 'forecast, middle', \
    $curve using 1:2 with lines ls 1 lw 1.8 title 'fitted', \
    $read using 1:(within($2, low + edge, high - edge)) with points pt 7 ps 0.6 \
        lc rgb black title 'read', \
    for [i=1:(odds > 0)] $odd using 1:(within($2, low + edge, high - edge)) \
        with points pt 6 ps 1.4 lw 2 lc rgb vermilion title 'not expected', \
    for [i=1:(odds > 0)] $odd using 1:(within($2, low + edge, high - edge)):(beyond($2, low, high)) \
        with labels left offset 1,0 font ',12' notitle
eval panel('line', unit)
unset label 1
unset y2tics
unset y2label
set border 3
set tmargin at screen 0.345
set bmargin at screen 0.13
set xlabel 'Day since first fill' offset 0,0.5 noenhanced
set format x '%g'
set ylabel "Read less\nfitted, sd" offset -0.4,0 noenhanced
eval far > 12 ? 'set ytics autofreq' : 'set ytics 2'
set yrange [-far:far]
edge = 0.06*far
set key at screen 0.53,0.05 center top
plot '+' using ($1 < days ? 0 : days):(2) with lines lc rgb grey lw 1.2 dt 2 \
        title '2 standard deviations (sd) of a reading: 19 in 20 lie within', \
    '+' using ($1 < days ? 0 : days):(-2) with lines lc rgb grey lw 1.2 dt 2 notitle, \
    '+' using ($1 < days ? 0 : days):(0) with lines lc rgb grey lw 1 notitle, \
    $read using 1:(within($3, edge - far, far - edge)) with impulses lc rgb '#909090' lw 1 \
        notitle, \
    $read using 1:(within($3, edge - far, far - edge)) with points pt 7 ps 0.6 lc rgb black \
        notitle, \
    for [i=1:(odds > 0)] $odd using 1:(within($3, edge - far, far - edge)) \
        with points pt 6 ps 1.4 lw 2 lc rgb vermilion notitle, \
    for [i=1:(odds > 0)] $odd using 1:(within($3, edge - far, far - edge)):(beyond($3, -far, far)) \
        with labels left offset 1,0 font ',12' notitle
unset multiplot
