/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a life leaves what the model was checked on. */
#ifndef PAILCAST_STUDY_BEYOND_H
#define PAILCAST_STUDY_BEYOND_H

#include "pailcast/run/life.h"

/* Days of the first row beyond each; NAN where there is none. */
struct beyond {
    double most_ms_cm; /* the highest EC of the life */
    double ec_d;       /* EC above conductivity_checked_ms_cm */
    double salt_d; /* a grown plant, not yet lost, above stress_salinity_checked_ms_cm */
};

struct beyond beyond_of(const struct life *life, const struct scenario *scenario);

#endif
