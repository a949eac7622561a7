/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plant as measured: by hand from uptake = (eats + follows x concentration) x litres.
 */
#include "support/close.h"

#include <math.h>

#include "pailcast/plant/plant.h"

static struct crop cucumber_like(void)
{
    struct crop crop = crop_defaults(CROP_TABLE);
    crop.stage_count = 3;
    crop.stages[0] = (struct crop_stage){.lasts_d = 17.5, .drinks_l_d = 0.31};
    crop.stages[1] = (struct crop_stage){.lasts_d = 28.5,
                                         .drinks_l_d = 1.43,
                                         .eats_mmol_l = {[ION_K] = 6.2, [ION_P] = 0.9},
                                         .follows = {[ION_NA] = 0.27, [ION_P] = 0.05}};
    crop.stages[2] = (struct crop_stage){.lasts_d = INFINITY, .drinks_l_d = 0.9};
    return crop;
}

static struct plant_exchange exchange_in(double wet, double p_mmol_l, bool ideal)
{
    const struct crop crop = cucumber_like();
    const struct plant_setting setting = {0};
    const double state[PLANT_STATE_COUNT] = {0};
    const struct plant_medium medium = {
        .mmol_l = {[ION_K] = 3.7, [ION_P] = p_mmol_l, [ION_NA] = 2.3}, .wet = wet};
    double rate[PLANT_STATE_COUNT];
    struct plant_exchange exchange;
    plant_kind_of(CROP_TABLE)
        ->rates(rate, &exchange, state, 1, &crop, &setting, &medium, ideal);
    return exchange;
}

static void it_eats_for_every_litre_it_drinks(void **state)
{
    (void)state;
    const struct plant_exchange whole = exchange_in(1, 1.1, false);
    assert_close(whole.drunk_l_d, 1.43, 0, 0);
    assert_close(whole.uptake_mmol_d[ION_K], 6.2 * 1.43, 1e-14, 0);
    assert_close(whole.uptake_mmol_d[ION_NA], 0.27 * 2.3 * 1.43, 1e-14, 0);
    assert_close(whole.uptake_mmol_d[ION_P], (0.9 + 0.05 * 1.1) * 1.43, 1e-14, 0);
    assert_close(whole.uptake_mmol_d[ION_CA], 0, 0, 0);
    const struct plant_exchange less = exchange_in(0.37, 1.1, false);
    assert_close(less.uptake_mmol_d[ION_NA], 0.37 * whole.uptake_mmol_d[ION_NA], 1e-14,
                 0);
    assert_close(exchange_in(0.37, 1.1, true).drunk_l_d, 1.43, 0, 0);
}

/* Full down to 0.05 mmol/L and half at half of it (the switch is symmetric). */
static void the_last_of_an_ion_is_taken_slowly(void **state)
{
    (void)state;
    const double follows = 0.05;
    assert_close(exchange_in(1, 0.051, false).uptake_mmol_d[ION_P],
                 (0.9 + follows * 0.051) * 1.43, 1e-14, 0);
    assert_close(exchange_in(1, 0.025, false).uptake_mmol_d[ION_P],
                 (0.45 + follows * 0.025) * 1.43, 1e-12, 0);
    assert_close(exchange_in(1, 0, false).uptake_mmol_d[ION_P], 0, 0, 0);
}

static void a_stage_begins_when_those_before_have_lasted(void **state)
{
    (void)state;
    const struct crop crop = cucumber_like();
    const struct plant_kind *plant = plant_kind_of(CROP_TABLE);
    const double nothing[PLANT_STATE_COUNT] = {0};
    static const double day_d[] = {0, 17.4, 17.5, 45.9, 46, 4000};
    static const size_t expected[] = {0, 0, 1, 1, 2, 2};
    for (int i = 0; i < 6; i++) {
        assert_int_equal(plant->stage(&crop, nothing, day_d[i]), expected[i]);
    }
    assert_close(plant->next_change(&crop, 0), 17.5, 1e-14, 0);
    assert_close(plant->next_change(&crop, 17.5), 46, 1e-14, 0);
    assert_true(isinf(plant->next_change(&crop, 46)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_eats_for_every_litre_it_drinks),
        cmocka_unit_test(the_last_of_an_ion_is_taken_slowly),
        cmocka_unit_test(a_stage_begins_when_those_before_have_lasted),
    };
    return cmocka_run_group_tests_name("table plant", tests, NULL, NULL);
}
