/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logbooks that cannot be of the scenario's bucket. */
#include "support/close.h"

#include <math.h>
#include <string.h>

#include "pailcast/scenario/logbook.h"
#include "support/bench.h"

static struct scenario scenario; /* 10 L in a pail */
static struct error error;
static struct logbook_heading volume, level;

static int set_up(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    error = (struct error){0};
    volume = level = (struct logbook_heading){0};
    return 0;
}

/* An entry in which nothing was read or done. */
static struct logbook_row entry(double day_d)
{
    return (struct logbook_row){day_d, NAN, NAN, NAN, NAN,
                                0,     0,   0,   NAN, (size_t)(day_d + 2.5)};
}

static void expect(const struct logbook_row rows[], size_t count, const char *words)
{
    struct logbook_row kept[4];
    memcpy(kept, rows, count * sizeof *rows);
    const struct logbook logbook = {.rows = kept,
                                    .count = count,
                                    .path = "log.csv",
                                    .volume = volume,
                                    .level = level};
    const enum status status = logbook_check(&logbook, &scenario, &error);
    if (words == NULL) {
        assert_int_equal(status, STATUS_OK);
    } else {
        assert_int_equal(status, STATUS_INPUT);
        if (strstr(error.text, words) == NULL) {
            print_error("%s\nwanted: %s\n", error.text, words);
            fail();
        }
    }
}

static void a_pour_beyond_the_bucket_is_asked_about(void **state)
{
    (void)state;
    struct logbook_row rows[] = {entry(0), entry(3)};
    rows[1].water_l = 300;
    expect(rows, 2, "log.csv:5: 300 L were poured and 0 L drained, yet the bucket holds");
    expect(rows, 2, "is it another unit, such as millilitres, or");
    /* Rinsed: what went in went out. */
    rows[1].drained_l = 299;
    error = (struct error){0};
    expect(rows, 2, NULL);
}

static void a_pour_over_the_rim_is_refused(void **state)
{
    (void)state;
    struct logbook_row rows[] = {entry(0), entry(3)};
    const double rim_l = shape_rim_l(&scenario.bucket);
    rows[1].volume_l = 8.1;
    rows[1].water_l = 1.1 * rim_l - 7.1;
    expect(rows, 2, "log.csv:5: volume_L: 8.1, and");
    expect(rows, 2, "to its rim");
    /* What a level read to some millimetres leaves open is let pass. */
    rows[1].water_l = rim_l - 8.1 + 0.4;
    error = (struct error){0};
    expect(rows, 2, NULL);
}

static void a_pour_not_noted_is_caught_by_volume_or_level(void **state)
{
    (void)state;
    struct logbook_row rows[] = {entry(0), entry(3), entry(6)};
    rows[0].volume_l = 9.8;
    rows[1].volume_l = 7.4;
    rows[2].volume_l = 9.6;
    expect(rows, 3, "log.csv:8: volume_L: 9.6, yet line 5 leaves only 7.4 L");
    for (int i = 0; i < 3; i++) {
        rows[i].level_cm = shape_level_cm(&scenario.bucket, rows[i].volume_l);
        rows[i].volume_l = NAN;
    }
    error = (struct error){0};
    expect(rows, 3,
           " is 9.6 L, yet line 5 leaves only 7.4 L; write the pour that is "
           "missing, or leave the wrong reading of the two blank");
    /* A day without a reading between hides nothing. */
    rows[1].level_cm = NAN;
    rows[1].drained_l = 3;
    expect(rows, 3, "yet line 2 leaves only 6.8 L");
    rows[1].water_l = 3.1;
    error = (struct error){0};
    expect(rows, 3, NULL);
}

static void another_first_level_points_at_the_scenario(void **state)
{
    (void)state;
    struct logbook_row rows[] = {entry(0)};
    rows[0].volume_l = 5.2;
    expect(rows, 1,
           "volume_L: 5.2, yet the scenario begins with 10 L; check bucket.start");
    /* Not on the first day it may have been drunk. */
    rows[0].day_d = 3;
    expect(rows, 1, NULL);
    rows[0].volume_l = NAN;
    rows[0].level_cm = 250;
    expect(rows, 1, "level_cm: 250 is above the rim");
}

/* US gallon and inch by definition (NIST Handbook 44, appendix C). */
static void what_was_typed_in_other_units_is_told_as_typed(void **state)
{
    (void)state;
    volume = (struct logbook_heading){"volume_gal", 3.785411784};
    level = (struct logbook_heading){"level_in", 2.54};
    struct logbook_row rows[] = {entry(0), entry(3)};
    rows[0].volume_l = 1.25 * volume.size;
    expect(rows, 1,
           "log.csv:2: volume_gal: 1.25 (4.732 L), yet the scenario begins with 10 L");
    rows[0].volume_l = NAN;
    rows[1].volume_l = 25 * volume.size;
    expect(rows, 2, "volume_gal: 25 (94.64 L) is more than the bucket holds to its rim");
    rows[1].volume_l = NAN;
    rows[1].level_cm = 17.5 * level.size;
    expect(rows, 2, "log.csv:5: level_in: 17.5 (44.45 cm) is above the rim");
    expect(rows, 2, "or is it another unit?");
    rows[0].level_cm = 2 * level.size;
    expect(rows, 1, "log.csv:2: level_in: 2 (5.08 cm) is ");
}

/* 10 L are 2.642 gal. */
static void what_is_shown_in_other_units_is_refused_in_them(void **state)
{
    (void)state;
    scenario.display =
        (struct scenario_display){.volume = DISPLAY_GALLON, .length = DISPLAY_INCH};
    struct logbook_row rows[] = {entry(0), entry(3)};
    rows[0].level_cm = 5.08;
    expect(rows, 1, "level_cm: 5.08 (2 inch) is ");
    expect(rows, 1, " gal, yet the scenario begins with 2.642 gal; check");
    level = (struct logbook_heading){"level_in", 2.54};
    volume = (struct logbook_heading){"volume_gal", 3.785411784};
    expect(rows, 1, "level_in: 2 is ");
    rows[0].level_cm = NAN;
    rows[0].volume_l = 10;
    rows[1].volume_l = 25 * volume.size;
    expect(rows, 2, "volume_gal: 25 is more than the bucket holds to its rim, ");
    rows[1].volume_l = NAN;
    rows[1].level_cm = 17.5 * level.size;
    expect(rows, 2, "level_in: 17.5 is above the rim, ");
    expect(rows, 2, " inch; check bucket.height");
    rows[1].level_cm = NAN;
    rows[1].water_l = 20 * volume.size;
    expect(rows, 2, "20 gal were poured and 0 gal drained");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(a_pour_beyond_the_bucket_is_asked_about, set_up),
        cmocka_unit_test_setup(a_pour_over_the_rim_is_refused, set_up),
        cmocka_unit_test_setup(a_pour_not_noted_is_caught_by_volume_or_level, set_up),
        cmocka_unit_test_setup(another_first_level_points_at_the_scenario, set_up),
        cmocka_unit_test_setup(what_is_shown_in_other_units_is_refused_in_them, set_up),
        cmocka_unit_test_setup(what_was_typed_in_other_units_is_told_as_typed, set_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
