/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <string.h>

#include "../../sim/scenario/nearest.h"

static const char *hint_for(const char *wanted, const char *const known[], size_t count)
{
    static char hint[NEAREST_HINT_SIZE];
    struct nearest nearest = nearest_to(wanted);
    for (size_t i = 0; i < count; i++) {
        nearest_consider(&nearest, known[i]);
    }
    nearest_hint(hint, &nearest);
    return hint;
}

static void the_nearest_word_is_offered(void **state)
{
    (void)state;
    static const char *const known[] = {"duration", "title", "bucket", "na", "ph_high"};
    assert_string_equal(hint_for("duratoin", known, 5), "; did you mean \"duration\"?");
    assert_string_equal(hint_for("tittle", known, 5), "; did you mean \"title\"?");
    assert_string_equal(hint_for("phhigh", known, 5), "; did you mean \"ph_high\"?");
}

static void a_word_whose_part_was_left_out_is_offered(void **state)
{
    (void)state;
    static const char *const known[] = {"fan", "day_temperature", "lamp_on",
                                        "day_humidity", "today"};
    assert_string_equal(hint_for("day", known, 5),
                        "; did you mean \"day_temperature\" or \"day_humidity\"?");
    assert_string_equal(hint_for("humidity", known, 5),
                        "; did you mean \"day_humidity\"?");
    assert_string_equal(hint_for("day_temp", known, 5),
                        "; did you mean \"day_temperature\"?");
    assert_string_equal(hint_for("fun", known, 5), "; did you mean \"fan\"?");
}

static void nothing_is_offered_for_a_strange_word(void **state)
{
    (void)state;
    static const char *const known[] = {"duration", "title", "bucket", "na"};
    assert_string_equal(hint_for("zzzzzz", known, 4), "");
    assert_string_equal(hint_for("x", known, 4), "");
    assert_string_equal(hint_for("", known, 4), "");
}

static void a_very_long_word_is_cut_not_overrun(void **state)
{
    (void)state;
    static char word[5000];
    static char longer[5001];
    memset(word, 't', sizeof word - 1);
    memset(longer, 't', sizeof longer - 1);
    const char *const known[] = {longer, longer};
    assert_true(strlen(hint_for(word, known, 2)) < NEAREST_HINT_SIZE);
    assert_non_null(strstr(hint_for(word, known, 2), " or "));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_nearest_word_is_offered),
        cmocka_unit_test(a_word_whose_part_was_left_out_is_offered),
        cmocka_unit_test(nothing_is_offered_for_a_strange_word),
        cmocka_unit_test(a_very_long_word_is_cut_not_overrun),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
