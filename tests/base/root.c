/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/base/root.h"

static double cube_less(double x, void *context)
{
    const double *level = (const double *)context;
    return x * x * x - *level;
}

static double above_ground(double x, void *context)
{
    (void)context;
    return 1.7 + (x - 2.385) * (x - 2.385);
}

static void a_crossing_is_found_to_the_tolerance_asked(void **state)
{
    (void)state;
    double level = 13.71;
    assert_close(root_find(cube_less, &level, 0.3, 9.1, 1e-12), cbrt(13.71), 0, 1e-12);
    assert_close(root_find(cube_less, &level, 0.3, 9.1, 1e-3), cbrt(13.71), 0, 1e-3);
}

static void the_crossing_may_fall_instead_of_rise(void **state)
{
    (void)state;
    double level = -13.71;
    assert_close(root_find(cube_less, &level, -9.1, -0.3, 1e-12), -cbrt(13.71), 0, 1e-12);
}

static void a_root_at_an_end_is_that_end(void **state)
{
    (void)state;
    double level = 27;
    assert_close(root_find(cube_less, &level, 3, 9.1, 1e-9), 3, 0, 0);
    assert_close(root_find(cube_less, &level, 0.3, 3, 1e-9), 3, 0, 0);
}

static void without_a_crossing_the_better_end_is_returned(void **state)
{
    (void)state;
    assert_close(root_find(above_ground, NULL, 0.3, 3.1, 1e-9), 3.1, 0, 0);
    assert_close(root_find(above_ground, NULL, 2.1, 7.3, 1e-9), 2.1, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_crossing_is_found_to_the_tolerance_asked),
        cmocka_unit_test(the_crossing_may_fall_instead_of_rise),
        cmocka_unit_test(a_root_at_an_end_is_that_end),
        cmocka_unit_test(without_a_crossing_the_better_end_is_returned),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
