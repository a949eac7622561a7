/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How fast one life is: two years, lamp resolved, rtol 1e-6. Medians; ratios within this
 * run are what to compare, times are this machine's at this moment. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cvodes/cvodes.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_version.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

#include "../../sim/run/living.h"
#include "pailcast/study/compare.h"
#include "support/bench.h"
#include "support/timing.h"

enum {
    RUNS = 9
};

static struct scenario scenario;

static double median_ms(void (*work)(void))
{
    double took[RUNS];
    for (int i = 0; i < RUNS; i++) {
        const double begin = timing_cpu_ms();
        work();
        took[i] = timing_cpu_ms() - begin;
    }
    return timing_median(took, RUNS);
}

static void load(void)
{
    bench_shipped(&scenario, "evergreen-two-years");
}

static struct life lived;

static void live(void)
{
    life_free(&lived);
    bench_live(&lived, &scenario, 0);
}

/* States along the life, by day and by night. */
static struct living living;
static struct rates by_day, by_night;
static const struct sample *samples;
static size_t sample_count;
static volatile double kept;

static void prepare_calls(void)
{
    struct error error = {0};
    static struct life unused;
    const struct strategy *strategy = &scenario.strategies[0];
    const struct hands hands = hands_strategy(strategy);
    if (living_begin(&living, &unused, &scenario, strategy, &hands, NULL, &error) !=
        STATUS_OK) {
        (void)fprintf(stderr, "bench: %s\n", error.text);
        exit(1);
    }
    by_day = by_night = living.course.rates;
    by_day.setting = living.course.lamp_on;
    by_night.setting = living.course.lamp_off;
    samples = lived.trajectory.samples;
    sample_count = lived.trajectory.sample_count;
    lived = (struct life){0}; /* the samples stay */
}

static void call_all(void)
{
    double rate[STATE_COUNT];
    for (size_t i = 0; i < sample_count; i++) {
        const bool lamp = room_lamp_on(&scenario.room, samples[i].day_d);
        rates_evaluate(rate, samples[i].state, lamp ? &by_day : &by_night);
        kept += rate[STATE_DRUNK];
    }
}

/* A plain loop as SUNDIALS' own examples have it: packaged vectors, no samples, no roots,
 * no visits, a fresh start at every lamp switch and where a visit would be. */
static int plain_rates(realtype time_d, N_Vector state, N_Vector rate, void *rates)
{
    (void)time_d;
    rates_evaluate(N_VGetArrayPointer(rate), N_VGetArrayPointer(state), rates);
    return 0;
}

static void plain_loop(void)
{
    SUNContext context;
    (void)SUNContext_Create(NULL, &context);
    N_Vector state = N_VNew_Serial(STATE_COUNT, context);
    N_Vector atol = N_VNew_Serial(STATE_COUNT, context);
    memcpy(N_VGetArrayPointer(state), samples[0].state, sizeof(double) * STATE_COUNT);
    memcpy(N_VGetArrayPointer(atol), living.atol, sizeof(double) * STATE_COUNT);
    void *cvode = CVodeCreate(CV_ADAMS, context);
    SUNNonlinearSolver iteration = SUNNonlinSol_FixedPoint(state, 0, context);
    int failed = CVodeInit(cvode, plain_rates, 0, state);
    failed |= CVodeSVtolerances(cvode, scenario.numerics.rtol, atol);
    failed |= CVodeSetNonlinearSolver(cvode, iteration);
    failed |= CVodeSetMaxNumSteps(cvode, 100000);
    double day_d = 0, visit_d = 7;
    while (day_d < scenario.duration_d && failed == 0) {
        const double stop_d = fmin(fmin(room_next_switch(&scenario.room, day_d), visit_d),
                                   scenario.duration_d);
        failed |= CVodeSetUserData(
            cvode, room_lamp_on(&scenario.room, day_d) ? &by_day : &by_night);
        failed |= CVodeSetStopTime(cvode, stop_d);
        failed |= CVode(cvode, stop_d, state, &day_d, CV_NORMAL) < 0;
        if (day_d >= visit_d - 1e-9) {
            visit_d += 7;
            const double full = scenario.bucket.full_l;
            const struct liquid fresh = scenario_start_liquid(&scenario, NULL);
            double *y = N_VGetArrayPointer(state);
            state_pour(y, &fresh, fmax(full - y[STATE_VOLUME], 0));
        }
        failed |= CVodeReInit(cvode, day_d, state);
    }
    if (failed != 0) {
        (void)fprintf(stderr, "bench: the plain loop failed\n");
    }
    CVodeFree(&cvode);
    SUNNonlinSolFree(iteration);
    N_VDestroy(state);
    N_VDestroy(atol);
    SUNContext_Free(&context);
}

/* Peak memory, MB, of a child that lives six strategies and holds them all. */
static double peak_mb(void)
{
    const pid_t child = fork();
    if (child == 0) {
        struct error error = {0};
        struct compare *compare = calloc(1, sizeof *compare);
        for (size_t i = scenario.strategy_count; i < 6; i++) {
            scenario.strategies[i] = scenario.strategies[0];
        }
        scenario.strategy_count = 6;
        _exit(compare == NULL || compare_run(compare, &scenario, &error) != STATUS_OK);
    }
    int status = 1;
    (void)waitpid(child, &status, 0);
    struct rusage usage;
    (void)getrusage(RUSAGE_CHILDREN, &usage);
    return status == 0 ? (double)usage.ru_maxrss / 1024 : NAN;
}

int main(void)
{
    static const char *const names[] = {
        [METHOD_ADAMS] = "adams", [METHOD_BDF] = "bdf", [METHOD_ONE_STEP] = "one_step"};
    const double begin = timing_cpu_ms();
    load();
    printf("load a scenario         %8.2f ms first, ", timing_cpu_ms() - begin);
    printf("%.2f ms again\n", median_ms(load));
    live();
    prepare_calls();
    const double call_us = 1e3 * median_ms(call_all) / (double)sample_count;
    printf("one right-hand side     %8.3f us\n", call_us);
    const double plain = median_ms(plain_loop);
    printf("plain CVODE Adams loop  %8.1f ms\n", plain);
    for (int method = METHOD_ADAMS; method <= METHOD_ONE_STEP; method++) {
        scenario.numerics.method = (enum scenario_method)method;
        const double took = median_ms(live);
        const double calls_ms = 1e-3 * call_us * (double)lived.effort.rate_calls;
        printf("two years, %-9s    %8.1f ms, %7ld right-hand sides, %5ld restarts, "
               "whole/calls "
               "%.2f, whole/plain %.2f\n",
               names[method], took, lived.effort.rate_calls, lived.effort.restarts,
               took / calls_ms, took / plain);
    }
    printf("six strategies at once  %8.1f MB at most\n", peak_mb());
    return 0;
}
