/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/scenario/logbook.h"
#include "support/scratch.h"

static struct error error;

/* Reads text as a logbook; the error names the file "…/log.csv". */
static enum status read_text(struct logbook *logbook, const char *text)
{
    struct scratch scratch = scratch_make();
    char path[SCRATCH_PATH_SIZE + 16];
    scratch_write(&scratch, "log.csv", text, false);
    (void)snprintf(path, sizeof path, "%s/log.csv", scratch.folder);
    error = (struct error){0};
    enum status status = logbook_read(logbook, path, &error);
    scratch_remove(&scratch);
    return status;
}

static void expect_refused(const char *text, const char *words)
{
    struct logbook logbook;
    assert_int_equal(read_text(&logbook, text), STATUS_INPUT);
    assert_null(logbook.rows);
    if (strstr(error.text, words) == NULL) {
        print_error("%s\nwanted: %s\n", error.text, words);
        fail();
    }
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

static void mistakes_are_told_with_their_line(void **state)
{
    (void)state;
    expect_refused("", "log.csv:1: ");
    expect_refused("day,ec_mS_cm\n", "log.csv:1: holds no entry");
    expect_refused("ec_mS_cm,ph\n1.3,6\n", "log.csv:1: has no column named day");
    expect_refused("day,ec\n0,1.3\n", "log.csv:1: column \"ec\" is not known");
    expect_refused("day,ec_ms_cm\n0,1.3\n",
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

static void readings_in_other_units_are_asked_about(void **state)
{
    (void)state;
    expect_refused("day,ec_mS_cm\n0,1.3\n3,1430\n",
                   "log.csv:3: ec_mS_cm: 1430 is no EC in mS/cm. Is it uS/cm? Then write "
                   "1.43. Is it ppm? Then write 2.86 (a pen of scale 500) or 2.043 (of "
                   "scale 700)");
    expect_refused("day,ec_mS_cm\n0,750\n", "Is it uS/cm? Then write 0.75. Is it ppm? "
                                            "Then write 1.5 ");
}

static void a_pour_needs_its_litres(void **state)
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
    assert_int_equal(logbook_read(&logbook, path, &error), STATUS_INPUT);
    assert_non_null(strstr(error.text, "log.csv:2: holds a byte that no text does"));
    assert_null(logbook.rows);
    scratch_remove(&scratch);
}

static void what_is_written_reads_back(void **state)
{
    (void)state;
    struct logbook_row rows[] = {{0, 1.317, 18.31, NAN, 6.13, 0, 0, 0, 0},
                                 {2.75, 1.409, NAN, 27.3, NAN, 1.23456789, 0.87, 3.4, 0}};
    struct logbook wrote = {rows, 2, 2, NULL};
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
        cmocka_unit_test(mistakes_are_told_with_their_line),
        cmocka_unit_test(a_decimal_comma_is_told_once_with_its_cause),
        cmocka_unit_test(files_of_any_editor_are_read),
        cmocka_unit_test(readings_in_other_units_are_asked_about),
        cmocka_unit_test(a_pour_needs_its_litres),
        cmocka_unit_test(more_entries_than_anybody_keeps_are_refused_at_once),
        cmocka_unit_test(columns_without_end_are_refused),
        cmocka_unit_test(a_byte_that_no_text_holds_is_refused_with_its_line),
        cmocka_unit_test(what_is_written_reads_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
