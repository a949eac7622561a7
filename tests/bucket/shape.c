/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "pailcast/bucket/shape.h"

static const struct shape pail = {.full_l = 19.2,
                                  .height_cm = 37.4,
                                  .top_diameter_cm = 29.7,
                                  .bottom_diameter_cm = 26.1,
                                  .net_pot_depth_cm = 9.3};
static const struct shape tub = {
    .full_l = 11, .height_cm = 23.6, .top_diameter_cm = 31.2, .bottom_diameter_cm = 31.2};

static const double pi = 3.14159265358979323846;

/* The frustum of elementary geometry: pi h (R^2 + R r + r^2) / 3. */
static void a_pail_holds_what_its_frustum_holds(void **state)
{
    (void)state;
    const double r = 13.05, top = 14.85;
    assert_close(shape_rim_l(&pail), pi * 37.4 * (r * r + r * top + top * top) / 3000,
                 1e-12, 0);
    assert_close(shape_rim_l(&tub), pi * 15.6 * 15.6 * 23.6 / 1000, 1e-12, 0);
}

static void level_and_volume_undo_each_other(void **state)
{
    (void)state;
    for (double level = 0.37; level < 23; level += 1.83) {
        assert_close(shape_level_cm(&pail, shape_volume_l(&pail, level)), level, 1e-10,
                     0);
        assert_close(shape_level_cm(&tub, shape_volume_l(&tub, level)), level, 1e-10, 0);
    }
    assert_close(shape_level_cm(&pail, -0.2), 0, 0, 0);
}

static void roots_have_the_depth_below_the_net_pot(void **state)
{
    (void)state;
    assert_close(shape_root_room_cm(&pail), 37.4 - 9.3, 1e-12, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pail_holds_what_its_frustum_holds),
        cmocka_unit_test(level_and_volume_undo_each_other),
        cmocka_unit_test(roots_have_the_depth_below_the_net_pot),
    };
    return cmocka_run_group_tests_name("shape", tests, NULL, NULL);
}
