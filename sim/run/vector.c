/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The operations that CVODE and ARKODE call in every step, replaced through the table of
 * function pointers that is SUNDIALS' documented way to bring one's own vector. Results
 * of four elements are formed before any is stored, so that the compiler may use wide
 * registers although a result may lie where an operand does. */
#include "vector.h"

#include <math.h>
#include <string.h>

enum {
    VECTOR_WIDE = 4
};

/* Four elements of a x + b y. */
static inline void vector_four_sums(double *z, double a, const double *x, double b,
                                    const double *y)
{
    const double z0 = a * x[0] + b * y[0];
    const double z1 = a * x[1] + b * y[1];
    const double z2 = a * x[2] + b * y[2];
    const double z3 = a * x[3] + b * y[3];
    z[0] = z0;
    z[1] = z1;
    z[2] = z2;
    z[3] = z3;
}

/* Four elements of c x. */
static inline void vector_four_multiples(double *z, double c, const double *x)
{
    const double z0 = c * x[0];
    const double z1 = c * x[1];
    const double z2 = c * x[2];
    const double z3 = c * x[3];
    z[0] = z0;
    z[1] = z1;
    z[2] = z2;
    z[3] = z3;
}

static void vector_sums(sunindextype n, double *z, double a, const double *x, double b,
                        const double *y)
{
    sunindextype i = 0;
    for (; i + VECTOR_WIDE <= n; i += VECTOR_WIDE) {
        vector_four_sums(z + i, a, x + i, b, y + i);
    }
    for (; i < n; i++) {
        z[i] = a * x[i] + b * y[i];
    }
}

static void vector_linear_sum(double a, N_Vector x, double b, N_Vector y, N_Vector z)
{
    vector_sums(NV_LENGTH_S(x), NV_DATA_S(z), a, NV_DATA_S(x), b, NV_DATA_S(y));
}

static void vector_const(double c, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(z);
    double *zd = NV_DATA_S(z);
    for (sunindextype i = 0; i < n; i++) {
        zd[i] = c;
    }
}

static void vector_multiples(sunindextype n, double *z, double c, const double *x)
{
    sunindextype i = 0;
    for (; i + VECTOR_WIDE <= n; i += VECTOR_WIDE) {
        vector_four_multiples(z + i, c, x + i);
    }
    for (; i < n; i++) {
        z[i] = c * x[i];
    }
}

static void vector_scale(double c, N_Vector x, N_Vector z)
{
    vector_multiples(NV_LENGTH_S(x), NV_DATA_S(z), c, NV_DATA_S(x));
}

static double vector_wrms_norm(N_Vector x, N_Vector w)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = NV_DATA_S(x);
    const double *wd = NV_DATA_S(w);
    double sum[VECTOR_WIDE] = {0};
    sunindextype i = 0;
    for (; i + VECTOR_WIDE <= n; i += VECTOR_WIDE) {
        for (int k = 0; k < VECTOR_WIDE; k++) {
            const double weighted = xd[i + k] * wd[i + k];
            sum[k] += weighted * weighted;
        }
    }
    for (; i < n; i++) {
        const double weighted = xd[i] * wd[i];
        sum[0] += weighted * weighted;
    }
    return sqrt((sum[0] + sum[1] + (sum[2] + sum[3])) / (double)n);
}

static int vector_linear_combination(int count, double *c, N_Vector *x, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(z);
    double *zd = NV_DATA_S(z);
    if (x[0] != z || c[0] != 1.0) {
        vector_multiples(n, zd, c[0], NV_DATA_S(x[0]));
    }
    for (int k = 1; k < count; k++) {
        vector_sums(n, zd, 1, zd, c[k], NV_DATA_S(x[k]));
    }
    return 0;
}

static int vector_scale_add_multi(int count, double *a, N_Vector x, N_Vector *y,
                                  N_Vector *z)
{
    for (int k = 0; k < count; k++) {
        vector_sums(NV_LENGTH_S(x), NV_DATA_S(z[k]), a[k], NV_DATA_S(x), 1,
                    NV_DATA_S(y[k]));
    }
    return 0;
}

N_Vector vector_create(sunindextype length, SUNContext context)
{
    N_Vector vector = N_VNew_Serial(length, context);
    if (vector == NULL) {
        return NULL;
    }
    vector->ops->nvlinearsum = vector_linear_sum;
    vector->ops->nvconst = vector_const;
    vector->ops->nvscale = vector_scale;
    vector->ops->nvwrmsnorm = vector_wrms_norm;
    vector->ops->nvlinearcombination = vector_linear_combination;
    vector->ops->nvscaleaddmulti = vector_scale_add_multi;
    N_VConst(0, vector);
    return vector;
}
