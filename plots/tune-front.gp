# SPDX-License-Identifier: GPL-3.0-or-later
# What a search of settings found: salt against solution dumped, visits against litres
# poured. Written:
#   title volume_unit   $tried, $front, $now, $best: salt, dumped, visits, poured
eval canvas(420)
set multiplot layout 1,2 title title noenhanced
set key outside bottom center horizontal samplen 1
unset xlabel
set xrange [0:*]
set yrange [0:*]
set offsets 0, graph 0.05, graph 0.05, 0
do for [panel=0:1] {
    x = panel == 0 ? 1 : 3
    y = panel == 0 ? 2 : 4
    set xlabel (panel == 0 ? 'salt poured, g' : 'visits') noenhanced
    set ylabel (panel == 0 ? 'dumped, ' : 'poured, ').volume_unit noenhanced
    plot $tried using x:y with points pt 7 ps 0.35 lc rgb grey title 'tried', \
        $front using x:y with points pt 6 ps 0.9 lw 1.6 lc rgb blue title 'front', \
        $now using x:y with points pt 5 ps 1.1 lc rgb orange title 'now', \
        $best using x:y with points pt 13 ps 1.4 lc rgb vermilion title best_word
}
unset multiplot
