/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Balances by hand from the equations of docs/model.md, "Eating". */
#include "support/close.h"

#include <math.h>

#include "pailcast/plant/uptake.h"

static const double mass_g = 41.3;
static const double root_g = 6.7;
static const double optimum[NUTRIENT_COUNT] = {2.83, 0.213, 1.37, 0.46, 0.19, 0.127};

/* A plant at its optimum in a rich neutral solution, with no luxury. */
struct meal {
    struct crop_growth growth;
    struct plant_setting setting;
    struct plant_medium medium;
    struct plant_exchange exchange;
    double state[PLANT_STATE_COUNT];
};

static struct meal meal_of(void)
{
    struct meal meal = {
        .growth = crop_defaults(CROP_GROWN).growth,
        .setting = {.kinetics = 1},
        .medium = {.mmol_l = {9.7, 0.83, 1.13, 5.3, 2.9, 1.07, 1.21, 1.9, 1.43},
                   .hydrogen = 1e-6,
                   .wet = 1},
        .exchange = {.drunk_l_d = 0.37, .grown_g_d = 0.61},
        .state = {[PLANT_DRY_MASS] = mass_g, [PLANT_ROOT_MASS] = root_g}};
    for (int i = 0; i < 3; i++) {
        meal.growth.luxury[i] = 1;
    }
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        meal.state[PLANT_TISSUE + i] = optimum[i] * mass_g;
    }
    return meal;
}

static const double *eat(struct meal *meal)
{
    uptake_rates(&meal->exchange, meal->state, optimum, &meal->growth, &meal->setting,
                 &meal->medium);
    return meal->exchange.uptake_mmol_d;
}

static double cation_share(double hydrogen)
{
    return 1 / (1 + pow(hydrogen / 1e-4, 1.5));
}

static double anion_share(double hydrogen)
{
    return 1 / (1 + pow(pow(10, -8.8) / hydrogen, 0.75));
}

/* What grows needs its optimum and nothing more; the roots could take twenty times that,
 * which holds back less than a thousandth. */
static void a_well_fed_plant_takes_what_it_grows_with(void **state)
{
    (void)state;
    struct meal meal = meal_of();
    const double *uptake = eat(&meal);
    const double acid = cation_share(1e-6), base = anion_share(1e-6);
    assert_close(uptake[ION_NO3] / base + uptake[ION_NH4] / acid, 2.83 * 0.61, 1e-3, 0);
    assert_close(uptake[ION_P] / base, 0.213 * 0.61, 1e-3, 0);
    assert_close(uptake[ION_K] / acid, 1.37 * 0.61, 1e-3, 0);
}

/* A quarter of the nitrogen at most while there is nitrate, all of it when there is none.
 */
static void ammonium_is_a_share_of_the_nitrogen(void **state)
{
    (void)state;
    struct meal meal = meal_of();
    meal.growth.ammonium_share = 0.23;
    const double *uptake = eat(&meal);
    const double share = uptake[ION_NH4] / (uptake[ION_NH4] + uptake[ION_NO3]);
    assert_close(share, 0.23, 0.06, 0);
    meal.medium.mmol_l[ION_NO3] = 0;
    uptake = eat(&meal);
    assert_close(uptake[ION_NO3], 0, 0, 0);
    assert_close(uptake[ION_NH4], 2.83 * 0.61, 0.06, 0);
}

/* Michaelis-Menten: half of the capacity at the half-saturation (potassium 4 mmol/g/d and
 * 0.02 mmol/L, docs/sources.md), 1.6 times as fast ten degrees up, nothing out of the
 * water. Demand of an empty plant is far above. */
static void a_starved_plant_takes_what_its_roots_can(void **state)
{
    (void)state;
    struct meal meal = meal_of();
    meal.state[PLANT_TISSUE + NUTRIENT_K] = 0;
    meal.exchange.grown_g_d = 97;
    meal.medium.mmol_l[ION_K] = 0.02;
    const double cold = eat(&meal)[ION_K];
    assert_close(cold, 0.5 * 4.0 * root_g * cation_share(1e-6), 1e-3, 0);
    meal.setting.kinetics = 1.6;
    assert_close(eat(&meal)[ION_K], 1.6 * cold, 1e-2, 0);
    meal.medium.wet = 0;
    assert_close(eat(&meal)[ION_K], 0, 0, 0);
    assert_close(eat(&meal)[ION_NO3], 0, 0, 0);
}

/* A thirsty plant that does not grow: selectivity x concentration x litres. */
static void calcium_magnesium_and_sulfate_come_with_the_water(void **state)
{
    (void)state;
    struct meal meal = meal_of();
    meal.exchange.drunk_l_d = 3.1;
    meal.exchange.grown_g_d = 0;
    const double *uptake = eat(&meal);
    const double acid = cation_share(1e-6), base = anion_share(1e-6);
    assert_close(uptake[ION_CA] / acid, 0.40 * 2.9 * 3.1, 1e-9, 0);
    assert_close(uptake[ION_MG] / acid, 0.30 * 1.07 * 3.1, 1e-9, 0);
    assert_close(uptake[ION_SO4] / base, 0.28 * 1.21 * 3.1, 1e-9, 0);
}

/* And actively where the water brings too little: in moist air nothing is drunk. */
static void what_the_water_leaves_short_is_taken_actively(void **state)
{
    (void)state;
    struct meal meal = meal_of();
    meal.exchange.drunk_l_d = 0;
    const double *uptake = eat(&meal);
    assert_close(uptake[ION_CA] / cation_share(1e-6), 0.46 * 0.61, 1e-3, 0);
    assert_close(uptake[ION_MG] / cation_share(1e-6), 0.19 * 0.61, 1e-3, 0);
}

/* Sodium and chloride each by the content of its own. */
static void sodium_and_chloride_come_up_to_their_caps(void **state)
{
    (void)state;
    struct meal meal = meal_of();
    const double *uptake = eat(&meal);
    assert_close(uptake[ION_NA] / cation_share(1e-6), 0.10 * 1.9 * 0.37, 1e-12, 0);
    assert_close(uptake[ION_CL] / anion_share(1e-6), 0.30 * 1.43 * 0.37, 1e-12, 0);
    meal.state[PLANT_TISSUE + NUTRIENT_COUNT] = 0.3 * mass_g;
    uptake = eat(&meal);
    assert_close(uptake[ION_NA], 0, 0, 0);
    assert_close(uptake[ION_CL] / anion_share(1e-6), 0.30 * 1.43 * 0.37, 1e-12, 0);
    meal.state[PLANT_TISSUE + NUTRIENT_COUNT] = 0;
    meal.state[PLANT_TISSUE + NUTRIENT_COUNT + 1] = 0.6 * mass_g;
    uptake = eat(&meal);
    assert_close(uptake[ION_NA] / cation_share(1e-6), 0.10 * 1.9 * 0.37, 1e-12, 0);
    assert_close(uptake[ION_CL], 0, 0, 0);
}

/* Half of the cations at pH 4.0 and of the anions at 8.8 (common practice, no source;
 * docs/sources.md), of the other sign more than nine tenths. */
static void acid_hampers_cations_and_alkaline_water_anions(void **state)
{
    (void)state;
    struct meal meal = meal_of();
    double neutral[ION_COUNT];
    for (int i = 0; i < ION_COUNT; i++) {
        neutral[i] = eat(&meal)[i];
    }
    meal.medium.hydrogen = 1e-4;
    const double *acid = eat(&meal);
    assert_close(acid[ION_K] / neutral[ION_K], 0.5, 2e-3, 0);
    assert_close(acid[ION_CA] / neutral[ION_CA], 0.5, 2e-3, 0);
    assert_true(acid[ION_NO3] > 0.9 * neutral[ION_NO3]);
    meal.medium.hydrogen = pow(10, -8.8);
    const double *alkaline = eat(&meal);
    assert_close(alkaline[ION_NO3] / neutral[ION_NO3], 0.5, 0.01, 0);
    assert_close(alkaline[ION_SO4] / neutral[ION_SO4], 0.5, 0.01, 0);
    assert_true(alkaline[ION_K] > 0.9 * neutral[ION_K]);
}

/* Twice the optimum of phosphorus where the solution is very rich, half the way at 1.5
 * mmol/L (docs/sources.md): the lack is made good in five days. */
static void a_rich_solution_is_taken_in_stock(void **state)
{
    (void)state;
    struct meal meal = meal_of();
    meal.growth.luxury[NUTRIENT_P] = 2;
    meal.medium.mmol_l[ION_P] = 1.5;
    const double target = 1.5 * 0.213;
    const double demand = target * 0.61 + (target - 0.213) * mass_g / 5;
    assert_close(eat(&meal)[ION_P] / anion_share(1e-6), demand, 0.02, 0);
}

/* A nutrient whose content is nought, or whose cap is. */
static void what_a_plant_has_no_use_for_stays_in_the_water(void **state)
{
    (void)state;
    struct meal meal = meal_of();
    double usual[ION_COUNT];
    for (int i = 0; i < ION_COUNT; i++) {
        usual[i] = eat(&meal)[i];
    }
    double none[NUTRIENT_COUNT];
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        none[i] = i == NUTRIENT_CA ? 0 : optimum[i];
    }
    meal.state[PLANT_TISSUE + NUTRIENT_CA] = 0;
    meal.growth.cap_mmol_g[ION_NA] = 0;
    uptake_rates(&meal.exchange, meal.state, none, &meal.growth, &meal.setting,
                 &meal.medium);
    for (int i = 0; i < ION_COUNT; i++) {
        const bool unused = i == ION_CA || i == ION_NA;
        assert_close(meal.exchange.uptake_mmol_d[i], unused ? 0 : usual[i], 1e-12, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_well_fed_plant_takes_what_it_grows_with),
        cmocka_unit_test(ammonium_is_a_share_of_the_nitrogen),
        cmocka_unit_test(a_starved_plant_takes_what_its_roots_can),
        cmocka_unit_test(calcium_magnesium_and_sulfate_come_with_the_water),
        cmocka_unit_test(what_the_water_leaves_short_is_taken_actively),
        cmocka_unit_test(sodium_and_chloride_come_up_to_their_caps),
        cmocka_unit_test(acid_hampers_cations_and_alkaline_water_anions),
        cmocka_unit_test(a_rich_solution_is_taken_in_stock),
        cmocka_unit_test(what_a_plant_has_no_use_for_stays_in_the_water),
    };
    return cmocka_run_group_tests_name("uptake", tests, NULL, NULL);
}
