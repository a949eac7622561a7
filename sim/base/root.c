/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/root.h"

#include <math.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>

enum {
    ROOT_STEPS_MAX = 100
};

double root_find(double (*residual)(double x, void *context), void *context, double low,
                 double high, double tolerance)
{
    double at_low = residual(low, context);
    double at_high = residual(high, context);
    double nearer = fabs(at_low) <= fabs(at_high) ? low : high;
    if (!(at_low * at_high < 0)) {
        return nearer;
    }
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (solver == NULL) {
        return nearer;
    }
    gsl_function function = {.function = residual, .params = context};
    double x = nearer;
    if (gsl_root_fsolver_set(solver, &function, low, high) == GSL_SUCCESS) {
        for (int step = 0; step < ROOT_STEPS_MAX; step++) {
            if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS) {
                break;
            }
            x = gsl_root_fsolver_root(solver);
            if (gsl_root_fsolver_x_upper(solver) - gsl_root_fsolver_x_lower(solver) <=
                tolerance) {
                break;
            }
        }
    }
    gsl_root_fsolver_free(solver);
    return x;
}
