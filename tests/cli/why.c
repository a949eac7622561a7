/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command why, run as a user runs it. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "pailcast/study/why.h"
#include "support/program.h"

static const char pail[] =
    "title = \"Cellar `touch pwned`\"; duration = \"31 d\";\n"
    "bucket = { full = \"18.3 L\"; evaporation = \"0.041 L/d\"; };\n"
    "crop = { kind = \"table\"; name = \"bean\"; stages = ( { name = \"s\";\n"
    "  drinks = \"0.83 L/d\"; eats = { no3 = \"5.1 mmol/L\"; k = \"2.9 mmol/L\"; };\n"
    "  follows = { na = 0.11; cl = 0.3; }; } ); };\n"
    "water = { na = \"0.7 mmol/L\"; cl = \"0.7 mmol/L\"; };\n"
    "stock = { no3 = \"9.3 mmol/L\"; k = \"5.3 mmol/L\"; ca = \"2 mmol/L\";\n"
    "  na = \"0.7 mmol/L\"; cl = \"0.7 mmol/L\"; };\n"
    "strategies = (\n"
    "  { name = \"Water\"; fill = \"water\"; visit_every = \"4 d\"; },\n"
    "  { name = \"Mix, renewed\"; fill = \"mix\"; stock_share = 0.4;\n"
    "    visit_every = \"4 d\"; renew_every = \"12 d\"; } );\n";

/* The same begun on a Monday. */
static const char dated[] = "start = \"2026-09-07\";\n";

static int in_folder(void **state)
{
    (void)program_enter(state);
    program_write(*state, "pail.cfg", pail);
    return 0;
}

/* Each interval's parts add up, and each ion has its own. */
static void expect_whole(const cJSON *interval)
{
    static const char *const causes[] = {"drinking", "evaporation", "eating", "water",
                                         "stock",    "renewal",     "other"};
    const cJSON *parts = cJSON_GetObjectItemCaseSensitive(interval, "parts");
    double sum = 0;
    double moved = 0;
    assert_int_equal(cJSON_GetArraySize(parts), 7);
    for (size_t i = 0; i < 7; i++) {
        sum += program_number(parts, causes[i]);
        moved += fabs(program_number(parts, causes[i]));
    }
    const double change =
        program_number(interval, "ec_to") - program_number(interval, "ec_from");
    assert_close(sum, change, 0, 0.01 * moved);
    assert_close(program_number(interval, "closure"), fabs(change - sum) / moved, 1e-3,
                 1e-9);
    assert_true(program_number(interval, "to_day") >
                program_number(interval, "from_day"));
    const cJSON *ions = cJSON_GetObjectItemCaseSensitive(interval, "ions");
    assert_int_equal(cJSON_GetArraySize(ions), ION_COUNT);
    const cJSON *sodium = cJSON_GetObjectItemCaseSensitive(ions, "na");
    /* As near as the usual tolerance of a life, 1e-6 a step, comes. */
    assert_close(program_number(sodium, "eaten_to_drunk"), 0.11, 1e-4, 0);
}

static void the_json_holds_what_the_contract_names(void **state)
{
    const char *folder = *state;
    cJSON *root = program_json(folder, "why pail.cfg --json");
    program_silent(folder, "stderr");
    const cJSON *intervals = cJSON_GetObjectItemCaseSensitive(root, "intervals");
    assert_int_equal(cJSON_GetArraySize(intervals), 1 + 8);
    const cJSON *interval = NULL;
    cJSON_ArrayForEach(interval, intervals)
    {
        expect_whole(interval);
    }
    cJSON_Delete(root);
}

static void the_table_ends_with_sentences_and_a_picture(void **state)
{
    static const char *const parts[] = {"Cellar `touch pwned`: Mix, renewed",
                                        "drinking",
                                        "in all",
                                        "sodium",
                                        "From day 4 to day 16.5 the plant drank 10.4 L",
                                        "\n1 renewal ",
                                        "In all, EC went from ",
                                        "Drawn in out/pail/mix-renewed-why.svg."};
    const char *folder = *state;
    assert_int_equal(
        program_run(folder, "why pail.cfg --strategy 'Mix, renewed' --from 4 --to 16.5"),
        0);
    program_silent(folder, "stderr");
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        program_says(folder, "stdout", parts[i]);
    }
    assert_true(program_has(folder, "out/pail/mix-renewed-why.svg"));
    assert_false(program_has(folder, "pwned"));
}

/* Writes dated.cfg. */
static void begun(const char *folder)
{
    char text[sizeof pail + sizeof dated];
    (void)snprintf(text, sizeof text, "%s%s", dated, pail);
    program_write(folder, "dated.cfg", text);
}

static void a_date_is_its_day(void **state)
{
    const char *folder = *state;
    begun(folder);
    cJSON *root = program_json(folder, "why dated.cfg --json --from 2026-09-11 --to "
                                       "'2026-09-23 12:00'");
    const cJSON *whole =
        cJSON_GetArrayItem(cJSON_GetObjectItemCaseSensitive(root, "intervals"), 0);
    assert_close(program_number(whole, "from_day"), 4, 0, 0);
    assert_close(program_number(whole, "to_day"), 16.5, 0, 0);
    cJSON_Delete(root);
    /* what is given last holds, whichever way */
    root = program_json(folder, "why dated.cfg --json --to 2026-09-15 --to 9 --from 7 "
                                "--from 2026-09-11");
    whole = cJSON_GetArrayItem(cJSON_GetObjectItemCaseSensitive(root, "intervals"), 0);
    assert_close(program_number(whole, "from_day"), 4, 0, 0);
    assert_close(program_number(whole, "to_day"), 9, 0, 0);
    cJSON_Delete(root);
}

static void days_are_told_with_dates_from_a_start_on(void **state)
{
    const char *folder = *state;
    begun(folder);
    assert_int_equal(program_run(folder, "why dated.cfg --from 4 --to 16.5"), 0);
    program_says(folder, "stdout", "\nDay 0 is Mon 2026-09-07.\n");
    program_says(folder, "stdout",
                 "From day 4 (Fri 2026-09-11) to day 16.5 (Wed 2026-09-23) the plant");
    assert_int_equal(program_run(folder, "why pail.cfg"), 0);
    char *text = program_read(folder, "stdout");
    assert_null(strstr(text, "Day 0 is"));
    free(text);
}

static void quiet_draws_and_says_nothing(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "why --quiet pail.cfg --out elsewhere"), 0);
    program_silent(folder, "stdout");
    program_silent(folder, "stderr");
    assert_true(program_has(folder, "elsewhere/water-why.svg"));
    assert_false(program_has(folder, "out"));
}

static void what_cannot_be_asked_is_refused_and_nothing_written(void **state)
{
    static const char *const wishes[][2] = {
        {"why", "needs SCENARIO"},
        {"why none.cfg", "none.cfg: "},
        {"why pail.cfg --strategy bean", "has no strategy named \"bean\"; it has"},
        {"why pail.cfg --from soon", "--from: "},
        {"why pail.cfg --from nan", "--from: "},
        {"why pail.cfg --to inf", "--to: "},
        {"why pail.cfg --from=-1", "--from must be 0, or from an hour"},
        {"why pail.cfg --from 0.03", "--from must be 0, or from an hour"},
        {"why pail.cfg --from 31", "--from must be 0, or from an hour"},
        {"why pail.cfg --from 7 --to 7", "--to must be at least an hour"},
        {"why pail.cfg --from 7 --to 6", "--to must be at least an hour"},
        {"why pail.cfg --to 31.1", "at most 31 days"},
        {"why pail.cfg --to 1e999", "--to: "},
        {"why pail.cfg --until 5", "--until is not known"},
        {"why pail.cfg --from 2026-09-12", "--from: the scenario has no start to count "
                                           "2026-09-12 from"},
        {"why dated.cfg --from 2026-09-06", "--from: 2026-09-06 is before the scenario's "
                                            "start, 2026-09-07"},
        {"why dated.cfg --to '2026-10-08 00:01'",
         "--to: 2026-10-08 00:01 is after the scenario's end, day 31.00 (Thu "
         "2026-10-08)"},
        {"why dated.cfg --from 2026-09-31", "--from: \"2026-09-31\" is no date"},
        {"why dated.cfg --from 3/2 --to 1/2", "--to must be at least"},
        {"why dated.cfg --from 9/12/2026", "--from: \"9/12/2026\" is no date"},
        {"why dated.cfg --to '2026-09-12 24:00'", "is no date; write year-month-day"},
        {"why dated.cfg --from 2026-09-12 --to 2026-09-12", "--to must be at least"},
        {"why dated.cfg --from 2026-10-08", "--from must be 0, or from an hour"},
    };
    begun(*state);
    for (size_t i = 0; i < sizeof wishes / sizeof wishes[0]; i++) {
        program_refuses(*state, wishes[i][0], wishes[i][1]);
    }
}

static void without_gnuplot_the_numbers_are_told_all_the_same(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "why pail.cfg --json >kept"), 0);
    assert_int_equal(program_run_in(folder, "PATH=.", "why pail.cfg --json"), 1);
    program_says(folder, "stderr", "gnuplot-nox");
    program_same(folder, "kept", "stdout");
}

/* Ammonium is neither in the bucket nor poured. */
static void what_is_not_there_leads_nowhere(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "why pail.cfg"), 0);
    program_says(
        folder, "stdout",
        "ammonium           -         -       -         -       -   none there\n");
}

static void an_unwritable_folder_is_told(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "why pail.cfg --quiet --out pail.cfg/here"), 1);
    program_says(folder, "stderr", "pail.cfg");
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, in_folder, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(the_json_holds_what_the_contract_names),
        IN_FOLDER(the_table_ends_with_sentences_and_a_picture),
        IN_FOLDER(a_date_is_its_day),
        IN_FOLDER(days_are_told_with_dates_from_a_start_on),
        IN_FOLDER(quiet_draws_and_says_nothing),
        IN_FOLDER(what_cannot_be_asked_is_refused_and_nothing_written),
        IN_FOLDER(without_gnuplot_the_numbers_are_told_all_the_same),
        IN_FOLDER(what_is_not_there_leads_nowhere),
        IN_FOLDER(an_unwritable_folder_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
