/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/study/beyond.h"

static struct scenario scenario;
static struct sample rows[5];
static struct life life;

/* A row a day of these EC. */
static struct beyond of(enum crop_kind kind, double lost_d, const double ec_ms_cm[5])
{
    scenario.crop.kind = kind;
    for (size_t i = 0; i < 5; i++) {
        rows[i] = (struct sample){.day_d = (double)i, .ec_ms_cm = ec_ms_cm[i]};
    }
    life = (struct life){.trajectory = {.samples = rows, .sample_count = 5}};
    life.first.plant_lost = lost_d;
    return beyond_of(&life, &scenario);
}

static void within_what_was_checked_nothing_is_beyond(void **state)
{
    (void)state;
    const struct beyond beyond =
        of(CROP_GROWN, NAN, (const double[]){1.3, 5.9, 6, 4.1, 2.2});
    assert_true(isnan(beyond.ec_d));
    assert_true(isnan(beyond.salt_d));
    assert_close(beyond.most_ms_cm, 6, 0, 0);
}

static void the_first_day_beyond_each_is_told(void **state)
{
    (void)state;
    const double ec[] = {1.3, 6.1, 5.2, 10.7, 13.4};
    struct beyond beyond = of(CROP_GROWN, NAN, ec);
    assert_close(beyond.salt_d, 1, 0, 0);
    assert_close(beyond.ec_d, 3, 0, 0);
    assert_close(beyond.most_ms_cm, 13.4, 0, 0);
    /* A plant as measured is not slowed down by salt. */
    beyond = of(CROP_TABLE, NAN, ec);
    assert_true(isnan(beyond.salt_d));
    assert_close(beyond.ec_d, 3, 0, 0);
}

static void a_lost_plant_is_not_asked_about_salt(void **state)
{
    (void)state;
    const struct beyond beyond =
        of(CROP_GROWN, 2.5, (const double[]){1.3, 3.1, 5.2, 8.7, 13.4});
    assert_true(isnan(beyond.salt_d));
    assert_close(beyond.ec_d, 4, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(within_what_was_checked_nothing_is_beyond),
        cmocka_unit_test(the_first_day_beyond_each_is_told),
        cmocka_unit_test(a_lost_plant_is_not_asked_about_salt),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
