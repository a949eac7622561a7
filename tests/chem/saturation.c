/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/chem/saturation.h"

static double index_of(enum solid solid, const struct liquid *liquid,
                       double temperature_c, double co2_ppm)
{
    const struct equilibrium constants = equilibrium_at(temperature_c);
    const struct speciation s = speciation_solve(liquid, &constants, co2_ppm);
    double index[SOLID_COUNT];
    saturation_index(index, &s, &constants);
    return index[solid];
}

/* Calcite in water under 420 ppm of CO2 at 25 degC: Ca 0.543 mmol/L, pH 8.20 (WATEQ4F
 * constants, PHREEQC 3.8.9). An index of 0.02 is 1 % of the calcium. */
static void calcite_water_under_air_is_just_saturated(void **state)
{
    (void)state;
    const struct liquid liquid = {.mmol_l = {[ION_CA] = 0.543},
                                  .alkalinity_meq_l = 1.086};
    const struct equilibrium constants = equilibrium_at(25);
    assert_close(index_of(SOLID_CALCITE, &liquid, 25, 420), 0, 0, 0.02);
    assert_close(speciation_solve(&liquid, &constants, 420).ph, 8.20, 0, 0.03);
}

/* Textbook: pH 8.3, Ca about 0.5 mmol/L under 10^-3.5 atm (from memory). */
static void calcite_water_under_textbook_air_too(void **state)
{
    (void)state;
    const struct liquid liquid = {.mmol_l = {[ION_CA] = 0.49}, .alkalinity_meq_l = 0.98};
    const struct equilibrium constants = equilibrium_at(25);
    assert_close(index_of(SOLID_CALCITE, &liquid, 25, 316.228), 0, 0, 0.02);
    assert_close(speciation_solve(&liquid, &constants, 316.228).ph, 8.3, 0, 0.03);
}

/* Gypsum dissolves to 15.2-15.3 mmol/L at 25 degC (measured; from memory), 15.6 by
 * PHREEQC with these constants; Davies at I = 0.04 instead of ion sizes makes it 16.0. An
 * index of 0.035 is 5 % of the amount. */
static void gypsum_water_is_just_saturated(void **state)
{
    (void)state;
    for (double mmol_l = 15.2; mmol_l < 15.7; mmol_l += 0.1) {
        const struct liquid liquid = {.mmol_l = {[ION_CA] = mmol_l, [ION_SO4] = mmol_l}};
        assert_close(index_of(SOLID_GYPSUM, &liquid, 25, 0), 0, 0, 0.035);
    }
}

/* Hoagland no. 1 at 25 degC: -1.1; double strength -0.72 to -0.75 (PHREEQC, two
 * databases). */
static void a_feed_is_far_from_gypsum(void **state)
{
    (void)state;
    const struct liquid full = {.mmol_l = {15, 0, 1, 6, 5, 2, 2, 0, 0}};
    const struct liquid twice = {.mmol_l = {30, 0, 2, 12, 10, 4, 4, 0, 0}};
    assert_close(index_of(SOLID_GYPSUM, &full, 25, 420), -1.1, 0, 0.05);
    assert_close(index_of(SOLID_GYPSUM, &twice, 25, 420), -0.735, 0, 0.04);
}

/* Brushite, log Ksp(Ca HPO4) = -6.62 (MINTEQA2 v4 / NIST 46): the activities that make up
 * 10^-6.62, put in directly. */
static void brushite_saturates_at_its_product(void **state)
{
    (void)state;
    struct speciation s = {.activity = {1, 0.87, 0.58, 0.29}};
    const struct equilibrium constants = equilibrium_at(22);
    const double ca = 2.385e-3;
    double index[SOLID_COUNT];
    s.mol_l[SPECIES_CA] = ca;
    s.mol_l[SPECIES_HPO4] = pow(10, -6.62) / (0.58 * 0.58 * ca);
    saturation_index(index, &s, &constants);
    assert_close(index[SOLID_BRUSHITE], 0, 0, 1e-12);
    s.mol_l[SPECIES_HPO4] *= 3.7;
    saturation_index(index, &s, &constants);
    assert_close(index[SOLID_BRUSHITE], log10(3.7), 1e-12, 0);
}

/* Up to pH 8; beyond, PO4--- and its calcium pair take HPO4-- away again. */
static void raising_ph_brings_brushite_and_calcite_closer(void **state)
{
    (void)state;
    struct liquid liquid = {.mmol_l = {7.1, 0.6, 1.2, 3.3, 2.4, 1.1, 1.6, 0.4, 0.3}};
    double last_brushite = -INFINITY;
    double last_calcite = -INFINITY;
    for (liquid.alkalinity_meq_l = -0.3; liquid.alkalinity_meq_l < 1.5;
         liquid.alkalinity_meq_l += 0.237) {
        const double brushite = index_of(SOLID_BRUSHITE, &liquid, 20, 420);
        const double calcite = index_of(SOLID_CALCITE, &liquid, 20, 420);
        assert_true(brushite > last_brushite);
        assert_true(calcite > last_calcite);
        last_brushite = brushite;
        last_calcite = calcite;
    }
}

/* Plummer & Busenberg 1982: log K of calcite -8.410 at 10, -8.480 at 25, -8.543 at 35. */
static void calcite_is_less_soluble_when_warm(void **state)
{
    (void)state;
    static const double table[][2] = {{10, -8.410}, {25, -8.480}, {35, -8.543}};
    struct speciation s = {.activity = {1, 1, 1, 1}};
    s.mol_l[SPECIES_CA] = s.mol_l[SPECIES_CO3] = 1e-4;
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        const struct equilibrium constants = equilibrium_at(table[i][0]);
        double index[SOLID_COUNT];
        saturation_index(index, &s, &constants);
        assert_close(index[SOLID_CALCITE], -8 - table[i][1], 0, 1e-3);
    }
}

static void a_solid_without_its_ions_cannot_form(void **state)
{
    (void)state;
    const struct liquid liquid = {.mmol_l = {[ION_K] = 4.1, [ION_NO3] = 4.1}};
    for (int s = 0; s < SOLID_COUNT; s++) {
        const double index = index_of((enum solid)s, &liquid, 22, 420);
        assert_true(isinf(index) && index < 0);
    }
}

static void solids_have_names(void **state)
{
    (void)state;
    assert_string_equal(saturation_solid_name[SOLID_GYPSUM], "gypsum");
    assert_string_equal(saturation_solid_name[SOLID_CALCITE], "calcite");
    assert_string_equal(saturation_solid_name[SOLID_BRUSHITE], "brushite");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(calcite_water_under_air_is_just_saturated),
        cmocka_unit_test(calcite_water_under_textbook_air_too),
        cmocka_unit_test(gypsum_water_is_just_saturated),
        cmocka_unit_test(a_feed_is_far_from_gypsum),
        cmocka_unit_test(brushite_saturates_at_its_product),
        cmocka_unit_test(raising_ph_brings_brushite_and_calcite_closer),
        cmocka_unit_test(calcite_is_less_soluble_when_warm),
        cmocka_unit_test(a_solid_without_its_ions_cannot_form),
        cmocka_unit_test(solids_have_names),
    };
    return cmocka_run_group_tests_name("saturation", tests, NULL, NULL);
}
