/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "why_ahead.h"

#include <math.h>

/* A row right after a visit. */
static void ahead_note(struct why_ahead *ahead, const struct sample *sample,
                       const struct scenario_limits *limits)
{
    const struct liquid liquid = state_liquid(sample->state);
    if (sample->ec_ms_cm > limits->ec_high_ms_cm) {
        ahead->ec_left_d = fmin(ahead->ec_left_d, sample->day_d);
    }
    for (int i = 0; i < ION_COUNT; i++) {
        if (liquid.mmol_l[i] > limits->high_mmol_l[i]) {
            ahead->ion_left_d[i] = fmin(ahead->ion_left_d[i], sample->day_d);
        }
    }
}

static void ahead_read(struct why_ahead *ahead, const struct life *life,
                       const struct scenario_limits *limits)
{
    const struct life_first_days *first = &life->first;
    ahead->lost_d = fmin(first->plant_lost, INFINITY);
    ahead->until_d = fmin(life->end_d, ahead->lost_d);
    ahead->ec_high_d = fmin(first->ec_high, INFINITY);
    for (int i = 0; i < ION_COUNT; i++) {
        ahead->ion_high_d[i] = fmin(first->ion_high[i], INFINITY);
        ahead->gone_d[i] = fmin(first->nutrient_low[i], INFINITY);
    }
    for (size_t i = 0; i < life->trajectory.sample_count; i++) {
        const struct sample *sample = &life->trajectory.samples[i];
        if (trajectory_is_visit(sample) && sample->day_d <= ahead->until_d) {
            ahead_note(ahead, sample, limits);
        }
    }
}

static struct why_ahead ahead_nothing(void)
{
    struct why_ahead ahead = {
        .until_d = NAN, .ec_left_d = INFINITY, .ec_high_d = INFINITY, .lost_d = INFINITY};
    for (int i = 0; i < ION_COUNT; i++) {
        ahead.ion_left_d[i] = ahead.ion_high_d[i] = ahead.gone_d[i] = INFINITY;
    }
    return ahead;
}

enum status why_ahead(struct why_ahead *ahead, const struct life *life,
                      struct scenario *world, const struct strategy *strategy,
                      struct error *error)
{
    const struct hands hands = hands_strategy(strategy);
    const struct life_moment from = life_last(life);
    const struct sample *visit = trajectory_last_visit(&life->trajectory);
    struct life later = {0};
    *ahead = ahead_nothing();
    if (from.plant_lost) {
        return STATUS_OK;
    }
    world->duration_d = from.now.day_d + WHY_AHEAD_D;
    world->sample_every_d = 2 * world->duration_d;
    const enum status status = life_go_on(&later, &from, world, strategy, &hands, error);
    if (status == STATUS_OK || status == STATUS_SOLVER) {
        ahead_read(ahead, &later, &world->limits);
        if (visit != NULL) {
            ahead_note(ahead, visit, &world->limits);
        }
    }
    life_free(&later);
    return status == STATUS_SOLVER ? STATUS_OK : status;
}
