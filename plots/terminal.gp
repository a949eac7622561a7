# SPDX-License-Identifier: GPL-3.0-or-later
# EC of all strategies as text: each strategy by its own letter.
set encoding utf8
eval sprintf('set term dumb mono noenhanced size %d,%d', columns, lines)
marks = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'
set title 'EC, '.ec_unit.', by day since first fill' noenhanced
set xrange [0:days]
set yrange [0:ec_top]
set key outside bottom center vertical Left reverse noenhanced
set tics nomirror
set border 3
# Every strategy has its own columns, so that none covers another.
set lmargin 6
set rmargin 3
width = columns - 10
ours(day, i) = floor(day / days * width + 0.5) % count == i - 1
plot for [i=1:ec_limit] $band using 1:3 with lines dt 3 title 'upper limit', \
    for [i=1:count] $ec index i-1 using 1:(ours($1, i) ? $2 : NaN) with points pt marks[i:i] \
        title names[i] noenhanced
