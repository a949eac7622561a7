/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every shipped scenario under every strategy: the books close and the answer does not
 * depend on the tolerance. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <dirent.h>

#include "pailcast/scenario/catalog.h"
#include "pailcast/study/compare.h"
#include "support/bench.h"

enum {
    SCENARIOS_MAX = 64
};

struct shipped {
    size_t count;
    char names[SCENARIOS_MAX][128];
};

static int by_name(const void *a, const void *b)
{
    return strcmp(a, b);
}

static void find_shipped(struct shipped *shipped)
{
    char path[1024];
    (void)snprintf(path, sizeof path, "%s/scenarios", catalog_folder());
    DIR *folder = opendir(path);
    assert_non_null(folder);
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        const char *dot = strrchr(entry->d_name, '.');
        if (dot != NULL && strcmp(dot, ".cfg") == 0) {
            assert_true(shipped->count < SCENARIOS_MAX);
            char *name = shipped->names[shipped->count++];
            (void)snprintf(name, 128, "%.*s", (int)(dot - entry->d_name), entry->d_name);
        }
    }
    (void)closedir(folder);
    qsort(shipped->names, shipped->count, sizeof shipped->names[0], by_name);
    assert_true(shipped->count >= 8);
}

static struct compare *compared(struct scenario *scenario)
{
    struct error error = {0};
    struct compare *compare = calloc(1, sizeof *compare);
    assert_non_null(compare);
    if (compare_run(compare, scenario, &error) != STATUS_OK) {
        print_error("%s\n", error.text);
        fail();
    }
    return compare;
}

static void released(struct compare *compare)
{
    compare_free(compare);
    free(compare);
}

static void books_close_in_every_shipped_scenario(void **state)
{
    (void)state;
    static struct shipped shipped;
    static struct scenario scenario;
    shipped = (struct shipped){0};
    find_shipped(&shipped);
    for (size_t i = 0; i < shipped.count; i++) {
        bench_shipped(&scenario, shipped.names[i]);
        struct compare *compare = compared(&scenario);
        for (size_t row = 0; row < compare->row_count; row++) {
            const struct ledger_balance *balance = &compare->rows[row].life.balance;
            assert_close(balance->water_rel, 0, 0, 1e-9);
            assert_close(balance->worst_ion_rel, 0, 0, 1e-9);
            assert_close(balance->charge_rel, 0, 0, 1e-9);
            assert_true(compare->rows[row].advice_count > 0);
        }
        released(compare);
    }
}

/* A ledger entered wrongly must not close: the check above can fail. */
static void books_do_not_close_when_a_pour_is_forgotten(void **state)
{
    (void)state;
    static struct scenario scenario;
    struct life life = {0};
    bench_shipped(&scenario, "first-bucket");
    bench_live(&life, &scenario, 1);
    const struct trajectory *path = &life.trajectory;
    const double *end = path->samples[path->sample_count - 1].state;
    life.ledger.poured.water_l -= path->visits[3].water_l;
    assert_true(ledger_close(&life.ledger, end).water_rel > 1e-4);
    life.ledger.poured.mmol[ION_K] *= 1 + 1e-6;
    assert_true(ledger_close(&life.ledger, end).worst_ion_rel > 1e-8);
    life_free(&life);
}

/* NAN equals NAN: never is the same answer twice. */
static void same_day(double a, double b)
{
    assert_int_equal(isnan(a), isnan(b));
    if (!isnan(a)) {
        assert_close(a, b, 0, 0.02);
    }
}

static void compare_firsts(const struct life_first_days *a,
                           const struct life_first_days *b)
{
    same_day(a->ec_high, b->ec_high);
    same_day(a->ec_low, b->ec_low);
    same_day(a->ph_high, b->ph_high);
    same_day(a->ph_low, b->ph_low);
    same_day(a->roots_dry, b->roots_dry);
    same_day(a->bucket_empty, b->bucket_empty);
    same_day(a->plant_lost, b->plant_lost);
    for (int i = 0; i < ION_COUNT; i++) {
        same_day(a->ion_high[i], b->ion_high[i]);
        same_day(a->nutrient_low[i], b->nutrient_low[i]);
    }
}

static void halving_the_tolerance_changes_no_answer(void **state)
{
    (void)state;
    static struct shipped shipped;
    static struct scenario scenario, finer;
    shipped = (struct shipped){0};
    find_shipped(&shipped);
    for (size_t i = 0; i < shipped.count; i++) {
        bench_shipped(&scenario, shipped.names[i]);
        finer = scenario;
        finer.numerics.rtol *= 0.5;
        for (size_t k = 0; k < scenario.strategy_count; k++) {
            struct life coarse = {0}, fine = {0};
            bench_live(&coarse, &scenario, k);
            bench_live(&fine, &finer, k);
            compare_firsts(&coarse.first, &fine.first);
            for (size_t v = 0; v < coarse.trajectory.visit_count; v++) {
                const struct visit_record *a = &coarse.trajectory.visits[v];
                const struct visit_record *b = &fine.trajectory.visits[v];
                assert_close(a->ec_before_ms_cm, b->ec_before_ms_cm, 2e-3, 0);
                assert_close(a->ec_after_ms_cm, b->ec_after_ms_cm, 2e-3, 0);
            }
            life_free(&coarse);
            life_free(&fine);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(books_close_in_every_shipped_scenario),
        cmocka_unit_test(books_do_not_close_when_a_pour_is_forgotten),
        cmocka_unit_test(halving_the_tolerance_changes_no_answer),
    };
    return cmocka_run_group_tests_name("shipped scenarios", tests, NULL, NULL);
}
