/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where each ion is heading, against closed forms. */
#include "support/close.h"

#include "why_simple.h"

/* Carmassi et al. 2005 (from memory, and derivable): taken in proportion p and topped up
 * with c_w, an ion nears c_w/p; a plain salt that is left behind rises without limit. */
static void an_ion_taken_in_proportion_has_a_limit(void **state)
{
    (void)state;
    struct liquid start = {.mmol_l = {[ION_NA] = 2.13, [ION_CL] = 2.13}};
    struct strategy *strategy = simple(2600, 19.3, &start);
    stage()->drinks_l_d = 1.07;
    stage()->follows[ION_NA] = 0.13;
    stage()->follows[ION_CL] = 0.13;
    strategy->visit_every_d = 0.5;
    struct why early = asked(0, 31);
    const struct why_ion *sodium = &early.intervals[0].ion[ION_NA];
    assert_close(sodium->ratio, 0.13, exact, 0);
    assert_close(sodium->limit_mmol_l, 2.13 / 0.13, exact, 0);
    assert_int_equal(sodium->heading, WHY_RISES);
    why_free(&early);
    /* Halves of days are pours, not a stream: after fifteen time constants the bucket
     * stands within a part of the half day's drinking of the limit. */
    struct why late = asked(2500, 2599.9);
    sodium = &late.intervals[0].ion[ION_NA];
    assert_close(sodium->last_mmol_l, 2.13 / 0.13, 0.02, 0);
    assert_int_equal(sodium->heading, WHY_STEADY);
    why_free(&late);
}

/* u above c_w: gone after C V / (u - c_w) litres drunk; u below: no limit; u equal to
 * c_w: steady, as Savvas et al. 2005 state (read in the abstract). */
static void an_ion_taken_at_a_steady_rate_runs_out_rises_or_stays(void **state)
{
    (void)state;
    const struct liquid start = balanced(salts);
    struct strategy *strategy = simple(60, 19.3, &start);
    stage()->drinks_l_d = 1.07;
    strategy->visit_every_d = 0.1;
    stage()->eats_mmol_l[ION_K] = start.mmol_l[ION_K];
    stage()->eats_mmol_l[ION_NO3] = start.mmol_l[ION_NO3] + 4.1;
    stage()->eats_mmol_l[ION_CA] = start.mmol_l[ION_CA] - 0.6;
    struct why why = asked(0, 9);
    const struct why_interval *whole = &why.intervals[0];
    const struct why_ion *nitrate = &whole->ion[ION_NO3];
    const double gone_l = 8.43 * 19.3 / 4.1;
    assert_int_equal(whole->ion[ION_K].heading, WHY_STEADY);
    assert_int_equal(whole->ion[ION_CA].heading, WHY_RISES);
    assert_true(isnan(whole->ion[ION_CA].limit_mmol_l));
    assert_int_equal(nitrate->heading, WHY_RUNS_OUT);
    assert_close(nitrate->limit_mmol_l, 0, 0, 0);
    assert_close(nitrate->gone_after_l + 9 * 1.07, gone_l, 1e-6, 0);
    why_free(&why);
    scenario.limits.low_mmol_l[ION_NO3] = 8.43;
    why = asked(0, 9);
    assert_int_equal(why.intervals[0].ion[ION_NO3].heading, WHY_GONE);
    why_free(&why);
    /* And lived on, it is gone then, but for the last traces that roots cannot get. */
    const double gone_d = gone_l / 1.07;
    why = asked(0, gone_d - 1);
    assert_true(why.intervals[0].ion[ION_NO3].last_mmol_l > 0.1);
    why_free(&why);
    why = asked(0, gone_d + 1);
    assert_true(why.intervals[0].ion[ION_NO3].last_mmol_l < 0.1);
    why_free(&why);
}

/* With drain beside drinking: C = c_w + (T/D)(c_w - u) and C = c_w (T + D)/(D + p T). */
static void draining_gives_every_ion_a_limit(void **state)
{
    (void)state;
    struct liquid start = {.mmol_l = {[ION_K] = 2.9, [ION_NA] = 2, [ION_CL] = 4.9}};
    struct strategy *strategy = simple(40, 20.3, &start);
    stage()->drinks_l_d = 1.3;
    stage()->eats_mmol_l[ION_K] = 1.7;
    stage()->follows[ION_NA] = 0.11;
    stage()->follows[ION_CL] = 0.11;
    strategy->visit_every_d = 0.25;
    strategy->renew_every_d = 0.25;
    strategy->renew_share = 0.01;
    strategy->renew_stock_share = 0;
    struct why why = asked(10, 30);
    const struct why_tally *tally = &why.intervals[0].tally;
    const double t = tally->drunk_l;
    const double d = tally->drained_l;
    assert_close(t, 26, exact, 0);
    assert_true(d > 15);
    assert_close(why.intervals[0].ion[ION_K].limit_mmol_l, 2.9 + t / d * (2.9 - 1.7),
                 exact, 0);
    assert_close(why.intervals[0].ion[ION_NA].limit_mmol_l, 2 * (t + d) / (d + 0.11 * t),
                 exact, 0);
    why_free(&why);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_ion_taken_in_proportion_has_a_limit),
        cmocka_unit_test(an_ion_taken_at_a_steady_rate_runs_out_rises_or_stays),
        cmocka_unit_test(draining_gives_every_ion_a_limit),
    };
    return cmocka_run_group_tests_name("why outlook", tests, NULL, NULL);
}
