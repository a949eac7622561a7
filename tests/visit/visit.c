/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/visit/visit.h"

static const struct shape pail = {.full_l = 18.4,
                                  .height_cm = 37.4,
                                  .top_diameter_cm = 29.7,
                                  .bottom_diameter_cm = 26.1,
                                  .net_pot_depth_cm = 9.3};
static const struct liquid tap = {
    .mmol_l = {[ION_CA] = 0.8, [ION_NA] = 0.6, [ION_CL] = 0.5}, .alkalinity_meq_l = 1.7};
static const struct liquid feed = {
    .mmol_l = {10.3, 0.72, 1.05, 5.2, 3.15, 1.02, 1.07, 0.6, 0.75},
    .alkalinity_meq_l = 1.66};

struct bench {
    struct pen pen;
    struct strategy strategy;
    struct visit_kit kit;
    double state[STATE_COUNT];
};

static void bench_set(struct bench *bench, double volume_l, double strength)
{
    *bench = (struct bench){.pen = pen_at(22, 1000), .strategy = strategy_defaults()};
    bench->strategy.water = tap;
    bench->strategy.stock = feed;
    bench->kit = (struct visit_kit){.strategy = &bench->strategy,
                                    .shape = &pail,
                                    .pen = &bench->pen,
                                    .fresh_stock_share = 0.4};
    const struct liquid liquid = liquid_mix(&tap, &feed, strength);
    state_pour(bench->state, &liquid, volume_l);
}

static void water_fills_to_the_line_and_dilutes_every_ion_alike(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 7.3, 0.8);
    bench.strategy.water = (struct liquid){0};
    const struct liquid before = state_liquid(bench.state);
    const struct visit_record record = visit_make(bench.state, 3, 3, 0, &bench.kit);
    const struct liquid after = state_liquid(bench.state);
    assert_close(record.water_l, 18.4 - 7.3, 1e-12, 0);
    assert_close(bench.state[STATE_VOLUME], 18.4, 1e-12, 0);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_close(after.mmol_l[i], before.mmol_l[i] * 7.3 / 18.4, 1e-12, 0);
    }
    assert_true(record.ec_after_ms_cm < record.ec_before_ms_cm);
}

static void two_half_pours_equal_one(void **state)
{
    (void)state;
    double once[STATE_COUNT] = {0};
    double twice[STATE_COUNT] = {0};
    state_pour(once, &feed, 3.86);
    state_pour(twice, &feed, 1.93);
    state_pour(twice, &feed, 1.93);
    for (int i = 0; i < STATE_COUNT; i++) {
        assert_close(twice[i], once[i], 1e-14, 0);
    }
}

static void a_mix_pours_its_share(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 9.1, 0.8);
    bench.strategy.fill.rule = fill_rule_by_name("mix");
    bench.strategy.fill.stock_share = 0.37;
    const struct visit_record record = visit_make(bench.state, 3, 3, 0, &bench.kit);
    assert_close(record.stock_l, 0.37 * 9.3, 1e-12, 0);
    assert_close(record.water_l, 0.63 * 9.3, 1e-12, 0);
}

static void an_aim_within_reach_is_met_by_the_pen(void **state)
{
    (void)state;
    for (double aim = 0.9; aim < 1.4; aim += 0.11) {
        struct bench bench;
        bench_set(&bench, 6.2, 0.9);
        bench.strategy.fill.rule = fill_rule_by_name("aim");
        bench.strategy.fill.aim_ec_ms_cm = aim;
        const struct visit_record record = visit_make(bench.state, 3, 3, 0, &bench.kit);
        assert_true(record.fill.reached);
        assert_close(record.ec_after_ms_cm, aim, 0.005, 0);
        assert_close(record.volume_after_l, 18.4, 1e-12, 0);
    }
}

static void an_aim_too_weak_says_what_to_drain(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 14.6, 1.9);
    bench.strategy.fill.rule = fill_rule_by_name("aim");
    bench.strategy.fill.aim_ec_ms_cm = 1.2;
    double drained[STATE_COUNT];
    for (int i = 0; i < STATE_COUNT; i++) {
        drained[i] = bench.state[i];
    }
    const struct visit_record record = visit_make(bench.state, 3, 3, 0, &bench.kit);
    assert_false(record.fill.reached);
    assert_close(record.stock_l, 0, 0, 0);
    assert_true(record.ec_after_ms_cm > 1.2);
    assert_close(record.fill.best_ec_ms_cm, record.ec_after_ms_cm, 1e-9, 0);
    state_drain(drained, record.fill.drain_first_l);
    state_pour(drained, &tap, 18.4 - drained[STATE_VOLUME]);
    const struct liquid refilled = state_liquid(drained);
    assert_close(pen_read(&bench.pen, &refilled).ec_ms_cm, 1.2, 0.005, 0);
}

static void an_aim_too_strong_pours_pure_stock_and_says_so(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 14.6, 0.1);
    bench.strategy.fill.rule = fill_rule_by_name("aim");
    bench.strategy.fill.aim_ec_ms_cm = 2.9;
    const struct visit_record record = visit_make(bench.state, 3, 3, 0, &bench.kit);
    assert_false(record.fill.reached);
    assert_close(record.stock_l, 18.4 - 14.6, 1e-12, 0);
    assert_close(record.fill.best_ec_ms_cm, record.ec_after_ms_cm, 1e-9, 0);
    assert_close(record.fill.drain_first_l, 0, 0, 0);
}

static void a_pour_stops_at_the_fill_line_and_reports_the_rest(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 16.9, 0.8);
    bench.strategy.fill.pour_l = 4.25;
    const struct visit_record record = visit_make(bench.state, 3, 3, 0, &bench.kit);
    assert_close(record.volume_after_l, 18.4, 1e-12, 0);
    assert_close(record.refused_l, 4.25 - 1.5, 1e-12, 0);
    bench_set(&bench, 9.2, 0.8);
    bench.strategy.fill.pour_l = 4.25;
    const struct visit_record fits = visit_make(bench.state, 3, 3, 0, &bench.kit);
    assert_close(fits.water_l, 4.25, 1e-12, 0);
    assert_close(fits.refused_l, 0, 0, 0);
}

static void a_renewal_on_the_calendar_drains_and_refills_fresh(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 11.3, 1.4);
    bench.strategy.renew_every_d = 28;
    bench.strategy.renew_share = 0.75;
    const struct visit_record early = visit_make(bench.state, 27, 27, 0, &bench.kit);
    assert_int_equal(early.renewal.reason, RENEW_NOT);
    const double held = bench.state[STATE_VOLUME];
    const double potassium = bench.state[STATE_ION + ION_K];
    const double alkalinity = bench.state[STATE_ALKALINITY];
    const struct visit_record due = visit_make(bench.state, 28, 28, 0, &bench.kit);
    assert_int_equal(due.renewal.reason, RENEW_CALENDAR);
    assert_close(due.drained_l, 0.75 * held, 1e-12, 0);
    assert_close(due.stock_l, 0.4 * 0.75 * held, 1e-12, 0);
    assert_close(bench.state[STATE_ION + ION_K], 0.25 * potassium + due.stock_l * 5.2,
                 1e-12, 0);
    assert_close(due.drained_mmol[ION_K], 0.75 * potassium, 1e-12, 0);
    assert_close(due.drained_alkalinity_meq, 0.75 * alkalinity, 1e-12, 0);
}

static void a_renewal_refills_to_the_line_whatever_the_usual_pour(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 11.3, 1.4);
    bench.strategy.fill.pour_l = 1.2;
    bench.strategy.renew_every_d = 28;
    bench.strategy.renew_stock_share = 0.83;
    const struct visit_record record = visit_make(bench.state, 28, 28, 0, &bench.kit);
    assert_close(record.volume_after_l, 18.4, 1e-12, 0);
    assert_close(record.stock_l, 0.83 * 18.4, 1e-12, 0);
    assert_close(record.refused_l, 0, 0, 0);
}

/* The share is found for what is left after the drain. */
static void an_aim_is_met_after_a_drain(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 15.3, 0.4);
    bench.strategy.fill.rule = fill_rule_by_name("aim");
    bench.strategy.fill.aim_ec_ms_cm = 1.1;
    bench.strategy.renew_every_d = 28;
    bench.strategy.renew_share = 0.7;
    const struct visit_record record = visit_make(bench.state, 28, 28, 0, &bench.kit);
    assert_close(record.drained_l, 0.7 * 15.3, 1e-12, 0);
    assert_true(record.fill.reached);
    assert_close(record.ec_after_ms_cm, 1.1, 0.005, 0);
    assert_close(record.volume_after_l, 18.4, 1e-12, 0);
}

/* A logbook is believed, past the fill line too; only what there is can be drained. */
static void what_was_noted_is_done(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 7.3, 0.8);
    const double potassium = bench.state[STATE_ION + ION_K];
    const struct visit_given pours = {.water_l = 9.1, .stock_l = 3.7};
    const struct visit_record poured = visit_given(bench.state, 4, &pours, &bench.kit);
    assert_close(poured.volume_after_l, 7.3 + 9.1 + 3.7, 1e-12, 0);
    assert_close(bench.state[STATE_ION + ION_K], potassium + 3.7 * 5.2, 1e-12, 0);
    assert_int_equal(poured.renewal.reason, RENEW_NOT);
    const struct visit_given drains = {.drained_l = 31, .stock_l = 5.3};
    const struct visit_record drained = visit_given(bench.state, 5, &drains, &bench.kit);
    assert_int_equal(drained.renewal.reason, RENEW_CALENDAR);
    assert_close(drained.drained_l, 20.1, 1e-12, 0);
    assert_close(drained.drained_mmol[ION_K], potassium + 3.7 * 5.2, 1e-12, 0);
    assert_close(drained.volume_after_l, 5.3, 1e-12, 0);
    assert_close(bench.state[STATE_ALKALINITY], 5.3 * 1.66, 1e-12, 0);
}

/* Acid that was noted goes in to the drop; where none was, as much as the strategy asks.
 */
static void acid_is_added_as_noted_or_as_the_strategy_asks(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 7.3, 0.8);
    bench.strategy.adjust = (struct strategy_adjust){salt_by_formula("HNO3"), 6.5, 5.75};
    bench.state[STATE_ALKALINITY] = 2.9 * 7.3;
    bench.state[STATE_ION + ION_CA] += 1.45 * 7.3;
    struct visit_given given = {.adjust_mmol = 4.7};
    const double nitrate = bench.state[STATE_ION + ION_NO3];
    const struct visit_record noted = visit_given(bench.state, 4, &given, &bench.kit);
    assert_close(noted.adjust_mmol, 4.7, 0, 0);
    assert_close(bench.state[STATE_ION + ION_NO3], nitrate + 4.7, 1e-12, 0);
    assert_true(noted.ph_after > 6.5);
    given.adjust_mmol = NAN;
    const struct visit_record asked = visit_given(bench.state, 5, &given, &bench.kit);
    assert_close(asked.ph_after, 5.75, 0, 1e-6);
    const struct visit_record again = visit_given(bench.state, 6, &given, &bench.kit);
    assert_close(again.adjust_mmol, 0, 0, 0);
}

static void a_rule_on_an_ion_costs_a_test_and_a_rule_on_ec_does_not(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 11.3, 1.4);
    bench.strategy.renew_above_ec_ms_cm = 1.5;
    const struct visit_record by_ec = visit_make(bench.state, 5, 5, 0, &bench.kit);
    assert_int_equal(by_ec.renewal.reason, RENEW_EC);
    assert_int_equal(by_ec.renewal.tests, 0);
    bench_set(&bench, 11.3, 1.4);
    bench.strategy.renew_above_mmol_l[ION_NA] = 0.55;
    const struct visit_record by_ion = visit_make(bench.state, 5, 5, 0, &bench.kit);
    assert_int_equal(by_ion.renewal.reason, RENEW_ION);
    assert_int_equal(by_ion.renewal.ion, ION_NA);
    assert_int_equal(by_ion.renewal.tests, 1);
}

static void acid_brings_ph_down_and_counts_as_its_ion(void **state)
{
    (void)state;
    const char *const acids[] = {"HNO3", "H3PO4", "H2SO4"};
    const enum ion ions[] = {ION_NO3, ION_P, ION_SO4};
    for (int i = 0; i < 3; i++) {
        struct bench bench;
        bench_set(&bench, 12.8, 0.7);
        bench.strategy.adjust = (struct strategy_adjust){
            .with = salt_by_formula(acids[i]), .above_ph = 6.5, .to_ph = 5.9};
        bench.strategy.water.mmol_l[ions[i]] = 0;
        const double before = bench.state[STATE_ION + ions[i]];
        const struct visit_record record = visit_make(bench.state, 3, 3, 0, &bench.kit);
        assert_close(record.ph_after, 5.9, 0, 0.01);
        assert_close(bench.state[STATE_ION + ions[i]] - before, record.adjust_mmol, 1e-9,
                     0);
        assert_true(record.adjust_mmol > 0);
    }
}

static void a_base_brings_ph_up_only_when_it_is_low(void **state)
{
    (void)state;
    struct bench bench;
    bench_set(&bench, 12.8, 0.7);
    bench.strategy.adjust = (struct strategy_adjust){
        .with = salt_by_formula("KHCO3"), .above_ph = 5.5, .to_ph = 6.2};
    const struct visit_record idle = visit_make(bench.state, 3, 3, 0, &bench.kit);
    assert_close(idle.adjust_mmol, 0, 0, 0);
    bench.state[STATE_ALKALINITY] = -1.4;
    const struct visit_record acts = visit_make(bench.state, 6, 6, 0, &bench.kit);
    assert_close(acts.ph_after, 6.2, 0, 0.01);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(water_fills_to_the_line_and_dilutes_every_ion_alike),
        cmocka_unit_test(two_half_pours_equal_one),
        cmocka_unit_test(a_mix_pours_its_share),
        cmocka_unit_test(an_aim_within_reach_is_met_by_the_pen),
        cmocka_unit_test(an_aim_too_weak_says_what_to_drain),
        cmocka_unit_test(an_aim_too_strong_pours_pure_stock_and_says_so),
        cmocka_unit_test(a_pour_stops_at_the_fill_line_and_reports_the_rest),
        cmocka_unit_test(a_renewal_on_the_calendar_drains_and_refills_fresh),
        cmocka_unit_test(a_renewal_refills_to_the_line_whatever_the_usual_pour),
        cmocka_unit_test(an_aim_is_met_after_a_drain),
        cmocka_unit_test(what_was_noted_is_done),
        cmocka_unit_test(acid_is_added_as_noted_or_as_the_strategy_asks),
        cmocka_unit_test(a_rule_on_an_ion_costs_a_test_and_a_rule_on_ec_does_not),
        cmocka_unit_test(acid_brings_ph_down_and_counts_as_its_ion),
        cmocka_unit_test(a_base_brings_ph_up_only_when_it_is_low),
    };
    return cmocka_run_group_tests_name("visit", tests, NULL, NULL);
}
