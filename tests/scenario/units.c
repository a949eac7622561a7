/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <string.h>

#include "../../sim/scenario/units.h"

/* Two roundings apart. */
static const double rounding = 5e-16;

static void what_is_known_by_heart_is_what_the_tables_say(void **state)
{
    (void)state;
    static const struct {
        const char *typed, *to;
        enum units_context context;
    } known[] = {
        {"L", "L", UNITS_PLAIN},      {"mL", "L", UNITS_PLAIN},
        {"gal", "L", UNITS_PLAIN},    {"gallons", "L", UNITS_PLAIN},
        {"qt", "L", UNITS_PLAIN},     {"cups", "L", UNITS_PLAIN},
        {"mS/cm", "mS/cm", UNITS_EC}, {"uS/cm", "mS/cm", UNITS_EC},
        {"dS/m", "mS/cm", UNITS_EC},  {"ms/cm", "mS/cm", UNITS_EC},
        {"cm", "cm", UNITS_PLAIN},    {"g", "g", UNITS_PLAIN},
        {"g/L", "g/L", UNITS_PLAIN},
    };
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        struct units_text text;
        double quick = NAN, slow = NAN;
        assert_true(units_translate(&text, known[i].typed, known[i].context));
        assert_int_equal(units_convert(&quick, 7.385, text.text, known[i].to),
                         UNITS_CONVERTED);
        assert_int_equal(units_convert_by_tables(&slow, 7.385, text.text, known[i].to),
                         UNITS_CONVERTED);
        assert_close(quick, slow, rounding, 0);
    }
}

static void what_is_not_goes_to_the_tables(void **state)
{
    (void)state;
    double value = NAN;
    assert_int_equal(units_convert(&value, 2.5, "m^3", "L"), UNITS_CONVERTED);
    assert_close(value, 2500, 1e-15, 0);
    assert_int_equal(units_convert(&value, 2.5, "L", "cm"), UNITS_DIFFERENT);
    assert_int_equal(units_convert(&value, 2.5, "qqq", "L"), UNITS_UNKNOWN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_known_by_heart_is_what_the_tables_say),
        cmocka_unit_test(what_is_not_goes_to_the_tables),
    };
    return cmocka_run_group_tests_name("units", tests, NULL, NULL);
}
