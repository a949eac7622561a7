/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/visit/fill.h"
#include "pailcast/visit/strategy.h"

static void visits_fall_on_multiples_of_the_interval_at_their_hour(void **state)
{
    (void)state;
    struct strategy strategy = strategy_defaults();
    strategy.visit_every_d = 2.5;
    strategy.visit_at_h = 18;
    assert_close(strategy_next_visit(&strategy, 0), 3.25, 1e-12, 0);
    assert_close(strategy_next_visit(&strategy, 3.25), 5.75, 1e-12, 0);
    assert_close(strategy_next_visit(&strategy, 5.6), 5.75, 1e-12, 0);
}

/* A visit at six in the evening, noted in the morning of its day, or without an hour. */
static void a_visit_noted_somewhat_early_is_the_planned_one(void **state)
{
    (void)state;
    struct strategy strategy = strategy_defaults();
    strategy.visit_every_d = 3;
    strategy.visit_at_h = 18;
    assert_close(strategy_visit_after(&strategy, 6.75), 9.75, 1e-12, 0);
    assert_close(strategy_visit_after(&strategy, 6.7499), 9.75, 1e-12, 0);
    assert_close(strategy_visit_after(&strategy, 6), 9.75, 1e-12, 0);
    assert_close(strategy_visit_after(&strategy, 5.6), 6.75, 1e-12, 0);
    strategy.visit_every_d = 0.5;
    assert_close(strategy_visit_after(&strategy, 6.55), 7.25, 1e-12, 0);
    assert_close(strategy_visit_after(&strategy, 6.45), 6.75, 1e-12, 0);
}

static void nobody_visits_while_away(void **state)
{
    (void)state;
    struct strategy strategy = strategy_defaults();
    strategy.visit_every_d = 3;
    strategy.away_count = 2;
    strategy.away[0] = (struct strategy_away){.from_d = 20, .to_d = 33};
    strategy.away[1] = (struct strategy_away){.from_d = 33, .to_d = 34};
    assert_close(strategy_next_visit(&strategy, 18), 36, 1e-12, 0);
    assert_close(strategy_next_visit(&strategy, 15), 18, 1e-12, 0);
}

/* Away from 20 up to, not on, day 33. */
static void the_day_of_return_is_a_day_for_a_visit(void **state)
{
    (void)state;
    struct strategy strategy = strategy_defaults();
    strategy.visit_every_d = 3;
    strategy.away_count = 1;
    strategy.away[0] = (struct strategy_away){.from_d = 21, .to_d = 33};
    assert_close(strategy_next_visit(&strategy, 18), 33, 1e-12, 0);
}

static void nobody_who_is_away_for_good_comes_again(void **state)
{
    (void)state;
    struct strategy strategy = strategy_defaults();
    strategy.away_count = 1;
    strategy.away[0] = (struct strategy_away){.from_d = 21, .to_d = INFINITY};
    assert_close(strategy_next_visit(&strategy, 15), 18, 1e-12, 0);
    assert_true(isinf(strategy_next_visit(&strategy, 18)));
}

static void a_stage_reached_changes_the_fill(void **state)
{
    (void)state;
    struct strategy strategy = strategy_defaults();
    strategy.stage_count = 2;
    strategy.stages[0].from_stage = 1;
    strategy.stages[0].fill.rule = fill_rule_by_name("mix");
    strategy.stages[1].from_stage = 3;
    strategy.stages[1].fill.rule = fill_rule_by_name("stock");
    assert_string_equal(strategy_fill_at(&strategy, 0)->rule->name, "water");
    assert_string_equal(strategy_fill_at(&strategy, 1)->rule->name, "mix");
    assert_string_equal(strategy_fill_at(&strategy, 2)->rule->name, "mix");
    assert_string_equal(strategy_fill_at(&strategy, 3)->rule->name, "stock");
    assert_string_equal(strategy_fill_at(&strategy, 4)->rule->name, "stock");
}

static void unknown_rules_are_not_found(void **state)
{
    (void)state;
    assert_null(fill_rule_by_name("watre"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(visits_fall_on_multiples_of_the_interval_at_their_hour),
        cmocka_unit_test(a_visit_noted_somewhat_early_is_the_planned_one),
        cmocka_unit_test(nobody_visits_while_away),
        cmocka_unit_test(the_day_of_return_is_a_day_for_a_visit),
        cmocka_unit_test(nobody_who_is_away_for_good_comes_again),
        cmocka_unit_test(a_stage_reached_changes_the_fill),
        cmocka_unit_test(unknown_rules_are_not_found),
    };
    return cmocka_run_group_tests_name("strategy", tests, NULL, NULL);
}
