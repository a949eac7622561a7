/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The next step that a study names for a strategy, and that it helps: what is told to be
 * done is done, in the same worlds. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/study/risk_sum.h"
#include "pailcast/visit/fill.h"
#include "support/bench.h"

static struct scenario scenario;

/* The study of the scenario's only strategy: its words, and its chance of one trouble. */
static double chance_of(enum outcome_code code, char next[RISK_LINE_SIZE])
{
    const struct risk_plan plan = {
        .lives = 40, .seed = 5, .part = 1, .parts = 1, .jobs = 2, .scenario_path = "t"};
    struct risk risk = {0};
    struct risk_sum *sum = NULL;
    struct error error = {0};
    assert_int_equal(risk_open(&risk, &scenario, &plan, &error), STATUS_OK);
    assert_int_equal(risk_live(&risk, &error), STATUS_OK);
    assert_int_equal(risk_sum_up(&sum, &risk, &error), STATUS_OK);
    const double chance = sum->rows[0].chance[code].share;
    (void)snprintf(next, RISK_LINE_SIZE, "%s", sum->rows[0].next);
    free(sum);
    risk_free(&risk);
    return chance;
}

static void says(const char *next, const char *words)
{
    if (strstr(next, words) == NULL) {
        fail_msg("\"%s\" is not in: %s", words, next);
    }
}

/* Strategy `row` of a shipped scenario alone. */
static void only(const char *name, size_t row)
{
    bench_shipped(&scenario, name);
    scenario.strategies[0] = scenario.strategies[row];
    scenario.strategy_count = 1;
}

/* A number behind words; the test fails where it is not there. */
static double number_after(const char *next, const char *words)
{
    const char *at = strstr(next, words);
    double number = NAN;
    assert_non_null(at);
    assert_int_equal(sscanf(at + strlen(words), "%lf", &number), 1);
    return number;
}

static void a_safe_strategy_needs_no_step(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("first-bucket", 1);
    assert_close(chance_of(OUTCOME_ACTION, next), 0, 0, 0);
    assert_string_equal(next, "");
}

static void water_alone_is_told_to_feed(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("first-bucket", 0);
    assert_close(chance_of(OUTCOME_EC_LOW, next), 1, 0, 0);
    says(next, "Against EC below its limit: pour stock too, not water alone.");
    assert_null(strstr(next, "tune")); /* it does not search that */
    only("first-bucket", 1);
    assert_close(chance_of(OUTCOME_EC_LOW, next), 0, 0, 0);
}

static void too_much_stock_is_told_to_be_less(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("first-bucket", 1);
    scenario.limits.ec_high_ms_cm = 1.25;
    const double before = chance_of(OUTCOME_EC_HIGH, next);
    assert_true(before > 0.1);
    says(next, "pour less stock than 50 %");
    says(next, "pailcast tune SCENARIO --strategy 'Half and half' searches how much.");
    scenario.strategies[0].fill.stock_share = 0.4;
    assert_true(chance_of(OUTCOME_EC_HIGH, next) < before);
}

static void a_renewal_is_told_with_its_day(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("renew-or-not", 2);
    scenario.limits.ph_high = scenario.limits.ec_high_ms_cm = INFINITY;
    memset(scenario.limits.low_mmol_l, 0, sizeof scenario.limits.low_mmol_l);
    const double before = chance_of(OUTCOME_SODIUM_HIGH, next);
    assert_true(before > 0.9);
    says(next, "Against sodium above its limit: renew the bucket by day ");
    const double day_d = number_after(next, "by day ");
    assert_true(day_d > 20 && day_d < 110);
    scenario.duration_d = day_d;
    assert_true(chance_of(OUTCOME_SODIUM_HIGH, next) <= 0.1);
    scenario.duration_d = 2 * day_d - 20;
    const double late = chance_of(OUTCOME_SODIUM_HIGH, next);
    scenario.strategies[0].renew_every_d = day_d;
    assert_true(chance_of(OUTCOME_SODIUM_HIGH, next) < late - 0.2);
}

static void what_a_visit_mends_asks_for_more_visits(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("measured-cucumber", 1);
    enum outcome_code chief = OUTCOME_NUTRIENT_LOW;
    const double before = chance_of(chief, next);
    assert_true(before > 0.1);
    const double every_d = number_after(next, "isit more often than every ");
    assert_close(every_d, scenario.strategies[0].visit_every_d, 0, 1e-9);
    scenario.strategies[0].visit_every_d = 0.5 * every_d;
    assert_true(chance_of(chief, next) < before);
}

/* Pure water each time brings back what a bare bucket has lost to the air. */
static void without_a_plant_nothing_is_told_to_be_drunk(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("no-plant", 0);
    scenario.strategies[0].water = (struct liquid){0};
    scenario.strategies[0].visit_every_d = 25.5;
    scenario.limits.ec_high_ms_cm = 0.87;
    const double before = chance_of(OUTCOME_EC_HIGH, next);
    assert_true(before > 0.5);
    says(next, "visit more often than every 25.5 d, so that less evaporates between two");
    scenario.strategies[0].visit_every_d = 4;
    assert_true(chance_of(OUTCOME_EC_HIGH, next) < before);
}

static void a_lost_plant_comes_before_all(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("renew-or-not", 0);
    scenario.strategies[0].visit_every_d = 14;
    const double before = chance_of(OUTCOME_LOST, next);
    assert_true(before > 0.1);
    says(next, "Against plant lost: visit more often than every 14 d");
    scenario.strategies[0].visit_every_d = 4;
    assert_true(chance_of(OUTCOME_LOST, next) < before);
}

static void a_bucket_too_low_for_the_roots_is_filled_higher(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("first-bucket", 1);
    scenario.start_l = scenario.bucket.full_l = 4;
    scenario.duration_d = 20;
    assert_true(chance_of(OUTCOME_ROOTS_DRY, next) > 0.9);
    says(next, "fill the bucket higher, or hang the plant lower");
}

static void ph_has_the_step_of_its_side(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("renew-or-not", 2);
    assert_close(chance_of(OUTCOME_PH_HIGH, next), 1, 0, 0);
    says(next, "Against pH above its limit: add acid at visits");
    only("wheat-hard-water-acid", 1);
    scenario.strategies[0].visit_every_d = 11;
    scenario.limits.ec_high_ms_cm = INFINITY;
    scenario.limits.ph_high = 6.8;
    const double before = chance_of(OUTCOME_PH_HIGH, next);
    says(next, "Against pH above its limit: visit more often than every 11 d");
    scenario.strategies[0].visit_every_d = 3;
    assert_true(chance_of(OUTCOME_PH_HIGH, next) < before);
    /* Visits mend it, and visiting more often does not. */
    only("renew-or-not", 1);
    assert_true(chance_of(OUTCOME_PH_LOW, next) > 0.5);
    says(next, "Against pH below its limit: use a recipe with less ammonium, or top up");
}

static void who_is_away_is_told_to_send_somebody(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("evergreen-two-years", 2);
    scenario.duration_d = 330;
    const double before = chance_of(OUTCOME_EC_HIGH, next);
    assert_true(before > 0.5);
    says(next,
         "let somebody visit while you are away, day 300 (Wed 2027-07-28) to 309 (Fri "
         "2027-08-06).");
    scenario.strategies[0].away_count = 0;
    assert_true(chance_of(OUTCOME_EC_HIGH, next) < before - 0.2);
}

/* The acid of a hard water is poured, that of pure water never. */
static void acid_is_blamed_only_where_it_is_poured(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    for (int pure = 0; pure < 2; pure++) {
        only("renew-or-not", pure == 1 ? 0 : 2);
        scenario.duration_d = 75;
        scenario.limits.ph_low = 5.3;
        scenario.limits.ph_high = INFINITY;
        memset(scenario.limits.low_mmol_l, 0, sizeof scenario.limits.low_mmol_l);
        struct strategy *strategy = &scenario.strategies[0];
        strategy->adjust =
            (struct strategy_adjust){salt_by_formula("HNO3"), pure == 1 ? 8.2 : 6, 5.2};
        assert_true(chance_of(OUTCOME_PH_LOW, next) > 0.1);
        says(next, "Against pH below its limit: ");
        assert_int_equal(strstr(next, "dose nitric acid to a higher pH than 5.2") != NULL,
                         pure == 0);
    }
}

/* pH is beyond its limit in most lives, but acid mends it at each visit. */
static void what_the_last_visit_leaves_is_the_chief_trouble(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("wheat-hard-water-acid", 1);
    scenario.strategies[0].visit_every_d = 11;
    scenario.strategies[0].adjust.above_ph = 6.1;
    scenario.limits.ph_high = 6.2;
    const double before = chance_of(OUTCOME_EC_HIGH, next);
    assert_true(chance_of(OUTCOME_PH_HIGH, next) > before);
    says(next, "Against EC above its limit: pour less stock than 60 %");
    scenario.strategies[0].fill.stock_share = 0.5;
    assert_true(chance_of(OUTCOME_EC_HIGH, next) < before);
}

static void stages_have_no_single_share_to_change(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("pepper-in-gallons", 0);
    assert_true(chance_of(OUTCOME_EC_HIGH, next) > 0.5);
    says(next, "Against EC above its limit: pour less stock at each stage.");
}

static void a_name_is_quoted_for_the_shell(void **state)
{
    (void)state;
    char next[RISK_LINE_SIZE];
    only("first-bucket", 1);
    scenario.limits.ec_high_ms_cm = 1.25;
    (void)snprintf(scenario.strategies[0].name, sizeof scenario.strategies[0].name, "%s",
                   "Stock's `rm -rf`");
    (void)chance_of(OUTCOME_EC_HIGH, next);
    says(next, "--strategy 'Stock'\\''s `rm -rf`' searches");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_safe_strategy_needs_no_step),
        cmocka_unit_test(water_alone_is_told_to_feed),
        cmocka_unit_test(too_much_stock_is_told_to_be_less),
        cmocka_unit_test(a_renewal_is_told_with_its_day),
        cmocka_unit_test(what_a_visit_mends_asks_for_more_visits),
        cmocka_unit_test(without_a_plant_nothing_is_told_to_be_drunk),
        cmocka_unit_test(a_lost_plant_comes_before_all),
        cmocka_unit_test(a_bucket_too_low_for_the_roots_is_filled_higher),
        cmocka_unit_test(ph_has_the_step_of_its_side),
        cmocka_unit_test(who_is_away_is_told_to_send_somebody),
        cmocka_unit_test(what_the_last_visit_leaves_is_the_chief_trouble),
        cmocka_unit_test(stages_have_no_single_share_to_change),
        cmocka_unit_test(acid_is_blamed_only_where_it_is_poured),
        cmocka_unit_test(a_name_is_quoted_for_the_shell),
    };
    return cmocka_run_group_tests_name("risk_next", tests, NULL, NULL);
}
