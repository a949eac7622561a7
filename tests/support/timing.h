/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clocks for benchmarks, and the middle of what they measured. */
#ifndef TESTS_SUPPORT_TIMING_H
#define TESTS_SUPPORT_TIMING_H

#include <stddef.h>

/* Processor time of this process, and time on the wall, ms from some beginning. */
double timing_cpu_ms(void);
double timing_wall_ms(void);

/* The middle of `count` values, at least 1; sorts them. */
double timing_median(double *values, size_t count);

#endif
