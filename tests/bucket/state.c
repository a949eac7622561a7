/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is in the bucket: sums by hand. */
#include "support/close.h"

#include <string.h>

#include "pailcast/bucket/state.h"

static const struct liquid feed = {
    .mmol_l = {10.3, 0.72, 1.05, 5.2, 2.35, 1.02, 1.07, 0.4, 0.35},
    .alkalinity_meq_l = 0.83};

static void a_pour_brings_all_its_liquid_holds(void **state)
{
    (void)state;
    double bucket[STATE_COUNT] = {
        [STATE_VOLUME] = 3.1, [STATE_ION + ION_K] = 7.3, [STATE_ALKALINITY] = -0.6};
    state_pour(bucket, &feed, 2.7);
    assert_close(bucket[STATE_VOLUME], 5.8, 1e-14, 0);
    assert_close(bucket[STATE_ION + ION_K], 7.3 + 2.7 * 5.2, 1e-14, 0);
    assert_close(bucket[STATE_ION + ION_MG], 2.7 * 1.02, 1e-14, 0);
    assert_close(bucket[STATE_ALKALINITY], -0.6 + 2.7 * 0.83, 1e-14, 0);
    const struct liquid liquid = state_liquid(bucket);
    assert_close(liquid.mmol_l[ION_K], (7.3 + 2.7 * 5.2) / 5.8, 1e-14, 0);
    assert_close(liquid.alkalinity_meq_l, (2.7 * 0.83 - 0.6) / 5.8, 1e-14, 0);
}

static void a_drain_takes_the_same_share_of_everything_but_the_plant(void **state)
{
    (void)state;
    double bucket[STATE_COUNT] = {0};
    state_pour(bucket, &feed, 12.7);
    bucket[STATE_PLANT + PLANT_DRY_MASS] = 23.1;
    bucket[STATE_DRUNK] = 4.7;
    state_drain(bucket, 3.9);
    assert_close(bucket[STATE_VOLUME], 8.8, 1e-14, 0);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_close(bucket[STATE_ION + i], 8.8 * feed.mmol_l[i], 1e-14, 0);
    }
    assert_close(bucket[STATE_ALKALINITY], 8.8 * 0.83, 1e-14, 0);
    assert_close(bucket[STATE_PLANT + PLANT_DRY_MASS], 23.1, 0, 0);
    assert_close(bucket[STATE_DRUNK], 4.7, 0, 0);
}

static void more_than_there_is_cannot_be_drained(void **state)
{
    (void)state;
    double bucket[STATE_COUNT] = {0};
    state_drain(bucket, 1.3);
    assert_close(bucket[STATE_VOLUME], 0, 0, 0);
    state_pour(bucket, &feed, 2.7);
    state_drain(bucket, 2.8);
    for (int i = STATE_VOLUME; i <= STATE_ALKALINITY; i++) {
        assert_close(bucket[i], 0, 0, 0);
    }
    assert_close(state_liquid(bucket).mmol_l[ION_K], 0, 0, 0);
}

/* Potassium 39.098 and nitrate 62.004 g/mol: IUPAC's atomic weights, as in
 * tests/chem/ion.c. */
static void salt_is_weighed_by_its_ions(void **state)
{
    (void)state;
    double bucket[STATE_COUNT] = {0};
    bucket[STATE_ION + ION_K] = 71.3;
    assert_close(state_salt_g(bucket), 71.3e-3 * 39.098, 1e-14, 0);
    bucket[STATE_ION + ION_NO3] = 38.9;
    assert_close(state_salt_g(bucket), 71.3e-3 * 39.098 + 38.9e-3 * 62.004, 1e-14, 0);
}

/* As the message says where a life could not be followed. */
static void every_component_has_its_words(void **state)
{
    (void)state;
    static const struct {
        size_t component;
        const char *words;
    } named[] = {
        {STATE_VOLUME, "water in the bucket"},
        {STATE_ION + ION_NO3, "nitrate in the bucket"},
        {STATE_ION + ION_CL, "chloride in the bucket"},
        {STATE_ALKALINITY, "alkalinity of the bucket"},
        {STATE_PLANT + PLANT_DRY_MASS, "dry mass"},
        {STATE_PLANT + PLANT_THIRST, "thirst"},
        {STATE_PLANT + PLANT_TISSUE, "content of the plant"},
        {STATE_DRUNK - 1, "content of the plant"},
        {STATE_DRUNK, "running totals"},
        {STATE_COUNT - 1, "running totals"},
    };
    for (size_t i = 0; i < sizeof named / sizeof named[0]; i++) {
        assert_string_equal(state_name(named[i].component), named[i].words);
    }
}

/* Odd amounts, none of them negative. */
static void fill(double state[STATE_COUNT])
{
    for (int c = 0; c < STATE_COUNT; c++) {
        state[c] = 0.37 + 1.93 * c;
    }
    state[STATE_ALKALINITY] = -2.385;
}

/* Charge of the ions less alkalinity, meq. */
static double charge(const double state[STATE_COUNT])
{
    double net = -state[STATE_ALKALINITY];
    for (int i = 0; i < ION_COUNT; i++) {
        net += ion_table[i].charge * state[STATE_ION + i];
    }
    return net;
}

static void what_is_not_below_nothing_stays_to_the_last_bit(void **state)
{
    (void)state;
    double before[STATE_COUNT];
    double after[STATE_COUNT];
    fill(before);
    memcpy(after, before, sizeof after);
    state_settle(after);
    assert_memory_equal(after, before, sizeof after);
}

static void what_was_taken_beyond_nothing_is_given_back(void **state)
{
    (void)state;
    double now[STATE_COUNT];
    fill(now);
    now[STATE_VOLUME] = -1.3e-7;
    now[STATE_ION + ION_K] = -2.7e-6;
    now[STATE_ION + ION_SO4] = -4.1e-6;
    now[STATE_UPTAKE + ION_NA] = -3.3e-8;
    now[STATE_PLANT + PLANT_THIRST] = -1.9e-6;
    double before[STATE_COUNT];
    memcpy(before, now, sizeof before);
    state_settle(now);
    for (int c = 0; c < STATE_COUNT; c++) {
        assert_true(now[c] >= 0 || c == STATE_ALKALINITY);
    }
    assert_close(now[STATE_ION + ION_K], 0, 0, 0);
    for (int i = 0; i < ION_COUNT; i++) { /* rounding of numbers below a hundred */
        assert_close(now[STATE_ION + i] + now[STATE_UPTAKE + i],
                     before[STATE_ION + i] + before[STATE_UPTAKE + i], 1e-15, 0);
    }
    assert_close(now[STATE_VOLUME] + now[STATE_DRUNK],
                 before[STATE_VOLUME] + before[STATE_DRUNK], 1e-15, 0);
    assert_close(charge(now), charge(before), 1e-15, 0);
    const size_t stored = STATE_PLANT + PLANT_TISSUE + NUTRIENT_K;
    assert_close(now[stored], before[stored] - 2.7e-6, 1e-15, 0);
    /* 2.7e-6 mmol of potassium back, 4.1e-6 of sulfate, 3.3e-8 of sodium away */
    assert_close(now[STATE_ALKALINITY] - before[STATE_ALKALINITY],
                 2.7e-6 - 2 * 4.1e-6 - 3.3e-8, 0, 1e-15);
}

static void what_the_plant_did_not_drink_the_air_gives_back(void **state)
{
    (void)state;
    double now[STATE_COUNT];
    fill(now);
    now[STATE_VOLUME] = -0.5;
    now[STATE_DRUNK] = 0.125;
    now[STATE_EVAPORATED] = 2;
    state_settle(now);
    assert_close(now[STATE_VOLUME], 0, 0, 0);
    assert_close(now[STATE_DRUNK], 0, 0, 0);
    assert_close(now[STATE_EVAPORATED], 1.625, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pour_brings_all_its_liquid_holds),
        cmocka_unit_test(a_drain_takes_the_same_share_of_everything_but_the_plant),
        cmocka_unit_test(more_than_there_is_cannot_be_drained),
        cmocka_unit_test(salt_is_weighed_by_its_ions),
        cmocka_unit_test(every_component_has_its_words),
        cmocka_unit_test(what_is_not_below_nothing_stays_to_the_last_bit),
        cmocka_unit_test(what_was_taken_beyond_nothing_is_given_back),
        cmocka_unit_test(what_the_plant_did_not_drink_the_air_gives_back),
    };
    return cmocka_run_group_tests_name("state", tests, NULL, NULL);
}
