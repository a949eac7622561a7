/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is advised about pH: one thing for one bucket, which does what it is said to. */
#include "support/close.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/study/advice.h"
#include "support/bench.h"

static struct scenario scenario;

/* A tomato in a small bucket that is held at an EC. */
static void tomato(const char *water, double full_l, double visit_every_d, double ph_low,
                   double ph_high)
{
    const struct bench_plan plan = {.crop = "tomato",
                                    .water = water,
                                    .recipe = "fruiting_full",
                                    .days = 90,
                                    .full_l = full_l,
                                    .ppfd = 320,
                                    .lamp_hours = 15,
                                    .humidity = 0.5,
                                    .visit_every_d = visit_every_d,
                                    .aim_ec_ms_cm = 1.4,
                                    .stock_share = 0.5};
    bench_crop(&scenario, &plan);
    scenario.limits.ph_low = ph_low;
    scenario.limits.ph_high = ph_high;
    scenario.sample_every_d = 1.0 / 24;
}

static void adjusted(const char *formula, double above_ph, double to_ph)
{
    scenario.strategies[0].adjust =
        (struct strategy_adjust){salt_by_formula(formula), above_ph, to_ph};
    assert_non_null(scenario.strategies[0].adjust.with);
}

/* The only line about pH; NULL where there is none. */
static const char *only_line(const struct compare *compare)
{
    const struct compare_row *row = &compare->rows[0];
    const char *found = NULL;
    for (size_t i = 0; i < row->advice_count; i++) {
        if (strstr(row->advice[i], "pH ") != NULL) {
            assert_null(found);
            found = row->advice[i];
        }
    }
    return found;
}

static void ph_that_passes_both_limits_has_one_line_and_one_remedy(void **state)
{
    static const char *const waters[] = {"soft_tap", "reverse_osmosis"};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        tomato(waters[i], 10, 3, 5, 7);
        struct compare *compare = bench_compare(&scenario);
        const struct life_first_days *first = &compare->rows[0].life.first;
        assert_true(first->ph_high > 0 && first->ph_low > 0);
        const char *line = only_line(compare);
        assert_non_null(line);
        assert_non_null(strstr(line, "pH passes both limits"));
        assert_non_null(strstr(line, "nitrate eaten lifts it and ammonium"));
        assert_non_null(strstr(line, "Visit more often than every 3 d"));
        assert_null(strstr(line, "add acid"));
        assert_null(strstr(line, "holds some alkalinity"));
        bench_let_go(compare);
    }
}

static void a_limit_is_told_as_it_is_set(void **state)
{
    (void)state;
    tomato("soft_tap", 10, 3, 4.75, 9);
    struct compare *compare = bench_compare(&scenario);
    const char *line = only_line(compare);
    assert_non_null(line);
    assert_non_null(strstr(line, "pH falls below 4.75."));
    bench_let_go(compare);
}

/* Rows in which pH is beyond either limit, of a row an hour. */
static size_t rows_beyond(const struct compare *compare, bool above)
{
    const struct trajectory *path = &compare->rows[0].life.trajectory;
    size_t count = 0;
    for (size_t i = 0; i < path->sample_count; i++) {
        count += above ? path->samples[i].ph > scenario.limits.ph_high
                       : path->samples[i].ph < scenario.limits.ph_low;
    }
    return count;
}

static void closer_visits_leave_one_limit_passed_at_most(void **state)
{
    static const char *const waters[] = {"soft_tap", "reverse_osmosis"};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        tomato(waters[i], 10, 3, 5, 7);
        struct compare *compare = bench_compare(&scenario);
        assert_true(rows_beyond(compare, true) > 0 && rows_beyond(compare, false) > 0);
        bench_let_go(compare);
        tomato(waters[i], 10, 1, 5, 7);
        compare = bench_compare(&scenario);
        assert_true(rows_beyond(compare, true) == 0 || rows_beyond(compare, false) == 0);
        bench_let_go(compare);
    }
}

static void who_comes_every_day_is_told_of_a_larger_bucket(void **state)
{
    (void)state;
    tomato("reverse_osmosis", 5, 1, 5.6, 6.6);
    struct compare *compare = bench_compare(&scenario);
    assert_non_null(strstr(only_line(compare), "Take a larger bucket"));
    bench_let_go(compare);
    tomato("reverse_osmosis", 8, 1, 5.6, 6.6);
    compare = bench_compare(&scenario);
    assert_null(strstr(only_line(compare), "both limits"));
    bench_let_go(compare);
}

static void who_pours_water_alone_is_told_to_feed(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.strategy_count = 1;
    scenario.limits.ph_high = 7;
    struct compare *compare = bench_compare(&scenario);
    const char *line = only_line(compare);
    assert_non_null(line);
    assert_non_null(strstr(line, "pH passes both limits"));
    assert_non_null(strstr(line, "Pour stock too"));
    bench_let_go(compare);
}

static void without_ammonium_none_is_blamed(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.strategy_count = 1;
    scenario.limits.ph_high = 7;
    double *stock = scenario.strategies[0].stock.mmol_l;
    stock[ION_NO3] += stock[ION_NH4];
    stock[ION_K] += 2 * stock[ION_NH4];
    stock[ION_NH4] = 0;
    struct compare *compare = bench_compare(&scenario);
    const char *line = only_line(compare);
    assert_non_null(line);
    assert_non_null(strstr(line, "potassium eaten lowers it"));
    assert_null(strstr(line, "ammonium"));
    scenario.limits.ph_high = INFINITY;
    bench_let_go(compare);
    compare = bench_compare(&scenario);
    line = only_line(compare);
    assert_non_null(strstr(line, "Top up with a water that holds some alkalinity"));
    assert_null(strstr(line, "ammonium"));
    bench_let_go(compare);
}

/* Acid is poured, and later pH falls: less of it, not alkalinity against it. */
static void who_adds_acid_is_not_told_to_add_alkalinity(void **state)
{
    (void)state;
    tomato("hard_tap", 10, 3, 4.5, 8);
    adjusted("HNO3", 6.5, 5.5);
    struct compare *compare = bench_compare(&scenario);
    const char *line = only_line(compare);
    assert_non_null(line);
    assert_non_null(strstr(line, "Dose it to a higher pH than 5.5"));
    assert_null(strstr(line, "some alkalinity"));
    const size_t before = rows_beyond(compare, false);
    bench_let_go(compare);
    adjusted("HNO3", 6.6, 6.2);
    compare = bench_compare(&scenario);
    assert_true(rows_beyond(compare, false) < before);
    bench_let_go(compare);
}

static void a_base_is_not_taken_for_an_acid(void **state)
{
    (void)state;
    tomato("hard_tap", 10, 3, 0, 8);
    adjusted("KHCO3", 5, 6);
    struct compare *compare = bench_compare(&scenario);
    const char *line = only_line(compare);
    assert_non_null(line);
    assert_null(strstr(line, "although"));
    assert_non_null(strstr(line, "add acid"));
    bench_let_go(compare);
}

static void one_limit_passed_has_the_remedy_for_it(void **state)
{
    (void)state;
    tomato("hard_tap", 10, 3, 0, 8);
    struct compare *compare = bench_compare(&scenario);
    assert_non_null(strstr(only_line(compare), "add acid at visits"));
    bench_let_go(compare);
    tomato("reverse_osmosis", 10, 1, 5, INFINITY);
    compare = bench_compare(&scenario);
    assert_non_null(strstr(only_line(compare), "recipe with less ammonium"));
    bench_let_go(compare);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ph_that_passes_both_limits_has_one_line_and_one_remedy),
        cmocka_unit_test(a_limit_is_told_as_it_is_set),
        cmocka_unit_test(closer_visits_leave_one_limit_passed_at_most),
        cmocka_unit_test(who_comes_every_day_is_told_of_a_larger_bucket),
        cmocka_unit_test(who_pours_water_alone_is_told_to_feed),
        cmocka_unit_test(without_ammonium_none_is_blamed),
        cmocka_unit_test(who_adds_acid_is_not_told_to_add_alkalinity),
        cmocka_unit_test(a_base_is_not_taken_for_an_acid),
        cmocka_unit_test(one_limit_passed_has_the_remedy_for_it),
    };
    return cmocka_run_group_tests_name("advice_ph", tests, NULL, NULL);
}
