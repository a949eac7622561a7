/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `run` as a user meets it: what it writes, what it says, and what it does when things
 * fail. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cjson/cJSON.h>

#include "support/program.h"
#include "support/scratch.h"

static const char good[] =
    "title = \"A trial\"; duration = \"20 d\";\n"
    "bucket = { full = \"12 L\"; evaporation = \"0.05 L/d\"; };\n"
    "crop = { kind = \"table\"; name = \"t\"; stages = ( { name = \"s\"; drinks = \"0.7 "
    "L/d\";\n"
    "  eats = { k = \"2.3 mmol/L\"; no3 = \"2.3 mmol/L\"; }; } ); };\n"
    "water = { na = \"0.9 mmol/L\"; cl = \"0.9 mmol/L\"; };\n"
    "stock = { k = \"6.1 mmol/L\"; no3 = \"6.1 mmol/L\"; na = \"0.9 mmol/L\"; cl = \"0.9 "
    "mmol/L\"; };\n"
    "strategies = ( { name = \"Plain water\"; fill = \"water\"; visit_every = \"4 d\"; "
    "},\n"
    "  { name = \"Two thirds\"; fill = \"mix\"; stock_share = 0.67; visit_every = \"4 "
    "d\"; } );\n"
    "limits = { ec_high = \"2 mS/cm\"; na = \"5 mmol/L\"; };\n";

static int in_folder(void **state)
{
    (void)program_enter(state);
    program_write(*state, "trial.cfg", good);
    return 0;
}

/* Files in folder/sub that begin with a dot or end in .part: left behind by halves. */
static void assert_no_halves(const char *folder)
{
    char command[512];
    (void)snprintf(command, sizeof command,
                   "test -z \"$(find %s -name '.*.part' -o -name '*.part')\"", folder);
    assert_int_equal(system(command), 0);
}

static void writes_what_the_contract_promises(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "run trial.cfg"), 0);
    assert_true(program_has(folder, "out/trial/plain-water.csv"));
    assert_true(program_has(folder, "out/trial/two-thirds.csv"));
    assert_true(program_has(folder, "out/trial/plain-water-visits.csv"));
    assert_true(program_has(folder, "out/trial/two-thirds-visits.csv"));
    assert_true(program_has(folder, "out/trial/summary.json"));
    assert_true(program_has(folder, "out/trial/report.html"));
    assert_true(program_has(folder, "out/trial/compare-ec.svg"));
    assert_no_halves(folder);
    char *csv = program_read(folder, "out/trial/plain-water.csv");
    static const char header[] =
        "day,volume_L,level_cm,ec_mS_cm,ph,no3_mmol_L,nh4_mmol_L,p_mmol_L,k_mmol_L,ca_"
        "mmol_L,"
        "mg_mmol_L,so4_mmol_L,na_mmol_L,cl_mmol_L,alkalinity_meq_L,salt_g,dry_mass_g,"
        "leaf_area_m2,drunk_L,evaporated_L,water_poured_L,stock_poured_L,drained_L,stage,"
        "event";
    assert_int_equal(strncmp(csv, header, strlen(header)), 0);
    free(csv);
}

/* 0.7 L/d are drunk and 0.05 L/d evaporate: 3 L in four days, two thirds of them stock.
 */
static void each_visit_is_listed_for_the_hands(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "run trial.cfg"), 0);
    program_says(folder, "stdout",
                 "A visit pours 3.0 L of water; each is listed in "
                 "plain-water-visits.csv.");
    program_says(folder, "stdout", "A visit pours 3.0 L, of which stock 2.0 L; each is");
    struct program_csv csv = program_csv_read(folder, "out/trial/two-thirds-visits.csv");
    assert_int_equal(csv.rows, 5);
    for (size_t i = 0; i < csv.rows; i++) {
        assert_close(program_csv_at(&csv, i, "day"), 4 * ((double)i + 1), 1e-12, 0);
        assert_close(program_csv_at(&csv, i, "stock_poured_L"), 0.67 * 3, 1e-5, 0);
        assert_close(program_csv_at(&csv, i, "water_poured_L"), 0.33 * 3, 1e-5, 0);
    }
    program_csv_free(&csv);
    char *page = program_read(folder, "out/trial/report.html");
    assert_int_equal(scratch_occurs(page, "What to do at each visit (5)"), 2);
    free(page);
}

static void json_on_stdout_is_the_summary_and_nothing_else(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "run trial.cfg --json --out o"), 0);
    char *text = program_read(folder, "stdout");
    cJSON *json = cJSON_ParseWithOpts(text, NULL, 1);
    assert_non_null(json);
    const cJSON *strategies = cJSON_GetObjectItemCaseSensitive(json, "strategies");
    assert_int_equal(cJSON_GetArraySize(strategies), 2);
    const cJSON *first = cJSON_GetArrayItem(strategies, 0);
    const cJSON *totals = cJSON_GetObjectItemCaseSensitive(first, "totals");
    assert_close(cJSON_GetObjectItemCaseSensitive(totals, "drunk_L")->valuedouble, 14,
                 1e-6, 0);
    assert_close(cJSON_GetObjectItemCaseSensitive(totals, "evaporated_L")->valuedouble, 1,
                 1e-6, 0);
    assert_close(cJSON_GetObjectItemCaseSensitive(totals, "visits")->valuedouble, 5, 0,
                 0);
    const cJSON *balance = cJSON_GetObjectItemCaseSensitive(first, "balance");
    assert_true(cJSON_GetObjectItemCaseSensitive(balance, "water_rel")->valuedouble <
                1e-9);
    cJSON_Delete(json);
    free(text);
}

static void one_strategy_fewer_days_and_closer_samples_can_be_asked_for(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "run trial.cfg --quiet --out o --strategy "
                                         "'Two thirds' --days 6 --sample '12 h'"),
                     0);
    assert_false(program_has(folder, "o/plain-water.csv"));
    struct program_csv csv = program_csv_read(folder, "o/two-thirds.csv");
    assert_close(program_csv_at(&csv, csv.rows - 1, "day"), 6, 0, 1e-12);
    assert_close(program_csv_at(&csv, 1, "day"), 0.5, 0, 1e-12);
    program_csv_free(&csv);
    program_silent(folder, "stdout");
}

static void bad_wishes_end_with_two_and_write_nothing(void **state)
{
    const char *folder = *state;
    static const char *const wishes[][2] = {
        {"run trial.cfg --strategy Nobody", "no strategy named \"Nobody\""},
        {"run trial.cfg --days -3", "--days: must be 0.0416667 to 3653"},
        {"run trial.cfg --days banana",
         "--days: \"banana\" does not begin with a number"},
        {"run trial.cfg --days 1e9", "--days: must be"},
        {"run trial.cfg --sample '3 kg'", "--sample: \"3 kg\" is not a time span"},
        {"run trial.cfg --sample '1 s'", "--sample: must be 1 min to 30 d"},
        {"run trial.cfg --sample 'nan h'", "--sample: \"nan h\" does not begin"},
        {"run trial.cfg --noise 3", "--noise goes with --logbook"},
        {"run trial.cfg --logbook l.csv --noise 3x",
         "--noise: \"3x\" must be a whole number"},
        {"run trial.cfg --logbook l.csv --noise 99999999999999999999",
         "must be a whole number"},
        {"run trial.cfg --logbook ''", "--logbook needs a value"},
        {"run trial.cfg --out ''", "--out needs a value"},
        {"run trial.cfg --out=", "--out= needs a value"},
        {"run trial.cfg --quiet -xh", "-x is not known"},
        {"run trial.cfg --colour", "--colour is not known"},
        {"run", "needs SCENARIO"},
        {"run trial.cfg trial.cfg", "more arguments than it takes"},
        {"run absent.cfg", "absent.cfg: No such file"},
        {"run .", "is not a file"},
        {"rnu trial.cfg", "did you mean run?"},
    };
    for (size_t i = 0; i < sizeof wishes / sizeof wishes[0]; i++) {
        program_refuses(folder, wishes[i][0], wishes[i][1]);
    }
}

static void a_mistake_is_told_with_its_line_and_nothing_is_written(void **state)
{
    const char *folder = *state;
    program_write(folder, "wrong.cfg",
                  "title = \"w\"; duration = \"20 d\";\n"
                  "bucket = { full = \"5 gal\"; evaporatoin = \"0.05 L/d\"; };\n"
                  "room = { lamp_hours = \"30 h\"; };\n"
                  "crop = { kind = \"none\"; };\nwater = { na = \"-1 mmol/L\"; };\n"
                  "strategies = ( { name = \"x\"; fill = \"watre\"; } );\n");
    assert_int_equal(program_run(folder, "run wrong.cfg"), 2);
    program_says(folder, "stderr", "wrong.cfg:2: ");
    program_says(folder, "stderr", "evaporation");
    program_says(folder, "stderr", "wrong.cfg:3: ");
    program_says(folder, "stderr", "wrong.cfg:5: ");
    program_says(folder, "stderr", "wrong.cfg:6: ");
    assert_false(program_has(folder, "out"));
}

static void back_quotes_in_names_run_nothing_and_break_nothing(void **state)
{
    const char *folder = *state;
    program_write(
        folder, "sly.cfg",
        "title = \"`touch ran1` $(touch ran2) '; set out 'ran3' <script>alert(1)"
        "</script>\"; duration = \"9 d\";\n"
        "bucket = { full = \"12 L\"; };\n"
        "crop = { kind = \"table\"; name = \"`touch ran4`\"; stages = ( { name = "
        "\"=cmd()|`touch ran5`\"; drinks = \"0.7 L/d\"; } ); };\n"
        "water = { name = \"'; !touch ran6\"; };\n"
        "strategies = ( { name = \"`touch ran7` '\\\"<b>\"; fill = \"water\"; "
        "visit_every = \"2 d\"; } );\n");
    assert_int_equal(program_run(folder, "run sly.cfg --out o --show"), 0);
    for (int i = 1; i <= 7; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "ran%d", i);
        assert_false(program_has(folder, name));
        (void)snprintf(name, sizeof name, "o/ran%d", i);
        assert_false(program_has(folder, name));
    }
    char *page = program_read(folder, "o/report.html");
    assert_null(strstr(page, "<script>alert"));
    assert_non_null(strstr(page, "&lt;script&gt;alert"));
    free(page);
}

static void without_gnuplot_the_numbers_are_there_and_the_package_is_named(void **state)
{
    const char *folder = *state;
    char command[600];
    (void)snprintf(command, sizeof command, "mkdir %s/empty", folder);
    assert_int_equal(system(command), 0);
    assert_int_equal(program_run_in(folder, "PATH=./empty", "run trial.cfg --out o"), 1);
    program_says(folder, "stderr", "gnuplot-nox");
    assert_true(program_has(folder, "o/plain-water.csv"));
    assert_true(program_has(folder, "o/summary.json"));
    assert_true(program_has(folder, "o/report.html"));
    assert_no_halves(folder);
}

static void gnuplot_dying_midway_leaves_the_numbers_and_no_halves(void **state)
{
    const char *folder = *state;
    char command[600];
    program_write(folder, "gnuplot", "#!/bin/sh\nhead -c 200 >/dev/null\nkill -9 $$\n");
    (void)snprintf(command, sizeof command, "chmod +x %s/gnuplot", folder);
    assert_int_equal(system(command), 0);
    assert_int_equal(program_run_in(folder, "PATH=.:$PATH", "run trial.cfg --out o"), 1);
    program_says(folder, "stderr", "gnuplot");
    assert_true(program_has(folder, "o/two-thirds.csv"));
    assert_no_halves(folder);
}

/* A file-size limit of 4 KiB stands for a full disk: writes fail half-way. */
static void a_full_disk_leaves_the_old_files_whole(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "run trial.cfg --quiet --out o"), 0);
    char *before = program_read(folder, "o/plain-water.csv");
    assert_int_equal(
        program_run_in(folder, "ulimit -f 4;", "run trial.cfg --quiet --out o --days 11"),
        1);
    program_says(folder, "stderr", "cannot write");
    char *after = program_read(folder, "o/plain-water.csv");
    assert_string_equal(before, after);
    assert_no_halves(folder);
    free(before);
    free(after);
}

static void a_folder_that_is_a_file_is_refused_in_words(void **state)
{
    const char *folder = *state;
    program_write(folder, "taken", "mine\n");
    assert_int_equal(program_run(folder, "run trial.cfg --out taken"), 1);
    program_says(folder, "stderr", "taken");
    char *kept = program_read(folder, "taken");
    assert_string_equal(kept, "mine\n");
    free(kept);
}

static void an_interrupt_keeps_what_was_lived(void **state)
{
    const char *folder = *state;
    program_write(
        folder, "long.cfg",
        "title = \"long\"; duration = \"3600 d\"; sample_every = \"10 min\";\n"
        "bucket = { full = \"12 L\"; };\n"
        "crop = { kind = \"table\"; name = \"t\"; stages = ( { name = \"s\"; drinks = "
        "\"0.7 L/d\"; } ); };\nwater = { };\n"
        "strategies = ( { name = \"first\"; visit_every = \"4 d\"; }, { name = "
        "\"second\"; visit_every = \"1 h\"; } );\n");
    assert_int_equal(program_interrupt(folder, "run long.cfg --out o"), 1);
    assert_no_halves(folder);
    program_says(folder, "stderr", "stopped on day");
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, in_folder, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(writes_what_the_contract_promises),
        IN_FOLDER(each_visit_is_listed_for_the_hands),
        IN_FOLDER(json_on_stdout_is_the_summary_and_nothing_else),
        IN_FOLDER(one_strategy_fewer_days_and_closer_samples_can_be_asked_for),
        IN_FOLDER(bad_wishes_end_with_two_and_write_nothing),
        IN_FOLDER(a_mistake_is_told_with_its_line_and_nothing_is_written),
        IN_FOLDER(back_quotes_in_names_run_nothing_and_break_nothing),
        IN_FOLDER(without_gnuplot_the_numbers_are_there_and_the_package_is_named),
        IN_FOLDER(gnuplot_dying_midway_leaves_the_numbers_and_no_halves),
        IN_FOLDER(a_full_disk_leaves_the_old_files_whole),
        IN_FOLDER(a_folder_that_is_a_file_is_refused_in_words),
        IN_FOLDER(an_interrupt_keeps_what_was_lived),
    };
    return cmocka_run_group_tests_name("run", tests, NULL, NULL);
}
