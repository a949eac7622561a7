/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a study of lives made up for the purpose is taken for. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/study/risk_sum.h"
#include "support/bench.h"

enum {
    LIVES_MAX = 500,
    ROWS = 4
};

static struct scenario scenario;
static struct risk_plan plan;
static struct risk risk;

static float *value_of(size_t life, size_t row)
{
    return risk.values + (life * scenario.strategy_count + row) * OUTCOME_WIDTH;
}

static void kept(float *value)
{
    for (int i = 0; i < OUTCOME_WIDTH; i++) {
        value[i] = i < OUTCOME_DAYS || i >= OUTCOME_LEFT ? NAN : 0;
    }
    value[OUTCOME_GROWTH_INDEX] = 1;
    value[OUTCOME_VISITS] = 30;
}

static void troubled(size_t life, size_t row, enum outcome_code code, float day_d)
{
    float *value = value_of(life, row);
    value[code] = day_d;
    value[OUTCOME_ACTION] = fminf(value[OUTCOME_ACTION], day_d);
}

/* Lives in which nothing happens, of strategies named A, B, C, D. */
static void quiet_lives(size_t lives, size_t strategies)
{
    static const char *const names[ROWS] = {"A", "B", "C", "D"};
    static float values[LIVES_MAX * ROWS * OUTCOME_WIDTH];
    bench_shipped(&scenario, "first-bucket");
    scenario.strategy_count = strategies;
    for (size_t k = 0; k < strategies; k++) {
        scenario.strategies[k] = scenario.strategies[1];
        (void)snprintf(scenario.strategies[k].name, sizeof scenario.strategies[k].name,
                       "%s", names[k]);
    }
    plan = (struct risk_plan){.lives = lives, .part = 1, .parts = 1};
    risk = (struct risk){.scenario = &scenario, .plan = &plan, .values = values};
    for (size_t i = 0; i < lives; i++) {
        for (size_t k = 0; k < strategies; k++) {
            kept(value_of(i, k));
        }
    }
}

static struct risk_sum *summed(void)
{
    struct risk_sum *sum = NULL;
    struct error error = {0};
    assert_int_equal(risk_sum_up(&sum, &risk, &error), STATUS_OK);
    return sum;
}

/* Fails unless the verdict holds the words, and the equals are those of the letters. */
static void verdict_is(const char *words, const char *equals)
{
    struct risk_sum *sum = summed();
    if (strstr(sum->verdict, words) == NULL) {
        fail_msg("\"%s\" is not in: %s", words, sum->verdict);
    }
    for (size_t k = 0; k < sum->row_count; k++) {
        assert_int_equal(sum->equal[k],
                         strstr(equals, scenario.strategies[k].name) != NULL);
    }
    assert_true(sum->equal[sum->best]);
    free(sum);
}

static void strategies_that_fare_alike_are_not_told_apart(void **state)
{
    (void)state;
    quiet_lives(64, 2);
    verdict_is("Use \"A\" or \"B\", which these 64 worlds do not tell apart", "AB");
    quiet_lives(64, 4);
    verdict_is("Use \"A\", \"B\", \"C\" or \"D\"", "ABCD");
    quiet_lives(1, 2);
    verdict_is(
        "1 life is too few to tell whether the best here, \"A\" or \"B\", which this "
        "1 world does not tell apart, stays",
        "AB");
}

/* A sign test on 5 worlds that differ finds at least 2/32, on 6 of them 2/64: one in
 * twenty lies between. */
static void six_worlds_all_one_way_tell_and_five_do_not(void **state)
{
    (void)state;
    for (size_t worlds = 5; worlds <= 6; worlds++) {
        quiet_lives(64, 2);
        for (size_t i = 0; i < worlds; i++) {
            troubled(7 * i, 0, OUTCOME_EC_LOW, 31);
        }
        verdict_is(worlds == 5 ? "\"B\" or \"A\"" : "Use \"B\":",
                   worlds == 5 ? "AB" : "B");
    }
}

/* The same shares, in worlds of their own or in the same ones: 20 and 12 of 64. */
static void worlds_are_compared_one_by_one(void **state)
{
    (void)state;
    quiet_lives(64, 2);
    for (size_t i = 0; i < 20; i++) {
        troubled(i, 0, OUTCOME_EC_LOW, 31);
    }
    for (size_t i = 0; i < 12; i++) {
        troubled(i, 1, OUTCOME_EC_LOW, 31);
    }
    verdict_is("\"B\"", "B");
    quiet_lives(64, 2);
    for (size_t i = 0; i < 20; i++) {
        troubled(i, 0, OUTCOME_EC_LOW, 31);
    }
    for (size_t i = 0; i < 12; i++) {
        troubled(63 - i, 1, OUTCOME_EC_LOW, 31);
    }
    verdict_is("do not tell apart", "AB");
}

static void a_difference_nobody_minds_is_none(void **state)
{
    (void)state;
    quiet_lives(500, 2);
    for (size_t i = 0; i < 8; i++) { /* 1.6 % of lives, all one way */
        troubled(9 * i, 0, OUTCOME_EC_LOW, 31);
    }
    verdict_is("do not tell apart", "AB");
    quiet_lives(64, 2);
    for (size_t i = 0; i < 64; i++) {
        value_of(i, 0)[OUTCOME_GROWTH_INDEX] = 0.985F;
        value_of(i, 0)[OUTCOME_DRAINED] = 0.9F; /* of a bucket of ten litres */
    }
    verdict_is("do not tell apart", "AB");
    for (size_t i = 0; i < 64; i++) {
        value_of(i, 0)[OUTCOME_DRAINED] = 1.1F;
    }
    verdict_is("nothing dumped", "B");
}

/* In turn: the plant's life, its growth, trouble, growth beyond that, dumping. */
static void what_weighs_more_comes_first(void **state)
{
    (void)state;
    quiet_lives(40, 4);
    for (size_t i = 0; i < 40; i++) {
        value_of(i, 2)[OUTCOME_DRAINED] = 31;
        value_of(i, 3)[OUTCOME_GROWTH_INDEX] = 0.93F;
        value_of(i, 0)[OUTCOME_GROWTH_INDEX] = 0.6F;
        troubled(i, 1, OUTCOME_EC_HIGH, 12);
    }
    verdict_is("Use \"C\": in trouble in 0 % of lives (0 to 9), growth 100 % of the "
               "unstressed plant, 31.0 L dumped.",
               "C");
    for (size_t i = 0; i < 40; i++) {
        troubled(i, 2, OUTCOME_LOST, 70);
    }
    verdict_is("Use \"D\": in trouble in 0 % of lives (0 to 9), growth 93 %", "D");
    for (size_t i = 0; i < 40; i++) {
        value_of(i, 3)[OUTCOME_GROWTH_INDEX] = 0.88F;
    }
    /* A and D do stay out of trouble. */
    verdict_is("Where plants grow well, no strategy here is sure to stay out of trouble "
               "in nine worlds of ten; the best, \"B\", does in 0 % (0 to 9)",
               "B");
}

/* B dumps and is set aside for it; 2 troubled lives of 7 do not say that it is unsafe. */
static void of_what_is_set_aside_no_more_is_said_than_is_known(void **state)
{
    (void)state;
    quiet_lives(7, 2);
    for (size_t i = 0; i < 7; i++) {
        value_of(i, 1)[OUTCOME_DRAINED] = 69;
        troubled(i, i < 6 ? 0 : 1, OUTCOME_EC_HIGH, 27);
    }
    troubled(0, 1, OUTCOME_EC_HIGH, 4);
    verdict_is("No strategy here is sure to stay out of trouble in nine worlds of ten; "
               "the best, \"A\", does in 14 %",
               "A");
}

static void of_equal_trouble_that_which_is_mended_is_the_less(void **state)
{
    (void)state;
    quiet_lives(40, 2);
    for (size_t i = 0; i < 40; i++) {
        troubled(i, 0, OUTCOME_PH_HIGH, 0);
        troubled(i, 1, OUTCOME_PH_HIGH, 0);
    }
    verdict_is("do not tell apart", "AB");
    for (size_t i = 0; i < 40; i++) {
        value_of(i, 0)[OUTCOME_LEFT + OUTCOME_ACTION] = 28;
    }
    verdict_is("the best, \"B\", does in 0 %", "B");
}

static void by_how_much_the_best_misses_is_said(void **state)
{
    (void)state;
    quiet_lives(100, 2);
    for (size_t i = 0; i < 100; i++) {
        troubled(i, 0, OUTCOME_EC_LOW, 31);
        if (i < 38) {
            troubled(i, 1, OUTCOME_EC_HIGH, 12);
        }
        if (i < 3) {
            value_of(i, 1)[OUTCOME_LEFT + OUTCOME_EC_HIGH] = 90;
            value_of(i, 1)[OUTCOME_LEFT + OUTCOME_ACTION] = 90;
        }
    }
    /* Wilson's interval of 38 in 100: 29 to 48. */
    verdict_is("No strategy here stays out of trouble in nine worlds of ten; the best, "
               "\"B\", does in 62 % (52 to 71)",
               "B");
    verdict_is("its last visit leaves something amiss in 3 %", "B");
}

static void without_a_visit_none_leaves_anything(void **state)
{
    (void)state;
    quiet_lives(40, 1);
    for (size_t i = 0; i < 40; i++) {
        troubled(i, 0, OUTCOME_EC_HIGH, 40);
    }
    struct risk_sum *sum = summed();
    assert_non_null(strstr(sum->verdict, "its last visit leaves something amiss"));
    free(sum);
    for (size_t i = 0; i < 40; i++) {
        value_of(i, 0)[OUTCOME_VISITS] = 0;
    }
    sum = summed();
    assert_non_null(strstr(sum->verdict, "does in 0 %"));
    assert_null(strstr(sum->verdict, "last visit"));
    free(sum);
}

static void too_few_lives_to_promise_anything_are_said(void **state)
{
    (void)state;
    quiet_lives(20, 1);
    verdict_is("20 lives are too few to tell whether \"A\" stays out of trouble in nine "
               "worlds of ten: it does in 100 % (84 to 100)",
               "A");
    quiet_lives(64, 1);
    verdict_is("\"A\" stays out of trouble in nine worlds of ten: in trouble in 0 % of "
               "lives (0 to 6)",
               "A");
    for (size_t i = 0; i < 30; i++) {
        troubled(2 * i, 0, OUTCOME_EC_LOW, 31);
    }
    verdict_is("\"A\" does not stay out of trouble in nine worlds of ten: it does in 53 "
               "%",
               "A");
}

static void a_safe_strategy_under_which_little_grows_is_not_praised(void **state)
{
    (void)state;
    quiet_lives(64, 2);
    for (size_t i = 0; i < 64; i++) {
        value_of(i, 0)[OUTCOME_GROWTH_INDEX] = 0.71F;
        value_of(i, 1)[OUTCOME_GROWTH_INDEX] = 0.82F;
    }
    verdict_is(
        "Nothing grows well under any of these; the best is \"B\": in trouble in 0 "
        "% of lives (0 to 6), growth 82 %",
        "B");
    quiet_lives(64, 1);
    for (size_t i = 0; i < 64; i++) {
        value_of(i, 0)[OUTCOME_GROWTH_INDEX] = 0.71F;
    }
    verdict_is("Little grows under \"A\": in trouble in 0 %", "A");
}

static void without_a_plant_no_growth_is_told(void **state)
{
    (void)state;
    quiet_lives(64, 2);
    scenario.crop = crop_defaults(CROP_NONE);
    struct risk_sum *sum = summed();
    assert_null(strstr(sum->verdict, "growth"));
    free(sum);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strategies_that_fare_alike_are_not_told_apart),
        cmocka_unit_test(six_worlds_all_one_way_tell_and_five_do_not),
        cmocka_unit_test(worlds_are_compared_one_by_one),
        cmocka_unit_test(a_difference_nobody_minds_is_none),
        cmocka_unit_test(what_weighs_more_comes_first),
        cmocka_unit_test(of_what_is_set_aside_no_more_is_said_than_is_known),
        cmocka_unit_test(of_equal_trouble_that_which_is_mended_is_the_less),
        cmocka_unit_test(by_how_much_the_best_misses_is_said),
        cmocka_unit_test(without_a_visit_none_leaves_anything),
        cmocka_unit_test(too_few_lives_to_promise_anything_are_said),
        cmocka_unit_test(a_safe_strategy_under_which_little_grows_is_not_praised),
        cmocka_unit_test(without_a_plant_no_growth_is_told),
    };
    return cmocka_run_group_tests_name("risk_verdict", tests, NULL, NULL);
}
