/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "../../sim/chem/water.h"

/* Kell 1975, J. Chem. Eng. Data 20:97, g/mL of air-free water (as in the CRC Handbook;
 * from memory). */
static void density_meets_the_handbook(void **state)
{
    (void)state;
    static const double table[][2] = {{0, 0.99984},  {4, 0.99997},  {10, 0.99970},
                                      {15, 0.99910}, {20, 0.99821}, {25, 0.99705},
                                      {30, 0.99565}, {35, 0.99403}, {40, 0.99222}};
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        assert_close(water_density_kg_l(table[i][0]), table[i][1], 0, 1e-5);
    }
}

/* CRC Handbook, viscosity of water, mPa s (10-35 degC to four figures; from memory at the
 * ends). */
static void viscosity_meets_the_handbook(void **state)
{
    (void)state;
    static const double table[][2] = {{5, 1.519},  {10, 1.307}, {15, 1.138}, {20, 1.002},
                                      {25, 0.890}, {30, 0.798}, {35, 0.719}, {40, 0.653}};
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        assert_close(100 * water_viscosity_poise(table[i][0]), table[i][1], 3e-3, 0);
    }
}

/* Malmberg & Maryott 1956, table 3 (from memory): 83.83, 80.10, 78.30, 76.55, 73.15. */
static void permittivity_meets_its_table(void **state)
{
    (void)state;
    static const double table[][2] = {
        {10, 83.83}, {20, 80.10}, {25, 78.30}, {30, 76.55}, {40, 73.15}};
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        assert_close(water_permittivity(table[i][0]), table[i][1], 0, 0.02);
    }
}

static void kelvin_starts_at_minus_273_15(void **state)
{
    (void)state;
    assert_close(water_kelvin(23.85), 297, 1e-15, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(density_meets_the_handbook),
        cmocka_unit_test(viscosity_meets_the_handbook),
        cmocka_unit_test(permittivity_meets_its_table),
        cmocka_unit_test(kelvin_starts_at_minus_273_15),
    };
    return cmocka_run_group_tests_name("water", tests, NULL, NULL);
}
