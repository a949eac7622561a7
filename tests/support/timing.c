/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "timing.h"

#include <stdlib.h>
#include <time.h>

static double timing_ms(clockid_t clock)
{
    struct timespec now;
    (void)clock_gettime(clock, &now);
    return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

double timing_cpu_ms(void)
{
    return timing_ms(CLOCK_PROCESS_CPUTIME_ID);
}

double timing_wall_ms(void)
{
    return timing_ms(CLOCK_MONOTONIC);
}

static int timing_by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

double timing_median(double *values, size_t count)
{
    qsort(values, count, sizeof *values, timing_by_size);
    return values[count / 2];
}
