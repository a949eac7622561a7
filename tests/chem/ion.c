/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <string.h>

#include "chem/formula.h"
#include "pailcast/chem/ion.h"

/* The symbol without its signs. */
static void bare(char *formula, size_t size, const char *symbol)
{
    const size_t length = strcspn(symbol, "+-");
    assert_true(length < size);
    memcpy(formula, symbol, length);
    formula[length] = '\0';
}

static void molar_masses_add_up_from_atomic_weights(void **state)
{
    (void)state;
    for (int i = 0; i < ION_COUNT; i++) {
        char formula[16];
        double atoms[ELEMENT_COUNT];
        bare(formula, sizeof formula, ion_table[i].symbol);
        assert_true(formula_atoms(atoms, formula));
        assert_close(ion_table[i].molar_mass, formula_mass(atoms), 0, 1e-9);
    }
}

static void signs_of_a_symbol_are_its_charge(void **state)
{
    (void)state;
    for (int i = 0; i < ION_COUNT; i++) {
        const char *signs = ion_table[i].symbol + strcspn(ion_table[i].symbol, "+-");
        const int count = (int)strlen(signs);
        assert_int_equal(ion_table[i].charge, signs[0] == '+' ? count : -count);
    }
}

static void every_key_finds_its_ion_and_no_other_word_does(void **state)
{
    (void)state;
    for (int i = 0; i < ION_COUNT; i++) {
        assert_int_equal(ion_by_key(ion_table[i].key), i);
        assert_true(strlen(ion_table[i].name) > 0);
    }
    assert_int_equal(ion_by_key("so"), ION_COUNT);
    assert_int_equal(ion_by_key("K"), ION_COUNT);
    assert_int_equal(ion_by_key(""), ION_COUNT);
}

static void sodium_and_chloride_are_the_ballast(void **state)
{
    (void)state;
    for (int i = 0; i < ION_COUNT; i++) {
        assert_int_equal(ion_table[i].nutrient, i != ION_NA && i != ION_CL);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(molar_masses_add_up_from_atomic_weights),
        cmocka_unit_test(signs_of_a_symbol_are_its_charge),
        cmocka_unit_test(every_key_finds_its_ion_and_no_other_word_does),
        cmocka_unit_test(sodium_and_chloride_are_the_ballast),
    };
    return cmocka_run_group_tests_name("ion", tests, NULL, NULL);
}
