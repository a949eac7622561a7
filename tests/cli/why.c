/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command why, run as a user runs it. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>
#include <sys/stat.h>

#include "pailcast/study/why.h"
#include "support/program.h"

static const char pail[] =
    "title = \"Cellar `touch pwned`\"; duration = \"31 d\";\n"
    "bucket = { full = \"18.3 L\"; evaporation = \"0.041 L/d\"; };\n"
    "crop = { kind = \"table\"; name = \"bean\"; stages = ( { name = \"s\";\n"
    "  drinks = \"0.83 L/d\"; eats = { no3 = \"5.1 mmol/L\"; k = \"2.9 mmol/L\"; };\n"
    "  follows = { na = 0.11; cl = 0.3; }; } ); };\n"
    "water = { na = \"0.7 mmol/L\"; cl = \"0.7 mmol/L\"; };\n"
    "stock = { no3 = \"9.3 mmol/L\"; k = \"5.3 mmol/L\"; ca = \"2 mmol/L\";\n"
    "  na = \"0.7 mmol/L\"; cl = \"0.7 mmol/L\"; };\n"
    "strategies = (\n"
    "  { name = \"Water\"; fill = \"water\"; visit_every = \"4 d\"; },\n"
    "  { name = \"Mix, renewed\"; fill = \"mix\"; stock_share = 0.4;\n"
    "    visit_every = \"4 d\"; renew_every = \"12 d\"; } );\n";

struct outcome {
    char folder[256];
    int exit_code;
    char *said, *complained;
};

static struct outcome run(const char *arguments)
{
    struct outcome outcome;
    program_folder(outcome.folder);
    program_write(outcome.folder, "pail.cfg", pail);
    outcome.exit_code = program_run(outcome.folder, arguments);
    outcome.said = program_read(outcome.folder, "stdout");
    outcome.complained = program_read(outcome.folder, "stderr");
    assert_non_null(outcome.said);
    assert_non_null(outcome.complained);
    return outcome;
}

static void forget(struct outcome *outcome)
{
    program_clean(outcome->folder);
    free(outcome->said);
    free(outcome->complained);
}

static void refused(const char *arguments, const char *complaint)
{
    struct outcome outcome = run(arguments);
    const bool fine = outcome.exit_code == 2 && outcome.said[0] == '\0' &&
                      strstr(outcome.complained, complaint) != NULL &&
                      !program_has(outcome.folder, "out");
    if (!fine) {
        print_error("%s: exit %d\n%s\n%s\n", arguments, outcome.exit_code, outcome.said,
                    outcome.complained);
    }
    forget(&outcome);
    assert_true(fine);
}

static void the_json_holds_what_the_contract_names(void **state)
{
    (void)state;
    struct outcome outcome = run("why pail.cfg --json");
    assert_int_equal(outcome.exit_code, 0);
    assert_string_equal(outcome.complained, "");
    cJSON *root = cJSON_Parse(outcome.said);
    const cJSON *intervals = cJSON_GetObjectItemCaseSensitive(root, "intervals");
    assert_int_equal(cJSON_GetArraySize(intervals), 1 + 8);
    const cJSON *interval = NULL;
    cJSON_ArrayForEach(interval, intervals)
    {
        const cJSON *parts = cJSON_GetObjectItemCaseSensitive(interval, "parts");
        static const char *const causes[] = {"drinking", "evaporation", "eating", "water",
                                             "stock",    "renewal",     "other"};
        double sum = 0;
        double moved = 0;
        assert_int_equal(cJSON_GetArraySize(parts), 7);
        for (size_t i = 0; i < 7; i++) {
            sum += program_number(parts, causes[i]);
            moved += fabs(program_number(parts, causes[i]));
        }
        const double change =
            program_number(interval, "ec_to") - program_number(interval, "ec_from");
        assert_close(sum, change, 0, 0.01 * moved);
        assert_close(program_number(interval, "closure"), fabs(change - sum) / moved,
                     1e-3, 1e-9);
        assert_true(program_number(interval, "to_day") >
                    program_number(interval, "from_day"));
        const cJSON *ions = cJSON_GetObjectItemCaseSensitive(interval, "ions");
        assert_int_equal(cJSON_GetArraySize(ions), ION_COUNT);
        const cJSON *sodium = cJSON_GetObjectItemCaseSensitive(ions, "na");
        /* As near as the usual tolerance of a life, 1e-6 a step, comes. */
        assert_close(program_number(sodium, "eaten_to_drunk"), 0.11, 1e-4, 0);
    }
    cJSON_Delete(root);
    forget(&outcome);
}

static void the_table_ends_with_sentences_and_a_picture(void **state)
{
    (void)state;
    struct outcome outcome =
        run("why pail.cfg --strategy 'Mix, renewed' --from 4 --to 16.5");
    assert_int_equal(outcome.exit_code, 0);
    assert_string_equal(outcome.complained, "");
    static const char *const parts[] = {"Cellar `touch pwned`: Mix, renewed",
                                        "drinking",
                                        "in all",
                                        "sodium",
                                        "From day 4 to day 16.5 the plant drank 10.4 L",
                                        "\n1 renewal ",
                                        "In all, EC went from ",
                                        "Drawn in out/pail/mix-renewed-why.svg."};
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (strstr(outcome.said, parts[i]) == NULL) {
            print_error("no \"%s\" in\n%s\n", parts[i], outcome.said);
            fail();
        }
    }
    assert_true(program_has(outcome.folder, "out/pail/mix-renewed-why.svg"));
    assert_false(program_has(outcome.folder, "pwned"));
    forget(&outcome);
}

static void quiet_draws_and_says_nothing(void **state)
{
    (void)state;
    struct outcome outcome = run("why --quiet pail.cfg --out elsewhere");
    assert_int_equal(outcome.exit_code, 0);
    assert_string_equal(outcome.said, "");
    assert_string_equal(outcome.complained, "");
    assert_true(program_has(outcome.folder, "elsewhere/water-why.svg"));
    assert_false(program_has(outcome.folder, "out"));
    forget(&outcome);
}

static void what_cannot_be_asked_is_refused_and_nothing_written(void **state)
{
    (void)state;
    refused("why", "needs SCENARIO");
    refused("why none.cfg", "none.cfg: ");
    refused("why pail.cfg --strategy water", "has no strategy named \"water\"");
    refused("why pail.cfg --from soon", "--from: ");
    refused("why pail.cfg --from nan", "--from: ");
    refused("why pail.cfg --to inf", "--to: ");
    refused("why pail.cfg --from=-1", "--from must be 0, or from an hour");
    refused("why pail.cfg --from 0.03", "--from must be 0, or from an hour");
    refused("why pail.cfg --from 31", "--from must be 0, or from an hour");
    refused("why pail.cfg --from 7 --to 7", "--to must be at least an hour");
    refused("why pail.cfg --from 7 --to 6", "--to must be at least an hour");
    refused("why pail.cfg --to 31.1", "at most 31 days");
    refused("why pail.cfg --to 1e999", "--to: ");
    refused("why pail.cfg --until 5", "--until is not known");
}

static void without_gnuplot_the_numbers_are_told_all_the_same(void **state)
{
    (void)state;
    struct outcome outcome = run("why pail.cfg --json");
    cJSON *kept = cJSON_Parse(outcome.said);
    forget(&outcome);
    struct outcome bare = {.exit_code = 0};
    program_folder(bare.folder);
    program_write(bare.folder, "pail.cfg", pail);
    char path[4096];
    (void)snprintf(path, sizeof path, "%s", getenv("PATH"));
    /* The shell is found by its full name; only the program's own search fails. */
    assert_int_equal(setenv("PATH", bare.folder, 1), 0);
    bare.exit_code = program_run(bare.folder, "why pail.cfg --json");
    assert_int_equal(setenv("PATH", path, 1), 0);
    bare.said = program_read(bare.folder, "stdout");
    bare.complained = program_read(bare.folder, "stderr");
    assert_int_equal(bare.exit_code, 1);
    assert_non_null(strstr(bare.complained, "gnuplot-nox"));
    cJSON *told = cJSON_Parse(bare.said);
    assert_true(cJSON_Compare(kept, told, true));
    cJSON_Delete(kept);
    cJSON_Delete(told);
    forget(&bare);
}

static void an_unwritable_folder_is_told(void **state)
{
    (void)state;
    struct outcome outcome = run("why pail.cfg --quiet --out pail.cfg/here");
    assert_int_equal(outcome.exit_code, 1);
    assert_non_null(strstr(outcome.complained, "pail.cfg"));
    forget(&outcome);
    outcome = run("why pail.cfg >/dev/full");
    assert_int_equal(outcome.exit_code, 1);
    forget(&outcome);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_json_holds_what_the_contract_names),
        cmocka_unit_test(the_table_ends_with_sentences_and_a_picture),
        cmocka_unit_test(quiet_draws_and_says_nothing),
        cmocka_unit_test(what_cannot_be_asked_is_refused_and_nothing_written),
        cmocka_unit_test(without_gnuplot_the_numbers_are_told_all_the_same),
        cmocka_unit_test(an_unwritable_folder_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
