/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lives of one random scenario told in two wordings, compared. Include after
 * support/close.h. */
#ifndef TESTS_RUN_RANDOM_RETOLD_H
#define TESTS_RUN_RANDOM_RETOLD_H

#include <math.h>
#include <string.h>

#include "support/random_scenario.h"

/* The strategy of that name. */
static inline const struct strategy *retold_named(const struct scenario *scenario,
                                                  const char *name)
{
    for (size_t i = 0; i < scenario->strategy_count; i++) {
        if (strcmp(scenario->strategies[i].name, name) == 0) {
            return &scenario->strategies[i];
        }
    }
    return NULL;
}

/* The same scenario in other words, kept from one strategy to the next. */
struct retold {
    uint64_t seed;
    struct scenario scenario;
};

static inline void retold_live(struct life *life, const struct random_life *lived,
                               const struct wording *wording, struct retold *retold)
{
    if (retold->seed != lived->seed) {
        random_scenario_read(&retold->scenario, lived->seed, wording);
        retold->seed = lived->seed;
    }
    const struct strategy *strategy =
        retold_named(&retold->scenario, lived->strategy->name);
    assert_non_null(strategy);
    random_scenario_live(life, lived->seed, &retold->scenario, strategy);
}

/* The largest difference of two rows' values, relative to the value or to one (mmol, L,
 * g, d, mS/cm), whichever is more; INFINITY where the rows are not of one kind. */
static inline double retold_difference(const struct sample *a, const struct sample *b)
{
    double most = fmax(fabs(a->day_d - b->day_d), fabs(a->ph - b->ph));
    if (a->event != b->event || a->ion != b->ion || a->stage != b->stage) {
        return INFINITY;
    }
    most = fmax(most, fabs(a->ec_ms_cm - b->ec_ms_cm) / (a->ec_ms_cm + 1));
    for (int c = 0; c < STATE_COUNT; c++) {
        most = fmax(most, fabs(a->state[c] - b->state[c]) / (fabs(a->state[c]) + 1));
    }
    return most;
}

#endif
