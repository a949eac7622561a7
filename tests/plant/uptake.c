/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/plant/uptake.h"

/* A plant of 3.7 g in a feed, its tissue at the optimum; uptake of every ion. */
static struct plant_exchange fed(const struct crop_growth *growth)
{
    static const struct plant_medium feed = {
        .mmol_l = {[ION_NO3] = 8.3,
                   [ION_NH4] = 0.7,
                   [ION_P] = 1.1,
                   [ION_K] = 5.2,
                   [ION_CA] = 2.1,
                   [ION_MG] = 0.9,
                   [ION_SO4] = 1.3,
                   [ION_NA] = 1.7,
                   [ION_CL] = 2.3},
        .hydrogen = 1.3e-6,
        .wet = 1,
    };
    static const struct plant_setting setting = {.kinetics = 0.93};
    const double mass_g = 3.7;
    double state[PLANT_STATE_COUNT] = {
        [PLANT_DRY_MASS] = mass_g, [PLANT_ROOT_MASS] = 0.8};
    double optimum[NUTRIENT_COUNT];
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        optimum[i] = growth->tissue_mmol_g[i][0];
        state[PLANT_TISSUE + i] = optimum[i] * mass_g;
    }
    struct plant_exchange exchange = {.drunk_l_d = 0.31, .grown_g_d = 0.43};
    uptake_rates(&exchange, state, optimum, growth, &setting, &feed);
    return exchange;
}

static void a_plant_takes_of_everything_it_uses(void **state)
{
    (void)state;
    const struct crop_growth growth = crop_defaults(CROP_GROWN).growth;
    const struct plant_exchange exchange = fed(&growth);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_true(exchange.uptake_mmol_d[i] > 0);
    }
}

static void what_a_plant_has_no_use_for_stays_in_the_water(void **state)
{
    (void)state;
    struct crop_growth growth = crop_defaults(CROP_GROWN).growth;
    const struct plant_exchange usual = fed(&growth);
    growth.tissue_mmol_g[NUTRIENT_CA][0] = growth.tissue_mmol_g[NUTRIENT_CA][1] = 0;
    growth.cap_mmol_g[ION_NA] = 0;
    const struct plant_exchange exchange = fed(&growth);
    for (int i = 0; i < ION_COUNT; i++) {
        const bool unused = i == ION_CA || i == ION_NA;
        assert_close(exchange.uptake_mmol_d[i], unused ? 0 : usual.uptake_mmol_d[i],
                     1e-12, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plant_takes_of_everything_it_uses),
        cmocka_unit_test(what_a_plant_has_no_use_for_stays_in_the_water),
    };
    return cmocka_run_group_tests_name("uptake", tests, NULL, NULL);
}
