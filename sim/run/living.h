/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A life in progress: what the main loop in life.c works on. */
#ifndef PAILCAST_RUN_LIVING_H
#define PAILCAST_RUN_LIVING_H

#include "course.h"
#include "pailcast/run/life.h"
#include "pailcast/run/solver.h"
#include "thresholds.h"

struct living_poured {
    double water_l, stock_l, drained_l;
};

struct living {
    struct life *life;
    const struct scenario *scenario;
    const struct strategy *strategy; /* NULL: the unstressed plant, nobody visits */
    struct slopes *slopes;           /* NULL: none are carried */
    struct hands hands;
    struct course course;
    struct pen pen;
    struct visit_kit kit;
    struct solver *solver; /* owned */
    struct thresholds thresholds;
    struct living_poured poured;
    bool lean; /* rows at sample times only; no visits kept */
    double day_d, next_visit_d, renewed_d;
    double atol[STATE_COUNT];
};

/* Sets everything up at day 0 (hands: NULL with a NULL strategy), short of starting the
 * solver (living_sample, then living_restart); on success living_end must follow. */
enum status living_begin(struct living *living, struct life *life,
                         const struct scenario *scenario, const struct strategy *strategy,
                         const struct hands *hands, struct slopes *slopes,
                         struct error *error) STATUS_MUST_CHECK;

/* From day 0 to a moment of an earlier life. */
void living_take_up(struct living *living, const struct life_moment *from);

/* Closes the ledger and releases the solver. */
void living_end(struct living *living);

/* Lamp and stage of this moment. */
void living_set_clock(struct living *living);

/* Starts the solver anew from the present state; crossings that a jump made count. */
enum status living_restart(struct living *living, struct error *error) STATUS_MUST_CHECK;

/* First sample time after now, a multiple of the sample interval. */
double living_next_sample(const struct living *living);

/* Records a row of the present state. */
enum status living_sample(struct living *living, enum event event, enum ion ion,
                          struct error *error) STATUS_MUST_CHECK;

/* Records a row of state[STATE_COUNT] at this moment, its pen reading being known. */
enum status living_record(struct living *living, const double state[],
                          const struct pen_reading *reading, enum event event,
                          enum ion ion, struct error *error) STATUS_MUST_CHECK;

/* Records every threshold that the solver has just found crossed. */
enum status living_cross(struct living *living, struct error *error) STATUS_MUST_CHECK;

/* STATUS_SOLVER with day, culprit and last good sample. */
enum status living_failure(struct living *living, struct error *error);

#endif
