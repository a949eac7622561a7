# SPDX-License-Identifier: GPL-3.0-or-later
# What all plots share. The program writes the data first, as variables and blocks:
#   days ec_unit volume_unit plant ec_band ec_limit     $band: day, low, high
#   ec_top ec_note ec_peak: the end of the EC axis, words where a peak is cut off, its day
# of one strategy also
#   name full level_tics ph_band visits renewals adjusts     $ph_band: day, low, high
#   food_top ... rest_top ...: as ec_top, for the two panels of ions
#   $visits: day, EC after, volume after      $renewals: day     $adjusts: day, pH after
# and the blocks its line in plot.c asks for:
#   $samples: day, volume, volume at the root tips, EC, pH, dry mass, the ions (mmol/L)
#       no3 nh4 p k ca mg so4 na cl are their columns
#   $daily: day, litres (or gallons) drunk    $reference: day, dry mass unstressed
#       reference: whether there is any
#   $makeup: one index a layer, closed outlines (day, EC)
# of all strategies
#   count names[] grows, $ec: one index a strategy (day, EC)
#   $result: number, growth %, dumped, salt g, poured
#
# Names come from strangers: use them as strings only, never in eval, format or a
# double-quoted string, and keep noenhanced.

set encoding utf8
set minussign
set samples 2

# The colour-blind-safe set of Okabe & Ito (2008), "Color universal design"; its yellow is
# left out for lines, being too faint on white.
black = '#000000'
orange = '#e69f00'
sky = '#56b4e9'
green = '#009e73'
yellow = '#f0e442'
blue = '#0072b2'
vermilion = '#d55e00'
purple = '#cc79a7'
pale = '#e4e4e4'
grey = '#707070'

# Curves differ in dashes as well as in colour, so that they can be told apart in grey;
# stroke_colour(i) and stroke_dash(i) are unlike each other for i up to 64.
set dashtype 1 solid
set dashtype 2 (14,5)
set dashtype 3 (4,4)
set dashtype 4 (14,4,3,4)
set dashtype 5 (7,3)
set dashtype 6 (14,3,3,3,3,3)
set dashtype 7 (2,3)
set dashtype 8 (22,4)
strokes = blue.' '.vermilion.' '.black.' '.green.' '.purple.' '.orange.' '.sky.' '.grey
stroke_colour(i) = word(strokes, (i - 1) % 8 + 1)
stroke_dash(i) = (i - 1 + (i - 1) / 8) % 8 + 1
do for [i=1:8] {
    set style line i lc rgb stroke_colour(i) lw 2.2 dt stroke_dash(i)
}

set border 3 lc rgb grey lw 1
set tics nomirror out textcolor rgb black scale 0.6
set xtics offset 0,0.4
set grid y lc rgb '#d0d0d0' lw 0.6 dt solid
set key outside bottom center horizontal Left reverse samplen 4 spacing 1.2 noenhanced
set xlabel 'Day since first fill' offset 0,1 noenhanced
set xrange [0:days]
set format x '%g'

# `eval note('ec')` puts the words about a cut peak beside it.
note(name) = sprintf("set label 99 %s_note at first %s_peak, graph 0.955 font ',12' \
textcolor rgb '#404040' noenhanced %s", name, name, \
value(name.'_peak') < 0.55 * days ? 'left offset 1,0' : 'right offset -1,0')

# A canvas 900 wide; `eval canvas(440)`.
canvas(height) = sprintf("set term svg mouse noenhanced size 900,%d \
font 'sans-serif,14' background '#ffffff' linewidth 1; height = %d", height, height)

# `eval panel('line', 'mS/cm')` after a plot tells the page where the axes lie, so that
# values can be read: kind (line: values of curves; stack: heights of layers), the panel's
# edges in the picture, the axes' ranges, the unit.
panel(kind, unit) = sprintf("print sprintf('panel %s %%g %%g %%g %%g %%.9g %%.9g %%.9g %%.9g %%s', \
GPVAL_TERM_XMIN, GPVAL_TERM_XMAX, height - GPVAL_TERM_YMIN, height - GPVAL_TERM_YMAX, \
GPVAL_X_MIN, GPVAL_X_MAX, GPVAL_Y_MIN, GPVAL_Y_MAX, '%s')", kind, unit)
