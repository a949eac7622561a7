/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"
#include "support/story.h"

#include <stdlib.h>
#include <string.h>

#include "../../sim/report/visits_parts.h"

static char *page_of(const struct story *story, size_t row)
{
    struct scratch_text written = {0};
    scratch_open(&written);
    visits_page(written.out, &story->compare, row);
    return scratch_close(&written);
}

/* Leaves row 0 of a story so many visits, the last of them with known numbers. */
static struct story *story_of(size_t visits)
{
    struct story *story = story_tell();
    struct trajectory *path = &story->compare.rows[0].life.trajectory;
    assert_true(path->visit_count >= visits);
    path->visit_count = visits;
    if (visits > 0) {
        path->visits[visits - 1] = (struct visit_record){.day_d = 39.75,
                                                         .ec_before_ms_cm = 2.713,
                                                         .ph_before = 6.78,
                                                         .drained_l = 9.46,
                                                         .water_l = 7.57,
                                                         .stock_l = 3.79,
                                                         .adjust_mmol = 13.7,
                                                         .volume_after_l = 9.31,
                                                         .ec_after_ms_cm = 1.619,
                                                         .ph_after = 5.93};
    }
    return story;
}

static void a_visit_is_a_row_in_the_units_asked_for(void **state)
{
    (void)state;
    struct story *story = story_of(2);
    story->scenario.strategies[0].adjust.with = salt_by_formula("HNO3");
    /* straight walls: 9.31 L stand at 9310 cm3 over pi 12.5^2 cm2, 18.97 cm */
    story->scenario.bucket.bottom_diameter_cm = story->scenario.bucket.top_diameter_cm =
        25;
    char *page = page_of(story, 0);
    assert_non_null(strstr(page, "EC found, mS/cm"));
    assert_non_null(strstr(page, "Pour stock, L"));
    assert_non_null(strstr(page, "Add nitric acid, g"));
    /* 13.7 mmol of 63.012 g/mol; 39 days after Sun 2031-03-09 */
    assert_non_null(strstr(
        page,
        "<td>Thu 2031-04-17</td><td>39.75</td><td>2.71</td><td>6.8</td><td>9.46</td>"
        "<td>7.57</td><td>3.79</td><td>0.86</td><td>19.0</td><td>1.62</td><td>5.9</td></"
        "tr>"));
    assert_non_null(strstr(page, "acid into water, never water into acid"));
    assert_non_null(strstr(page, "Pour first, stir, then add the acid."));
    assert_non_null(strstr(page, "Level after, cm"));
    free(page);
    story->scenario.start[0] = '\0';
    story->scenario.display.volume = DISPLAY_GALLON;
    story->scenario.display.ec = DISPLAY_PPM500;
    story->scenario.display.length = DISPLAY_INCH;
    page = page_of(story, 0);
    assert_null(strstr(page, "Date"));
    assert_non_null(strstr(page, "Level after, inch"));
    assert_non_null(strstr(
        page, "<tr><td>39.75</td><td>1356</td><td>6.8</td><td>2.50</td><td>2.00</td>"
              "<td>1.00</td><td>0.86</td><td>7.5</td><td>810</td><td>5.9</td></tr>"));
    free(page);
    story_free(story);
}

static void what_is_never_done_has_no_column(void **state)
{
    (void)state;
    struct story *story = story_of(3);
    struct trajectory *path = &story->compare.rows[0].life.trajectory;
    for (size_t i = 0; i < path->visit_count; i++) {
        path->visits[i].drained_l = path->visits[i].stock_l = 0;
    }
    char *page = page_of(story, 0);
    assert_non_null(strstr(page, "Pour water"));
    assert_null(strstr(page, "Drain"));
    assert_null(strstr(page, "Pour stock"));
    assert_null(strstr(page, "<td></td>"));
    assert_null(strstr(page, "Goggles"));
    free(page);
    /* and what is done at some visits is blank at the others */
    path->visits[1].stock_l = 0.7;
    page = page_of(story, 0);
    assert_non_null(strstr(page, "Pour stock"));
    assert_int_equal(scratch_occurs(page, "<td></td>"), 2);
    free(page);
    story_free(story);
}

static void a_long_list_is_folded_and_a_short_one_is_not(void **state)
{
    (void)state;
    struct story *story = story_of(12);
    char *page = page_of(story, 0);
    assert_non_null(strstr(page, "<details open><summary>"));
    assert_int_equal(scratch_occurs(page, "<tr>"), 1 + 12);
    free(page);
    story_free(story);
    story = story_of(13);
    page = page_of(story, 0);
    assert_non_null(strstr(page, "<details><summary>What to do at each visit (13)<"));
    assert_int_equal(scratch_occurs(page, "<tr>"), 1 + 13);
    free(page);
    story_free(story);
    story = story_of(0);
    page = page_of(story, 0);
    assert_string_equal(page, "");
    free(page);
    story_free(story);
}

/* A visit an hour for years would make a page that no browser opens. */
static void of_a_list_without_end_the_first_thousand_are_shown(void **state)
{
    enum {
        MANY = 1024
    };
    (void)state;
    struct story *story = story_of(1);
    struct trajectory *path = &story->compare.rows[0].life.trajectory;
    for (size_t i = 1; i < MANY; i++) {
        path->visits[i] = path->visits[0];
    }
    path->visit_count = MANY;
    char *page = page_of(story, 0);
    assert_int_equal(scratch_occurs(page, "<tr>"), 1 + 1000);
    assert_non_null(strstr(page, "These are the first 1000 of 1024 visits."));
    free(page);
    path->visit_count = 1000;
    page = page_of(story, 0);
    assert_int_equal(scratch_occurs(page, "<tr>"), 1 + 1000);
    assert_null(strstr(page, "These are the first"));
    free(page);
    story_free(story);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_visit_is_a_row_in_the_units_asked_for),
        cmocka_unit_test(what_is_never_done_has_no_column),
        cmocka_unit_test(a_long_list_is_folded_and_a_short_one_is_not),
        cmocka_unit_test(of_a_list_without_end_the_first_thousand_are_shown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
