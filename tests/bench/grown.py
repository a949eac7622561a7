# SPDX-License-Identifier: GPL-3.0-or-later
"""The bay laurel of scenarios/evergreen-two-years.cfg with its equations written in Python
from docs/model.md, solved by SciPy's LSODA: one call a stretch between lamp switches, visits
and cuts, since odeint has no events. Prints lines as search.R does. What nothing here feels
is left out: thermal time (the crop stays vegetative), thirst and litres evaporated.
Usage: python3 grown.py GIVEN"""
import sys
from math import exp, pi, sqrt

import numpy as np
from scipy.integrate import odeint

from estimates import acidity_at, conductivity, hydrogen
from search import read_given, search

FULL_L = 25.0
FOOTPRINT = 0.35
TURNOVER = 0.0035
WATER_C = 21.0
OPTIMUM = (1.4, 0.13, 0.75, 0.28, 0.12, 0.09)
# A truncated cone, 40 cm high, 29 cm wide below and 34 above; the net pot 9 cm deep.
WALL = (17 - 14.5) / 40
POT_FLOOR = 40 - 9.0


def smooth(x):
    if x <= 0:
        return 0.0
    return x * x * x * (10 + x * (6 * x - 15)) if x < 1 else 1.0


def plateau(t, base, low, high, ceiling):
    return smooth(min((t - base) / (low - base), (ceiling - t) / (ceiling - high)))


def lesser(a, b, width):
    return 0.5 * (a + b - sqrt((a - b) ** 2 + 4 * width * width))


def ramp(x, width):
    if x <= -width:
        return 0.0
    return x if x >= width else (x + width) ** 2 / (4 * width)


class Lamp:
    """What the lamp sets, and the air with it."""

    def __init__(self, air_c, humidity, light):
        saturation = 0.6108 * exp(17.27 * air_c / (air_c + 237.3))
        vapour = humidity * saturation
        latent = 2.501 - 0.002361 * air_c
        density = 3.486 * 101.325 * (1 - 0.378 * vapour / 101.325) / (air_c + 273.16)
        deficit = saturation - vapour
        opened = min(max((1 + 4 / sqrt(max(deficit, 0.1))) / 5, 0.3), 1.6)
        stomata = 1.1 * 60 * (1500 + light) / (200 + light) if light > 0 else 1500
        self.slope = 17.27 * 237.3 * saturation / (air_c + 237.3) ** 2
        self.psychrometric = 0.00163 * 101.325 / latent
        self.litres = 0.0864 / latent * FOOTPRINT  # in a day for each W/m2
        self.radiation = 0.95 * light / 5
        self.drying = density * 1013 * deficit / 100
        self.stomata = stomata / opened
        self.warmth = plateau(air_c, 8, 20, 28, 40)
        self.makes = (0.0864 * light * FOOTPRINT * 0.55 / (1 + light / 1472) * self.warmth
                      * ROOTS_WELL)
        self.leaf = 0.45 * 0.012 * (300 / light) ** 0.3 if light > 0 else 0


KELVIN = WATER_C + 273.15
KINETICS = 1.6 ** ((WATER_C - 25) / 10)
ACIDITY = acidity_at(WATER_C)


def roots_well():
    oxygen = exp(-139.34411 + 157570.1 / KELVIN - 66423080 / KELVIN**2 + 1.2438e10 / KELVIN**3
                 - 8.621949e11 / KELVIN**4)
    return plateau(WATER_C, 8, 22, 28, 38) * min(oxygen / (0.3 + oxygen) / 0.9, 1)


ROOTS_WELL = roots_well()
LAMP = {False: Lamp(18, 0.55, 0), True: Lamp(23, 0.45, 300)}


def nourished(tissue, dry):
    """The scarcest nutrient sets the pace; the corner between two is rounded."""
    worst = 1.0
    for content, optimum in zip(tissue, OPTIMUM):
        factor = smooth((content / (optimum * dry) - 0.5) / 0.5)
        if factor < 1:
            width = 0.1 * worst * factor * (1 - worst) * (1 - factor)
            worst = lesser(worst, factor, width)
    return worst


def joint(supply, demand):
    """Never above supply or demand."""
    if supply <= 0 or demand <= 0:
        return 0.0
    s, d = supply * supply, demand * demand
    return supply * demand / sqrt(sqrt(s * s + d * d))


def wanted(target, made, dry, content):
    return ramp(target * made + (target * dry - content) / 5, 1e-3 * target * dry)


def eaten(c, h, root, dry, tissue, made, drunk):
    """root: grams in reach of water, scaled by their warmth."""
    no3, nh4, p, k = c[:4]
    n = wanted(1.4 * (1 + 0.3 * no3 / (no3 + 15)), made, dry, tissue[0])
    as_nh4 = (0.12 + 0.88 * 0.04 / (0.04 + no3)) * n * nh4 / (0.04 + nh4)
    eats_nh4 = joint(4 * root * nh4 / (0.04 + nh4), as_nh4)
    eats_no3 = joint(8 * root * no3 / (0.03 + no3), n - eats_nh4)
    eats_p = joint(0.8 * root * p / (0.01 + p),
                   wanted(0.13 * (1 + p / (p + 1.5)), made, dry, tissue[1]))
    eats_k = joint(4 * root * k / (0.02 + k),
                   wanted(0.75 * (1 + 0.5 * k / (k + 8)), made, dry, tissue[2]))
    eats_ca = carried(c[4], 0.35, 2, 0.28, root, dry, tissue[3], made, drunk)
    eats_mg = carried(c[5], 0.3, 1, 0.12, root, dry, tissue[4], made, drunk)
    eats_so4 = carried(c[6], 0.25, 0.6, 0.09, root, dry, tissue[5], made, drunk)
    eats_na = 0.05 * c[7] * drunk * smooth(2 * (1 - tissue[6] / (0.2 * dry)))
    eats_cl = 0.13 * c[8] * drunk * smooth(2 * (1 - tissue[7] / (0.4 * dry)))
    cation = 1 / (1 + (h / 1e-4) ** 1.5)
    anion = 1 / (1 + (10**-8.8 / h) ** 0.75)
    return (eats_no3 * anion, eats_nh4 * cation, eats_p * anion, eats_k * cation,
            eats_ca * cation, eats_mg * cation, eats_so4 * anion, eats_na * cation,
            eats_cl * anion)


def carried(c, selectivity, capacity, optimum, root, dry, content, made, drunk):
    """With the water, and actively what that leaves short."""
    passive = selectivity * c * drunk * smooth(1.5 * (1 - content / (3 * optimum * dry)))
    demand = wanted(optimum, made, dry, content)
    lacking = ramp(demand - passive, 0.02 * (demand + passive)) if demand + passive > 0 else 0
    return passive + joint(capacity * root * c / (0.02 + c), lacking)


def rates(day, y, lamp):
    """Litres, nine ions, alkalinity; dry mass, root mass, leaf area, root depth, eight tissue
    contents; litres drunk, nine amounts eaten, dry mass made."""
    y = y.tolist()
    volume, alkalinity, dry, root, leaf, depth = y[0], *y[10:15]
    per_volume = 1e-3 / max(volume, 1e-4 * FULL_L)
    m = [n * per_volume if n > 0 else 0.0 for n in y[1:10]]
    c = [1e3 * x for x in m]
    alkalinity *= per_volume
    salt = max(1 - 0.07 * ramp(conductivity(*m, alkalinity) - 2.2, 0.1), 0)
    tissue = y[15:23]
    leaves = max(leaf, 0) / FOOTPRINT
    caught = 1 - exp(-0.6 * leaves)
    level = ((14.5**3 + 3000 * WALL * max(volume, 0) / pi) ** (1 / 3) - 14.5) / WALL
    wet = smooth((level - max(POT_FLOOR - depth, 0)) / 3)

    layers = lesser(leaves, 3, 0.005 * leaves)
    stomata = lamp.stomata / (1 - 0.5 * (1 - salt))
    drunk = (wet * lamp.litres * (lamp.slope * lamp.radiation * caught + lamp.drying * layers)
             / (lamp.slope + lamp.psychrometric * (1 + stomata / 100)))
    made = lamp.makes * caught * salt**0.6 * nourished(tissue, dry) * wet
    eats = eaten(c, hydrogen(ACIDITY, alkalinity, m[2]), max(root, 0) * KINETICS * wet, dry, tissue,
                 made, drunk)

    by_mass = lamp.leaf * made
    spread = lesser(by_mass, 0.3 * leaf * lamp.warmth, 0.05 * by_mass) if by_mass > 0 else 0
    filled = leaves / 4
    no3, nh4, p, k, ca, mg, so4, na, cl = eats
    gains = (nh4 + no3, p, k, ca, mg, so4, na, cl)
    return [
        -drunk - 0.03 * smooth(volume / (0.02 * FULL_L)),
        -no3, -nh4, -p, -k, -ca, -mg, -so4, -na, -cl,
        no3 - nh4 + p - k - 2 * ca - 2 * mg + 2 * so4 - na + cl,
        made - TURNOVER * dry,
        0.2 * made - TURNOVER * root,
        max(spread, 0) * max(1 - filled**8, 0) - TURNOVER * leaf,
        0.8 * lamp.warmth * smooth((POT_FLOOR - depth) / 2),
        *[gain - TURNOVER * content for gain, content in zip(gains, tissue)],
        drunk, *eats, made,
    ]


BURNS = (7 / 24, 20 / 24)
CUTS = {180.0, 360.0, 540.0, 720.0}


def cut(y):
    """A quarter of what is above the roots goes, with what it holds."""
    kept = 1 - 0.25 * (1 - y[12] / y[11])
    y[13] *= 0.75
    y[11] *= kept
    y[15:23] *= kept


def live(given, rtol, atol):
    days = given["days"][0]
    visits = set(given["visits"])
    switches = {day + hour for day in range(int(days)) for hour in BURNS}
    plant = 6 * np.array([1, 0.2, 0.45 * 0.012, 10 / 6, *OPTIMUM, 0, 0])
    y = np.concatenate([given["first"], plant, np.zeros(11)])
    pour = np.concatenate([[1], given["poured"]])
    lamp = LAMP[False]
    day = 0.0
    for stop in sorted(visits | switches | CUTS | {days}):
        y = odeint(rates, y, (day, stop), (lamp,), tfirst=True, rtol=rtol, atol=atol,
                   mxstep=100000)[-1]
        day = stop
        lamp = LAMP[BURNS[0] <= (day + 1e-9) % 1 < BURNS[1]]
        if day in visits:
            y[:11] += (FULL_L - y[0]) * pour
        if day in CUTS:
            cut(y)
    return y[23:]


def main():
    given = read_given(sys.argv[1])
    search(lambda rtol, atol: live(given, rtol, atol), given, range(3, 10), 3)


main()
