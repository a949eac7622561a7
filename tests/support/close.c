/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "close.h"

#include <math.h>
#include <stdio.h>

void close_assert(double actual, double expected, double rtol, double atol,
                  const char *expression, const char *file, int line)
{
    double allowed = rtol * fabs(expected) + atol;
    if (fabs(actual - expected) <= allowed) {
        return;
    }
    print_error("%s = %.17g, expected %.17g, off by %.3g, allowed %.3g\n", expression,
                actual, expected, actual - expected, allowed);
    _fail(file, line);
}
