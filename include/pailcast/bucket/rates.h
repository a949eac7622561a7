/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The right-hand side: how every amount changes, per day. */
#ifndef PAILCAST_BUCKET_RATES_H
#define PAILCAST_BUCKET_RATES_H

#include <stdbool.h>

#include "pailcast/bucket/shape.h"
#include "pailcast/bucket/state.h"
#include "pailcast/chem/acidity.h"
#include "pailcast/plant/plant.h"

/* Everything the rates need, fixed between two stops. Borrows crop. */
struct rates {
    const struct crop *crop;
    const struct plant_kind *plant;
    struct plant_setting setting; /* of the present lamp state */
    size_t stage;                 /* growth stage since the last stop */
    struct shape shape;
    struct acidity acidity;
    double evaporation_l_d;
    bool ideal; /* the unstressed plant: the bucket does not change */
    bool dead;  /* no more drinking, eating or growing; evaporation goes on */
};

/* Writes rate[STATE_COUNT] for state[STATE_COUNT]. Pure, and free of time: everything
 * that changes by the clock is a stop. Outflow of what is empty or slightly negative is
 * zero. */
void rates_evaluate(double rate[STATE_COUNT], const double state[STATE_COUNT],
                    const struct rates *rates);

/* Share of full water supply the roots reach at this level: 1 with 3 cm or more of root
 * under water, 0 with none. */
double rates_wet(const double state[STATE_COUNT], const struct shape *shape);

#endif
