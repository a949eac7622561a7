/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/sobol.h"

#include <math.h>
#include <stdint.h>

#include "pailcast/base/hash.h"

enum {
    SOBOL_RESAMPLES = 200, /* for an error good to 5 % of itself (chosen) */
};

/* Streams of chance are told apart by a number; this one is the bootstrap's (chosen). */
static const uint64_t sobol_seed = 20100;

/* Row `turn` of a resample; resample 0 is the sample itself. */
static size_t sobol_pick(size_t resample, size_t turn, size_t rows)
{
    return resample == 0 ? turn
                         : (size_t)(hash_unit(sobol_seed, resample, turn) * (double)rows);
}

/* Fewer rows than this carrying the variance say nothing (chosen). */
static const double sobol_least_rows = 8;

/* How many of 2 rows values carry the variance: (sum d2)^2 / sum d4, all of them when
 * each is as far from the middle as the others, one when a single value stands apart. */
static double sobol_carriers(const double a[], const double b[], size_t rows,
                             double middle)
{
    double squares = 0;
    double fourths = 0;
    for (size_t r = 0; r < rows; r++) {
        const double a2 = (a[r] - middle) * (a[r] - middle);
        const double b2 = (b[r] - middle) * (b[r] - middle);
        squares += a2 + b2;
        fourths += a2 * a2 + b2 * b2;
    }
    return fourths > 0 ? squares * squares / fourths : 0;
}

/* Both indices over the rows of one resample. f is counted from `middle`, which changes
 * no index and makes the first-order one steadier. */
static void sobol_estimate(double *first, double *total, const double *const f[3],
                           size_t rows, size_t resample, double middle)
{
    double sum = 0;
    double squares = 0;
    double joint = 0;
    double apart = 0;
    for (size_t turn = 0; turn < rows; turn++) {
        const size_t r = sobol_pick(resample, turn, rows);
        const double a = f[0][r] - middle;
        const double b = f[1][r] - middle;
        const double ab = f[2][r] - middle;
        sum += a + b;
        squares += a * a + b * b;
        joint += b * (ab - a);
        apart += (a - ab) * (a - ab);
    }
    const double n = (double)rows;
    const double variance = squares / (2 * n) - sum * sum / (4 * n * n);
    *first = joint / n / variance;
    *total = apart / (2 * n) / variance;
}

struct sobol_index sobol_of(const double a[], const double b[], const double ab[],
                            size_t rows)
{
    const double *const f[3] = {a, b, ab};
    struct sobol_index index = {NAN, NAN, NAN, NAN};
    double middle = 0;
    double least = INFINITY;
    double most = -INFINITY;
    for (size_t r = 0; r < rows; r++) {
        middle += (a[r] + b[r]) / (2 * (double)rows);
        least = fmin(least, fmin(a[r], b[r]));
        most = fmax(most, fmax(a[r], b[r]));
    }
    /* Single-precision outcomes: a spread within their last digits is none. */
    const double nothing = 1e-6;
    if (rows < 2 || !(most - least > nothing * fmax(fabs(least), fabs(most))) ||
        sobol_carriers(a, b, rows, middle) < sobol_least_rows) {
        return index;
    }
    sobol_estimate(&index.first, &index.total, f, rows, 0, middle);
    double sum[2] = {0};
    double squares[2] = {0};
    for (size_t resample = 1; resample <= SOBOL_RESAMPLES; resample++) {
        double value[2];
        sobol_estimate(&value[0], &value[1], f, rows, resample, middle);
        for (int k = 0; k < 2; k++) {
            sum[k] += value[k] / SOBOL_RESAMPLES;
            squares[k] += value[k] * value[k] / SOBOL_RESAMPLES;
        }
    }
    index.first_error = sqrt(fmax(squares[0] - sum[0] * sum[0], 0));
    index.total_error = sqrt(fmax(squares[1] - sum[1] * sum[1], 0));
    return index;
}
