/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <string.h>

#include "pailcast/report/why.h"

static const struct scenario_display metric;

static struct why_interval nine_litres(void)
{
    struct why_interval interval = {.to_d = 9,
                                    .ec_from_ms_cm = 1.9,
                                    .ec_to_ms_cm = 2.7,
                                    .ec_before_ms_cm = NAN,
                                    .eaten_share = 0.412};
    interval.tally.drunk_l = 9.03;
    interval.tally.part[WHY_DRINKING] = 1.31;
    interval.tally.part[WHY_EATING] = -0.51;
    return interval;
}

static void says(const struct why_interval *interval,
                 const struct scenario_display *display, const char *expected)
{
    static struct scenario scenario;
    char said[WHY_SENTENCE_SIZE];
    scenario.display = *display;
    why_sentence(said, interval, &scenario);
    assert_string_equal(said, expected);
}

static void a_rise_is_told_so_that_it_can_be_repeated(void **state)
{
    (void)state;
    struct why_interval interval = nine_litres();
    says(&interval, &metric,
         "From day 0 to day 9 the plant drank 9.0 L and ate only 41 % of the salt in "
         "them, so EC rose by 0.80 mS/cm. In all, EC went from 1.90 to 2.70 mS/cm.");
    interval.eaten_share = 0.93;
    interval.from_d = 3.75;
    says(&interval, &metric,
         "From day 3.75 to day 9 the plant drank 9.0 L and ate 93 % of the salt in "
         "them, so EC rose by 0.80 mS/cm. In all, EC went from 1.90 to 2.70 mS/cm.");
}

/* Summed over many visits it may exceed any EC that was ever read. */
static void a_sum_beyond_any_reading_is_no_rise(void **state)
{
    (void)state;
    struct why_interval interval = nine_litres();
    interval.tally.part[WHY_DRINKING] = 31.7;
    says(
        &interval, &metric,
        "From day 0 to day 9 the plant drank 9.0 L and ate only 41 % of the salt in "
        "them; that alone would have raised EC by 31.19 mS/cm. In all, EC went from 1.90 "
        "to 2.70 mS/cm.");
}

static void days_have_their_dates_where_the_scenario_has_a_start(void **state)
{
    (void)state;
    static struct scenario scenario = {.start = "2027-12-30"};
    struct why_interval interval = nine_litres();
    char said[WHY_SENTENCE_SIZE];
    interval.from_d = 1.75;
    why_sentence(said, &interval, &scenario);
    assert_string_equal(
        said, "From day 1.75 (Fri 2027-12-31) to day 9 (Sat 2028-01-08) the plant drank "
              "9.0 L and ate only 41 % of the salt in them, so EC rose by 0.80 mS/cm. In "
              "all, EC went from 1.90 to 2.70 mS/cm.");
}

static void every_cause_that_a_pen_can_see_has_its_sentence(void **state)
{
    (void)state;
    struct why_interval interval = nine_litres();
    interval.ec_to_ms_cm = 1.56;
    interval.tally.evaporated_l = 0.31;
    interval.tally.part[WHY_EVAPORATION] = 0.04;
    interval.tally.water_l = 6.2;
    interval.tally.part[WHY_WATER] = -1.41;
    interval.tally.stock_l = 3.3;
    interval.tally.part[WHY_STOCK] = 0.32;
    interval.tally.renewals = 2;
    interval.tally.part[WHY_RENEWAL] = -0.11;
    interval.tally.part[WHY_OTHER] = 0.02;
    says(
        &interval, &metric,
        "From day 0 to day 9 the plant drank 9.0 L and ate only 41 % of the salt in "
        "them, so EC rose by 0.80 mS/cm. Evaporation of 0.31 L added 0.04 mS/cm. Pouring "
        "6.2 L of water took off 1.41 mS/cm. Pouring 3.3 L of stock added 0.32 mS/cm. 2 "
        "renewals took off 0.11 mS/cm. Changed acidity added 0.02 mS/cm. In all, EC went "
        "from 1.90 to 1.56 mS/cm.");
    interval = nine_litres();
    interval.tally.part[WHY_OTHER] = 0.0049;
    interval.tally.renewals = 1;
    interval.tally.part[WHY_RENEWAL] = 0.2;
    says(&interval, &metric,
         "From day 0 to day 9 the plant drank 9.0 L and ate only 41 % of the salt in "
         "them, so EC rose by 0.80 mS/cm. 1 renewal added 0.20 mS/cm. In all, EC went "
         "from 1.90 to 2.70 mS/cm.");
}

static void salt_by_mass_and_by_current_may_part(void **state)
{
    (void)state;
    struct why_interval interval = nine_litres();
    interval.eaten_share = 0.97;
    interval.tally.part[WHY_EATING] = -1.35;
    interval.ec_to_ms_cm = 1.86;
    says(
        &interval, &metric,
        "From day 0 to day 9 the plant drank 9.0 L and ate 97 % of the salt in them; yet "
        "EC fell by 0.04 mS/cm. In all, EC went from 1.90 to 1.86 mS/cm.");
    interval.eaten_share = 1.37;
    says(&interval, &metric,
         "From day 0 to day 9 the plant drank 9.0 L and ate more salt than was in them "
         "(137 %), so EC fell by 0.04 mS/cm. In all, EC went from 1.90 to 1.86 mS/cm.");
    interval.tally.part[WHY_EATING] = -1.312;
    interval.eaten_share = 1.001;
    says(&interval, &metric,
         "From day 0 to day 9 the plant drank 9.0 L and ate 100 % of the salt in them, "
         "so EC stayed where it was. In all, EC went from 1.90 to 1.86 mS/cm.");
}

static void gallons_and_ppm_are_told_as_asked(void **state)
{
    (void)state;
    const struct scenario_display american = {.volume = DISPLAY_GALLON,
                                              .ec = DISPLAY_PPM500};
    const struct why_interval interval = nine_litres();
    says(&interval, &american,
         "From day 0 to day 9 the plant drank 2.4 gal and ate only 41 % of the salt in "
         "them, so EC rose by 400 ppm500. In all, EC went from 950 to 1350 ppm500.");
}

static void where_nothing_drinks_nothing_is_eaten(void **state)
{
    (void)state;
    struct why_interval interval = {.from_d = 2, .to_d = 30.5, .eaten_share = NAN};
    interval.ec_from_ms_cm = 0.9;
    interval.ec_to_ms_cm = 1.1;
    interval.tally.evaporated_l = 3.4;
    interval.tally.part[WHY_EVAPORATION] = 0.2;
    says(&interval, &metric,
         "From day 2 to day 30.5 nothing was drunk. Evaporation of 3.4 L added 0.20 "
         "mS/cm. In all, EC went from 0.90 to 1.10 mS/cm.");
    /* Water without any salt. */
    interval = nine_litres();
    interval.eaten_share = NAN;
    interval.tally.part[WHY_DRINKING] = interval.tally.part[WHY_EATING] = 0;
    says(&interval, &metric,
         "From day 0 to day 9 the plant drank 9.0 L, so EC stayed where it was. In all, "
         "EC "
         "went from 1.90 to 2.70 mS/cm.");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rise_is_told_so_that_it_can_be_repeated),
        cmocka_unit_test(a_sum_beyond_any_reading_is_no_rise),
        cmocka_unit_test(days_have_their_dates_where_the_scenario_has_a_start),
        cmocka_unit_test(every_cause_that_a_pen_can_see_has_its_sentence),
        cmocka_unit_test(salt_by_mass_and_by_current_may_part),
        cmocka_unit_test(gallons_and_ppm_are_told_as_asked),
        cmocka_unit_test(where_nothing_drinks_nothing_is_eaten),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
