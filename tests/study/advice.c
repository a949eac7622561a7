/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Advice taken at its word: what it says to pour is poured, and does what it says. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/study/advice.h"
#include "pailcast/visit/fill.h"
#include "support/bench.h"

static struct scenario scenario;

static const char *line_with(const struct compare_row *row, const char *words)
{
    for (size_t i = 0; i < row->advice_count; i++) {
        if (strstr(row->advice[i], words) != NULL) {
            return row->advice[i];
        }
    }
    return NULL;
}

/* A day told with its date is the whole day, whatever the hour of the visit. */
static const struct visit_record *visit_on(const struct compare_row *row, double day_d)
{
    const struct trajectory *path = &row->life.trajectory;
    for (size_t i = 0; i < path->visit_count; i++) {
        if (floor(path->visits[i].day_d) == day_d) {
            return &path->visits[i];
        }
    }
    fail();
    return NULL;
}

static void a_drain_advised_brings_ec_under_the_limit(void **state)
{
    (void)state;
    bench_shipped(&scenario, "renew-or-not");
    struct compare *compare = bench_compare(&scenario);
    const struct compare_row *hard = &compare->rows[2];
    const char *line = line_with(hard, "topping up alone can no longer");
    assert_non_null(line);
    double day, litres;
    assert_int_equal(sscanf(line, "Day %lf (%*s %*10s): drain %lf L", &day, &litres), 2);
    const struct visit_record *visit = visit_on(hard, day);
    const double kept = visit->volume_before_l - litres;
    const struct pen pen = pen_at(22, 1000);
    const struct liquid topped =
        liquid_mix(&hard->strategy->water, &visit->before, visit->volume_before_l / 25);
    const struct liquid drained =
        liquid_mix(&hard->strategy->water, &visit->before, kept / 25);
    assert_true(pen_read(&pen, &topped).ec_ms_cm > 2.6);
    assert_close(pen_read(&pen, &drained).ec_ms_cm, 0.8 * 2.6, 0.01, 0);
    bench_let_go(compare);
}

static void sodium_is_halved_by_the_drain_advised(void **state)
{
    (void)state;
    bench_shipped(&scenario, "renew-or-not");
    struct compare *compare = bench_compare(&scenario);
    const struct compare_row *hard = &compare->rows[2];
    const char *line = line_with(hard, "sodium passes");
    assert_non_null(line);
    double day, limit, litres;
    assert_int_equal(
        sscanf(
            line,
            "Day %lf (%*s %*10s): sodium passes %lf mmol/L even in a full bucket. Drain "
            "%lf L",
            &day, &limit, &litres),
        3);
    const struct visit_record *visit = visit_on(hard, day);
    const struct liquid drained = liquid_mix(&hard->strategy->water, &visit->before,
                                             (visit->volume_before_l - litres) / 25);
    assert_close(drained.mmol_l[ION_NA], 0.5 * limit, 0.02, 0);
    bench_let_go(compare);
}

/* What the water does not bring is not said to come back with it. */
static void an_ion_is_said_to_come_from_what_brings_it(void **state)
{
    (void)state;
    bench_shipped(&scenario, "renew-or-not");
    struct strategy *hard = &scenario.strategies[2];
    assert_close(hard->water.mmol_l[ION_NH4], 0, 0, 0);
    hard->stock.mmol_l[ION_NH4] += 30;
    hard->stock.mmol_l[ION_CL] += 30;
    scenario.limits.high_mmol_l[ION_NH4] = 2;
    struct compare *compare = bench_compare(&scenario);
    const char *line = line_with(&compare->rows[2], "ammonium passes");
    assert_non_null(line);
    assert_non_null(strstr(line, "to halve it; it comes with the stock, 3"));
    assert_non_null(strstr(line, " mmol/L in every litre, not with the water."));
    assert_non_null(strstr(line_with(&compare->rows[2], "sodium passes"),
                           "; the water brings 1.2 mmol/L with every litre, so it comes "
                           "back."));
    bench_let_go(compare);
}

/* Nitric acid against hard water brings more nitrate than the water, and chloride none.
 */
static void an_ion_that_acid_brings_is_laid_at_its_door(void **state)
{
    (void)state;
    bench_shipped(&scenario, "wheat-hard-water-acid");
    scenario.strategies[1].fill.rule = fill_rule_by_name("water");
    scenario.limits.high_mmol_l[ION_NO3] = 3;
    scenario.limits.high_mmol_l[ION_CL] = 2;
    struct compare *compare = bench_compare(&scenario);
    const char *line = line_with(&compare->rows[1], "nitrate passes 3 mmol/L even");
    assert_non_null(line);
    assert_non_null(strstr(line, "to halve it; most of it comes with the nitric acid"));
    line = line_with(&compare->rows[1], "chloride passes");
    assert_true(line == NULL || strstr(line, "acid") == NULL);
    bench_let_go(compare);
}

static void advice_comes_in_the_order_of_days(void **state)
{
    (void)state;
    bench_shipped(&scenario, "renew-or-not");
    struct compare *compare = bench_compare(&scenario);
    for (size_t row = 0; row < compare->row_count; row++) {
        for (size_t i = 1; i < compare->rows[row].advice_count; i++) {
            assert_true(compare->rows[row].advice_d[i] >=
                        compare->rows[row].advice_d[i - 1]);
        }
    }
    bench_let_go(compare);
}

static void a_quiet_life_is_told_to_be_one(void **state)
{
    (void)state;
    bench_shipped(&scenario, "lettuce-one-filling");
    struct compare *compare = bench_compare(&scenario);
    assert_non_null(line_with(&compare->rows[1], "Nothing needs doing"));
    assert_non_null(line_with(&compare->rows[1], "nothing is ever dumped"));
    bench_let_go(compare);
}

static void a_dry_bucket_is_lost_and_said_so(void **state)
{
    (void)state;
    bench_shipped(&scenario, "renew-or-not");
    scenario.strategy_count = 2;
    scenario.strategies[1].visit_every_d = 400;
    struct compare *compare = bench_compare(&scenario);
    const struct compare_row *dry = &compare->rows[1];
    assert_true(dry->life.first.plant_lost > 0);
    assert_true(dry->life.first.plant_lost > dry->life.first.roots_dry);
    assert_non_null(line_with(dry, "lost for want of water"));
    assert_int_equal(compare->best, 0);
    bench_let_go(compare);
}

static void a_plant_hung_too_high_is_told_so_and_no_strategy_is_praised(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.start_l = 4;
    scenario.bucket.full_l = 4;
    struct compare *compare = bench_compare(&scenario);
    assert_non_null(line_with(&compare->rows[0], "does not reach the roots"));
    assert_non_null(strstr(compare->verdict, "No strategy here keeps the plant alive"));
    bench_let_go(compare);
}

/* Half and half feeds more than the basil eats: EC creeps up, pour after pour. */
static void a_bucket_left_strong_by_its_pours_is_no_matter_of_drinking(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.limits.ec_high_ms_cm = 1.15;
    struct compare *compare = bench_compare(&scenario);
    const struct compare_row *fed = &compare->rows[1];
    const char *line = line_with(fed, "EC is above 1.15 mS/cm even after the pour");
    assert_non_null(line);
    assert_null(line_with(fed, "only because the plant has drunk"));
    double day;
    assert_int_equal(sscanf(line, "Day %lf", &day), 1);
    const struct visit_record *visit = visit_on(fed, day);
    assert_true(visit->ec_after_ms_cm > 1.15);
    for (const struct visit_record *before = fed->life.trajectory.visits; before < visit;
         before++) {
        assert_true(before->ec_after_ms_cm <= 1.15);
    }
    bench_let_go(compare);
}

static void who_pours_water_alone_is_told_to_feed(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    struct compare *compare = bench_compare(&scenario);
    assert_non_null(line_with(&compare->rows[0], "pour stock too, not water alone"));
    bench_let_go(compare);
}

/* In hard water an EC aimed at is filled by the water, not by the recipe that is wanting:
 * the same feed as a fixed share keeps the plant fed. */
static void salty_water_is_blamed_where_it_fills_the_aim(void **state)
{
    (void)state;
    bench_shipped(&scenario, "renew-or-not");
    struct compare *compare = bench_compare(&scenario);
    assert_non_null(line_with(&compare->rows[2], "this water's own salt fills the EC"));
    assert_non_null(
        line_with(&compare->rows[4], "look for a recipe with more potassium"));
    const double aimed = compare->rows[2].growth_index;
    bench_let_go(compare);
    scenario.strategies[0] = scenario.strategies[2];
    scenario.strategy_count = 1;
    scenario.strategies[0].fill.rule = fill_rule_by_name("mix");
    scenario.strategies[0].fill.stock_share = 0.5;
    compare = bench_compare(&scenario);
    assert_true(compare->rows[0].growth_index > aimed + 0.3);
    assert_true(isnan(compare->rows[0].life.first.nutrient_low[ION_K]));
    bench_let_go(compare);
}

static void without_limits_nothing_is_said_to_be_kept(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.limits.ec_low_ms_cm = scenario.limits.ph_low = 0;
    scenario.limits.ec_high_ms_cm = scenario.limits.ph_high = INFINITY;
    scenario.limits.high_mmol_l[ION_NA] = INFINITY;
    struct compare *compare = bench_compare(&scenario);
    assert_non_null(line_with(&compare->rows[1], "Without limits nothing is watched"));
    assert_null(line_with(&compare->rows[1], "no limit is passed"));
    assert_null(line_with(&compare->rows[0], "a reading that looks right"));
    bench_let_go(compare);
}

static void only_a_good_strategy_among_others_is_to_be_used(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    struct compare *compare = bench_compare(&scenario);
    assert_ptr_equal(strstr(compare->verdict, "Use \"Hold EC 1.2\""), compare->verdict);
    assert_null(strstr(compare->verdict, "amiss"));
    compare_free(compare);
    *compare = (struct compare){0};
    scenario.strategy_count = 1; /* water only: growth 69 % */
    struct error error = {0};
    assert_int_equal(compare_run(compare, &scenario, &error), STATUS_OK);
    assert_ptr_equal(strstr(compare->verdict, "\"Water only\": growth"),
                     compare->verdict);
    compare_free(compare);
    *compare = (struct compare){0};
    scenario.strategy_count = 2;
    scenario.strategies[1] = scenario.strategies[0];
    assert_int_equal(compare_run(compare, &scenario, &error), STATUS_OK);
    assert_non_null(strstr(compare->verdict, "None of these is good"));
    bench_let_go(compare);
}

static void the_best_is_praised_with_what_goes_amiss_under_it(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.limits.ec_high_ms_cm = 1.05; /* the bucket begins at 1.06 */
    struct compare *compare = bench_compare(&scenario);
    assert_ptr_equal(strstr(compare->verdict, "Use "), compare->verdict);
    assert_non_null(strstr(compare->verdict, "amiss, first on day 0"));
    bench_let_go(compare);
}

static void an_aim_that_stock_cannot_reach_asks_for_a_stronger_one(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.strategies[2].fill.aim_ec_ms_cm = 3.4;
    struct compare *compare = bench_compare(&scenario);
    assert_non_null(line_with(&compare->rows[2], "A stronger stock is needed."));
    bench_let_go(compare);
}

/* Half stock in the first filling: pours of the first two weeks cannot lift it to 1.2
 * mS/cm, later ones can. */
static void an_aim_met_in_the_end_is_told_to_be(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    struct compare *compare = bench_compare(&scenario);
    const struct trajectory *path = &compare->rows[2].life.trajectory;
    assert_false(path->visits[0].fill.reached);
    assert_true(path->visits[path->visit_count - 1].fill.reached);
    assert_non_null(line_with(&compare->rows[2], "Later pours bring it to its aim"));
    compare_free(compare);
    *compare = (struct compare){0};
    scenario.duration_d = 13;
    struct error error = {0};
    assert_int_equal(compare_run(compare, &scenario, &error), STATUS_OK);
    assert_null(line_with(&compare->rows[2], "Later pours"));
    assert_non_null(line_with(&compare->rows[2], "or more of it in the first filling."));
    bench_let_go(compare);
}

/* Weak at first and, as hard water leaves its salt behind, too strong in the end: each
 * has its own sentence and counts the visits that ended so, 5 % off being no matter. */
static void too_weak_and_too_strong_are_counted_apart(void **state)
{
    (void)state;
    bench_shipped(&scenario, "renew-or-not");
    scenario.start_stock_share = 0.1;
    struct compare *compare = bench_compare(&scenario);
    const struct compare_row *hard = &compare->rows[2];
    const struct trajectory *path = &hard->life.trajectory;
    size_t weak = 0;
    size_t strong = 0;
    for (size_t i = 0; i < path->visit_count; i++) {
        weak += path->visits[i].ec_after_ms_cm < 0.95 * 1.6;
        strong += path->visits[i].ec_after_ms_cm > 1.05 * 1.6;
    }
    const char *line = line_with(hard, "pure stock brings the bucket only to");
    size_t told;
    assert_true(weak > 0 && strong > weak);
    assert_non_null(line);
    assert_int_equal(sscanf(line, "At %zu of", &told), 1);
    assert_int_equal(told, weak);
    line = line_with(hard, "too strong for its aim even with plain water");
    assert_non_null(line);
    assert_int_equal(sscanf(line, "At %zu of", &told), 1);
    assert_int_equal(told, strong);
    assert_non_null(strstr(line, " first would have done it."));
    bench_let_go(compare);
}

static void no_drain_is_advised_where_the_water_reads_more_than_the_aim(void **state)
{
    (void)state;
    bench_shipped(&scenario, "renew-or-not");
    scenario.strategies[2].fill.aim_ec_ms_cm = 0.53;
    struct compare *compare = bench_compare(&scenario);
    const char *line = line_with(&compare->rows[2], "too strong for its aim");
    assert_non_null(line);
    assert_non_null(strstr(line, "no drain would have done it."));
    assert_null(strstr(line, "first would have"));
    bench_let_go(compare);
}

static void gallons_and_ppm_reach_the_sentences(void **state)
{
    (void)state;
    bench_shipped(&scenario, "pepper-in-gallons");
    struct compare *compare = bench_compare(&scenario);
    assert_non_null(strstr(compare->verdict, "ppm500"));
    assert_null(strstr(compare->verdict, "mS/cm"));
    bench_let_go(compare);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_drain_advised_brings_ec_under_the_limit),
        cmocka_unit_test(sodium_is_halved_by_the_drain_advised),
        cmocka_unit_test(an_ion_is_said_to_come_from_what_brings_it),
        cmocka_unit_test(an_ion_that_acid_brings_is_laid_at_its_door),
        cmocka_unit_test(advice_comes_in_the_order_of_days),
        cmocka_unit_test(a_quiet_life_is_told_to_be_one),
        cmocka_unit_test(a_dry_bucket_is_lost_and_said_so),
        cmocka_unit_test(a_plant_hung_too_high_is_told_so_and_no_strategy_is_praised),
        cmocka_unit_test(a_bucket_left_strong_by_its_pours_is_no_matter_of_drinking),
        cmocka_unit_test(who_pours_water_alone_is_told_to_feed),
        cmocka_unit_test(salty_water_is_blamed_where_it_fills_the_aim),
        cmocka_unit_test(without_limits_nothing_is_said_to_be_kept),
        cmocka_unit_test(only_a_good_strategy_among_others_is_to_be_used),
        cmocka_unit_test(the_best_is_praised_with_what_goes_amiss_under_it),
        cmocka_unit_test(an_aim_that_stock_cannot_reach_asks_for_a_stronger_one),
        cmocka_unit_test(an_aim_met_in_the_end_is_told_to_be),
        cmocka_unit_test(too_weak_and_too_strong_are_counted_apart),
        cmocka_unit_test(no_drain_is_advised_where_the_water_reads_more_than_the_aim),
        cmocka_unit_test(gallons_and_ppm_reach_the_sentences),
    };
    return cmocka_run_group_tests_name("advice", tests, NULL, NULL);
}
