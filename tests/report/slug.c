/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/story.h"

#include <stdio.h>
#include <string.h>

#include "pailcast/report/slug.h"

static void names_of(struct story *story, const char *first, const char *second,
                     const char *third)
{
    const char *const names[] = {first, second, third};
    for (size_t i = 0; i < STORY_ROWS; i++) {
        (void)snprintf(story->scenario.strategies[i].name, TEXT_NAME_SIZE, "%s",
                       names[i]);
    }
}

static void check(struct story *story, size_t row, const char *expected)
{
    char slug[SLUG_SIZE];
    slug_of_row(slug, &story->compare, row);
    assert_string_equal(slug, expected);
}

static void like_names_get_unlike_files(void **state)
{
    (void)state;
    struct story *story = story_tell();
    names_of(story, "Half stock!", "half STOCK", "Half-stock-2");
    check(story, 0, "half-stock");
    check(story, 1, "half-stock-2");
    check(story, 2, "half-stock-2-2");
    names_of(story, "水", "土", "Renew monthly");
    check(story, 0, "strategy");
    check(story, 1, "strategy-2");
    check(story, 2, "renew-monthly");
    story_free(story);
}

static void no_strategy_takes_the_stem_of_the_overall_plots(void **state)
{
    (void)state;
    struct story *story = story_tell();
    names_of(story, "Compare", "compare", "comparer");
    check(story, 0, "compare-2");
    check(story, 1, "compare-3");
    check(story, 2, "comparer");
    story_free(story);
}

/* "pour-visits.csv" is the list of visits of one, or the samples of the other. */
static void no_list_of_visits_takes_the_file_of_a_strategy(void **state)
{
    (void)state;
    struct story *story = story_tell();
    names_of(story, "Pour", "Pour, visits", "Pour visits 2");
    check(story, 0, "pour");
    check(story, 1, "pour-visits-2");
    check(story, 2, "pour-visits-2-2");
    names_of(story, "Pour visits", "Pour", "Pour!");
    check(story, 0, "pour-visits");
    check(story, 1, "pour-2");
    check(story, 2, "pour-3");
    names_of(story, "Many visits", "Pour", "Pours");
    check(story, 0, "many-visits");
    check(story, 1, "pour");
    check(story, 2, "pours");
    story_free(story);
}

static void the_longest_name_still_fits(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char name[TEXT_NAME_SIZE];
    memset(name, 'x', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    names_of(story, name, name, name);
    char first[SLUG_SIZE];
    char third[SLUG_SIZE];
    slug_of_row(first, &story->compare, 0);
    slug_of_row(third, &story->compare, 2);
    assert_int_equal(strlen(first), 60);
    assert_int_equal(strlen(third), 62);
    assert_string_equal(third + 60, "-3");
    story_free(story);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(like_names_get_unlike_files),
        cmocka_unit_test(no_strategy_takes_the_stem_of_the_overall_plots),
        cmocka_unit_test(no_list_of_visits_takes_the_file_of_a_strategy),
        cmocka_unit_test(the_longest_name_still_fits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
