/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <string.h>

#include "chem/formula.h"
#include "pailcast/chem/salt.h"

static void molar_masses_add_up_from_atomic_weights(void **state)
{
    (void)state;
    for (size_t i = 0; i < salt_count; i++) {
        double atoms[ELEMENT_COUNT];
        assert_true(formula_atoms(atoms, salt_table[i].formula));
        assert_close(salt_table[i].molar_mass, formula_mass(atoms), 0, 1e-9);
    }
}

/* Each atom that only one kind of ion can carry must be found in those ions. */
static void a_formula_gives_its_atoms_to_the_ions(void **state)
{
    (void)state;
    for (size_t i = 0; i < salt_count; i++) {
        const struct salt *salt = &salt_table[i];
        double atoms[ELEMENT_COUNT];
        assert_true(formula_atoms(atoms, salt->formula));
        assert_close(salt->ions[ION_NO3] + salt->ions[ION_NH4], atoms[ELEMENT_N], 0, 0);
        assert_close(salt->ions[ION_P], atoms[ELEMENT_P], 0, 0);
        assert_close(salt->ions[ION_K], atoms[ELEMENT_K], 0, 0);
        assert_close(salt->ions[ION_CA], atoms[ELEMENT_CA], 0, 0);
        assert_close(salt->ions[ION_MG], atoms[ELEMENT_MG], 0, 0);
        assert_close(salt->ions[ION_SO4], atoms[ELEMENT_S], 0, 0);
        assert_close(salt->ions[ION_NA], atoms[ELEMENT_NA], 0, 0);
        assert_close(salt->ions[ION_CL], atoms[ELEMENT_CL], 0, 0);
    }
}

static void every_salt_is_neutral(void **state)
{
    (void)state;
    for (size_t i = 0; i < salt_count; i++) {
        struct liquid liquid = {0};
        salt_dissolve_mmol(&liquid, &salt_table[i], 2.385);
        assert_close(liquid_charge_meq_l(&liquid), 0, 0, 1e-12);
    }
}

/* Alkalinity from chemistry, zero at H2PO4-: an acid gives its protons beyond that form,
 * a base takes them up. */
static void acids_and_bases_carry_their_equivalents(void **state)
{
    (void)state;
    static const struct {
        const char *formula;
        double alkalinity;
    } known[] = {{"HNO3", -1},  {"HCl", -1},   {"H2SO4", -2},  {"H3PO4", -1},
                 {"KH2PO4", 0}, {"K2HPO4", 1}, {"Na2HPO4", 1}, {"(NH4)2HPO4", 1},
                 {"KOH", 1},    {"NaOH", 1},   {"KHCO3", 1},   {"NaHCO3", 1},
                 {"K2CO3", 2},  {"Na2CO3", 2}, {"CaCO3", 2},   {"Ca(OH)2", 2},
                 {"K2SiO3", 2}, {"NH4NO3", 0}, {"NH4H2PO4", 0}};
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        const struct salt *salt = salt_by_formula(known[i].formula);
        assert_non_null(salt);
        assert_close(salt->alkalinity, known[i].alkalinity, 0, 0);
    }
}

/* Millimoles in a gram, computed apart from this program (IUPAC 2021 weights). */
static void a_gram_gives_the_tabulated_millimoles(void **state)
{
    (void)state;
    struct liquid liquid = {0};
    salt_dissolve(&liquid, salt_by_formula("Ca(NO3)2.4H2O"), 1);
    assert_close(liquid.mmol_l[ION_CA], 4.235, 0, 5e-4);
    assert_close(liquid.mmol_l[ION_NO3], 8.469, 0, 5e-4);
    salt_dissolve(&liquid, salt_by_formula("5Ca(NO3)2.NH4NO3.10H2O"), 1);
    assert_close(liquid.mmol_l[ION_CA], 4.235 + 4.627, 0, 1e-3);
    assert_close(liquid.mmol_l[ION_NO3], 8.469 + 10.179, 0, 1e-3);
    assert_close(liquid.mmol_l[ION_NH4], 0.925, 0, 5e-4);
    salt_dissolve(&liquid, salt_by_formula("MgSO4.7H2O"), 1);
    assert_close(liquid.mmol_l[ION_MG], 4.057, 0, 5e-4);
    salt_dissolve(&liquid, salt_by_formula("KHCO3"), 1);
    assert_close(liquid.alkalinity_meq_l, 9.989, 0, 5e-4);
}

static void taking_away_undoes_adding(void **state)
{
    (void)state;
    struct liquid liquid = {.mmol_l = {[ION_K] = 3.1, [ION_P] = 0.8}};
    salt_dissolve_mmol(&liquid, salt_by_formula("K2HPO4"), 0.75);
    salt_dissolve_mmol(&liquid, salt_by_formula("K2HPO4"), -0.75);
    assert_close(liquid.mmol_l[ION_K], 3.1, 1e-15, 0);
    assert_close(liquid.mmol_l[ION_P], 0.8, 1e-15, 0);
    assert_close(liquid.alkalinity_meq_l, 0, 0, 0);
}

static void formulas_are_found_in_any_case_and_are_unique(void **state)
{
    (void)state;
    for (size_t i = 0; i < salt_count; i++) {
        assert_ptr_equal(salt_by_formula(salt_table[i].formula), &salt_table[i]);
    }
    assert_string_equal(salt_by_formula("kno3")->formula, "KNO3");
    assert_string_equal(salt_by_formula("MGSO4.7H2O")->formula, "MgSO4.7H2O");
    assert_null(salt_by_formula("KNO"));
    assert_null(salt_by_formula(""));
}

static void every_salt_the_growers_table_lists_is_there(void **state)
{
    (void)state;
    static const char *const wanted[] = {"Ca(NO3)2.4H2O", "5Ca(NO3)2.NH4NO3.10H2O",
                                         "KNO3",          "KH2PO4",
                                         "MgSO4.7H2O",    "Mg(NO3)2.6H2O",
                                         "K2SO4",         "NH4H2PO4",
                                         "NH4NO3",        "(NH4)2SO4",
                                         "NaCl",          "KCl",
                                         "CaCl2.2H2O",    "CaSO4.2H2O",
                                         "K2SiO3",        "KHCO3",
                                         "KOH",           "HNO3",
                                         "H3PO4",         "H2SO4"};
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++) {
        assert_non_null(salt_by_formula(wanted[i]));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(molar_masses_add_up_from_atomic_weights),
        cmocka_unit_test(a_formula_gives_its_atoms_to_the_ions),
        cmocka_unit_test(every_salt_is_neutral),
        cmocka_unit_test(acids_and_bases_carry_their_equivalents),
        cmocka_unit_test(a_gram_gives_the_tabulated_millimoles),
        cmocka_unit_test(taking_away_undoes_adding),
        cmocka_unit_test(formulas_are_found_in_any_case_and_are_unique),
        cmocka_unit_test(every_salt_the_growers_table_lists_is_there),
    };
    return cmocka_run_group_tests_name("salt", tests, NULL, NULL);
}
