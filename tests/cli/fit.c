/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logbooks kept by run and learned from by fit, as a user does it. */
#include "support/close.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "support/program.h"

static const char bucket[] =
    "title = \"Shed\";\nduration = \"24 d\";\nbucket = { full = \"12 L\"; evaporation = "
    "\"0.05 L/d\"; };\ncrop = { kind = \"table\"; stages = ( { name = \"all\"; drinks = "
    "\"0.7 L/d\"; eats = { k = \"4 mmol/L\"; no3 = \"7 mmol/L\"; }; } ); };\nwater = { "
    "};\n"
    "stock = { k = \"7 mmol/L\"; no3 = \"12 mmol/L\"; ca = \"2.5 mmol/L\"; };\n"
    "strategies = ( { name = \"Mix\"; fill = \"mix\"; stock_share = 0.5; } );\n";

static void a_kept_logbook_can_be_learned_from_and_included(void **state)
{
    (void)state;
    char folder[256];
    program_folder(folder);
    program_write(folder, "shed.cfg", bucket);
    assert_int_equal(
        program_run(folder, "run shed.cfg --quiet --logbook kept.csv --noise 5"), 0);
    assert_int_equal(program_run(folder, "fit shed.cfg kept.csv --json --out ."), 0);
    char *json = program_read(folder, "stdout");
    cJSON *root = cJSON_Parse(json);
    assert_non_null(root);
    const cJSON *unknowns = cJSON_GetObjectItem(root, "unknowns");
    assert_int_equal(cJSON_GetArraySize(unknowns), 6);
    const cJSON *first = cJSON_GetArrayItem(unknowns, 0);
    assert_string_equal(cJSON_GetObjectItem(first, "name")->valuestring,
                        "drinking_scale");
    assert_close(cJSON_GetObjectItem(first, "estimate")->valuedouble, 1, 0.1, 0);
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(root, "forecast")), 14);
    cJSON_Delete(root);
    free(json);
    char again[sizeof bucket + 64];
    (void)snprintf(again, sizeof again, "%s@include \"fitted.cfg\"\n", bucket);
    program_write(folder, "again.cfg", again);
    assert_int_equal(program_run(folder, "check again.cfg"), 0);
    program_clean(folder);
}

static void a_bad_logbook_is_refused_and_nothing_is_written(void **state)
{
    (void)state;
    char folder[256];
    program_folder(folder);
    program_write(folder, "shed.cfg", bucket);
    program_write(folder, "bad.csv", "day,ec_mS_cm\n0,1.2\n3,1250\n");
    assert_int_equal(program_run(folder, "fit shed.cfg bad.csv --out made"), 2);
    char *complained = program_read(folder, "stderr");
    assert_non_null(strstr(complained, "bad.csv:3: ec_mS_cm: 1250 is no EC in mS/cm"));
    free(complained);
    assert_null(program_read(folder, "made/fitted.cfg"));
    assert_int_equal(program_run(folder, "fit shed.cfg none.csv"), 2);
    program_clean(folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_kept_logbook_can_be_learned_from_and_included),
        cmocka_unit_test(a_bad_logbook_is_refused_and_nothing_is_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
