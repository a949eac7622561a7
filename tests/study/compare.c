/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/study/compare.h"
#include "support/bench.h"

static struct scenario scenario;

static struct compare *lived(const char *name)
{
    struct error error = {0};
    struct compare *compare = calloc(1, sizeof *compare);
    assert_non_null(compare);
    bench_shipped(&scenario, name);
    assert_int_equal(compare_run(compare, &scenario, &error), STATUS_OK);
    return compare;
}

static void released(struct compare *compare)
{
    compare_free(compare);
    free(compare);
}

static void parts_of_ec_add_up_to_ec(void **state)
{
    (void)state;
    struct compare *compare = lived("renew-or-not");
    const struct pen pen = pen_at(22, 1000);
    for (size_t row = 0; row < compare->row_count; row++) {
        const struct trajectory *path = &compare->rows[row].life.trajectory;
        for (size_t i = 0; i < path->sample_count; i += 37) {
            const struct compare_makeup makeup = compare_makeup_of(
                &path->samples[i], &scenario, compare->rows[row].strategy, &pen);
            double sum = makeup.carbonate;
            for (int ion = 0; ion < ION_COUNT; ion++) {
                sum += makeup.useful_by_ion[ion] + makeup.ballast_by_ion[ion];
            }
            assert_close(sum, path->samples[i].ec_ms_cm, 1e-9, 0);
            assert_close(makeup.useful_by_ion[ION_NA] + makeup.useful_by_ion[ION_CL], 0,
                         0, 0);
        }
    }
    released(compare);
}

static void
never_renewing_works_in_soft_water_and_fails_behind_a_flat_ec_in_hard(void **state)
{
    (void)state;
    struct compare *compare = lived("renew-or-not");
    const struct compare_row *soft = &compare->rows[0];
    const struct compare_row *hard = &compare->rows[2];
    const struct compare_row *mismatched = &compare->rows[4];
    assert_true(soft->growth_index > 0.98);
    assert_int_equal(soft->nutrient_low, ION_COUNT);
    assert_int_equal(compare->best, 0);
    assert_true(hard->growth_index < 0.6);
    assert_int_equal(hard->nutrient_low, ION_K);
    const struct sample *then = bench_sample(&hard->life, hard->nutrient_low_d);
    assert_true(then->ec_ms_cm > 1.4 && then->ec_ms_cm < 2.0);
    assert_true(mismatched->growth_index < 0.6);
    assert_true(mismatched->ec_max < 2.6);
    assert_true(hard->ballast_ec_ms_cm > 10 * hard->useful_ec_ms_cm);
    released(compare);
}

static void growth_is_measured_against_the_plant_without_stress(void **state)
{
    (void)state;
    struct compare *compare = lived("first-bucket");
    const struct trajectory *reference = &compare->unstressed.trajectory;
    const double best =
        reference->samples[reference->sample_count - 1].state[STATE_GROWN];
    for (size_t row = 0; row < compare->row_count; row++) {
        const struct compare_row *told = &compare->rows[row];
        const struct trajectory *path = &told->life.trajectory;
        const double made = path->samples[path->sample_count - 1].state[STATE_GROWN];
        assert_close(told->growth_index, made / best, 1e-12, 0);
        assert_true(told->growth_index > 0 && told->growth_index < 1.005);
    }
    released(compare);
}

/* Mean of a reading over time, not over rows: rows stand closer around visits. */
static void mean_ec_is_a_mean_over_time(void **state)
{
    (void)state;
    struct compare *coarse = lived("no-plant");
    const double mean = coarse->rows[1].ec_mean;
    const double first = coarse->rows[1].ec_min;
    const double last = coarse->rows[1].ec_max;
    assert_true(mean > first && mean < last);
    assert_close(mean, 0.5 * (first + last), 0.01, 0);
    released(coarse);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parts_of_ec_add_up_to_ec),
        cmocka_unit_test(
            never_renewing_works_in_soft_water_and_fails_behind_a_flat_ec_in_hard),
        cmocka_unit_test(growth_is_measured_against_the_plant_without_stress),
        cmocka_unit_test(mean_ec_is_a_mean_over_time),
    };
    return cmocka_run_group_tests_name("compare", tests, NULL, NULL);
}
