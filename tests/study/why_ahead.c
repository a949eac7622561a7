/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What comes after a stretch, against closed forms: a bucket topped up so often that a
 * visit moves it little. */
#include "support/close.h"

#include "support/bench.h"
#include "why_simple.h"

static const double full_l = 19.3;
static const double drinks_l_d = 1.07;

static struct strategy *topped_up(const struct liquid *with)
{
    struct strategy *strategy = simple(900, full_l, with);
    stage()->drinks_l_d = drinks_l_d;
    strategy->visit_every_d = 1.0 / 32;
    return strategy;
}

/* C = L - (L - C0) exp(-p T t/V) towards L = c_w/p for what is taken in proportion, and
 * C0 + c_w T t/V for what is left behind (Carmassi et al. 2005, from memory, and
 * derivable). */
static void the_day_of_a_limit_is_that_of_the_closed_form(void **state)
{
    (void)state;
    const double c_w = 2.13;
    const double limit = 12.1;
    struct liquid start = {.mmol_l = {[ION_NA] = c_w, [ION_CL] = c_w}};
    (void)topped_up(&start);
    stage()->follows[ION_NA] = 0.13;
    scenario.limits.high_mmol_l[ION_NA] = scenario.limits.high_mmol_l[ION_CL] = limit;
    struct why why = asked(0, 31);
    const struct why_ahead *ahead = &why.ahead;
    const double end = c_w / 0.13;
    const double sodium_d =
        log((end - c_w) / (end - limit)) * full_l / (0.13 * drinks_l_d);
    const double chloride_d = (limit / c_w - 1) * full_l / drinks_l_d;
    assert_close(ahead->ion_left_d[ION_NA], sodium_d, 0, 0.3);
    assert_close(ahead->ion_left_d[ION_CL], chloride_d, 0, 0.3);
    assert_true(ahead->ion_high_d[ION_CL] < ahead->ion_left_d[ION_CL]);
    assert_true(isinf(ahead->ion_left_d[ION_K]) && isinf(ahead->ec_left_d));
    assert_close(ahead->until_d, 31 + WHY_AHEAD_D, 0, 1e-9);
    why_free(&why);
    scenario.limits.high_mmol_l[ION_NA] = 1.05 * end; /* beyond its end no ion goes */
    why = asked(0, 31);
    assert_true(isinf(why.ahead.ion_high_d[ION_NA]));
    why_free(&why);
}

/* What the last visit before the end has left above its limit is so now. */
static void what_is_above_its_limit_is_so_now(void **state)
{
    (void)state;
    struct liquid start = {.mmol_l = {[ION_NA] = 2.13, [ION_CL] = 2.13}};
    (void)topped_up(&start);
    scenario.limits.high_mmol_l[ION_CL] = 3;
    struct why why = asked(0, 31);
    assert_true(why.ahead.ion_left_d[ION_CL] <= 31);
    assert_true(why.ahead.ion_high_d[ION_CL] <= 31);
    why_free(&why);
}

/* C V^(1 - p) stays between two visits, nine days in which half is drunk: in the end C
 * swings between 2.295 after them and 2.459 before, by hand for p = 0.9. */
static void what_a_visit_mends_is_not_left(void **state)
{
    (void)state;
    struct liquid start = {.mmol_l = {[ION_NA] = 2.13, [ION_CL] = 2.13}};
    struct strategy *strategy = topped_up(&start);
    strategy->visit_every_d = 9;
    stage()->follows[ION_NA] = stage()->follows[ION_CL] = 0.9;
    scenario.limits.high_mmol_l[ION_NA] = 2.38;
    struct why why = asked(0, 4);
    assert_true(why.ahead.ion_high_d[ION_NA] > 4 && why.ahead.ion_high_d[ION_NA] < 60);
    assert_true(isinf(why.ahead.ion_left_d[ION_NA]));
    why_free(&why);
}

/* Gone after C V/(u - c_w) litres drunk. */
static void food_that_is_eaten_faster_than_poured_is_gone_on_its_day(void **state)
{
    (void)state;
    const struct liquid start = balanced(salts);
    (void)topped_up(&start);
    stage()->eats_mmol_l[ION_NO3] = start.mmol_l[ION_NO3] + 4.1;
    scenario.limits.low_mmol_l[ION_NO3] = 0.1;
    struct why why = asked(0, 9);
    const double gone_d = (start.mmol_l[ION_NO3] - 0.1) * full_l / 4.1 / drinks_l_d;
    assert_close(why.ahead.gone_d[ION_NO3], gone_d, 0.02, 0);
    why_free(&why);
}

/* A basil that nobody visits. */
static void of_a_lost_plant_nothing_is_promised(void **state)
{
    (void)state;
    struct error error = {0};
    struct why why;
    bench_shipped(&scenario, "first-bucket");
    struct strategy *strategy = &scenario.strategies[0];
    strategy->visit_every_d = 900;
    assert_int_equal(why_run(&why, &scenario, strategy, 0, 20, &error), STATUS_OK);
    const double lost_d = why.ahead.lost_d;
    assert_true(lost_d > 20 && lost_d < 200);
    assert_true(why.ahead.until_d == lost_d);
    why_free(&why);
    scenario.duration_d = lost_d + 1;
    assert_int_equal(why_run(&why, &scenario, strategy, 0, lost_d + 1, &error),
                     STATUS_OK);
    assert_true(isnan(why.ahead.until_d));
    why_free(&why);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_day_of_a_limit_is_that_of_the_closed_form),
        cmocka_unit_test(what_is_above_its_limit_is_so_now),
        cmocka_unit_test(what_a_visit_mends_is_not_left),
        cmocka_unit_test(food_that_is_eaten_faster_than_poured_is_gone_on_its_day),
        cmocka_unit_test(of_a_lost_plant_nothing_is_promised),
    };
    return cmocka_run_group_tests_name("why ahead", tests, NULL, NULL);
}
