/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "pailcast/scenario/display.h"

static void each_unit_shows_its_own_number(void **state)
{
    (void)state;
    const struct scenario_display metric = {DISPLAY_LITRE, DISPLAY_CELSIUS,
                                            DISPLAY_MS_CM};
    const struct scenario_display gallons = {DISPLAY_GALLON, DISPLAY_FAHRENHEIT,
                                             DISPLAY_PPM500};
    const struct scenario_display ppm700 = {DISPLAY_LITRE, DISPLAY_CELSIUS,
                                            DISPLAY_PPM700};
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
    assert_string_equal(display_volume_unit(&metric), "L");
    assert_string_equal(display_volume_unit(&gallons), "gal");
    assert_string_equal(display_temperature_unit(&gallons), "degF");
    assert_string_equal(display_ec_unit(&metric), "mS/cm");
    assert_string_equal(display_ec_unit(&gallons), "ppm500");
    assert_string_equal(display_ec_unit(&ppm700), "ppm700");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_unit_shows_its_own_number),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
