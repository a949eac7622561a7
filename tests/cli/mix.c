/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "support/program.h"

/* NIST/CRC: 0.01 mol/L KCl, 0.7456 g/L, 1.412 mS/cm at 25 degC. */
static void a_salt_weighed_is_told_by_ions_and_ec(void **state)
{
    const char *folder = *state;
    cJSON *json = program_json(folder, "mix --salt 'KCl=0.7456 g/L' --json");
    assert_close(program_number(json, "ec_mS_cm"), 1.412, 0.007, 0);
    const cJSON *ions = cJSON_GetObjectItemCaseSensitive(json, "ions");
    assert_close(program_number(ions, "k"), 10.0, 1e-3, 0);
    assert_close(program_number(json, "charge_error_percent"), 0, 0, 1e-6);
    assert_non_null(cJSON_GetObjectItemCaseSensitive(json, "saturation"));
    cJSON_Delete(json);
}

static void grams_per_gallon_and_per_litre_are_the_same_liquid(void **state)
{
    const char *folder = *state;
    cJSON *litre =
        program_json(folder, "mix --recipe fruiting_full --water soft_tap --json");
    cJSON *gallon =
        program_json(folder, "mix --recipe fruiting_full_gallon --water soft_tap --json");
    assert_close(program_number(gallon, "ec_mS_cm"), program_number(litre, "ec_mS_cm"),
                 1e-3, 0);
    cJSON *half = program_json(folder, "mix --recipe fruiting_full --dose '50 %' --json");
    assert_true(program_number(half, "ec_mS_cm") <
                0.6 * program_number(litre, "ec_mS_cm"));
    cJSON_Delete(litre);
    cJSON_Delete(gallon);
    cJSON_Delete(half);
}

static void salts_are_found_for_ions(void **state)
{
    const char *folder = *state;
    cJSON *json = program_json(
        folder, "mix --target 'k=6 mmol/L' --target 'p=1 mmol/L' --target 'no3=310 "
                "mg/L' --from KNO3,KH2PO4 --price KNO3=3 --volume '10 L' --json");
    const cJSON *salts = cJSON_GetObjectItemCaseSensitive(json, "salts");
    assert_close(program_number(cJSON_GetArrayItem(salts, 0), "g_L"), 0.5055, 0.002, 0);
    assert_close(program_number(cJSON_GetArrayItem(salts, 1), "g_L"), 0.1361, 0.002, 0);
    assert_close(program_number(json, "cost"), 3 * 0.5055 * 10 / 1000, 0.002, 0);
    cJSON_Delete(json);
}

/* Atomic weights, IUPAC 2021 abridged: a gram a litre of each salt, worked out here. */
static void a_gram_of_salt_is_so_many_millimoles(void **state)
{
    const char *folder = *state;
    static const double h = 1.008, n = 14.007, o = 15.999, mg = 24.305, p = 30.974,
                        s = 32.06, k = 39.098, ca = 40.078;
    const struct {
        const char *arguments, *ion;
        double mmol;
    } known[] = {
        {"mix --json --salt 'KH2PO4=1 g/L'", "p", 1000 / (k + 2 * h + p + 4 * o)},
        {"mix --json --salt 'Ca(NO3)2.4H2O=1 g/L'", "no3",
         2000 / (ca + 2 * (n + 3 * o) + 4 * (2 * h + o))},
        {"mix --json --salt 'MgSO4.7H2O=1 g/L'", "mg",
         1000 / (mg + s + 4 * o + 7 * (2 * h + o))},
        {"mix --json --salt '(NH4)2SO4=1 g/L'", "nh4",
         2000 / (2 * (n + 4 * h) + s + 4 * o)},
        {"mix --json --salt 'KNO3=2 mmol/L'", "k", 2},
    };
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        cJSON *json = program_json(folder, known[i].arguments);
        const cJSON *ions = cJSON_GetObjectItemCaseSensitive(json, "ions");
        assert_close(program_number(ions, known[i].ion), known[i].mmol, 1e-5, 0);
        cJSON_Delete(json);
    }
}

/* Hoagland & Arnon 1950, solution no. 1 (from memory): N 210, K 235, Ca 200, P 31, S 64,
 * Mg 48.6 mg/L, from KH2PO4, KNO3, Ca(NO3)2 and MgSO4 at 1, 5, 5 and 2 mmol/L. EC 2.15
 * mS/cm: the middle of five computations, 2.13 to 2.18; the circular gives none. */
static void a_textbook_solution_is_rebuilt_from_salts(void **state)
{
    const char *folder = *state;
    cJSON *json = program_json(
        folder, "mix --json --salt 'KH2PO4=1 mmol/L' --salt 'KNO3=5 mmol/L' --salt "
                "'Ca(NO3)2.4H2O=5 mmol/L' --salt 'MgSO4.7H2O=2 mmol/L'");
    const struct {
        const char *ion;
        double mg_l, g_mol;
    } told[] = {{"no3", 210, 14.007}, {"k", 235, 39.098}, {"ca", 200, 40.078},
                {"p", 31, 30.974},    {"so4", 64, 32.06}, {"mg", 48.6, 24.305}};
    const cJSON *ions = cJSON_GetObjectItemCaseSensitive(json, "ions");
    for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
        assert_close(program_number(ions, told[i].ion), told[i].mg_l / told[i].g_mol,
                     0.01, 0);
    }
    assert_close(program_number(json, "ec_mS_cm"), 2.15, 0.03, 0);
    cJSON_Delete(json);
}

/* Single KCl, mol/L, 25 degC (CRC Handbook, equivalent conductivity times concentration;
 * digits from memory): 1 mmol 0.1469, 10 mmol 1.412, 100 mmol 12.89 mS/cm. */
static void conductivity_standards_read_right(void **state)
{
    const char *folder = *state;
    cJSON *weak = program_json(folder, "mix --json --salt 'KCl=1 mmol/L'");
    cJSON *common = program_json(folder, "mix --json --salt 'KCl=10 mmol/L'");
    cJSON *strong = program_json(folder, "mix --json --salt 'KCl=100 mmol/L'");
    /* the pen sees the carbonic acid of the air too, 0.001 mS/cm: 0.7 % of the weakest */
    assert_close(program_number(weak, "ec_mS_cm"), 0.1469, 0.007, 0.001);
    assert_close(program_number(common, "ec_mS_cm"), 1.412, 0.007, 0);
    assert_close(program_number(strong, "ec_mS_cm"), 12.89, 0.007, 0);
    cJSON_Delete(weak);
    cJSON_Delete(common);
    cJSON_Delete(strong);
}

/* Sodium bicarbonate, 1 meq/L, 25 degC: pH 8.174 under 420 ppm of CO2, about 8.3 under
 * 10^-3.5 atm (the latter in Stumm & Morgan, from memory). */
static void ph_is_that_of_the_air_it_stands_in(void **state)
{
    const char *folder = *state;
    cJSON *now = program_json(folder, "mix --json --salt 'NaHCO3=1 mmol/L'");
    cJSON *then =
        program_json(folder, "mix --json --salt 'NaHCO3=1 mmol/L' --co2 '316.2 ppm'");
    cJSON *cold = program_json(
        folder, "mix --json --salt 'NaHCO3=1 mmol/L' --temperature '59 degF'");
    assert_close(program_number(now, "ph"), 8.174, 0, 0.03);
    assert_close(program_number(then, "ph"), 8.295, 0, 0.03);
    assert_close(program_number(cold, "ph"), 8.116, 0, 0.03); /* computed, 15 degC */
    cJSON_Delete(now);
    cJSON_Delete(then);
    cJSON_Delete(cold);
}

/* The same powder by its shipped file and typed, with spoons to the gallon. */
static void a_label_typed_is_the_label_shipped(void **state)
{
    const char *folder = *state;
    cJSON *shipped = program_json(folder, "mix --recipe fruiting_label --json");
    program_says(folder, "stderr", "labelled powder leaves 1.31 meq/L open");
    cJSON *typed = program_json(
        folder, "mix --label 'n_nitrate=10.5 %, n_ammonium=0.8 %,p2o5=6.6 %, "
                "k2o=22 %, cao=11 %, mgo=3.4 %, so3=6.6 %' --dose '1 1/4 "
                "tsp/gal' --tsp-mass '5.1 g' --closes-with cl --json");
    program_says(
        folder, "stderr",
        "The label leaves 1.31 meq/L of negative charge open; it is counted as chloride");
    assert_close(program_number(typed, "ec_mS_cm"), program_number(shipped, "ec_mS_cm"),
                 1e-9, 0);
    assert_close(program_number(typed, "salt_g_L"), program_number(shipped, "salt_g_L"),
                 1e-9, 0);
    cJSON *litre =
        program_json(folder, "mix --label 'k2o=46 %, n_nitrate=13.7 %' --dose '0.7 g/L' "
                             "--quiet --json");
    const cJSON *ions = cJSON_GetObjectItemCaseSensitive(litre, "ions");
    assert_close(program_number(ions, "k"), 0.7 * 460 / 94.195 * 2, 1e-6, 0);
    assert_close(program_number(ions, "no3"), 0.7 * 137 / 14.007, 1e-6, 0);
    cJSON_Delete(shipped);
    cJSON_Delete(typed);
    cJSON_Delete(litre);
}

/* A hard water brings calcium that no salt takes out: it is counted and told. */
static void the_ions_of_a_hard_water_count(void **state)
{
    const char *folder = *state;
    static const char wish[] = "--target 'ca=2.0 mmol/L' --target 'k=5 mmol/L' --target "
                               "'no3=9 mmol/L' --from 'Ca(NO3)2.4H2O,KNO3' --json";
    char arguments[400];
    (void)snprintf(arguments, sizeof arguments, "mix %s --water reverse_osmosis", wish);
    cJSON *pure = program_json(folder, arguments);
    (void)snprintf(arguments, sizeof arguments, "mix %s --water hard_tap", wish);
    cJSON *hard = program_json(folder, arguments);
    const cJSON *pure_missed = cJSON_GetObjectItemCaseSensitive(pure, "missed_mmol_L");
    const cJSON *hard_missed = cJSON_GetObjectItemCaseSensitive(hard, "missed_mmol_L");
    assert_close(program_number(pure_missed, "ca"), 0, 0, 0.02);
    assert_true(program_number(hard_missed, "ca") >= 2.85 - 2.0 - 1e-9);
    const cJSON *salts = cJSON_GetObjectItemCaseSensitive(hard, "salts");
    assert_close(program_number(cJSON_GetArrayItem(salts, 0), "g_L"), 0, 0, 1e-9);
    cJSON_Delete(pure);
    cJSON_Delete(hard);
}

static void a_fill_is_priced_in_gallons_and_pounds(void **state)
{
    const char *folder = *state;
    cJSON *json =
        program_json(folder, "mix --target 'k=4.4 mmol/L' --target 'p=0.9 mmol/L' --from "
                             "KNO3,KH2PO4 --price KNO3=1.5/lb --volume '5 gal' --json");
    const cJSON *salts = cJSON_GetObjectItemCaseSensitive(json, "salts");
    const double g_l = 3.5 * 101.102 / 1000;
    const double litres = 5 * 3.785411784;
    assert_close(program_number(cJSON_GetArrayItem(salts, 0), "g_L"), g_l, 1e-6, 0);
    assert_close(program_number(cJSON_GetArrayItem(salts, 0), "g"), g_l * litres, 1e-6,
                 0);
    assert_close(program_number(json, "cost"), 1.5 / 453.59237 * g_l * litres, 1e-6, 0);
    cJSON_Delete(json);
    assert_int_equal(program_run(folder, "mix --salt 'KNO3=1 g/L' --salt 'KH2PO4=1 g/L' "
                                         "--price KNO3=4 --volume '5 gal'"),
                     0);
    char *text = program_read(folder, "stdout");
    assert_non_null(
        strstr(text, "5 gal of it costs 0.0757, without the price of KH2PO4"));
    free(text);
}

static void a_crop_measures_what_is_short(void **state)
{
    const char *folder = *state;
    cJSON *json =
        program_json(folder, "mix --salt 'KNO3=0.9 g/L' --salt 'NH4NO3=0.2 g/L' --salt "
                             "'KH2PO4=0.2 g/L' --crop tomato --json");
    const cJSON *scarce = cJSON_GetObjectItemCaseSensitive(json, "short_of");
    assert_int_equal(cJSON_GetArraySize(scarce), 3);
    assert_string_equal(cJSON_GetArrayItem(scarce, 0)->valuestring, "ca");
    assert_string_equal(cJSON_GetArrayItem(scarce, 1)->valuestring, "mg");
    assert_string_equal(cJSON_GetArrayItem(scarce, 2)->valuestring, "so4");
    cJSON_Delete(json);
}

static void analyses_are_read_line_by_line(void **state)
{
    const char *folder = *state;
    program_write(folder, "a.csv",
                  "label,k_mmol_L,cl_mmol_L,measured_ec_mS_cm\n"
                  "standard,10,10,1.41\n"
                  "\"half, of it\",5,5,\n"
                  "lost an anion,7,3,1.0\n"
                  "short\n"
                  "spoilt,4,four,1.0\n"
                  "last,2,2,0.29\n");
    cJSON *json = program_json(folder, "mix --analyses a.csv --json");
    const cJSON *rows = cJSON_GetObjectItemCaseSensitive(json, "rows");
    assert_int_equal(cJSON_GetArraySize(rows), 6);
    assert_close(program_number(cJSON_GetArrayItem(rows, 0), "ec_mS_cm"), 1.412, 0.007,
                 0);
    const cJSON *label =
        cJSON_GetObjectItemCaseSensitive(cJSON_GetArrayItem(rows, 1), "label");
    assert_string_equal(label->valuestring, "half, of it");
    const cJSON *unbalanced = cJSON_GetArrayItem(rows, 2);
    assert_close(program_number(unbalanced, "charge_error_percent"), 40, 1e-9, 0);
    assert_true(program_number(unbalanced, "ec_mS_cm") > 0.4);
    const cJSON *spoilt = cJSON_GetArrayItem(rows, 4);
    assert_true(cJSON_IsNull(cJSON_GetObjectItemCaseSensitive(spoilt, "ec_mS_cm")));
    assert_true(program_number(cJSON_GetArrayItem(rows, 5), "ec_mS_cm") > 0.25);
    program_says(folder, "stderr", "a.csv:1: without columns no3_mmol_L");
    program_says(
        folder, "stderr",
        "a.csv:4: \"lost an anion\" does not balance: 40.0 % of the charge is missing as "
        "anions");
    program_says(folder, "stderr", "a.csv:5: \"short\" holds no ion");
    program_says(folder, "stderr",
                 "a.csv:6: cl_mmol_L: \"four\" is not a number; the row is left out");
    cJSON_Delete(json);
}

static void analyses_of_which_none_can_be_used_are_refused(void **state)
{
    const char *folder = *state;
    program_write(folder, "a.csv", "label,k_mmol_L\ntwo,four\nthree,-1\n");
    assert_int_equal(program_run(folder, "mix --analyses a.csv"), 2);
    program_says(folder, "stderr", "a.csv:2: k_mmol_L: \"four\" is not a number");
    program_says(folder, "stderr", "a.csv:3: k_mmol_L: -1 is out of range");
    program_write(folder, "b.csv", "label,potassium\none,3\n");
    assert_int_equal(program_run(folder, "mix --analyses b.csv"), 2);
    program_says(folder, "stderr", "b.csv:1: column \"potassium\" is not known");
    program_write(folder, "c.csv", "");
    assert_int_equal(program_run(folder, "mix --analyses c.csv"), 2);
    program_write(folder, "d.csv", "label,k_mmol_L\n\"open,3\n");
    assert_int_equal(program_run(folder, "mix --analyses d.csv"), 2);
}

static void what_cannot_be_is_refused_in_a_line(void **state)
{
    const char *folder = *state;
    static const char *const wishes[][2] = {
        {"mix", "nothing to mix"},
        {"mix --salt KNO3", "\"KNO3\" is not NAME=VALUE"},
        {"mix --salt 'Unobtainium=1 g/L'", "\"Unobtainium\" is no salt"},
        {"mix --salt 'KNO3=-1 g/L'", "--salt: must be 0 g/L to 300 g/L"},
        {"mix --salt 'KNO3=nan g/L'", "\"nan g/L\" does not begin"},
        {"mix --salt 'KNO3=1 L'", "\"1 L\" is not a dose"},
        {"mix --recipe nobody", "no \"nobody\" among the shipped recipes"},
        {"mix --recipe leafy_full --recipe fruiting_full",
         "--recipe: \"fruiting_full\" is the second"},
        {"mix --water nowhere", "no \"nowhere\" among the shipped waters"},
        {"mix --water hard_tap --water soft_tap", "--water: \"soft_tap\" is the second"},
        {"mix --target 'k=6 mmol/L'", "--target and --from go together"},
        {"mix --from KNO3", "--target and --from go together"},
        {"mix --target 'k=6 mmol/L' --target 'k=5 mmol/L' --from KNO3",
         "\"k=5 mmol/L\" is the second for this ion"},
        {"mix --target 'gold=6 mmol/L' --from KNO3", "\"gold\" is no ion"},
        {"mix --target 'k=6 mmol/L' --from KNO3 --salt 'KNO3=1 g/L'",
         "--target looks for salts"},
        {"mix --analyses absent.csv", "absent.csv:1: cannot be read"},
        {"mix --analyses . ", "is not a file"},
        {"mix --label 'k2o=46 %'", "--label needs a dose"},
        {"mix --label 'k2o=146 %' --dose '1 g/L'", "not a share of the mass"},
        {"mix --label 'k2o=66 %, ca=40 %' --dose '1 g/L'", "adds up to 106 %"},
        {"mix --label 'gold=4 %' --dose '1 g/L'", "\"gold\" stands on no label"},
        {"mix --label 'ca=4 %, cao=4 %' --dose '1 g/L'", "cao is told twice"},
        {"mix --label 'k2o=46 %' --dose '1 tsp/gal'", "such as --tsp-mass"},
        {"mix --salt 'KNO3=1 tsp/gal' --tsp-mass '5 g'", "a dose by volume; weigh"},
        {"mix --label 'k2o=46 %' --dose '1 g/L' --closes-with k", "k has the wrong sign"},
        {"mix --label ' ' --dose '1 g/L'", "not a share of the mass"},
        {"mix --dose '50 %' --salt 'KNO3=1 g/L'", "a --salt has its own"},
        {"mix --recipe leafy_full --dose '-50 %'", "--dose: must be 0 to 100 times"},
        {"mix --salt 'KNO3=1e9 g/L'", "--salt: must be"},
        {"mix --salt 'KNO3=1 g/L' --price 'KNO3=3/L'", "--price: \"1 L\" is not a mass"},
        {"mix --salt 'KNO3=1 g/L' --price 'KNO3=-3'", "--price: must be"},
        {"mix --salt 'KNO3=1 g/L' --price KNO3=3 --price KNO3=4",
         "\"KNO3=4\" is the second"},
        {"mix --salt 'KNO3=1 g/L' --volume '0 L'", "--volume: must be"},
        {"mix --salt 'KNO3=1 g/L' --crop nobody",
         "no \"nobody\" among the shipped crops"},
        {"mix --salt 'KNO3=1 g/L' --temperature '80 degC'",
         "--temperature: must be 0 degC"},
        {"mix --target 'k=nan mmol/L' --from KNO3", "\"nan mmol/L\" does not begin"},
        {"mix --target 'alkalinity=1 g' --from KOH", "\"1 g\" is not an alkalinity"},
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
        IN_FOLDER(a_salt_weighed_is_told_by_ions_and_ec),
        IN_FOLDER(grams_per_gallon_and_per_litre_are_the_same_liquid),
        IN_FOLDER(salts_are_found_for_ions),
        IN_FOLDER(a_gram_of_salt_is_so_many_millimoles),
        IN_FOLDER(a_textbook_solution_is_rebuilt_from_salts),
        IN_FOLDER(conductivity_standards_read_right),
        IN_FOLDER(ph_is_that_of_the_air_it_stands_in),
        IN_FOLDER(a_label_typed_is_the_label_shipped),
        IN_FOLDER(the_ions_of_a_hard_water_count),
        IN_FOLDER(a_fill_is_priced_in_gallons_and_pounds),
        IN_FOLDER(a_crop_measures_what_is_short),
        IN_FOLDER(analyses_are_read_line_by_line),
        IN_FOLDER(analyses_of_which_none_can_be_used_are_refused),
        IN_FOLDER(what_cannot_be_is_refused_in_a_line),
    };
    return cmocka_run_group_tests_name("mix command", tests, NULL, NULL);
}
