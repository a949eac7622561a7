/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which input matters: variance-based indices by Saltelli's scheme.
 *
 * From two independent samples A and B of the inputs, and for each input i a sample ABi
 * that is A with column i taken from B:
 *     first order  S_i  = mean(f_B (f_ABi - f_A)) / V     Saltelli et al. 2010, table 2 b
 *     total        ST_i = mean((f_A - f_ABi)^2) / (2 V)   Jansen 1999
 * with V the variance of f over A and B together. S_i is the share of the variance that
 * is gone once input i is known, ST_i the share that is left while only i is not.
 */
#ifndef PAILCAST_STUDY_SOBOL_H
#define PAILCAST_STUDY_SOBOL_H

#include <stddef.h>

enum {
    /* Rows that are enough for a spread such as the normal one: it is carried by a third
     * of its 2 rows values, and eight are asked. */
    SOBOL_ROWS_ENOUGH = 12
};

/* An index with its standard error, by bootstrap over rows. NAN where f does not vary, or
 * where so few rows carry its variance that nothing can be said (a rare event). */
struct sobol_index {
    double first, first_error;
    double total, total_error;
};

/* a[rows], b[rows] and ab[rows] of one input. The bootstrap repeats itself exactly. */
struct sobol_index sobol_of(const double a[], const double b[], const double ab[],
                            size_t rows);

#endif
