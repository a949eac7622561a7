/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/study/pour.h"

/* Less than this share of the bucket is not worth a step of its own. */
static const double steps_least = 1e-6;

/* A pen without an error typed tells no finer difference (chosen). */
static const double steps_told_ms_cm = 0.02;

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

static double steps_reads(const struct pour_case *now, const struct steps_sum *sum)
{
    return pour_ec_ms_cm(now, sum->drain_l, sum->water_l, sum->stock_l, sum->salt_l);
}

/* Two where the pen can tell the second half from the first, which is how it stops
 * whoever has poured enough; else one. */
static int steps_halves(struct steps_sum sum, const struct pour_case *now,
                        enum pour_act act, double amount_l, double told_ms_cm)
{
    steps_do(&sum, act, 0.5 * amount_l);
    const double half_ms_cm = steps_reads(now, &sum);
    steps_do(&sum, act, 0.5 * amount_l);
    return fabs(steps_reads(now, &sum) - half_ms_cm) < told_ms_cm ? 1 : 2;
}

/* Appends an act in `parts` equal parts. */
static size_t steps_add(struct pour_step *steps, size_t count, struct steps_sum *sum,
                        const struct pour_case *now, enum pour_act act, double amount_l,
                        int parts)
{
    for (int part = 0; part < parts && count < POUR_STEPS_MAX; part++) {
        steps_do(sum, act, amount_l / parts);
        steps[count++] = (struct pour_step){
            .act = act,
            .amount_l = amount_l / parts,
            .holds_l = now->volume_l - sum->drain_l + sum->water_l + sum->stock_l,
            .reads_ms_cm = steps_reads(now, sum),
        };
    }
    return count;
}

size_t pour_steps_of(struct pour_step steps[POUR_STEPS_MAX], const struct pour_case *now,
                     const struct pour_plan *plan, double pen_error_ms_cm)
{
    const double amounts_l[] = {[POUR_DRAIN] = plan->drain_l,
                                [POUR_WATER] = plan->water_l,
                                [POUR_STOCK] = plan->stock_l,
                                [POUR_SALTS] = plan->salt_l};
    const double told_ms_cm = fmax(steps_told_ms_cm, pen_error_ms_cm);
    struct steps_sum sum = {0};
    size_t count = 0;
    for (int act = POUR_DRAIN; act <= POUR_SALTS; act++) {
        const double amount_l = amounts_l[act];
        if (!(amount_l > steps_least * now->full_l)) {
            continue;
        }
        const bool strengthens = act == POUR_STOCK || act == POUR_SALTS;
        const int parts =
            strengthens ? steps_halves(sum, now, (enum pour_act)act, amount_l, told_ms_cm)
                        : 1;
        count = steps_add(steps, count, &sum, now, (enum pour_act)act, amount_l, parts);
    }
    return count;
}
