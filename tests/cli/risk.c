/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `risk` as a user meets it. */
#include "support/close.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <cjson/cJSON.h>

#include "support/program.h"

static const char trial[] =
    "title = \"A `trial`\"; duration = \"24 d\";\n"
    "bucket = { full = \"12 L\"; evaporation = \"0.05 L/d\"; };\n"
    "crop = { kind = \"table\"; name = \"t\"; stages = ( { name = \"s\"; drinks = \"0.7 "
    "L/d\";\n"
    "  eats = { k = \"2.3 mmol/L\"; no3 = \"2.3 mmol/L\"; }; } ); };\n"
    "water = { na = \"0.9 mmol/L\"; cl = \"0.9 mmol/L\"; };\n"
    "stock = { k = \"6.1 mmol/L\"; no3 = \"6.1 mmol/L\"; na = \"0.9 mmol/L\"; cl = \"0.9 "
    "mmol/L\"; };\n"
    "strategies = ( { name = \"Plain water\"; fill = \"water\"; visit_every = \"4 d\"; "
    "},\n"
    "  { name = \"Stock's `rm -rf` 日本\"; fill = \"stock\"; visit_every = \"4 d\"; } "
    ");\n"
    "limits = { ec_high = \"1.3 mS/cm\"; na = \"2 mmol/L\"; };\n";

static int in_folder(void **state)
{
    (void)program_enter(state);
    program_write(*state, "trial.cfg", trial);
    return 0;
}

static void json_has_what_the_contract_promises(void **state)
{
    static const char *const chances[] = {"ec_high", "sodium_high", "nutrient_low",
                                          "roots_dry", "lost"};
    static const char *const amounts[] = {"growth_index", "drained_L"};
    const char *folder = *state;
    cJSON *root = program_json(
        folder, "risk trial.cfg --lives 41 --matters 12 --seed 5 --json --out o");
    const cJSON *strategies = cJSON_GetObjectItem(root, "strategies");
    assert_int_equal(cJSON_GetArraySize(strategies), 2);
    const cJSON *row;
    cJSON_ArrayForEach(row, strategies)
    {
        assert_close(program_number(row, "lives"), 41, 0, 0);
        for (size_t i = 0; i < 5; i++) {
            const double share =
                program_number(cJSON_GetObjectItem(row, "chance"), chances[i]);
            assert_true(share >= 0 && share <= 1);
        }
        for (size_t i = 0; i < 2; i++) {
            const cJSON *amount = cJSON_GetObjectItem(row, amounts[i]);
            const double median = program_number(amount, "p50");
            assert_true(program_number(amount, "p10") <= median &&
                        median <= program_number(amount, "p90"));
        }
    }
    assert_string_equal(cJSON_GetStringValue(cJSON_GetObjectItem(
                            cJSON_GetArrayItem(strategies, 1), "name")),
                        "Stock's `rm -rf` 日本");
    cJSON_Delete(root);
    program_same(folder, "stdout", "o/risk.json");
    assert_true(program_has(folder, "o/risk-fans.svg"));
    assert_true(program_has(folder, "o/risk-quiet.svg"));
    assert_true(program_has(folder, "o/risk-matters.svg"));
    assert_false(program_has(folder, "o/risk.journal"));
}

static void a_verdict_closes_the_table_and_stands_in_the_json(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "risk trial.cfg --lives 64 --out o"), 0);
    program_says(folder, "stdout",
                 "\nNo strategy here stays out of trouble in nine "
                 "worlds of ten; the best, \"");
    program_says(folder, "stdout", "\n  > Against ");
    program_says(folder, "stdout", ", still ");
    char *text = program_read(folder, "o/risk.json");
    cJSON *root = cJSON_Parse(text);
    free(text);
    const char *verdict = cJSON_GetStringValue(cJSON_GetObjectItem(root, "verdict"));
    assert_non_null(verdict);
    assert_non_null(strstr(verdict, "nine worlds of ten"));
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(root, "recommended")), 1);
    const cJSON *row;
    cJSON_ArrayForEach(row, cJSON_GetObjectItem(root, "strategies"))
    {
        assert_true(cJSON_IsString(cJSON_GetObjectItem(row, "next_step")));
        const cJSON *chance;
        cJSON_ArrayForEach(chance, cJSON_GetObjectItem(row, "chance"))
        {
            const double left = program_number(
                cJSON_GetObjectItem(row, "chance_after_last_visit"), chance->string);
            assert_true(left >= 0 && left <= chance->valuedouble);
        }
    }
    cJSON_Delete(root);
}

static void jobs_and_parts_change_no_byte(void **state)
{
    const char *folder = *state;
    assert_int_equal(
        program_run(folder, "risk trial.cfg --lives 30 --jobs 1 --quiet --out a"), 0);
    assert_int_equal(
        program_run(folder, "risk trial.cfg --lives 30 --jobs 3 --quiet --out b"), 0);
    program_same(folder, "a/risk.json", "b/risk.json");
    for (int i = 1; i <= 3; i++) {
        char arguments[128];
        (void)snprintf(arguments, sizeof arguments,
                       "risk trial.cfg --lives 30 --part %d/3 --quiet --out p", i);
        assert_int_equal(program_run(folder, arguments), 0);
    }
    assert_int_equal(program_run(folder, "risk --merge p/risk-3-of-3.part "
                                         "p/risk-1-of-3.part p/risk-2-of-3.part --quiet "
                                         "--out m"),
                     0);
    program_same(folder, "a/risk.json", "m/risk.json");
    program_same(folder, "a/risk-bands.csv", "m/risk-bands.csv");
    program_write(folder, "p/risk-2-of-3.part", "something else");
    assert_int_equal(program_run(folder, "risk trial.cfg --lives 30 --part 2/3 --resume "
                                         "--quiet --out p"),
                     2);
    program_says(folder, "stderr", "is no journal");
    assert_int_equal(program_run(folder, "risk trial.cfg --lives 30 --part 2/3 --quiet "
                                         "--out p"),
                     0);
    assert_int_equal(program_run(folder, "risk trial.cfg --lives 30 --part 2/3 --resume "
                                         "--quiet --out p"),
                     0);
    assert_int_equal(program_run(folder, "risk --merge p/risk-2-of-3.part "
                                         "p/risk-1-of-3.part p/risk-3-of-3.part --quiet "
                                         "--out m2"),
                     0);
    program_same(folder, "a/risk.json", "m2/risk.json");
    assert_int_equal(program_run(folder, "risk --merge p/risk-3-of-3.part --out m"), 2);
    program_says(folder, "stderr", "are in none of these parts");
    program_refuses(folder, "risk --merge p/risk-3-of-3.part absent.part",
                    "absent.part: cannot be opened");
}

static void a_killed_study_resumes_to_the_same_bytes(void **state)
{
    const char *folder = *state;
    program_kill_and_resume(folder, "risk trial.cfg --lives 1500 --matters 60 --quiet");
    program_same(folder, "whole/risk.json", "killed/risk.json");
    assert_false(program_has(folder, "killed/risk.journal"));
}

static void an_interrupt_says_how_to_go_on(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_interrupt(folder, "risk trial.cfg --lives 20000 --out o"),
                     1);
    program_says(folder, "stderr", "--resume goes on");
    assert_true(program_has(folder, "o/risk.journal"));
}

static void another_scenarios_journal_is_refused(void **state)
{
    const char *folder = *state;
    char changed[sizeof trial + 8];
    assert_int_equal(program_interrupt(folder, "risk trial.cfg --lives 20000 --out o"),
                     1);
    (void)snprintf(changed, sizeof changed, "%s\n", trial);
    memcpy(strstr(changed, "0.7"), "0.8", 3);
    program_write(folder, "trial.cfg", changed);
    assert_int_equal(program_run(folder, "risk trial.cfg --lives 20000 --resume --out o"),
                     2);
    program_says(folder, "stderr", "is of another scenario");
    assert_true(program_has(folder, "o/risk.journal"));
}

static void a_full_disk_keeps_the_journal(void **state)
{
    const char *folder = *state;
    assert_int_equal(
        program_run_in(folder, "ulimit -f 40;", "risk trial.cfg --lives 300 --out o"), 1);
    program_says(folder, "stderr", "cannot be written");
    program_says(folder, "stderr", "--resume goes on");
    assert_int_equal(program_run(folder, "risk trial.cfg --lives 300 --resume --quiet "
                                         "--out o"),
                     0);
    assert_int_equal(program_run(folder, "risk trial.cfg --lives 300 --quiet --out a"),
                     0);
    program_same(folder, "a/risk.json", "o/risk.json");
}

static void a_limit_that_no_strategy_keeps_is_said(void **state)
{
    const char *folder = *state;
    char changed[sizeof trial + 8];
    (void)snprintf(changed, sizeof changed, "%s", trial);
    memcpy(strstr(changed, "1.3 mS/cm"), "0.2 mS/cm", 9);
    program_write(folder, "strict.cfg", changed);
    assert_int_equal(program_run(folder, "risk strict.cfg --lives 20 --out o"), 0);
    program_says(folder, "stdout", "No strategy here keeps clear of these in most lives");
    program_says(folder, "stdout",
                 "\n    EC above its limit               100 %, under every one\n");
    assert_int_equal(
        program_run(folder, "risk strict.cfg --strategy Plain --lives 20 --out o"), 0);
    program_says(folder, "stdout",
                 "\n    EC above its limit               100 %, Plain water\n");
    assert_int_equal(program_run(folder, "risk trial.cfg --lives 20 --out o"), 0);
    char *text = program_read(folder, "stdout");
    assert_null(strstr(text, "EC above its limit               100 %, "));
    free(text);
}

static void one_of_a_kind_is_told_in_the_singular(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "risk trial.cfg --lives 1 --matters 1 --days 1"),
                     0);
    program_says(folder, "stdout",
                 ": 1 life of 1 day under each strategy, the same world for all\n");
    program_says(folder, "stdout", "from 1 life and 1 row of --matters");
}

static void too_few_lives_for_what_matters_are_said(void **state)
{
    static const char line[] = "What matters most cannot be told from ";
    const char *folder = *state;
    assert_int_equal(program_run(folder, "risk trial.cfg --lives 96 --out o"), 0);
    assert_true(program_has(folder, "o/risk-matters.svg"));
    char *text = program_read(folder, "stdout");
    assert_null(strstr(text, line));
    free(text);
    static const char *const few[] = {"risk trial.cfg --lives 3 --out o",
                                      "risk trial.cfg --lives 16 --out o",
                                      "risk trial.cfg --lives 96 --matters 2 --out o"};
    for (size_t i = 0; i < sizeof few / sizeof few[0]; i++) {
        assert_int_equal(program_run(folder, few[i]), 0);
        assert_false(program_has(folder, "o/risk-matters.svg"));
        assert_true(program_has(folder, "o/risk-fans.svg"));
        program_says(folder, "stdout", line);
        program_says(folder, "stdout", "about 96 lives, or --matters 12, are needed");
        text = program_read(folder, "o/risk.json");
        cJSON *root = cJSON_Parse(text);
        assert_close(
            cJSON_GetNumberValue(cJSON_GetObjectItem(root, "matters_lives_needed")), 96,
            0, 0);
        cJSON_Delete(root);
        free(text);
    }
    assert_int_equal(program_run(folder, "risk trial.cfg --matters 0 --lives 16 --out o"),
                     0);
    text = program_read(folder, "stdout");
    assert_null(strstr(text, "What matters"));
    free(text);
}

/* Of pure water in an empty pail nothing varies: its panel is drawn without bars. */
static void a_strategy_of_which_nothing_can_be_told_has_its_panel(void **state)
{
    const char *folder = *state;
    program_write(folder, "still.cfg",
                  "title = \"t\"; duration = \"24 d\"; crop = { kind = \"none\"; };\n"
                  "bucket = { full = \"12 L\"; evaporation = \"0.05 L/d\"; };\n"
                  "water = { }; start_stock_share = 0.0;\n"
                  "uncertain = { water_temperature = \"none\"; };\n"
                  "stock = { k = \"6.1 mmol/L\"; no3 = \"6.1 mmol/L\"; };\n"
                  "strategies = ( { name = \"Stock\"; fill = \"stock\"; },\n"
                  "  { name = \"Water\"; fill = \"water\"; } );\n");
    assert_int_equal(program_run(folder, "risk still.cfg --lives 320 --out o"), 0);
    program_says(folder, "stdout", "EC at the end");
    program_says(folder, "stdout", "  Water\n    nothing can be told");
    program_says(folder, "o/risk-matters.svg", "nothing can be told");
}

static void bad_wishes_end_with_two(void **state)
{
    const char *folder = *state;
    static const char *const wishes[][2] = {
        {"risk trial.cfg --lives 0",
         "--lives: \"0\" must be a whole number from 1 to 100000"},
        {"risk trial.cfg --lives -3", "--lives: \"-3\" must be"},
        {"risk trial.cfg --lives 1e9", "--lives: \"1e9\" must be"},
        {"risk trial.cfg --part 3/2", "--part: must be I/N"},
        {"risk trial.cfg --part 2", "--part: must be I/N"},
        {"risk trial.cfg --jobs 0", "--jobs: \"0\" must be"},
        {"risk trial.cfg --seed x", "--seed: \"x\" must be"},
        {"risk trial.cfg --strategy nobody", "no strategy named \"nobody\""},
        {"risk trial.cfg trial.cfg", "takes one scenario, or parts with --merge"},
        {"risk --merge trial.cfg", "trial.cfg: is no journal of a study"},
        {"risk --merge absent.part", "absent.part: cannot be opened"},
        {"risk --merge a.part --seed 3",
         "--merge takes --days, --lives, --seed and --matters"},
        {"risk nowhere.cfg", "nowhere.cfg: No such file"},
        {"risk trial.cfg --matters 50 --lives 20", "must not be more than --lives"},
        {"risk --merge a.part --resume", "neither --resume nor --part"},
        {"risk", "needs SCENARIO, or --merge PART"},
        {"risk trial.cfg --scenario b.cfg", "--scenario goes with --merge only"},
    };
    for (size_t i = 0; i < sizeof wishes / sizeof wishes[0]; i++) {
        program_refuses(folder, wishes[i][0], wishes[i][1]);
    }
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, in_folder, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(json_has_what_the_contract_promises),
        IN_FOLDER(a_verdict_closes_the_table_and_stands_in_the_json),
        IN_FOLDER(jobs_and_parts_change_no_byte),
        IN_FOLDER(a_killed_study_resumes_to_the_same_bytes),
        IN_FOLDER(an_interrupt_says_how_to_go_on),
        IN_FOLDER(another_scenarios_journal_is_refused),
        IN_FOLDER(a_full_disk_keeps_the_journal),
        IN_FOLDER(a_limit_that_no_strategy_keeps_is_said),
        IN_FOLDER(one_of_a_kind_is_told_in_the_singular),
        IN_FOLDER(too_few_lives_for_what_matters_are_said),
        IN_FOLDER(a_strategy_of_which_nothing_can_be_told_has_its_panel),
        IN_FOLDER(bad_wishes_end_with_two),
    };
    return cmocka_run_group_tests_name("risk", tests, NULL, NULL);
}
