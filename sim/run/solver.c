/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/run/solver.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <sundials/sundials_version.h>

#include "engine.h"
#include "pailcast/base/moment.h"
#include "vector.h"

#if SUNDIALS_VERSION_MAJOR >= 7
#define SOLVER_NO_COMMUNICATOR SUN_COMM_NULL
#else
#define SOLVER_NO_COMMUNICATOR NULL
#endif

/* First step after a restart at rtol 1e-6: a minute and a half. The lamp switches
 * twice a day, and a step known to be small enough is cheaper than finding one (measured:
 * docs/model.md). */
static const double first_step_d = 1e-3;
static const double first_step_rtol = 1e-6;

static int solver_allocate(struct solver *solver)
{
    if (SUNContext_Create(SOLVER_NO_COMMUNICATOR, &solver->context) != 0) {
        return -1;
    }
#if SUNDIALS_VERSION_MAJOR >= 7
    SUNContext_ClearErrHandlers(solver->context);
#endif
    const sunindextype count = (sunindextype)solver->problem.count;
    solver->state = vector_create(count, solver->context);
    if (solver->state == NULL) {
        return -1;
    }
    solver->atol = N_VClone(solver->state);
    solver->scratch = N_VClone(solver->state);
    solver->weights = N_VClone(solver->state);
    if (solver->atol == NULL || solver->scratch == NULL || solver->weights == NULL) {
        return -1;
    }
    const int slopes = (int)solver->problem.slope_count;
    if (slopes > 0) {
        solver->slopes = N_VCloneVectorArray(slopes, solver->state);
        if (solver->slopes == NULL) {
            return -1;
        }
        for (int k = 0; k < slopes; k++) {
            N_VConst(0, solver->slopes[k]);
        }
    }
    memcpy(N_VGetArrayPointer(solver->atol), solver->problem.atol,
           solver->problem.count * sizeof(double));
    return 0;
}

enum status solver_create(struct solver **solver, const struct solver_problem *problem,
                          double time_d, struct error *error)
{
    *solver = calloc(1, sizeof **solver);
    if (*solver == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the integrator");
    }
    struct solver *self = *solver;
    self->problem = *problem;
    self->engine =
        problem->method == METHOD_ONE_STEP ? &engine_one_step : &engine_multistep;
    self->first_step_d = first_step_d * sqrt(problem->rtol / first_step_rtol);
    self->time_d = time_d;
    assert(problem->root_count <= ENGINE_ROOTS_MAX);
    assert(problem->slope_count == 0 || (problem->slope_count <= SOLVER_SLOPES_MAX &&
                                         problem->method == METHOD_ADAMS));
    for (size_t i = 0; i < problem->root_count; i++) {
        self->rising[i] = 1;
    }
    if (solver_allocate(self) != 0 || self->engine->create(self, time_d) != 0) {
        solver_free(self);
        *solver = NULL;
        return status_error(error, STATUS_SOLVER, "the integrator could not be set up");
    }
    self->problem.atol = NULL;
    return STATUS_OK;
}

double *solver_state(struct solver *solver)
{
    return N_VGetArrayPointer(solver->state);
}

double *solver_slope(struct solver *solver, size_t unknown)
{
    return N_VGetArrayPointer(solver->slopes[unknown]);
}

enum status solver_restart(struct solver *solver, double time_d, struct error *error)
{
    long steps;
    long calls;
    solver->engine->counts(solver, &steps, &calls);
    solver->steps_before += steps;
    solver->calls_before += calls;
    solver->time_d = time_d;
    solver->flag = solver->engine->restart(solver, time_d);
    if (solver->flag != 0) {
        return status_error(error, STATUS_SOLVER,
                            "day %.3f: the integrator could not start again", time_d);
    }
    return STATUS_OK;
}

enum solver_reason solver_advance(struct solver *solver, double until_d, double stop_d,
                                  double *time_d)
{
    if (until_d - solver->time_d < moment_slack_d) {
        *time_d = solver->time_d;
        return SOLVER_REACHED;
    }
    solver->flag = solver->engine->advance(solver, until_d, stop_d);
    *time_d = solver->time_d;
    if (solver->flag == solver->engine->rooted) {
        return SOLVER_ROOT;
    }
    if (solver->flag == solver->engine->reached ||
        solver->flag == solver->engine->stopped) {
        return SOLVER_REACHED;
    }
    return SOLVER_FAILED;
}

void solver_roots(struct solver *solver, int rose[])
{
    if (solver->engine->roots(solver, rose) != 0) {
        memset(rose, 0, solver->problem.root_count * sizeof *rose);
    }
}

size_t solver_culprit(struct solver *solver, const char **what)
{
    free(solver->words);
    solver->words = solver->engine->words(solver->flag);
    *what = solver->words != NULL ? solver->words : "unknown";
    size_t worst = 0;
    if (solver->engine->errors(solver) != 0) {
        return worst;
    }
    const double *local = N_VGetArrayPointer(solver->scratch);
    const double *weight = N_VGetArrayPointer(solver->weights);
    for (size_t i = 1; i < solver->problem.count; i++) {
        if (!(fabs(local[i] * weight[i]) <= fabs(local[worst] * weight[worst]))) {
            worst = i;
        }
    }
    return worst;
}

void solver_effort(struct solver *solver, long *steps, long *rate_calls)
{
    solver->engine->counts(solver, steps, rate_calls);
    *steps += solver->steps_before;
    *rate_calls += solver->calls_before;
}

void solver_free(struct solver *solver)
{
    if (solver == NULL) {
        return;
    }
    if (solver->memory != NULL) {
        solver->engine->free(solver);
    }
    SUNNonlinSolFree(solver->iteration);
    SUNNonlinSolFree(solver->slope_iteration);
    SUNLinSolFree(solver->linear);
    SUNMatDestroy(solver->matrix);
    N_VDestroyVectorArray(solver->slopes, (int)solver->problem.slope_count);
    N_VDestroy(solver->state);
    N_VDestroy(solver->atol);
    N_VDestroy(solver->scratch);
    N_VDestroy(solver->weights);
    free(solver->words);
    SUNContext_Free(&solver->context);
    free(solver);
}
