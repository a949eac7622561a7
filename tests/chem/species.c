/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "pailcast/chem/species.h"

static void a_pair_carries_the_sum_of_its_parts(void **state)
{
    (void)state;
    static const enum species parts[][3] = {
        {SPECIES_HSO4, SPECIES_H, SPECIES_SO4},
        {SPECIES_HPO4, SPECIES_H, SPECIES_PO4},
        {SPECIES_H2PO4, SPECIES_H, SPECIES_HPO4},
        {SPECIES_H3PO4, SPECIES_H, SPECIES_H2PO4},
        {SPECIES_HCO3, SPECIES_H, SPECIES_CO3},
        {SPECIES_CO2, SPECIES_H, SPECIES_HCO3},
        {SPECIES_NH4, SPECIES_H, SPECIES_NH3},
        {SPECIES_KSO4, SPECIES_K, SPECIES_SO4},
        {SPECIES_NASO4, SPECIES_NA, SPECIES_SO4},
        {SPECIES_NH4SO4, SPECIES_NH4, SPECIES_SO4},
        {SPECIES_CAHCO3, SPECIES_CA, SPECIES_HCO3},
        {SPECIES_MGHCO3, SPECIES_MG, SPECIES_HCO3},
        {SPECIES_CAH2PO4, SPECIES_CA, SPECIES_H2PO4},
        {SPECIES_MGH2PO4, SPECIES_MG, SPECIES_H2PO4},
        {SPECIES_CAPO4, SPECIES_CA, SPECIES_PO4},
        {SPECIES_MGPO4, SPECIES_MG, SPECIES_PO4},
        {SPECIES_KHPO4, SPECIES_K, SPECIES_HPO4},
        {SPECIES_NAHPO4, SPECIES_NA, SPECIES_HPO4},
        {SPECIES_CASO4, SPECIES_CA, SPECIES_SO4},
        {SPECIES_MGSO4, SPECIES_MG, SPECIES_SO4},
        {SPECIES_CACO3, SPECIES_CA, SPECIES_CO3},
        {SPECIES_MGCO3, SPECIES_MG, SPECIES_CO3},
        {SPECIES_CAHPO4, SPECIES_CA, SPECIES_HPO4},
        {SPECIES_MGHPO4, SPECIES_MG, SPECIES_HPO4},
    };
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        assert_int_equal(species_charge[parts[i][0]],
                         species_charge[parts[i][1]] + species_charge[parts[i][2]]);
    }
}

/* The conductivity loops rely on it. */
static void charged_species_come_before_neutral_ones(void **state)
{
    (void)state;
    for (int i = 0; i < SPECIES_COUNT; i++) {
        assert_int_equal(species_charge[i] != 0, i < SPECIES_CASO4);
        assert_in_range(species_charge[i] + 3, 0, 5);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pair_carries_the_sum_of_its_parts),
        cmocka_unit_test(charged_species_come_before_neutral_ones),
    };
    return cmocka_run_group_tests_name("species", tests, NULL, NULL);
}
