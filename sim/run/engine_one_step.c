/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ARKODE's explicit Runge-Kutta: no history, so cheap restarts. Dormand & Prince 5(4), or
 * for loose tolerances Bogacki & Shampine 3(2). */
#include <math.h>

#include "engine.h"
#include "engine_arkode.h"

/* First step after a restart, d, at first_rtol: a method without a history loses nothing
 * by trying the whole stretch up to the next lamp switch, since its own error test
 * refuses what is too long. Against a step of minutes this takes a fifth to two fifths
 * fewer rates at equal achieved error (measured: docs/model.md). The error goes with the
 * fifth power of the step. */
static const double first_step_d = 1;
static const double first_rtol = 1e-4;
static const double first_power = 0.2;

/* From this rtol on a step of third order, half the rates of one of fifth, mostly reaches
 * from lamp switch to lamp switch too (measured: docs/model.md). */
static const double third_order_rtol = 3e-6;

/* Steps refused in a row before the engine gives up. ARKODE's own 7, of which each from
 * the second on leaves at most 0.3 of the one before, do not come down from a day to
 * where a bucket drunk up in minutes can be followed (chosen). */
enum {
    ONE_STEP_REFUSALS_MAX = 30
};

static int one_step_create(struct solver *solver, double time_d)
{
    solver->memory = ERKStepCreate(engine_rates, time_d, solver->state, solver->context);
    if (solver->memory == NULL) {
        return -1;
    }
    void *memory = solver->memory;
    int failed = ERKStepSetTableNum(memory, solver->problem.rtol >= third_order_rtol
                                                ? ARKODE_BOGACKI_SHAMPINE_4_2_3
                                                : ARKODE_DORMAND_PRINCE_7_4_5);
#if SUNDIALS_VERSION_MAJOR < 7
    failed |= ERKStepSetErrFile(memory, NULL);
#endif
    failed |= ARKodeWFtolerances(memory, engine_weights);
    failed |= ARKodeSetUserData(memory, solver);
    failed |= ARKodeSetMaxNumSteps(memory, ENGINE_STEPS_MAX);
    failed |= ARKodeSetMaxErrTestFails(memory, ONE_STEP_REFUSALS_MAX);
    if (solver->problem.root_count > 0) {
        failed |=
            ARKodeRootInit(memory, (int)solver->problem.root_count, engine_root_values);
        failed |= ARKodeSetNoInactiveRootWarn(memory);
        failed |= ARKodeSetRootDirection(memory, solver->rising);
    }
    return failed;
}

static int one_step_restart(struct solver *solver, double time_d)
{
    int failed = ERKStepReInit(solver->memory, engine_rates, time_d, solver->state);
    const double step_d =
        first_step_d * pow(solver->problem.rtol / first_rtol, first_power);
    return failed | ARKodeSetInitStep(solver->memory, step_d);
}

static int one_step_advance(struct solver *solver, double until_d, double stop_d)
{
    int failed = ARKodeSetStopTime(solver->memory, stop_d);
    if (failed != 0) {
        return failed;
    }
    return ARKodeEvolve(solver->memory, until_d, solver->state, &solver->time_d,
                        ARK_NORMAL);
}

static int one_step_roots(struct solver *solver, int rose[])
{
    return ARKodeGetRootInfo(solver->memory, rose);
}

static int one_step_errors(struct solver *solver)
{
    return ARKodeGetEstLocalErrors(solver->memory, solver->scratch) |
           ARKodeGetErrWeights(solver->memory, solver->weights);
}

static void one_step_counts(struct solver *solver, long *steps, long *rate_calls)
{
    *steps = 0;
    *rate_calls = 0;
    (void)ARKodeGetNumSteps(solver->memory, steps);
    (void)ERKStepGetNumRhsEvals(solver->memory, rate_calls);
}

static void one_step_free(struct solver *solver)
{
    ARKodeFree(&solver->memory);
}

const struct engine engine_one_step = {
    .create = one_step_create,
    .restart = one_step_restart,
    .advance = one_step_advance,
    .roots = one_step_roots,
    .errors = one_step_errors,
    .counts = one_step_counts,
    .words = ARKodeGetReturnFlagName,
    .free = one_step_free,
    .reached = ARK_SUCCESS,
    .stopped = ARK_TSTOP_RETURN,
    .rooted = ARK_ROOT_RETURN,
};
