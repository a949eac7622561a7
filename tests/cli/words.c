/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person reads who does not ask for JSON: the numbers in it by hand. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "support/program.h"

/* Runs, expects exit code 0 and these words on standard output. */
static void says(const char *folder, const char *arguments, const char *const words[])
{
    assert_int_equal(program_run(folder, arguments), 0);
    for (size_t i = 0; words[i] != NULL; i++) {
        program_says(folder, "stdout", words[i]);
    }
}

/* Fresh water at 22 degC holds 8.74 mg/L (Benson & Krause 1984, table); roots use 3.5 mg
 * a gram and hour at 25 degC and half of that ten degrees colder (docs/sources.md). 15 L
 * above 3 mg/L with 12 g: 15 x 5.74/(12 x 3.5 x 2^-0.3) = 2.52 h, and 3.8 h to nothing.
 */
static void an_outage_is_told_in_minutes_hours_or_days(void **state)
{
    const char *folder = *state;
    says(folder, "pour --outage --volume '15 L' --roots '12 g'",
         (const char *[]){"holds 8.7 mg/L of oxygen", "15.00 L, 12 g of dry roots: 2.5 h",
                          "(3.8 h until none is left)", NULL});
    says(folder, "pour --outage --volume '15 L' --roots '60 g'",
         (const char *[]){": 30 min (46 min until none is left)", NULL});
    says(folder, "pour --outage --volume '15 L' --roots '0.2 g'",
         (const char *[]){": more than 3 days (more than 3 days until", NULL});
    cJSON *json =
        program_json(folder, "pour --outage --volume '15 L' --roots '12 g' --json");
    const cJSON *line =
        cJSON_GetArrayItem(cJSON_GetObjectItemCaseSensitive(json, "reserves"), 0);
    const double use_mg_h = 12 * 3.5 * pow(2, -0.3);
    assert_close(program_number(json, "oxygen_saturation_mg_L"), 8.74, 0, 0.01);
    assert_close(program_number(line, "reserve_h"), 15 * 5.74 / use_mg_h, 2e-3, 0);
    assert_close(program_number(line, "until_none_h"), 15 * 8.74 / use_mg_h, 2e-3, 0);
    cJSON_Delete(json);
}

static const char growing[] =
    "title = \"g\"; duration = \"24 d\"; bucket = { full = \"10 L\"; };\nroom = { };\n"
    "@include \"crops/lettuce.cfg\"\n@include \"waters/soft_tap.cfg\"\n"
    "@include \"recipes/leafy_full.cfg\"\n"
    "strategies = ( { name = \"it\"; fill = \"mix\"; stock_share = 0.5; } );\n";

/* Its reserve on a day is that of the volume and roots of the day; no day has less than
 * the worst. */
static void an_outage_of_a_scenario_is_that_of_its_day(void **state)
{
    const char *folder = *state;
    program_write(folder, "g.cfg", growing);
    cJSON *worst = program_json(folder, "pour g.cfg --outage --json");
    const cJSON *at_worst =
        cJSON_GetArrayItem(cJSON_GetObjectItemCaseSensitive(worst, "reserves"), 0);
    double before = INFINITY;
    for (int day = 6; day <= 24; day += 6) {
        char arguments[64];
        (void)snprintf(arguments, sizeof arguments, "pour g.cfg --outage --day %d --json",
                       day);
        cJSON *json = program_json(folder, arguments);
        const cJSON *line =
            cJSON_GetArrayItem(cJSON_GetObjectItemCaseSensitive(json, "reserves"), 0);
        const double reserve_h = program_number(line, "reserve_h");
        assert_close(reserve_h,
                     program_number(line, "volume_L") * 5.74 /
                         (program_number(line, "root_mass_g") * 3.5 * pow(2, -0.3)),
                     2e-3, 0);
        assert_true(reserve_h < before);
        assert_true(reserve_h >= program_number(at_worst, "reserve_h"));
        before = reserve_h;
        cJSON_Delete(json);
    }
    cJSON_Delete(worst);
    program_refuses(folder, "pour g.cfg --outage --day 25",
                    "the scenario ends on day 24");
    program_write(folder, "n.cfg",
                  "title = \"n\"; duration = \"9 d\"; bucket = { full = \"10 L\"; };\n"
                  "crop = { kind = \"none\"; }; water = { }; stock = { };\n"
                  "strategies = ( { name = \"it\"; fill = \"water\"; } );\n");
    says(folder, "pour n.cfg --outage", (const char *[]){"no known roots", NULL});
}

/* 3.0 before and 1.16 after: 1.16/3 full, 7.35 of 19 L, with 1.16/1.9 of the salt. With
 * water of 0.2 mS/cm 0.96/2.8. */
static void a_bucket_filled_with_water_tells_how_full_it_was(void **state)
{
    const char *folder = *state;
    says(folder, "pour --before 3.0 --after 1.16 --full '19 L'",
         (const char *[]){"was 0.39 full, 7.35 L, and held 0.61 of the salt", NULL});
    says(folder, "pour --before 3.0 --after 1.16 --water-ec 0.2",
         (const char *[]){"was 0.34 full and held", NULL});
    says(folder, "pour --before 3.0 --after 1.16 --pen-error 0.05",
         (const char *[]){"A pen right to 0.05 mS/cm: 0.36 to 0.41 full", NULL});
    program_refuses(folder, "pour --before 3.0 --after 1.16 --water-ec 1.2",
                    "--after: must be above the EC of the water");
}

/* The number that follows the words on standard output. */
static double number_after(const char *folder, const char *words)
{
    char *text = program_read(folder, "stdout");
    const char *found = strstr(text, words);
    double number = NAN;
    assert_non_null(found);
    assert_int_equal(sscanf(found + strlen(words), "%lf", &number), 1);
    free(text);
    return number;
}

/* (14 - d) 3.0 + (5 + d) 0.15 = 19 x 1.9 gives d = 2.34 in proportion; EC is not quite,
 * but within a fifth. What a wrong pen leaves open lies on both sides. */
static void a_pen_may_be_off(void **state)
{
    const char *folder = *state;
    says(folder,
         "pour --volume '14 L' --full '19 L' --ec 3.0 --aim 1.9 --water-ec 0.15 "
         "--stock-ec 1.95 --pen-error 0.1",
         (const char *[]){"A pen right to 0.10 mS/cm", "1.80 mS/cm to 2.00 mS/cm", NULL});
    const double drain = number_after(folder, "1. Drain ");
    assert_close(drain, 2.34, 0.2, 0);
    assert_true(number_after(folder, "leaves open: drain ") < drain);
    assert_close(number_after(folder, "2. Pour "), 5 + drain, 0, 0.011);
}

/* KNO3 is 0.74 of the recipe's 1.714 g/L, in two halves, told to two digits. */
static void salts_are_weighed_as_in_the_recipe(void **state)
{
    const char *folder = *state;
    program_write(
        folder, "s.cfg",
        "title = \"s\"; duration = \"30 d\"; bucket = { full = \"18 L\"; };\n"
        "crop = { kind = \"none\"; };\n@include \"waters/hard_tap.cfg\"\n"
        "@include \"recipes/leafy_full.cfg\"\n"
        "strategies = ( { name = \"it\"; fill = \"mix\"; stock_share = 0.5; } );\n");
    says(folder, "pour s.cfg --volume '18 L' --ec 0.4 --aim 1.3",
         (const char *[]){"g of KNO3", "Add the other half", "Without a scale: drain",
                          NULL});
    const double salts_g = number_after(folder, "dissolve ");
    const double kno3_g = number_after(folder, "Ca(NO3)2.4H2O, ");
    assert_close(2 * kno3_g, 0.74 / 1.714 * salts_g, 0.02, 0);
    says(folder, "pour s.cfg --volume '7 L' --ec 2.2",
         (const char *[]){"; no EC is aimed at, the strategy pours 50 % stock.\n",
                          "5.50 L of water and 5.50 L of stock fill the bucket to",
                          NULL});
    program_refuses(folder, "pour s.cfg --level '99 cm' --ec 2.2 --aim 1.2",
                    "is above the rim");
    program_refuses(folder, "pour s.cfg --level '40 inch' --ec 2.2 --aim 1.2",
                    "--level: 40 inch is above the rim at 14.");
    program_refuses(folder,
                    "pour --level '4 ft' --full-level '15 in' --full '5 gal' --ec 2",
                    "--level: 48 inch is above the fill line at 15 inch");
    program_refuses(folder, "pour s.cfg --volume '6 gal' --ec 0.4 --aim 1.3",
                    "6 gal is more than the full bucket's 4.755 gal; accepted are 0 to");
}

static void what_lies_beyond_the_model_is_said_to(void **state)
{
    const char *folder = *state;
    static const char beyond[] =
        "Above 10.00 mS/cm the computed EC reads low, and what follows from it";
    says(folder, "pour --volume '5 L' --full '10 L' --ec 12 --aim 2",
         (const char *[]){beyond, NULL});
    says(folder, "pour --volume '5 L' --full '10 L' --ec 2 --aim 2 --stock-ec 14",
         (const char *[]){beyond, NULL});
    says(folder, "pour --before 12 --after 4", (const char *[]){beyond, NULL});
    says(folder, "mix --salt 'KNO3=20 g/L'", (const char *[]){beyond, NULL});
    program_write(folder, "a.csv", "label,na_mmol_L,cl_mmol_L\nbrine,150,150\n");
    says(folder, "mix --analyses a.csv", (const char *[]){beyond, NULL});
    says(folder, "pour --volume '5 L' --full '10 L' --ec 9 --aim 2",
         (const char *[]){"fill", NULL});
    program_lacks(folder, "stdout", "reads low");
    program_write(
        folder, "b.cfg",
        "title = \"b\"; duration = \"30 d\"; bucket = { full = \"9 L\"; evaporation = "
        "\"0.5 L/d\"; };\ncrop = { kind = \"none\"; };\nwater = { na = \"15 mmol/L\"; cl "
        "= "
        "\"15 mmol/L\"; };\nstrategies = ( { name = \"Left alone\"; visit_every = "
        "\"40 d\"; }, { name = \"Topped up\"; visit_every = \"2 d\"; } );\n");
    says(folder, "run b.cfg",
         (const char *[]){"    EC rises to ", "Above 10.00 mS/cm, first on day 1", NULL});
    program_says(folder, "out/b/report.html", "it reads low here: the figures from then");
}

static void wanted_ions_are_told_as_met_or_missed(void **state)
{
    const char *folder = *state;
    says(folder, "mix --target 'k=4 mmol/L' --target 'no3=4 mmol/L' --from KNO3",
         (const char *[]){"0.4044 g/L  KNO3", "All that is wanted is met.", NULL});
    says(
        folder,
        "mix --target 'k=4 mmol/L' --target 'no3=3 mmol/L' --target 'ca=1 mmol/L' --from "
        "KNO3,KCl",
        (const char *[]){"calcium is short by 1 mmol/L", NULL});
    says(folder, "mix --target 'k=2 mmol/L' --target 'alkalinity=1 meq/L' --from KNO3",
         (const char *[]){"Alkalinity is short by 1 meq/L", NULL});
    /* gypsum dissolves to 15 mmol/L (docs/sources.md); 50 of each are beyond */
    says(folder, "mix --salt 'CaCl2=50 mmol/L' --salt 'Na2SO4=50 mmol/L'",
         (const char *[]){"gypsum may fall out", NULL});
}

/* 3 mmol of potassium against 2 of nitrate: 1 of 5 meq is open. KNO3 at 3 mmol/L conducts
 * 139.8 S cm2/eq (between 1 and 5 mmol/L in the CRC Handbook, tests/chem/conductivity.c).
 */
static void analyses_are_a_table_that_says_what_it_left_out(void **state)
{
    const char *folder = *state;
    program_write(folder, "a.csv",
                  "label,no3_mmol_L,k_mmol_L,measured_ec_mS_cm\n"
                  "good,3,3,0.41\nblank,2,2,\nodd,2,3,0.4\nbad,x,3,\n");
    assert_int_equal(program_run(folder, "mix --analyses a.csv"), 0);
    char *text = program_read(folder, "stdout");
    const char *good = strstr(text, "\ngood ");
    const char *blank = strstr(text, "\nblank ");
    const char *odd = strstr(text, "\nodd ");
    const char *bad = strstr(text, "\nbad ");
    assert_true(good != NULL && blank > good && odd > blank && bad > odd);
    double ec, measured, ph, charge;
    assert_int_equal(sscanf(good, " good %lf %lf %lf %lf", &ec, &measured, &ph, &charge),
                     4);
    assert_close(measured, 0.41, 0, 0);
    assert_close(ec, 3e-3 * 139.8, 0.015, 0);
    assert_close(ph, 5.60, 0, 0.02); /* of water under air: tests/chem/speciation.c */
    assert_close(charge, 0, 0, 0);
    assert_int_equal(sscanf(odd, " odd %lf %lf %lf %lf", &ec, &measured, &ph, &charge),
                     4);
    assert_close(charge, 20, 0, 0);
    assert_non_null(strstr(odd, "does not balance"));
    assert_int_equal(sscanf(blank, " blank %lf - %lf", &ec, &ph), 2);
    assert_non_null(strstr(bad, "left out"));
    free(text);
}

static const char pail[] =
    "title = \"Shed\"; duration = \"24 d\";\nbucket = { full = \"12 L\"; evaporation = "
    "\"0.05 L/d\"; };\ncrop = { kind = \"table\"; stages = ( { name = \"all\"; drinks = "
    "\"0.7 L/d\"; eats = { k = \"4 mmol/L\"; no3 = \"4 mmol/L\"; }; } ); };\n"
    "water = { };\nstock = { k = \"7 mmol/L\"; no3 = \"7 mmol/L\"; };\n"
    "strategies = ( { name = \"Mix\"; fill = \"mix\"; stock_share = 0.5; renew_every = "
    "\"9 d\"; } );\nlimits = { ec_high = \"1.9 mS/cm\"; };\n";

/* The line that begins with `name`. */
static const char *line_of(const char *text, const char *name)
{
    char start[40];
    (void)snprintf(start, sizeof start, "\n%s ", name);
    const char *line = strstr(text, start);
    assert_non_null(line);
    return line + strlen(name) + 1;
}

/* What fit says in words is what it writes for machines. */
static void a_fit_tells_its_unknowns_and_what_to_do_next(void **state)
{
    const char *folder = *state;
    program_write(folder, "shed.cfg", pail);
    assert_int_equal(
        program_run(folder, "run shed.cfg --quiet --logbook kept.csv --noise 5"), 0);
    assert_int_equal(program_run(folder, "fit shed.cfg kept.csv --out o"), 0);
    char *text = program_read(folder, "stdout");
    cJSON *json = program_json(folder, "fit shed.cfg kept.csv --json --out o");
    const cJSON *unknown = NULL;
    cJSON_ArrayForEach(unknown, cJSON_GetObjectItemCaseSensitive(json, "unknowns"))
    {
        const char *name =
            cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(unknown, "name"));
        double estimate, low, high;
        assert_int_equal(
            sscanf(line_of(text, name), "%lf %lf to %lf", &estimate, &low, &high), 3);
        assert_close(estimate, program_number(unknown, "estimate"), 0, 5.1e-4);
        assert_close(low, program_number(unknown, "low"), 0, 5.1e-4);
        assert_close(high, program_number(unknown, "high"), 0, 5.1e-4);
    }
    assert_non_null(strstr(text, "What pen and ruler will show"));
    assert_non_null(strstr(text, "Next action on day "));
    assert_non_null(strstr(text, "Without a visit the roots keep"));
    assert_non_null(strstr(text, "fitted.cfg"));
    cJSON_Delete(json);
    free(text);
}

/* "now" of the table is what the strategy as written takes; nothing recommended takes
 * more visits than it without a gain. */
static void a_tuning_tells_now_and_what_it_recommends(void **state)
{
    const char *folder = *state;
    program_write(folder, "shed.cfg", pail);
    assert_int_equal(program_run(folder, "tune shed.cfg --lives 96 --worlds 4 --out o"),
                     0);
    char *text = program_read(folder, "stdout");
    char *file = program_read(folder, "o/tune.json");
    cJSON *json = cJSON_Parse(file);
    static const char *const rows[] = {"now", "recommended"};
    for (int i = 0; i < 2; i++) {
        const cJSON *kept = cJSON_GetObjectItemCaseSensitive(json, rows[i]);
        const char *bar = strchr(line_of(text, rows[i]), '|');
        double poured, salt, dumped, visits;
        assert_non_null(bar);
        assert_int_equal(
            sscanf(bar, "| %lf %lf %lf %lf", &poured, &salt, &dumped, &visits), 4);
        assert_close(poured, program_number(kept, "water_L"), 0, 0.051);
        assert_close(salt, program_number(kept, "salt_poured_g"), 0, 0.51);
        assert_close(dumped, program_number(kept, "drained_L"), 0, 0.051);
        assert_close(visits, program_number(kept, "visits"), 0, 0.51);
    }
    assert_non_null(strstr(text, "a limit passed in at most"));
    assert_non_null(strstr(text, "\nfront "));
    cJSON_Delete(json);
    free(text);
    free(file);
}

int main(void)
{
#define IN_FOLDER(test)                                                                  \
    cmocka_unit_test_setup_teardown(test, program_enter, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(an_outage_is_told_in_minutes_hours_or_days),
        IN_FOLDER(an_outage_of_a_scenario_is_that_of_its_day),
        IN_FOLDER(a_bucket_filled_with_water_tells_how_full_it_was),
        IN_FOLDER(a_pen_may_be_off),
        IN_FOLDER(salts_are_weighed_as_in_the_recipe),
        IN_FOLDER(what_lies_beyond_the_model_is_said_to),
        IN_FOLDER(wanted_ions_are_told_as_met_or_missed),
        IN_FOLDER(analyses_are_a_table_that_says_what_it_left_out),
        IN_FOLDER(a_fit_tells_its_unknowns_and_what_to_do_next),
        IN_FOLDER(a_tuning_tells_now_and_what_it_recommends),
    };
    return cmocka_run_group_tests_name("words", tests, NULL, NULL);
}
