/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Three methods at equal achieved error: for each tolerance the time of a two-year life
 * and its largest relative error at the end in water drunk, nitrogen and potassium eaten
 * and dry mass made, against the same life at 1e-11. */
#include <math.h>
#include <stdio.h>

#include "pailcast/run/life.h"
#include "support/bench.h"
#include "support/timing.h"

enum {
    RUNS = 5
};

static struct scenario scenario;

/* The end of a life and the least time it took. */
static double lived(double end[STATE_COUNT], long *calls)
{
    double least = INFINITY;
    for (int run = 0; run < RUNS; run++) {
        struct life life = {0};
        const double begin = timing_cpu_ms();
        bench_live(&life, &scenario, 0);
        least = fmin(least, timing_cpu_ms() - begin);
        const struct sample *last =
            &life.trajectory.samples[life.trajectory.sample_count - 1];
        for (int i = 0; i < STATE_COUNT; i++) {
            end[i] = last->state[i];
        }
        *calls = life.effort.rate_calls;
        life_free(&life);
    }
    return least;
}

static double error_of(const double end[STATE_COUNT], const double exact[STATE_COUNT])
{
    static const int watched[] = {STATE_DRUNK, STATE_UPTAKE + ION_NO3,
                                  STATE_UPTAKE + ION_K, STATE_GROWN};
    double worst = 0;
    for (size_t i = 0; i < sizeof watched / sizeof watched[0]; i++) {
        worst = fmax(worst, fabs(end[watched[i]] / exact[watched[i]] - 1));
    }
    return worst;
}

int main(void)
{
    static const char *const names[] = {
        [METHOD_ADAMS] = "adams", [METHOD_BDF] = "bdf", [METHOD_ONE_STEP] = "one_step"};
    double exact[STATE_COUNT], end[STATE_COUNT];
    long calls;
    bench_shipped(&scenario, "evergreen-two-years");
    scenario.numerics.rtol = 1e-11;
    (void)lived(exact, &calls);
    printf("method     rtol      ms  right-hand sides  error\n");
    for (int method = METHOD_ADAMS; method <= METHOD_ONE_STEP; method++) {
        scenario.numerics.method = (enum scenario_method)method;
        for (double rtol = 1e-4; rtol > 5e-10; rtol *= 0.1) {
            scenario.numerics.rtol = rtol;
            const double ms = lived(end, &calls);
            printf("%-9s %.0e %7.1f %17ld  %.1e\n", names[method], rtol, ms, calls,
                   error_of(end, exact));
        }
    }
    return 0;
}
