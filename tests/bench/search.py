# SPDX-License-Identifier: GPL-3.0-or-later
"""What the Python scripts of this folder share, as search.R is for those in R."""
import statistics
import sys
import time

import numpy as np


def read_given(path):
    """A file of lines "name value...", as lists by name."""
    with open(path, encoding="utf-8") as file:
        return {line.split()[0]: [float(word) for word in line.split()[1:]] for line in file}


def time_ms(work, least_ms, blocks):
    """Processor time of one `work`: the middle of some blocks of least_ms or more."""
    def block(times):
        begin = time.process_time()
        for _ in range(times):
            work()
        return 1e3 * (time.process_time() - begin)

    times = 1
    while (took := block(times)) < least_ms:
        times *= 2
    return statistics.median([took] + [block(times) for _ in range(1, blocks)]) / times


def search(live, given, powers, blocks):
    """live(rtol, atol) lives once and returns the watched totals. Prints a line "name target
    rtol share ms error" for each target, for the fastest tolerances that come down to it."""
    right, targets = np.array(given["right"]), given["targets"]
    tried = []
    for power in powers:
        for share in (1, 0.01):
            rtol = 10.0**-power
            ends = []
            ms = time_ms(lambda r=rtol, s=share: ends.append(live(r, r * s)), 30, 1)
            tried.append((ms, rtol, share, np.max(np.abs(ends[-1] / right - 1))))
        if min(wrong for *_, wrong in tried) <= min(targets) / 10:
            break
    for i, target in enumerate(targets):
        good = [one for one in tried if one[3] <= min(target, 1e-3)]
        if not good:
            sys.exit(f"scipy: no tolerance comes down to an error of {target:.2g}")
        _, rtol, share, wrong = min(good)
        took = time_ms(lambda r=rtol, s=share: live(r, r * s), 100, blocks)
        print(f"scipy-lsoda {i + 1} {rtol:g} {share:g} {took:.6g} {wrong:.3g}")
