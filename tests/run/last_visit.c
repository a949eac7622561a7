/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which limits the last visit leaves passed, against a bucket that can be reckoned by
 * hand: without a plant, filled up with a water every seventh day. Between two visits it
 * loses 7 e litres, so that sodium rises from c to c V / (V - 7 e) and each visit adds
 * 7 e c_w / V. */
#include "support/close.h"

#include <math.h>

#include "pailcast/run/life.h"
#include "support/bench.h"

static const double start_mmol_l = 2.385;
static const double lost_l_d = 0.187, full_l = 13.7;

static struct scenario scenario;

/* A month of it: visits on days 7, 14, 21 and 28, by a water with sodium in it. */
static void still_bucket(double water_mmol_l, double limit_mmol_l)
{
    bench_shipped(&scenario, "no-plant");
    static struct scenario plain;
    scenario_defaults(&plain);
    scenario.limits = plain.limits;
    scenario.limits.high_mmol_l[ION_NA] = limit_mmol_l;
    scenario.bucket.full_l = scenario.start_l = full_l;
    scenario.evaporation_l_d = lost_l_d;
    struct strategy *strategy = &scenario.strategies[0];
    strategy->water =
        (struct liquid){.mmol_l = {[ION_NA] = water_mmol_l, [ION_CL] = water_mmol_l}};
    strategy->stock =
        (struct liquid){.mmol_l = {[ION_NA] = start_mmol_l, [ION_CL] = start_mmol_l}};
    scenario.start_stock_share = 1;
}

static struct life lived(size_t strategy, bool lean)
{
    struct life life = {0};
    struct error error = {0};
    const struct strategy *plan = &scenario.strategies[strategy];
    assert_int_equal(lean ? life_run_lean(&life, &scenario, plan, &error)
                          : life_run(&life, &scenario, plan, &error),
                     STATUS_OK);
    return life;
}

static void what_every_visit_mends_is_not_left(void **state)
{
    (void)state;
    const double most = start_mmol_l * full_l / (full_l - 7 * lost_l_d);
    for (int lean = 0; lean < 2; lean++) {
        still_bucket(0, 0.5 * (start_mmol_l + most));
        struct life life = lived(0, lean == 1);
        assert_true(life.first.ion_high[ION_NA] > 2 && life.first.ion_high[ION_NA] < 7);
        assert_true(isnan(life.left.ion_high[ION_NA]));
        life_free(&life);
        still_bucket(0, 1.02 * most);
        life = lived(0, lean == 1);
        assert_true(isnan(life.first.ion_high[ION_NA]));
        assert_true(isnan(life.left.ion_high[ION_NA]));
        life_free(&life);
    }
}

static void
what_comes_with_the_water_is_left_from_the_visit_that_passes_it_on(void **state)
{
    (void)state;
    const double water = 0.9;
    const double each = 7 * lost_l_d / full_l * water;
    for (int lean = 0; lean < 2; lean++) {
        /* Right after the third visit just above, after the fourth just below. */
        still_bucket(water, start_mmol_l + 3.5 * each);
        struct life life = lived(0, lean == 1);
        assert_close(life.left.ion_high[ION_NA], 28, 0, 1e-9);
        life_free(&life);
        still_bucket(water, start_mmol_l + 4.5 * each);
        life = lived(0, lean == 1);
        assert_true(isnan(life.left.ion_high[ION_NA]));
        assert_true(life.first.ion_high[ION_NA] > 0);
        life_free(&life);
    }
}

static void where_nobody_comes_the_first_filling_is_judged(void **state)
{
    (void)state;
    still_bucket(0, start_mmol_l * 0.97);
    scenario.strategies[0].visit_every_d = 4000;
    struct life life = lived(0, true);
    assert_close(life.left.ion_high[ION_NA], 0, 0, 0);
    life_free(&life);
    still_bucket(0, start_mmol_l * 1.01);
    scenario.strategies[0].visit_every_d = 4000;
    life = lived(0, true);
    assert_true(life.first.ion_high[ION_NA] > 0);
    assert_true(isnan(life.left.ion_high[ION_NA]));
    life_free(&life);
}

/* EC and pH are those of the pens, not of the estimates that find the crossings. */
static void ec_and_ph_are_read_in_full(void **state)
{
    (void)state;
    bench_shipped(&scenario, "renew-or-not");
    struct life life = lived(2, false);
    const struct visit_record *last =
        &life.trajectory.visits[life.trajectory.visit_count - 1];
    const double ec = last->ec_after_ms_cm;
    const double ph = last->ph_after;
    life_free(&life);
    for (int over = 0; over < 2; over++) {
        const double shift = over == 1 ? 1e-4 : -1e-4;
        scenario.limits.ec_high_ms_cm = ec - shift;
        scenario.limits.ph_high = ph - shift;
        life = lived(2, false);
        assert_int_equal(isnan(life.left.ec_high), over == 0);
        assert_int_equal(isnan(life.left.ph_high), over == 0);
        life_free(&life);
        scenario.limits.ec_high_ms_cm = scenario.limits.ph_high = INFINITY;
        scenario.limits.ec_low_ms_cm = ec + shift;
        scenario.limits.ph_low = ph + shift;
        life = lived(2, false);
        assert_int_equal(isnan(life.left.ec_low), over == 0);
        assert_int_equal(isnan(life.left.ph_low), over == 0);
        life_free(&life);
        scenario.limits.ec_low_ms_cm = scenario.limits.ph_low = 0;
    }
}

static void nothing_is_left_that_was_never_passed(void **state)
{
    static const char *const shipped[] = {"first-bucket", "renew-or-not",
                                          "pepper-in-gallons", "strawberry-holiday",
                                          "wheat-hard-water-acid"};
    (void)state;
    size_t passed = 0, left = 0;
    for (size_t s = 0; s < sizeof shipped / sizeof *shipped; s++) {
        bench_shipped(&scenario, shipped[s]);
        for (size_t k = 0; k < scenario.strategy_count; k++) {
            struct life life = lived(k, true);
            const double *first = (const double *)&life.first;
            const double *kept = (const double *)&life.left;
            for (size_t i = 0; i < sizeof life.first / sizeof *first; i++) {
                passed += isnan(first[i]) ? 0 : 1;
                left += isnan(kept[i]) ? 0 : 1;
                assert_true(isnan(kept[i]) || first[i] <= kept[i]);
            }
            life_free(&life);
        }
    }
    assert_true(left > 5 && passed > left);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_every_visit_mends_is_not_left),
        cmocka_unit_test(
            what_comes_with_the_water_is_left_from_the_visit_that_passes_it_on),
        cmocka_unit_test(where_nobody_comes_the_first_filling_is_judged),
        cmocka_unit_test(ec_and_ph_are_read_in_full),
        cmocka_unit_test(nothing_is_left_that_was_never_passed),
    };
    return cmocka_run_group_tests_name("last_visit", tests, NULL, NULL);
}
