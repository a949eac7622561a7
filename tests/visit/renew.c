/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When a bucket is renewed and how much of it goes: the rules of docs/scenario.md. */
#include "support/close.h"

#include "../../sim/visit/hidden.h"
#include "pailcast/visit/renew.h"

/* 13.7 L read at 1.62 mS/cm, 27 days after the last renewal. */
static struct renew_plan decide(const struct strategy *strategy, double since_renewal_d)
{
    static const struct observation_bucket bucket = {
        .liquid = {.mmol_l = {[ION_K] = 4.7, [ION_NA] = 2.3, [ION_CL] = 3.1}}};
    const struct observation seen = {.volume_l = 13.7,
                                     .ec_ms_cm = 1.62,
                                     .since_renewal_d = since_renewal_d,
                                     .bucket = &bucket};
    return renew_decide(&seen, strategy);
}

static void nothing_is_renewed_unasked(void **state)
{
    (void)state;
    const struct strategy strategy = strategy_defaults();
    const struct renew_plan plan = decide(&strategy, 4000);
    assert_int_equal(plan.reason, RENEW_NOT);
    assert_close(plan.drain_l, 0, 0, 0);
    assert_int_equal(plan.tests, 0);
}

static void a_renewal_is_due_on_its_day(void **state)
{
    (void)state;
    struct strategy strategy = strategy_defaults();
    strategy.renew_every_d = 28;
    strategy.renew_share = 0.35;
    assert_int_equal(decide(&strategy, 27.99).reason, RENEW_NOT);
    const struct renew_plan plan = decide(&strategy, 28);
    assert_int_equal(plan.reason, RENEW_CALENDAR);
    assert_close(plan.drain_l, 0.35 * 13.7, 1e-14, 0);
}

static void a_limit_of_ec_is_one_the_pen_passes(void **state)
{
    (void)state;
    struct strategy strategy = strategy_defaults();
    strategy.renew_above_ec_ms_cm = 1.63;
    assert_int_equal(decide(&strategy, 3).reason, RENEW_NOT);
    strategy.renew_above_ec_ms_cm = 1.61;
    const struct renew_plan plan = decide(&strategy, 3);
    assert_int_equal(plan.reason, RENEW_EC);
    assert_close(plan.drain_l, 13.7, 1e-14, 0);
}

/* Every watched ion is tested by a strip of its own, at every visit. */
static void each_watched_ion_is_held_to_its_own_limit(void **state)
{
    (void)state;
    struct strategy strategy = strategy_defaults();
    strategy.renew_above_mmol_l[ION_NA] = 2.4;
    strategy.renew_above_mmol_l[ION_CL] = 3.2;
    const struct renew_plan none = decide(&strategy, 3);
    assert_int_equal(none.reason, RENEW_NOT);
    assert_int_equal(none.tests, 2);
    strategy.renew_above_mmol_l[ION_CL] = 3.0;
    const struct renew_plan chloride = decide(&strategy, 3);
    assert_int_equal(chloride.reason, RENEW_ION);
    assert_int_equal(chloride.ion, ION_CL);
    assert_int_equal(chloride.tests, 2);
    assert_close(chloride.drain_l, 13.7, 1e-14, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_is_renewed_unasked),
        cmocka_unit_test(a_renewal_is_due_on_its_day),
        cmocka_unit_test(a_limit_of_ec_is_one_the_pen_passes),
        cmocka_unit_test(each_watched_ion_is_held_to_its_own_limit),
    };
    return cmocka_run_group_tests_name("renew", tests, NULL, NULL);
}
