/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "../../sim/report/fit_sentence.h"

static struct scenario scenario;
static struct life_moment stand[FIT_LIVES];

/* A forecast in which no roots lose their water. */
static struct fit wet(void)
{
    scenario_defaults(&scenario);
    scenario.crop = crop_defaults(CROP_GROWN);
    stand[0].plant_lost = false;
    return (struct fit){.scenario = &scenario,
                        .moment_count = 1,
                        .stand = stand,
                        .safe_until_d = INFINITY,
                        .first_limit = {INFINITY, "sodium", "pass its limit"}};
}

static void roots_that_keep_their_water_can_be_left(void **state)
{
    (void)state;
    char said[FIT_SENTENCE_SIZE];
    struct fit fit = wet();
    fit_sentence_safe(said, &fit);
    assert_non_null(strstr(said, "keep their water for 60 days at least"));
    fit.safe_until_d = 17.25;
    fit_sentence_safe(said, &fit);
    assert_non_null(strstr(said, "keep their water until day 17.25,"));
}

static void a_limit_that_is_passed_sooner_is_named(void **state)
{
    (void)state;
    char said[FIT_SENTENCE_SIZE];
    struct fit fit = wet();
    fit.safe_until_d = 17.25;
    fit.first_limit.day_d = 18.75;
    fit_sentence_safe(said, &fit);
    assert_null(strstr(said, "limit"));
    fit.first_limit.day_d = 14.5;
    fit_sentence_safe(said, &fit);
    assert_non_null(strstr(said, "From day 14.50 on sodium may pass its limit."));
}

/* nitric acid: 63.012 g/mol */
static void acid_is_told_in_grams_however_many(void **state)
{
    (void)state;
    static const double mmol[] = {7.3, 35.2, 2207.4};
    static const char *const grams[] = {"0.46 g", "2.2 g", "139 g"};
    const struct strategy strategy = {.adjust.with = salt_by_formula("HNO3")};
    const struct scenario_display litres = {0};
    for (int i = 0; i < 3; i++) {
        const struct visit_record visit = {
            .water_l = 1.24, .adjust_mmol = mmol[i], .strategy = &strategy};
        char said[FIT_SENTENCE_SIZE];
        char expected[FIT_SENTENCE_SIZE];
        (void)snprintf(expected, sizeof expected,
                       "pour 1.2 L of water, then add %s of pure nitric acid", grams[i]);
        fit_sentence_visit(said, &visit, &litres);
        assert_string_equal(said, expected);
    }
}

static void a_bucket_without_a_plant_has_no_roots(void **state)
{
    (void)state;
    char said[FIT_SENTENCE_SIZE];
    const struct fit fit = wet();
    scenario.crop = crop_defaults(CROP_NONE);
    fit_sentence_safe(said, &fit);
    assert_string_equal(said, "");
}

static void a_plant_that_is_lost_is_not_left_but_told(void **state)
{
    (void)state;
    char said[FIT_SENTENCE_SIZE];
    const struct fit fit = wet();
    stand[0].plant_lost = true;
    fit_sentence_safe(said, &fit);
    assert_null(strstr(said, "Without a visit"));
    assert_non_null(strstr(said, "the plant of the scenario is lost"));
}

static void all_that_goes_wrong_is_told_and_what_is_rare_is_not(void **state)
{
    (void)state;
    char said[FIT_SENTENCE_SIZE];
    struct fit_choice choice = {.scarce = ION_COUNT, .excess = ION_COUNT};
    fit_sentence_risk(said, &choice);
    assert_string_equal(said, "nothing");
    choice = (struct fit_choice){.scarce = ION_K,
                                 .scarce_chance = 0.31,
                                 .ec_high_chance = 0.2,
                                 .ec_low_chance = 0.4,
                                 .ph_high_chance = 1,
                                 .excess = ION_NA,
                                 .excess_chance = 0.07};
    fit_sentence_risk(said, &choice);
    assert_string_equal(said,
                        "potassium runs out in 31 %; EC under its limit in 40 %; pH "
                        "over its limit in 100 %; sodium over its limit in 7 %");
    choice.excess_chance = choice.scarce_chance = choice.ec_low_chance = 0.04;
    choice.ec_high_chance = 0.05;
    fit_sentence_risk(said, &choice);
    assert_string_equal(said, "pH over its limit in 100 %");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_that_goes_wrong_is_told_and_what_is_rare_is_not),
        cmocka_unit_test(roots_that_keep_their_water_can_be_left),
        cmocka_unit_test(a_limit_that_is_passed_sooner_is_named),
        cmocka_unit_test(acid_is_told_in_grams_however_many),
        cmocka_unit_test(a_bucket_without_a_plant_has_no_roots),
        cmocka_unit_test(a_plant_that_is_lost_is_not_left_but_told),
    };
    return cmocka_run_group_tests_name("fit sentence", tests, NULL, NULL);
}
