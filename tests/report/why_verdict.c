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
    scenario.limits.ec_high_ms_cm = 2.4;
    whole = (struct why_interval){.to_d = 90, .ec_from_ms_cm = 1.4, .ec_to_ms_cm = 1.63};
    struct why why = {.scenario = &scenario,
                      .interval_count = 1,
                      .intervals = &whole,
                      .ballast_from_ms_cm = 0.21,
                      .ballast_to_ms_cm = 0.25,
                      .ballast_most = ION_NA,
                      .ahead = {.until_d = 455,
                                .ec_left_d = INFINITY,
                                .ec_high_d = INFINITY,
                                .lost_d = INFINITY}};
    for (int i = 0; i < ION_COUNT; i++) {
        why.ahead.ion_left_d[i] = why.ahead.ion_high_d[i] = why.ahead.gone_d[i] =
            INFINITY;
    }
    return why;
}

static void says(const struct why *why, const char *expected)
{
    char said[WHY_SENTENCE_SIZE];
    why_verdict(said, why);
    if (strstr(said, expected) == NULL) {
        fail_msg("%s", said);
    }
}

static void where_nothing_gathers_nothing_is_renewed(void **state)
{
    (void)state;
    struct why why = quiet();
    says(&why,
         "Of the 1.63 mS/cm now, 0.25 feeds nothing, no more than at the beginning: "
         "no salt is gathering. Going on like this neither EC nor an ion passes an "
         "upper limit in the next 365 days: the solution need not be renewed.");
    whole.tally.renewals = 3;
    says(&why, "the solution need not be renewed more than it is.");
}

static void what_gathers_is_named_with_what_it_comes_from(void **state)
{
    (void)state;
    struct why why = quiet();
    why.ballast_to_ms_cm = 0.8;
    says(&why,
         "Of the 1.63 mS/cm now, 0.80 feeds nothing (0.21 at the beginning), most of "
         "it sodium: salt that stays until it is drained.");
    why.ballast_most = ION_NO3;
    says(&why,
         "most of it nitrate beyond what a fresh filling holds: more is poured than "
         "eaten.");
    why.ballast_most = ION_COUNT;
    says(&why, "most of it carbonate: salt that stays until it is drained.");
}

static void the_first_limit_to_be_passed_is_told_with_its_day(void **state)
{
    (void)state;
    struct why why = quiet();
    why.ahead.ion_left_d[ION_CL] = 171.4;
    why.ahead.ion_left_d[ION_NA] = 138.7;
    why.ahead.ec_left_d = 150;
    says(&why,
         " Going on like this, sodium is above its limit of 6.2 mmol/L even after a "
         "visit from day 138.70 on: renew the solution, or part of it, by then.");
    why.ahead.ec_left_d = 89;
    says(&why, " Even after a visit EC is above its limit of 2.40 mS/cm: renew the "
               "solution, or part of it.");
}

static void what_a_visit_mends_needs_no_renewal(void **state)
{
    (void)state;
    struct why why = quiet();
    why.ahead.ion_high_d[ION_NA] = 97.2;
    says(&why,
         " Between visits sodium passes its limit of 6.2 mmol/L, first on day 97.20, "
         "and each visit mends it: the solution need not be renewed; visit more "
         "often.");
    why.ahead.ion_high_d[ION_NA] = 90;
    says(&why, " of 6.2 mmol/L, as it does now, and each visit mends it");
}

static void food_that_is_gone_is_told_whatever_ec_reads(void **state)
{
    (void)state;
    char said[WHY_SENTENCE_SIZE];
    struct why why = quiet();
    why.ahead.gone_d[ION_K] = why.ahead.gone_d[ION_P] = 90;
    why.ahead.gone_d[ION_CA] = 101.5;
    (void)snprintf(scenario.start, sizeof scenario.start, "2026-09-01");
    says(&why,
         " Run out, whatever EC reads: phosphate, potassium. Going on like this will "
         "run out: calcium on day 101.50 (Fri 2026-12-11).");
    why = quiet();
    why_verdict(said, &why);
    assert_null(strstr(said, "un out"));
}

static void a_lost_plant_is_told(void **state)
{
    (void)state;
    char said[WHY_SENTENCE_SIZE];
    struct why why = quiet();
    why.ahead.lost_d = 120;
    says(&why, " The plant will be lost for want of water on day 120.00");
    why.ahead.until_d = NAN;
    says(&why, " What comes of it cannot be told: the plant is lost.");
    why_verdict(said, &why);
    assert_null(strstr(said, "oing on like this"));
}

static void without_limits_it_says_what_is_missing(void **state)
{
    (void)state;
    struct why why = quiet();
    scenario.limits.high_mmol_l[ION_NA] = scenario.limits.high_mmol_l[ION_CL] = INFINITY;
    scenario.limits.ec_high_ms_cm = INFINITY;
    scenario.display.ec = DISPLAY_PPM500;
    says(&why, "Of the 815 ppm500 now, 125 feeds nothing");
    says(&why, "set limits = { na = \"6 mmol/L\"; }.");
}

static void acid_that_brings_what_gathers_is_named(void **state)
{
    (void)state;
    struct why why = quiet();
    struct strategy strategy = {.adjust = {salt_by_formula("HNO3"), 6.5, 6}};
    why.strategy = &strategy;
    why.ballast_to_ms_cm = 1.9;
    says(&why, "most of it sodium: salt that stays until it is drained. ");
    why.ballast_most = ION_NO3;
    says(&why, ": more is poured than eaten; the nitric acid brings it too. ");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(acid_that_brings_what_gathers_is_named),
        cmocka_unit_test(where_nothing_gathers_nothing_is_renewed),
        cmocka_unit_test(what_gathers_is_named_with_what_it_comes_from),
        cmocka_unit_test(the_first_limit_to_be_passed_is_told_with_its_day),
        cmocka_unit_test(what_a_visit_mends_needs_no_renewal),
        cmocka_unit_test(food_that_is_gone_is_told_whatever_ec_reads),
        cmocka_unit_test(a_lost_plant_is_told),
        cmocka_unit_test(without_limits_it_says_what_is_missing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
