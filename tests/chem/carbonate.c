/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/chem/carbonate.h"
#include "pailcast/chem/salt.h"
#include "support/random_liquid.h"

/* Davies 1962 with A = 0.5108 at 25 degC. */
static double davies_single(double strength)
{
    const double root = sqrt(strength);
    return pow(10, -0.5108 * (root / (1 + root) - 0.3 * strength));
}

/* Potassium bicarbonate B and strong acid D, mol/L, of which nothing leaves: with g the
 * activity coefficient, a that of H+ and C all carbonate,
 *     HCO3 = B - D + a/g,  CO2 = C - HCO3,  a g HCO3 = K1 CO2
 *     a^2 + a (g (B - D) + K1/g) - K1 (C - (B - D)) = 0.
 * log K1 = -6.352 at 25 degC (Plummer & Busenberg 1982); carbonate and hydroxide are less
 * than 1e-8 here. At 4.8 and 4.67 meq/L it is pH 4.82. */
static void acid_in_bicarbonate_reads_as_its_closed_form(void **state)
{
    (void)state;
    static const double acids[] = {2.4, 3.87, 4.67, 4.78};
    const struct equilibrium constants = equilibrium_at(25);
    const double k1 = pow(10, -6.352);
    const double held = 4.8e-3;
    const double g = davies_single(held);
    for (size_t i = 0; i < sizeof acids / sizeof *acids; i++) {
        struct liquid liquid = {0};
        salt_dissolve_mmol(&liquid, salt_by_formula("KHCO3"), 1e3 * held);
        salt_dissolve_mmol(&liquid, salt_by_formula("HNO3"), acids[i]);
        const double left = held - 1e-3 * acids[i];
        const double b = g * left + k1 / g;
        const double a = 0.5 * (sqrt(b * b + 4 * k1 * (held - left)) - b);
        const struct speciation closed = carbonate_closed(&liquid, &constants, held);
        assert_close(closed.ph, -log10(a), 0, 3e-3);
        assert_true(speciation_solve(&liquid, &constants, 420).ph > closed.ph + 0.8);
    }
}

static void nothing_of_the_carbonate_is_lost(void **state)
{
    (void)state;
    const struct equilibrium constants = equilibrium_at(18.6);
    uint64_t seed = 23;
    for (int n = 0; n < 200; n++) {
        const struct liquid liquid = random_drifted(&seed);
        const double held = 1e-5 * pow(10, 0.013 * n);
        const struct speciation closed = carbonate_closed(&liquid, &constants, held);
        assert_close(carbonate_mol_l(&closed), held, 1e-6, 0);
    }
}

static void what_has_settled_with_the_air_stays_as_it_is(void **state)
{
    (void)state;
    const struct equilibrium constants = equilibrium_at(21.3);
    uint64_t seed = 29;
    for (int n = 0; n < 200; n++) {
        const struct liquid liquid = random_drifted(&seed);
        const struct speciation open = speciation_solve(&liquid, &constants, 735);
        const struct speciation closed =
            carbonate_closed(&liquid, &constants, carbonate_mol_l(&open));
        assert_close(closed.ph, open.ph, 0, 1e-5);
    }
}

/* Without carbonate it is the solution that speciation_solve calls closed. */
static void without_carbonate_there_is_none(void **state)
{
    (void)state;
    const struct equilibrium constants = equilibrium_at(25);
    struct liquid liquid = {0};
    salt_dissolve_mmol(&liquid, salt_by_formula("HNO3"), 1.7);
    const struct speciation closed = carbonate_closed(&liquid, &constants, 0);
    assert_close(closed.ph, speciation_solve(&liquid, &constants, 0).ph, 1e-12, 0);
    assert_close(carbonate_mol_l(&closed), 0, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(acid_in_bicarbonate_reads_as_its_closed_form),
        cmocka_unit_test(nothing_of_the_carbonate_is_lost),
        cmocka_unit_test(what_has_settled_with_the_air_stays_as_it_is),
        cmocka_unit_test(without_carbonate_there_is_none),
    };
    return cmocka_run_group_tests_name("carbonate", tests, NULL, NULL);
}
