/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/scenario/logbook.h"
#include "support/scratch.h"

static struct error error;

/* Reads text as the logbook of a bucket filled on that date; the error names the file
 * "…/log.csv". */
static enum status read_since(struct logbook *logbook, const char *start,
                              const char *text)
{
    struct scratch scratch = scratch_make();
    char path[SCRATCH_PATH_SIZE + 16];
    scratch_write(&scratch, "log.csv", text, false);
    (void)snprintf(path, sizeof path, "%s/log.csv", scratch.folder);
    error = (struct error){0};
    enum status status = logbook_read(logbook, path, start, &error);
    scratch_remove(&scratch);
    return status;
}

/* The same where the date is not known. */
static enum status read_text(struct logbook *logbook, const char *text)
{
    return read_since(logbook, "", text);
}

static void expect_refused_since(const char *start, const char *text, const char *words)
{
    struct logbook logbook;
    assert_int_equal(read_since(&logbook, start, text), STATUS_INPUT);
    assert_null(logbook.rows);
    if (strstr(error.text, words) == NULL) {
        print_error("%s\nwanted: %s\n", error.text, words);
        fail();
    }
}

static void expect_refused(const char *text, const char *words)
{
    expect_refused_since("", text, words);
}

static void blank_cells_are_readings_not_taken_and_pours_not_made(void **state)
{
    (void)state;
    struct logbook logbook;
    assert_int_equal(read_text(&logbook, "note,day,ec_mS_cm,water_poured_L,level_cm\n"
                                         "\"first, fill\",0,1.37,,\n"
                                         "\n"
                                         ",2.75,,3.85,17.3\n"),
                     STATUS_OK);
    assert_int_equal(logbook.count, 2);
    assert_close(logbook.rows[0].ec_ms_cm, 1.37, 0, 0);
    assert_true(isnan(logbook.rows[0].level_cm) && isnan(logbook.rows[0].ph));
    assert_close(logbook.rows[0].water_l, 0, 0, 0);
    assert_close(logbook.rows[1].day_d, 2.75, 0, 0);
    assert_true(isnan(logbook.rows[1].ec_ms_cm));
    assert_close(logbook.rows[1].water_l, 3.85, 0, 0);
    assert_close(logbook.rows[1].level_cm, 17.3, 0, 0);
    logbook_free(&logbook);
}

/* A column of it tells of every visit; without one nothing is known. */
static void acid_is_read_where_it_has_a_column(void **state)
{
    (void)state;
    struct logbook logbook;
    assert_int_equal(read_text(&logbook, "day,ph,adjust_g\n0,6.1,\n3,7.4,1.37\n"),
                     STATUS_OK);
    assert_close(logbook.rows[0].adjust_g, 0, 0, 0);
    assert_close(logbook.rows[1].adjust_g, 1.37, 0, 0);
    const uint64_t noted = logbook_fingerprint(&logbook, 2);
    logbook.rows[1].adjust_g = 1.38;
    assert_true(logbook_fingerprint(&logbook, 2) != noted);
    logbook_free(&logbook);
    assert_int_equal(read_text(&logbook, "day,ph,adjust_oz\n0,6.1,0.5\n"), STATUS_OK);
    assert_close(logbook.rows[0].adjust_g, 0.5 * 28.349523125, 1e-9, 0);
    logbook_free(&logbook);
    assert_int_equal(read_text(&logbook, "day,ph\n0,6.1\n"), STATUS_OK);
    assert_true(isnan(logbook.rows[0].adjust_g));
    logbook_free(&logbook);
}

static void mistakes_are_told_with_their_line(void **state)
{
    (void)state;
    expect_refused("", "log.csv:1: ");
    expect_refused("day,ec_mS_cm\n", "log.csv:1: holds no entry");
    expect_refused("ec_mS_cm,ph\n1.3,6\n", "log.csv:1: has no column named day or date");
    expect_refused("day,ec\n0,1.3\n", "log.csv:1: column \"ec\" is not known");
    expect_refused("day,ecmS_cm\n0,1.3\n",
                   "is not known; did you mean \"ec_mS_cm\"? Accepted are day, ");
    expect_refused("day;ph\n0;6\n", "write commas between the columns, not semicolons");
    expect_refused("day,day\n0,1\n", "log.csv:1: column day stands here twice");
    expect_refused("day,ph\n0,6\n6,6\n3,6\n", "log.csv:4: day 3 comes after day 6 of "
                                              "line 3");
    expect_refused("day,ph\n0,6\n3.5,6\n3.5,6\n", "log.csv:4: day 3.5 stands on line 3");
    expect_refused("day,ph\n,6\n", "log.csv:2: day: is blank");
    expect_refused("day,ph\n0,six\n", "log.csv:2: ph: \"six\" is not a number");
    expect_refused("day,ph\n0x3,6\n", "log.csv:2: day: \"0x3\" is not a number");
    expect_refused("day,ph\n1/5,6\n", "day: \"1/5\" is not a number; count days from");
    expect_refused("day,ph\n0,inf\n", "log.csv:2: ph: \"inf\" is not a number");
    expect_refused("day,ph\n0,6\n\"0,5\",6\n",
                   "log.csv:3: day: \"0,5\" is not a number; write it with a point, 0.5");
    expect_refused("day,ph\n\"0,6\n", "log.csv:2: the file ends inside a quoted cell");
    expect_refused("day,ph\n0,nan\n", "log.csv:2: ph: \"nan\"");
    expect_refused("day,drained_L\n0,-2\n", "log.csv:2: drained_L: -2 is out of range");
    expect_refused("day,ec_mS_cm\n0,-2\n",
                   "log.csv:2: ec_mS_cm: -2 is out of range; accepted is 0 or more");
}

static void a_decimal_comma_is_told_once_with_its_cause(void **state)
{
    (void)state;
    expect_refused("day,ec_mS_cm,level_cm\n0,1,1,20\n",
                   "log.csv:2: has 4 cells where the first line has 3; is a number "
                   "written with a decimal comma? Write 1.5, not 1,5");
    assert_int_equal(error.count, 1);
    /* Blank cells at the end come from spreadsheets and say nothing. */
    struct logbook logbook;
    assert_int_equal(read_text(&logbook, "day,ec_mS_cm\n0,1.1,,\n,,,\n3,1.2\n"),
                     STATUS_OK);
    assert_int_equal(logbook.count, 2);
    logbook_free(&logbook);
}

static void files_of_any_editor_are_read(void **state)
{
    (void)state;
    struct logbook logbook;
    assert_int_equal(read_text(&logbook, "\xef\xbb\xbf"
                                         "day,ph\r\n0,6.25\r\n\r\n3,6.5"),
                     STATUS_OK);
    assert_int_equal(logbook.count, 2);
    assert_int_equal(logbook.rows[1].line, 4);
    assert_close(logbook.rows[1].ph, 6.5, 0, 0);
    logbook_free(&logbook);
}

/* As a measuring jug and a ruler show them; a day is counted, and a fraction in its place
 * a date that lost its year. */
static void fractions_are_read_as_in_scenarios(void **state)
{
    (void)state;
    struct logbook logbook;
    assert_int_equal(read_text(&logbook, "day,ec_mS_cm,level_in,water_poured_gal,ph\n"
                                         "0,1,12 3/8,1/2,6\n3,1 1/4,11, 1 1/2 ,6.5\n"),
                     STATUS_OK);
    assert_close(logbook.rows[0].level_cm, 12.375 * 2.54, 1e-15, 0);
    assert_close(logbook.rows[0].water_l, 0.5 * 3.785411784, 1e-15, 0);
    assert_close(logbook.rows[1].water_l, 1.5 * 3.785411784, 1e-15, 0);
    assert_close(logbook.rows[1].ec_ms_cm, 1.25, 0, 0);
    logbook_free(&logbook);
    expect_refused("day,volume_gal\n9/14,3\n", "day: \"9/14\" is not a number");
    expect_refused("day,ph\n0,6 1/2\n", "ph: \"6 1/2\" is not a number");
    expect_refused("day,volume_gal\n0,1/0\n", "volume_gal: \"1/0\" is not a number");
    expect_refused("day,volume_gal\n0,9/14/2026\n", "\"9/14/2026\" is not a number");
}

static void readings_in_other_units_are_asked_about(void **state)
{
    (void)state;
    expect_refused("day,ec_mS_cm\n0,1.3\n3,1430\n",
                   "log.csv:3: ec_mS_cm: 1430 is no EC in mS/cm. Is it uS/cm? Then write "
                   "1.43. Is it ppm? Then write 2.86 (a pen of scale 500) or 2.043 (of "
                   "scale 700)");
    expect_refused("day,ec_mS_cm\n0,750\n", "Is it uS/cm? Then write 0.75. Is it ppm? "
                                            "Then write 1.5 ");
    expect_refused("day,ec_mS_cm\n0,750\n",
                   "; or name the column ec_uS_cm, ec_ppm500 or ec_ppm700");
    expect_refused("day,ec_dS_m\n0,750\n", "log.csv:2: ec_dS_m: 750 is no EC in mS/cm");
    expect_refused("day,ec_uS_cm\n0,1300\n3,21300\n",
                   "log.csv:3: ec_uS_cm: 21300 is 21.3 mS/cm, which no nutrient solution "
                   "reads; does the heading name the pen's unit?");
    expect_refused("day,ec_ppm700\n0,14100\n", "ec_ppm700: 14100 is 20.14 mS/cm, which");
}

/* US gallon: 231 cubic inches of 2.54 cm (NIST Handbook 44, appendix C). */
static const double gallon_l = 3.785411784;

/* Four roundings: of a factor, its inverse and two products. */
static const double rounding = 1e-15;

static void a_heading_may_carry_another_unit(void **state)
{
    (void)state;
    struct logbook logbook;
    assert_int_equal(
        read_text(&logbook,
                  "day,ec_ppm500,volume_gal,level_in,water_poured_qt,stock_poured_cup,"
                  "drained_mL,ph\n"
                  "0,685,4.75,7.5,2.25,3.5,1250,6.13\n"),
        STATUS_OK);
    const struct logbook_row *row = &logbook.rows[0];
    assert_close(row->ec_ms_cm, 685. / 500, rounding, 0);
    assert_close(row->volume_l, 4.75 * gallon_l, rounding, 0);
    assert_close(row->level_cm, 7.5 * 2.54, rounding, 0);
    assert_close(row->water_l, 2.25 * gallon_l / 4, rounding, 0);
    assert_close(row->stock_l, 3.5 * gallon_l / 16, rounding, 0);
    assert_close(row->drained_l, 1.25, rounding, 0);
    assert_close(row->ph, 6.13, 0, 0);
    logbook_free(&logbook);
}

/* One reading of 1.234 mS/cm. */
static void the_unit_is_any_that_quantities_know(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "day,ec_mS_cm\n0,1.234\n", "day,ec_uS_cm\n0,1234\n",
        "day,ec_S_m\n0,.1234\n",   "day,ec_\xc2\xb5S_cm\n0,1234\n",
        "day,ec_us_cm\n0,1234\n",  "day,ec_mS_m\n0,123.4\n",
        "day,ec_uS/cm\n0,1234\n",  "day,ec_ppm700\n0,863.8\n",
    };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        struct logbook logbook;
        assert_int_equal(read_text(&logbook, texts[i]), STATUS_OK);
        assert_close(logbook.rows[0].ec_ms_cm, 1.234, rounding, 0);
        logbook_free(&logbook);
    }
}

static void a_unit_of_another_kind_is_refused_with_what_is_accepted(void **state)
{
    (void)state;
    expect_refused("day,level_gal\n0,1\n",
                   "log.csv:1: column \"level_gal\" is not a length; accepted for a "
                   "length: cm, mm, m, inch, ft, in a heading as in level_cm");
    expect_refused("day,ec_ppm\n0,685\n",
                   "column \"ec_ppm\" does not say which ppm scale the pen has; accepted "
                   "for an EC: mS/cm, uS/cm, dS/m, ppm500, ppm700, in a heading as in "
                   "ec_mS_cm");
    expect_refused("day,volume_pail\n0,1\n",
                   "column \"volume_pail\" has a unit that is not known; accepted");
    expect_refused("day,drained_\n0,1\n", "column \"drained_\" has no unit; accepted");
    expect_refused("day,volume_1/2 L\n0,1\n", "column \"volume_1/2 L\" has a unit that");
    expect_refused("day,volume_ym9\n0,1\n", "column \"volume_ym9\" is not a volume");
    expect_refused("day,level_Ym20_m19\n0,1\n",
                   "column \"level_Ym20_m19\" is not a length");
    expect_refused("day,ph_mm\n0,1\n", "column \"ph_mm\" is not known");
    expect_refused("day_h\n0\n", "column \"day_h\" is not known");
    expect_refused(
        "day,weight\n0,1\n",
        "Accepted are day, ec_mS_cm, volume_L, level_cm, ph, water_poured_L, "
        "stock_poured_L, drained_L, adjust_g, note, date; units may be others, as in "
        "volume_gal or ec_ppm500");
}

static void two_headings_of_one_quantity_stand_twice(void **state)
{
    (void)state;
    expect_refused("day,volume_L,volume_gal\n0,1,1\n",
                   "log.csv:1: column volume_gal stands here twice, before as volume_L; "
                   "keep one");
    expect_refused("volume_gal,day,volume_gal\n1,0,1\n",
                   "log.csv:1: column volume_gal stands here twice; keep one");
}

static void bounds_hold_in_any_unit_and_the_number_typed_is_told(void **state)
{
    (void)state;
    struct logbook logbook;
    expect_refused(
        "day,volume_gal\n0,530\n",
        "log.csv:2: volume_gal: 530 is out of range; accepted is 0 to 528.344");
    expect_refused("day,level_mm\n0,4010\n",
                   "level_mm: 4010 is out of range; accepted is "
                   "0 to 4000");
    expect_refused("day,drained_mL\n0,-2\n", "log.csv:2: drained_mL: -2 is out of range");
    expect_refused("day,volume_gal\n0,\"4,5\"\n",
                   "volume_gal: \"4,5\" is not a number; write it with a point, 4.5");
    expect_refused("day,volume_Zm3\n0,1e300\n", "volume_Zm3: 1e+300 is out of range");
    assert_int_equal(read_text(&logbook, "day,volume_gal,level_mm\n0,528,3990\n"),
                     STATUS_OK);
    logbook_free(&logbook);
}

static void a_date_takes_the_place_of_the_day(void **state)
{
    (void)state;
    struct logbook logbook;
    assert_int_equal(read_since(&logbook, "2026-09-01",
                                "ph,date\n6.1,2026-09-01\n6.2,2026-09-03 18:30\n"
                                "6.3,2027-03-01T06:45\n"),
                     STATUS_OK);
    assert_int_equal(logbook.count, 3);
    assert_close(logbook.rows[0].day_d, 0, 0, 0);
    assert_close(logbook.rows[1].day_d, 2 + 18.5 / 24, 0, 0);
    /* Sep to Feb: 30 + 31 + 30 + 31 + 31 + 28. */
    assert_close(logbook.rows[2].day_d, 181 + 6.75 / 24, 0, 0);
    assert_close(logbook.rows[2].ph, 6.3, 0, 0);
    logbook_free(&logbook);
}

static void mistakes_in_dates_are_told_as_they_were_typed(void **state)
{
    (void)state;
    static const char start[] = "2026-09-01";
    expect_refused(
        "date,ph\n2026-09-01,6\n",
        "log.csv:1: has dates, but the scenario has no start to count them from");
    expect_refused_since(start, "date,day,ph\n2026-09-01,0,6\n",
                         "log.csv:1: has both day and date; keep one");
    expect_refused_since(start, "date,ph\n2026-09-31,6\n",
                         "log.csv:2: date: \"2026-09-31\" is no date; write");
    expect_refused_since(start, "date,ph\n2026-09-01,6\n9/4/2026,6\n",
                         "log.csv:3: date: \"9/4/2026\" is no date; write year-month-day "
                         "and perhaps the time, such as 2026-09-14 or 2026-09-14 18:30");
    expect_refused_since(start, "date,ph\n2026-08-31 23:59,6\n",
                         "log.csv:2: date: 2026-08-31 23:59 is before the scenario's "
                         "start, 2026-09-01");
    expect_refused_since(start, "date,ph\n2226-09-01,6\n",
                         "log.csv:2: date: 2226-09-01 is more than 3653 days after");
    expect_refused_since(start, "date,ph\n2026-09-01,6\n,6\n",
                         "log.csv:3: date: is blank; every entry needs its date");
    expect_refused_since(
        start, "date,ph\n2026-09-04,6\n2026-09-07,6\n2026-09-05,6\n",
        "log.csv:4: 2026-09-05 comes after 2026-09-07 of line 3; entries "
        "stand in order of day");
    expect_refused_since(start, "date,ph\n2026-09-04,6\n2026-09-04T00:00,6\n",
                         "log.csv:3: 2026-09-04T00:00 stands on line 2 already; make one "
                         "entry of the two, or add the time of each");
}

static void a_pour_needs_its_volume(void **state)
{
    (void)state;
    expect_refused("day,water_poured_L\n0,yes\n", "log.csv:2: water_poured_L: \"yes\" is "
                                                  "not a number; a pour or drain needs");
}

static void more_entries_than_anybody_keeps_are_refused_at_once(void **state)
{
    (void)state;
    struct scratch_text text;
    scratch_open(&text);
    fputs("day,ec_mS_cm\n", text.out);
    for (int i = 0; i < 100000; i++) {
        fprintf(text.out, "%g,1.31\n", 0.001 * i);
    }
    char *long_one = scratch_close(&text);
    expect_refused(long_one, "log.csv:5002: more than 5000 entries");
    free(long_one);
}

static void columns_without_end_are_refused(void **state)
{
    (void)state;
    char text[400] = "day";
    for (size_t i = 0; i < 100; i++) {
        strcat(text, ",");
    }
    strcat(text, "ph,note\n0,6\n");
    expect_refused(text, "log.csv:1: column \"\" is not known");
}

/* A row cut off at such a byte would run into the next one and read 0, 13, 5.9. */
static void a_byte_that_no_text_holds_is_refused_with_its_line(void **state)
{
    (void)state;
    static const char text[] = "day,ec_mS_cm,ph\n0,1\0.3\n3,5.9\n";
    struct scratch scratch = scratch_make();
    char path[SCRATCH_PATH_SIZE + 16];
    struct logbook logbook;
    (void)snprintf(path, sizeof path, "%s/log.csv", scratch.folder);
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, sizeof text - 1, file), sizeof text - 1);
    assert_int_equal(fclose(file), 0);
    error = (struct error){0};
    assert_int_equal(logbook_read(&logbook, path, "", &error), STATUS_INPUT);
    assert_non_null(strstr(error.text, "log.csv:2: holds a byte that no text does"));
    assert_null(logbook.rows);
    scratch_remove(&scratch);
}

static void what_is_written_reads_back(void **state)
{
    (void)state;
    struct logbook_row rows[] = {
        {0, 1.317, 18.31, NAN, 6.13, 0, 0, 0, NAN, 0},
        {2.75, 1.409, NAN, 27.3, NAN, 1.23456789, 0.87, 3.4, NAN, 0}};
    const struct logbook wrote = {.rows = rows, .count = 2};
    struct logbook again;
    struct scratch_text text;
    scratch_open(&text);
    logbook_write(text.out, &wrote);
    char *csv = scratch_close(&text);
    assert_int_equal(read_text(&again, csv), STATUS_OK);
    assert_int_equal(again.count, 2);
    assert_true(isnan(again.rows[0].level_cm));
    assert_close(again.rows[1].water_l, 1.23456789, 1e-9, 0);
    assert_close(again.rows[1].drained_l, 3.4, 1e-9, 0);
    free(csv);
    logbook_free(&again);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(blank_cells_are_readings_not_taken_and_pours_not_made),
        cmocka_unit_test(acid_is_read_where_it_has_a_column),
        cmocka_unit_test(mistakes_are_told_with_their_line),
        cmocka_unit_test(a_decimal_comma_is_told_once_with_its_cause),
        cmocka_unit_test(files_of_any_editor_are_read),
        cmocka_unit_test(fractions_are_read_as_in_scenarios),
        cmocka_unit_test(readings_in_other_units_are_asked_about),
        cmocka_unit_test(a_heading_may_carry_another_unit),
        cmocka_unit_test(the_unit_is_any_that_quantities_know),
        cmocka_unit_test(a_unit_of_another_kind_is_refused_with_what_is_accepted),
        cmocka_unit_test(two_headings_of_one_quantity_stand_twice),
        cmocka_unit_test(bounds_hold_in_any_unit_and_the_number_typed_is_told),
        cmocka_unit_test(a_date_takes_the_place_of_the_day),
        cmocka_unit_test(mistakes_in_dates_are_told_as_they_were_typed),
        cmocka_unit_test(a_pour_needs_its_volume),
        cmocka_unit_test(more_entries_than_anybody_keeps_are_refused_at_once),
        cmocka_unit_test(columns_without_end_are_refused),
        cmocka_unit_test(a_byte_that_no_text_holds_is_refused_with_its_line),
        cmocka_unit_test(what_is_written_reads_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
