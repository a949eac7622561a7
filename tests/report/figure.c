/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/story.h"

#include <math.h>
#include <string.h>

#include "../../sim/report/figure.h"

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
    story->compare.rows[0].life.first.ec_high = NAN;
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
        cmocka_unit_test(limits_are_told_in_display_units),
        cmocka_unit_test(never_and_no_limit_look_different),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
