/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logbooks of buckets that take acid at their visits. */
#include "support/close.h"

#include <math.h>
#include <string.h>

#include "pailcast/study/fit.h"
#include "pailcast/study/keep.h"
#include "support/bench.h"

static struct scenario scenario;

static const struct fit_plan looking_back = {.ahead_d = 0};
static const struct fit_plan a_week = {.ahead_d = 7};

/* Two months of wheat on hard water that drinks more than its crop and eats less. */
static void keep(struct logbook *logbook)
{
    const double z[FIT_UNKNOWNS] = {0.62, -0.41, 0.33, 0.28, -0.37, 0.24};
    static struct scenario truth;
    struct life life;
    bench_shipped(&scenario, "wheat-hard-water-acid");
    scenario.strategies[0] = scenario.strategies[1];
    scenario.strategy_count = 1;
    scenario.duration_d = 62.3;
    fit_world(&truth, &scenario, z);
    bench_live(&life, &truth, 0);
    assert_true(life.ledger.adjust_mmol > 10);
    assert_int_equal(keep_logbook(logbook, &life, &truth, &keep_noise_usual, 29, NULL),
                     STATUS_OK);
    life_free(&life);
}

static void learn(struct fit *fit, const struct logbook *logbook,
                  const struct fit_plan *plan)
{
    assert_int_equal(
        fit_run(fit, &scenario, &scenario.strategies[0], logbook, plan, NULL), STATUS_OK);
}

/* Its logbook has no column for acid: it went in as the strategy says. */
static void acid_that_is_not_noted_is_that_of_the_strategy(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    keep(&logbook);
    assert_true(isnan(logbook.rows[1].adjust_g));
    learn(&fit, &logbook, &looking_back);
    assert_int_equal(fit.surprise_count, 0);
    assert_true(fit.misfit < 1.5);
    assert_close(fit.value[FIT_DRINKING].estimate, exp(0.62 * 0.25), 0.05, 0);
    assert_close(fit.value[FIT_EATING].estimate, exp(-0.41 * 0.25), 0.05, 0);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* Noted as none it was none, and pH then tells that something is wrong. */
static void acid_noted_as_none_was_none(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    keep(&logbook);
    for (size_t i = 0; i < logbook.count; i++) {
        logbook.rows[i].adjust_g = 0;
    }
    learn(&fit, &logbook, &looking_back);
    assert_true(fit.misfit > 1.5);
    assert_true(fit.surprise_count > 0);
    fit_free(&fit);
    logbook_free(&logbook);
}

static void acid_of_a_strategy_without_any_is_refused(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    struct error error = {0};
    keep(&logbook);
    scenario.strategies[0].adjust.with = NULL;
    logbook.rows[3].adjust_g = 1.2;
    assert_int_equal(fit_run(&fit, &scenario, &scenario.strategies[0], &logbook,
                             &looking_back, &error),
                     STATUS_INPUT);
    assert_non_null(
        strstr(error.text, "adjust_g: the strategy \"Acid to 6.0\" says not"));
    fit_free(&fit);
    logbook_free(&logbook);
}

/* A day was noted to two digits: the next visit is three days later, not a second. */
static void the_last_entry_is_not_visited_again(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    keep(&logbook);
    scenario.strategies[0].visit_at_h = 10.123;
    const double last_d = logbook.rows[logbook.count - 1].day_d;
    learn(&fit, &logbook, &a_week);
    assert_close(fit.next_visit.day_d, last_d + 3 + 10.123 / 24, 1e-9, 0);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* 3.1 L for 0.31: the level is read right before it. */
static void a_pour_beyond_the_fill_line_is_told(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    keep(&logbook);
    struct logbook_row *row = &logbook.rows[logbook.count - 3];
    row->water_l *= 10;
    learn(&fit, &logbook, &looking_back);
    bool told = false;
    for (size_t i = 0; i < fit.remark_count; i++) {
        told = told || strstr(fit.remarks[i], "over the fill line at 12.0 L") != NULL;
    }
    assert_true(told);
    fit_free(&fit);
    logbook_free(&logbook);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(acid_that_is_not_noted_is_that_of_the_strategy),
        cmocka_unit_test(acid_noted_as_none_was_none),
        cmocka_unit_test(acid_of_a_strategy_without_any_is_refused),
        cmocka_unit_test(the_last_entry_is_not_visited_again),
        cmocka_unit_test(a_pour_beyond_the_fill_line_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
