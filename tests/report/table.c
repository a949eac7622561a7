/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/program.h"
#include "support/scratch.h"
#include "support/story.h"

#include <stdlib.h>
#include <string.h>

#include "pailcast/report/table.h"

static char *table_of(const struct compare *compare)
{
    struct scratch_text written = {0};
    scratch_open(&written);
    table_write(written.out, compare);
    return scratch_close(&written);
}

static void it_fits_a_hundred_columns(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct compare_row *row = &story->compare.rows[0];
    row->ec_max = 17.83;
    row->life.ledger.salt_poured_g = 8123.4;
    row->life.ledger.visits = 731;
    row->life.ledger.renewals = 24;
    row->nutrient_low = ION_NO3;
    row->nutrient_low_d = 711.3;
    char *text = table_of(&story->compare);
    assert_true(program_widest(text) <= 100);
    assert_true(program_widest(text) > 90);
    free(text);
    story_free(story);
}

static void days_have_their_dates_where_the_scenario_has_a_start(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char *text = table_of(&story->compare);
    assert_non_null(
        strstr(text, "Days are counted from the first fill, on Sun 2031-03-09; - never"));
    free(text);
    story->scenario.start[0] = '\0';
    text = table_of(&story->compare);
    assert_non_null(strstr(text, "Days are counted from the first fill; - never; blank: "
                                 "no limit set.\n"));
    assert_non_null(strstr(text, "up to day 71.3 only"));
    free(text);
    story_free(story);
}

static void each_strategy_has_a_row_and_its_advice_in_full(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char *text = table_of(&story->compare);
    for (size_t i = 0; i < STORY_ROWS; i++) {
        char numbered[TEXT_NAME_SIZE + 8];
        (void)snprintf(numbered, sizeof numbered, "\n%zu %s", i + 1,
                       story->scenario.strategies[i].name);
        assert_non_null(strstr(text, numbered));
    }
    assert_int_equal(scratch_occurs(text, "  > Day 48: drain 7.3 L"), STORY_ROWS);
    assert_int_equal(scratch_occurs(text, "Pour about 5.5 L every third day"),
                     STORY_ROWS);
    assert_int_equal(scratch_occurs(text, "<- recommended"), 1);
    assert_non_null(strstr(text, "up to day 71.3 (Mon 2031-05-19) only"));
    free(text);
    story_free(story);
}

static void the_verdict_stands_last(void **state)
{
    (void)state;
    struct story *story = story_tell();
    (void)snprintf(story->compare.verdict, sizeof story->compare.verdict,
                   "Renew every 23 days.");
    char *text = table_of(&story->compare);
    const char ending[] = "\n\nRenew every 23 days.\n";
    assert_string_equal(text + strlen(text) - strlen(ending), ending);
    free(text);
    story_free(story);
}

static void numbers_stand_in_the_units_asked_for(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct compare_row *row = &story->compare.rows[1];
    struct trajectory *path = &row->life.trajectory;
    row->ec_min = 1.234;
    row->ec_max = 2.346;
    path->samples[path->sample_count - 1].drained_l = 37.85411784; /* 10 US gallons */
    char *metric = table_of(&story->compare);
    assert_non_null(strstr(metric, " 1.23-2.35 "));
    assert_non_null(strstr(metric, "   37.9 "));
    story->scenario.display.volume = DISPLAY_GALLON;
    story->scenario.display.ec = DISPLAY_PPM500;
    char *gallons = table_of(&story->compare);
    assert_non_null(strstr(gallons, "  617-1173 "));
    assert_non_null(strstr(gallons, "   10.0 "));
    assert_non_null(strstr(gallons, "ppm500"));
    assert_non_null(strstr(gallons, " gal "));
    free(metric);
    free(gallons);
    story_free(story);
}

static void long_words_are_neither_lost_nor_cut_in_letters(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char *advice = story->compare.rows[0].advice[0];
    memset(advice, 0, COMPARE_LINE_SIZE);
    for (int i = 0; i < 190; i++) {
        (void)strcat(advice, "é");
    }
    char *text = table_of(&story->compare);
    assert_non_null(strstr(text, advice));
    free(text);
    story_free(story);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_fits_a_hundred_columns),
        cmocka_unit_test(days_have_their_dates_where_the_scenario_has_a_start),
        cmocka_unit_test(each_strategy_has_a_row_and_its_advice_in_full),
        cmocka_unit_test(the_verdict_stands_last),
        cmocka_unit_test(numbers_stand_in_the_units_asked_for),
        cmocka_unit_test(long_words_are_neither_lost_nor_cut_in_letters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
