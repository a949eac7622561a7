/* SPDX-License-Identifier: GPL-3.0-or-later */
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

static void says(const char *words)
{
    char *text = program_read(folder, "stderr");
    if (strstr(text, words) == NULL) {
        print_error("does not say \"%s\" but:\n%s\n", words, text);
        fail();
    }
    free(text);
}

/* NIST/CRC: 0.01 mol/L KCl, 0.7456 g/L, 1.412 mS/cm at 25 degC. */
static void a_salt_weighed_is_told_by_ions_and_ec(void **state)
{
    (void)state;
    cJSON *json = json_of("mix --salt 'KCl=0.7456 g/L' --json");
    assert_close(number(json, "ec_mS_cm"), 1.412, 0.007, 0);
    const cJSON *ions = cJSON_GetObjectItemCaseSensitive(json, "ions");
    assert_close(number(ions, "k"), 10.0, 1e-3, 0);
    assert_close(number(json, "charge_error_percent"), 0, 0, 1e-6);
    assert_non_null(cJSON_GetObjectItemCaseSensitive(json, "saturation"));
    cJSON_Delete(json);
}

static void grams_per_gallon_and_per_litre_are_the_same_liquid(void **state)
{
    (void)state;
    cJSON *litre = json_of("mix --recipe fruiting_full --water soft_tap --json");
    cJSON *gallon = json_of("mix --recipe fruiting_full_gallon --water soft_tap --json");
    assert_close(number(gallon, "ec_mS_cm"), number(litre, "ec_mS_cm"), 1e-3, 0);
    cJSON *half = json_of("mix --recipe fruiting_full --dose '50 %' --json");
    assert_true(number(half, "ec_mS_cm") < 0.6 * number(litre, "ec_mS_cm"));
    cJSON_Delete(litre);
    cJSON_Delete(gallon);
    cJSON_Delete(half);
}

static void salts_are_found_for_ions(void **state)
{
    (void)state;
    cJSON *json =
        json_of("mix --target 'k=6 mmol/L' --target 'p=1 mmol/L' --target 'no3=310 "
                "mg/L' --from KNO3,KH2PO4 --price KNO3=3 --volume '10 L' --json");
    const cJSON *salts = cJSON_GetObjectItemCaseSensitive(json, "salts");
    assert_close(number(cJSON_GetArrayItem(salts, 0), "g_L"), 0.5055, 0.002, 0);
    assert_close(number(cJSON_GetArrayItem(salts, 1), "g_L"), 0.1361, 0.002, 0);
    assert_close(number(json, "cost"), 3 * 0.5055 * 10 / 1000, 0.002, 0);
    cJSON_Delete(json);
}

static void analyses_are_read_line_by_line(void **state)
{
    (void)state;
    program_write(folder, "a.csv",
                  "label,k_mmol_L,cl_mmol_L,measured_ec_mS_cm\n"
                  "standard,10,10,1.41\n"
                  "\"half, of it\",5,5,\n"
                  "lost an anion,10,4,1.0\n"
                  "short\n");
    cJSON *json = json_of("mix --analyses a.csv --json");
    const cJSON *rows = cJSON_GetObjectItemCaseSensitive(json, "rows");
    assert_int_equal(cJSON_GetArraySize(rows), 4);
    assert_close(number(cJSON_GetArrayItem(rows, 0), "ec_mS_cm"), 1.412, 0.007, 0);
    const cJSON *label =
        cJSON_GetObjectItemCaseSensitive(cJSON_GetArrayItem(rows, 1), "label");
    assert_string_equal(label->valuestring, "half, of it");
    assert_close(number(cJSON_GetArrayItem(rows, 2), "charge_error_percent"),
                 100 * 6. / 14, 1e-9, 0);
    says("a.csv: 1 lines have fewer cells");
    cJSON_Delete(json);
}

static void bad_analyses_are_refused_with_their_line(void **state)
{
    (void)state;
    program_write(folder, "a.csv", "label,k_mmol_L\none,3\ntwo,four\nthree,-1\n");
    assert_int_equal(program_run(folder, "mix --analyses a.csv"), 2);
    says("a.csv:3: \"four\" is not a number");
    says("a.csv:4: \"-1\" is negative");
    program_write(folder, "b.csv", "label,potassium\none,3\n");
    assert_int_equal(program_run(folder, "mix --analyses b.csv"), 2);
    says("b.csv:1: \"potassium\" is no column");
    program_write(folder, "c.csv", "");
    assert_int_equal(program_run(folder, "mix --analyses c.csv"), 2);
    program_write(folder, "d.csv", "label,k_mmol_L\n\"open,3\n");
    assert_int_equal(program_run(folder, "mix --analyses d.csv"), 2);
}

static void what_cannot_be_is_refused_in_a_line(void **state)
{
    (void)state;
    const char *const wishes[] = {
        "mix",
        "mix --salt KNO3",
        "mix --salt 'Unobtainium=1 g/L'",
        "mix --salt 'KNO3=-1 g/L'",
        "mix --salt 'KNO3=nan g/L'",
        "mix --salt 'KNO3=1 L'",
        "mix --recipe nobody",
        "mix --water nowhere",
        "mix --target 'k=6 mmol/L'",
        "mix --from KNO3",
        "mix --target 'gold=6 mmol/L' --from KNO3",
        "mix --target 'k=6 mmol/L' --from KNO3 --salt 'KNO3=1 g/L'",
        "mix --analyses absent.csv",
    };
    for (size_t i = 0; i < sizeof wishes / sizeof wishes[0]; i++) {
        if (program_run(folder, wishes[i]) != 2) {
            print_error("accepted: %s\n", wishes[i]);
            fail();
        }
    }
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, in_folder, leave_folder)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(a_salt_weighed_is_told_by_ions_and_ec),
        IN_FOLDER(grams_per_gallon_and_per_litre_are_the_same_liquid),
        IN_FOLDER(salts_are_found_for_ions),
        IN_FOLDER(analyses_are_read_line_by_line),
        IN_FOLDER(bad_analyses_are_refused_with_their_line),
        IN_FOLDER(what_cannot_be_is_refused_in_a_line),
    };
    return cmocka_run_group_tests_name("mix command", tests, NULL, NULL);
}
