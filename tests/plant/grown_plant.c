/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plant that grows, behind its interface: what the lamp fixes, and where everything
 * taken up goes. */
#include "support/close.h"

#include <math.h>

#include "pailcast/plant/plant.h"
#include "support/lit_room.h"

static const struct plant_medium feed = {
    .mmol_l = {9.7, 0.83, 1.13, 5.3, 2.9, 1.07, 1.21, 1.9, 1.43},
    .ec_ms_cm = 1.9,
    .hydrogen = 1e-6,
    .wet = 1,
    .root_room_cm = 28.1};

/* Half grown, with what it should contain and some sodium and chloride. */
struct pot {
    struct crop crop;
    struct plant_setting setting;
    double state[PLANT_STATE_COUNT];
    double rate[PLANT_STATE_COUNT];
    struct plant_exchange exchange;
};

static struct pot pot_of(bool lamp_on)
{
    struct pot pot = {.crop = crop_defaults(CROP_GROWN)};
    const struct plant_kind *plant = plant_kind_of(CROP_GROWN);
    plant->prepare(&pot.setting, &pot.crop, &lit_room, lamp_on);
    plant->start(pot.state, &pot.crop);
    pot.state[PLANT_DRY_MASS] = 17.3;
    pot.state[PLANT_ROOT_MASS] = 2.9;
    pot.state[PLANT_LEAF_AREA] = 0.143;
    for (int i = PLANT_TISSUE; i < PLANT_STATE_COUNT; i++) {
        pot.state[i] *= 17.3 / 0.5;
    }
    pot.state[PLANT_TISSUE + NUTRIENT_COUNT] = 1.7;
    pot.state[PLANT_TISSUE + NUTRIENT_COUNT + 1] = 2.3;
    return pot;
}

static void live(struct pot *pot, const struct plant_medium *medium)
{
    plant_kind_of(CROP_GROWN)
        ->rates(pot->rate, &pot->exchange, pot->state, 0, &pot->crop, &pot->setting,
                medium, false);
}

static void the_lamp_brings_its_air_and_its_light(void **state)
{
    (void)state;
    const struct pot day = pot_of(true);
    const struct pot night = pot_of(false);
    assert_close(day.setting.air.saturation_kpa, transpiration_saturation_kpa(25.3), 0,
                 0);
    assert_close(day.setting.air.deficit_kpa, 0.53 * transpiration_saturation_kpa(25.3),
                 1e-12, 0);
    assert_close(night.setting.air.deficit_kpa, 0.44 * transpiration_saturation_kpa(19.2),
                 1e-12, 0);
    /* 410 umol/m2/s through the 86,400 seconds of a day */
    assert_close(day.setting.photon_mol_m2_d, 35.424, 1e-12, 0);
    assert_close(night.setting.photon_mol_m2_d, 0, 0, 0);
    assert_close(night.setting.radiation_w_m2, 0, 0, 0);
}

/* Degree-days from the base of 6 up to the 27 degC beyond which heat no longer helps. */
static void heat_counts_between_base_and_optimum(void **state)
{
    (void)state;
    static const double expected[][2] = {{3.1, 0}, {25.3, 19.3}, {34.5, 21}};
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++) {
        struct room other = lit_room;
        struct plant_setting setting;
        const struct crop crop = crop_defaults(CROP_GROWN);
        other.day.temperature_c = expected[i][0];
        plant_kind_of(CROP_GROWN)->prepare(&setting, &crop, &other, true);
        assert_close(setting.thermal_c, expected[i][1], 1e-12, 1e-12);
    }
}

static void what_the_roots_take_arrives_in_the_tissue(void **state)
{
    (void)state;
    struct pot pot = pot_of(true);
    live(&pot, &feed);
    const double *tissue = pot.rate + PLANT_TISSUE;
    const double *uptake = pot.exchange.uptake_mmol_d;
    assert_true(uptake[ION_NH4] > 0 && uptake[ION_NA] > 0);
    assert_close(tissue[NUTRIENT_N], uptake[ION_NO3] + uptake[ION_NH4], 1e-14, 0);
    assert_close(tissue[NUTRIENT_P], uptake[ION_P], 0, 0);
    assert_close(tissue[NUTRIENT_K], uptake[ION_K], 0, 0);
    assert_close(tissue[NUTRIENT_CA], uptake[ION_CA], 0, 0);
    assert_close(tissue[NUTRIENT_MG], uptake[ION_MG], 0, 0);
    assert_close(tissue[NUTRIENT_S], uptake[ION_SO4], 0, 0);
    assert_close(tissue[NUTRIENT_COUNT], uptake[ION_NA], 0, 0);
    assert_close(tissue[NUTRIENT_COUNT + 1], uptake[ION_CL], 0, 0);
    pot.crop.growth.turnover_per_d = 0.017;
    live(&pot, &feed);
    assert_close(tissue[NUTRIENT_K], uptake[ION_K] - 0.017 * 1.35 * 17.3, 1e-12, 0);
}

/* Salt makes water harder to get: at the moment the stomata alone act, over a season the
 * leaves that did not grow do the rest (Soares, docs/sources.md, saw drinking fall
 * 0.70-0.82 times as much as growth). */
static void salt_cuts_drinking_less_than_growth(void **state)
{
    (void)state;
    struct pot pot = pot_of(true);
    struct plant_medium brine = feed;
    brine.ec_ms_cm = 7.4;
    live(&pot, &feed);
    const double drunk_l_d = pot.exchange.drunk_l_d;
    const double grown_g_d = pot.exchange.grown_g_d;
    live(&pot, &brine);
    const double less_drunk = 1 - pot.exchange.drunk_l_d / drunk_l_d;
    const double less_grown = 1 - pot.exchange.grown_g_d / grown_g_d;
    /* Maas and Hoffman's line at the default slope, daily: (1 - 0.06 x 4.9)^0.6 */
    assert_close(less_grown, 1 - pow(1 - 0.06 * 4.9, 0.6), 1e-9, 0);
    assert_true(less_drunk > 0.02 && less_drunk < 0.82 * less_grown);
}

static void roots_without_water_thirst_and_with_it_forget(void **state)
{
    (void)state;
    struct pot pot = pot_of(true);
    struct plant_medium dry = feed;
    dry.wet = 0;
    pot.state[PLANT_THIRST] = 0.7;
    live(&pot, &dry);
    assert_close(pot.rate[PLANT_THIRST], 1, 0, 0);
    assert_close(pot.exchange.drunk_l_d, 0, 0, 0);
    assert_close(pot.exchange.grown_g_d, 0, 0, 0);
    live(&pot, &feed);
    assert_close(pot.rate[PLANT_THIRST], -0.7, 1e-12, 0);
}

static void a_stage_begins_at_its_thermal_time(void **state)
{
    (void)state;
    struct crop crop = crop_defaults(CROP_GROWN);
    crop.stage_count = 3;
    crop.stages[1].from_gdd = 420;
    crop.stages[2].from_gdd = 910;
    static const double thermal_c_d[] = {0, 419.9, 420, 909.9, 910, 4000};
    static const size_t expected[] = {0, 0, 1, 1, 2, 2};
    for (int i = 0; i < 6; i++) {
        const double plant[PLANT_STATE_COUNT] = {[PLANT_THERMAL_TIME] = thermal_c_d[i]};
        assert_int_equal(plant_kind_of(CROP_GROWN)->stage(&crop, plant, 3), expected[i]);
    }
    assert_true(isinf(plant_kind_of(CROP_GROWN)->next_change(&crop, 3)));
}

/* The plant that growth is measured against takes exactly its optimum, from nowhere. */
static void the_unstressed_plant_keeps_its_optimum(void **state)
{
    (void)state;
    struct pot pot = pot_of(true);
    const struct plant_medium nothing = {.root_room_cm = 28.1};
    plant_kind_of(CROP_GROWN)
        ->rates(pot.rate, &pot.exchange, pot.state, 0, &pot.crop, &pot.setting, &nothing,
                true);
    assert_true(pot.exchange.grown_g_d > 0 && pot.exchange.drunk_l_d > 0);
    assert_close(pot.rate[PLANT_TISSUE + NUTRIENT_P], 0.22 * pot.exchange.grown_g_d,
                 1e-12, 0);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_close(pot.exchange.uptake_mmol_d[i], 0, 0, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_lamp_brings_its_air_and_its_light),
        cmocka_unit_test(heat_counts_between_base_and_optimum),
        cmocka_unit_test(what_the_roots_take_arrives_in_the_tissue),
        cmocka_unit_test(salt_cuts_drinking_less_than_growth),
        cmocka_unit_test(roots_without_water_thirst_and_with_it_forget),
        cmocka_unit_test(a_stage_begins_at_its_thermal_time),
        cmocka_unit_test(the_unstressed_plant_keeps_its_optimum),
    };
    return cmocka_run_group_tests_name("grown plant", tests, NULL, NULL);
}
