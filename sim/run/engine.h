/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the two families of SUNDIALS integrators have in common for solver.c. */
#ifndef PAILCAST_RUN_ENGINE_H
#define PAILCAST_RUN_ENGINE_H

#include <sundials/sundials_linearsolver.h>
#include <sundials/sundials_nonlinearsolver.h>
#include <sundials/sundials_nvector.h>

#include "pailcast/run/solver.h"

/* Steps allowed in one advance before it counts as failed; most root functions. */
enum {
    ENGINE_STEPS_MAX = 200000,
    ENGINE_ROOTS_MAX = 64
};

struct engine;

struct solver {
    struct solver_problem problem;
    const struct engine *engine;
    SUNContext context;
    void *memory; /* CVODE's or ARKODE's */
    SUNNonlinearSolver iteration, slope_iteration;
    SUNMatrix matrix;
    SUNLinearSolver linear;
    N_Vector state, atol, scratch, weights;
    N_Vector *slopes;             /* [problem.slope_count] */
    int rising[ENGINE_ROOTS_MAX]; /* root directions: all upward */
    double first_step_d;
    double time_d;
    int flag;                        /* last return of the library */
    char *words;                     /* and its name, owned */
    long steps_before, calls_before; /* since the counters of the library were reset */
};

struct engine {
    int (*create)(struct solver *solver, double time_d);
    int (*restart)(struct solver *solver, double time_d);
    int (*advance)(struct solver *solver, double until_d, double stop_d);
    int (*roots)(struct solver *solver, int rose[]);
    int (*errors)(
        struct solver *solver); /* scratch: local errors, weights: their weights */
    void (*counts)(struct solver *solver, long *steps, long *rate_calls);
    char *(*words)(long flag);
    void (*free)(struct solver *solver);
    int reached, stopped, rooted; /* the library's codes */
};

extern const struct engine engine_multistep; /* CVODE: Adams or BDF */
extern const struct engine engine_one_step;  /* ARKODE: Runge-Kutta */

/* Callbacks in SUNDIALS' form, user data being the solver. */
int engine_rates(double time_d, N_Vector state, N_Vector rate, void *solver);
int engine_slope_rates(int count, double time_d, N_Vector state, N_Vector rate,
                       int unknown, N_Vector slope, N_Vector slope_rate, void *solver,
                       N_Vector scratch, N_Vector more_scratch);
int engine_weights(N_Vector state, N_Vector weight, void *solver);
int engine_root_values(double time_d, N_Vector state, double *value, void *solver);

#endif
