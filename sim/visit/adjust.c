/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/visit/adjust.h"

#include <math.h>
#include <stdbool.h>

#include "pailcast/base/root.h"

/* So fine that slopes by an unknown of the first filling can be differenced. */
static const double adjust_tolerance_mmol_l = 1e-11;

struct adjust_search {
    const struct strategy_adjust *adjust;
    const struct liquid *liquid;
    const struct pen *pen;
};

static double adjust_miss(double mmol_l, void *context)
{
    const struct adjust_search *search = context;
    struct liquid dosed = *search->liquid;
    salt_dissolve_mmol(&dosed, search->adjust->with, mmol_l);
    return pen_read(search->pen, &dosed).ph - search->adjust->to_ph;
}

double adjust_dose_mmol_l(const struct strategy_adjust *adjust,
                          const struct liquid *liquid, const struct pen *pen)
{
    if (adjust->with == NULL || adjust->with->alkalinity == 0) {
        return 0;
    }
    const bool acid = adjust->with->alkalinity < 0;
    const double ph = pen_read(pen, liquid).ph;
    if (acid ? ph <= adjust->above_ph : ph >= adjust->above_ph) {
        return 0;
    }
    /* Phosphate and bicarbonate buffer some of what is added: at most three times over.
     */
    const double wanted =
        speciation_alkalinity_at(liquid, adjust->to_ph, &pen->equilibrium, pen->co2_ppm);
    const double most = 3 * fabs(wanted - liquid->alkalinity_meq_l) + 1;
    struct adjust_search search = {.adjust = adjust, .liquid = liquid, .pen = pen};
    return root_find(adjust_miss, &search, 0, most, adjust_tolerance_mmol_l);
}
