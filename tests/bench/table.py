# SPDX-License-Identifier: GPL-3.0-or-later
"""The measured cucumber (scenarios/measured-cucumber.cfg) with its equations written in Python
from docs/model.md and docs/scenario.md, solved by SciPy's LSODA: one call a stretch between
visits, since odeint has no events. Prints lines as search.R does.
Usage: python3 table.py GIVEN"""
import sys
from math import pi

import numpy as np
from scipy.integrate import odeint

from search import read_given, search

CHARGE = np.array([-1, 1, -1, 1, 2, 2, -2, 1, -1.0])
FULL_L = 30.0
EVAPORATES = 0.03
FOLLOWS = np.array([0, 0, 0, 0, 0, 0, 0, 0.15, 0.2])
STAGE_ENDS = 25.0
STAGES = (
    (0.4, np.array([9, 0.8, 1, 5, 2.1, 0.8, 0.6, 0, 0])),
    (2.6, np.array([8, 0.6, 0.8, 4.8, 1.8, 0.7, 0.5, 0, 0])),
)
# A truncated cone, 42 cm high, 31 cm wide below and 36 above; roots reach its floor.
WALL = (18 - 15.5) / 42


def level_at(volume):
    return ((15.5**3 + 3000 * WALL * max(volume, 0) / pi) ** (1 / 3) - 15.5) / WALL


def smooth_one(x):
    x = min(max(x, 0.0), 1.0)
    return x**3 * (10 - 15 * x + 6 * x * x)


def smooth(x):
    x = np.minimum(np.maximum(x, 0), 1)
    return x**3 * (10 - 15 * x + 6 * x * x)


def rates(day, y, drinks, eats):
    """Litres, nine ions, alkalinity; litres drunk and nine amounts eaten."""
    rate = np.empty(21)
    volume = y[0]
    c = np.maximum(y[1:10], 0) / max(volume, 1e-4 * FULL_L)
    drunk = drinks * smooth_one(level_at(volume) / 3)
    taken = (eats * smooth(c / 0.05) + FOLLOWS * c) * drunk
    rate[0] = -drunk - EVAPORATES * smooth_one(volume / (0.02 * FULL_L))
    rate[1:10] = -taken
    rate[10] = -CHARGE.dot(taken)
    rate[11] = drunk
    rate[12:] = taken
    return rate


def live(given, rtol, atol):
    y = np.concatenate([given["first"], np.zeros(10)])
    pour = np.concatenate([[1], given["poured"]])
    visits = set(given["visits"])
    days = given["days"][0]
    stops = sorted(visits | {STAGE_ENDS, days})
    stage = 0
    day = 0.0
    for stop in stops:
        y = odeint(rates, y, (day, stop), STAGES[stage], tfirst=True, rtol=rtol, atol=atol,
                   mxstep=100000)[-1]
        day = stop
        stage = 1 if stop >= STAGE_ENDS else 0
        if stop in visits and stop < days:
            y[:11] += (FULL_L - y[0]) * pour
    return y[11:]


def main():
    given = read_given(sys.argv[1])
    search(lambda rtol, atol: live(given, rtol, atol), given, range(2, 12), 9)


main()
