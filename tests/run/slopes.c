/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Slopes carried through a life against differences of whole lives. */
#include "support/close.h"

#include <math.h>

#include "pailcast/run/slopes.h"
#include "support/bench.h"

enum {
    UNKNOWNS = 5,
    KINDS = 3, /* EC, level, pH */
    ENTRIES = 64
};

static struct scenario scenario;
static struct hands_entry entries[ENTRIES];
static struct hands_log log_kept;
static struct slopes slopes;

/* The logarithms of all that is learned, moved from none of it being as planned. */
static struct scenario_learned learned_at(int unknown, double by)
{
    const double at[UNKNOWNS] = {0.071, -0.128, 0.093, 0.017, -0.314};
    double factor[UNKNOWNS];
    for (int k = 0; k < UNKNOWNS; k++) {
        factor[k] = exp(at[k] + (k == unknown ? by : 0));
    }
    return (struct scenario_learned){
        .plant = {.drinking = factor[0], .eating = factor[1], .growth = factor[2]},
        .start_stock_share = scenario.start_stock_share * factor[3],
        .evaporation = factor[4]};
}

/* readings[entry * KINDS + kind] of the life with one unknown moved. */
static void read_life(double readings[], int unknown, double by, double rtol)
{
    const struct hands hands = hands_log(&log_kept);
    struct life life;
    scenario.learned = learned_at(unknown, by);
    scenario.numerics = (struct scenario_numerics){METHOD_ADAMS, rtol};
    assert_int_equal(life_run_by(&life, &scenario, &scenario.strategies[0], &hands, NULL),
                     STATUS_OK);
    assert_int_equal(life.trajectory.visit_count, log_kept.count);
    for (size_t i = 0; i < log_kept.count; i++) {
        const struct visit_record *visit = &life.trajectory.visits[i];
        readings[i * KINDS] = visit->ec_before_ms_cm;
        readings[i * KINDS + 1] =
            shape_level_cm(&scenario.bucket, visit->volume_before_l);
        readings[i * KINDS + 2] = visit->ph_before;
    }
    life_free(&life);
}

/* Central differences h, h/2 and h/4 apart, twice rid of their h^2 (Richardson); what the
 * two then differ by is more than the error of the finer. */
static void differ(double value[], double doubt[], int unknown)
{
    static double up[ENTRIES * KINDS];
    static double down[ENTRIES * KINDS];
    static double central[3][ENTRIES * KINDS];
    const size_t count = log_kept.count * KINDS;
    for (int level = 0; level < 3; level++) {
        const double h = 8e-3 / (1 << level);
        read_life(up, unknown, h, 1e-11);
        read_life(down, unknown, -h, 1e-11);
        for (size_t i = 0; i < count; i++) {
            central[level][i] = (up[i] - down[i]) / (2 * h);
        }
    }
    for (size_t i = 0; i < count; i++) {
        const double coarse = (4 * central[1][i] - central[0][i]) / 3;
        value[i] = (4 * central[2][i] - central[1][i]) / 3;
        doubt[i] = fabs(value[i] - coarse);
    }
}

static double slope_of(size_t entry, int unknown, int kind)
{
    const struct slopes_reading *reading =
        &slopes.readings[entry * UNKNOWNS + (size_t)unknown];
    const double by_kind[KINDS] = {reading->ec_ms_cm, reading->level_cm, reading->ph};
    return by_kind[kind];
}

/* Lives once with slopes and compares each with its differences: within their own doubt
 * and 1e-5 of the largest of its kind, what a step aside of 1e-6 leaves where something
 * runs out and the curvature is twenty times the slope (found: 6e-6 at most); 1e-7 is
 * nothing to any pen. */
static void slopes_are_those_of_lives(void)
{
    static double value[ENTRIES * KINDS];
    static double doubt[ENTRIES * KINDS];
    static double plain[ENTRIES * KINDS];
    const struct hands hands = hands_log(&log_kept);
    read_life(plain, -1, 0, 1e-10);
    slopes = (struct slopes){.count = UNKNOWNS, .step = 1e-6};
    for (int k = 0; k < UNKNOWNS; k++) {
        slopes.aside[k] = learned_at(k, slopes.step);
    }
    struct life life;
    assert_int_equal(
        life_run_slopes(&life, &slopes, &scenario, &scenario.strategies[0], &hands, NULL),
        STATUS_OK);
    assert_int_equal(slopes.visits, log_kept.count);
    for (size_t i = 0; i < log_kept.count; i++) {
        assert_close(life.trajectory.visits[i].ec_before_ms_cm, plain[i * KINDS], 1e-7,
                     0);
    }
    for (int k = 0; k < UNKNOWNS; k++) {
        differ(value, doubt, k);
        for (int kind = 0; kind < KINDS; kind++) {
            double largest = 0;
            for (size_t i = 0; i < log_kept.count; i++) {
                largest = fmax(largest, fabs(value[i * KINDS + (size_t)kind]));
            }
            for (size_t i = 0; i < log_kept.count; i++) {
                const size_t at = i * KINDS + (size_t)kind;
                assert_close(slope_of(i, k, kind), value[at], 0,
                             doubt[at] + 1e-5 * largest + 1e-7);
            }
        }
    }
    life_free(&life);
    slopes_free(&slopes);
}

/* Whatever the strategy does is written down and then imposed. */
static void keep_log(const char *name, size_t strategy, double days)
{
    struct life life;
    bench_shipped(&scenario, name);
    scenario.duration_d = days;
    scenario.sample_every_d = days;
    bench_live(&life, &scenario, strategy);
    scenario.strategies[0] = scenario.strategies[strategy];
    size_t count = 0;
    for (size_t i = 0; i < life.trajectory.visit_count && count < ENTRIES; i++) {
        const struct visit_record *visit = &life.trajectory.visits[i];
        entries[count++] = (struct hands_entry){
            visit->day_d, {visit->drained_l, visit->water_l, visit->stock_l, 0}};
    }
    log_kept = (struct hands_log){entries, count, NULL};
    life_free(&life);
}

/* Basil, cut twice, its bucket renewed monthly: lamp switches, pours, drains, cuts. */
static void of_a_grown_plant_that_is_cut_and_drained_for(void **state)
{
    (void)state;
    keep_log("first-bucket", 3, 70);
    assert_true(scenario.crop.cut_count > 0 && scenario.crop.cuts[0].first_d < 60);
    assert_true(entries[9].given.drained_l > 5 || entries[10].given.drained_l > 5);
    slopes_are_those_of_lives();
}

static void of_a_plant_from_a_table(void **state)
{
    (void)state;
    keep_log("measured-cucumber", 2, 60);
    slopes_are_those_of_lives();
}

/* Nearly all is drained from under a young basil; a quarter of what it would drink keeps
 * it for five days, then it dies and drinks no more. How much is left depends on when. */
static void of_a_plant_that_is_lost_in_between(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.duration_d = 30;
    scenario.sample_every_d = 30;
    log_kept = (struct hands_log){entries, 0, NULL};
    for (double day_d = 14; day_d < 30; day_d += 1) {
        entries[log_kept.count++] = (struct hands_entry){day_d, {0, 0, 0, 0}};
    }
    entries[0].given.drained_l = 9.0;
    const struct hands hands = hands_log(&log_kept);
    struct life life;
    scenario.learned = learned_at(-1, 0);
    assert_int_equal(life_run_by(&life, &scenario, &scenario.strategies[0], &hands, NULL),
                     STATUS_OK);
    assert_true(life.first.plant_lost > 16.2 && life.first.plant_lost < 25);
    assert_true(isnan(life.first.bucket_empty));
    life_free(&life);
    slopes_are_those_of_lives();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_a_grown_plant_that_is_cut_and_drained_for),
        cmocka_unit_test(of_a_plant_from_a_table),
        cmocka_unit_test(of_a_plant_that_is_lost_in_between),
    };
    return cmocka_run_group_tests_name("slopes are those of lives", tests, NULL, NULL);
}
