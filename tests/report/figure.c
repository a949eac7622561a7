/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/story.h"

#include <math.h>
#include <string.h>

#include "../../sim/report/figure.h"

static void forget(struct life_first_days *first)
{
    first->ec_high = first->ec_low = first->ph_high = first->ph_low = NAN;
    first->roots_dry = first->bucket_empty = first->plant_lost = NAN;
    for (size_t i = 0; i < ION_COUNT; i++) {
        first->ion_high[i] = first->nutrient_low[i] = NAN;
    }
}

static void a_life_is_told_in_the_order_of_its_days(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct life_first_days *first = &story->compare.rows[0].life.first;
    char line[FIGURE_LINE_SIZE];
    forget(first);
    first->plant_lost = 71.26;
    first->ec_high = 33.91;
    first->nutrient_low[ION_NO3] = 9.04;
    first->roots_dry = 70.13;
    story->scenario.limits.low_mmol_l[ION_NO3] = 0.17;
    figure_timeline(line, &story->compare, 0);
    assert_string_equal(line,
                        "Day 9.0: nitrate ran out (below 0.17 mmol/L); day 33.9: EC "
                        "rose above 2.60 mS/cm; day 70.1: the water fell below the "
                        "roots; day 71.3: the plant was lost.");
    story_free(story);
}

static void nothing_passed_is_said(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char line[FIGURE_LINE_SIZE];
    forget(&story->compare.rows[1].life.first);
    figure_timeline(line, &story->compare, 1);
    assert_string_equal(line, "No limit was passed.");
    story_free(story);
}

static void everything_at_once_still_fits(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct life_first_days *first = &story->compare.rows[0].life.first;
    char line[FIGURE_LINE_SIZE];
    first->ec_high = first->ec_low = first->ph_high = first->ph_low = 123.4;
    first->roots_dry = first->bucket_empty = first->plant_lost = 456.7;
    for (size_t i = 0; i < ION_COUNT; i++) {
        first->ion_high[i] = first->nutrient_low[i] = 234.5;
    }
    figure_timeline(line, &story->compare, 0);
    assert_non_null(strstr(line, "day 456.7: the plant was lost."));
    assert_non_null(strstr(line, "chloride rose above"));
    story_free(story);
}

static void limits_are_told_in_display_units(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char line[FIGURE_LINE_SIZE];
    story->scenario.limits.ph_high = 7.4;
    story->scenario.display.ec = DISPLAY_PPM700;
    figure_limits(line, &story->scenario);
    assert_string_equal(line,
                        "Limits: EC at least 560 ppm700; EC at most 1820 ppm700; pH "
                        "at most 7.4; sodium at most 6 mmol/L.");
    story->scenario.limits.ec_high_ms_cm = INFINITY;
    story->scenario.limits.ec_low_ms_cm = 0;
    story->scenario.limits.ph_high = INFINITY;
    story->scenario.limits.high_mmol_l[ION_NA] = INFINITY;
    figure_limits(line, &story->scenario);
    assert_string_equal(line, "");
    story_free(story);
}

static void never_and_no_limit_look_different(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char cell[FIGURE_CELL_SIZE];
    forget(&story->compare.rows[0].life.first);
    const struct figure_column *high = &figure_columns[1];
    high->cell(cell, &story->compare, 0);
    assert_string_equal(cell, "-");
    story->scenario.limits.ec_high_ms_cm = INFINITY;
    high->cell(cell, &story->compare, 0);
    assert_string_equal(cell, "");
    story_free(story);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_life_is_told_in_the_order_of_its_days),
        cmocka_unit_test(nothing_passed_is_said),
        cmocka_unit_test(everything_at_once_still_fits),
        cmocka_unit_test(limits_are_told_in_display_units),
        cmocka_unit_test(never_and_no_limit_look_different),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
