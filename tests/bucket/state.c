/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <string.h>

#include "pailcast/bucket/state.h"

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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_not_below_nothing_stays_to_the_last_bit),
        cmocka_unit_test(what_was_taken_beyond_nothing_is_given_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
