# SPDX-License-Identifier: GPL-3.0-or-later
# Dry mass against the unstressed plant, and what the plant drinks each day.
eval canvas(reference ? 640 : 400)
set multiplot
set lmargin at screen 0.095
set rmargin at screen 0.975
set yrange [0:*]
set tmargin at screen 0.9
set bmargin at screen 0.2
set title name offset 0,-0.4 noenhanced
if (reference) {
    set tmargin at screen 0.93
    set bmargin at screen 0.48
    unset xlabel
    set format x ''
    set ylabel 'Dry mass on the plant, g' offset 1,0 noenhanced
    set key at screen 0.53,0.455 center top
    plot $samples using 1:6 with lines ls 1 title 'this strategy', \
        $reference using 1:2 with lines ls 3 title 'unstressed plant'
    eval panel('line', 'g')
    unset title
    set tmargin at screen 0.375
    set bmargin at screen 0.135
    set xlabel 'Day since first fill' offset 0,0.5 noenhanced
    set format x '%g'
}
set ylabel 'Drunk a day, '.volume_unit offset 1,0 noenhanced
set key at screen 0.53,(reference ? 0.045 : 0.07) center top
plot $daily using 1:2 with fillsteps fs solid noborder lc rgb '#b5d8ec' notitle, \
    $daily using 1:2 with steps ls 1 lw 1.2 title 'drunk that day'
eval panel('line', volume_unit.' a day')
unset multiplot
