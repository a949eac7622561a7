/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "pailcast/plant/growth.h"

static const struct crop_growth plain = {.footprint_m2 = 0.083,
                                         .light_use_g_mol = 0.87,
                                         .leaf_share = {0.58, 0.23},
                                         .root_share = {0.17, 0.06},
                                         .flowering_gdd = 310,
                                         .ramp_gdd = 240,
                                         .leaf_area_index_max = 3.4,
                                         .turnover_per_d = 0.013};
static const struct plant_setting lit = {.photon_mol_m2_d = 23.7,
                                         .light_use_g_mol = 0.71,
                                         .leaf_area_m2_g = 0.027,
                                         .warmth = 0.83,
                                         .thermal_c = 14.6};
static const double state_of_a_plant[PLANT_STATE_COUNT] = {[PLANT_DRY_MASS] = 38.5,
                                                           [PLANT_ROOT_MASS] = 5.3,
                                                           [PLANT_LEAF_AREA] = 0.21,
                                                           [PLANT_ROOT_DEPTH] = 13.7};

/* Carotti et al. 2021, abstract: lettuce makes 1.01, 0.87 and 0.76 g per mol of light at
 * 200, 400 and 750 umol/m2/s. One curve through three points: to 4 %. */
static void strong_light_is_used_less_well(void **state)
{
    (void)state;
    const double weak = growth_light_use_g_mol(&plain, 200, 420);
    assert_close(growth_light_use_g_mol(&plain, 400, 420) / weak, 0.87 / 1.01, 0.04, 0);
    assert_close(growth_light_use_g_mol(&plain, 750, 420) / weak, 0.76 / 1.01, 0.04, 0);
}

/* Growth rises by 30-40 % from 420 to 1000 ppm CO2 (from memory), and a crop's own light
 * use is that in common air and hardly any light. */
static void carbon_dioxide_helps_by_a_third(void **state)
{
    (void)state;
    const double common = growth_light_use_g_mol(&plain, 263, 420);
    const double rich = growth_light_use_g_mol(&plain, 263, 1000);
    assert_true(rich > 1.30 * common && rich < 1.40 * common);
    assert_close(growth_light_use_g_mol(&plain, 0, 420), 0.87, 1e-12, 0);
}

static void flowering_slides_in_over_thermal_time(void **state)
{
    (void)state;
    assert_close(growth_generative(&plain, 309), 0, 0, 0);
    assert_close(growth_generative(&plain, 310 + 120), 0.5, 1e-12, 0);
    assert_close(growth_generative(&plain, 310 + 240), 1, 0, 0);
    struct crop_growth leafy = plain;
    leafy.ramp_gdd = 0;
    assert_close(growth_generative(&leafy, 5000), 0, 0, 0);
}

/* Balance by hand: 23.7 mol/m2/d on 0.083 m2, 0.62 of it taken in, 0.71 g/mol, 0.9 of
 * that under stress; shares half way between leafy and fruiting; 1.3 % a day shed. */
static void what_is_made_is_shared_out_and_shed(void **state)
{
    (void)state;
    const struct growth_factors factors = {
        .intercepted = 0.62, .generative = 0.5, .stress = 0.9};
    const struct crop crop = {.root_rate_cm_d = 1.7, .growth = plain};
    double rate[PLANT_STATE_COUNT] = {0};
    struct plant_exchange exchange = {0};
    growth_rates(rate, &exchange, state_of_a_plant, &factors, &crop, &lit, 28.1);
    const double made = 23.7 * 0.083 * 0.62 * 0.71 * 0.9;
    assert_close(exchange.grown_g_d, made, 1e-12, 0);
    assert_close(rate[PLANT_DRY_MASS], made - 0.013 * 38.5, 1e-12, 0);
    assert_close(rate[PLANT_ROOT_MASS], 0.115 * made - 0.013 * 5.3, 1e-12, 0);
    assert_close(rate[PLANT_THERMAL_TIME], 14.6, 0, 0);
    assert_close(rate[PLANT_ROOT_DEPTH], 1.7 * 0.83, 1e-12, 0);
}

/* As much as its mass allows, at most 0.3 x warmth a day, and less toward the largest
 * canopy, beyond which only shedding goes on. */
static void leaves_spread_within_their_bounds(void **state)
{
    (void)state;
    const struct growth_factors factors = {.intercepted = 0.62, .stress = 1};
    const struct crop crop = {.growth = plain};
    struct plant_exchange exchange = {0};
    double rate[PLANT_STATE_COUNT] = {0};
    double plant[PLANT_STATE_COUNT] = {[PLANT_LEAF_AREA] = 0.107};
    growth_rates(rate, &exchange, plant, &factors, &crop, &lit, 28.1);
    assert_close(rate[PLANT_LEAF_AREA], 0.58 * exchange.grown_g_d * 0.027 - 0.013 * 0.107,
                 0.06, 0);
    plant[PLANT_LEAF_AREA] = 0.0031;
    growth_rates(rate, &exchange, plant, &factors, &crop, &lit, 28.1);
    assert_true(rate[PLANT_LEAF_AREA] < (0.30 * 0.83 - 0.013) * 0.0031);
    plant[PLANT_LEAF_AREA] = 3.4 * 0.083;
    growth_rates(rate, &exchange, plant, &factors, &crop, &lit, 28.1);
    assert_close(rate[PLANT_LEAF_AREA], -0.013 * 3.4 * 0.083, 1e-12, 0);
}

static void roots_stop_at_the_floor(void **state)
{
    (void)state;
    const struct growth_factors factors = {.intercepted = 0.62, .stress = 1};
    const struct crop crop = {.root_rate_cm_d = 1.7, .growth = plain};
    struct plant_exchange exchange = {0};
    double rate[PLANT_STATE_COUNT] = {0};
    growth_rates(rate, &exchange, state_of_a_plant, &factors, &crop, &lit, 13.7 + 1);
    assert_true(rate[PLANT_ROOT_DEPTH] > 0 && rate[PLANT_ROOT_DEPTH] < 1.7 * 0.83);
    growth_rates(rate, &exchange, state_of_a_plant, &factors, &crop, &lit, 13.7);
    assert_close(rate[PLANT_ROOT_DEPTH], 0, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strong_light_is_used_less_well),
        cmocka_unit_test(carbon_dioxide_helps_by_a_third),
        cmocka_unit_test(flowering_slides_in_over_thermal_time),
        cmocka_unit_test(what_is_made_is_shared_out_and_shed),
        cmocka_unit_test(leaves_spread_within_their_bounds),
        cmocka_unit_test(roots_stop_at_the_floor),
    };
    return cmocka_run_group_tests_name("growth", tests, NULL, NULL);
}
