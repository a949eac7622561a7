/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fewer points where a picture could not show them all. */
#ifndef SIM_REPORT_THIN_H
#define SIM_REPORT_THIN_H

#include "pailcast/run/trajectory.h"

/* Of samples between visits every `stride`th stays, a power of two so that a curve
 * sampled a few times a day keeps the same hours; visits stay or go with both their
 * samples. */
struct thin {
    size_t stride, visit_stride;
    size_t plain, visits; /* seen so far */
};

/* Thinning of path to at most `points` (> 1); rows of other events come on top. */
struct thin thin_start(const struct trajectory *path, size_t points);

/* Whether the next sample stays; to be asked for each sample in order. */
bool thin_keeps(struct thin *thin, const struct sample *sample);

#endif
