/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `pour` as a grower meets it at the bucket. */
#include "support/close.h"

#include <stdio.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "support/program.h"

static void json_fills_the_free_room_and_reaches_the_aim(void **state)
{
    const char *folder = *state;
    cJSON *json = program_json(
        folder, "pour --volume '7.4 L' --full '19 L' --ec 3.0 --aim 1.9 --water-ec "
                "0.15 --stock-ec 1.95 --json");
    assert_close(program_number(json, "water_L") + program_number(json, "stock_L"),
                 19 - 7.4, 1e-9, 0);
    assert_close(program_number(json, "drain_L"), 0, 0, 0);
    assert_close(program_number(json, "ec_after_mS_cm"), 1.9, 0.005, 0);
    assert_true(cJSON_IsTrue(cJSON_GetObjectItemCaseSensitive(json, "possible")));
    assert_true(cJSON_IsString(cJSON_GetObjectItemCaseSensitive(json, "why")));
    cJSON_Delete(json);
}

static void gallons_in_gallons_out(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder,
                                 "pour --volume '2.5 gal' --full '5 gal' --ec '1700 "
                                 "ppm500' --aim '700 ppm500' --water-ec '90 ppm500' "
                                 "--stock-ec '950 ppm500'"),
                     0);
    program_says(folder, "stdout", "cups");
    program_says(folder, "stdout", "gal");
    program_says(folder, "stdout", "drain");
    program_says(folder, "stdout", "700 ppm500");
    cJSON *json = program_json(
        folder, "pour --volume '2.5 gal' --full '5 gal' --ec '1700 ppm500' --aim "
                "'700 ppm500' --water-ec '90 ppm500' --json");
    assert_true(program_number(json, "drain_L") > 2);
    assert_true(cJSON_IsFalse(cJSON_GetObjectItemCaseSensitive(json, "possible")));
    cJSON_Delete(json);
}

static void two_readings_are_enough_to_tell_the_level(void **state)
{
    const char *folder = *state;
    cJSON *json = program_json(
        folder, "pour --before 3.0 --after 1.16 --aim 1.9 --full '19 L' --json");
    assert_close(program_number(json, "filled_fraction"), 0.39, 0, 0.005);
    assert_close(program_number(json, "salt_left_fraction"), 0.61, 0, 0.005);
    cJSON_Delete(json);
}

static void a_scenario_pours_by_its_ions(void **state)
{
    const char *folder = *state;
    program_write(
        folder, "s.cfg",
        "title = \"s\"; duration = \"30 d\"; bucket = { full = \"18 L\"; };\n"
        "crop = { kind = \"none\"; };\n@include \"waters/hard_tap.cfg\"\n"
        "@include \"recipes/leafy_full.cfg\"\n"
        "strategies = ( { name = \"it\"; fill = \"aim\"; aim_ec = \"1.5 mS/cm\"; } );\n");
    cJSON *json = program_json(folder, "pour s.cfg --volume '7 L' --ec 2.2 --json");
    assert_close(program_number(json, "ec_after_mS_cm"), 1.5, 0.005, 0);
    assert_close(program_number(json, "water_L") + program_number(json, "stock_L"), 11,
                 1e-9, 0);
    cJSON_Delete(json);
}

/* Hard water, and a strategy with acid: what the pH pen says decides on the dose. */
static void the_ph_pen_tells_how_much_acid(void **state)
{
    const char *folder = *state;
    program_write(
        folder, "a.cfg",
        "title = \"a\"; duration = \"30 d\"; bucket = { full = \"18 L\"; };\n"
        "crop = { kind = \"none\"; };\n@include \"waters/hard_tap.cfg\"\n"
        "@include \"recipes/leafy_full.cfg\"\n"
        "strategies = ( { name = \"acid\"; fill = \"aim\"; aim_ec = \"1.5 mS/cm\";\n"
        "adjust = { with = \"HNO3\"; above_ph = 6.5; to_ph = 5.9; }; },\n"
        "{ name = \"none\"; fill = \"aim\"; aim_ec = \"1.5 mS/cm\"; } );\n");
    const char *const asked = "pour a.cfg --volume '7 L' --ec 2.2 --ph 7.1 --json";
    cJSON *json = program_json(folder, asked);
    cJSON *more =
        program_json(folder, "pour a.cfg --volume '7 L' --ec 2.2 --ph 7.5 --json");
    const cJSON *dose = cJSON_GetObjectItem(json, "adjust");
    assert_close(program_number(json, "ph_before"), 7.1, 0, 0.01);
    assert_close(program_number(json, "ph_after"), 5.9, 0, 0.01);
    assert_true(program_number(dose, "mmol") > 1);
    assert_true(program_number(json, "ph_at_once") < 5.9 - 0.2);
    assert_true(program_number(cJSON_GetObjectItem(more, "adjust"), "mmol") >
                program_number(dose, "mmol"));
    cJSON_Delete(json);
    cJSON_Delete(more);
    assert_int_equal(program_run(folder, "pour a.cfg --volume '7 L' --ec 2.2 --ph 7.1"),
                     0);
    program_says(folder, "stdout", "pH 7.1 now, and ");
    program_says(folder, "stdout", "of nitric acid (HNO3), reckoned as pure");
    program_says(folder, "stdout", "acid into water and never the other way round");
    program_says(folder, "stdout",
                 "by tomorrow, when the carbon dioxide set free has left, pH 5.9. Do not "
                 "correct it today.");
    json = program_json(folder, "pour a.cfg --strategy none --volume '7 L' --ec 2.2 --ph "
                                "7.1 --json");
    assert_true(cJSON_IsNull(cJSON_GetObjectItem(json, "adjust")));
    assert_close(program_number(json, "ph_before"), 7.1, 0, 0.01);
    cJSON_Delete(json);
    program_refuses(folder, "pour a.cfg --volume '0 L' --ph 7",
                    "--ph: there is nothing in");
    program_refuses(folder, "pour a.cfg --volume '7 L' --ec 0.3 --ph 9.7",
                    "no bucket of these ions reads pH 9.7 at that EC");
    program_refuses(folder, "pour a.cfg --volume '7 L' --ec 2.2 --ph 13",
                    "--ph: must be");
}

/* Two parts of stock to three of water; and half a gallon at a time. */
static void a_fixed_mix_is_poured_without_an_aim(void **state)
{
    const char *folder = *state;
    program_write(
        folder, "m.cfg",
        "title = \"m\"; duration = \"30 d\"; bucket = { full = \"18 L\"; };\n"
        "crop = { kind = \"none\"; };\n@include \"waters/hard_tap.cfg\"\n"
        "@include \"recipes/leafy_full.cfg\"\n"
        "strategies = ( { name = \"mix\"; fill = \"mix\"; stock_share = 0.4; },\n"
        "  { name = \"little\"; fill = \"stock\"; pour = \"0.5 gal\"; } );\n");
    cJSON *json = program_json(folder, "pour m.cfg --volume '7 L' --ec 2.2 --json");
    assert_close(program_number(json, "stock_L"), 0.4 * 11, 1e-3, 0);
    assert_close(program_number(json, "water_L"), 0.6 * 11, 1e-3, 0);
    assert_true(cJSON_IsTrue(cJSON_GetObjectItem(json, "possible")));
    cJSON_Delete(json);
    json = program_json(folder, "pour m.cfg --strategy little --volume '7 L' --ec 2.2 "
                                "--json");
    assert_close(program_number(json, "stock_L"), 0.5 * 3.785411784, 1e-3, 0);
    assert_close(program_number(json, "water_L"), 0, 0, 1e-3);
    cJSON_Delete(json);
}

/* Straight walls by pen: 21 of 31 cm. A scenario's bucket by its own shape. */
static void a_level_is_as_good_as_a_volume(void **state)
{
    const char *folder = *state;
    cJSON *level = program_json(
        folder, "pour --level '21 cm' --full-level '31 cm' --full '19 L' --ec "
                "2.2 --aim 1.7 --stock-ec 2.1 --json");
    assert_close(program_number(level, "water_L") + program_number(level, "stock_L"),
                 19 * 10.0 / 31, 1e-9, 0);
    program_write(
        folder, "s.cfg",
        "title = \"s\"; duration = \"30 d\"; bucket = { full = \"18 L\"; height = \"40 "
        "cm\"; top_diameter = \"25 cm\"; };\n"
        "crop = { kind = \"none\"; };\n@include \"waters/soft_tap.cfg\"\n"
        "@include \"recipes/leafy_full.cfg\"\n"
        "strategies = ( { name = \"it\"; } );\n");
    cJSON *shaped =
        program_json(folder, "pour s.cfg --level '20 cm' --ec 2.2 --aim 1.7 --json");
    /* a cylinder: 20 x 3.14159 x 12.5^2 cm3 */
    assert_close(program_number(shaped, "water_L") + program_number(shaped, "stock_L"),
                 18 - 9.81748, 1e-5, 0);
    cJSON_Delete(level);
    cJSON_Delete(shaped);
}

static void a_day_may_be_a_date(void **state)
{
    static const char bucket[] =
        "duration = \"30 d\"; bucket = { full = \"18 L\"; evaporation = \"0.5 L/d\"; };\n"
        "title = \"s\"; crop = { kind = \"none\"; }; water = { }; start_stock_share = "
        "0.5;\n"
        "stock = { k = \"9 mmol/L\"; no3 = \"9 mmol/L\"; };\n"
        "strategies = ( { name = \"it\"; visit_every = \"20 d\"; } );\n";
    const char *folder = *state;
    char dated[sizeof bucket + 32];
    (void)snprintf(dated, sizeof dated, "start = \"2027-02-25\";\n%s", bucket);
    program_write(folder, "dated.cfg", dated);
    program_write(folder, "plain.cfg", bucket);
    cJSON *json =
        program_json(folder, "pour dated.cfg --day '2027-03-03 12:00' --aim 0.7 --json");
    /* 6.5 days of evaporation */
    assert_close(program_number(json, "water_L") + program_number(json, "stock_L"), 3.25,
                 1e-5, 0);
    cJSON_Delete(json);
    program_refuses(folder, "pour plain.cfg --day 2027-03-03 --aim 1.1",
                    "--day: the scenario has no start to count 2027-03-03 from");
    program_refuses(folder, "pour dated.cfg --day 2027-02-24 --aim 1.1",
                    "--day: 2027-02-24 is before the scenario's start, 2027-02-25");
    program_refuses(folder, "pour dated.cfg --day 2027-03-28 --outage",
                    "2027-03-28 is after the scenario's end, day 30.00 (Sat 2027-03-27)");
    program_refuses(folder, "pour dated.cfg --day 2027-02-25 --aim 1.1",
                    "day 0 is not in the scenario");
    program_refuses(folder, "pour --day 2027-03-03 --outage --volume 3",
                    "--day need a SCENARIO");
}

/* A bucket lived to a day knows its volume and EC itself, before that day's visit;
 * strategies keep their own water. */
static void a_day_of_a_scenario_needs_no_reading(void **state)
{
    const char *folder = *state;
    program_write(
        folder, "s.cfg",
        "title = \"s\"; duration = \"30 d\"; bucket = { full = \"18 L\"; evaporation = "
        "\"0.5 L/d\"; };\n"
        "crop = { kind = \"none\"; };\n@include \"waters/reverse_osmosis.cfg\"\n"
        "@include \"recipes/leafy_full.cfg\"\ndisplay = { volume = \"gal\"; };\n"
        "strategies = ( { name = \"it\"; visit_every = \"20 d\"; },\n"
        " { name = \"hard\"; visit_every = \"20 d\";\n"
        "@include \"waters/hard_tap.cfg\"\n } );\n");
    cJSON *json = program_json(folder, "pour s.cfg --day 10 --aim 2.1 --json");
    /* 5 L evaporated, nothing poured yet: 13 of 18 L, and all the salt */
    assert_close(program_number(json, "water_L") + program_number(json, "stock_L"), 5,
                 1e-5, 0);
    assert_true(program_number(json, "ec_before_mS_cm") > 1.9 * 1.25);
    cJSON *visited = program_json(folder, "pour s.cfg --day 20 --aim 2.1 --json");
    assert_close(program_number(visited, "water_L") + program_number(visited, "stock_L"),
                 10, 1e-5, 0);
    assert_int_equal(program_run(folder, "pour s.cfg --strategy hard --volume '2 gal' "
                                         "--ec 3 --aim 0.5"),
                     0);
    program_says(folder, "stdout", "The water itself reads 0.7");
    assert_int_equal(program_run(folder, "pour s.cfg --volume '2 gal' --ec 3 --aim 0.5"),
                     0);
    program_says(folder, "stdout", "Pour 4 gal 1 cup of water. Stir");
    cJSON_Delete(json);
    cJSON_Delete(visited);
}

/* Who aims at nothing is told what the rule pours, at the stage of the day, and what
 * comes of it; an aim typed is aimed at. */
static void without_an_aim_the_rule_of_the_stage_pours(void **state)
{
    const char *folder = *state;
    program_write(
        folder, "r.cfg",
        "title = \"r\"; duration = \"30 d\"; bucket = { full = \"18 L\"; };\n"
        "crop = { kind = \"table\"; name = \"c\"; stages = ( { name = \"young\"; lasts = "
        "\"10 d\"; drinks = \"0.1 L/d\"; }, { name = \"old\"; drinks = \"0.2 L/d\"; } ); "
        "};\n@include \"waters/soft_tap.cfg\"\n@include \"recipes/leafy_full.cfg\"\n"
        "strategies = ( { name = \"it\"; fill = \"mix\"; stock_share = 0.3;\n"
        "visit_every = \"40 d\"; pour = \"1.5 L\"; by_stage = ( { stage = \"old\"; fill "
        "= "
        "\"stock\"; } ); },\n"
        "{ name = \"aims\"; fill = \"water\"; visit_every = \"40 d\"; by_stage = ( { "
        "stage = "
        "\"old\"; fill = \"aim\"; aim_ec = \"1.4 mS/cm\"; } ); } );\n");
    cJSON *json = program_json(folder, "pour r.cfg --volume '7 L' --ec 1.1 --json");
    assert_close(program_number(json, "water_L"), 0.7 * 1.5, 1e-9, 0);
    assert_close(program_number(json, "stock_L"), 0.3 * 1.5, 1e-9, 0);
    assert_true(cJSON_IsTrue(cJSON_GetObjectItemCaseSensitive(json, "possible")));
    assert_true(cJSON_IsNull(cJSON_GetObjectItemCaseSensitive(json, "aim_mS_cm")));
    const cJSON *steps = cJSON_GetObjectItemCaseSensitive(json, "steps");
    const cJSON *last = cJSON_GetArrayItem(steps, cJSON_GetArraySize(steps) - 1);
    assert_close(program_number(last, "holds_L"), 8.5, 1e-9, 0);
    assert_close(program_number(last, "reads_mS_cm"),
                 program_number(json, "ec_after_mS_cm"), 1e-9, 0);
    cJSON_Delete(json);
    assert_int_equal(program_run(folder, "pour r.cfg --volume '7 L' --ec 1.1"), 0);
    program_says(folder, "stdout",
                 "1.05 L of water and 450 mL of stock bring the bucket to 8.50 L and ");
    assert_int_equal(program_run(folder, "pour r.cfg --volume '18 L' --ec 1.1"), 0);
    program_says(folder, "stdout", "The bucket is full and reads 1.10 mS/cm.\n");

    /* 10 x 0.1 and 5 x 0.2 L drunk on day 15, when the plant is old */
    json = program_json(folder, "pour r.cfg --day 15 --json");
    assert_close(program_number(json, "stock_L"), 1.5, 1e-9, 0);
    assert_close(program_number(json, "water_L"), 0, 0, 0);
    cJSON_Delete(json);
    json = program_json(folder, "pour r.cfg --strategy aims --day 5 --json");
    assert_close(program_number(json, "water_L"), 0.5, 1e-5, 0);
    assert_close(program_number(json, "stock_L"), 0, 0, 0);
    cJSON_Delete(json);
    json = program_json(folder, "pour r.cfg --strategy aims --day 15 --json");
    assert_close(program_number(json, "aim_mS_cm"), 1.4, 1e-12, 0);
    cJSON_Delete(json);
    json = program_json(folder, "pour r.cfg --volume '7 L' --ec 1.1 --aim 1.2 --json");
    assert_close(program_number(json, "water_L") + program_number(json, "stock_L"), 11,
                 1e-9, 0);
    assert_close(program_number(json, "ec_after_mS_cm"), 1.2, 0.005, 0);
    cJSON_Delete(json);
}

/* Too weak: grams of the recipe's own salts, in its proportion. */
static void what_is_missing_is_weighed_in_the_recipes_own_salts(void **state)
{
    const char *folder = *state;
    program_write(
        folder, "s.cfg",
        "title = \"s\"; duration = \"30 d\"; bucket = { full = \"18 L\"; };\n"
        "crop = { kind = \"none\"; };\nwater = { };\n"
        "recipe = { salts = ( { salt = \"KNO3\"; dose = \"0.6 g/L\"; }, { salt = "
        "\"Ca(NO3)2.4H2O\"; dose = \"0.9 g/L\"; } ); };\n"
        "strategies = ( { name = \"it\"; } );\n");
    cJSON *json =
        program_json(folder, "pour s.cfg --volume '18 L' --ec 0.4 --aim 1.3 --json");
    assert_true(cJSON_IsFalse(cJSON_GetObjectItemCaseSensitive(json, "possible")));
    const cJSON *salts = cJSON_GetObjectItemCaseSensitive(json, "salts");
    const double knos = program_number(cJSON_GetArrayItem(salts, 0), "g");
    assert_close(program_number(cJSON_GetArrayItem(salts, 1), "g"), 1.5 * knos, 1e-9, 0);
    /* By proportion 0.9 mS/cm is that share of the stock's own; EC rises more slowly the
     * more there is, and the stretch lies below the stock's strength: within a twentieth.
     */
    cJSON *stock =
        program_json(folder, "mix --salt 'KNO3=0.6 g/L' --salt 'Ca(NO3)2.4H2O=0.9 g/L' "
                             "--json");
    assert_close(knos, 0.9 / program_number(stock, "ec_mS_cm") * 0.6 * 18, 0.05, 0);
    assert_close(program_number(json, "ec_after_mS_cm"), 1.3, 0.001, 0);
    cJSON_Delete(stock);
    cJSON_Delete(json);
}

static void a_pen_that_may_be_off_leaves_a_range(void **state)
{
    const char *folder = *state;
    cJSON *json = program_json(
        folder, "pour --volume '7.4 L' --full '19 L' --ec 3.0 --aim 1.9 --water-ec "
                "0.15 --stock-ec 1.95 --pen-error '0.1 mS/cm' --json");
    const cJSON *range = cJSON_GetObjectItemCaseSensitive(json, "range");
    assert_true(program_number(range, "water_low_L") < program_number(json, "water_L"));
    assert_true(program_number(range, "water_high_L") > program_number(json, "water_L"));
    /* all three liquids off together: the mix is off by as much */
    assert_close(program_number(range, "ec_after_low_mS_cm"), 1.8, 0, 0.005);
    assert_close(program_number(range, "ec_after_high_mS_cm"), 2.0, 0, 0.005);
    cJSON_Delete(json);
}

static void what_cannot_be_is_refused_in_a_line(void **state)
{
    const char *folder = *state;
    static const char *const wishes[][2] = {
        {"pour --volume 30 --full 19 --ec 2 --aim 1", "more than the full bucket's 19 L"},
        {"pour --volume -3 --full 19 --ec 2 --aim 1", "--volume: must be 0 L to 1000 L"},
        {"pour --volume nan --full 19 --ec 2 --aim 1",
         "--volume: \"nan\" does not begin"},
        {"pour --volume 3 --full 19 --ec 2", "--aim is missing"},
        {"pour --volume 3 --full 19 --ec inf --aim 1", "--ec: \"inf\" does not begin"},
        {"pour --volume '3 kg' --full 19 --ec 2 --aim 1", "\"3 kg\" is not a volume"},
        {"pour --volume 3 --full 19 --ec 2 --aim 0",
         "--aim: must be 0.01 mS/cm to 20 mS/cm"},
        {"pour --volume 3 --full 0 --ec 2 --aim 1", "--full: must be 0.1 L to 1000 L"},
        {"pour --volume 3 --full 19 --ec 2 --aim 1 --water-ec 0 --stock-ec 0",
         "--stock-ec: must be above the EC of the water"},
        {"pour --volume 3 --full 19 --ec 2 --aim 1 --water-ec 1.5 --stock-ec 0.3",
         "were they exchanged?"},
        {"pour --volume 3 --full 19 --ec 2 --aim ''", "--aim needs a value"},
        {"pour --volume 3 --full 19 --ec 2 --aim 25", "--aim: must be"},
        {"pour --volume 3 --full 19 --ec '2 ppm' --aim 1",
         "does not say which ppm scale"},
        {"pour --volume 3 --level '9 cm' --full 19 --ec 2 --aim 1",
         "keep one of the two"},
        {"pour --level '9 cm' --full 19 --ec 2 --aim 1", "--full-level is missing"},
        {"pour --level '32 cm' --full-level '31 cm' --full 19 --ec 2 --aim 1",
         "above the fill line at 31 cm"},
        {"pour --volume 3 --full 19 --ec 2 --aim 1 --day 3", "--day need a SCENARIO"},
        {"pour --volume 3 --full 19 --ec 2 --aim 1 --pen-error -1",
         "--pen-error: must be"},
        {"pour --volume 3 --full 19 --ec 2 --aim 1 --roots '4 g'",
         "--roots goes with --outage only"},
        {"pour --before 3.0 --full 19", "--after is missing"},
        {"pour --before 3.0 --after 1.0 --water-ec 1.2", "--after: must be above"},
        {"pour --before 3.0 --after 1.0 --ec 2 --volume 3",
         "--ec does not go with --before and --after"},
        {"pour --before 3.0 --after 1.0 --stock-ec 2",
         "--stock-ec does not go with --before"},
        {"pour --outage", "--volume is missing"},
        {"pour --outage --volume 3 --temperature '60 degC'", "--temperature: must be"},
        {"pour --outage --before 3 --after 1", "--before does not go with --outage"},
        {"pour --outage --volume 3 --level '9 cm'", "--level does not go with --outage"},
        {"pour --before 1.0 --after 2.0 --aim 1.9 --full 19",
         "was it stock that was poured?"},
        {"pour --volume 3 --full 19 --ec 2 --aim 1 --ph 6.1", "--ph needs a SCENARIO"},
        {"pour --before 3.0 --after 1.0 --ph 6.1", "--ph does not go with --before"},
        {"pour", "--full is missing"},
        {"pour nothing.cfg --volume 3 --ec 2 --aim 1", "nothing.cfg: No such file"},
    };
    for (size_t i = 0; i < sizeof wishes / sizeof wishes[0]; i++) {
        program_refuses(folder, wishes[i][0], wishes[i][1]);
    }
}

int main(void)
{
#define IN_FOLDER(test)                                                                  \
    cmocka_unit_test_setup_teardown(test, program_enter, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(json_fills_the_free_room_and_reaches_the_aim),
        IN_FOLDER(gallons_in_gallons_out),
        IN_FOLDER(two_readings_are_enough_to_tell_the_level),
        IN_FOLDER(a_scenario_pours_by_its_ions),
        IN_FOLDER(the_ph_pen_tells_how_much_acid),
        IN_FOLDER(a_fixed_mix_is_poured_without_an_aim),
        IN_FOLDER(a_level_is_as_good_as_a_volume),
        IN_FOLDER(a_day_of_a_scenario_needs_no_reading),
        IN_FOLDER(without_an_aim_the_rule_of_the_stage_pours),
        IN_FOLDER(a_day_may_be_a_date),
        IN_FOLDER(what_is_missing_is_weighed_in_the_recipes_own_salts),
        IN_FOLDER(a_pen_that_may_be_off_leaves_a_range),
        IN_FOLDER(what_cannot_be_is_refused_in_a_line),
    };
    return cmocka_run_group_tests_name("pour command", tests, NULL, NULL);
}
