/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How high an axis must reach: so that a short peak does not flatten all the rest, it is
 * cut off - and told. */
#ifndef SIM_REPORT_SCALE_H
#define SIM_REPORT_SCALE_H

#include <stdbool.h>

#include "pailcast/run/trajectory.h"

/* A curve of a life: mmol/L of an ion by its number, or EC. */
enum {
    SCALE_EC = ION_COUNT
};

struct scale {
    double top;              /* worth showing, without headroom */
    double peak, peak_day_d; /* highest value and when */
    bool cut;                /* the peak lies above `top` */
};

/* The scale of one curve, in its own unit. Values that are not finite do not count. Where
 * the highest value is more than 1.6 times what the curve keeps below in 96 of 100
 * samples it is cut at 1.25 times that (chosen). */
struct scale scale_of(const struct trajectory *path, int curve);

/* A scale for both: the higher top, the higher peak. */
struct scale scale_join(struct scale a, struct scale b);

/* a raised to show `level` too, where that is finite. */
struct scale scale_reach(struct scale a, double level);

#endif
