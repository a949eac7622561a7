# SPDX-License-Identifier: GPL-3.0-or-later
# The ions in two panels: what is eaten, and what mostly gathers.
eval canvas(720)
set multiplot
set lmargin at screen 0.095
set rmargin at screen 0.975
set ylabel 'mmol/L' offset 1,0 noenhanced
set yrange [0:food_top]
eval note('food')
set tmargin at screen 0.945
set bmargin at screen 0.61
unset xlabel
set format x ''
set title name offset 0,-0.4 noenhanced
set key at screen 0.53,0.585 center top
plot $samples using 1:no3 with lines ls 1 title 'nitrate', \
    $samples using 1:k with lines ls 2 title 'potassium', \
    $samples using 1:mg with lines ls 4 title 'magnesium', \
    $samples using 1:p with lines ls 5 title 'phosphate', \
    $samples using 1:nh4 with lines ls 7 title 'ammonium'
eval panel('line', 'mmol/L')
set tmargin at screen 0.515
set bmargin at screen 0.135
set xlabel 'Day since first fill' offset 0,0.5 noenhanced
set format x '%g'
unset title
set yrange [0:rest_top]
eval note('rest')
set key at screen 0.53,0.05 center top
plot $samples using 1:na with lines ls 2 title 'sodium', \
    $samples using 1:cl with lines ls 1 title 'chloride', \
    $samples using 1:so4 with lines ls 3 lw 2.2 title 'sulfate', \
    $samples using 1:ca with lines ls 6 title 'calcium'
eval panel('line', 'mmol/L')
unset multiplot
