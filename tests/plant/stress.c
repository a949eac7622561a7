/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "pailcast/plant/stress.h"

static const struct crop_growth tomato_like = {.salinity_threshold_ms_cm = 2.5,
                                               .salinity_slope = 0.05};

/* The line of Maas & Hoffman 1977 with these settings: .925 at 4, .825 at 6 mS/cm. */
static void salinity_follows_the_line_above_its_threshold(void **state)
{
    (void)state;
    assert_close(stress_salinity(&tomato_like, 2.3), 1, 0, 0);
    assert_close(stress_salinity(&tomato_like, 4), 0.925, 1e-12, 0);
    assert_close(stress_salinity(&tomato_like, 6), 0.825, 1e-12, 0);
    assert_true(stress_salinity(&tomato_like, 2.5) > 0.998);
    assert_close(stress_salinity(&tomato_like, 40), 0, 0, 0);
}

static void the_scarcest_nutrient_sets_the_pace(void **state)
{
    (void)state;
    const double optimum[NUTRIENT_COUNT] = {2.9, 0.22, 1.35, 0.5, 0.2, 0.13};
    const double mass = 17.3;
    double content[NUTRIENT_COUNT];
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        content[i] = 1.2 * optimum[i] * mass;
    }
    assert_close(stress_shortage(content, optimum, mass, 0.5), 1, 0, 0);
    content[NUTRIENT_K] = 0.75 * optimum[NUTRIENT_K] * mass;
    assert_close(stress_shortage(content, optimum, mass, 0.5), 0.5, 1e-2, 0);
    content[NUTRIENT_N] = 0.7 * optimum[NUTRIENT_N] * mass;
    const double both = stress_shortage(content, optimum, mass, 0.5);
    content[NUTRIENT_K] = 1.2 * optimum[NUTRIENT_K] * mass;
    assert_close(both, stress_shortage(content, optimum, mass, 0.5), 1e-2, 0);
    content[NUTRIENT_N] = 0.5 * optimum[NUTRIENT_N] * mass;
    assert_close(stress_shortage(content, optimum, mass, 0.5), 0, 0, 1e-12);
}

static void what_is_not_needed_is_never_short(void **state)
{
    (void)state;
    const double optimum[NUTRIENT_COUNT] = {2.9, 0.22, 1.35, 0, 0.2, 0.13};
    const double mass = 17.3;
    double content[NUTRIENT_COUNT];
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        content[i] = optimum[i] * mass;
    }
    assert_close(stress_shortage(content, optimum, mass, 0.5), 1, 0, 0);
    content[NUTRIENT_MG] *= 0.75;
    assert_close(stress_shortage(content, optimum, mass, 0.5), 0.5, 1e-2, 0);
}

static void shortage_sets_in_without_a_step(void **state)
{
    (void)state;
    const double optimum[NUTRIENT_COUNT] = {2.9, 0.22, 1.35, 0.5, 0.2, 0.13};
    const double mass = 17.3;
    double content[NUTRIENT_COUNT];
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        content[i] = optimum[i] * mass;
    }
    double before = stress_shortage(content, optimum, mass, 0.5);
    assert_close(before, 1, 0, 0);
    for (int step = 0; step < 2000; step++) {
        content[NUTRIENT_K] *= 1 - 2e-4;
        content[NUTRIENT_P] *= 1 - 1.5e-4;
        const double now = stress_shortage(content, optimum, mass, 0.5);
        assert_true(now <= before && now > before - 2e-3);
        before = now;
    }
    assert_true(before < 0.4);
}

/* Goto et al. 1996: lettuce no worse at 2.1 mg/L; Yoshida et al. 1997: depressed at 0.32.
 */
static void roots_need_little_oxygen_but_some(void **state)
{
    (void)state;
    assert_close(stress_oxygen(8.4), 1, 0, 0);
    assert_close(stress_oxygen(2.1), 0.97, 0, 0.01);
    assert_true(stress_oxygen(0.32) < 0.6);
}

/* Tindall, Mills & Radcliffe 1990: tomato best at 25-26.7 degC root temperature. */
static void roots_like_it_temperate(void **state)
{
    (void)state;
    assert_close(stress_root_temperature(25.8), 1, 0, 0);
    assert_true(stress_root_temperature(10) < 0.1);
    assert_close(stress_root_temperature(38), 0, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(salinity_follows_the_line_above_its_threshold),
        cmocka_unit_test(the_scarcest_nutrient_sets_the_pace),
        cmocka_unit_test(what_is_not_needed_is_never_short),
        cmocka_unit_test(shortage_sets_in_without_a_step),
        cmocka_unit_test(roots_need_little_oxygen_but_some),
        cmocka_unit_test(roots_like_it_temperate),
    };
    return cmocka_run_group_tests_name("stress", tests, NULL, NULL);
}
