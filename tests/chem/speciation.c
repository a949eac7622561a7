/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <string.h>

#include "chem/pairs.h"
#include "pailcast/chem/speciation.h"
#include "support/random_liquid.h"

static const double ph_tolerance = 0.03;

static double ph_of(struct liquid liquid, double temperature_c, double co2_ppm)
{
    const struct equilibrium constants = equilibrium_at(temperature_c);
    return speciation_solve(&liquid, &constants, co2_ppm).ph;
}

static struct liquid bicarbonate(double meq_l)
{
    return (struct liquid){.mmol_l = {[ION_NA] = meq_l}, .alkalinity_meq_l = meq_l};
}

/* 10^-3.5 atm of CO2 is Stumm & Morgan's air (pH 5.65, from memory); the others were
 * computed with PHREEQC 3.8.9 and by a script apart from this program. */
static void pure_water_under_air_is_a_weak_acid(void **state)
{
    (void)state;
    const struct liquid water = {0};
    assert_close(ph_of(water, 25, 316.228), 5.659, 0, ph_tolerance);
    assert_close(ph_of(water, 25, 400), 5.609, 0, ph_tolerance);
    assert_close(ph_of(water, 25, 420), 5.598, 0, ph_tolerance);
    assert_close(ph_of(water, 15, 420), 5.568, 0, ph_tolerance);
    assert_close(ph_of(water, 20, 420), 5.583, 0, ph_tolerance);
    assert_close(ph_of(water, 30, 420), 5.614, 0, ph_tolerance);
    assert_close(ph_of(water, 35, 420), 5.631, 0, ph_tolerance);
}

/* log Kw(25) = -13.9995 (WATEQ4F). */
static void pure_water_without_air_is_neutral(void **state)
{
    (void)state;
    assert_close(ph_of((struct liquid){0}, 25, 0), 13.9995 / 2, 0, 1e-3);
}

/* Textbook 8.3 for 1 meq/L under 10^-3.5 atm (from memory); the rest computed with
 * PHREEQC 3.8.9 and a script apart from this program. */
static void bicarbonate_water_settles_above_eight(void **state)
{
    (void)state;
    assert_close(ph_of(bicarbonate(1), 25, 316.228), 8.295, 0, ph_tolerance);
    assert_close(ph_of(bicarbonate(2), 25, 420), 8.462, 0, ph_tolerance);
    static const double table[][2] = {
        {15, 8.116}, {20, 8.144}, {25, 8.174}, {30, 8.205}, {35, 8.237}};
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        assert_close(ph_of(bicarbonate(1), table[i][0], 420), table[i][1], 0,
                     ph_tolerance);
    }
}

/* NBS 0.025 molal phosphate standard (certified values, from memory). */
static void phosphate_buffer_reads_its_certificate(void **state)
{
    (void)state;
    const struct liquid buffer = {.mmol_l = {[ION_K] = 25, [ION_NA] = 50, [ION_P] = 50},
                                  .alkalinity_meq_l = 25};
    static const double table[][2] = {
        {15, 6.900}, {20, 6.881}, {25, 6.865}, {30, 6.853}, {35, 6.844}};
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        assert_close(ph_of(buffer, table[i][0], 0), table[i][1], 0, ph_tolerance);
    }
}

/* PHREEQC 3.8.9 with phreeqc.dat: 4.7275. */
static void monopotassium_phosphate_is_acid(void **state)
{
    (void)state;
    const struct liquid liquid = {.mmol_l = {[ION_K] = 10, [ION_P] = 10}};
    assert_close(ph_of(liquid, 25, 0), 4.7275, 0, ph_tolerance);
}

/* Strong acid: h = g c, g by Davies at I = c, A = 0.5108. At 1.7 mmol/L log g = -0.02008.
 */
static void strong_acid_is_its_own_hydrogen(void **state)
{
    (void)state;
    const struct liquid acid = {.mmol_l = {[ION_CL] = 1.7}, .alkalinity_meq_l = -1.7};
    assert_close(ph_of(acid, 25, 0), -log10(1.7e-3) + 0.01997, 0, 5e-4);
}

/* Field rule CO2(mg/L) = 1.60 x 10^(6.0 - pH) x HCO3(mg/L) (USGS TWRI 1979); it leaves
 * out activity, so only to 10 %. */
static void carbonic_acid_follows_the_field_rule(void **state)
{
    (void)state;
    const struct equilibrium constants = equilibrium_at(25);
    const struct liquid liquid = bicarbonate(2.385);
    const struct speciation s = speciation_solve(&liquid, &constants, 5000);
    const double co2_mg_l = s.mol_l[SPECIES_CO2] * 44009;
    const double hco3_mg_l = s.mol_l[SPECIES_HCO3] * 61016;
    assert_close(co2_mg_l, 1.60 * pow(10, 6.0 - s.ph) * hco3_mg_l, 0.1, 0);
}

static double activity(const struct speciation *s, enum species species)
{
    const int z = species_charge[species];
    return s->mol_l[species] * s->activity[z < 0 ? -z : z];
}

static void every_reaction_is_at_equilibrium(void **state)
{
    (void)state;
    const struct equilibrium e = equilibrium_at(18.6);
    uint64_t seed = 11;
    for (int n = 0; n < 200; n++) {
        const struct liquid liquid = random_drifted(&seed);
        const struct speciation s = speciation_solve(&liquid, &e, 735);
        for (size_t i = 0; i < pair_count; i++) {
            assert_close(activity(&s, pairs[i].pair),
                         e.pair[pairs[i].pair] * activity(&s, pairs[i].cation) *
                             activity(&s, pairs[i].ligand),
                         1e-10, 1e-300);
        }
        const double h = activity(&s, SPECIES_H);
        assert_close(s.ph, -log10(h), 1e-13, 0);
        assert_close(activity(&s, SPECIES_OH) * h, e.kw, 1e-12, 0);
        assert_close(s.mol_l[SPECIES_CO2], e.kh * 735e-6, 1e-14, 0);
        assert_close(activity(&s, SPECIES_HCO3) * h, e.k1 * s.mol_l[SPECIES_CO2], 1e-12,
                     0);
        assert_close(activity(&s, SPECIES_CO3) * h, e.k2 * activity(&s, SPECIES_HCO3),
                     1e-12, 0);
        assert_close(activity(&s, SPECIES_H2PO4) * h, e.kp1 * s.mol_l[SPECIES_H3PO4],
                     1e-12, 0);
        assert_close(activity(&s, SPECIES_HPO4) * h, e.kp2 * activity(&s, SPECIES_H2PO4),
                     1e-12, 0);
        assert_close(activity(&s, SPECIES_PO4) * h, e.kp3 * activity(&s, SPECIES_HPO4),
                     1e-12, 0);
    }
}

/* Moles of each ion, and of alkalinity, in a mole of species; see the header's
 * definition. */
static void held(double ions[ION_COUNT], double *alkalinity, const struct speciation *s)
{
    const double *c = s->mol_l;
    memset(ions, 0, ION_COUNT * sizeof ions[0]);
    ions[ION_NO3] = c[SPECIES_NO3];
    ions[ION_CL] = c[SPECIES_CL];
    ions[ION_NH4] = c[SPECIES_NH4] + c[SPECIES_NH3] + c[SPECIES_NH4SO4];
    ions[ION_K] = c[SPECIES_K] + c[SPECIES_KSO4] + c[SPECIES_KHPO4];
    ions[ION_NA] = c[SPECIES_NA] + c[SPECIES_NASO4] + c[SPECIES_NAHPO4];
    const double ca_p = c[SPECIES_CAH2PO4] + c[SPECIES_CAHPO4] + c[SPECIES_CAPO4];
    const double mg_p = c[SPECIES_MGH2PO4] + c[SPECIES_MGHPO4] + c[SPECIES_MGPO4];
    ions[ION_CA] =
        c[SPECIES_CA] + c[SPECIES_CASO4] + c[SPECIES_CAHCO3] + c[SPECIES_CACO3] + ca_p;
    ions[ION_MG] =
        c[SPECIES_MG] + c[SPECIES_MGSO4] + c[SPECIES_MGHCO3] + c[SPECIES_MGCO3] + mg_p;
    ions[ION_SO4] = c[SPECIES_SO4] + c[SPECIES_HSO4] + c[SPECIES_KSO4] +
                    c[SPECIES_NASO4] + c[SPECIES_NH4SO4] + c[SPECIES_CASO4] +
                    c[SPECIES_MGSO4];
    ions[ION_P] = c[SPECIES_H3PO4] + c[SPECIES_H2PO4] + c[SPECIES_HPO4] + c[SPECIES_PO4] +
                  ca_p + mg_p + c[SPECIES_KHPO4] + c[SPECIES_NAHPO4];
    *alkalinity = c[SPECIES_HCO3] + c[SPECIES_CAHCO3] + c[SPECIES_MGHCO3] +
                  2 * (c[SPECIES_CO3] + c[SPECIES_CACO3] + c[SPECIES_MGCO3]) +
                  c[SPECIES_OH] - c[SPECIES_H] + c[SPECIES_NH3] + c[SPECIES_HPO4] +
                  c[SPECIES_CAHPO4] + c[SPECIES_MGHPO4] + c[SPECIES_KHPO4] +
                  c[SPECIES_NAHPO4] +
                  2 * (c[SPECIES_PO4] + c[SPECIES_CAPO4] + c[SPECIES_MGPO4]) -
                  c[SPECIES_H3PO4] - c[SPECIES_HSO4];
}

/* Alkalinity is a difference of sums, so its rounding is that of the larger. */
static void balances_close(const struct speciation *s, const struct liquid *liquid,
                           double tolerance)
{
    double ions[ION_COUNT];
    double alkalinity;
    double all = 1e-7 + fabs(liquid->alkalinity_meq_l) / 1000;
    held(ions, &alkalinity, s);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_close(ions[i], liquid->mmol_l[i] / 1000, tolerance, 1e-300);
        all += ions[i];
    }
    assert_close(alkalinity, liquid->alkalinity_meq_l / 1000, 0, tolerance * all);
    double charge = 0;
    for (int i = 0; i < SPECIES_COUNT; i++) {
        charge += 0.5 * s->mol_l[i] * species_charge[i] * species_charge[i];
    }
    assert_close(s->ionic_strength, charge, 1e-12, 0);
}

static void nothing_is_lost_among_the_species(void **state)
{
    (void)state;
    const struct equilibrium e = equilibrium_at(21.3);
    uint64_t seed = 29;
    for (int n = 0; n < 2000; n++) {
        const struct liquid liquid =
            n % 2 == 0 ? random_drifted(&seed) : random_feed(&seed);
        const struct speciation s = speciation_solve(&liquid, &e, 420);
        balances_close(&s, &liquid, 1e-12);
    }
}

/* Charge is not asked for; it follows from the balances when the liquid is neutral. */
static void a_neutral_liquid_has_neutral_species(void **state)
{
    (void)state;
    const struct equilibrium e = equilibrium_at(27.1);
    uint64_t seed = 31;
    for (int n = 0; n < 2000; n++) {
        const struct liquid liquid = random_drifted(&seed);
        const struct speciation s = speciation_solve(&liquid, &e, 1000);
        double charge = 0;
        double all = 0;
        for (int i = 0; i < SPECIES_COUNT; i++) {
            charge += s.mol_l[i] * species_charge[i];
            all += s.mol_l[i];
        }
        assert_close(charge, 0, 0, 1e-12 * all);
    }
}

static void any_liquid_ends_on_finite_balanced_numbers(void **state)
{
    (void)state;
    const struct equilibrium constants[] = {equilibrium_at(0), equilibrium_at(25),
                                            equilibrium_at(40)};
    uint64_t seed = 97;
    for (int n = 0; n < 100000; n++) {
        const struct liquid liquid = random_extreme(&seed);
        const double co2 = n % 5 == 0 ? 0 : pow(10, random_between(&seed, 1, 5));
        const struct speciation s = speciation_solve(&liquid, &constants[n % 3], co2);
        assert_true(isfinite(s.ph));
        assert_true(isfinite(s.ionic_strength));
        for (int i = 0; i < SPECIES_COUNT; i++) {
            assert_true(s.mol_l[i] >= 0);
        }
        balances_close(&s, &liquid, 1e-9);
    }
}

static void amounts_below_zero_count_as_none(void **state)
{
    (void)state;
    const struct equilibrium e = equilibrium_at(22);
    struct liquid liquid = {.mmol_l = {4.1, 0, 0, 2.2, 1.3, 0.7, 1.05, 0, 0}};
    const struct speciation zero = speciation_solve(&liquid, &e, 420);
    liquid.mmol_l[ION_P] = liquid.mmol_l[ION_NH4] = liquid.mmol_l[ION_NA] = -1e-9;
    const struct speciation below = speciation_solve(&liquid, &e, 420);
    assert_memory_equal(&zero, &below, sizeof zero);
}

/* Started afresh each time: the same question has the same answer to the bit, whatever
 * was asked between. */
/* Down to amounts that double precision holds with a few bits only. */
static void an_ion_almost_absent_is_like_none(void **state)
{
    (void)state;
    const struct equilibrium constants = equilibrium_at(22.3);
    const struct liquid feed = {.mmol_l = {[ION_NO3] = 6.13, [ION_K] = 5.87},
                                .alkalinity_meq_l = -0.26};
    const double without = ph_of(feed, 22.3, 437);
    for (int i = 0; i < ION_COUNT; i++) {
        for (double trace = 1e-15; trace > 0; trace *= 0.37e-5) {
            struct liquid liquid = feed;
            liquid.mmol_l[i] = fmax(feed.mmol_l[i], trace);
            const struct speciation s = speciation_solve(&liquid, &constants, 437);
            assert_close(s.ph, without, 0, 1e-9);
            struct liquid alone = {0};
            alone.mmol_l[i] = trace;
            assert_close(ph_of(alone, 22.3, 437), ph_of((struct liquid){0}, 22.3, 437), 0,
                         1e-6);
        }
    }
}

static void the_answer_does_not_depend_on_what_was_asked_before(void **state)
{
    (void)state;
    const struct equilibrium e = equilibrium_at(22);
    uint64_t seed = 5;
    const struct liquid liquid = random_feed(&seed);
    const struct speciation first = speciation_solve(&liquid, &e, 420);
    for (int n = 0; n < 50; n++) {
        const struct liquid other = random_extreme(&seed);
        (void)speciation_solve(&other, &e, 1000);
    }
    const struct speciation again = speciation_solve(&liquid, &e, 420);
    assert_memory_equal(&first, &again, sizeof first);
}

/* A titration in fine steps: second differences of pH stay as small as the curve's own,
 * so the changing number of iterations does not show. */
static void a_titration_is_a_smooth_curve(void **state)
{
    (void)state;
    const struct equilibrium e = equilibrium_at(22);
    struct liquid liquid = {.mmol_l = {7.1, 0.6, 1.2, 3.3, 2.4, 1.1, 1.6, 0.4, 0.3}};
    double ph[3] = {0};
    for (int n = 0; n < 40000; n++) {
        liquid.alkalinity_meq_l = 0.4 + 1e-7 * n;
        ph[n % 3] = speciation_solve(&liquid, &e, 800).ph;
        if (n >= 2) {
            const double bend = ph[n % 3] - 2 * ph[(n + 2) % 3] + ph[(n + 1) % 3];
            assert_close(bend, 0, 0, 2e-12);
        }
    }
}

static void alkalinity_for_a_ph_brings_back_that_ph(void **state)
{
    (void)state;
    const struct equilibrium e = equilibrium_at(19.4);
    uint64_t seed = 71;
    for (int n = 0; n < 500; n++) {
        struct liquid liquid = n % 2 == 0 ? random_feed(&seed) : random_drifted(&seed);
        const double ph = random_between(&seed, 3.1, 9.3);
        liquid.alkalinity_meq_l = speciation_alkalinity_at(&liquid, ph, &e, 600);
        assert_close(speciation_solve(&liquid, &e, 600).ph, ph, 0, 1e-10);
    }
}

static void acid_lowers_and_base_raises_ph(void **state)
{
    (void)state;
    const struct equilibrium e = equilibrium_at(22);
    struct liquid liquid = {.mmol_l = {7.1, 0.6, 1.2, 3.3, 2.4, 1.1, 1.6, 0.4, 0.3}};
    double last = 0;
    for (liquid.alkalinity_meq_l = -20; liquid.alkalinity_meq_l < 100;
         liquid.alkalinity_meq_l += 0.173) {
        const double ph = speciation_solve(&liquid, &e, 420).ph;
        assert_true(ph > last);
        last = ph;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pure_water_under_air_is_a_weak_acid),
        cmocka_unit_test(pure_water_without_air_is_neutral),
        cmocka_unit_test(bicarbonate_water_settles_above_eight),
        cmocka_unit_test(phosphate_buffer_reads_its_certificate),
        cmocka_unit_test(monopotassium_phosphate_is_acid),
        cmocka_unit_test(strong_acid_is_its_own_hydrogen),
        cmocka_unit_test(carbonic_acid_follows_the_field_rule),
        cmocka_unit_test(every_reaction_is_at_equilibrium),
        cmocka_unit_test(nothing_is_lost_among_the_species),
        cmocka_unit_test(a_neutral_liquid_has_neutral_species),
        cmocka_unit_test(any_liquid_ends_on_finite_balanced_numbers),
        cmocka_unit_test(amounts_below_zero_count_as_none),
        cmocka_unit_test(an_ion_almost_absent_is_like_none),
        cmocka_unit_test(the_answer_does_not_depend_on_what_was_asked_before),
        cmocka_unit_test(a_titration_is_a_smooth_curve),
        cmocka_unit_test(alkalinity_for_a_ph_brings_back_that_ph),
        cmocka_unit_test(acid_lowers_and_base_raises_ph),
    };
    return cmocka_run_group_tests_name("speciation", tests, NULL, NULL);
}
