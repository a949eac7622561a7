/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a grower can see at a visit: level, EC, calendar, stage - and the pen in a trial
 * mix. Never the ions, unless a rule asks for a test, which is counted as work. */
#ifndef PAILCAST_VISIT_OBSERVATION_H
#define PAILCAST_VISIT_OBSERVATION_H

#include <stddef.h>

#include "pailcast/chem/ion.h"

struct observation_bucket; /* the hidden bucket, opened only in observation.c */

struct observation {
    double volume_l; /* from the level mark */
    double ec_ms_cm; /* as the pen shows it */
    double since_renewal_d;
    size_t stage; /* growth stage, index into the crop's stages */
    const struct observation_bucket *bucket;
};

/* What the pen would read after draining, then pouring water and stock: the answer a
 * grower gets by mixing a jugful first. Litres >= 0, drain_l <= volume_l. mS/cm. */
double observation_ec_after(const struct observation *seen, double drain_l,
                            double water_l, double stock_l);

/* A test strip or laboratory value of one ion, mmol/L. */
double observation_test(const struct observation *seen, enum ion ion);

#endif
