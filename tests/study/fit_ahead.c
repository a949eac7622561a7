/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a fit sees ahead is what comes, not what was. */
#include "support/close.h"

#include <math.h>

#include "pailcast/study/fit.h"
#include "pailcast/study/keep.h"
#include "support/bench.h"

static struct scenario scenario;

/* The first strategy's logbook up to a day, without noise, learned from. */
static void learn_until(struct fit *fit, struct logbook *logbook, double day_d)
{
    static const struct keep_noise none = {0};
    static const struct fit_plan fortnight = {.ahead_d = 14};
    struct life life;
    bench_live(&life, &scenario, 0);
    assert_int_equal(keep_logbook(logbook, &life, &scenario, &none, 1, NULL), STATUS_OK);
    life_free(&life);
    while (logbook->rows[logbook->count - 1].day_d > day_d) {
        logbook->count--;
    }
    assert_int_equal(
        fit_run(fit, &scenario, &scenario.strategies[0], logbook, &fortnight, NULL),
        STATUS_OK);
}

/* Topped up with water alone the basil's nitrate is gone by day 60. A renewal brings it
 * back, plain water never does. */
static void what_is_out_before_the_next_visit_is_not_held_against_a_strategy(void **state)
{
    (void)state;
    enum {
        WATER_ONLY = 0,
        RENEWED = 3
    };
    struct fit fit;
    struct logbook logbook;
    bench_shipped(&scenario, "first-bucket");
    learn_until(&fit, &logbook, 70);
    const struct liquid now =
        state_liquid(bench_sample(&fit.likely, 70.5)->state); /* between two visits */
    assert_true(now.mmol_l[ION_NO3] < scenario.limits.low_mmol_l[ION_NO3]);
    assert_int_equal(fit.choices[WATER_ONLY].scarce, ION_NO3);
    assert_close(fit.choices[WATER_ONLY].scarce_chance, 1, 0, 0);
    assert_int_equal(fit.choices[RENEWED].next_visit.renewal.reason, RENEW_CALENDAR);
    assert_int_equal(fit.choices[RENEWED].scarce, ION_COUNT);
    assert_close(fit.choices[RENEWED].scarce_chance, 0, 0, 0);
    assert_int_equal(fit.choices[RENEWED].excess, ION_COUNT);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* The basil's bucket holds 0.8 mmol/L of sodium by then, and its pH is under 9. */
static void limits_of_ph_and_ions_count_as_well(void **state)
{
    (void)state;
    struct fit fit;
    struct logbook logbook;
    bench_shipped(&scenario, "first-bucket");
    scenario.limits.high_mmol_l[ION_NA] = 0.3;
    scenario.limits.ph_low = 9;
    learn_until(&fit, &logbook, 55);
    assert_int_equal(fit.choices[1].excess, ION_NA);
    assert_close(fit.choices[1].excess_chance, 1, 0, 0);
    assert_close(fit.choices[1].ph_low_chance, 1, 0, 0);
    assert_close(fit.choices[1].ph_high_chance, 0, 0, 0);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* Nitrate runs out four days after the last entry. With stock in eight days more it is
 * back, but to come so late is a choice, too. */
static void a_strategy_that_comes_late_answers_for_what_went_out_till_then(void **state)
{
    (void)state;
    struct fit fit;
    struct logbook logbook;
    bench_shipped(&scenario, "first-bucket");
    scenario.strategy_count = 2;
    scenario.strategies[1] = scenario.strategies[2]; /* holds EC 1.2 */
    scenario.strategies[1].visit_every_d = 33;
    learn_until(&fit, &logbook, 55);
    assert_close(fit.choices[0].next_visit.day_d, 57.75, 0, 1e-9);
    assert_close(fit.choices[1].next_visit.day_d, 66.75, 0, 1e-9);
    assert_int_equal(fit.choices[0].scarce, ION_NO3);
    assert_close(fit.choices[0].scarce_chance, 1, 0, 0);
    assert_int_equal(fit.choices[1].scarce, ION_NO3);
    assert_close(fit.choices[1].scarce_chance, 1, 0, 0);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* Left for three weeks the roots once hung dry for hours; with the bucket full again
 * there is time as there was before. */
static void roots_that_were_dry_before_have_time_again(void **state)
{
    (void)state;
    struct fit fit;
    struct logbook logbook;
    struct life life;
    bench_shipped(&scenario, "first-bucket");
    scenario.strategy_count = 1;
    struct strategy *only = &scenario.strategies[0];
    *only = scenario.strategies[2];
    only->away_count = 1;
    only->away[0].from_d = 48;
    only->away[0].to_d = 72.5;
    bench_live(&life, &scenario, 0);
    assert_true(life.first.roots_dry < 80);
    assert_true(isnan(life.first.plant_lost));
    life_free(&life);
    learn_until(&fit, &logbook, 80);
    const double last_d = logbook.rows[logbook.count - 1].day_d;
    assert_true(fit.safe_until_d > last_d + 3);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* Long before its roots are dry a bucket left alone is too strong. */
static void a_limit_passed_before_the_roots_are_dry_is_told(void **state)
{
    (void)state;
    struct fit fit;
    struct logbook logbook;
    struct life life;
    bench_shipped(&scenario, "first-bucket");
    scenario.strategies[0] = scenario.strategies[2];
    scenario.strategy_count = 1;
    scenario.limits.ec_high_ms_cm = 1.5;
    learn_until(&fit, &logbook, 60);
    const double last_d = logbook.rows[logbook.count - 1].day_d;
    assert_true(fit.first_limit.day_d > last_d);
    assert_true(fit.first_limit.day_d < fit.safe_until_d);
    /* One bucket in twenty is sooner than that; the true one, left alone, is later. */
    scenario.strategies[0].away_count = 1;
    scenario.strategies[0].away[0] = (struct strategy_away){last_d + 0.01, 1000};
    bench_live(&life, &scenario, 0);
    assert_true(fit.first_limit.day_d < life.first.ec_high);
    assert_true(fit.first_limit.day_d > life.first.ec_high - 7);
    assert_string_equal(fit.first_limit.what, "EC");
    life_free(&life);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* A litre evaporates a day, and the last entry is of ten past one: what is told for six
 * hours later is not what is there at noon. */
static void a_forecast_holds_for_the_moments_it_names(void **state)
{
    (void)state;
    static const double as_learned = 3e-3; /* six hours bring sodium 2 % */
    struct fit fit;
    struct logbook logbook;
    struct life life;
    bench_shipped(&scenario, "no-plant");
    scenario.strategy_count = 1;
    scenario.strategies[0].visit_every_d = 3;
    scenario.strategies[0].visit_at_h = 1.2;
    scenario.evaporation_l_d = 1;
    learn_until(&fit, &logbook, 10);
    assert_close(logbook.rows[logbook.count - 1].day_d, 9.05, 0, 1e-9);
    assert_close(fit.next_visit.day_d, 12.05, 0, 1e-9);
    scenario.sample_every_d = 0.05; /* a row on each moment */
    bench_live(&life, &scenario, 0);
    for (size_t k = 0; fit.moments[k].day_d < fit.next_visit.day_d - 1e-9; k++) {
        const struct sample *there = bench_sample(&life, fit.moments[k].day_d + 1e-9);
        const double sodium = state_liquid(there->state).mmol_l[ION_NA];
        assert_close(there->day_d, fit.moments[k].day_d, 0, 1e-9);
        assert_close(fit.moments[k].ion_mmol_l[ION_NA].median, sodium, as_learned, 0);
    }
    life_free(&life);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* Pure water that a pen with an offset of its own reads as less than nothing: what it
 * will show is 0. */
static void no_pen_shows_less_than_nothing(void **state)
{
    (void)state;
    struct fit fit;
    struct logbook logbook;
    bench_shipped(&scenario, "no-plant");
    scenario.water = scenario.stock = (struct liquid){0};
    for (size_t k = 0; k < scenario.strategy_count; k++) {
        scenario.strategies[k].water = scenario.strategies[k].stock = scenario.water;
    }
    learn_until(&fit, &logbook, 10);
    assert_true(fit.moment_count > 0);
    for (size_t k = 0; k < fit.moment_count; k++) {
        assert_close(fit.moments[k].ec_ms_cm.low, 0, 0, 0);
        assert_true(fit.moments[k].ec_ms_cm.high > 0);
    }
    for (size_t i = 0; i < fit.choice_count; i++) {
        assert_true(fit.choices[i].ec_ms_cm.low >= 0);
    }
    fit_free(&fit);
    logbook_free(&logbook);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_pen_shows_less_than_nothing),
        cmocka_unit_test(a_forecast_holds_for_the_moments_it_names),
        cmocka_unit_test(
            what_is_out_before_the_next_visit_is_not_held_against_a_strategy),
        cmocka_unit_test(a_limit_passed_before_the_roots_are_dry_is_told),
        cmocka_unit_test(limits_of_ph_and_ions_count_as_well),
        cmocka_unit_test(a_strategy_that_comes_late_answers_for_what_went_out_till_then),
        cmocka_unit_test(roots_that_were_dry_before_have_time_again),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
