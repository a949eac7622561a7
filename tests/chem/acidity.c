/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/chem/acidity.h"
#include "pailcast/chem/pen.h"
#include "support/random_liquid.h"

static const double lowest_ph = 3.5;
static const double highest_ph = 8.5;

static double quick_ph(const struct liquid *liquid, const struct acidity *acidity)
{
    return -log10(
        acidity_hydrogen(acidity, liquid->alkalinity_meq_l, liquid->mmol_l[ION_P]));
}

static bool typical(const struct liquid *liquid, double ec_ms_cm)
{
    const double *c = liquid->mmol_l;
    return ec_ms_cm >= 0.8 && ec_ms_cm <= 3 && c[ION_CA] >= 1.5 && c[ION_CA] <= 6 &&
           c[ION_MG] <= 3 && c[ION_SO4] <= 7 && c[ION_P] <= 2;
}

static void ph_is_close_for_usual_liquids_and_fair_for_any(void **state)
{
    (void)state;
    static const double co2[] = {420, 1000};
    static const double temperature[] = {18, 26};
    uint64_t seed = 401;
    int used[2] = {0};
    for (int n = 0; n < 20000; n++) {
        const struct liquid liquid =
            n % 2 == 0 ? random_feed(&seed) : random_drifted(&seed);
        const struct pen pen = pen_at(temperature[n / 2 % 2], co2[n / 4 % 2]);
        const struct acidity acidity = acidity_at(&pen.equilibrium, pen.co2_ppm);
        const struct pen_reading full = pen_read(&pen, &liquid);
        if (full.ph < lowest_ph || full.ph > highest_ph || full.ec_ms_cm < 0.2 ||
            full.ec_ms_cm > 6) {
            continue;
        }
        const bool usual = typical(&liquid, full.ec_ms_cm);
        assert_close(quick_ph(&liquid, &acidity), full.ph, 0, usual ? 0.15 : 0.45);
        used[usual]++;
    }
    assert_true(used[true] > 3000);
    assert_true(used[false] > 3000);
}

/* The closed form against its own balance, solved by bisection. */
static void the_closed_form_solves_its_balance(void **state)
{
    (void)state;
    const struct equilibrium constants = equilibrium_at(22);
    uint64_t seed = 403;
    for (int n = 0; n < 2000; n++) {
        const struct acidity a = acidity_at(&constants, random_between(&seed, 300, 1500));
        const double alkalinity = random_between(&seed, -0.5, 6);
        const double phosphate = random_between(&seed, 0, 3);
        double low = 2;
        double high = 12;
        while (high - low > 1e-9) {
            const double ph = 0.5 * (low + high);
            const double h = pow(10, -ph);
            const double p = 1e-3 * phosphate;
            const double held = a.c1 / h + 2 * a.c2 / (h * h) + p * a.kp2 / (h + a.kp2) -
                                a.acid * h - p * h / (h + a.kp1);
            *(held < 1e-3 * alkalinity ? &low : &high) = ph;
        }
        if (low > lowest_ph && low < highest_ph) {
            assert_close(-log10(acidity_hydrogen(&a, alkalinity, phosphate)), low, 0,
                         0.025);
        }
    }
}

static void strong_acid_keeps_its_own_ph(void **state)
{
    (void)state;
    const struct equilibrium constants = equilibrium_at(25);
    const struct acidity acidity = acidity_at(&constants, 0);
    /* Davies at I = 0.02, A = 0.5108: log g = -0.06021. */
    assert_close(-log10(acidity_hydrogen(&acidity, -0.83, 0)), -log10(0.83e-3) + 0.0602,
                 0, 1e-3);
}

/* Where the ionic strength is that of the coefficients, 0.02 mol/L, and no calcium is
 * about, nothing but the closed form's own steps keeps it from the full value: acid that
 * phosphate buffers, h a fortieth of kp1. */
static void acid_in_phosphate_meets_the_full_value_at_its_own_strength(void **state)
{
    (void)state;
    for (double temperature_c = 15; temperature_c < 31; temperature_c += 7.5) {
        const struct pen pen = pen_at(temperature_c, 420);
        const struct acidity acidity = acidity_at(&pen.equilibrium, 420);
        const struct liquid liquid = {
            .mmol_l = {[ION_K] = 20, [ION_P] = 20, [ION_CL] = 0.83},
            .alkalinity_meq_l = -0.83};
        assert_close(quick_ph(&liquid, &acidity), pen_read(&pen, &liquid).ph, 0, 0.015);
    }
}

/* Through zero alkalinity and the phosphate buffer the second difference of ln h stays
 * that of a smooth curve. */
static void the_curve_has_no_kinks(void **state)
{
    (void)state;
    const struct equilibrium constants = equilibrium_at(22);
    const struct acidity acidity = acidity_at(&constants, 800);
    double last[2] = {NAN, NAN};
    for (int n = -50000; n < 500000; n++) {
        const double y = log(acidity_hydrogen(&acidity, 1e-5 * n, 1.3));
        if (n > -49998) {
            assert_close(y - 2 * last[0] + last[1], 0, 0, 1e-5);
        }
        last[1] = last[0];
        last[0] = y;
    }
}

/* The far ones are what an integrator tries beyond the last drop of a bucket. */
static void any_argument_gives_a_positive_number(void **state)
{
    (void)state;
    const struct equilibrium constants = equilibrium_at(22);
    const struct acidity open = acidity_at(&constants, 800);
    const struct acidity closed = acidity_at(&constants, 0);
    uint64_t seed = 409;
    for (int n = 0; n < 20000; n++) {
        const double far = n % 5 == 0 ? 1e4 : 1;
        const double alkalinity = far * random_between(&seed, -50, 200);
        const double phosphate = n % 3 == 0 ? 0 : random_between(&seed, 0, 1000);
        const double h = acidity_hydrogen(n % 2 ? &open : &closed, alkalinity, phosphate);
        assert_true(isfinite(h));
        assert_true(h > 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ph_is_close_for_usual_liquids_and_fair_for_any),
        cmocka_unit_test(the_closed_form_solves_its_balance),
        cmocka_unit_test(strong_acid_keeps_its_own_ph),
        cmocka_unit_test(acid_in_phosphate_meets_the_full_value_at_its_own_strength),
        cmocka_unit_test(the_curve_has_no_kinks),
        cmocka_unit_test(any_argument_gives_a_positive_number),
    };
    return cmocka_run_group_tests_name("acidity", tests, NULL, NULL);
}
