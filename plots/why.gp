# SPDX-License-Identifier: GPL-3.0-or-later
# Why EC changed: a waterfall from one reading to the next. The program writes
#   ec_unit name (of the strategy) low high (ends of the axis) bars (how many)
#   names[] labels[] starts[] ends[] kinds[], one each a bar:
#   kind 0 a reading, 1 what raised EC, 2 what lowered it
eval canvas(440)
set title name noenhanced
set ylabel 'EC, '.ec_unit noenhanced
unset key
unset xlabel
unset xtics
set border 2
set bmargin 2.6
set xrange [0.4 : bars + 0.6]
set yrange [low : high]
half = 0.36
middle(i) = 0.5 * (starts[i] + ends[i])
tall(i) = 0.5 * abs(ends[i] - starts[i])
here(i, kind) = kinds[int(i)] == kind ? i : NaN
do for [i=1:bars] {
    set label i names[i] at first i, graph 0 center offset 0,-1 noenhanced
    set label 100 + i labels[i] at first i, \
        first (starts[i] > ends[i] ? starts[i] : ends[i]) center offset 0,0.6 noenhanced
}
# What raises EC is solid, what lowers it is hatched: told apart without colour too.
plot ends using ($1 < bars ? $1 + half : NaN):(ends[int($1)]):(1 - 2 * half):(0) \
        with vectors nohead lc rgb grey lw 1.2 dt (4,4), \
    ends using (here($1, 0)):(middle(int($1))):(half):(tall(int($1))) \
        with boxxyerror lc rgb grey fs solid 0.6 border lc rgb black, \
    ends using (here($1, 1)):(middle(int($1))):(half):(tall(int($1))) \
        with boxxyerror lc rgb vermilion fs solid 1 border lc rgb black, \
    ends using (here($1, 2)):(middle(int($1))):(half):(tall(int($1))) \
        with boxxyerror lc rgb blue fs pattern 5 border lc rgb black
