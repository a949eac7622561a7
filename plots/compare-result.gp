# SPDX-License-Identifier: GPL-3.0-or-later
# Growth, solution dumped and salt poured, as bars side by side.
eval canvas(64 + 34 * count)
left = 0.345
wide = 0.17
gap = 0.05
titles = "'% of unstressed growth' 'dumped, ' 'salt poured, g'"
array tops[4]
set xrange [*:*]
do for [i=(grows ? 2 : 3):4] {
    stats $result using (column(i)) nooutput
    tops[i] = STATS_max > 0 ? STATS_max : 1
}
set multiplot
unset key
unset tics
unset grid
unset xlabel
unset ylabel
set border 2 lc rgb grey
set yrange [count + 0.6 : 0.4]
set bmargin at screen 14.0 / height
set tmargin at screen 1 - 44.0 / height
set style fill solid 1 border rgb black
do for [i=1:count] {
    set label i names[i] at screen left - 0.012, graph (count + 0.6 - i) / (count + 0.2) \
        right noenhanced
}
do for [i=(grows ? 1 : 2):3] {
    first = left + (i - 1) * (wide + gap)
    set lmargin at screen first
    set rmargin at screen first + wide
    set xrange [0:tops[i + 1]]
    set title word(titles, i).(i == 2 ? volume_unit : '') noenhanced
    plot $result using (0.5 * column(i + 1)):1:(0.5 * column(i + 1)):(0.3) \
            with boxxyerror lc rgb word(blue.' '.orange.' '.grey, i), \
        $result using (column(i + 1)):1:(sprintf('%.0f', column(i + 1))) \
            with labels left offset 0.6,0
    do for [k=1:count] {
        unset label k
    }
}
unset multiplot
