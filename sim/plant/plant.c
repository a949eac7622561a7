/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/plant/plant.h"

#include "plants.h"

/* Two days without any water in a warm dry room (common practice, no source). */
const double plant_thirst_limit_d = 2.0;

const size_t plant_tissue_of[ION_COUNT] = {
    [ION_NO3] = PLANT_TISSUE + NUTRIENT_N,       [ION_NH4] = PLANT_TISSUE + NUTRIENT_N,
    [ION_P] = PLANT_TISSUE + NUTRIENT_P,         [ION_K] = PLANT_TISSUE + NUTRIENT_K,
    [ION_CA] = PLANT_TISSUE + NUTRIENT_CA,       [ION_MG] = PLANT_TISSUE + NUTRIENT_MG,
    [ION_SO4] = PLANT_TISSUE + NUTRIENT_S,       [ION_NA] = PLANT_TISSUE + NUTRIENT_COUNT,
    [ION_CL] = PLANT_TISSUE + NUTRIENT_COUNT + 1};

const struct plant_kind *plant_kind_of(enum crop_kind kind)
{
    static const struct plant_kind *const kinds[] = {
        [CROP_NONE] = &table_plant,
        [CROP_TABLE] = &table_plant,
        [CROP_GROWN] = &grown_plant,
    };
    return kinds[kind];
}

double plant_cut(double state[PLANT_STATE_COUNT], double share)
{
    double removed = share * (state[PLANT_DRY_MASS] - state[PLANT_ROOT_MASS]);
    if (removed <= 0) {
        return 0;
    }
    double kept = 1 - removed / state[PLANT_DRY_MASS];
    state[PLANT_DRY_MASS] -= removed;
    state[PLANT_LEAF_AREA] *= 1 - share;
    for (int i = PLANT_TISSUE; i < PLANT_STATE_COUNT; i++) {
        state[i] *= kept;
    }
    return removed;
}
