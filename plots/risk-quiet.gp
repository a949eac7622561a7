# SPDX-License-Identifier: GPL-3.0-or-later
# Share of lives in which no limit has been passed so far, a curve a strategy. Written:
#   days count names[]   $quiet: one index a strategy: day, percent
eval canvas(440 + 14 * count)
set title 'Lives without need of action so far: no limit passed, nothing run out' noenhanced
set ylabel '% of lives' noenhanced
set yrange [0:103]
plot for [i=1:count] $quiet index i-1 using 1:2 with steps ls ((i - 1) % 8 + 1) \
    title names[i] noenhanced
