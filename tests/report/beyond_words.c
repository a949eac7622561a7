/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <stdio.h>

#include "../../sim/report/beyond_words.h"

static const struct scenario_display metric = {0};
static struct scenario scenario;

static void a_life_beyond_says_so_in_one_line(void **state)
{
    (void)state;
    char words[BEYOND_WORDS_SIZE];
    struct beyond beyond = {12.34, 71.3, 48.6};
    assert_true(beyond_words_life(words, &beyond, &scenario));
    assert_string_equal(
        words,
        "EC rises to 12.34 mS/cm. Above 10.00 mS/cm, first on day 71, it reads low "
        "here: the figures from then on are an extrapolation. What salt does to "
        "the plant was checked up to 6.00 mS/cm, passed on day 49: its growth and "
        "drinking beyond are an extrapolation.");
    beyond.ec_d = NAN;
    beyond.most_ms_cm = 7.5;
    scenario.display.ec = DISPLAY_PPM500;
    (void)snprintf(scenario.start, sizeof scenario.start, "2026-11-05");
    assert_true(beyond_words_life(words, &beyond, &scenario));
    assert_string_equal(words, "EC rises to 3750 ppm500. What salt does to the plant was "
                               "checked up to 3000 ppm500, passed on day 48 (Wed "
                               "2026-12-23): its growth "
                               "and drinking beyond are an extrapolation.");
    beyond.salt_d = NAN;
    assert_false(beyond_words_life(words, &beyond, &scenario));
    assert_string_equal(words, "");
}

static void a_liquid_beyond_says_so(void **state)
{
    (void)state;
    char words[BEYOND_WORDS_SIZE];
    assert_true(beyond_words_ec(words, 10.01, &metric));
    assert_string_equal(words, "Above 10.00 mS/cm the computed EC reads low, and what "
                               "follows from it is an extrapolation.");
    assert_false(beyond_words_ec(words, 10, &metric));
    assert_string_equal(words, "");
    assert_false(beyond_words_ec(words, NAN, &metric));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_life_beyond_says_so_in_one_line),
        cmocka_unit_test(a_liquid_beyond_says_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
