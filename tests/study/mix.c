/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <string.h>

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
    struct mix_wanted wanted = mix_wanted_nothing();
    wanted.mmol_l[ION_NO3] = 210 / 14.007;
    wanted.mmol_l[ION_K] = 235 / 39.098;
    wanted.mmol_l[ION_CA] = 200 / 40.078;
    wanted.mmol_l[ION_P] = 31 / 30.974;
    wanted.mmol_l[ION_SO4] = 64 / 32.06;
    wanted.mmol_l[ION_MG] = 48.6 / 24.305;
    const struct liquid pure = {0};
    struct mix_solution solution;
    assert_int_equal(mix_solve(&solution, salts, 4, &wanted, &pure, NULL), STATUS_OK);
    for (int k = 0; k < 4; k++) {
        assert_close(1000 * solution.g_l[k], mg_l[k], 0.01, 0);
    }
    for (int i = 0; i < ION_COUNT; i++) {
        if (!isnan(wanted.mmol_l[i])) {
            assert_close(solution.liquid.mmol_l[i], wanted.mmol_l[i], 0.01, 0);
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
        struct mix_wanted wanted = mix_wanted_nothing();
        memcpy(wanted.mmol_l, made.mmol_l, sizeof made.mmol_l);
        assert_int_equal(mix_solve(&solution, salts, SHELF, &wanted, &water, NULL),
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
        struct mix_wanted wanted = mix_wanted_nothing();
        const struct liquid pure = {0};
        struct mix_solution solution;
        for (int i = 0; i < ION_COUNT; i++) {
            wanted.mmol_l[i] = drawn(0.2, 9);
        }
        assert_int_equal(mix_solve(&solution, salts, SHELF, &wanted, &pure, NULL),
                         STATUS_OK);
        for (int k = 0; k < SHELF; k++) {
            double gradient = 0, length = 0;
            for (int i = 0; i < ION_COUNT; i++) {
                const double column =
                    salts[k]->ions[i] / salts[k]->molar_mass / wanted.mmol_l[i];
                gradient -= column * solution.missed_mmol_l[i] / wanted.mmol_l[i];
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

enum {
    FEW = 6
};

/* Gauss on the normal equations of some columns; false where they hang together. */
static bool plain_least_squares(double x[FEW], double matrix[ION_COUNT][FEW],
                                const double wanted[ION_COUNT], unsigned chosen)
{
    double a[FEW][FEW + 1] = {{0}};
    for (int j = 0; j < FEW; j++) {
        for (int k = 0; k < FEW; k++) {
            const bool both = (chosen >> j & 1) != 0 && (chosen >> k & 1) != 0;
            for (int i = 0; i < ION_COUNT && both; i++) {
                a[j][k] += matrix[i][j] * matrix[i][k];
            }
        }
        a[j][j] += (chosen >> j & 1) != 0 ? 0 : 1;
        for (int i = 0; i < ION_COUNT && (chosen >> j & 1) != 0; i++) {
            a[j][FEW] += matrix[i][j] * wanted[i];
        }
    }
    for (int j = 0; j < FEW; j++) {
        if (fabs(a[j][j]) < 1e-9) {
            return false;
        }
        for (int k = 0; k < FEW; k++) {
            const double times = k != j ? a[k][j] / a[j][j] : 0;
            for (int c = 0; c <= FEW; c++) {
                a[k][c] -= times * a[j][c];
            }
        }
    }
    for (int j = 0; j < FEW; j++) {
        x[j] = a[j][FEW] / a[j][j];
    }
    return true;
}

/* The least sum of squares that any choice of columns gives without a negative one. */
static double best_of_all_subsets(double matrix[ION_COUNT][FEW],
                                  const double wanted[ION_COUNT])
{
    double best = INFINITY;
    for (unsigned chosen = 0; chosen < 1U << FEW; chosen++) {
        double x[FEW];
        double sum = 0;
        bool allowed = plain_least_squares(x, matrix, wanted, chosen);
        for (int k = 0; k < FEW; k++) {
            allowed = allowed && x[k] >= -1e-12;
        }
        for (int i = 0; i < ION_COUNT && allowed; i++) {
            double miss = -wanted[i];
            for (int k = 0; k < FEW; k++) {
                miss += matrix[i][k] * x[k];
            }
            sum += miss * miss;
        }
        best = allowed ? fmin(best, sum) : best;
    }
    return best;
}

/* Every subset of the salts tried by plain least squares: the best that needs no negative
 * salt is what is found. */
static void no_choice_among_the_salts_comes_closer(void **state)
{
    (void)state;
    const struct salt *salts[SHELF];
    const struct liquid pure = {0};
    salts_of_the_shelf(salts);
    int short_trials = 0;
    for (int trial = 0; trial < 400; trial++) {
        struct mix_wanted wanted = mix_wanted_nothing();
        double matrix[ION_COUNT][FEW], aim[ION_COUNT];
        const int first = trial % (SHELF - FEW + 1);
        for (int i = 0; i < ION_COUNT; i++) {
            wanted.mmol_l[i] = drawn(0.06, 9);
            aim[i] = 1;
            for (int k = 0; k < FEW; k++) {
                matrix[i][k] = 1000 * salts[first + k]->ions[i] /
                               salts[first + k]->molar_mass / wanted.mmol_l[i];
            }
        }
        const double best = best_of_all_subsets(matrix, aim);
        struct mix_solution solution;
        assert_int_equal(mix_solve(&solution, salts + first, FEW, &wanted, &pure, NULL),
                         STATUS_OK);
        double found = 0;
        int idle = 0;
        for (int i = 0; i < ION_COUNT; i++) {
            found += pow(solution.missed_mmol_l[i] / wanted.mmol_l[i], 2);
        }
        for (int k = 0; k < FEW; k++) {
            idle += solution.g_l[k] <= 0;
        }
        short_trials += idle > 0;
        assert_close(found, best, 1e-9, 1e-12);
    }
    assert_in_range(short_trials, 100, 400); /* the bound was felt */
}

static void salts_alike_do_no_harm_and_the_first_named_is_taken(void **state)
{
    (void)state;
    const struct salt *const salts[] = {
        salt_by_formula("MgSO4.7H2O"), salt_by_formula("MgSO4"),
        salt_by_formula("MgSO4.7H2O"), salt_by_formula("K2SO4")};
    const struct liquid pure = {0};
    struct mix_wanted wanted = mix_wanted_nothing();
    struct mix_solution solution;
    wanted.mmol_l[ION_MG] = 1.37;
    assert_int_equal(mix_solve(&solution, salts, 4, &wanted, &pure, NULL), STATUS_OK);
    assert_close(solution.g_l[0], 1.37 * 246.466 / 1000, 1e-9, 0);
    assert_close(solution.g_l[1] + solution.g_l[2] + solution.g_l[3], 0, 0, 1e-12);
}

/* Nitric acid takes away the alkalinity of a hard water, an equivalent for each mol. */
static void acid_is_found_for_alkalinity(void **state)
{
    (void)state;
    const struct salt *const salts[] = {salt_by_formula("KHCO3"),
                                        salt_by_formula("HNO3")};
    const struct liquid hard = {.mmol_l = {[ION_CA] = 2.55}, .alkalinity_meq_l = 5.1};
    struct mix_wanted wanted = mix_wanted_nothing();
    struct mix_solution solution;
    wanted.alkalinity_meq_l = 0.7;
    assert_int_equal(mix_solve(&solution, salts, 2, &wanted, &hard, NULL), STATUS_OK);
    assert_close(solution.g_l[1], 4.4 * 63.012 / 1000, 1e-9, 0);
    assert_close(solution.missed_meq_l, 0, 0, 1e-9);
    assert_close(solution.liquid.mmol_l[ION_NO3], 4.4, 1e-9, 0);
    /* nothing in the set can bring it down */
    assert_int_equal(mix_solve(&solution, salts, 1, &wanted, &hard, NULL), STATUS_OK);
    assert_close(solution.missed_meq_l, 4.4, 1e-9, 0);
    assert_close(solution.g_l[0], 0, 0, 0);
}

static void an_ion_of_the_water_cannot_be_taken_out(void **state)
{
    (void)state;
    const struct salt *const salts[] = {salt_by_formula("KNO3")};
    const struct liquid hard = {.mmol_l = {[ION_CA] = 3.1}, .alkalinity_meq_l = 6.2};
    struct mix_wanted wanted = mix_wanted_nothing();
    wanted.mmol_l[ION_CA] = 1.9;
    wanted.mmol_l[ION_K] = 4.4;
    struct mix_solution solution;
    assert_int_equal(mix_solve(&solution, salts, 1, &wanted, &hard, NULL), STATUS_OK);
    assert_close(solution.missed_mmol_l[ION_CA], 3.1 - 1.9, 1e-9, 0);
    assert_close(solution.missed_mmol_l[ION_K], 0, 0, 1e-9);
}

static void nothing_wanted_is_refused(void **state)
{
    (void)state;
    const struct salt *const salts[] = {salt_by_formula("KNO3")};
    struct mix_wanted wanted = mix_wanted_nothing();
    const struct liquid pure = {0};
    struct mix_solution solution;
    assert_int_equal(mix_solve(&solution, salts, 1, &wanted, &pure, NULL), STATUS_INPUT);
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

static void what_has_no_nitrogen_is_short_of_it(void **state)
{
    (void)state;
    const struct pen pen = pen_at(25, 420);
    const struct liquid feed = {.mmol_l = {12, 1, 1.2, 8, 2.5, 1, 0.8}};
    const struct liquid potash = {.mmol_l = {0.3, 0, 1.1, 7.7, 2.3, 1.1, 5.8, 0, 1.35}};
    const struct mix mix = mix_of(&potash, &pen, &feed);
    assert_true(mix.scarce[ION_NO3]);
    assert_false(mix.scarce[ION_NH4]);
    assert_false(mix.scarce[ION_K]);
    assert_false(mix.scarce[ION_SO4]);
    assert_false(mix.scarce[ION_NA] || mix.scarce[ION_CL]);
}

static void a_crop_says_what_is_enough_for_it(void **state)
{
    (void)state;
    struct crop crop = crop_defaults(CROP_GROWN);
    struct liquid feed;
    crop.growth.tissue_mmol_g[NUTRIENT_N][0] = 2.9;
    crop.growth.tissue_mmol_g[NUTRIENT_N][1] = 2.6;
    crop.growth.tissue_mmol_g[NUTRIENT_K][0] = 1.35;
    crop.growth.tissue_mmol_g[NUTRIENT_K][1] = 1.45;
    assert_true(mix_feed_of(&feed, &crop));
    assert_close(feed.mmol_l[ION_NO3], 1, 1e-12, 0);
    assert_close(feed.mmol_l[ION_K], 1.45 / 2.6, 1e-12, 0);
    struct crop table = crop_defaults(CROP_TABLE);
    table.stage_count = 2;
    table.stages[0] = (struct crop_stage){.eats_mmol_l = {6.3, 0.4, 0.5, 3.9, 1.2}};
    table.stages[1] = (struct crop_stage){.eats_mmol_l = {5.1, 0.2, 0.6, 4.4, 1.1}};
    assert_true(mix_feed_of(&feed, &table));
    assert_close(feed.mmol_l[ION_NO3], 6.3, 0, 0);
    assert_close(feed.mmol_l[ION_K], 4.4, 0, 0);
    const struct crop none = crop_defaults(CROP_NONE);
    assert_false(mix_feed_of(&feed, &none));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_textbook_solution_is_rebuilt_from_its_ions),
        cmocka_unit_test(what_can_be_made_is_met),
        cmocka_unit_test(what_cannot_be_met_is_missed_as_little_as_can_be),
        cmocka_unit_test(no_choice_among_the_salts_comes_closer),
        cmocka_unit_test(salts_alike_do_no_harm_and_the_first_named_is_taken),
        cmocka_unit_test(acid_is_found_for_alkalinity),
        cmocka_unit_test(an_ion_of_the_water_cannot_be_taken_out),
        cmocka_unit_test(nothing_wanted_is_refused),
        cmocka_unit_test(a_standard_reads_its_conductivity),
        cmocka_unit_test(a_feed_without_potassium_is_called_short_of_it),
        cmocka_unit_test(what_has_no_nitrogen_is_short_of_it),
        cmocka_unit_test(a_crop_says_what_is_enough_for_it),
    };
    return cmocka_run_group_tests_name("mix", tests, NULL, NULL);
}
