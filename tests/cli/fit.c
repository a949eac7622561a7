/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logbooks kept by run and learned from by fit, as a user does it. */
#include "support/close.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "shed.h"
#include "support/program.h"
#include "support/scratch.h"

static int in_folder(void **state)
{
    (void)program_enter(state);
    program_write(*state, "shed.cfg", shed_bucket);
    return 0;
}

/* Writes kept.csv, as a grower would have kept it. */
static void keep(const char *folder)
{
    assert_int_equal(program_run(folder, "run shed.cfg --quiet --strategy Mix --logbook "
                                         "kept.csv --noise 5"),
                     0);
}

static void a_kept_logbook_can_be_learned_from_and_included(void **state)
{
    const char *folder = *state;
    keep(folder);
    cJSON *root = program_json(folder, "fit shed.cfg kept.csv --json --out .");
    const cJSON *unknowns = cJSON_GetObjectItem(root, "unknowns");
    assert_int_equal(cJSON_GetArraySize(unknowns), 6);
    const cJSON *first = cJSON_GetArrayItem(unknowns, 0);
    assert_string_equal(cJSON_GetObjectItem(first, "name")->valuestring,
                        "drinking_scale");
    assert_close(program_number(first, "estimate"), 1, 0.1, 0);
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(root, "forecast")), 14);
    cJSON_Delete(root);
    char again[sizeof shed_bucket + 64];
    (void)snprintf(again, sizeof again, "%s@include \"fitted.cfg\"\n", shed_bucket);
    program_write(folder, "again.cfg", again);
    assert_int_equal(program_run(folder, "check again.cfg"), 0);
}

static double estimate(const cJSON *root, int number)
{
    const cJSON *unknowns = cJSON_GetObjectItem(root, "unknowns");
    return program_number(cJSON_GetArrayItem(unknowns, number), "estimate");
}

static bool remarked(const cJSON *root, const char *words)
{
    const cJSON *remark;
    cJSON_ArrayForEach(remark, cJSON_GetObjectItem(root, "remarks"))
    {
        if (strstr(remark->valuestring, words) != NULL) {
            return true;
        }
    }
    return false;
}

/* Learning again, with more entries, from a scenario that includes what the first of them
 * taught gives what learning from all of them at once gives. */
static void no_reading_counts_twice(void **state)
{
    const char *folder = *state;
    static const char first[] = "day,ec_mS_cm,volume_L\n0,0.83,12.1\n3,0.79,9.4\n";
    char text[sizeof shed_bucket + 64];
    program_write(folder, "kept.csv", first);
    assert_int_equal(program_run(folder, "fit shed.cfg kept.csv --quiet --out ."), 0);
    (void)snprintf(text, sizeof text, "%s@include \"fitted.cfg\"\n", shed_bucket);
    program_write(folder, "again.cfg", text);
    (void)snprintf(text, sizeof text, "%s5,0.78,7.3\n", first);
    program_write(folder, "kept.csv", text);
    cJSON *fresh = program_json(folder, "fit shed.cfg kept.csv --json --out fresh");
    cJSON *again = program_json(folder, "fit again.cfg kept.csv --json --out again");
    for (int k = 0; k < 6; k++) {
        assert_close(estimate(again, k), estimate(fresh, k), 0, 0);
    }
    assert_true(remarked(again, "from the first 2 entries of this logbook"));
    assert_false(remarked(fresh, "set aside"));
    cJSON_Delete(again);
    /* Another logbook begins where the scenario stands, and that is said. */
    program_write(folder, "other.csv", "day,ec_mS_cm,volume_L\n0,0.83,12.1\n3,0.8,9.4\n");
    again = program_json(folder, "fit again.cfg other.csv --json --out again");
    assert_true(remarked(again, "starts from what the scenario has learned before"));
    cJSON_Delete(again);
    cJSON_Delete(fresh);
}

/* Of several strategies the one whose water and stock were poured is told where nobody
 * named it, and is in the JSON in any case. */
static void whose_water_and_stock_were_poured_is_told(void **state)
{
    const char *folder = *state;
    char text[sizeof shed_bucket + 64];
    (void)snprintf(text, sizeof text,
                   "%.*s, { name = \"Rich  mix\"; fill = \"stock\"; } );",
                   (int)(sizeof shed_bucket - sizeof " );\n"), shed_bucket);
    program_write(folder, "two.cfg", text);
    keep(folder);
    assert_int_equal(program_run(folder, "fit two.cfg kept.csv --out ."), 0);
    program_says(
        folder, "stdout",
        "By the strategy \"Mix\", the first of 2, as --strategy NAME names none.\n");
    assert_int_equal(program_run(folder, "fit two.cfg kept.csv --out . --strategy mix"),
                     0);
    program_lacks(folder, "stdout", "names none");
    cJSON *root = program_json(folder, "fit two.cfg kept.csv --json --out . --strategy "
                                       "'rich MIX'");
    assert_string_equal(cJSON_GetObjectItem(root, "strategy")->valuestring, "Rich  mix");
    cJSON_Delete(root);
    assert_int_equal(program_run(folder, "fit shed.cfg kept.csv --out ."), 0);
    program_lacks(folder, "stdout", "names none");
}

/* The page's table holds the numbers of fit.json. */
static void expect_same_numbers(const char *page, const cJSON *root)
{
    const cJSON *unknown;
    const cJSON *day;
    char cells[160];
    cJSON_ArrayForEach(unknown, cJSON_GetObjectItem(root, "unknowns"))
    {
        (void)snprintf(cells, sizeof cells, "<td>%.3f</td><td>%.3f</td><td>%.3f</td>",
                       program_number(unknown, "estimate"),
                       program_number(unknown, "low"), program_number(unknown, "high"));
        assert_non_null(strstr(page, cells));
    }
    day = cJSON_GetArrayItem(cJSON_GetObjectItem(root, "forecast"), 1);
    (void)snprintf(cells, sizeof cells, "<td>%.2f</td><td>%.2f</td><td>%.2f to %.2f</td>",
                   program_number(day, "day"), program_number(day, "ec_median"),
                   program_number(day, "ec_low"), program_number(day, "ec_high"));
    assert_non_null(strstr(page, cells));
    day = cJSON_GetArrayItem(cJSON_GetObjectItem(root, "forecast"), 13);
    (void)snprintf(cells, sizeof cells, "<td>%.1f</td><td>%.1f to %.1f</td></tr>",
                   program_number(day, "ph_median"), program_number(day, "ph_low"),
                   program_number(day, "ph_high"));
    assert_non_null(strstr(page, cells));
}

static void a_fit_leaves_the_page_of_a_run_alone(void **state)
{
    const char *folder = *state;
    keep(folder);
    assert_int_equal(program_run(folder, "run shed.cfg --quiet --out both"), 0);
    char *before = program_read(folder, "both/report.html");
    assert_int_equal(program_run(folder, "fit shed.cfg kept.csv --quiet --out both"), 0);
    char *after = program_read(folder, "both/report.html");
    assert_non_null(before);
    assert_non_null(after);
    assert_string_equal(after, before);
    free(before);
    free(after);
}

static void the_page_shows_readings_curve_and_numbers(void **state)
{
    const char *folder = *state;
    keep(folder);
    cJSON *root = program_json(folder, "fit shed.cfg kept.csv --json --out made");
    char *page = program_read(folder, "made/fit.html");
    assert_non_null(page);
    expect_same_numbers(page, root);
    assert_int_equal(scratch_occurs(page, "<figure>"), 3);
    assert_null(strstr(page, "could not be drawn"));
    assert_non_null(strstr(page, "Next action on day"));
    assert_non_null(strstr(page, "Without a visit the roots keep"));
    struct program_csv csv = program_csv_read(folder, "kept.csv");
    static const char *const kinds[] = {"ec", "level", "ph"};
    for (size_t i = 0; i < 3; i++) {
        char name[32];
        char dot[48];
        (void)snprintf(name, sizeof name, "made/fit-%s.svg", kinds[i]);
        (void)snprintf(dot, sizeof dot, "href='#of-fit-%s-gpPt6'", kinds[i]);
        char *picture = program_read(folder, name);
        assert_non_null(picture);
        /* Each reading above and below, and one in the key. */
        assert_int_equal(scratch_occurs(picture, dot), 2 * csv.rows + 1);
        assert_non_null(strstr(picture, ">Day since first fill<"));
        free(picture);
    }
    program_says(folder, "made/fit-ec.svg", ">EC, mS/cm<");
    program_says(folder, "made/fit-level.svg", ">Water in the bucket, L<");
    program_says(folder, "made/fit-level.svg", ">Level above the floor, cm<");
    program_csv_free(&csv);
    free(page);
    cJSON_Delete(root);
}

static const cJSON *choice_named(const cJSON *root, const char *name)
{
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, cJSON_GetObjectItem(root, "strategies"))
    {
        if (strcmp(cJSON_GetObjectItem(item, "name")->valuestring, name) == 0) {
            return item;
        }
    }
    fail_msg("no strategy %s", name);
    return NULL;
}

/* The plant drinks 0.7 L/d and eats no sodium, so 14 days of a water with 2 mmol/L bring
 * nearly 14 x (0.7 + 0.05) x 2 mmol into 12 L (a hand balance); the plain water brings
 * none. It eats 4.9 mmol of nitrate a day, 69 in 14 days, of about 130 in 10 L: with
 * water alone 6 mmol/L are left, with the mix, which brings 50, 11. */
static void each_way_of_going_on_is_looked_into(void **state)
{
    const char *folder = *state;
    char text[sizeof shed_bucket + 256];
    (void)snprintf(text, sizeof text, "%s", shed_bucket);
    char *end = strstr(text, "stock_share = 0.5; }");
    (void)snprintf(
        end, sizeof text - (size_t)(end - text),
        "stock_share = 0.5; },\n { name = \"Salty\"; fill = \"water\"; water = { "
        "na = \"2 mmol/L\"; cl = \"2 mmol/L\"; }; } );\n"
        "limits = { no3_low = \"8 mmol/L\"; };\n");
    program_write(folder, "shed.cfg", text);
    keep(folder);
    cJSON *root = program_json(folder, "fit shed.cfg kept.csv --json --out made");
    const cJSON *mix = choice_named(root, "Mix");
    const cJSON *salty = choice_named(root, "Salty");
    assert_close(program_number(mix, "water_L"), program_number(mix, "stock_L"), 1e-9, 0);
    assert_close(program_number(salty, "stock_L"), 0, 0, 0);
    assert_close(program_number(salty, "water_L"), 2 * program_number(mix, "water_L"),
                 1e-9, 0);
    assert_close(program_number(mix, "na_high_mmol_L"), 0, 0, 1e-12);
    assert_close(program_number(salty, "na_median_mmol_L"), 14 * 0.75 * 2 / 12, 0.2, 0);
    assert_true(program_number(mix, "scarce_chance") < 0.1);
    assert_string_equal(cJSON_GetObjectItem(salty, "scarce")->valuestring, "no3");
    assert_true(program_number(salty, "scarce_chance") > 0.9);
    const cJSON *last = cJSON_GetArrayItem(cJSON_GetObjectItem(root, "forecast"), 13);
    assert_close(program_number(mix, "ec_median"), program_number(last, "ec_median"), 0,
                 0.05);
    program_says(folder, "made/fit.html", "How to go on");
    program_says(folder, "made/fit.html", "nitrate runs out in 9");
    assert_int_equal(program_run(folder, "fit shed.cfg kept.csv --strategy Salty "), 0);
    program_says(folder, "stdout", "strategy Salty");
    program_says(folder, "stdout", "nitrate runs out in");
    cJSON_Delete(root);
}

static void the_page_speaks_gallons_and_ppm_and_escapes_names(void **state)
{
    const char *folder = *state;
    char text[sizeof shed_bucket + 256];
    (void)snprintf(text, sizeof text,
                   "%sdisplay = { volume = \"gal\"; ec = \"ppm700\"; };\n", shed_bucket);
    memcpy(strstr(text, "Shed"), "<b>&", 4);
    memcpy(strstr(text, "Mix"), "<i>", 3);
    program_write(folder, "shed.cfg", text);
    program_write(folder, "kept.csv", "day,ec_mS_cm,volume_L\n0,1.2,12\n3,1.22,9.8\n");
    assert_int_equal(program_run(folder, "fit shed.cfg kept.csv --quiet --out made"), 0);
    program_says(folder, "made/fit.html", "<h1>&lt;b&gt;&amp;</h1>");
    program_says(folder, "made/fit.html", "&quot;&lt;i&gt;&quot;");
    program_says(folder, "made/fit.html", "EC, ppm700</th>");
    program_says(folder, "made/fit.html", "The pen reads too high by, ppm700");
    program_says(folder, "made/fit-ec.svg", ">EC, ppm700<");
    program_says(folder, "made/fit-level.svg", ">Water in the bucket, gal<");
    /* No reading of pH, no picture of it. */
    assert_false(program_has(folder, "made/fit-ph.svg"));
    char *page = program_read(folder, "made/fit.html");
    assert_null(strstr(page, "<b>&"));
    assert_null(strstr(page, "<i>"));
    free(page);
}

static void without_gnuplot_numbers_and_page_are_there(void **state)
{
    const char *folder = *state;
    program_write(folder, "kept.csv", "day,ec_mS_cm\n0,1.2\n3,1.22\n");
    assert_int_equal(
        program_run_in(folder, "PATH=.", "fit shed.cfg kept.csv --quiet --out made"), 1);
    program_says(folder, "stderr", "gnuplot was not found");
    assert_true(program_has(folder, "made/fitted.cfg"));
    assert_true(program_has(folder, "made/fit.json"));
    program_says(folder, "made/fit.html", "This plot could not be drawn.");
}

/* The scenario's plant would have emptied the bucket long before; this one drinks half.
 */
static void a_plant_that_drinks_far_less_is_learned_too(void **state)
{
    const char *folder = *state;
    program_write(folder, "kept.csv",
                  "day,ec_mS_cm,volume_L\n0,0.8,12\n10,0.7,8.5\n20,0.65,5\n30,0.6,1.5\n");
    cJSON *root = program_json(folder, "fit shed.cfg kept.csv --json --out made");
    /* 0.35 L/d in all, of which 0.05 may evaporate. */
    const double drunk = 0.7 * estimate(root, 0);
    assert_true(drunk > 0.27 && drunk < 0.36);
    cJSON_Delete(root);
}

/* 9 mm too low on the day of filling: not the plant's doing. */
static void a_first_level_that_is_odd_points_at_the_scenario(void **state)
{
    const char *folder = *state;
    program_write(folder, "kept.csv",
                  "day,ec_mS_cm,volume_L\n0,0.8,11.4\n3,0.8,9.2\n6,0.8,6.9\n");
    cJSON *root = program_json(folder, "fit shed.cfg kept.csv --json --out made");
    const cJSON *odd = cJSON_GetArrayItem(cJSON_GetObjectItem(root, "unexpected"), 0);
    const cJSON *cause = cJSON_GetArrayItem(cJSON_GetObjectItem(odd, "causes"), 0);
    assert_string_equal(cause->valuestring,
                        "check the bucket's size, shape and start in the scenario");
    cJSON_Delete(root);
}

static void a_bad_logbook_is_refused_and_nothing_is_written(void **state)
{
    const char *folder = *state;
    static const struct {
        const char *logbook, *told;
    } bad[] = {
        {"", "bad.csv:1: holds no entry"},
        {"day,ec_mS_cm\n0,1.2\n3,1250\n", "bad.csv:3: ec_mS_cm: 1250 is no EC in mS/cm"},
        {"day,water_poured_L\n0,\n3,300\n", "bad.csv:3: 300 L were poured"},
        {"day,level_cm\n0,9\n", "check bucket.start"},
        {"day,ec_mS_cm,drained_L\n0,1.2,\n2,1.2,12\n3,1.3,\n",
         "bad.csv:4: tended as noted, the bucket of the scenario is dry by day 3"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        program_write(folder, "bad.csv", bad[i].logbook);
        program_refuses(folder, "fit shed.cfg bad.csv", bad[i].told);
    }
    program_refuses(folder, "fit shed.cfg none.csv", "none.csv");
}

/* Readings that the bucket above gives, the row of day 15 to be filled in. */
static const char kept_but_one[] =
    "day,ec_mS_cm,volume_L,level_cm,ph,water_poured_L,stock_poured_L\n"
    "0,1.52,,26.9,5.3,,\n3,1.64,,22.3,7.3,1.125,1.125\n6,1.78,,22.5,7.9,1.125,1.125\n"
    "9,1.71,,22.5,7.9,1.125,1.125\n12,1.77,,22.6,8.2,1.125,1.125\n"
    "15,%s,1.125,1.125\n";
static const char kept_after[] = "18,1.92,,22.6,8.3,1.125,1.125\n";

static void keep_with(const char *folder, const char *row, const char *after)
{
    char logbook[1024];
    const int used = snprintf(logbook, sizeof logbook, kept_but_one, row);
    (void)snprintf(logbook + used, sizeof logbook - (size_t)used, "%s", after);
    program_write(folder, "kept.csv", logbook);
}

/* What fit suggests to look for on day 15, the last; its EC should read 1.84, its level
 * 22.7 cm and its pH 8.2. */
static void a_reading_far_off_is_told_with_its_causes(void **state)
{
    const char *folder = *state;
    static const struct {
        const char *row;
        const char *causes[2];
    } cases[] = {
        {"2.84,,22.7,8.2", {"a stock stronger than usual", "the EC pen"}},
        {"1.14,,22.7,8.2", {"water that came in", "the EC pen"}},
        {"1.84,,18.1,8.2", {"a leak or a splash", "a drain or a visit"}},
        {"1.84,,26.3,8.2", {"drinking less", "a pour that was not noted"}},
        {"2.64,,17.1,8.2", {"drinking more than it eats", "evaporates"}},
        {"1.84,,22.7,6.1", {"ammonium in the feed", "the pH pen"}},
        {"1.84,,22.7,9.4", {"alkaline water", "the pH pen"}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        keep_with(folder, cases[i].row, "");
        assert_int_equal(program_run(folder, "fit shed.cfg kept.csv --out ."), 0);
        program_says(folder, "stdout", "Unexpected on day 15.00: ");
        for (int k = 0; k < 2; k++) {
            program_says(folder, "stdout", cases[i].causes[k]);
        }
        cJSON *json = program_json(folder, "fit shed.cfg kept.csv --json --out .");
        const cJSON *unexpected = cJSON_GetObjectItem(json, "unexpected");
        const cJSON *first = cJSON_GetArrayItem(unexpected, 0);
        assert_close(program_number(first, "day"), 15, 1e-12, 0);
        assert_true(cJSON_GetArraySize(cJSON_GetObjectItem(first, "causes")) >= 2);
        cJSON_Delete(json);
    }
}

/* The entry after it agrees with all before. */
static void a_slip_is_set_aside_and_the_pencil_blamed(void **state)
{
    const char *folder = *state;
    keep(folder);
    char *kept = program_read(folder, "kept.csv");
    char spoiled[2048];
    char *at = strstr(kept, "\n9,") + 3; /* its EC, of one digit before the point */
    (void)snprintf(spoiled, sizeof spoiled, "%.*s1%s", (int)(at - kept), kept, at);
    free(kept);
    program_write(folder, "kept.csv", spoiled);
    assert_int_equal(program_run(folder, "fit shed.cfg kept.csv --out ."), 0);
    program_says(folder, "stdout", "Set aside, as no bucket explains it while all else");
    program_says(folder, "stdout", "Unexpected on day 9.00: EC higher");
    program_says(folder, "stdout",
                 "standard deviations.\n  - look at the entry again: a slip of the");
    program_says(folder, "fit-ec.svg", ">11.");  /* beside its dot at the axis' end */
    program_says(folder, "fit-ec.svg", " 1.7<"); /* a mark of an axis not stretched */
    cJSON *json = program_json(folder, "fit shed.cfg kept.csv --json --out .");
    const cJSON *first = cJSON_GetArrayItem(cJSON_GetObjectItem(json, "unexpected"), 0);
    const cJSON *aside = cJSON_GetObjectItem(first, "set_aside");
    assert_int_equal(cJSON_GetArraySize(aside), 1);
    assert_string_equal(cJSON_GetArrayItem(aside, 0)->valuestring, "EC");
    cJSON_Delete(json);
}

static void a_logbook_without_a_slip_surprises_nobody(void **state)
{
    const char *folder = *state;
    keep_with(folder, "1.84,,22.7,8.2", kept_after);
    cJSON *json = program_json(folder, "fit shed.cfg kept.csv --json --out .");
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(json, "unexpected")), 0);
    cJSON_Delete(json);
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, in_folder, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(a_kept_logbook_can_be_learned_from_and_included),
        IN_FOLDER(no_reading_counts_twice),
        IN_FOLDER(whose_water_and_stock_were_poured_is_told),
        IN_FOLDER(a_fit_leaves_the_page_of_a_run_alone),
        IN_FOLDER(the_page_shows_readings_curve_and_numbers),
        IN_FOLDER(each_way_of_going_on_is_looked_into),
        IN_FOLDER(the_page_speaks_gallons_and_ppm_and_escapes_names),
        IN_FOLDER(without_gnuplot_numbers_and_page_are_there),
        IN_FOLDER(a_plant_that_drinks_far_less_is_learned_too),
        IN_FOLDER(a_first_level_that_is_odd_points_at_the_scenario),
        IN_FOLDER(a_bad_logbook_is_refused_and_nothing_is_written),
        IN_FOLDER(a_reading_far_off_is_told_with_its_causes),
        IN_FOLDER(a_slip_is_set_aside_and_the_pencil_blamed),
        IN_FOLDER(a_logbook_without_a_slip_surprises_nobody),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
