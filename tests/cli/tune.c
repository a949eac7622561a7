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
    assert_int_equal(program_run(folder, "tune trial.cfg --lives 480 --worlds 8 --json "
                                         "--out o"),
                     0);
    char *text = program_read(folder, "stdout");
    char *file = program_read(folder, "o/tune.json");
    assert_string_equal(text, file);
    cJSON *root = cJSON_Parse(text);
    assert_non_null(root);
    const cJSON *now = cJSON_GetObjectItem(root, "now");
    const cJSON *best = cJSON_GetObjectItem(root, "recommended");
    assert_non_null(best);
    assert_true(cJSON_IsTrue(cJSON_GetObjectItem(best, "keeps_limits")));
    static const char *const aims[] = {"water_L", "salt_poured_g", "drained_L", "visits"};
    for (size_t i = 0; i < 4; i++) {
        assert_true(cJSON_GetNumberValue(cJSON_GetObjectItem(best, aims[i])) <
                    cJSON_GetNumberValue(cJSON_GetObjectItem(now, aims[i])));
    }
    assert_true(cJSON_GetArraySize(cJSON_GetObjectItem(root, "front")) >= 1);
    assert_non_null(
        strstr(cJSON_GetStringValue(cJSON_GetObjectItem(root, "recommendation")),
               "visit every"));
    assert_true(program_has(folder, "o/tune-front.svg"));
    assert_false(program_has(folder, "id"));
    cJSON_Delete(root);
    free(text);
    free(file);
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

static void bad_wishes_end_with_two(void **state)
{
    static const char *const wishes[] = {"tune trial.cfg --lives 0",
                                         "tune trial.cfg --worlds 1",
                                         "tune trial.cfg --trouble 120%",
                                         "tune trial.cfg --growth x",
                                         "tune trial.cfg --strategy nobody",
                                         "tune trial.cfg --strategy Aim --strategy Aim",
                                         "tune trial.cfg --lives 30 --worlds 40",
                                         "tune nowhere.cfg",
                                         "tune"};
    const char *folder = *state;
    for (size_t i = 0; i < sizeof wishes / sizeof wishes[0]; i++) {
        if (program_run(folder, wishes[i]) != 2) {
            fail_msg("%s was taken", wishes[i]);
        }
        assert_false(program_has(folder, "out"));
    }
}

static void an_interrupt_ends_cleanly(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run_in(folder, "timeout --preserve-status -s INT 0.3",
                                    "tune trial.cfg --lives 1000000 --out o"),
                     1);
    assert_false(program_has(folder, "o/tune.json"));
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, in_folder, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(a_wasteful_strategy_is_put_right),
        IN_FOLDER(the_second_strategy_has_its_own_settings),
        IN_FOLDER(bad_wishes_end_with_two),
        IN_FOLDER(an_interrupt_ends_cleanly),
    };
    return cmocka_run_group_tests_name("tune", tests, NULL, NULL);
}
