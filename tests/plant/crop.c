/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/plant/plant.h"

static void cuts_repeat_and_those_of_one_moment_are_combined(void **state)
{
    (void)state;
    struct crop crop = crop_defaults(CROP_GROWN);
    crop.cut_count = 2;
    crop.cuts[0] = (struct crop_cut){.first_d = 35, .every_d = 21, .share = 0.4};
    crop.cuts[1] = (struct crop_cut){.first_d = 56, .every_d = 0, .share = 0.25};
    double share;
    assert_close(crop_next_cut(&crop, 0, &share), 35, 0, 1e-12);
    assert_close(share, 0.4, 1e-12, 0);
    assert_close(crop_next_cut(&crop, 35, &share), 56, 0, 1e-12);
    assert_close(share, 1 - 0.6 * 0.75, 1e-12, 0);
    assert_close(crop_next_cut(&crop, 56, &share), 77, 0, 1e-12);
    assert_close(share, 0.4, 1e-12, 0);
}

static void a_cut_takes_shoot_leaves_and_content_but_no_root(void **state)
{
    (void)state;
    double plant[PLANT_STATE_COUNT] = {
        [PLANT_DRY_MASS] = 23.85, [PLANT_ROOT_MASS] = 3.15, [PLANT_LEAF_AREA] = 0.47};
    plant[PLANT_TISSUE + NUTRIENT_K] = 31.7;
    const double removed = plant_cut(plant, 0.35);
    assert_close(removed, 0.35 * (23.85 - 3.15), 1e-12, 0);
    assert_close(plant[PLANT_DRY_MASS], 23.85 - removed, 1e-12, 0);
    assert_close(plant[PLANT_ROOT_MASS], 3.15, 0, 0);
    assert_close(plant[PLANT_LEAF_AREA], 0.47 * 0.65, 1e-12, 0);
    assert_close(plant[PLANT_TISSUE + NUTRIENT_K] / plant[PLANT_DRY_MASS], 31.7 / 23.85,
                 1e-12, 0);
}

/* Litres go with drinking and mmol a day with eating, each by itself. */
static void a_thirsty_table_plant_eats_no_more_a_day(void **state)
{
    (void)state;
    struct crop crop = crop_defaults(CROP_TABLE);
    crop.stages[0].drinks_l_d = 1.43;
    crop.stages[0].eats_mmol_l[ION_K] = 6.2;
    crop.stages[0].follows[ION_NA] = 0.27;
    const struct crop_scales thirsty = {.drinking = 1.31, .eating = 1, .growth = 1};
    const struct crop_scales hungry = {.drinking = 1, .eating = 0.83, .growth = 1};
    const struct crop drinks = crop_scaled(&crop, &thirsty);
    const struct crop eats = crop_scaled(&crop, &hungry);
    assert_close(drinks.stages[0].drinks_l_d, 1.31 * 1.43, 1e-14, 0);
    assert_close(drinks.stages[0].drinks_l_d * drinks.stages[0].eats_mmol_l[ION_K],
                 1.43 * 6.2, 1e-14, 0);
    assert_close(eats.stages[0].drinks_l_d, 1.43, 0, 0);
    assert_close(eats.stages[0].eats_mmol_l[ION_K], 0.83 * 6.2, 1e-14, 0);
    assert_close(eats.stages[0].follows[ION_NA], 0.83 * 0.27, 1e-14, 0);
}

static void a_grown_plant_differs_from_its_crop_by_its_factors(void **state)
{
    (void)state;
    const struct crop crop = crop_defaults(CROP_GROWN);
    const struct crop_scales scales = {.drinking = 1.31, .eating = 0.83, .growth = 1.17};
    const struct crop scaled = crop_scaled(&crop, &scales);
    assert_close(scaled.growth.water_use, 1.31, 1e-14, 0);
    assert_close(scaled.growth.light_use_g_mol, 1.17 * 0.75, 1e-14, 0);
    assert_close(scaled.growth.tissue_mmol_g[NUTRIENT_K][1], 0.83 * 1.35, 1e-14, 0);
    assert_close(scaled.growth.selectivity[ION_CA], 0.83 * 0.40, 1e-14, 0);
    assert_close(scaled.growth.cap_mmol_g[ION_CL], 0.83 * 0.6, 1e-14, 0);
}

/* A table plant has no mass; a cut of it is none. */
static void a_plant_without_mass_loses_nothing(void **state)
{
    (void)state;
    double plant[PLANT_STATE_COUNT] = {[PLANT_ROOT_DEPTH] = 17.3};
    assert_close(plant_cut(plant, 0.35), 0, 0, 0);
    assert_close(plant[PLANT_ROOT_DEPTH], 17.3, 0, 0);
    assert_close(plant[PLANT_TISSUE + NUTRIENT_K], 0, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cuts_repeat_and_those_of_one_moment_are_combined),
        cmocka_unit_test(a_cut_takes_shoot_leaves_and_content_but_no_root),
        cmocka_unit_test(a_plant_without_mass_loses_nothing),
        cmocka_unit_test(a_thirsty_table_plant_eats_no_more_a_day),
        cmocka_unit_test(a_grown_plant_differs_from_its_crop_by_its_factors),
    };
    return cmocka_run_group_tests_name("crop", tests, NULL, NULL);
}
