/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/story.h"

#include <math.h>
#include <string.h>

#include "../../sim/report/history.h"

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
    story->scenario.start[0] = '\0';
    first->ec_high = 33.91;
    first->nutrient_low[ION_NO3] = 9.04;
    first->roots_dry = 70.13;
    story->scenario.limits.low_mmol_l[ION_NO3] = 0.17;
    history_timeline(line, &story->compare, 0);
    assert_string_equal(line,
                        "Day 9.0: nitrate ran out (below 0.17 mmol/L); day 33.9: EC "
                        "rose above 2.60 mS/cm; day 70.1: the water fell below the "
                        "roots; day 71.3: the plant was lost.");
    (void)snprintf(story->scenario.start, sizeof story->scenario.start, "2031-03-09");
    first->ec_high = first->nutrient_low[ION_NO3] = NAN;
    history_timeline(line, &story->compare, 0);
    assert_string_equal(line,
                        "Day 70.1 (Sun 2031-05-18): the water fell below the roots; day "
                        "71.3 (Mon 2031-05-19): the plant was lost.");
    story_free(story);
}

static void nothing_passed_is_said(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char line[FIGURE_LINE_SIZE];
    forget(&story->compare.rows[1].life.first);
    history_timeline(line, &story->compare, 1);
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
    history_timeline(line, &story->compare, 0);
    assert_non_null(strstr(line, "day 456.7 (Mon 2032-06-07): the plant was lost."));
    assert_non_null(strstr(line, "chloride rose above"));
    story_free(story);
}

/* What a row says of being left alone after a visit, days counted from `start` or "". */
static void left_from(char line[FIGURE_LINE_SIZE], const struct absence *absence,
                      const char *start)
{
    struct story *story = story_tell();
    (void)snprintf(story->scenario.start, sizeof story->scenario.start, "%s", start);
    story->compare.rows[0].absence = *absence;
    assert_true(history_absence(line, &story->compare, 0));
    story_free(story);
}

static void left(char line[FIGURE_LINE_SIZE], const struct absence *absence)
{
    left_from(line, absence, "");
}

static const struct absence_limit never = {INFINITY, "EC", "pass its limit"};

static void how_long_it_can_be_left_is_told_with_what_ends_it(void **state)
{
    (void)state;
    char line[FIGURE_LINE_SIZE];
    left(line, &(struct absence){40.2, 47.6, {52, "EC", "pass its limit"}, never});
    assert_string_equal(line, "After its last visit, on day 40, it can be left alone for "
                              "7.4 days; then the water will fall below the roots.");
    left(line, &(struct absence){40.2, 47.6, {44.3, "potassium", "run out"}, never});
    assert_string_equal(line, "After its last visit, on day 40, it can be left alone for "
                              "4.1 days; then potassium will run out. The roots keep "
                              "their water for 7.4 days.");
    left(line, &(struct absence){40.2, INFINITY, {44.3, "EC", "pass its limit"}, never});
    assert_string_equal(line, "After its last visit, on day 40, it can be left alone for "
                              "4.1 days; then EC will pass its limit.");
    left(line, &(struct absence){40.2, INFINITY, never, never});
    assert_string_equal(line, "After its last visit, on day 40, it can be left alone for "
                              "60 days at least.");
    left(line, &(struct absence){40.2, 47.6, never, {41.3, "sodium", "pass its limit"}});
    assert_string_equal(
        line, "After its last visit, on day 40, it can be left alone for "
              "7.4 days; then the water will fall below the roots. Not counted: what is "
              "amiss before the next visit anyway, sodium first.");
}

static void the_last_visit_has_its_date(void **state)
{
    (void)state;
    char line[FIGURE_LINE_SIZE];
    left_from(line, &(struct absence){40.75, INFINITY, never, never}, "2031-03-09");
    assert_string_equal(line, "After its last visit, on day 40 (Fri 2031-04-18), it can "
                              "be left alone for 60 days at least.");
}

static void nothing_to_tell_is_not_told(void **state)
{
    (void)state;
    char line[FIGURE_LINE_SIZE];
    struct story *story = story_tell();
    story->compare.rows[0].absence.visit_d = NAN;
    assert_false(history_absence(line, &story->compare, 0));
    story_free(story);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_life_is_told_in_the_order_of_its_days),
        cmocka_unit_test(nothing_passed_is_said),
        cmocka_unit_test(everything_at_once_still_fits),
        cmocka_unit_test(how_long_it_can_be_left_is_told_with_what_ends_it),
        cmocka_unit_test(the_last_visit_has_its_date),
        cmocka_unit_test(nothing_to_tell_is_not_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
