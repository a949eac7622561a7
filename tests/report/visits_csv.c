/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of visits as a file, of a life that was lived. */
#include "support/bench.h"
#include "support/close.h"
#include "support/scratch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/report/visits.h"

static const char promised[] =
    "day,ec_before_mS_cm,ph_before,volume_before_L,water_poured_L,stock_poured_L,"
    "drained_L,adjust_mmol,adjust_g,ec_after_mS_cm,ph_after,volume_after_L,"
    "level_before_cm,level_after_cm,weekday,date";

enum {
    NUMBERS = 14,
    EC_BEFORE = 1,
    VOLUME_BEFORE = 3,
    WATER,
    STOCK,
    DRAINED,
    ADJUST_MMOL,
    ADJUST_G,
    EC_AFTER,
    VOLUME_AFTER = 11,
    LEVEL_BEFORE,
    LEVEL_AFTER
};

/* A list read again: numbers and what stands behind them. */
struct list {
    size_t count;
    double number[256][NUMBERS];
    char words[256][32];
};

static void list_of(struct list *list, const struct compare *compare, size_t row)
{
    struct scratch_text written = {0};
    scratch_open(&written);
    visits_csv_write(written.out, compare, row);
    char *text = scratch_close(&written);
    char *rest = text;
    assert_string_equal(strtok_r(text, "\n", &rest), promised);
    list->count = 0;
    for (char *at = strtok_r(NULL, "\n", &rest); at != NULL;
         at = strtok_r(NULL, "\n", &rest)) {
        for (int i = 0; i < NUMBERS; i++) {
            char *end;
            list->number[list->count][i] = strtod(at, &end);
            assert_true(end > at && *end == ',');
            at = end + 1;
        }
        (void)snprintf(list->words[list->count], sizeof *list->words, "%s", at);
        list->count++;
    }
    free(text);
}

static double sum(const struct list *list, int column)
{
    double total = 0;
    for (size_t i = 0; i < list->count; i++) {
        total += list->number[i][column];
    }
    return total;
}

static struct scenario scenario;
static struct list list;

/* Twelve digits are written. */
static const double digits = 1e-10;

static void what_is_listed_adds_up_to_the_books(void **state)
{
    (void)state;
    bench_shipped(&scenario, "renew-or-not");
    struct compare *compare = bench_compare(&scenario);
    for (size_t row = 0; row < compare->row_count; row++) {
        const struct life *life = &compare->rows[row].life;
        const struct sample *last =
            &life->trajectory.samples[life->trajectory.sample_count - 1];
        list_of(&list, compare, row);
        assert_int_equal(list.count, life->ledger.visits);
        assert_close(sum(&list, WATER), last->water_poured_l, digits, 0);
        assert_close(sum(&list, STOCK), last->stock_poured_l, digits, 0);
        assert_close(sum(&list, DRAINED), last->drained_l, digits, 0);
        for (size_t i = 0; i < list.count; i++) {
            const double *number = list.number[i];
            assert_close(number[VOLUME_BEFORE] - number[DRAINED] + number[WATER] +
                             number[STOCK],
                         number[VOLUME_AFTER], digits, 0);
        }
    }
    /* renewed every thirty days of 150, the last day's being none */
    list_of(&list, compare, 1);
    assert_true(sum(&list, DRAINED) > 4 * 18);
    bench_let_go(compare);
}

/* A visit is the moment of two rows of the samples, right before and right after it. */
static void readings_are_those_of_the_samples(void **state)
{
    (void)state;
    bench_shipped(&scenario, "pepper-in-gallons");
    struct compare *compare = bench_compare(&scenario);
    const struct trajectory *path = &compare->rows[1].life.trajectory;
    size_t k = 0;
    list_of(&list, compare, 1);
    for (size_t i = 0; i < list.count; i++) {
        while (path->samples[k].event != EVENT_BEFORE_VISIT) {
            k++;
            assert_true(k + 1 < path->sample_count);
        }
        assert_close(list.number[i][0], path->samples[k].day_d, digits, 0);
        assert_close(list.number[i][EC_BEFORE], path->samples[k].ec_ms_cm, digits, 0);
        assert_close(list.number[i][EC_BEFORE + 1], path->samples[k].ph, digits, 0);
        assert_close(list.number[i][LEVEL_BEFORE], path->samples[k].level_cm, digits, 0);
        assert_close(list.number[i][LEVEL_AFTER], path->samples[k + 1].level_cm, digits,
                     0);
        assert_close(list.number[i][EC_AFTER], path->samples[k + 1].ec_ms_cm, digits, 0);
        assert_close(list.number[i][EC_AFTER + 1], path->samples[k + 1].ph, digits, 0);
        k++;
    }
    bench_let_go(compare);
}

static void acid_is_told_in_millimoles_and_grams(void **state)
{
    (void)state;
    bench_shipped(&scenario, "wheat-hard-water-acid");
    struct compare *compare = bench_compare(&scenario);
    list_of(&list, compare, 1);
    const double mmol = compare->rows[1].life.ledger.adjust_mmol;
    assert_true(mmol > 50);
    assert_close(sum(&list, ADJUST_MMOL), mmol, digits, 0);
    /* HNO3 from the IUPAC 2021 abridged weights: 1.008 + 14.007 + 3 x 15.999 */
    assert_close(sum(&list, ADJUST_G), 63.012e-3 * mmol, 1e-4, 0);
    list_of(&list, compare, 0);
    assert_close(sum(&list, ADJUST_MMOL), 0, 0, 0);
    assert_close(sum(&list, ADJUST_G), 0, 0, 0);
    bench_let_go(compare);
}

static void dates_stand_last_and_are_blank_without_a_start(void **state)
{
    (void)state;
    bench_shipped(&scenario, "wheat-hard-water-acid"); /* Sun 2026-11-01, every 3 d */
    scenario.duration_d = 40;
    struct compare *compare = bench_compare(&scenario);
    list_of(&list, compare, 0);
    assert_string_equal(list.words[0], "Wed,2026-11-04");
    assert_string_equal(list.words[10], "Fri,2026-12-04");
    scenario.start[0] = '\0';
    list_of(&list, compare, 0);
    assert_string_equal(list.words[0], ",");
    assert_string_equal(list.words[10], ",");
    bench_let_go(compare);
}

static void without_a_visit_there_is_a_head_alone(void **state)
{
    (void)state;
    bench_shipped(&scenario, "wheat-hard-water-acid");
    scenario.duration_d = 2.5;
    struct compare *compare = bench_compare(&scenario);
    list_of(&list, compare, 0);
    assert_int_equal(list.count, 0);
    bench_let_go(compare);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_listed_adds_up_to_the_books),
        cmocka_unit_test(readings_are_those_of_the_samples),
        cmocka_unit_test(acid_is_told_in_millimoles_and_grams),
        cmocka_unit_test(dates_stand_last_and_are_blank_without_a_start),
        cmocka_unit_test(without_a_visit_there_is_a_head_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
