/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "chem/pairs.h"

static void expect_sum(enum species whole, enum species one, enum species other)
{
    assert_int_equal(species_charge[whole], species_charge[one] + species_charge[other]);
}

static void a_pair_carries_the_sum_of_its_parts(void **state)
{
    (void)state;
    for (size_t i = 0; i < pair_count; i++) {
        expect_sum(pairs[i].pair, pairs[i].cation, pairs[i].ligand);
    }
    expect_sum(SPECIES_HPO4, SPECIES_H, SPECIES_PO4);
    expect_sum(SPECIES_H2PO4, SPECIES_H, SPECIES_HPO4);
    expect_sum(SPECIES_H3PO4, SPECIES_H, SPECIES_H2PO4);
    expect_sum(SPECIES_HCO3, SPECIES_H, SPECIES_CO3);
    expect_sum(SPECIES_CO2, SPECIES_H, SPECIES_HCO3);
    expect_sum(SPECIES_NH4, SPECIES_H, SPECIES_NH3);
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
