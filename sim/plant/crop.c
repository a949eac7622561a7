/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/plant/crop.h"

#include <math.h>

#include "pailcast/base/moment.h"

const enum ion crop_nutrient_ion[NUTRIENT_COUNT] = {
    [NUTRIENT_N] = ION_NO3, [NUTRIENT_P] = ION_P,   [NUTRIENT_K] = ION_K,
    [NUTRIENT_CA] = ION_CA, [NUTRIENT_MG] = ION_MG, [NUTRIENT_S] = ION_SO4};

/* Values every crop file may leave out; those without a source are chosen, see
 * docs/sources.md. */
static const struct crop_growth crop_growth_defaults = {
    .footprint_m2 = 0.06,
    .extinction = 0.7,
    .stomatal_scale = 1.0,
    .water_use = 1.0,
    .light_use_g_mol = 0.75,
    .start_mass_g = 0.5,
    .leaf_share = {0.6, 0.6},
    .root_share = {0.15, 0.15},
    .flowering_gdd = 0,
    .ramp_gdd = 0,
    .specific_leaf_area_m2_g = 0.03,
    .leaf_area_index_max = 3.5,
    .temperature_c = {6, 20, 27, 38},
    .salinity_threshold_ms_cm = 2.5,
    .salinity_slope = 0.06,
    .tissue_mmol_g =
        {{2.9, 2.9}, {0.22, 0.22}, {1.35, 1.35}, {0.45, 0.45}, {0.2, 0.2}, {0.13, 0.13}},
    .luxury = {1.3, 2.0, 1.5},
    .minimum_ratio = 0.5,
    .ammonium_share = 0.25,
    .selectivity = {[ION_CA] = 0.40,
                    [ION_MG] = 0.30,
                    [ION_SO4] = 0.28,
                    [ION_NA] = 0.10,
                    [ION_CL] = 0.30},
    .cap_mmol_g = {[ION_NA] = 0.3, [ION_CL] = 0.6},
};

struct crop crop_defaults(enum crop_kind kind)
{
    struct crop crop = {.kind = kind, .stage_count = 1, .growth = crop_growth_defaults};
    text_copy(crop.name, sizeof crop.name,
              kind == CROP_NONE ? "no plant" : "unnamed plant");
    text_copy(crop.stages[0].name, sizeof crop.stages[0].name,
              kind == CROP_NONE ? "none" : "growing");
    crop.stages[0].lasts_d = INFINITY;
    crop.root_start_cm = kind == CROP_GROWN ? 5.0 : INFINITY;
    crop.root_rate_cm_d = 1.5;
    return crop;
}

static void crop_scale_growth(struct crop_growth *growth,
                              const struct crop_scales *scales)
{
    growth->water_use *= scales->drinking;
    growth->light_use_g_mol *= scales->growth;
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        growth->tissue_mmol_g[i][0] *= scales->eating;
        growth->tissue_mmol_g[i][1] *= scales->eating;
    }
    for (int i = 0; i < ION_COUNT; i++) {
        growth->selectivity[i] *= scales->eating;
        growth->cap_mmol_g[i] *= scales->eating;
    }
}

struct crop crop_scaled(const struct crop *crop, const struct crop_scales *scales)
{
    struct crop scaled = *crop;
    crop_scale_growth(&scaled.growth, scales);
    for (size_t k = 0; k < CROP_STAGES_MAX; k++) {
        struct crop_stage *stage = &scaled.stages[k];
        stage->drinks_l_d *= scales->drinking;
        for (int i = 0; i < ION_COUNT; i++) {
            stage->eats_mmol_l[i] *= scales->eating / scales->drinking;
            stage->follows[i] *= scales->eating;
        }
    }
    return scaled;
}

double crop_next_cut(const struct crop *crop, double day_d, double *share)
{
    double next = INFINITY;
    double kept = 1;
    for (size_t i = 0; i < crop->cut_count; i++) {
        const struct crop_cut *cut = &crop->cuts[i];
        double when = cut->first_d;
        if (when <= day_d + moment_slack_d) {
            if (cut->every_d <= 0) {
                continue;
            }
            double passed = floor((day_d + moment_slack_d - when) / cut->every_d);
            when += (passed + 1) * cut->every_d;
        }
        if (when < next - moment_slack_d) {
            next = when;
            kept = 1 - cut->share;
        } else if (when < next + moment_slack_d) {
            kept *= 1 - cut->share;
        }
    }
    *share = 1 - kept;
    return next;
}
