/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <cjson/cJSON.h>

#include "folder.h"

#include "pailcast/scenario/explain.h"
#include "pailcast/scenario/reader.h"

static const char text[] =
    "title = \"Cellar\"; start = \"2026-09-01\"; duration = \"90 d\";\n"
    "bucket = { full = \"5 gal\"; evaporation = \"30 mL/d\"; };\n"
    "room = { ppfd = \"250 umol/m2/s\"; lamp_hours = \"16 h\"; day_temperature = \"77 "
    "degF\"; fan = true; };\n"
    "crop = { kind = \"table\"; name = \"measured bush\"; stages = ( { name = \"young\"; "
    "lasts = \"20 d\"; drinks = \"0.25 gal/d\"; eats = { k = \"5 mmol/L\"; }; }, { name "
    "= "
    "\"old\"; drinks = \"0.5 gal/d\"; } ); };\n"
    "water = { name = \"rain\"; na = \"1 mmol/L\"; cl = \"0.8 mmol/L\"; };\n"
    "stock = { name = \"brew\"; k = \"9 mmol/L\"; no3 = \"9 mmol/L\"; };\n"
    "strategies = ( { name = \"Aim\"; fill = \"aim\"; aim_ec = \"1.5 mS/cm\"; "
    "visit_every = "
    "\"2 d\"; visit_at = \"18:30\"; renew_every = \"30 d\"; renew_share = 0.5;\n"
    "  by_stage = ( { stage = \"old\"; fill = \"mix\"; stock_share = 0.75; } );\n"
    "  adjust = { with = \"HNO3\"; to_ph = 6.0; above_ph = 6.5; };\n"
    "  away = ( { from = \"40 d\"; to = \"50 d\"; } ); }, { name = \"Water\"; } );\n"
    "limits = { ec_high = \"2 mS/cm\"; na = \"6 mmol/L\"; };\n"
    "display = { volume = \"gal\"; temperature = \"degF\"; ec = \"ppm500\"; length = "
    "\"inch\"; };\n";

/* What the one above does not tell: a grown crop with its cuts, and every other rule. */
static const char grown[] =
    "title = \"Loft\"; duration = \"90 d\"; bucket = { full = \"12 L\"; };\nroom = { };\n"
    "crop = { kind = \"grown\"; name = \"bush\"; stages = ( { name = \"young\"; from = "
    "\"0 degC d\"; }, { name = \"old\"; from = \"430 degC d\"; } ); cuts = ( { first = "
    "\"35 d\"; every = \"21 d\"; share = 0.4; }, { first = \"60 d\"; share = 0.1; } ); "
    "};\n"
    "water = { name = \"rain\"; };\n"
    "stock = { name = \"brew\"; k = \"9 mmol/L\"; no3 = \"9 mmol/L\"; };\n"
    "strategies = ( { name = \"A\"; fill = \"stock\"; pour = \"0.7 L\"; visit_every = "
    "\"8 "
    "h\"; renew_above_ec = \"2.3 mS/cm\"; renew_above = { na = \"6 mmol/L\"; }; "
    "renew_stock_share = 0.35; water = { name = \"pond\"; na = \"0.3 mmol/L\"; cl = "
    "\"0.3 mmol/L\"; }; }, { name = \"B\"; visit_every = \"1 d\"; } );\n"
    "limits = { ec_low = \"0.8 mS/cm\"; ph_low = 5.2; ph_high = 6.8; };\n"
    "learned = { drinking_scale = 1.12; eating_scale = 0.953; evaporation_scale = 0.8; "
    "start_stock_share = 0.46; pen_offset = \"-0.04 mS/cm\"; entries = 23; };\n";

struct told {
    struct folder folder;
    struct scenario scenario;
};

static int read_scenario(void **state)
{
    static struct told told;
    struct error error = {0};
    folder_make(&told.folder);
    const char *path = folder_write(&told.folder, "a.cfg", text);
    if (reader_scenario(&told.scenario, path, &error) != STATUS_OK) {
        print_error("%s\n", error.text);
        return -1;
    }
    *state = &told;
    return 0;
}

static int forget_scenario(void **state)
{
    struct told *told = *state;
    folder_remove(&told->folder);
    return 0;
}

/* What a call wrote; static. */
static const char *written(const struct scenario *scenario, int as_json)
{
    static char buffer[16384];
    FILE *file = tmpfile();
    assert_non_null(file);
    if (as_json) {
        struct error error = {0};
        assert_int_equal(explain_json(file, scenario, &error), STATUS_OK);
    } else {
        explain_scenario(file, scenario);
    }
    rewind(file);
    size_t length = fread(buffer, 1, sizeof buffer - 1, file);
    buffer[length] = '\0';
    (void)fclose(file);
    return buffer;
}

static void says(const struct scenario *scenario, const char *const parts[])
{
    const char *said = written(scenario, 0);
    for (size_t i = 0; parts[i] != NULL; i++) {
        if (strstr(said, parts[i]) == NULL) {
            print_error("lacks \"%s\":\n%s\n", parts[i], said);
            fail();
        }
    }
}

static void what_was_not_learned_is_not_told(void **state)
{
    struct told *told = *state;
    assert_null(strstr(written(&told->scenario, 0), "Learned"));
}

/* An offset that the pen does not show, from one entry. */
static void what_was_hardly_learned_is_told_as_little(void **state)
{
    const struct told *told = *state;
    struct scenario scenario = told->scenario;
    scenario.learned = (struct scenario_learned){
        .given = true, .pen_offset_ms_cm = 0.0008, .entries = 1};
    assert_null(strstr(written(&scenario, 0), "The pen reads"));
    assert_non_null(strstr(written(&scenario, 0), "From 1 entry of a logbook.\n"));
}

static void a_scenario_is_told_in_the_units_asked_for(void **state)
{
    struct told *told = *state;
    static const char *const parts[] = {
        "Cellar\n90 days from 2026-09-01\n",
        "5 gal at the fill line, 14.5 inch high, 11.8 inch wide at the top and 10.2 inch",
        "The water stands 12.4 inch high when full; the net pot's floor is 11 inch above",
        "0.0079 gal evaporate each day",
        "250 umol/m2/s for 16 h a day from 06:00 (14.4 mol/m2 a day)",
        "77 degF and 45 % humidity",
        "a fan moves the air",
        "measured bush: drinks and eats as measured",
        "young: drinks 0.25 gal a day for 20 d",
        "old: drinks 0.5 gal a day to the end",
        "rain: EC ",
        "brew: EC ",
        "ppm500",
        "EC at most 1000 ppm500; sodium at most 6 mmol/L",
        "Run out below: potassium 0.05 mmol/L.",
        "2 strategies",
        "Every 2 days at 18:30: pour water and stock so that EC comes to 750 ppm500",
        "From the stage old on: pour 75 % stock and 25 % water",
        "Renewed every 30 days; 50 % is drained",
        "When pH is above 6.5, nitric acid brings it to 6",
        "Nobody comes from day 40 (Sun 2026-10-11) to day 50 (Wed 2026-10-21).",
        "Every 3 days at 00:00: pour water, up to the fill line. Never renewed.",
        "Warning: the water does not balance: 0.2 meq/L of negative charge",
        NULL};
    says(&told->scenario, parts);
}

static void cuts_stages_and_every_rule_are_told(void **state)
{
    struct told *told = *state;
    static struct scenario scenario;
    static const char *const parts[] = {
        "old: from 430 degC d on",
        "Day 35: 40 % of everything above the roots is cut, and every 21 d after.",
        "Day 60: 10 % of everything above the roots is cut.",
        "With pond and brew. Every 8 hours at 00:00: pour stock, 0.7 L each time.",
        "Renewed when EC is above 2.30 mS/cm, when a test shows sodium above 6 mmol/L;",
        "6 mmol/L; 100 % is drained and replaced by 35 % stock.",
        "Every day at 00:00: pour water, up to the fill line.",
        "EC at least 0.80 mS/cm; pH at most 6.8; pH at least 5.2",
        "Learned   Most likely this plant drinks 112 %, eats 95 % and grows 100 %",
        "of what the crop says; 80 % of the evaporation.",
        "Most likely the first filling was 46 % stock.",
        "Most likely the pen reads 0.04 mS/cm too low.",
        "From 23 entries of a logbook.",
        NULL};
    struct error error = {0};
    const char *path = folder_write(&told->folder, "g.cfg", grown);
    if (reader_scenario(&scenario, path, &error) != STATUS_OK) {
        fail_msg("%s", error.text);
    }
    says(&scenario, parts);
    cJSON *root = cJSON_Parse(written(&scenario, 1));
    const cJSON *learned = cJSON_GetObjectItem(root, "learned");
    assert_close(cJSON_GetObjectItem(learned, "drinking_scale")->valuedouble, 1.12, 0, 0);
    assert_close(cJSON_GetObjectItem(learned, "entries")->valuedouble, 23, 0, 0);
    cJSON_Delete(root);
}

static void machines_get_internal_units(void **state)
{
    struct told *told = *state;
    cJSON *root = cJSON_Parse(written(&told->scenario, 1));
    assert_non_null(root);
    const cJSON *bucket = cJSON_GetObjectItem(root, "bucket");
    assert_close(cJSON_GetObjectItem(bucket, "full_L")->valuedouble, 5 * 3.785411784,
                 1e-12, 0);
    const cJSON *stock = cJSON_GetObjectItem(root, "stock");
    /* 9 mmol of 39.098 and of 62.004 g/mol */
    assert_close(cJSON_GetObjectItem(stock, "salt_g_L")->valuedouble,
                 9 * (39.098 + 62.004) / 1000, 1e-9, 0);
    assert_close(
        cJSON_GetObjectItem(cJSON_GetObjectItem(stock, "ions"), "k")->valuedouble, 9,
        1e-12, 0);
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(root, "strategies")), 2);
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(root, "warnings")), 1);
    cJSON_Delete(root);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_scenario_is_told_in_the_units_asked_for),
        cmocka_unit_test(what_was_not_learned_is_not_told),
        cmocka_unit_test(what_was_hardly_learned_is_told_as_little),
        cmocka_unit_test(cuts_stages_and_every_rule_are_told),
        cmocka_unit_test(machines_get_internal_units),
    };
    return cmocka_run_group_tests(tests, read_scenario, forget_scenario);
}
