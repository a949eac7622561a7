/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <string.h>

#include "pailcast/scenario/quantity.h"

static const double exact = 1e-14;

static double parsed(const char *text, enum quantity quantity,
                     const struct quantity_aid *aid)
{
    struct error error = {0};
    double value = NAN;
    if (quantity_parse(&value, text, quantity, aid, &error) != STATUS_OK) {
        print_error("%s\n", error.text);
        fail();
    }
    return value;
}

/* Refused with one line that holds `part`; the value is left alone. */
static void refused(const char *text, enum quantity quantity,
                    const struct quantity_aid *aid, const char *part)
{
    struct error error = {0};
    double value = 7.25;
    if (quantity_parse(&value, text, quantity, aid, &error) != STATUS_INPUT) {
        print_error("\"%s\" was taken as %g\n", text, value);
        fail();
    }
    assert_close(value, 7.25, 0, 0);
    assert_int_equal(error.count, 1);
    if (strstr(error.text, part) == NULL || strstr(error.text, "accepted") == NULL) {
        print_error("\"%s\" lacks \"%s\"\n", error.text, part);
        fail();
    }
}

/* 231 cubic inches of exactly 2.54 cm (NIST Handbook 44, appendix C). */
static const double gallon_l = 3.785411784;

static void us_kitchen_measures_are_parts_of_231_cubic_inches(void **state)
{
    (void)state;
    assert_close(parsed("5 gal", QUANTITY_VOLUME, NULL), 5 * gallon_l, exact, 0);
    assert_close(parsed("2.5Gallons", QUANTITY_VOLUME, NULL), 2.5 * gallon_l, exact, 0);
    assert_close(parsed("6 qt", QUANTITY_VOLUME, NULL), 1.5 * gallon_l, exact, 0);
    assert_close(parsed("3 cup", QUANTITY_VOLUME, NULL), 3 * gallon_l / 16, exact, 0);
    assert_close(parsed("7 fl oz", QUANTITY_VOLUME, NULL), 7 * gallon_l / 128, exact, 0);
    assert_close(parsed("3 tbsp", QUANTITY_VOLUME, NULL), 3 * gallon_l / 256, exact, 0);
    assert_close(parsed("2 tsp", QUANTITY_VOLUME, NULL), 2 * gallon_l / 768, exact, 0);
    assert_close(parsed("1/2 tsp", QUANTITY_VOLUME, NULL), gallon_l / 1536, exact, 0);
    assert_close(parsed("1 1/2 gal", QUANTITY_VOLUME, NULL), 1.5 * gallon_l, exact, 0);
    assert_close(parsed("1 1/2 gal/d", QUANTITY_FLOW, NULL), 1.5 * gallon_l, exact, 0);
    assert_close(parsed(" 19 L ", QUANTITY_VOLUME, NULL), 19, exact, 0);
    assert_close(parsed("0.0185 m3", QUANTITY_VOLUME, NULL), 18.5, exact, 0);
}

static void temperatures_have_their_own_zero(void **state)
{
    (void)state;
    assert_close(parsed("78 degF", QUANTITY_TEMPERATURE, NULL), (78. - 32) / 1.8, 1e-13,
                 0);
    assert_close(parsed("78F", QUANTITY_TEMPERATURE, NULL), (78. - 32) / 1.8, 1e-13, 0);
    assert_close(parsed("78 \xc2\xb0"
                        "F",
                        QUANTITY_TEMPERATURE, NULL),
                 (78. - 32) / 1.8, 1e-13, 0);
    assert_close(parsed("23.4 C", QUANTITY_TEMPERATURE, NULL), 23.4, 1e-13, 0);
    assert_close(parsed("295.65 K", QUANTITY_TEMPERATURE, NULL), 22.5, 1e-13, 0);
    assert_close(parsed("-4.5 degC", QUANTITY_TEMPERATURE, NULL), -4.5, 1e-13, 0);
}

static void thermal_time_is_a_difference(void **state)
{
    (void)state;
    assert_close(parsed("512 degC d", QUANTITY_THERMAL_TIME, NULL), 512, exact, 0);
    assert_close(parsed("900 degF d", QUANTITY_THERMAL_TIME, NULL), 500, exact, 0);
    assert_close(parsed("0 degC d", QUANTITY_THERMAL_TIME, NULL), 0, 0, 0);
}

static void pens_read_in_four_scales(void **state)
{
    (void)state;
    assert_close(parsed("1.9 mS/cm", QUANTITY_EC, NULL), 1.9, exact, 0);
    assert_close(parsed("1870 uS/cm", QUANTITY_EC, NULL), 1.87, exact, 0);
    assert_close(parsed("1870 \xc2\xb5S/cm", QUANTITY_EC, NULL), 1.87, exact, 0);
    assert_close(parsed("1870 us/cm", QUANTITY_EC, NULL), 1.87, exact, 0);
    assert_close(parsed("2.35 dS/m", QUANTITY_EC, NULL), 2.35, exact, 0);
    assert_close(parsed("2.35 EC", QUANTITY_EC, NULL), 2.35, exact, 0);
    assert_close(parsed("950 ppm500", QUANTITY_EC, NULL), 1.9, exact, 0);
    assert_close(parsed("1330 ppm700", QUANTITY_EC, NULL), 1.9, exact, 0);
    refused("950 ppm", QUANTITY_EC, NULL, "which ppm scale");
}

static void an_ion_is_counted_by_amount_charge_or_mass(void **state)
{
    (void)state;
    /* IUPAC 2021 abridged: Ca 40.078; NO3 62.004 g/mol */
    const struct quantity_aid ca = {.molar_mass = 40.078, .charge = 2};
    const struct quantity_aid no3 = {.molar_mass = 62.004, .charge = -1};
    assert_close(parsed("3.7 mmol/L", QUANTITY_ION, &ca), 3.7, exact, 0);
    assert_close(parsed("3.7 mM", QUANTITY_ION, &ca), 3.7, exact, 0);
    assert_close(parsed("3.7 mol/m3", QUANTITY_ION, &ca), 3.7, exact, 0);
    assert_close(parsed("7.4 meq/L", QUANTITY_ION, &ca), 3.7, exact, 0);
    assert_close(parsed("7.4 mEq/L", QUANTITY_ION, &ca), 3.7, exact, 0);
    assert_close(parsed("160.312 mg/L", QUANTITY_ION, &ca), 4, exact, 0);
    assert_close(parsed("160.312 ppm", QUANTITY_ION, &ca), 4, exact, 0);
    assert_close(parsed("0.434028 g/L", QUANTITY_ION, &no3), 7, exact, 0);
    assert_close(parsed("5.5 meq/L", QUANTITY_ION, &no3), 5.5, exact, 0);
    refused("5.5 meq/L", QUANTITY_ION, NULL, "counts charge");
    refused("98 mg/L N", QUANTITY_ION, &no3, "is not a concentration");
}

static void alkalinity_in_mg_is_calcium_carbonate(void **state)
{
    (void)state;
    /* half of CaCO3's 100.086 g/mol */
    assert_close(parsed("100.086 mg/L", QUANTITY_ALKALINITY, NULL), 2, exact, 0);
    assert_close(parsed("100.086 ppm as CaCO3", QUANTITY_ALKALINITY, NULL), 2, exact, 0);
    assert_close(parsed("1.2 meq/L", QUANTITY_ALKALINITY, NULL), 1.2, exact, 0);
    assert_close(parsed("-1.2 mmol/L", QUANTITY_ALKALINITY, NULL), -1.2, exact, 0);
}

static void doses_come_by_mass_amount_or_spoon(void **state)
{
    (void)state;
    const struct quantity_aid aid = {.molar_mass = 101.102, .g_ml = 1.15};
    assert_close(parsed("5 g/gal", QUANTITY_DOSE, NULL), 5 / gallon_l, exact, 0);
    assert_close(parsed("0.35 oz/gal", QUANTITY_DOSE, NULL),
                 0.35 * 28.349523125 / gallon_l, exact, 0);
    assert_close(parsed("0.55 g/L", QUANTITY_DOSE, NULL), 0.55, exact, 0);
    assert_close(parsed("3 mmol/L", QUANTITY_DOSE, &aid), 0.303306, exact, 0);
    /* two of 768 spoons to the gallon, 1.15 g/mL */
    assert_close(parsed("2 tsp/gal", QUANTITY_DOSE, &aid), 1150. * 2 / 768, exact, 0);
    assert_close(parsed("4 mL/L", QUANTITY_DOSE, &aid), 4.6, exact, 0);
    refused("2 tsp/gal", QUANTITY_DOSE, NULL, "needs a density");
    refused("0.2 %", QUANTITY_DOSE, &aid, "is not a dose");
}

static void times_shares_and_the_rest(void **state)
{
    (void)state;
    assert_close(parsed("14 h", QUANTITY_TIME, NULL), 14. / 24, exact, 0);
    assert_close(parsed("3 d", QUANTITY_TIME, NULL), 3, exact, 0);
    assert_close(parsed("2 weeks", QUANTITY_TIME, NULL), 14, exact, 0);
    assert_close(parsed("90 min", QUANTITY_TIME, NULL), 0.0625, exact, 0);
    assert_close(parsed("18:00", QUANTITY_CLOCK, NULL), 18, exact, 0);
    assert_close(parsed("6:45", QUANTITY_CLOCK, NULL), 6.75, exact, 0);
    assert_close(parsed("45 %", QUANTITY_SHARE, NULL), 0.45, exact, 0);
    assert_close(parsed("0.45", QUANTITY_SHARE, NULL), 0.45, exact, 0);
    assert_close(parsed("14.5 inch", QUANTITY_LENGTH, NULL), 36.83, exact, 0);
    assert_close(parsed("4 ft2", QUANTITY_AREA, NULL), 4 * 0.09290304, exact, 0);
    assert_close(parsed("350 umol/m2/s", QUANTITY_LIGHT, NULL), 350, exact, 0);
    assert_close(parsed("24000 lux", QUANTITY_ILLUMINANCE, NULL), 24000, exact, 0);
    assert_close(parsed("0.1 %", QUANTITY_CO2, NULL), 1000, exact, 0);
    assert_close(parsed("0.3 oz", QUANTITY_MASS, NULL), 8.5048569375, exact, 0);
    assert_close(parsed("266 cm2/g", QUANTITY_LEAF_SPREAD, NULL), 0.0266, exact, 0);
    assert_close(parsed("0.5 %/d", QUANTITY_RATE, NULL), 0.005, exact, 0);
    assert_close(parsed("0.005 /d", QUANTITY_RATE, NULL), 0.005, exact, 0);
    assert_close(parsed("0.005 1/d", QUANTITY_RATE, NULL), 0.005, exact, 0);
    assert_close(parsed("2.4 inch/week", QUANTITY_ROOT_SPEED, NULL), 2.4 * 2.54 / 7,
                 exact, 0);
    assert_close(parsed("2.9 mol/kg", QUANTITY_TISSUE, NULL), 2.9, exact, 0);
    assert_close(parsed("0.95 kg/L", QUANTITY_DENSITY, NULL), 0.95, exact, 0);
    assert_close(parsed("6.25", QUANTITY_PH, NULL), 6.25, 0, 0);
}

static void wrong_dimensions_are_named(void **state)
{
    (void)state;
    refused("19 kg", QUANTITY_VOLUME, NULL, "is not a volume");
    refused("19 degC", QUANTITY_VOLUME, NULL, "is not a volume");
    refused("3 L", QUANTITY_TIME, NULL, "is not a time span");
    refused("3 1/d", QUANTITY_TIME, NULL, "is not a time span"); /* no reciprocals */
    refused("2 Hz", QUANTITY_TIME, NULL, "is not a time span");
    refused("25 %", QUANTITY_TEMPERATURE, NULL, "is not a temperature");
    refused("14 C", QUANTITY_TIME, NULL, "is not a time span");
    refused("7 mmol/L", QUANTITY_DOSE, NULL, "is not a dose");
    refused("19 V", QUANTITY_ION, NULL, "is not a concentration");
    refused("7 meq/d", QUANTITY_FLOW, NULL, "counts charge");
    refused("6.1 L", QUANTITY_PH, NULL, "more than a number");
}

static void a_number_alone_is_taken_only_without_a_unit(void **state)
{
    (void)state;
    refused("19", QUANTITY_VOLUME, NULL, "has no unit");
    refused("1.9", QUANTITY_EC, NULL, "has no unit");
    refused("14", QUANTITY_TIME, NULL, "has no unit");
}

static void junk_is_refused(void **state)
{
    (void)state;
    static const char *const junk[] = {
        "",
        " ",
        "L",
        "L 19",
        "nineteen L",
        "19 bananas",
        "19 L 3",
        "19 L*3",
        "19 3 L",
        "19 L/3",
        "19 L.",
        "0x13 L",
        "inf L",
        "nan L",
        "-inf L",
        "1e999 L",
        "1e400 gal",
        "1,9 L",
        "19 L;",
        "19 L\n",
        "19 L L",
        "19 (L",
        "19 L since 5",
        "--19 L",
        "19 L@5 d",
        "1/0 gal",
        "1e308 m3",
        "19 \xff\xfe",
        "19 lb(re 1 mW)",
        "+ L",
        "19 L^999",
        "19 L^1.5",
        "1 L per d",
        "19 L\\",
        "19 `ls`",
        ". L",
    };
    for (size_t i = 0; i < sizeof junk / sizeof *junk; i++) {
        refused(junk[i], QUANTITY_VOLUME, NULL, "");
    }
    char endless[4000];
    memset(endless, '9', sizeof endless - 1);
    endless[sizeof endless - 1] = '\0';
    refused(endless, QUANTITY_VOLUME, NULL, "is too long");
    refused("25:00", QUANTITY_CLOCK, NULL, "not on the clock");
    refused("12:60", QUANTITY_CLOCK, NULL, "not on the clock");
    refused("6 h", QUANTITY_CLOCK, NULL, "not a clock time");
    refused("12:3", QUANTITY_CLOCK, NULL, "not a clock time");
    refused("1,9 mS/cm", QUANTITY_EC, NULL, "write decimals with a point");
}

static void a_unit_alone_has_a_size(void **state)
{
    (void)state;
    double size = NAN;
    assert_int_equal(quantity_unit(&size, "gal", QUANTITY_VOLUME, "jug_gal", NULL),
                     STATUS_OK);
    assert_close(size, gallon_l, exact, 0);
    assert_int_equal(quantity_unit(&size, "ppm700", QUANTITY_EC, "pen_ppm700", NULL),
                     STATUS_OK);
    assert_close(size, 1. / 700, exact, 0);
    static const char *const none[] = {"",        "2 gal", "1/2 gal", "/d",
                                       "gal gal", "cm",    "pail"};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
        struct error error = {0};
        size = 7.25;
        assert_int_equal(quantity_unit(&size, none[i], QUANTITY_VOLUME, "jug", &error),
                         STATUS_INPUT);
        assert_close(size, 7.25, 0, 0);
        assert_non_null(strstr(error.text, "\"jug\" "));
        assert_non_null(
            strstr(error.text, "; accepted for a volume: L, mL, gal, qt, cup"));
        assert_null(strstr(error.text, "such as"));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(us_kitchen_measures_are_parts_of_231_cubic_inches),
        cmocka_unit_test(temperatures_have_their_own_zero),
        cmocka_unit_test(thermal_time_is_a_difference),
        cmocka_unit_test(pens_read_in_four_scales),
        cmocka_unit_test(an_ion_is_counted_by_amount_charge_or_mass),
        cmocka_unit_test(alkalinity_in_mg_is_calcium_carbonate),
        cmocka_unit_test(doses_come_by_mass_amount_or_spoon),
        cmocka_unit_test(times_shares_and_the_rest),
        cmocka_unit_test(wrong_dimensions_are_named),
        cmocka_unit_test(a_number_alone_is_taken_only_without_a_unit),
        cmocka_unit_test(junk_is_refused),
        cmocka_unit_test(a_unit_alone_has_a_size),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
