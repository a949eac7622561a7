/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An initial value problem solved from stop to stop: SUNDIALS behind a few calls. */
#ifndef PAILCAST_RUN_SOLVER_H
#define PAILCAST_RUN_SOLVER_H

#include <stddef.h>

#include "pailcast/base/status.h"
#include "pailcast/scenario/scenario.h"

struct solver;

enum {
    SOLVER_SLOPES_MAX = 8
};

/* dy/dt = rates(y); sign changes of roots(y) end an advance. Borrowed for the solver's
 * life: context. roots may be NULL with root_count 0.
 *
 * Slopes s_k = dy/dz_k by unknowns z_k of the rates are carried along where slope_count
 * is not 0: slope_rates gives ds_k/dt = (df/dy) s_k + df/dz_k for the state, its rate and
 * the slope. With METHOD_ADAMS only. */
struct solver_problem {
    size_t count;
    void (*rates)(double rate[], const double state[], void *context);
    size_t root_count;
    void (*roots)(double value[], const double state[], void *context);
    size_t slope_count;
    void (*slope_rates)(double slope_rate[], size_t unknown, const double state[],
                        const double rate[], const double slope[], void *context);
    void *context;
    double rtol;
    const double *atol; /* atol[count], copied */
    enum scenario_method method;
};

enum solver_reason {
    SOLVER_REACHED, /* the time asked for */
    SOLVER_ROOT,    /* a root function rose through zero on the way */
    SOLVER_FAILED
};

/* Solver at time_d with a zero state; fill solver_state and call solver_restart before
 * the first advance. STATUS_MEMORY or STATUS_SOLVER. Released with solver_free. */
enum status solver_create(struct solver **solver, const struct solver_problem *problem,
                          double time_d, struct error *error) STATUS_MUST_CHECK;

/* The state, state[count], at the time last reached. It may be changed, but a change
 * counts only after solver_restart. Borrowed. */
double *solver_state(struct solver *solver);

/* How the state, at the time last reached, changes with an unknown: slope[count], zero at
 * first. To be changed and restarted like the state. Borrowed. */
double *solver_slope(struct solver *solver, size_t unknown);

/* Begins anew at time_d from solver_state: needed after every jump of state or rates. */
enum status solver_restart(struct solver *solver, double time_d,
                           struct error *error) STATUS_MUST_CHECK;

/* Advances to until_d, never evaluating rates beyond stop_d >= until_d. *time_d receives
 * the time reached. */
enum solver_reason solver_advance(struct solver *solver, double until_d, double stop_d,
                                  double *time_d);

/* After SOLVER_ROOT: rose[root_count], nonzero for root functions that rose through zero.
 */
void solver_roots(struct solver *solver, int rose[]);

/* After SOLVER_FAILED: the component whose error was largest, and the library's word for
 * what happened (borrowed, until the next call). */
size_t solver_culprit(struct solver *solver, const char **what);

/* Steps taken and rates evaluated since creation. */
void solver_effort(struct solver *solver, long *steps, long *rate_calls);

void solver_free(struct solver *solver);

#endif
