/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/mix.h"

#include <math.h>

const double mix_fair_percent = 5;

/* A nutrient at less than this share of what goes with the others in a complete feed
 * would be called short (chosen). */
static const double mix_scarce_share = 0.5;

static double mix_nitrogen(const struct liquid *liquid)
{
    return liquid->mmol_l[ION_NO3] + liquid->mmol_l[ION_NH4];
}

/* How many litres of feed hold as much; INFINITY where the feed holds none. */
static double mix_enough(double amount, double of_feed)
{
    return of_feed > 0 ? amount / of_feed : INFINITY;
}

/* Nutrients are counted against nitrogen or potassium, whichever is richer: no water
 * brings those by itself. */
static void mix_find_scarce(bool scarce[ION_COUNT], const struct liquid *liquid,
                            const struct liquid *feed)
{
    const double nitrogen = mix_enough(mix_nitrogen(liquid), mix_nitrogen(feed));
    const double potassium = mix_enough(liquid->mmol_l[ION_K], feed->mmol_l[ION_K]);
    double base = isinf(nitrogen) ? 0 : nitrogen;
    base = isinf(potassium) ? base : fmax(base, potassium);
    for (int i = 0; i < ION_COUNT; i++) {
        const double enough =
            i == ION_NO3 ? nitrogen : mix_enough(liquid->mmol_l[i], feed->mmol_l[i]);
        scarce[i] =
            ion_table[i].nutrient && i != ION_NH4 && enough < mix_scarce_share * base;
    }
}

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
    mix_find_scarce(mix.scarce, liquid, feed);
    return mix;
}

static void mix_feed_of_tissue(struct liquid *feed, const struct crop_growth *growth)
{
    for (int n = 0; n < NUTRIENT_COUNT; n++) {
        for (int age = 0; age < 2; age++) {
            const double nitrogen = growth->tissue_mmol_g[NUTRIENT_N][age];
            const double beside =
                nitrogen > 0 ? growth->tissue_mmol_g[n][age] / nitrogen : 0;
            double *part = &feed->mmol_l[crop_nutrient_ion[n]];
            *part = fmax(*part, beside);
        }
    }
}

bool mix_feed_of(struct liquid *feed, const struct crop *crop)
{
    double all = 0;
    *feed = (struct liquid){0};
    if (crop->kind == CROP_GROWN) {
        mix_feed_of_tissue(feed, &crop->growth);
    }
    for (size_t s = 0; s < crop->stage_count && crop->kind == CROP_TABLE; s++) {
        for (int i = 0; i < ION_COUNT; i++) {
            feed->mmol_l[i] = fmax(feed->mmol_l[i], crop->stages[s].eats_mmol_l[i]);
        }
    }
    for (int i = 0; i < ION_COUNT; i++) {
        all += feed->mmol_l[i];
    }
    return all > 0;
}
