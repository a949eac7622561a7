/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files from strangers: what a scenario may include, and what is no file at all. Each is
 * one clear line and exit status 2, at once. */
#include "support/close.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "support/program.h"
#include "support/scratch.h"

enum {
    BIG = 10 << 20,
    NESTED = 12
};

/* Refused in one line, whatever is in the files. */
static void refused(const char *folder, const char *arguments, const char *words)
{
    program_refuses(folder, arguments, words);
    char *said = program_read(folder, "stderr");
    assert_int_equal(scratch_occurs(said, "\n"), 1);
    free(said);
}

static void shell(const char *folder, const char *words)
{
    char command[1024];
    (void)snprintf(command, sizeof command, "cd %s && { %s; }", folder, words);
    assert_int_equal(system(command), 0);
}

/* A folder "in" beside a secret, with links and odd files in it. */
static void furnish(const char *folder)
{
    shell(folder, "mkdir in in/sub && echo 'secret = 1;' >secret.cfg && "
                  "ln -s ../secret.cfg in/link.cfg && ln -s .. in/up && "
                  "ln -s nowhere in/dangling.cfg && ln -s loop.cfg in/loop.cfg && "
                  "mkfifo in/pipe.cfg && ln -s /dev/zero in/zero.cfg && "
                  "ln -s /etc/passwd in/passwd.cfg");
    FILE *big = NULL;
    char path[512];
    (void)snprintf(path, sizeof path, "%s/in/big.cfg", folder);
    big = fopen(path, "w");
    assert_non_null(big);
    for (int i = 0; i < BIG / 8; i++) {
        (void)fputs("# water\n", big);
    }
    assert_int_equal(fclose(big), 0);
    for (int i = 0; i < NESTED; i++) {
        char name[64];
        char text[64];
        (void)snprintf(name, sizeof name, "in/deep%d.cfg", i);
        (void)snprintf(text, sizeof text, "@include \"deep%d.cfg\"\n", i + 1);
        program_write(folder, name, text);
    }
    program_write(folder, "in/self.cfg", "@include \"self.cfg\"\n");
    program_write(folder, "in/a.cfg", "@include \"b.cfg\"\n");
    program_write(folder, "in/b.cfg", "@include \"sub/../a.cfg\"\n");
}

static void includes_stay_within_the_folder_and_end(void **state)
{
    const char *folder = *state;
    static const struct {
        const char *name;
        const char *words;
    } includes[] = {
        {"../secret.cfg", "lies outside the scenario's folder"},
        {"sub/../../secret.cfg", "lies outside the scenario's folder"},
        {"link.cfg", "lies outside the scenario's folder"},
        {"up/secret.cfg", "lies outside the scenario's folder"},
        {"passwd.cfg", "lies outside the scenario's folder"},
        {"waters/../../README.md", "lies outside the scenario's folder"},
        {"waters/../../plots/ec.gp", "lies outside the scenario's folder"},
        {"/etc/passwd", "cannot be included"},
        {"", "cannot be included"},
        {"dangling.cfg", "there is no \"dangling.cfg\""},
        {"loop.cfg", "there is no \"loop.cfg\""},
        {"a.cfg/", "there is no \"a.cfg/\""},
        {"pipe.cfg", "is not a file"},
        {"zero.cfg", "lies outside the scenario's folder"},
        {"sub", "is not a file"},
        {".", "is not a file"},
        {"big.cfg", "is longer than 1 MiB"},
        {"deep0.cfg", "is nested too deep"},
        {"self.cfg", "includes itself"},
        {"a.cfg", "is included again"},
    };
    furnish(folder);
    for (size_t i = 0; i < sizeof includes / sizeof *includes; i++) {
        char text[256];
        (void)snprintf(text, sizeof text, "@include \"%s\"\n", includes[i].name);
        program_write(folder, "in/top.cfg", text);
        refused(folder, "run in/top.cfg", includes[i].words);
        refused(folder, "check in/top.cfg --json", includes[i].words);
    }
}

/* As scenario, logbook and file of analyses. */
static void what_is_no_file_is_refused_at_once(void **state)
{
    const char *folder = *state;
    static const struct {
        const char *name;
        const char *words;
    } files[] = {
        {"in", "is not a file"},
        {"in/pipe.cfg", "is not a file"},
        {"/dev/zero", "is not a file"},
        {"in/zero.cfg", "is not a file"},
        {"in/gone.cfg", "No such file"},
        {"in/loop.cfg", "symbolic links"},
        {"in/a.cfg/b.cfg", "Not a directory"},
    };
    static const char *const calls[] = {"check %s", "run %s", "fit good.cfg %s",
                                        "mix --analyses %s"};
    furnish(folder);
    program_write(folder, "good.cfg",
                  "title = \"t\"; duration = \"2 d\"; bucket = { full = \"1 L\"; }; "
                  "crop = { kind = \"none\"; }; water = { }; strategies = ( { name = "
                  "\"w\"; } );\n");
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        for (size_t k = 0; k < sizeof calls / sizeof *calls; k++) {
            char *const gap = strstr(calls[k], "%s");
            char command[256];
            (void)snprintf(command, sizeof command, "%.*s%s", (int)(gap - calls[k]),
                           calls[k], files[i].name);
            refused(folder, command, files[i].words);
        }
    }
    refused(folder, "check in/big.cfg", "is longer than 1 MiB");
    shell(folder, "printf 'day,ec_mS_cm\\n1,\\0001\\n' >nul.csv");
    refused(folder, "fit good.cfg nul.csv", "nul.csv:2: holds a byte that no text does");
}

#define in_folder(test)                                                                  \
    cmocka_unit_test_setup_teardown(test, program_enter, program_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        in_folder(includes_stay_within_the_folder_and_end),
        in_folder(what_is_no_file_is_refused_at_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
