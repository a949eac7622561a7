/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <stdio.h>

#include "pailcast/scenario/display.h"

static void each_unit_shows_its_own_number(void **state)
{
    (void)state;
    const struct scenario_display metric = {DISPLAY_LITRE, DISPLAY_CELSIUS, DISPLAY_MS_CM,
                                            DISPLAY_CM};
    const struct scenario_display gallons = {DISPLAY_GALLON, DISPLAY_FAHRENHEIT,
                                             DISPLAY_PPM500, DISPLAY_CM};
    const struct scenario_display inches = {.length = DISPLAY_INCH};
    const struct scenario_display ppm700 = {DISPLAY_LITRE, DISPLAY_CELSIUS,
                                            DISPLAY_PPM700, DISPLAY_CM};
    assert_close(display_volume(&metric, 17.3), 17.3, 0, 0);
    /* 231 cubic inches of exactly 2.54 cm */
    assert_close(display_volume(&gallons, 17.3), 17300 / (231 * 2.54 * 2.54 * 2.54),
                 1e-14, 0);
    assert_close(display_temperature(&metric, 23.5), 23.5, 0, 0);
    assert_close(display_temperature(&gallons, 23.5), 74.3, 1e-14, 0);
    assert_close(display_temperature(&gallons, -40), -40, 1e-14, 0);
    assert_close(display_ec(&metric, 1.87), 1.87, 0, 0);
    assert_close(display_ec(&gallons, 1.87), 935, 1e-14, 0);
    assert_close(display_ec(&ppm700, 1.87), 1309, 1e-14, 0);
    assert_close(display_length(&metric, 31.7), 31.7, 0, 0);
    assert_close(display_length(&inches, 31.75), 12.5, 1e-14, 0);
    assert_string_equal(display_length_unit(&metric), "cm");
    assert_string_equal(display_length_unit(&inches), "inch");
    assert_string_equal(display_volume_unit(&metric), "L");
    assert_string_equal(display_volume_unit(&gallons), "gal");
    assert_string_equal(display_temperature_unit(&gallons), "degF");
    assert_string_equal(display_ec_unit(&metric), "mS/cm");
    assert_string_equal(display_ec_unit(&gallons), "ppm500");
    assert_string_equal(display_ec_unit(&ppm700), "ppm700");
}

/* 30 mL are 0.0079252 gal. */
static void little_is_told_with_two_digits(void **state)
{
    (void)state;
    const struct scenario_display metric = {0};
    const struct scenario_display gallons = {.volume = DISPLAY_GALLON};
    assert_string_equal(display_volume_text(&gallons, 0.03).text, "0.0079 gal");
    assert_string_equal(display_volume_text(&metric, 0.03).text, "0.03 L");
    assert_string_equal(display_volume_text(&metric, 0.994).text, "0.99 L");
    assert_string_equal(display_volume_text(&metric, 7.35).text, "7.3 L");
    assert_string_equal(display_volume_text(&metric, 0.00012).text, "0.00 L");
    assert_string_equal(display_volume_text(&metric, 0).text, "0.00 L");
}

static void limits_are_told_with_four_digits_and_ranges_in_both_units(void **state)
{
    (void)state;
    const struct scenario_display metric = {0};
    const struct scenario_display american = {.volume = DISPLAY_GALLON,
                                              .length = DISPLAY_INCH};
    char range[QUANTITY_RANGE_SIZE];
    assert_string_equal(display_volume_fine(&american, 18.93).text, "5.001 gal");
    assert_string_equal(display_volume_fine(&metric, 12345).text, "12345 L");
    assert_string_equal(display_length_fine(&american, 36.94).text, "14.54 inch");
    display_range(range, 0.1, 1000, QUANTITY_VOLUME, &american);
    assert_string_equal(range, "0.02642 gal to 264.2 gal (0.1 L to 1000 L)");
    display_range(range, 1, 300, QUANTITY_LENGTH, &american);
    assert_string_equal(range, "0.3937 inch to 118.1 inch (1 cm to 300 cm)");
    display_range(range, 1, 300, QUANTITY_LENGTH, &metric);
    assert_string_equal(range, "1 cm to 300 cm");
    display_range(range, 0, 40, QUANTITY_TEMPERATURE, &american);
    assert_string_equal(range, "0 degC to 40 degC");
}

static void a_day_is_told_with_its_date(void **state)
{
    (void)state;
    static struct scenario scenario;
    assert_string_equal(display_day_text(&scenario, 63.75, 2).text, "63.75");
    assert_string_equal(display_day_text(&scenario, 63.75, 0).text, "64");
    assert_string_equal(display_date_text(&scenario, 63.75).text, "");
    assert_string_equal(display_date_of(&scenario, 63.75).iso, "");
    assert_string_equal(display_date_of(&scenario, 63.75).weekday, "");
    /* A leap year. 2028-02-29 is a Tuesday: 2000-01-01 was a Saturday, 10286 days before.
     */
    (void)snprintf(scenario.start, sizeof scenario.start, "2028-02-27");
    assert_string_equal(display_day_text(&scenario, 2.75, 2).text,
                        "2.75 (Tue 2028-02-29)");
    assert_string_equal(display_day_text(&scenario, 3, 2).text, "3.00 (Wed 2028-03-01)");
    assert_string_equal(display_day_text(&scenario, 308, 2).text,
                        "308.00 (Sun 2028-12-31)");
    assert_string_equal(display_date_text(&scenario, 3.7).text, " (Wed 2028-03-01)");
    assert_string_equal(display_date_of(&scenario, 3.7).iso, "2028-03-01");
    assert_string_equal(display_date_of(&scenario, 3.7).weekday, "Wed");
}

/* Rounded up it would be told with the number of one day and the date of another. */
static void a_day_with_its_date_stays_that_day(void **state)
{
    (void)state;
    static struct scenario scenario = {.start = "2028-02-27"};
    assert_string_equal(display_day_text(&scenario, 2.999, 2).text,
                        "2.99 (Tue 2028-02-29)");
    assert_string_equal(display_day_text(&scenario, 2.96, 1).text,
                        "2.9 (Tue 2028-02-29)");
    assert_string_equal(display_day_text(&scenario, 2.84, 1).text,
                        "2.8 (Tue 2028-02-29)");
    assert_string_equal(display_day_text(&scenario, 2.75, 0).text, "2 (Tue 2028-02-29)");
    /* 0.29 d a hundred times is day 29, short of it by rounding alone */
    assert_true(0.29 * 100 < 29);
    assert_string_equal(display_day_text(&scenario, 0.29 * 100, 0).text,
                        "29 (Mon 2028-03-27)");
}

static void what_never_happens_has_no_date(void **state)
{
    (void)state;
    static struct scenario scenario = {.start = "2028-02-27"};
    assert_string_equal(display_date_text(&scenario, NAN).text, "");
    assert_string_equal(display_date_text(&scenario, INFINITY).text, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_day_is_told_with_its_date),
        cmocka_unit_test(a_day_with_its_date_stays_that_day),
        cmocka_unit_test(what_never_happens_has_no_date),
        cmocka_unit_test(little_is_told_with_two_digits),
        cmocka_unit_test(limits_are_told_with_four_digits_and_ranges_in_both_units),
        cmocka_unit_test(each_unit_shows_its_own_number),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
