/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine.h"

#include <math.h>

/* A rate that is no number asks for a shorter step; ERKStep has none to give and ends. */
static int engine_finite(const double rate[], size_t count)
{
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        sum += rate[i];
    }
    return isfinite(sum) ? 0 : 1;
}

int engine_rates(double time_d, N_Vector state, N_Vector rate, void *solver)
{
    (void)time_d;
    const struct solver *self = solver;
    const double *y = N_VGetArrayPointer(state);
    double *dy = N_VGetArrayPointer(rate);
    self->problem.rates(dy, y, self->problem.context);
    return engine_finite(dy, self->problem.count);
}

int engine_slope_rates(int count, double time_d, N_Vector state, N_Vector rate,
                       int unknown, N_Vector slope, N_Vector slope_rate, void *solver,
                       N_Vector scratch, N_Vector more_scratch)
{
    (void)count;
    (void)time_d;
    (void)scratch;
    (void)more_scratch;
    const struct solver *self = solver;
    double *ds = N_VGetArrayPointer(slope_rate);
    self->problem.slope_rates(ds, (size_t)unknown, N_VGetArrayPointer(state),
                              N_VGetArrayPointer(rate), N_VGetArrayPointer(slope),
                              self->problem.context);
    return engine_finite(ds, self->problem.count);
}

/* 1/(rtol |y| + atol) in one pass, where the libraries take four. */
int engine_weights(N_Vector state, N_Vector weight, void *solver)
{
    const struct solver *self = solver;
    const double *y = N_VGetArrayPointer(state);
    const double *atol = N_VGetArrayPointer(self->atol);
    double *w = N_VGetArrayPointer(weight);
    const double rtol = self->problem.rtol;
    for (size_t i = 0; i < self->problem.count; i++) {
        w[i] = 1 / (rtol * fabs(y[i]) + atol[i]);
    }
    return 0;
}

int engine_root_values(double time_d, N_Vector state, double *value, void *solver)
{
    (void)time_d;
    const struct solver *self = solver;
    self->problem.roots(value, N_VGetArrayPointer(state), self->problem.context);
    return 0;
}
