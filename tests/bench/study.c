/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How fast studies are: 500 two-year lives, lamp resolved, in as many worlds, on one
 * thread and on two. By the clock on the wall, so a busy machine shows. Each world also
 * lives the unstressed plant that growth is measured against; it is counted apart. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>

#include "pailcast/study/risk.h"
#include "support/bench.h"
#include "support/timing.h"

enum {
    LIVES = 500,
    BLOCKS = 5 /* one thread and two take turns, so that both meet the same neighbours */
};

static struct scenario scenario;

static void give_up(const struct error *error)
{
    (void)fprintf(stderr, "bench: %s\n", error->text);
    exit(1);
}

/* Seconds that the part of a study takes on `jobs` threads. */
static double live(size_t part, int jobs)
{
    struct error error = {0};
    struct risk risk = {0};
    const struct risk_plan plan = {.lives = LIVES,
                                   .seed = 1,
                                   .part = part,
                                   .parts = BLOCKS,
                                   .jobs = jobs,
                                   .scenario_path = ""};
    if (risk_open(&risk, &scenario, &plan, &error) != STATUS_OK) {
        give_up(&error);
    }
    const double begin_s = 1e-3 * timing_wall_ms();
    if (risk_live(&risk, &error) != STATUS_OK) {
        give_up(&error);
    }
    const double took_s = 1e-3 * timing_wall_ms() - begin_s;
    risk_free(&risk);
    return took_s;
}

int main(void)
{
    bench_shipped(&scenario, "evergreen-two-years");
    scenario.strategy_count = 1;
    double took_s[2] = {0};
    for (size_t part = 1; part <= BLOCKS; part++) {
        for (int jobs = 1; jobs <= 2; jobs++) {
            took_s[jobs - 1] += live(part, jobs);
        }
    }
    struct rusage usage;
    (void)getrusage(RUSAGE_SELF, &usage);
    printf("studies: %d two-year lives and as many unstressed plants\n", LIVES);
    for (int jobs = 1; jobs <= 2; jobs++) {
        printf("  %d thread%s %8.2f s %8.1f lives/s (%.1f with the unstressed)\n", jobs,
               jobs > 1 ? "s" : " ", took_s[jobs - 1], LIVES / took_s[jobs - 1],
               2 * LIVES / took_s[jobs - 1]);
    }
    printf("  two threads over one: %.2f; peak memory %.0f MB\n", took_s[0] / took_s[1],
           (double)usage.ru_maxrss / 1024);
    return 0;
}
