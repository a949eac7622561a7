/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/study/mix.h"

static double drawn(double low, double high)
{
    static uint64_t state = 88172645463325252ULL;
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return low + (high - low) * (double)(state >> 11) / 9007199254740992.0;
}

static const char *const shelf[] = {"KNO3",          "KH2PO4",     "MgSO4.7H2O",
                                    "Ca(NO3)2.4H2O", "NH4NO3",     "K2SO4",
                                    "Mg(NO3)2.6H2O", "CaCl2.2H2O", "NaNO3"};
enum {
    SHELF = sizeof shelf / sizeof *shelf
};

static void salts_of_the_shelf(const struct salt *salts[SHELF])
{
    for (int k = 0; k < SHELF; k++) {
        salts[k] = salt_by_formula(shelf[k]);
        assert_non_null(salts[k]);
    }
}

/* Hoagland & Arnon 1950, solution no. 1 (from memory): KH2PO4 1, KNO3 5, Ca(NO3)2 5,
 * MgSO4 2 mmol/L, so N 210, K 235, Ca 200, P 31, S 64, Mg 48.6 mg/L. */
static void a_textbook_solution_is_rebuilt_from_its_ions(void **state)
{
    (void)state;
    const struct salt *const salts[] = {
        salt_by_formula("KH2PO4"), salt_by_formula("KNO3"),
        salt_by_formula("Ca(NO3)2.4H2O"), salt_by_formula("MgSO4.7H2O")};
    const double mg_l[] = {136.08, 505.5, 1180.7, 492.9};
    double wanted[ION_COUNT];
    for (int i = 0; i < ION_COUNT; i++) {
        wanted[i] = NAN;
    }
    wanted[ION_NO3] = 210 / 14.007;
    wanted[ION_K] = 235 / 39.098;
    wanted[ION_CA] = 200 / 40.078;
    wanted[ION_P] = 31 / 30.974;
    wanted[ION_SO4] = 64 / 32.06;
    wanted[ION_MG] = 48.6 / 24.305;
    const struct liquid pure = {0};
    struct mix_solution solution;
    assert_int_equal(mix_solve(&solution, salts, 4, wanted, &pure, NULL), STATUS_OK);
    for (int k = 0; k < 4; k++) {
        assert_close(1000 * solution.g_l[k], mg_l[k], 0.01, 0);
    }
    for (int i = 0; i < ION_COUNT; i++) {
        if (!isnan(wanted[i])) {
            assert_close(solution.liquid.mmol_l[i], wanted[i], 0.01, 0);
        }
    }
}

/* Whatever can be made of the salts is found again, in a water whose ions count too. */
static void what_can_be_made_is_met(void **state)
{
    (void)state;
    const struct salt *salts[SHELF];
    salts_of_the_shelf(salts);
    for (int trial = 0; trial < 2000; trial++) {
        struct liquid water = {.alkalinity_meq_l = drawn(0, 5)};
        water.mmol_l[ION_CA] = drawn(0, 2);
        water.mmol_l[ION_NA] = drawn(0, 2);
        struct liquid made = water;
        for (int k = 0; k < SHELF; k++) {
            salt_dissolve(&made, salts[k], fmax(drawn(-0.4, 0.8), 0));
        }
        struct mix_solution solution;
        assert_int_equal(mix_solve(&solution, salts, SHELF, made.mmol_l, &water, NULL),
                         STATUS_OK);
        for (int i = 0; i < ION_COUNT; i++) {
            assert_close(solution.liquid.mmol_l[i], made.mmol_l[i], 1e-6, 1e-6);
        }
        for (int k = 0; k < SHELF; k++) {
            assert_true(solution.g_l[k] >= 0);
        }
    }
}

/* The mark of a least square under x >= 0 (Karush-Kuhn-Tucker): the gradient is zero
 * where x is positive and does not point into the allowed side where x is zero. */
static void what_cannot_be_met_is_missed_as_little_as_can_be(void **state)
{
    (void)state;
    const struct salt *salts[SHELF];
    salts_of_the_shelf(salts);
    for (int trial = 0; trial < 500; trial++) {
        double wanted[ION_COUNT];
        const struct liquid pure = {0};
        struct mix_solution solution;
        for (int i = 0; i < ION_COUNT; i++) {
            wanted[i] = drawn(0.2, 9);
        }
        assert_int_equal(mix_solve(&solution, salts, SHELF, wanted, &pure, NULL),
                         STATUS_OK);
        for (int k = 0; k < SHELF; k++) {
            double gradient = 0, length = 0;
            for (int i = 0; i < ION_COUNT; i++) {
                const double column =
                    salts[k]->ions[i] / salts[k]->molar_mass / wanted[i];
                gradient -= column * solution.missed_mmol_l[i] / wanted[i];
                length += column * column;
            }
            gradient /= sqrt(length);
            assert_true(gradient < 1e-7);
            if (solution.g_l[k] > 1e-9) {
                assert_close(gradient, 0, 0, 1e-7);
            }
        }
    }
}

static void an_ion_of_the_water_cannot_be_taken_out(void **state)
{
    (void)state;
    const struct salt *const salts[] = {salt_by_formula("KNO3")};
    const struct liquid hard = {.mmol_l = {[ION_CA] = 3.1}, .alkalinity_meq_l = 6.2};
    double wanted[ION_COUNT];
    for (int i = 0; i < ION_COUNT; i++) {
        wanted[i] = NAN;
    }
    wanted[ION_CA] = 1.9;
    wanted[ION_K] = 4.4;
    struct mix_solution solution;
    assert_int_equal(mix_solve(&solution, salts, 1, wanted, &hard, NULL), STATUS_OK);
    assert_close(solution.missed_mmol_l[ION_CA], 3.1 - 1.9, 1e-9, 0);
    assert_close(solution.missed_mmol_l[ION_K], 0, 0, 1e-9);
}

static void nothing_wanted_is_refused(void **state)
{
    (void)state;
    const struct salt *const salts[] = {salt_by_formula("KNO3")};
    double wanted[ION_COUNT];
    for (int i = 0; i < ION_COUNT; i++) {
        wanted[i] = NAN;
    }
    const struct liquid pure = {0};
    struct mix_solution solution;
    assert_int_equal(mix_solve(&solution, salts, 1, wanted, &pure, NULL), STATUS_INPUT);
}

/* NIST/CRC: 0.01 mol/L KCl 1.412 mS/cm at 25 degC. */
static void a_standard_reads_its_conductivity(void **state)
{
    (void)state;
    struct liquid kcl = {0};
    const struct pen pen = pen_at(25, 0);
    salt_dissolve_mmol(&kcl, salt_by_formula("KCl"), 10);
    const struct mix mix = mix_of(&kcl, &pen, &kcl);
    assert_close(mix.reading.ec_ms_cm, 1.412, 0.007, 0);
    assert_close(mix.salt_g_l, 0.74548, 1e-4, 0);
    assert_close(mix.charge_error_percent, 0, 0, 1e-9);
}

static void a_feed_without_potassium_is_called_short_of_it(void **state)
{
    (void)state;
    const struct pen pen = pen_at(25, 420);
    const struct liquid feed = {.mmol_l = {12, 1, 1.2, 8, 2.5, 1, 0.8}};
    struct liquid poor = feed;
    poor.mmol_l[ION_K] = 3.9;
    assert_true(mix_of(&poor, &pen, &feed).scarce[ION_K]);
    assert_false(mix_of(&poor, &pen, &feed).scarce[ION_CA]);
    assert_false(mix_of(&feed, &pen, &feed).scarce[ION_K]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_textbook_solution_is_rebuilt_from_its_ions),
        cmocka_unit_test(what_can_be_made_is_met),
        cmocka_unit_test(what_cannot_be_met_is_missed_as_little_as_can_be),
        cmocka_unit_test(an_ion_of_the_water_cannot_be_taken_out),
        cmocka_unit_test(nothing_wanted_is_refused),
        cmocka_unit_test(a_standard_reads_its_conductivity),
        cmocka_unit_test(a_feed_without_potassium_is_called_short_of_it),
    };
    return cmocka_run_group_tests_name("mix", tests, NULL, NULL);
}
