/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/study/pour.h"

/* Less than this share of the bucket is not worth a step of its own. */
static const double steps_least = 1e-6;

/* What has been done so far, in litres. */
struct steps_sum {
    double drain_l, water_l, stock_l, salt_l;
};

static void steps_do(struct steps_sum *sum, enum pour_act act, double amount_l)
{
    switch (act) {
    case POUR_DRAIN:
        sum->drain_l += amount_l;
        break;
    case POUR_WATER:
        sum->water_l += amount_l;
        break;
    case POUR_STOCK:
        sum->stock_l += amount_l;
        break;
    case POUR_SALTS:
        sum->salt_l += amount_l;
        break;
    }
}

/* Appends an act in `parts` equal parts. */
static size_t steps_add(struct pour_step *steps, size_t count, struct steps_sum *sum,
                        const struct pour_case *now, enum pour_act act, double amount_l,
                        int parts)
{
    if (!(amount_l > steps_least * now->full_l)) {
        return count;
    }
    for (int part = 0; part < parts && count < POUR_STEPS_MAX; part++) {
        steps_do(sum, act, amount_l / parts);
        steps[count++] = (struct pour_step){
            .act = act,
            .amount_l = amount_l / parts,
            .holds_l = now->volume_l - sum->drain_l + sum->water_l + sum->stock_l,
            .reads_ms_cm =
                pour_ec_ms_cm(now, sum->drain_l, sum->water_l, sum->stock_l, sum->salt_l),
        };
    }
    return count;
}

size_t pour_steps_of(struct pour_step steps[POUR_STEPS_MAX], const struct pour_case *now,
                     const struct pour_plan *plan)
{
    struct steps_sum sum = {0};
    size_t count = 0;
    count = steps_add(steps, count, &sum, now, POUR_DRAIN, plan->drain_l, 1);
    count = steps_add(steps, count, &sum, now, POUR_WATER, plan->water_l, 1);
    count = steps_add(steps, count, &sum, now, POUR_STOCK, plan->stock_l, 2);
    return steps_add(steps, count, &sum, now, POUR_SALTS, plan->salt_l, 2);
}
