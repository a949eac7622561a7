/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `pour` as a grower meets it at the bucket. */
#include "support/close.h"

#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "support/program.h"

static char folder[256];

static int in_folder(void **state)
{
    (void)state;
    program_folder(folder);
    return 0;
}

static int leave_folder(void **state)
{
    (void)state;
    program_clean(folder);
    return 0;
}

static void says(const char *stream, const char *words)
{
    char *text = program_read(folder, stream);
    if (strstr(text, words) == NULL) {
        print_error("%s does not say \"%s\" but:\n%s\n", stream, words, text);
        fail();
    }
    free(text);
}

static cJSON *json_of(const char *arguments)
{
    assert_int_equal(program_run(folder, arguments), 0);
    char *text = program_read(folder, "stdout");
    cJSON *json = cJSON_ParseWithOpts(text, NULL, 1);
    assert_non_null(json);
    free(text);
    return json;
}

static double number(const cJSON *json, const char *key)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(json, key);
    assert_true(cJSON_IsNumber(item));
    return item->valuedouble;
}

static void json_fills_the_free_room_and_reaches_the_aim(void **state)
{
    (void)state;
    cJSON *json =
        json_of("pour --volume '7.4 L' --full '19 L' --ec 3.0 --aim 1.9 --water-ec "
                "0.15 --stock-ec 1.95 --json");
    assert_close(number(json, "water_L") + number(json, "stock_L"), 19 - 7.4, 1e-9, 0);
    assert_close(number(json, "drain_L"), 0, 0, 0);
    assert_close(number(json, "ec_after_mS_cm"), 1.9, 0.005, 0);
    assert_true(cJSON_IsTrue(cJSON_GetObjectItemCaseSensitive(json, "possible")));
    assert_true(cJSON_IsString(cJSON_GetObjectItemCaseSensitive(json, "why")));
    cJSON_Delete(json);
}

static void gallons_in_gallons_out(void **state)
{
    (void)state;
    assert_int_equal(program_run(folder,
                                 "pour --volume '2.5 gal' --full '5 gal' --ec '1700 "
                                 "ppm500' --aim '700 ppm500' --water-ec '90 ppm500' "
                                 "--stock-ec '950 ppm500'"),
                     0);
    says("stdout", "cups");
    says("stdout", "gal");
    says("stdout", "drain");
    says("stdout", "700 ppm500");
    cJSON *json =
        json_of("pour --volume '2.5 gal' --full '5 gal' --ec '1700 ppm500' --aim "
                "'700 ppm500' --water-ec '90 ppm500' --json");
    assert_true(number(json, "drain_L") > 2);
    assert_true(cJSON_IsFalse(cJSON_GetObjectItemCaseSensitive(json, "possible")));
    cJSON_Delete(json);
}

static void two_readings_are_enough_to_tell_the_level(void **state)
{
    (void)state;
    cJSON *json =
        json_of("pour --before 3.0 --after 1.16 --aim 1.9 --full '19 L' --json");
    assert_close(number(json, "filled_fraction"), 0.39, 0, 0.005);
    assert_close(number(json, "salt_left_fraction"), 0.61, 0, 0.005);
    cJSON_Delete(json);
}

static void a_scenario_pours_by_its_ions(void **state)
{
    (void)state;
    program_write(
        folder, "s.cfg",
        "title = \"s\"; duration = \"30 d\"; bucket = { full = \"18 L\"; };\n"
        "crop = { kind = \"none\"; };\n@include \"waters/hard_tap.cfg\"\n"
        "@include \"recipes/leafy_full.cfg\"\n"
        "strategies = ( { name = \"it\"; fill = \"aim\"; aim_ec = \"1.5 mS/cm\"; } );\n");
    cJSON *json = json_of("pour s.cfg --volume '7 L' --ec 2.2 --json");
    assert_close(number(json, "ec_after_mS_cm"), 1.5, 0.005, 0);
    assert_close(number(json, "water_L") + number(json, "stock_L"), 11, 1e-9, 0);
    cJSON_Delete(json);
}

static void what_cannot_be_is_refused_in_a_line(void **state)
{
    (void)state;
    const char *const wishes[] = {
        "pour --volume 30 --full 19 --ec 2 --aim 1",
        "pour --volume -3 --full 19 --ec 2 --aim 1",
        "pour --volume nan --full 19 --ec 2 --aim 1",
        "pour --volume 3 --full 19 --ec 2",
        "pour --volume 3 --full 19 --ec inf --aim 1",
        "pour --volume '3 kg' --full 19 --ec 2 --aim 1",
        "pour --volume 3 --full 19 --ec 2 --aim 0",
        "pour --volume 3 --full 0 --ec 2 --aim 1",
        "pour --before 1.0 --after 2.0 --aim 1.9 --full 19",
        "pour",
        "pour nothing.cfg --volume 3 --ec 2 --aim 1",
    };
    for (size_t i = 0; i < sizeof wishes / sizeof wishes[0]; i++) {
        if (program_run(folder, wishes[i]) != 2) {
            print_error("accepted: %s\n", wishes[i]);
            fail();
        }
        char *said = program_read(folder, "stderr");
        assert_true(strlen(said) > 15);
        free(said);
    }
}

static void an_outage_is_told_in_hours(void **state)
{
    (void)state;
    assert_int_equal(program_run(folder,
                                 "pour --outage --volume '12 L' --temperature '72 F' "
                                 "--roots '20 g'"),
                     0);
    says("stdout", "mg/L");
    says("stdout", " h");
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, in_folder, leave_folder)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(json_fills_the_free_room_and_reaches_the_aim),
        IN_FOLDER(gallons_in_gallons_out),
        IN_FOLDER(two_readings_are_enough_to_tell_the_level),
        IN_FOLDER(a_scenario_pours_by_its_ions),
        IN_FOLDER(what_cannot_be_is_refused_in_a_line),
        IN_FOLDER(an_outage_is_told_in_hours),
    };
    return cmocka_run_group_tests_name("pour command", tests, NULL, NULL);
}
