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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cuts_repeat_and_those_of_one_moment_are_combined),
        cmocka_unit_test(a_cut_takes_shoot_leaves_and_content_but_no_root),
    };
    return cmocka_run_group_tests_name("crop", tests, NULL, NULL);
}
