/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CVODES: Adams with fixed-point iteration, or BDF with a dense Newton matrix. */
#include <cvodes/cvodes.h>
#include <sundials/sundials_version.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

#include "engine.h"

/* Most growth of the first step of Adams' method after a restart, and of the nine that
 * follow. Left alone, CVODE takes the word of one step of first order for a step twenty
 * times as long, which is where most of a life's error came from (measured:
 * docs/model.md). */
static const double adams_first_growth = 2;
static const double adams_early_growth = 6;

/* Slopes are held to so many times the tolerances of the state, per unit of their
 * unknown: a gradient serves well with fewer digits (measured: docs/model.md). */
static const double slope_tolerance = 10;

static int multistep_iteration(struct solver *solver)
{
    if (solver->problem.method == METHOD_ADAMS) {
        solver->iteration = SUNNonlinSol_FixedPoint(solver->state, 0, solver->context);
        return solver->iteration == NULL
                   ? -1
                   : CVodeSetNonlinearSolver(solver->memory, solver->iteration) |
                         CVodeSetEtaMaxFirstStep(solver->memory, adams_first_growth) |
                         CVodeSetEtaMaxEarlyStep(solver->memory, adams_early_growth);
    }
    const sunindextype count = (sunindextype)solver->problem.count;
    solver->matrix = SUNDenseMatrix(count, count, solver->context);
    if (solver->matrix == NULL) {
        return -1;
    }
    solver->linear = SUNLinSol_Dense(solver->state, solver->matrix, solver->context);
    return solver->linear == NULL
               ? -1
               : CVodeSetLinearSolver(solver->memory, solver->linear, solver->matrix);
}

/* After the state has been corrected in a step, all slopes are, in an iteration of their
 * own. */
static int multistep_slopes(struct solver *solver)
{
    const int count = (int)solver->problem.slope_count;
    N_Vector atol[SOLVER_SLOPES_MAX];
    N_VScale(slope_tolerance, solver->atol, solver->scratch);
    for (int k = 0; k < count; k++) {
        atol[k] = solver->scratch;
    }
    solver->slope_iteration =
        SUNNonlinSol_FixedPointSens(count, solver->state, 0, solver->context);
    if (solver->slope_iteration == NULL) {
        return -1;
    }
    void *memory = solver->memory;
    int failed =
        CVodeSensInit1(memory, count, CV_STAGGERED, engine_slope_rates, solver->slopes);
    failed |= CVodeSensSVtolerances(memory, slope_tolerance * solver->problem.rtol, atol);
    failed |= CVodeSetSensErrCon(memory, SUNTRUE);
    return failed | CVodeSetNonlinearSolverSensStg(memory, solver->slope_iteration);
}

static int multistep_create(struct solver *solver, double time_d)
{
    solver->memory = CVodeCreate(solver->problem.method == METHOD_BDF ? CV_BDF : CV_ADAMS,
                                 solver->context);
    if (solver->memory == NULL) {
        return -1;
    }
    void *memory = solver->memory;
    int failed = CVodeInit(memory, engine_rates, time_d, solver->state);
#if SUNDIALS_VERSION_MAJOR < 7
    failed |= CVodeSetErrFile(memory, NULL);
#endif
    failed |= CVodeWFtolerances(memory, engine_weights);
    failed |= CVodeSetUserData(memory, solver);
    failed |= CVodeSetMaxNumSteps(memory, ENGINE_STEPS_MAX);
    failed |= multistep_iteration(solver);
    if (solver->problem.slope_count > 0) {
        failed |= multistep_slopes(solver);
    }
    if (solver->problem.root_count > 0) {
        failed |=
            CVodeRootInit(memory, (int)solver->problem.root_count, engine_root_values);
        failed |= CVodeSetNoInactiveRootWarn(memory);
        failed |= CVodeSetRootDirection(memory, solver->rising);
    }
    return failed;
}

static int multistep_restart(struct solver *solver, double time_d)
{
    int failed = CVodeReInit(solver->memory, time_d, solver->state);
    if (solver->problem.slope_count > 0) {
        failed |= CVodeSensReInit(solver->memory, CV_STAGGERED, solver->slopes);
    }
    return failed | CVodeSetInitStep(solver->memory, solver->first_step_d);
}

static int multistep_advance(struct solver *solver, double until_d, double stop_d)
{
    int flag = CVodeSetStopTime(solver->memory, stop_d);
    if (flag != 0) {
        return flag;
    }
    flag = CVode(solver->memory, until_d, solver->state, &solver->time_d, CV_NORMAL);
    if (flag < 0 || solver->problem.slope_count == 0) {
        return flag;
    }
    double reached_d;
    const int failed = CVodeGetSens(solver->memory, &reached_d, solver->slopes);
    return failed != 0 ? failed : flag;
}

static int multistep_roots(struct solver *solver, int rose[])
{
    return CVodeGetRootInfo(solver->memory, rose);
}

static int multistep_errors(struct solver *solver)
{
    return CVodeGetEstLocalErrors(solver->memory, solver->scratch) |
           CVodeGetErrWeights(solver->memory, solver->weights);
}

static void multistep_counts(struct solver *solver, long *steps, long *rate_calls)
{
    *steps = 0;
    *rate_calls = 0;
    (void)CVodeGetNumSteps(solver->memory, steps);
    (void)CVodeGetNumRhsEvals(solver->memory, rate_calls);
    if (solver->linear != NULL) {
        long matrix_calls = 0;
        (void)CVodeGetNumLinRhsEvals(solver->memory, &matrix_calls);
        *rate_calls += matrix_calls;
    }
}

static void multistep_free(struct solver *solver)
{
    CVodeFree(&solver->memory);
}

const struct engine engine_multistep = {
    .create = multistep_create,
    .restart = multistep_restart,
    .advance = multistep_advance,
    .roots = multistep_roots,
    .errors = multistep_errors,
    .counts = multistep_counts,
    .words = CVodeGetReturnFlagName,
    .free = multistep_free,
    .reached = CV_SUCCESS,
    .stopped = CV_TSTOP_RETURN,
    .rooted = CV_ROOT_RETURN,
};
