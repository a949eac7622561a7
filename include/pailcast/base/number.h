/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Smooth switches and bounds for rates that an integrator must differentiate through. */
#ifndef PAILCAST_BASE_NUMBER_H
#define PAILCAST_BASE_NUMBER_H

#include <math.h>

static inline double number_clamp(double x, double low, double high)
{
    return x < low ? low : (x > high ? high : x);
}

/* (1 - share) a + share b. */
static inline double number_blend(double a, double b, double share)
{
    return a + share * (b - a);
}

/* 0 for x <= 0, exactly 1 for x >= 1, twice differentiable between: x^3(10 - 15x + 6x^2).
 */
static inline double number_switch(double x)
{
    if (x <= 0) {
        return 0;
    }
    if (x >= 1) {
        return 1;
    }
    return x * x * x * (10 + x * (6 * x - 15));
}

/* Rounded max(x, 0): (x + sqrt(x^2 + 4 width^2))/2 - within width of the corner. Never
 * negative. */
static inline double number_positive(double x, double width)
{
    return 0.5 * (x + sqrt(x * x + 4 * width * width));
}

/* Rounded min(a, b), never above either; the corner is rounded over `width`. */
static inline double number_lesser(double a, double b, double width)
{
    double d = a - b;
    return 0.5 * (a + b - sqrt(d * d + 4 * width * width));
}

/* max(x, 0) with its corner rounded between -width and width; exactly 0 and x outside. */
static inline double number_ramp(double x, double width)
{
    if (x <= -width) {
        return 0;
    }
    return x >= width ? x : (x + width) * (x + width) / (4 * width);
}

/* 0 below `low` and above `high`, 1 on [rise, fall], straight lines between with corners
 * rounded by number_switch. Requires low < rise <= fall < high. */
static inline double number_plateau(double x, double low, double rise, double fall,
                                    double high)
{
    return x < rise ? number_switch((x - low) / (rise - low))
                    : number_switch((high - x) / (high - fall));
}

#endif
