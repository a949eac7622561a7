# SPDX-License-Identifier: GPL-3.0-or-later
# What the EC is made of: plain layers are nutrients of use, hatched ones ballast. The key
# runs from the top layer down.
eval canvas(520)
set title name noenhanced
set ylabel 'EC, '.ec_unit noenhanced
set yrange [0:ec_top]
eval note('ec')
set key outside right center vertical reverse Left width -2
set style fill solid 1 noborder
plot $makeup index 7 using 1:2 with filledcurves closed fs pattern 1 lc rgb grey \
        title 'carbonate and other surplus', \
    $makeup index 6 using 1:2 with filledcurves closed fs pattern 6 lc rgb purple \
        title 'surplus sulfate', \
    $makeup index 5 using 1:2 with filledcurves closed fs pattern 5 lc rgb green \
        title 'surplus calcium, magnesium', \
    $makeup index 4 using 1:2 with filledcurves closed fs pattern 4 lc rgb vermilion \
        title 'sodium and chloride', \
    $makeup index 3 using 1:2 with filledcurves closed lc rgb sky \
        title 'useful phosphate, sulfate', \
    $makeup index 2 using 1:2 with filledcurves closed lc rgb green \
        title 'useful calcium, magnesium', \
    $makeup index 1 using 1:2 with filledcurves closed lc rgb yellow \
        title 'useful potassium', \
    $makeup index 0 using 1:2 with filledcurves closed lc rgb blue \
        title 'useful nitrogen'
eval panel('stack', ec_unit)
