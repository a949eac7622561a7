/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A logbook kept with a jug of a gallon, a TDS pen, a ruler in inches and a calendar. */
#include "support/close.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "shed.h"
#include "support/program.h"

static int in_folder(void **state)
{
    char dated[sizeof shed_bucket + 32];
    (void)program_enter(state);
    (void)snprintf(dated, sizeof dated, "%sstart = \"2026-08-30\";\n", shed_bucket);
    program_write(*state, "shed.cfg", dated);
    program_write(*state, "undated.cfg", shed_bucket);
    return 0;
}

/* The same visits twice: a gallon is 3.785411784 L, an inch 2.54 cm (NIST Handbook 44,
 * appendix C). */
static const char in_litres[] =
    "day,ec_mS_cm,volume_L,level_cm,ph,water_poured_L,stock_poured_L,drained_L,note\n"
    "0,1.52,,26.924,5.3,,,,filled\n"
    "3.75,1.64,9.2742588708,,7.3,1.1829411825,0.946352946,,\n"
    "6.3125,1.78,,22.606,7.9,,1.1829411825,0.25,\n"
    "9.75,1.71,9.0849882816,,7.9,1.1829411825,,,\n";

static const char in_gallons[] =
    "note,date,ec_ppm500,volume_gal,level_in,ph,water_poured_qt,stock_poured_gal,"
    "drained_mL\n"
    "filled,2026-08-30,760,,10.6,5.3,,,\n"
    ",2026-09-02 18:00,820,2.45,,7.3,1.25,0.25,\n"
    ",2026-09-05T07:30,890,,8.9,7.9,,0.3125,250\n"
    ",2026-09-08 18:00,855,2.4,,7.9,1.25,,\n";

/* Numbers to a part in a million: at steps of that size the search for the unknowns stops
 * (sim/study/least.c), and where it does moves with the last digit of a reading. */
static void expect_alike(const cJSON *one, const cJSON *other)
{
    assert_non_null(one);
    assert_non_null(other);
    assert_int_equal(one->type, other->type);
    if (cJSON_IsNumber(one)) {
        assert_close(one->valuedouble, other->valuedouble, 1e-6, 1e-6);
    } else if (cJSON_IsString(one)) {
        assert_string_equal(one->valuestring, other->valuestring);
    }
    assert_int_equal(cJSON_GetArraySize(one), cJSON_GetArraySize(other));
    const cJSON *beside = other->child;
    for (const cJSON *child = one->child; child != NULL; child = child->next) {
        if (child->string != NULL) {
            assert_string_equal(child->string, beside->string);
        }
        expect_alike(child, beside);
        beside = beside->next;
    }
}

static void the_same_visits_in_any_unit_teach_the_same(void **state)
{
    const char *folder = *state;
    program_write(folder, "litres.csv", in_litres);
    program_write(folder, "gallons.csv", in_gallons);
    cJSON *litres = program_json(folder, "fit shed.cfg litres.csv --json --out one");
    cJSON *gallons = program_json(folder, "fit shed.cfg gallons.csv --json --out other");
    const cJSON *unknowns = cJSON_GetObjectItem(litres, "unknowns");
    assert_int_equal(cJSON_GetArraySize(unknowns), 6);
    expect_alike(litres, gallons);
    cJSON_Delete(litres);
    cJSON_Delete(gallons);
}

static void what_is_wrong_is_told_as_it_was_typed(void **state)
{
    const char *folder = *state;
    static const struct {
        const char *scenario, *logbook, *told;
    } bad[] = {
        {"undated", in_gallons, "bad.csv:1: has dates, but the scenario has no start"},
        {"shed", "date,level_gal\n2026-08-30,3\n",
         "bad.csv:1: column \"level_gal\" is not a length"},
        {"shed", "date,ph\n2026-08-29,6\n",
         "bad.csv:2: date: 2026-08-29 is before the scenario's start, 2026-08-30"},
        {"shed", "day,volume_gal\n0,1.2\n",
         "bad.csv:2: volume_gal: 1.2 (4.542 L), yet the scenario begins with 12 L"},
        {"shed",
         "date,ec_ppm500,drained_gal\n2026-08-30,600,\n2026-09-01,600,3.1\n"
         "2026-09-02,650,\n",
         "bad.csv:4: tended as noted, the bucket of the scenario is dry by day 3.00 (Wed "
         "2026-09-02)"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        char arguments[64];
        (void)snprintf(arguments, sizeof arguments, "fit %s.cfg bad.csv",
                       bad[i].scenario);
        program_write(folder, "bad.csv", bad[i].logbook);
        program_refuses(folder, arguments, bad[i].told);
    }
}

/* The same visits, then an EC twice as high as the bucket can have. */
static void what_is_odd_is_told_with_its_date(void **state)
{
    const char *folder = *state;
    char text[sizeof in_gallons + 64];
    (void)snprintf(text, sizeof text, "%s,2026-09-11 18:00,1855,2.4,,7.9,,,\n",
                   in_gallons);
    program_write(folder, "odd.csv", text);
    assert_int_equal(program_run(folder, "fit shed.cfg odd.csv --out made"), 0);
    program_says(folder, "stdout", "Unexpected on day 12.75 (Fri 2026-09-11): EC higher");
    program_says(folder, "made/fit.html", "On day 12.75 (Fri 2026-09-11): EC higher");
}

/* What a run keeps is read by any version: names and units stay. */
static void what_a_run_keeps_stays_in_litres_and_days(void **state)
{
    const char *folder = *state;
    assert_int_equal(
        program_run(folder, "run shed.cfg --quiet --logbook kept.csv --noise 5"), 0);
    char *kept = program_read(folder, "kept.csv");
    assert_non_null(kept);
    assert_int_equal(strncmp(kept, in_litres, strcspn(in_litres, "\n") + 1), 0);
    free(kept);
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, in_folder, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(the_same_visits_in_any_unit_teach_the_same),
        IN_FOLDER(what_is_wrong_is_told_as_it_was_typed),
        IN_FOLDER(what_is_odd_is_told_with_its_date),
        IN_FOLDER(what_a_run_keeps_stays_in_litres_and_days),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
