/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The unsure hand: missed and late visits, and a pen that shows too much. */
#include <math.h>

#include "pailcast/visit/fill.h"
#include "pailcast/visit/visit.h"
#include "support/close.h"

static struct strategy plan_of(double missed, double late_d)
{
    struct strategy strategy = strategy_defaults();
    strategy.visit_every_d = 2.5;
    strategy.visit_at_h = 18;
    strategy.hand =
        (struct strategy_hand){.seed = 77, .missed = missed, .late_d = late_d};
    return strategy;
}

/* Binomial: 4,000 visits with chance 0.23, four standard errors. */
static void visits_are_missed_as_often_as_said(void **state)
{
    (void)state;
    const struct strategy strategy = plan_of(0.23, 0);
    const double end_d = 10000;
    int made = 0;
    for (double day_d = strategy_next_visit(&strategy, 0); day_d <= end_d;
         day_d = strategy_next_visit(&strategy, day_d)) {
        assert_close(remainder(day_d - 0.75, 2.5), 0, 0, 1e-8);
        made++;
    }
    assert_close(made, 4000 * 0.77, 0, 4 * sqrt(4000 * 0.77 * 0.23));
}

/* Mean delay 0 and standard deviation as said (0.3 d); four standard errors of 4,000. */
static void late_visits_keep_their_order_and_spread(void **state)
{
    (void)state;
    const struct strategy strategy = plan_of(0, 0.3);
    double before_d = 0;
    double sum = 0;
    double squares = 0;
    for (int k = 1; k <= 4000; k++) {
        const double day_d = strategy_next_visit(&strategy, before_d);
        const double delay_d = day_d - (0.75 + 2.5 * k);
        assert_true(day_d > before_d);
        sum += delay_d;
        squares += delay_d * delay_d;
        before_d = day_d;
    }
    assert_close(sum / 4000, 0, 0, 4 * 0.3 / sqrt(4000));
    assert_close(sqrt(squares / 4000), 0.3, 0.03, 0);
}

static void the_next_visit_depends_on_the_day_alone(void **state)
{
    (void)state;
    const struct strategy strategy = plan_of(0.4, 0.7);
    double day_d = 0;
    for (int k = 0; k < 200; k++) {
        const double next_d = strategy_next_visit(&strategy, day_d);
        assert_close(strategy_next_visit(&strategy, 0.5 * (day_d + next_d)), next_d, 0,
                     0);
        day_d = next_d;
    }
}

static const struct shape shape = {19.4, 37, 30, 26, 9};

/* A bucket of potassium nitrate seen with a pen that shows 8 % too much. */
struct misled {
    struct pen pen;
    struct strategy strategy;
    struct visit_kit kit;
    double bucket[STATE_COUNT];
};

static void mislead(struct misled *misled)
{
    *misled = (struct misled){.pen = pen_at(21.5, 1000), .strategy = strategy_defaults()};
    struct strategy *strategy = &misled->strategy;
    strategy->water = (struct liquid){.mmol_l = {[ION_NA] = 0.4, [ION_CL] = 0.4}};
    strategy->stock = (struct liquid){.mmol_l = {[ION_K] = 31.5, [ION_NO3] = 31.5}};
    strategy->hand.pen_relative = 0.08;
    misled->kit = (struct visit_kit){.strategy = strategy,
                                     .shape = &shape,
                                     .pen = &misled->pen,
                                     .fresh_stock_share = 0.5};
}

static double true_ec(const struct misled *misled)
{
    const struct liquid liquid = state_liquid(misled->bucket);
    return pen_read(&misled->pen, &liquid).ec_ms_cm;
}

/* A bucket aimed at 1.7 is left at 1.7/1.08. */
static void a_wrong_pen_misleads_the_pour(void **state)
{
    (void)state;
    struct misled misled;
    mislead(&misled);
    misled.strategy.fill.rule = fill_rule_by_name("aim");
    misled.strategy.fill.aim_ec_ms_cm = 1.7;
    state_pour(misled.bucket, &misled.strategy.water, 7.3);
    (void)visit_make(misled.bucket, 3.1, 3.1, 0, &misled.kit);
    assert_close(true_ec(&misled), 1.7 / 1.08, 1.1e-3, 0);
}

/* And one just under the limit for renewal is renewed. */
static void a_wrong_pen_renews_too_early(void **state)
{
    (void)state;
    for (int wrong = 0; wrong < 2; wrong++) {
        struct misled misled;
        mislead(&misled);
        state_pour(misled.bucket, &misled.strategy.stock, 7.3);
        misled.strategy.hand.pen_relative = wrong * 0.08;
        misled.strategy.renew_above_ec_ms_cm = 1.03 * true_ec(&misled);
        const struct visit_record record =
            visit_make(misled.bucket, 3.1, 3.1, 0, &misled.kit);
        assert_int_equal(record.renewal.reason, wrong ? RENEW_EC : RENEW_NOT);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(visits_are_missed_as_often_as_said),
        cmocka_unit_test(late_visits_keep_their_order_and_spread),
        cmocka_unit_test(the_next_visit_depends_on_the_day_alone),
        cmocka_unit_test(a_wrong_pen_misleads_the_pour),
        cmocka_unit_test(a_wrong_pen_renews_too_early),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
