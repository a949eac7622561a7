/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"
#include "support/story.h"

#include <math.h>
#include <stdlib.h>

#include "../../sim/report/plan.h"

static void check(const struct story *story, const char *expected)
{
    struct scratch_text written = {0};
    scratch_open(&written);
    plan_tell(written.out, &story->scenario.strategies[0], &story->scenario);
    char *text = scratch_close(&written);
    assert_string_equal(text, expected);
    free(text);
}

static void each_fill_rule_has_words(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct strategy_fill *fill = &story->scenario.strategies[0].fill;
    fill->stock_share = 0.37;
    check(story,
          "Visits every 3 d at 18:00; fills with 37 % stock in water; never renews.");
    fill->rule = fill_rule_by_name("water");
    check(story, "Visits every 3 d at 18:00; fills with clean water; never renews.");
    fill->rule = fill_rule_by_name("stock");
    fill->pour_l = 2.5;
    check(story,
          "Visits every 3 d at 18:00; fills with stock (at most 2.5 L); never renews.");
    fill->rule = fill_rule_by_name("aim");
    fill->pour_l = INFINITY;
    fill->aim_ec_ms_cm = 1.94;
    story->scenario.display.ec = DISPLAY_PPM500;
    check(story, "Visits every 3 d at 18:00; fills with water and stock aiming at EC 970 "
                 "ppm500; never renews.");
    story_free(story);
}

static void every_reason_to_renew_is_named(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct strategy *strategy = &story->scenario.strategies[0];
    strategy->fill.rule = fill_rule_by_name("water");
    strategy->visit_at_h = 7.75;
    strategy->renew_every_d = 23;
    strategy->renew_above_ec_ms_cm = 3.1;
    strategy->renew_above_mmol_l[ION_NA] = 6.5;
    strategy->renew_share = 0.6;
    check(story,
          "Visits every 3 d at 07:45; fills with clean water; renews 60 % of the "
          "bucket every 23 d, or above EC 3.10 mS/cm, or above 6.5 mmol/L of sodium "
          "(by a test).");
    story_free(story);
}

static void stages_dosing_and_time_away_follow(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct strategy *strategy = &story->scenario.strategies[0];
    strategy->fill.rule = fill_rule_by_name("water");
    strategy->stage_count = 1;
    strategy->stages[0] = (struct strategy_stage){
        .from_stage = 1,
        .fill = {.rule = fill_rule_by_name("stock"), .pour_l = INFINITY}};
    strategy->adjust = (struct strategy_adjust){
        .with = salt_by_formula("HNO3"), .above_ph = 6.7, .to_ph = 5.9};
    strategy->away_count = 1;
    strategy->away[0] = (struct strategy_away){41, 55.5};
    assert_non_null(strategy->adjust.with);
    (void)snprintf(strategy->water_name, TEXT_NAME_SIZE, "rain");
    char expected[512];
    (void)snprintf(expected, sizeof expected,
                   "Visits every 3 d at 18:00; fills with clean water; never renews. Its "
                   "water is rain. From "
                   "the stage \"=fruiting\" on it fills with stock. Doses %s when pH has "
                   "passed 6.7, to pH 5.9. Away from day 41 (Sat 2031-04-19) to day 55.5 "
                   "(Sat 2031-05-03).",
                   strategy->adjust.with->name);
    check(story, expected);
    story_free(story);
}

static void a_fill_that_never_comes_is_not_told(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct strategy *strategy = &story->scenario.strategies[0];
    strategy->stage_count = 1;
    strategy->stages[0] = (struct strategy_stage){
        .from_stage = 0,
        .fill = {.rule = fill_rule_by_name("stock"), .pour_l = INFINITY}};
    check(story,
          "Visits every 3 d at 18:00; fills by growth stage; never renews. From the "
          "stage \"leafy, young\" on it fills with stock.");
    story_free(story);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_fill_rule_has_words),
        cmocka_unit_test(every_reason_to_renew_is_named),
        cmocka_unit_test(stages_dosing_and_time_away_follow),
        cmocka_unit_test(a_fill_that_never_comes_is_not_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
