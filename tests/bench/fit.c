/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a gradient of the logbook fit costs: one life that carries slopes against the
 * twelve lives of central differences by six unknowns; and a whole fit of sixty days. */
#include <stdio.h>
#include <stdlib.h>

#include "pailcast/run/slopes.h"
#include "pailcast/study/fit.h"
#include "pailcast/study/keep.h"
#include "support/bench.h"
#include "support/timing.h"

enum {
    RUNS = 25,
    ENTRIES = 64,
    DIFFERENCES = 2 * FIT_UNKNOWNS
};

static struct scenario scenario;
static struct logbook logbook;
static struct hands_entry entries[ENTRIES];

static void check(enum status status)
{
    if (status != STATUS_OK) {
        (void)fprintf(stderr, "bench: a fit failed\n");
        exit(1);
    }
}

static void prepare(void)
{
    struct life life;
    bench_shipped(&scenario, "first-bucket");
    scenario.strategies[0] = scenario.strategies[1];
    scenario.duration_d = 60;
    bench_live(&life, &scenario, 0);
    check(keep_logbook(&logbook, &life, &scenario, &keep_noise_usual, 1, NULL));
    life_free(&life);
    scenario.sample_every_d = 2 * scenario.duration_d;
    for (size_t i = 0; i < logbook.count && i < ENTRIES; i++) {
        const struct logbook_row *row = &logbook.rows[i];
        entries[i] = (struct hands_entry){
            row->day_d, {row->drained_l, row->water_l, row->stock_l, 0}};
    }
}

static double live_once(const struct hands *hands)
{
    const double begin = timing_cpu_ms();
    struct life life;
    check(life_run_by(&life, &scenario, &scenario.strategies[0], hands, NULL));
    life_free(&life);
    return timing_cpu_ms() - begin;
}

/* All but the pen, whose slope is known beforehand. */
static double live_with_slopes(const struct hands *hands)
{
    const double begin = timing_cpu_ms();
    struct slopes slopes = {.count = FIT_PEN, .step = 1e-6};
    for (int k = 0; k < FIT_PEN; k++) {
        static struct scenario aside;
        double z[FIT_UNKNOWNS] = {0};
        z[k] = slopes.step;
        fit_world(&aside, &scenario, z);
        slopes.aside[k] = aside.learned;
    }
    struct life life;
    check(
        life_run_slopes(&life, &slopes, &scenario, &scenario.strategies[0], hands, NULL));
    life_free(&life);
    slopes_free(&slopes);
    return timing_cpu_ms() - begin;
}

static double fit_once(void)
{
    const double begin = timing_cpu_ms();
    static const struct fit_plan plan = {0};
    struct fit fit;
    check(fit_run(&fit, &scenario, &scenario.strategies[0], &logbook, &plan, NULL));
    fit_free(&fit);
    return timing_cpu_ms() - begin;
}

int main(void)
{
    static double plain[RUNS];
    static double carrying[RUNS];
    static double whole[RUNS];
    prepare();
    const struct hands_log log = {entries, logbook.count, NULL};
    const struct hands hands = hands_log(&log);
    /* in turn, so that all meet the same neighbours */
    for (int run = 0; run < RUNS; run++) {
        plain[run] = live_once(&hands);
        carrying[run] = live_with_slopes(&hands);
        whole[run] = fit_once();
    }
    const double life_ms = timing_median(plain, RUNS);
    const double slopes_ms = timing_median(carrying, RUNS);
    const double fit_ms = timing_median(whole, RUNS);
    printf("fits: a logbook of %zu entries in 60 days\n", logbook.count);
    printf("  a life %.2f ms; with slopes %.2f ms, of twelve lives %.2f\n", life_ms,
           slopes_ms, slopes_ms / (DIFFERENCES * life_ms));
    printf("  a whole fit %.0f ms, %.0f lives\n", fit_ms, fit_ms / life_ms);
    logbook_free(&logbook);
    return 0;
}
