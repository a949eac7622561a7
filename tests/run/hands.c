/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <string.h>

#include "pailcast/run/life.h"
#include "support/bench.h"

static struct scenario scenario;

/* Four weeks of the first bucket, the aiming strategy. */
static const struct strategy *tended(void)
{
    bench_shipped(&scenario, "first-bucket");
    scenario.duration_d = 28;
    return &scenario.strategies[2];
}

static void pours_imposed_as_noted_give_the_same_life(void **state)
{
    (void)state;
    enum {
        ENTRIES = 16
    };
    const struct strategy *strategy = tended();
    struct life lived;
    struct life again;
    struct hands_entry entries[ENTRIES];
    bench_live(&lived, &scenario, 2);
    const size_t count = lived.trajectory.visit_count;
    assert_true(count > 5 && count < ENTRIES);
    for (size_t i = 0; i < count; i++) {
        const struct visit_record *visit = &lived.trajectory.visits[i];
        entries[i] = (struct hands_entry){
            visit->day_d, {visit->drained_l, visit->water_l, visit->stock_l, 0}};
    }
    /* Half of the visits as noted, the rest by the strategy itself. */
    const struct hands_log log = {entries, count / 2, strategy};
    const struct hands hands = hands_log(&log);
    assert_int_equal(life_run_by(&again, &scenario, strategy, &hands, NULL), STATUS_OK);
    assert_int_equal(again.trajectory.visit_count, count);
    for (size_t i = 0; i < count; i++) {
        const struct visit_record *a = &lived.trajectory.visits[i];
        const struct visit_record *b = &again.trajectory.visits[i];
        assert_close(b->day_d, a->day_d, 0, 0);
        assert_close(b->ec_before_ms_cm, a->ec_before_ms_cm, 1e-12, 0);
        assert_close(b->volume_after_l, a->volume_after_l, 1e-12, 0);
    }
    assert_true(again.balance.water_rel < 1e-12);
    life_free(&lived);
    life_free(&again);
}

static void an_entry_on_day_nought_counts_and_none_come_after_the_last(void **state)
{
    (void)state;
    const struct strategy *strategy = tended();
    const struct hands_entry entries[] = {{0, {2.3, 0, 0, 0}}, {4.7, {0, 1.1, 0.6, 0}}};
    const struct hands_log log = {entries, 2, NULL};
    const struct hands hands = hands_log(&log);
    struct life life;
    assert_int_equal(life_run_by(&life, &scenario, strategy, &hands, NULL), STATUS_OK);
    assert_int_equal(life.trajectory.visit_count, 2);
    assert_close(life.trajectory.visits[0].volume_after_l, scenario.start_l - 2.3, 1e-12,
                 0);
    assert_close(life.trajectory.visits[1].water_l, 1.1, 0, 0);
    assert_close(life.trajectory.visits[1].stock_l, 0.6, 0, 0);
    life_free(&life);
}

/* What was poured before stays what it was; the books count each water for itself. */
static void who_goes_on_brings_a_water_of_their_own(void **state)
{
    (void)state;
    const struct strategy *strategy = tended();
    static struct strategy salty;
    salty = scenario.strategies[0];
    for (int i = 0; i < ION_COUNT; i++) {
        salty.water.mmol_l[i] = i == ION_NA || i == ION_CL ? 3.7 : 0;
    }
    salty.water.alkalinity_meq_l = 0;
    const struct hands_entry entries[] = {{4.7, {0, 0.3, 0.2, 0}}};
    const struct hands_log log = {entries, 1, &salty};
    const struct hands hands = hands_log(&log);
    struct life life;
    assert_int_equal(life_run_by(&life, &scenario, strategy, &hands, NULL), STATUS_OK);
    const struct liquid first = scenario_start_liquid(&scenario, strategy);
    double sodium_mmol = first.mmol_l[ION_NA] * scenario.start_l +
                         0.3 * strategy->water.mmol_l[ION_NA] +
                         0.2 * strategy->stock.mmol_l[ION_NA];
    for (size_t i = 1; i < life.trajectory.visit_count; i++) {
        sodium_mmol += 3.7 * life.trajectory.visits[i].water_l;
    }
    const double *end = life.trajectory.samples[life.trajectory.sample_count - 1].state;
    assert_true(life.trajectory.visit_count > 5);
    assert_close(end[STATE_ION + ION_NA] + end[STATE_UPTAKE + ION_NA], sodium_mmol, 1e-9,
                 0);
    assert_true(life.balance.worst_ion_rel < 1e-12);
    assert_true(life.balance.charge_rel < 1e-12);
    life_free(&life);
}

static void factors_of_one_are_the_crop_itself(void **state)
{
    (void)state;
    (void)tended();
    const struct crop_scales ones = {1, 1, 1};
    const struct crop scaled = crop_scaled(&scenario.crop, &ones);
    assert_memory_equal(&scaled.growth, &scenario.crop.growth, sizeof scaled.growth);
}

/* A table plant takes what its table says, so each factor shows as it is. */
static void a_plant_that_drinks_more_need_not_eat_more(void **state)
{
    (void)state;
    bench_shipped(&scenario, "measured-cucumber");
    scenario.duration_d = 9;
    struct life plain;
    struct life learned;
    bench_live(&plain, &scenario, 0);
    scenario.learned.plant.drinking = 1.17;
    scenario.learned.plant.eating = 0.91;
    scenario.learned.evaporation = 1.3;
    bench_live(&learned, &scenario, 0);
    const double *a = plain.trajectory.samples[plain.trajectory.sample_count - 1].state;
    const double *b =
        learned.trajectory.samples[learned.trajectory.sample_count - 1].state;
    assert_close(b[STATE_DRUNK] / a[STATE_DRUNK], 1.17, 1e-6, 0);
    assert_close(b[STATE_EVAPORATED] / a[STATE_EVAPORATED], 1.3, 1e-6, 0);
    assert_close(b[STATE_UPTAKE + ION_K] / a[STATE_UPTAKE + ION_K], 0.91, 1e-6, 0);
    life_free(&plain);
    life_free(&learned);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pours_imposed_as_noted_give_the_same_life),
        cmocka_unit_test(an_entry_on_day_nought_counts_and_none_come_after_the_last),
        cmocka_unit_test(who_goes_on_brings_a_water_of_their_own),
        cmocka_unit_test(factors_of_one_are_the_crop_itself),
        cmocka_unit_test(a_plant_that_drinks_more_need_not_eat_more),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
