/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One bucket lived from the first fill to the end under one strategy: the main loop. */
#ifndef PAILCAST_RUN_LIFE_H
#define PAILCAST_RUN_LIFE_H

#include "pailcast/run/hands.h"
#include "pailcast/run/ledger.h"
#include "pailcast/run/trajectory.h"
#include "pailcast/scenario/scenario.h"

/* First day of each thing a grower wants to know; NAN if it never happened. */
struct life_first_days {
    double ec_high, ec_low;
    double ion_high[ION_COUNT];
    double nutrient_low[ION_COUNT];
    double ph_high, ph_low;
    double roots_dry, bucket_empty, plant_lost;
};

struct life_effort {
    long rate_calls; /* right-hand sides */
    long steps;
    long restarts;
};

/* Zero-initialise; release with life_free. On STATUS_SOLVER and STATUS_STOPPED what was
 * computed so far is in it. */
struct life {
    struct trajectory trajectory;
    struct ledger ledger;
    struct ledger_balance balance;
    struct life_first_days first;
    /* What is so right after the last visit, or after the first filling while there was
     * none: that day; NAN for what is not. A lost plant stands in `first` alone. */
    struct life_first_days left;
    struct life_effort effort;
    double removed_g; /* dry mass cut and harvested */
    double renewed_d; /* day of the last renewal, 0 before the first */
    double end_d;     /* last day computed */
};

/* A moment of a life, with all that what comes after depends on. */
struct life_moment {
    struct sample now;
    double renewed_d;
    bool plant_lost;
};

/* Lives scenario under strategy (one of the scenario's, or any other). Fails with
 * STATUS_SOLVER naming day, state and last good sample, STATUS_MEMORY, or STATUS_STOPPED
 * after life_request_stop. */
enum status life_run(struct life *life, const struct scenario *scenario,
                     const struct strategy *strategy,
                     struct error *error) STATUS_MUST_CHECK;

/* As life_run, for studies of many lives: rows only on day 0, at each multiple of
 * sample_every_d (the bucket before whatever else falls on that moment) and at the end,
 * and no records of visits. Days, ledger and rows are those of life_run. */
enum status life_run_lean(struct life *life, const struct scenario *scenario,
                          const struct strategy *strategy,
                          struct error *error) STATUS_MUST_CHECK;

/* The same, tended by hands; strategy says what water and stock are. */
enum status life_run_by(struct life *life, const struct scenario *scenario,
                        const struct strategy *strategy, const struct hands *hands,
                        struct error *error) STATUS_MUST_CHECK;

/* The end of a life that reached it, all that falls on that moment being done. */
struct life_moment life_last(const struct life *life);

/* As life_run_by, from a moment on, of a life in the same world: the two are one life cut
 * in two. First days, books and what was removed are those since then, totals go on. */
enum status life_go_on(struct life *life, const struct life_moment *from,
                       const struct scenario *scenario, const struct strategy *strategy,
                       const struct hands *hands, struct error *error) STATUS_MUST_CHECK;

struct slopes;

/* As life_run_by, with METHOD_ADAMS, and how the readings at each visit change with
 * unknowns. The hands must do the same whatever they find, as those of a logbook do. */
enum status life_run_slopes(struct life *life, struct slopes *slopes,
                            const struct scenario *scenario,
                            const struct strategy *strategy, const struct hands *hands,
                            struct error *error) STATUS_MUST_CHECK;

/* The unstressed plant of the scenario: same room, cuts and stages, nothing ever short.
 * Its trajectory has plant columns only; no visits. */
enum status life_run_unstressed(struct life *life, const struct scenario *scenario,
                                struct error *error) STATUS_MUST_CHECK;

void life_free(struct life *life);

/* Makes every running life stop at its next step; safe in a signal handler. */
void life_request_stop(void);

#endif
