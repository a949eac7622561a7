/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/scenario.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/chem/pen.h"
#include "pailcast/visit/adjust.h"

/* A bright shelf in a lived-in room (chosen; docs/scenario.md lists them). */
static const struct room scenario_room = {
    .ppfd_umol_m2_s = 350,
    .umol_per_j = 5.0,
    .lamp_hours = 14,
    .lamp_on_h = 6,
    .day = {.temperature_c = 25, .humidity = 0.45},
    .night = {.temperature_c = 21, .humidity = 0.55},
    .water_temperature_c = 22,
    .co2_ppm = 420,
    .root_co2_ppm = 1000,
    .boundary_s_m = 100,
};

static const double scenario_sample_every_d = 0.25;
static const double scenario_rtol = 1e-6;

struct scenario_learned scenario_unlearned(void)
{
    return (struct scenario_learned){
        .plant = {1, 1, 1}, .evaporation = 1, .start_stock_share = NAN};
}

void scenario_defaults(struct scenario *scenario)
{
    memset(scenario, 0, sizeof *scenario);
    scenario->sample_every_d = scenario_sample_every_d;
    scenario->room = scenario_room;
    scenario->start_stock_share = 1;
    scenario->learned = scenario_unlearned();
    scenario->limits.ec_high_ms_cm = INFINITY;
    scenario->limits.ph_high = INFINITY;
    for (int i = 0; i < ION_COUNT; i++) {
        scenario->limits.high_mmol_l[i] = INFINITY;
    }
    scenario->uncertain = uncertain_defaults();
    scenario->numerics.method = METHOD_ADAMS;
    scenario->numerics.rtol = scenario_rtol;
}

struct scenario *scenario_copy(const struct scenario *scenario)
{
    struct scenario *copy = malloc(sizeof *copy);
    if (copy != NULL) {
        *copy = *scenario;
    }
    return copy;
}

double scenario_start_share(const struct scenario *scenario)
{
    const double learned = scenario->learned.start_stock_share;
    return isnan(learned) ? scenario->start_stock_share : learned;
}

/* Water and stock alone. */
static struct liquid scenario_start_mixed(const struct scenario *scenario,
                                          const struct strategy *strategy)
{
    const struct liquid *water = strategy != NULL ? &strategy->water : &scenario->water;
    const struct liquid *stock = strategy != NULL ? &strategy->stock : &scenario->stock;
    double share = scenario_start_share(scenario);
    for (int i = 0; i < ION_COUNT; i++) {
        const double fall = water->mmol_l[i] - stock->mmol_l[i];
        share = fall > 0 ? fmin(share, fmax(water->mmol_l[i] / fall, 1)) : share;
    }
    struct liquid start = liquid_mix(water, stock, share);
    for (int i = 0; i < ION_COUNT; i++) {
        start.mmol_l[i] = fmax(start.mmol_l[i], 0); /* share 1.3 of 1.3: rounding */
    }
    return start;
}

/* The dose that this mixture asks for. */
static double scenario_start_dose_mmol_l(const struct liquid *mixed,
                                         const struct scenario *scenario,
                                         const struct strategy *strategy)
{
    const struct room *room = &scenario->room;
    if (strategy == NULL || strategy->adjust.with == NULL) {
        return 0;
    }
    const struct pen pen = pen_at(room->water_temperature_c, room->root_co2_ppm);
    return adjust_dose_mmol_l(&strategy->adjust, mixed, &pen);
}

double scenario_start_dose_mmol(const struct scenario *scenario,
                                const struct strategy *strategy)
{
    const struct liquid mixed = scenario_start_mixed(scenario, strategy);
    return scenario->start_l * scenario_start_dose_mmol_l(&mixed, scenario, strategy);
}

struct liquid scenario_start_liquid(const struct scenario *scenario,
                                    const struct strategy *strategy)
{
    struct liquid start = scenario_start_mixed(scenario, strategy);
    const double dose_mmol_l = scenario_start_dose_mmol_l(&start, scenario, strategy);
    if (dose_mmol_l > 0) {
        salt_dissolve_mmol(&start, strategy->adjust.with, dose_mmol_l);
    }
    return start;
}
