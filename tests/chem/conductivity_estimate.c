/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/chem/pen.h"
#include "support/random_liquid.h"

static double estimate(const struct liquid *liquid)
{
    return conductivity_estimate(liquid->mmol_l, liquid->alkalinity_meq_l);
}

/* The range that the header names. */
static bool in_range(const struct liquid *liquid, const struct pen_reading *reading)
{
    const double *c = liquid->mmol_l;
    const double cations =
        c[ION_NH4] + c[ION_K] + c[ION_NA] + 2 * (c[ION_CA] + c[ION_MG]);
    return reading->ph >= 4.2 && c[ION_NH4] <= 1.5 && c[ION_P] <= 2 && c[ION_SO4] <= 15 &&
           liquid->alkalinity_meq_l <= fmin(5, 0.4 * cations);
}

/* The seed is not that of the fit. */
static void feeds_and_what_they_drift_to_are_estimated_within_three_percent(void **state)
{
    (void)state;
    const struct pen pens[] = {pen_at(15, 1000), pen_at(22, 420), pen_at(28, 1000)};
    uint64_t seed = 303;
    int used = 0;
    for (int n = 0; n < 30000; n++) {
        const struct liquid liquid =
            n % 2 == 0 ? random_feed(&seed) : random_drifted(&seed);
        const struct pen_reading full = pen_read(&pens[n % 3], &liquid);
        if (full.ec_ms_cm >= 0.2 && full.ec_ms_cm <= 6) {
            const bool usual = in_range(&liquid, &full);
            assert_close(estimate(&liquid), full.ec_ms_cm, usual ? 0.03 : 0.06, 0);
            used += usual;
        }
    }
    assert_true(used > 15000);
}

/* No kink: where alkalinity changes sign and phosphate's buffer ends, the slope changes
 * by little from one step of 1e-4 meq/L to the next. */
static void the_estimate_has_no_kinks(void **state)
{
    (void)state;
    struct liquid liquid = {.mmol_l = {7.1, 0.6, 1.2, 3.3, 2.4, 1.1, 1.6, 0.4, 0.3}};
    static const double step = 1e-4;
    double last_slope = NAN;
    double last = NAN;
    for (int n = -3000; n < 30000; n++) {
        liquid.alkalinity_meq_l = step * n;
        const double ec = estimate(&liquid);
        const double slope = (ec - last) / step;
        if (n > -2998) {
            assert_close(slope, last_slope, 0, 0.01);
        }
        last_slope = slope;
        last = ec;
    }
}

static void a_drop_of_salt_raises_the_estimate(void **state)
{
    (void)state;
    uint64_t seed = 307;
    for (int n = 0; n < 500; n++) {
        struct liquid liquid = random_feed(&seed);
        const double before = estimate(&liquid);
        liquid.mmol_l[ION_NA] += 0.01;
        liquid.mmol_l[ION_CL] += 0.01;
        assert_true(estimate(&liquid) > before);
    }
}

static void water_reads_next_to_nothing(void **state)
{
    (void)state;
    const struct liquid water = {0};
    const double ec = estimate(&water);
    assert_true(ec >= 0);
    assert_true(ec < 0.002);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(feeds_and_what_they_drift_to_are_estimated_within_three_percent),
        cmocka_unit_test(the_estimate_has_no_kinks),
        cmocka_unit_test(a_drop_of_salt_raises_the_estimate),
        cmocka_unit_test(water_reads_next_to_nothing),
    };
    return cmocka_run_group_tests_name("conductivity_estimate", tests, NULL, NULL);
}
