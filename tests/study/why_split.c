/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "../../sim/study/why_split.h"
#include "support/bench.h"

static struct scenario scenario;

/* Parts of whole drifts of a life's first days, from rows so far apart. */
static struct why_tally drifts(double sample_every_d, double days)
{
    struct why_tally sum = {0};
    struct life life = {0};
    const struct pen pen =
        pen_at(scenario.room.water_temperature_c, scenario.room.root_co2_ppm);
    scenario.sample_every_d = sample_every_d;
    scenario.duration_d = days;
    bench_live(&life, &scenario, 0);
    for (size_t i = 1; i < life.trajectory.sample_count; i++) {
        const struct sample *sample = &life.trajectory.samples[i];
        if (sample->event == EVENT_AFTER_VISIT) {
            continue;
        }
        const struct why_tally step =
            why_split_drift(sample[-1].state, sample->state, &pen);
        why_split_add(&sum, &step);
    }
    life_free(&life);
    return sum;
}

/* The line between two rows is not quite the path of the life: an hour apart is near
 * enough. */
static void halving_the_hour_moves_no_part_by_a_thousandth(void **state)
{
    (void)state;
    static const char *const names[] = {"renew-or-not", "first-bucket",
                                        "wheat-hard-water-acid"};
    for (size_t k = 0; k < sizeof names / sizeof names[0]; k++) {
        bench_shipped(&scenario, names[k]);
        const struct why_tally hours = drifts(1.0 / 24, 60);
        const struct why_tally halves = drifts(1.0 / 48, 60);
        double most = 0;
        for (int i = 0; i < WHY_PART_COUNT; i++) {
            most = fmax(most, fabs(halves.part[i]));
        }
        assert_true(most > 0.1);
        for (int i = 0; i < WHY_PART_COUNT; i++) {
            assert_close(hours.part[i], halves.part[i], 0, 1e-3 * most);
        }
    }
}

static double ec_of_state(const double state[STATE_COUNT], const struct pen *pen)
{
    const struct liquid liquid = state_liquid(state);
    return pen_read(pen, &liquid).ec_ms_cm;
}

static double sum_of(const struct why_tally *tally)
{
    double sum = 0;
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        sum += tally->part[i];
    }
    return sum;
}

/* A day's step in which alkalinity passes through zero and pH falls from 7 to 4: EC bends
 * sharply, and the pieces follow. */
static void a_leap_of_ph_within_a_step_is_followed(void **state)
{
    (void)state;
    const struct pen pen = pen_at(22, 1000);
    const struct liquid start = {
        .mmol_l = {8.43, 0.61, 0.03, 4.79, 2.31, 0.4, 1.24, 0.37, 0.29},
        .alkalinity_meq_l = 0.31};
    double before[STATE_COUNT] = {0};
    double after[STATE_COUNT];
    state_pour(before, &start, 11.3);
    for (int i = 0; i < STATE_COUNT; i++) {
        after[i] = before[i];
    }
    after[STATE_VOLUME] -= 1.27;
    after[STATE_DRUNK] = 1.27;
    after[STATE_ALKALINITY] = -0.9;
    after[STATE_ION + ION_NH4] -= 5;
    after[STATE_UPTAKE + ION_NH4] = 5;
    const struct liquid end = state_liquid(after);
    assert_true(pen_read(&pen, &start).ph > 6.5 && pen_read(&pen, &end).ph < 4.5);
    const struct why_tally tally = why_split_drift(before, after, &pen);
    assert_close(sum_of(&tally), ec_of_state(after, &pen) - ec_of_state(before, &pen), 0,
                 1e-6);
    assert_true(tally.part[WHY_DRINKING] > 0 && tally.part[WHY_EATING] < 0);
}

/* What is not in the running totals is not explained by any part. */
static void a_loss_that_nothing_accounts_for_stays_unexplained(void **state)
{
    (void)state;
    const struct pen pen = pen_at(22, 1000);
    const struct liquid start = {
        .mmol_l = {8.43, 0.61, 1.17, 4.79, 2.31, 0.4, 1.24, 0.37, 0.29}};
    double before[STATE_COUNT] = {0};
    double after[STATE_COUNT];
    state_pour(before, &start, 11.3);
    for (int i = 0; i < STATE_COUNT; i++) {
        after[i] = before[i];
    }
    after[STATE_ION + ION_K] -= 7;
    after[STATE_ION + ION_NO3] -= 7;
    const struct why_tally tally = why_split_drift(before, after, &pen);
    assert_close(sum_of(&tally), 0, 0, 1e-12);
    assert_true(ec_of_state(after, &pen) < ec_of_state(before, &pen) - 0.05);
}

static void tallies_add_up_field_by_field(void **state)
{
    (void)state;
    struct why_tally sum = {.drunk_l = 1.3, .renewals = 1, .part = {[WHY_STOCK] = 0.7}};
    const struct why_tally step = {.part = {[WHY_STOCK] = 0.2, [WHY_OTHER] = -0.1},
                                   .drunk_l = 0.4,
                                   .evaporated_l = 0.03,
                                   .drained_l = 2.1,
                                   .water_l = 3.1,
                                   .stock_l = 1.7,
                                   .renewal_water_l = 5.3,
                                   .renewal_stock_l = 4.1,
                                   .eaten_mmol = {[ION_CL] = 0.6},
                                   .in_drunk_mmol = {[ION_K] = 0.9},
                                   .poured_mmol = {[ION_P] = 0.8},
                                   .visits = 2,
                                   .renewals = 1};
    why_split_add(&sum, &step);
    why_split_add(&sum, &step);
    assert_close(sum.part[WHY_STOCK], 1.1, 1e-12, 0);
    assert_close(sum.part[WHY_OTHER], -0.2, 1e-12, 0);
    assert_close(sum.drunk_l, 2.1, 1e-12, 0);
    assert_close(sum.evaporated_l, 0.06, 1e-12, 0);
    assert_close(sum.drained_l, 4.2, 1e-12, 0);
    assert_close(sum.water_l + sum.stock_l, 9.6, 1e-12, 0);
    assert_close(sum.renewal_water_l + sum.renewal_stock_l, 18.8, 1e-12, 0);
    assert_close(sum.eaten_mmol[ION_CL], 1.2, 1e-12, 0);
    assert_close(sum.in_drunk_mmol[ION_K], 1.8, 1e-12, 0);
    assert_close(sum.poured_mmol[ION_P], 1.6, 1e-12, 0);
    assert_int_equal(sum.visits, 4);
    assert_int_equal(sum.renewals, 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(halving_the_hour_moves_no_part_by_a_thousandth),
        cmocka_unit_test(a_leap_of_ph_within_a_step_is_followed),
        cmocka_unit_test(a_loss_that_nothing_accounts_for_stays_unexplained),
        cmocka_unit_test(tallies_add_up_field_by_field),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
