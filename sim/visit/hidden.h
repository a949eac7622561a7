/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a grower cannot see: opened by observation.c and filled by visit.c, by nobody
 * else. */
#ifndef PAILCAST_VISIT_HIDDEN_H
#define PAILCAST_VISIT_HIDDEN_H

#include "pailcast/chem/pen.h"

struct observation_bucket {
    struct liquid liquid; /* in the bucket now */
    const struct liquid *water, *stock;
    const struct pen *pen;
    double pen_relative; /* what the EC pen shows too much, as a share */
};

#endif
