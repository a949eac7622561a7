/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <string.h>

#include "pailcast/report/why.h"

static struct scenario scenario;
static struct why_interval whole;

/* Ninety days in which nothing gathers, of a scenario that limits sodium and chloride. */
static struct why quiet(void)
{
    scenario_defaults(&scenario);
    scenario.limits.high_mmol_l[ION_NA] = 6.2;
    scenario.limits.high_mmol_l[ION_CL] = 9;
    whole = (struct why_interval){.to_d = 90, .ec_from_ms_cm = 1.4, .ec_to_ms_cm = 1.63};
    whole.tally.drunk_l = 50;
    whole.tally.visits = 30;
    for (int i = 0; i < ION_COUNT; i++) {
        whole.ion[i] = (struct why_ion){.heading = WHY_STEADY, .passes_d = INFINITY};
    }
    return (struct why){.scenario = &scenario,
                        .interval_count = 1,
                        .intervals = &whole,
                        .ballast_from_ms_cm = 0.21,
                        .ballast_to_ms_cm = 0.25};
}

static void says(const struct why *why, const char *expected)
{
    char said[WHY_SENTENCE_SIZE];
    why_verdict(said, why);
    assert_string_equal(said, expected);
}

static void where_nothing_gathers_nothing_is_renewed(void **state)
{
    (void)state;
    struct why why = quiet();
    says(&why,
         "Of the 1.63 mS/cm now, 0.25 feeds nothing, no more than at the beginning: "
         "no salt is gathering. Going on like this no ion comes to its limit: for "
         "salt the solution need not be renewed.");
    whole.tally.renewals = 3;
    says(&why,
         "Of the 1.63 mS/cm now, 0.25 feeds nothing, no more than at the beginning: "
         "no salt is gathering. Going on like this, renewed as it is, no ion comes "
         "to its limit.");
}

static void the_first_limit_to_be_passed_is_told_with_its_days(void **state)
{
    (void)state;
    struct why why = quiet();
    why.ballast_to_ms_cm = 0.8;
    whole.ion[ION_CL].passes_d = 71.4;
    whole.ion[ION_NA].passes_d = 38.7;
    says(&why,
         "Of the 1.63 mS/cm now, 0.80 feeds nothing, 0.21 at the beginning: salt that "
         "stays until it is drained. Going on like this, sodium passes its limit of 6.2 "
         "mmol/L in about 39 days: renew the solution, or part of it, by then.");
    whole.ion[ION_CL].passes_d = 0;
    says(&why,
         "Of the 1.63 mS/cm now, 0.80 feeds nothing, 0.21 at the beginning: salt that "
         "stays until it is drained. Now chloride stands above its limit of 9 mmol/L: "
         "renew the solution, or part of it.");
}

static void what_the_last_visit_found_above_its_limit_is_told(void **state)
{
    (void)state;
    char said[WHY_SENTENCE_SIZE];
    struct why why = quiet();
    whole.ion[ION_NA].passes_d = 0;
    whole.ion[ION_NA].last_mmol_l = 2.4;
    whole.ion[ION_NA].found_mmol_l = 15.3;
    why_verdict(said, &why);
    assert_non_null(strstr(said,
                           " The last visit found sodium above its limit of 6.2 "
                           "mmol/L: visit more often, or renew the solution sooner."));
    whole.ion[ION_NA].last_mmol_l = 6.3;
    why_verdict(said, &why);
    assert_non_null(strstr(said, " Now sodium stands above its limit of 6.2 mmol/L"));
}

/* Without a pour there is no make-up to go on with. */
static void a_time_without_a_visit_does_not_tell_what_comes_of_it(void **state)
{
    (void)state;
    char said[WHY_SENTENCE_SIZE];
    struct why why = quiet();
    whole.tally.visits = 0;
    for (int days = 0; days < 2; days++) {
        why_verdict(said, &why);
        assert_non_null(strstr(said, " Nobody visited in this time, so it does not tell "
                                     "whether salt will be too much."));
        assert_null(strstr(said, "oing on like this"));
        whole.ion[ION_NA].passes_d = 38.7;
    }
    whole.ion[ION_NA].passes_d = 0;
    whole.ion[ION_NA].last_mmol_l = 6.3;
    why_verdict(said, &why);
    assert_non_null(strstr(said, " Now sodium stands above its limit of 6.2 mmol/L"));
}

static void food_that_is_gone_is_told_whatever_ec_reads(void **state)
{
    (void)state;
    char said[WHY_SENTENCE_SIZE];
    struct why why = quiet();
    whole.ion[ION_K].heading = whole.ion[ION_P].heading = WHY_GONE;
    whole.ion[ION_CA].heading = WHY_RUNS_OUT;
    whole.ion[ION_NA].heading = WHY_GONE;
    why_verdict(said, &why);
    assert_non_null(strstr(said, " Run out, whatever EC reads: phosphate, potassium. On "
                                 "the way to running out: calcium."));
    assert_null(strstr(said, "sodium"));
    whole.tally.drunk_l = 0; /* nobody is hungry */
    why_verdict(said, &why);
    assert_null(strstr(said, "potassium"));
}

static void without_limits_it_says_what_is_missing(void **state)
{
    (void)state;
    char said[WHY_SENTENCE_SIZE];
    struct why why = quiet();
    scenario.limits.high_mmol_l[ION_NA] = scenario.limits.high_mmol_l[ION_CL] = INFINITY;
    scenario.display.ec = DISPLAY_PPM500;
    why_verdict(said, &why);
    assert_non_null(strstr(said, "Of the 815 ppm500 now, 125 feeds nothing"));
    assert_non_null(strstr(said, "set limits = { na = \"6 mmol/L\"; }."));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(where_nothing_gathers_nothing_is_renewed),
        cmocka_unit_test(the_first_limit_to_be_passed_is_told_with_its_days),
        cmocka_unit_test(what_the_last_visit_found_above_its_limit_is_told),
        cmocka_unit_test(a_time_without_a_visit_does_not_tell_what_comes_of_it),
        cmocka_unit_test(food_that_is_gone_is_told_whatever_ec_reads),
        cmocka_unit_test(without_limits_it_says_what_is_missing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
