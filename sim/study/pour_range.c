/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a pen's error leaves open: the case worked through at the corners where each
 * liquid reads high or low. */
#include <math.h>

#include "pailcast/study/pour.h"

enum {
    RANGE_CORNERS = 8 /* bucket, water, stock: each low or high */
};

static void range_widen(double *low, double *high, double value)
{
    *low = fmin(*low, value);
    *high = fmax(*high, value);
}

/* What the pen reads of a liquid: typed, or read off its ions. */
static double range_reading(double typed_ms_cm, const struct liquid *liquid,
                            const struct pen *pen)
{
    return isnan(typed_ms_cm) ? pen_read(pen, liquid).ec_ms_cm : typed_ms_cm;
}

struct pour_range pour_range_of(const struct pour_kit *kit,
                                const struct pour_readings *readings,
                                const struct pour_plan *plan, double error_ms_cm)
{
    struct pour_range range = {plan->drain_l,        plan->drain_l,       plan->water_l,
                               plan->water_l,        plan->stock_l,       plan->stock_l,
                               plan->ec_after_ms_cm, plan->ec_after_ms_cm};
    const struct pour_case nominal = pour_case_of(kit, readings);
    const double bucket = range_reading(readings->ec_ms_cm, &nominal.bucket, &kit->pen);
    const double water =
        range_reading(readings->water_ec_ms_cm, &nominal.water, &kit->pen);
    const double stock =
        range_reading(readings->stock_ec_ms_cm, &nominal.stock, &kit->pen);
    for (int corner = 0; corner < RANGE_CORNERS; corner++) {
        struct pour_readings read = *readings;
        read.ec_ms_cm = fmax(bucket + (corner & 1 ? error_ms_cm : -error_ms_cm), 0);
        read.water_ec_ms_cm = fmax(water + (corner & 2 ? error_ms_cm : -error_ms_cm), 0);
        if (nominal.has_stock) {
            read.stock_ec_ms_cm =
                fmax(stock + (corner & 4 ? error_ms_cm : -error_ms_cm), 0);
        }
        const struct pour_case now = pour_case_of(kit, &read);
        const struct pour_plan other = pour_plan_of(&now);
        range_widen(&range.drain_low_l, &range.drain_high_l, other.drain_l);
        range_widen(&range.water_low_l, &range.water_high_l, other.water_l);
        range_widen(&range.stock_low_l, &range.stock_high_l, other.stock_l);
        range_widen(&range.ec_low_ms_cm, &range.ec_high_ms_cm,
                    pour_ec_ms_cm(&now, plan->drain_l, plan->water_l, plan->stock_l,
                                  plan->salt_l));
    }
    return range;
}
