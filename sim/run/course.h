/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rates of one world, with its lamp off and on. */
#ifndef PAILCAST_RUN_COURSE_H
#define PAILCAST_RUN_COURSE_H

#include "pailcast/bucket/rates.h"
#include "pailcast/chem/pen.h"
#include "pailcast/scenario/scenario.h"

/* Stays where it was prepared: its rates borrow its crop. */
struct course {
    struct crop crop; /* the scenario's, with what has been learned of it */
    struct rates rates;
    struct plant_setting lamp_off, lamp_on;
};

/* ideal: of the unstressed plant. course_set must follow before rates are evaluated. */
void course_prepare(struct course *course, const struct scenario *scenario,
                    const struct pen *pen, bool ideal);

/* state[STATE_COUNT] becomes the bucket as first filled, its plant just set in. strategy
 * as in scenario_start_liquid. */
void course_start(double state[STATE_COUNT], const struct course *course,
                  const struct scenario *scenario, const struct strategy *strategy);

/* What holds until the next stop. */
void course_set(struct course *course, bool lamp_on, size_t stage);

#endif
