/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/visit/observation.h"

#include <math.h>

#include "hidden.h"

static struct liquid observation_mixed(const struct observation_bucket *bucket,
                                       double kept_l, double water_l, double stock_l)
{
    struct liquid mixed = {0};
    const double total_l = kept_l + water_l + stock_l;
    if (total_l <= 0) {
        return mixed;
    }
    for (int i = 0; i < ION_COUNT; i++) {
        mixed.mmol_l[i] =
            (bucket->liquid.mmol_l[i] * kept_l + bucket->water->mmol_l[i] * water_l +
             bucket->stock->mmol_l[i] * stock_l) /
            total_l;
    }
    mixed.alkalinity_meq_l = (bucket->liquid.alkalinity_meq_l * kept_l +
                              bucket->water->alkalinity_meq_l * water_l +
                              bucket->stock->alkalinity_meq_l * stock_l) /
                             total_l;
    return mixed;
}

double observation_ec_after(const struct observation *seen, double drain_l,
                            double water_l, double stock_l)
{
    const double kept_l = fmax(seen->volume_l - drain_l, 0);
    const struct liquid mixed = observation_mixed(seen->bucket, kept_l, water_l, stock_l);
    return (1 + seen->bucket->pen_relative) *
           pen_read(seen->bucket->pen, &mixed).ec_ms_cm;
}

double observation_test(const struct observation *seen, enum ion ion)
{
    return seen->bucket->liquid.mmol_l[ion];
}
