/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What EC is made of. A nutrient is useful up to the amount that a bucket full of fresh
 * feed would hold; what lies beyond, and sodium, chloride and carbonate, is ballast.
 * Amounts are compared, not concentrations, so that drinking alone turns nothing into
 * ballast. */
#include <math.h>

#include "pailcast/study/compare.h"

/* mmol of a nutrient in a bucket full of fresh feed: of the recipe's salts where there
 * are any, else of the stock as typed. */
static double makeup_fresh_mmol(const struct scenario *scenario,
                                const struct strategy *strategy, enum ion ion)
{
    const double salts = liquid_salt_g_l(&strategy->recipe);
    const struct liquid *feed = salts > 0 ? &strategy->recipe : &strategy->stock;
    return ion_table[ion].nutrient ? feed->mmol_l[ion] * scenario->bucket.full_l : 0;
}

struct compare_makeup compare_makeup_of(const struct sample *sample,
                                        const struct scenario *scenario,
                                        const struct strategy *strategy,
                                        const struct pen *pen)
{
    struct compare_makeup makeup = {0};
    double by_ion[ION_COUNT];
    const struct liquid liquid = state_liquid(sample->state);
    const struct speciation speciation =
        speciation_solve(&liquid, &pen->equilibrium, pen->co2_ppm);
    (void)conductivity_parts(by_ion, &makeup.carbonate, &speciation, &pen->setting);
    for (int i = 0; i < ION_COUNT; i++) {
        const double held = fmax(sample->state[STATE_ION + i], 0);
        const double fresh = makeup_fresh_mmol(scenario, strategy, (enum ion)i);
        const double useful = held > 0 ? fmin(1, fresh / held) : 0;
        makeup.useful_by_ion[i] = useful * by_ion[i];
        makeup.ballast_by_ion[i] = (1 - useful) * by_ion[i];
    }
    return makeup;
}

double compare_makeup_ballast(const struct compare_makeup *makeup, double ec_ms_cm)
{
    double useful = 0;
    for (int i = 0; i < ION_COUNT; i++) {
        useful += makeup->useful_by_ion[i];
    }
    return ec_ms_cm - useful;
}
