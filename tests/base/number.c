/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <float.h>

#include "pailcast/base/number.h"

/* A few units in the last place of numbers near 1. */
static const double rounding = 1e-15;

/* Second differences of step h lose half the digits: h^2 = 1e-8, 1e-16 / 1e-8. */
static const double difference_step = 1e-4;
static const double difference_rounding = 1e-7;

static double number_switch_slope(double x)
{
    return (number_switch(x + difference_step) - number_switch(x - difference_step)) /
           (2 * difference_step);
}

static double number_switch_bend(double x)
{
    return (number_switch(x + difference_step) - 2 * number_switch(x) +
            number_switch(x - difference_step)) /
           (difference_step * difference_step);
}

static void clamp_keeps_what_is_inside_and_bounds_what_is_not(void **state)
{
    (void)state;
    assert_close(number_clamp(2.385, -1.7, 3.1), 2.385, 0, 0);
    assert_close(number_clamp(-2.385, -1.7, 3.1), -1.7, 0, 0);
    assert_close(number_clamp(5.23, -1.7, 3.1), 3.1, 0, 0);
}

static void blend_is_the_share_weighted_mean(void **state)
{
    (void)state;
    assert_close(number_blend(1.37, 4.81, 0.29), 0.71 * 1.37 + 0.29 * 4.81, rounding, 0);
    assert_close(number_blend(1.37, 4.81, 0), 1.37, 0, 0);
}

static void switch_is_exactly_off_below_zero_and_on_above_one(void **state)
{
    (void)state;
    assert_close(number_switch(-0.37), 0, 0, 0);
    assert_close(number_switch(0), 0, 0, 0);
    assert_close(number_switch(1), 1, 0, 0);
    assert_close(number_switch(2.385), 1, 0, 0);
}

/* Its terms reach 10 + 15 + 6: so many units in the last place may be lost. */
static void switch_mirrors_itself_about_its_middle(void **state)
{
    (void)state;
    for (double x = 0.013; x < 1; x += 0.0717) {
        assert_close(number_switch(x) + number_switch(1 - x), 1, 31 * DBL_EPSILON, 0);
    }
}

static void switch_never_turns_back(void **state)
{
    (void)state;
    for (double x = -0.1; x < 1.1; x += 0.00731) {
        assert_true(number_switch(x + 0.00731) >= number_switch(x));
    }
}

/* One-sided values at the ends: slope and bend of x^3(10 - 15x + 6x^2) vanish there, so
 * differences across the end are no larger than the third derivative (60) times h. */
static void switch_has_no_kink_and_no_jump_of_curvature_at_its_ends(void **state)
{
    (void)state;
    const double ends[] = {0, 1};
    for (int i = 0; i < 2; i++) {
        assert_close(number_switch_slope(ends[i]), 0, 0,
                     60 * difference_step * difference_step);
        assert_close(number_switch_bend(ends[i]), 0, 0, 60 * difference_step);
    }
    /* In the middle the slope is 30 x^2 (1 - x)^2 = 1.875: the ends are no accident. */
    assert_close(number_switch_slope(0.5), 1.875, difference_rounding, 0);
}

static void rounded_positive_part_stays_within_its_width_above_the_corner(void **state)
{
    (void)state;
    const double width = 0.0473;
    for (double x = -3.1; x < 3.1; x += 0.0391) {
        double exact = x > 0 ? x : 0;
        double got = number_positive(x, width);
        assert_true(got >= exact);
        assert_true(got <= exact + width);
    }
    assert_close(number_positive(0, width), width, rounding, 0);
}

static void rounded_positive_part_is_never_negative_far_below_the_corner(void **state)
{
    (void)state;
    for (double x = -1.3; x > -1e9; x *= 7.1) {
        assert_true(number_positive(x, 1e-9) >= 0);
    }
}

static void rounded_lesser_is_never_above_either_nor_far_below(void **state)
{
    (void)state;
    const double width = 0.0473;
    for (double a = -2.1; a < 2.1; a += 0.139) {
        double exact = a < 0.617 ? a : 0.617;
        double got = number_lesser(a, 0.617, width);
        assert_true(got <= exact);
        assert_true(got >= exact - width);
        assert_close(got, number_lesser(0.617, a, width), rounding, 0);
    }
}

static void ramp_is_exact_outside_its_corner(void **state)
{
    (void)state;
    assert_close(number_ramp(-0.0474, 0.0473), 0, 0, 0);
    assert_close(number_ramp(0.0474, 0.0473), 0.0474, 0, 0);
    assert_close(number_ramp(0, 0.0473), 0.0473 / 4, rounding, 0);
}

static void ramp_meets_its_straight_lines_in_value_and_slope(void **state)
{
    (void)state;
    const double width = 0.0473;
    const double h = 1e-7;
    for (int side = -1; side <= 1; side += 2) {
        double x = side * width;
        double before = (number_ramp(x, width) - number_ramp(x - h, width)) / h;
        double after = (number_ramp(x + h, width) - number_ramp(x, width)) / h;
        /* curvature 1/(2 width) times h, and the rounding of a difference quotient */
        assert_close(before, after, 0, h / width + 1e-8);
    }
}

static void plateau_is_one_on_top_and_nothing_outside(void **state)
{
    (void)state;
    assert_close(number_plateau(4.9, 5.1, 18.3, 26.2, 37.4), 0, 0, 0);
    assert_close(number_plateau(18.3, 5.1, 18.3, 26.2, 37.4), 1, 0, 0);
    assert_close(number_plateau(23.1, 5.1, 18.3, 26.2, 37.4), 1, 0, 0);
    assert_close(number_plateau(26.2, 5.1, 18.3, 26.2, 37.4), 1, 0, 0);
    assert_close(number_plateau(37.5, 5.1, 18.3, 26.2, 37.4), 0, 0, 0);
}

static void plateau_is_half_way_up_in_the_middle_of_each_flank(void **state)
{
    (void)state;
    assert_close(number_plateau(11.7, 5.1, 18.3, 26.2, 37.4), 0.5, rounding, 0);
    assert_close(number_plateau(31.8, 5.1, 18.3, 26.2, 37.4), 0.5, 10 * rounding, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(clamp_keeps_what_is_inside_and_bounds_what_is_not),
        cmocka_unit_test(blend_is_the_share_weighted_mean),
        cmocka_unit_test(switch_is_exactly_off_below_zero_and_on_above_one),
        cmocka_unit_test(switch_mirrors_itself_about_its_middle),
        cmocka_unit_test(switch_never_turns_back),
        cmocka_unit_test(switch_has_no_kink_and_no_jump_of_curvature_at_its_ends),
        cmocka_unit_test(rounded_positive_part_stays_within_its_width_above_the_corner),
        cmocka_unit_test(rounded_positive_part_is_never_negative_far_below_the_corner),
        cmocka_unit_test(rounded_lesser_is_never_above_either_nor_far_below),
        cmocka_unit_test(ramp_is_exact_outside_its_corner),
        cmocka_unit_test(ramp_meets_its_straight_lines_in_value_and_slope),
        cmocka_unit_test(plateau_is_one_on_top_and_nothing_outside),
        cmocka_unit_test(plateau_is_half_way_up_in_the_middle_of_each_flank),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
