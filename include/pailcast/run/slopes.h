/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a life changes with unknowns of its world. */
#ifndef PAILCAST_RUN_SLOPES_H
#define PAILCAST_RUN_SLOPES_H

#include "pailcast/run/solver.h"
#include "pailcast/scenario/scenario.h"

/* Of what pens and ruler show, per unit of an unknown. */
struct slopes_reading {
    double ec_ms_cm, level_cm, ph;
};

/* Zero-initialise, fill in what is asked, hand to life_run_slopes; release with
 * slopes_free. */
struct slopes {
    size_t count; /* of unknowns, at most SOLVER_SLOPES_MAX */
    /* By unknown: what would have been learned, were it larger by `step`. */
    struct scenario_learned aside[SOLVER_SLOPES_MAX];
    double step;
    struct slopes_reading *readings; /* owned: on arrival, [visit * count + unknown] */
    size_t visits, room;             /* rows of readings: filled, and allocated */
    struct course *courses;          /* owned: the rates in those worlds */
};

void slopes_free(struct slopes *slopes);

#endif
