/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/mix.h"

/* A nutrient at less than this share of what goes with the nitrogen of a complete feed
 * would be called short (chosen). */
static const double mix_scarce_share = 0.5;

struct mix mix_of(const struct liquid *liquid, const struct pen *pen,
                  const struct liquid *feed)
{
    const struct speciation speciation =
        speciation_solve(liquid, &pen->equilibrium, pen->co2_ppm);
    struct mix mix = {
        .liquid = *liquid,
        .reading = {.ec_ms_cm = conductivity_ms_cm(&speciation, &pen->setting),
                    .ph = speciation.ph},
        .salt_g_l = liquid_salt_g_l(liquid),
        .charge_error_percent = liquid_charge_error_percent(liquid)};
    saturation_index(mix.saturation, &speciation, &pen->equilibrium);
    const double nitrogen = liquid->mmol_l[ION_NO3] + liquid->mmol_l[ION_NH4];
    const double feed_nitrogen = feed->mmol_l[ION_NO3] + feed->mmol_l[ION_NH4];
    for (int i = 0; i < ION_COUNT; i++) {
        const bool counts = ion_table[i].nutrient && i != ION_NO3 && i != ION_NH4;
        mix.scarce[i] = counts && liquid->mmol_l[i] * feed_nitrogen <
                                      mix_scarce_share * feed->mmol_l[i] * nitrogen;
    }
    return mix;
}
