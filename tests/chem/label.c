/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "chem/formula.h"
#include "pailcast/chem/label.h"
#include "pailcast/chem/salt.h"

static double share(const char *part, int count, const char *whole)
{
    double of_part[ELEMENT_COUNT];
    double of_whole[ELEMENT_COUNT];
    assert_true(formula_atoms(of_part, part));
    assert_true(formula_atoms(of_whole, whole));
    return count * formula_mass(of_part) / formula_mass(of_whole);
}

/* The conversions every grower's table prints, from atomic weights: P = 0.43643 P2O5,
 * K = 0.83015 K2O. */
static void oxides_turn_into_elements_by_atomic_weights(void **state)
{
    (void)state;
    struct liquid liquid = {0};
    (void)label_dissolve(&liquid, &(struct label){.p2o5 = 23.85, .k2o = 17.3}, 1.7,
                         ION_NA);
    assert_close(share("P", 2, "P2O5"), 0.43643, 0, 5e-6);
    assert_close(share("K", 2, "K2O"), 0.83015, 0, 5e-6);
    assert_close(liquid.mmol_l[ION_P], 17 * 23.85 * share("P", 2, "P2O5") / 30.974, 1e-12,
                 0);
    assert_close(liquid.mmol_l[ION_K], 17 * 17.3 * share("K", 2, "K2O") / 39.098, 1e-12,
                 0);
}

static void elements_turn_into_ions_by_atomic_weights(void **state)
{
    (void)state;
    struct liquid liquid = {0};
    const struct label label = {.n_nitrate = 9.3,
                                .n_ammonium = 1.9,
                                .ca = 13.7,
                                .mg = 2.1,
                                .s = 3.3,
                                .na = 0.7,
                                .cl = 0.4};
    const double open = label_dissolve(&liquid, &label, 0.83, ION_CL);
    assert_close(liquid.mmol_l[ION_NO3], 8.3 * 9.3 / 14.007, 1e-14, 0);
    assert_close(liquid.mmol_l[ION_NH4], 8.3 * 1.9 / 14.007, 1e-14, 0);
    assert_close(liquid.mmol_l[ION_CA], 8.3 * 13.7 / 40.078, 1e-14, 0);
    assert_close(liquid.mmol_l[ION_MG], 8.3 * 2.1 / 24.305, 1e-14, 0);
    assert_close(liquid.mmol_l[ION_SO4], 8.3 * 3.3 / 32.06, 1e-14, 0);
    assert_close(liquid.mmol_l[ION_NA], 8.3 * 0.7 / 22.990, 1e-14, 0);
    assert_close(liquid.mmol_l[ION_CL], 8.3 * 0.4 / 35.45 + open, 1e-14, 0);
}

/* A label printed from a salt's own formula gives that salt's ions. */
static void a_label_of_a_pure_salt_is_the_salt(void **state)
{
    (void)state;
    struct liquid by_label = {0};
    struct liquid by_salt = {0};
    const struct label label = {.n_nitrate = 100 * share("N", 1, "KNO3"),
                                .k2o = 100 * share("K2O", 1, "K2N2O6")};
    const double open = label_dissolve(&by_label, &label, 0.62, ION_NA);
    salt_dissolve(&by_salt, salt_by_formula("KNO3"), 0.62);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_close(by_label.mmol_l[i], by_salt.mmol_l[i], 1e-12, 1e-12);
    }
    assert_close(open, 0, 0, 0);
}

static void a_missing_anion_is_closed_and_told(void **state)
{
    (void)state;
    struct liquid liquid = {.mmol_l = {[ION_SO4] = 0.3}};
    const double open =
        label_dissolve(&liquid, &(struct label){.k2o = 20}, 1.25, ION_SO4);
    const double k = 12.5 * 20 * 2 / 94.195;
    assert_close(open, k, 1e-12, 0);
    assert_close(liquid.mmol_l[ION_SO4], 0.3 + k / 2, 1e-12, 0);
    assert_close(liquid_charge_meq_l(&liquid), -0.6, 0, 1e-12);
}

static void a_missing_cation_is_closed_and_told_as_negative(void **state)
{
    (void)state;
    struct liquid liquid = {0};
    const double open = label_dissolve(&liquid, &(struct label){.s = 12}, 0.9, ION_K);
    assert_close(open, -2 * 9 * 12 / 32.06, 1e-12, 0);
    assert_close(liquid.mmol_l[ION_K], -open, 1e-12, 0);
    assert_close(liquid_charge_meq_l(&liquid), 0, 0, 1e-12);
}

static void an_ion_of_the_wrong_sign_closes_nothing(void **state)
{
    (void)state;
    struct liquid liquid = {0};
    const double open = label_dissolve(&liquid, &(struct label){.s = 12}, 0.9, ION_CL);
    assert_true(isnan(open));
    assert_close(liquid.mmol_l[ION_CL], 0, 0, 0);
    assert_close(liquid.mmol_l[ION_SO4], 9 * 12 / 32.06, 1e-12, 0);
}

static void nothing_of_a_product_changes_nothing(void **state)
{
    (void)state;
    struct liquid liquid = {.mmol_l = {[ION_K] = 1.9}};
    assert_close(label_dissolve(&liquid, &(struct label){.k2o = 31}, 0, ION_CL), 0, 0, 0);
    assert_close(liquid.mmol_l[ION_K], 1.9, 0, 0);
    assert_close(liquid.mmol_l[ION_CL], 0, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(oxides_turn_into_elements_by_atomic_weights),
        cmocka_unit_test(elements_turn_into_ions_by_atomic_weights),
        cmocka_unit_test(a_label_of_a_pure_salt_is_the_salt),
        cmocka_unit_test(a_missing_anion_is_closed_and_told),
        cmocka_unit_test(a_missing_cation_is_closed_and_told_as_negative),
        cmocka_unit_test(an_ion_of_the_wrong_sign_closes_nothing),
        cmocka_unit_test(nothing_of_a_product_changes_nothing),
    };
    return cmocka_run_group_tests_name("label", tests, NULL, NULL);
}
