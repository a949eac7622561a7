/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `tune` as a user meets it. */
#include "support/close.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <cjson/cJSON.h>

#include "support/program.h"

static const char trial[] =
    "title = \"A `trial`\"; duration = \"40 d\";\n"
    "bucket = { full = \"12 L\"; evaporation = \"0.05 L/d\"; };\n"
    "crop = { kind = \"table\"; name = \"t\"; stages = ( { name = \"s\"; drinks = \"0.7 "
    "L/d\";\n"
    "  eats = { k = \"2.3 mmol/L\"; no3 = \"2.3 mmol/L\"; }; } ); };\n"
    "water = { na = \"0.9 mmol/L\"; cl = \"0.9 mmol/L\"; };\n"
    "stock = { k = \"6.1 mmol/L\"; no3 = \"6.1 mmol/L\"; na = \"0.9 mmol/L\"; cl = \"0.9 "
    "mmol/L\"; };\n"
    "strategies = ( { name = \"Half `id` half\"; fill = \"mix\"; stock_share = 0.5; "
    "visit_every = \"2 d\"; renew_every = \"10 d\"; },\n"
    "  { name = \"Aim\"; fill = \"aim\"; aim_ec = \"0.9 mS/cm\"; visit_every = \"4 d\"; "
    "} "
    ");\n"
    "limits = { ec_high = \"1.9 mS/cm\"; };\n";

static int in_folder(void **state)
{
    (void)program_enter(state);
    program_write(*state, "trial.cfg", trial);
    return 0;
}

static void a_wasteful_strategy_is_put_right(void **state)
{
    const char *folder = *state;
    cJSON *root =
        program_json(folder, "tune trial.cfg --lives 480 --worlds 8 --json --out o");
    program_same(folder, "stdout", "o/tune.json");
    const cJSON *now = cJSON_GetObjectItem(root, "now");
    const cJSON *best = cJSON_GetObjectItem(root, "recommended");
    assert_non_null(best);
    assert_true(cJSON_IsTrue(cJSON_GetObjectItem(best, "keeps_limits")));
    static const char *const aims[] = {"water_L", "salt_poured_g", "drained_L", "visits"};
    for (size_t i = 0; i < 4; i++) {
        assert_true(program_number(best, aims[i]) < program_number(now, aims[i]));
    }
    assert_true(cJSON_GetArraySize(cJSON_GetObjectItem(root, "front")) >= 1);
    assert_non_null(
        strstr(cJSON_GetStringValue(cJSON_GetObjectItem(root, "recommendation")),
               "visit every"));
    assert_true(program_has(folder, "o/tune-front.svg"));
    assert_false(program_has(folder, "id"));
    cJSON_Delete(root);
}

static void of_what_is_never_renewed_no_share_is_told(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "tune trial.cfg --strategy Aim --lives 60 "
                                         "--worlds 4 --out o"),
                     0);
    program_says(folder, "stdout", "never        -  |");
}

static void the_second_strategy_has_its_own_settings(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "tune trial.cfg --strategy Aim --lives 48 "
                                         "--worlds 2 --json --out o"),
                     0);
    char *text = program_read(folder, "stdout");
    assert_non_null(strstr(text, "\"aim_ec_mS_cm\""));
    assert_null(strstr(text, "\"stock_share\""));
    free(text);
}

/* Nothing is renewed now, so no share of it is either. */
static void what_is_never_renewed_has_no_share(void **state)
{
    const char *folder = *state;
    assert_int_equal(
        program_run(folder, "tune trial.cfg --lives 48 --worlds 2 --days 9 --out o"), 0);
    program_says(folder, "stdout", "    never        -  |");
    program_lacks(folder, "stdout", "    never     100%");
}

static void one_of_a_kind_is_told_in_the_singular(void **state)
{
    const char *folder = *state;
    assert_int_equal(
        program_run(folder, "tune trial.cfg --lives 48 --worlds 2 --days 1 --out o"), 0);
    program_says(folder, "stdout", "each in the same 2 worlds of 1 day\n");
    assert_int_equal(
        program_run(folder, "tune trial.cfg --lives 96 --worlds 2 --days 3 --out o"), 0);
    program_says(folder, "stdout", " 1 visit;");
}

static void bad_wishes_end_with_two(void **state)
{
    const char *folder = *state;
    static const char *const wishes[][2] = {
        {"tune trial.cfg --lives 0", "--lives: \"0\" must be a whole number from 24"},
        {"tune trial.cfg --worlds 1", "--worlds: \"1\" must be a whole number from 2"},
        {"tune trial.cfg --trouble 120%",
         "--trouble: must be 0 to 1, or \"0 %\" to \"100 %\""},
        {"tune trial.cfg --growth x", "--growth: \"x\" does not begin with a number"},
        {"tune trial.cfg --strategy nobody", "no strategy named \"nobody\""},
        {"tune trial.cfg --strategy Aim --strategy Aim", "takes one --strategy"},
        {"tune trial.cfg --lives 30 --worlds 40",
         "pailcast tune: --lives: 30 do not reach"},
        {"tune nowhere.cfg", "nowhere.cfg: No such file"},
        {"tune", "needs SCENARIO"},
    };
    for (size_t i = 0; i < sizeof wishes / sizeof wishes[0]; i++) {
        program_refuses(folder, wishes[i][0], wishes[i][1]);
    }
}

/* A search that is stopped on its way; its journal is left in o. */
static void interrupt(const char *folder)
{
    assert_int_equal(program_interrupt(folder, "tune trial.cfg --lives 1000000 --out o"),
                     1);
}

static void an_interrupt_says_how_to_go_on(void **state)
{
    const char *folder = *state;
    interrupt(folder);
    program_says(folder, "stderr", "--resume goes on");
    assert_false(program_has(folder, "o/tune.json"));
    assert_true(program_has(folder, "o/tune.journal"));
}

static void a_killed_search_resumes_to_the_same_bytes(void **state)
{
    const char *folder = *state;
    program_kill_and_resume(folder, "tune trial.cfg --lives 4800 --worlds 20 --quiet");
    program_same(folder, "whole/tune.json", "killed/tune.json");
    assert_false(program_has(folder, "killed/tune.journal"));
}

static void a_journal_of_another_wish_is_refused(void **state)
{
    static const struct {
        const char *wish, *says;
    } others[] = {
        {"--lives 999999", "another --lives"},    {"--worlds 41", "another --worlds"},
        {"--trouble 11%", "another --trouble"},   {"--growth 89%", "another --growth"},
        {"--seed 2", "another --seed"},           {"--days 39", "another --days"},
        {"--strategy Aim", "of another scenario"}};
    const char *folder = *state;
    char arguments[128];
    interrupt(folder);
    char *before = program_read(folder, "o/tune.journal");
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        (void)snprintf(arguments, sizeof arguments,
                       "tune trial.cfg --lives 1000000 --resume --out o %s",
                       others[i].wish);
        assert_int_equal(program_run(folder, arguments), 2);
        program_says(folder, "stderr", others[i].says);
        char *told = program_read(folder, "stderr");
        assert_ptr_equal(strchr(told, '\n'), told + strlen(told) - 1);
        free(told);
    }
    assert_int_equal(program_run(folder, "risk --merge o/tune.journal --out o"), 2);
    program_says(folder, "stderr", "is of pailcast tune, not of risk");
    char *after = program_read(folder, "o/tune.journal");
    assert_string_equal(before, after);
    free(before);
    free(after);
}

static void the_journal_of_a_changed_scenario_is_refused(void **state)
{
    const char *folder = *state;
    char changed[sizeof trial];
    interrupt(folder);
    (void)snprintf(changed, sizeof changed, "%s", trial);
    memcpy(strstr(changed, "0.7"), "0.8", 3);
    program_write(folder, "trial.cfg", changed);
    assert_int_equal(
        program_run(folder, "tune trial.cfg --lives 1000000 --resume --out o"), 2);
    program_says(folder, "stderr", "is of another scenario");
}

static void a_full_disk_keeps_the_journal(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run_in(folder, "ulimit -f 40;",
                                    "tune trial.cfg --lives 1200 --worlds 8 --out o"),
                     1);
    program_says(folder, "stderr", "cannot be written");
    program_says(folder, "stderr", "--resume goes on");
    assert_int_equal(program_run(folder, "tune trial.cfg --lives 1200 --worlds 8 --quiet "
                                         "--resume --out o"),
                     0);
    assert_int_equal(
        program_run(folder, "tune trial.cfg --lives 1200 --worlds 8 --quiet --out a"), 0);
    program_same(folder, "a/tune.json", "o/tune.json");
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, in_folder, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(a_wasteful_strategy_is_put_right),
        IN_FOLDER(of_what_is_never_renewed_no_share_is_told),
        IN_FOLDER(the_second_strategy_has_its_own_settings),
        IN_FOLDER(what_is_never_renewed_has_no_share),
        IN_FOLDER(one_of_a_kind_is_told_in_the_singular),
        IN_FOLDER(bad_wishes_end_with_two),
        IN_FOLDER(an_interrupt_says_how_to_go_on),
        IN_FOLDER(a_killed_search_resumes_to_the_same_bytes),
        IN_FOLDER(a_journal_of_another_wish_is_refused),
        IN_FOLDER(the_journal_of_a_changed_scenario_is_refused),
        IN_FOLDER(a_full_disk_keeps_the_journal),
    };
    return cmocka_run_group_tests_name("tune", tests, NULL, NULL);
}
