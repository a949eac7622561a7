/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands check and list, run as a user runs them. */
#include "support/close.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "support/program.h"

static const char good[] =
    "title = \"Cellar\";\nduration = \"9 d\";\nbucket = { full = \"5 "
    "gal\"; };\ncrop = { kind = \"none\"; };\nwater = { };\n"
    "strategies = ( { name = \"Water\"; } );\n";

struct outcome {
    int exit_code;
    char *said;       /* stdout */
    char *complained; /* stderr */
};

/* Runs in a folder of its own that holds good.cfg and, unless NULL, bad.cfg. */
static struct outcome run(const char *arguments, const char *bad)
{
    char folder[256];
    struct outcome outcome;
    program_folder(folder);
    program_write(folder, "good.cfg", good);
    if (bad != NULL) {
        program_write(folder, "bad.cfg", bad);
    }
    outcome.exit_code = program_run(folder, arguments);
    outcome.said = program_read(folder, "stdout");
    outcome.complained = program_read(folder, "stderr");
    program_clean(folder);
    assert_non_null(outcome.said);
    assert_non_null(outcome.complained);
    return outcome;
}

static void forget(struct outcome *outcome)
{
    free(outcome->said);
    free(outcome->complained);
}

/* Runs and expects an exit code and a part of stdout and of stderr ("": nothing there).
 */
static void expect(const char *arguments, const char *bad, int exit_code,
                   const char *said, const char *complained)
{
    struct outcome outcome = run(arguments, bad);
    bool fine = outcome.exit_code == exit_code && strstr(outcome.said, said) != NULL &&
                strstr(outcome.complained, complained) != NULL &&
                (said[0] != '\0' || outcome.said[0] == '\0') &&
                (complained[0] != '\0' || outcome.complained[0] == '\0');
    if (!fine) {
        print_error("%s: exit %d\n--- out\n%s\n--- err\n%s\n", arguments,
                    outcome.exit_code, outcome.said, outcome.complained);
    }
    forget(&outcome);
    assert_true(fine);
}

static void check_tells_a_good_scenario(void **state)
{
    (void)state;
    expect("check good.cfg", NULL, 0, "18.9 L at the fill line", "");
    expect("check --quiet good.cfg", NULL, 0, "", "");
    expect("check good.cfg --quiet", NULL, 0, "", "");
}

static void check_lists_every_mistake_and_exits_with_two(void **state)
{
    (void)state;
    expect("check bad.cfg", "title = \"x\";\nbucket = { full = \"5 galoons\"; };\n", 2,
           "", "bad.cfg:2: full: \"5 galoons\" has a unit that is not known");
    expect("check bad.cfg", "duratoin = \"5 d\";\n", 2, "",
           "bad.cfg:1: \"duratoin\" is not known here; did you mean \"duration\"?");
    expect("check --json bad.cfg", "= = =\n", 2, "", "bad.cfg:1: this is not understood");
    expect("check absent.cfg", NULL, 2, "", "absent.cfg: No such file");
    expect("check .", NULL, 2, "", "is not a file");
}

static void more_mistakes_than_fit_are_counted(void **state)
{
    (void)state;
    static char many[40000];
    size_t used = 0;
    for (int i = 0; i < 400; i++) {
        used += (size_t)snprintf(many + used, sizeof many - used,
                                 "unheard_of_key_number_%d = 1;\n", i);
    }
    expect("check bad.cfg", many, 2, "", " more\n");
}

static void json_is_all_there_is_on_stdout(void **state)
{
    (void)state;
    static const char *const commands[] = {"check --json good.cfg", "list --json"};
    static const char *const keys[] = {"bucket", "recipes"};
    for (size_t i = 0; i < 2; i++) {
        struct outcome outcome = run(commands[i], NULL);
        assert_int_equal(outcome.exit_code, 0);
        assert_string_equal(outcome.complained, "");
        cJSON *root = cJSON_Parse(outcome.said);
        assert_non_null(root);
        assert_non_null(cJSON_GetObjectItem(root, keys[i]));
        cJSON_Delete(root);
        forget(&outcome);
    }
}

static void list_names_what_ships(void **state)
{
    (void)state;
    static const char *const parts[] = {
        "tomato",        "hard_tap", "fruiting_full_gallon",
        "Ca(NO3)2.4H2O", "HNO3",     "bay_laurel"};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        expect("list", NULL, 0, parts[i], "");
    }
}

static void slips_on_the_command_line_exit_with_two(void **state)
{
    (void)state;
    expect("", NULL, 2, "", "Usage: pailcast COMMAND");
    expect("chek good.cfg", NULL, 2, "", "did you mean check?");
    expect("check", NULL, 2, "", "needs SCENARIO");
    expect("check good.cfg good.cfg", NULL, 2, "", "more arguments than it takes");
    expect("check --jsn good.cfg", NULL, 2, "", "--jsn is not known");
    expect("check --out", NULL, 2, "", "--out needs a value");
    expect("check --quiet=yes good.cfg", NULL, 2, "", "takes no value");
    expect("list tomato", NULL, 2, "", "more arguments");
}

static void help_is_no_mistake(void **state)
{
    (void)state;
    expect("--help", NULL, 0, "Usage: pailcast COMMAND", "");
    expect("check --help", NULL, 0, "Usage: pailcast check SCENARIO", "");
    expect("list --help", NULL, 0, "--json", "");
    expect("--version", NULL, 0, "pailcast ", "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(check_tells_a_good_scenario),
        cmocka_unit_test(check_lists_every_mistake_and_exits_with_two),
        cmocka_unit_test(more_mistakes_than_fit_are_counted),
        cmocka_unit_test(json_is_all_there_is_on_stdout),
        cmocka_unit_test(list_names_what_ships),
        cmocka_unit_test(slips_on_the_command_line_exit_with_two),
        cmocka_unit_test(help_is_no_mistake),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
