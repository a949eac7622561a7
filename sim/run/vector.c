/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The operations that CVODE and ARKODE call in every step, replaced through the table of
 * function pointers that is SUNDIALS' documented way to bring one's own vector. */
#include "vector.h"

#include <math.h>

static double *vector_data(N_Vector v)
{
    return NV_DATA_S(v);
}

static void vector_linear_sum(double a, N_Vector x, double b, N_Vector y, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    const double *yd = vector_data(y);
    double *zd = vector_data(z);
    for (sunindextype i = 0; i < n; i++) {
        zd[i] = a * xd[i] + b * yd[i];
    }
}

static void vector_const(double c, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(z);
    double *zd = vector_data(z);
    for (sunindextype i = 0; i < n; i++) {
        zd[i] = c;
    }
}

static void vector_product(N_Vector x, N_Vector y, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    const double *yd = vector_data(y);
    double *zd = vector_data(z);
    for (sunindextype i = 0; i < n; i++) {
        zd[i] = xd[i] * yd[i];
    }
}

static void vector_quotient(N_Vector x, N_Vector y, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    const double *yd = vector_data(y);
    double *zd = vector_data(z);
    for (sunindextype i = 0; i < n; i++) {
        zd[i] = xd[i] / yd[i];
    }
}

static void vector_scale(double c, N_Vector x, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    double *zd = vector_data(z);
    for (sunindextype i = 0; i < n; i++) {
        zd[i] = c * xd[i];
    }
}

static void vector_abs(N_Vector x, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    double *zd = vector_data(z);
    for (sunindextype i = 0; i < n; i++) {
        zd[i] = fabs(xd[i]);
    }
}

static void vector_inverse(N_Vector x, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    double *zd = vector_data(z);
    for (sunindextype i = 0; i < n; i++) {
        zd[i] = 1 / xd[i];
    }
}

static void vector_add_const(N_Vector x, double b, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    double *zd = vector_data(z);
    for (sunindextype i = 0; i < n; i++) {
        zd[i] = xd[i] + b;
    }
}

static double vector_max_norm(N_Vector x)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    double largest = 0;
    for (sunindextype i = 0; i < n; i++) {
        largest = fmax(largest, fabs(xd[i]));
    }
    return largest;
}

static double vector_wrms_norm(N_Vector x, N_Vector w)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    const double *wd = vector_data(w);
    double sum = 0;
    for (sunindextype i = 0; i < n; i++) {
        const double weighted = xd[i] * wd[i];
        sum += weighted * weighted;
    }
    return sqrt(sum / (double)n);
}

static double vector_min(N_Vector x)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    double least = xd[0];
    for (sunindextype i = 1; i < n; i++) {
        least = fmin(least, xd[i]);
    }
    return least;
}

static int vector_linear_combination(int count, double *c, N_Vector *x, N_Vector z)
{
    const sunindextype n = NV_LENGTH_S(z);
    double *zd = vector_data(z);
    if (x[0] != z) {
        const double *first = vector_data(x[0]);
        for (sunindextype i = 0; i < n; i++) {
            zd[i] = c[0] * first[i];
        }
    } else if (c[0] != 1.0) {
        for (sunindextype i = 0; i < n; i++) {
            zd[i] *= c[0];
        }
    }
    for (int k = 1; k < count; k++) {
        const double *xd = vector_data(x[k]);
        for (sunindextype i = 0; i < n; i++) {
            zd[i] += c[k] * xd[i];
        }
    }
    return 0;
}

static int vector_scale_add_multi(int count, double *a, N_Vector x, N_Vector *y,
                                  N_Vector *z)
{
    const sunindextype n = NV_LENGTH_S(x);
    const double *xd = vector_data(x);
    for (int k = 0; k < count; k++) {
        const double *yd = vector_data(y[k]);
        double *zd = vector_data(z[k]);
        for (sunindextype i = 0; i < n; i++) {
            zd[i] = a[k] * xd[i] + yd[i];
        }
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
    vector->ops->nvprod = vector_product;
    vector->ops->nvdiv = vector_quotient;
    vector->ops->nvscale = vector_scale;
    vector->ops->nvabs = vector_abs;
    vector->ops->nvinv = vector_inverse;
    vector->ops->nvaddconst = vector_add_const;
    vector->ops->nvmaxnorm = vector_max_norm;
    vector->ops->nvwrmsnorm = vector_wrms_norm;
    vector->ops->nvmin = vector_min;
    vector->ops->nvlinearcombination = vector_linear_combination;
    vector->ops->nvscaleaddmulti = vector_scale_add_multi;
    N_VConst(0, vector);
    return vector;
}
