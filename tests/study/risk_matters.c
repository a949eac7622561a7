/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When indices say which input matters more, and when they rest on too few rows. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/report/risk.h"
#include "pailcast/study/risk_matters.h"
#include "support/bench.h"
#include "support/scratch.h"

static struct scenario scenario;
static struct risk_plan plan;
static struct risk risk;

/* A study of one strategy and three inputs, asked with 9 rows; indices of the first
 * target are given, of the others there are none. */
static struct risk_sum *indices(const struct sobol_index first_target[3])
{
    struct risk_sum *sum = calloc(1, sizeof *sum);
    assert_non_null(sum);
    bench_shipped(&scenario, "first-bucket");
    scenario.strategy_count = 1;
    plan = (struct risk_plan){.lives = 72, .base = 9};
    risk = (struct risk){.scenario = &scenario, .plan = &plan, .input_count = 3};
    (void)draw_inputs(risk.inputs, &scenario);
    sum->risk = &risk;
    sum->row_count = 1;
    sum->rows[0].strategy = &scenario.strategies[0];
    for (size_t t = 0; t < RISK_TARGETS; t++) {
        for (size_t i = 0; i < 3; i++) {
            sum->rows[0].matters[t][i] =
                t == 0 ? first_target[i] : (struct sobol_index){NAN, NAN, NAN, NAN};
        }
    }
    return sum;
}

static void an_index_is_ranked_at_twice_its_error(void **state)
{
    (void)state;
    const struct sobol_index steady[] = {
        {0.1, 0.1, 0.11, 0.05}, {0.4, 0.2, 0.59, 0.19}, {0, 0, 0.08, 0.03}};
    struct risk_sum *sum = indices(steady);
    assert_int_equal(risk_matters_ranked(sum, 0, 0, 0), 1);
    assert_int_equal(risk_matters_ranked(sum, 0, 0, 1), 0);
    assert_int_equal(risk_matters_ranked(sum, 0, 0, 2), 2);
    assert_true(risk_matters_tells(sum));
    assert_int_equal(risk_matters_rows_short(sum, 0, 0), 0);
    free(sum);
}

/* What stands behind one that may be anywhere is not ranked either. */
static void ranks_end_at_the_first_that_is_not_sure(void **state)
{
    (void)state;
    const struct sobol_index doubtful[] = {
        {0.1, 0.1, 0.11, 0.06}, {0.4, 0.2, 0.59, 0.19}, {0, 0, 0.08, 0.03}};
    struct risk_sum *sum = indices(doubtful);
    assert_int_equal(risk_matters_ranked(sum, 0, 0, 0), 1);
    assert_int_equal(risk_matters_ranked(sum, 0, 0, 1), -1);
    assert_int_equal(risk_matters_ranked(sum, 0, 0, 2), -1);
    free(sum);
    const struct sobol_index first[] = {
        {0, 0, 0.38, 0.13}, {0.2, 0.6, 0.61, 0.67}, {0, 0, 0.61, 0.66}};
    sum = indices(first);
    for (size_t rank = 0; rank < 3; rank++) {
        assert_int_equal(risk_matters_ranked(sum, 0, 0, rank), -1);
    }
    assert_false(risk_matters_tells(sum));
    free(sum);
}

/* Errors fall with the root of the rows: 9 (2 x 0.67 / 0.61)^2 = 43.4. */
static void the_rows_that_would_do_are_reckoned_from_the_error(void **state)
{
    (void)state;
    const struct sobol_index first[] = {
        {0, 0, 0.38, 0.13}, {0.2, 0.6, 0.61, 0.67}, {0, 0, 0.6, 0.66}};
    struct risk_sum *sum = indices(first);
    assert_int_equal(risk_matters_rows_short(sum, 0, 0), 44);
    assert_int_equal(risk_matters_rows_short(sum, 0, 1), 0);
    assert_int_equal(risk_matters_rows_needed(sum), 44);
    struct scratch_text text;
    scratch_open(&text);
    risk_table_write(text.out, sum);
    char *told = scratch_close(&text);
    assert_null(strstr(told, "±"));
    assert_non_null(strstr(told, "What matters most cannot be told from 72 lives and 9 "
                                 "rows of --matters: about 352 lives, or --matters 44, "
                                 "are needed."));
    free(told);
    free(sum);
}

static void what_is_told_and_what_is_not_stand_beside_each_other(void **state)
{
    (void)state;
    const struct sobol_index steady[] = {
        {0.1, 0.1, 0.11, 0.05}, {0.4, 0.2, 0.59, 0.19}, {0, 0, 0.08, 0.03}};
    struct risk_sum *sum = indices(steady);
    for (size_t i = 0; i < 3; i++) {
        sum->rows[0].matters[3][i] = (struct sobol_index){0, 0, 0.4, 0.4};
    }
    struct scratch_text text;
    scratch_open(&text);
    risk_table_write(text.out, sum);
    char *told = scratch_close(&text);
    assert_non_null(strstr(told, " 59 ± 19 %; "));
    assert_null(strstr(told, "40 ± 40 %"));
    assert_non_null(strstr(told, "too few rows to rank what matters for: EC at the end "
                                 "(--matters 36 or more)"));
    free(told);
    free(sum);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_index_is_ranked_at_twice_its_error),
        cmocka_unit_test(ranks_end_at_the_first_that_is_not_sure),
        cmocka_unit_test(the_rows_that_would_do_are_reckoned_from_the_error),
        cmocka_unit_test(what_is_told_and_what_is_not_stand_beside_each_other),
    };
    return cmocka_run_group_tests_name("risk_matters", tests, NULL, NULL);
}
