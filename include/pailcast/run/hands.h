/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who tends the bucket: a strategy that decides at its visits, or the entries of a
 * logbook, imposed as they happened. The main loop knows neither. */
#ifndef PAILCAST_RUN_HANDS_H
#define PAILCAST_RUN_HANDS_H

#include <stddef.h>

#include "pailcast/visit/visit.h"

/* Borrows its context. */
struct hands {
    /* First visit later than day_d (-1: before day 0); INFINITY when there is none. */
    double (*next)(const void *context, double day_d);
    /* As visit_make. */
    struct visit_record (*visit)(double state[STATE_COUNT], double day_d,
                                 double since_renewal_d, size_t stage,
                                 const struct visit_kit *kit, const void *context);
    const void *context;
};

/* One entry of a logbook: done at day_d in the order drain, pour. */
struct hands_entry {
    double day_d;
    struct visit_given given;
};

/* Entries in order of day, borrowed; after the last of them (strategy_visit_after) the
 * strategy goes on by its own calendar with its own water and stock, or nobody comes
 * where it is NULL. */
struct hands_log {
    const struct hands_entry *entries;
    size_t count;
    const struct strategy *then;
};

struct hands hands_strategy(const struct strategy *strategy);
struct hands hands_log(const struct hands_log *log);

#endif
