/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The logbook that a careful grower would have kept of a life. */
#ifndef PAILCAST_STUDY_KEEP_H
#define PAILCAST_STUDY_KEEP_H

#include <stdint.h>

#include "pailcast/run/life.h"
#include "pailcast/scenario/logbook.h"

/* Standard deviations of what pen and ruler show. */
struct keep_noise {
    double ec_ms_cm, level_cm, ph;
};

/* 0.05 mS/cm, 2 mm, 0.1 pH (chosen: an ordinary pen, a ruler in an uneasy bucket). */
extern const struct keep_noise keep_noise_usual;

/* One row on day 0 and one for each visit of life: readings before the visit, with noise
 * (NULL: exact) from seed, and the pours as made; acid or base is not noted, since it
 * went in as the strategy asks. STATUS_MEMORY. */
enum status keep_logbook(struct logbook *logbook, const struct life *life,
                         const struct scenario *scenario, const struct keep_noise *noise,
                         uint64_t seed, struct error *error) STATUS_MUST_CHECK;

#endif
