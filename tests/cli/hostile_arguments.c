/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names of files and words of the command line that would act if they were let. */
#include "support/close.h"

#include "attacks.h"

/* Within single quotes of a shell. */
static void shell_word(FILE *out, const char *text)
{
    (void)fputc('\'', out);
    for (const char *c = text; *c != '\0'; c++) {
        (void)fputs(*c == '\'' ? "'\\'" : "", out);
        (void)fputc(*c == '/' ? '_' : *c, out);
    }
    (void)fputc('\'', out);
}

/* The file's own name, the folder to write to, and words of the command line. */
static void file_names_and_arguments_act_nowhere(void **state)
{
    const char *folder = *state;
    static const char *const calls[] = {
        "run %s --quiet",      "run x.cfg --out at/%s",   "why x.cfg --out at/%s",
        "mix --analyses %s",   "run x.cfg --strategy %s", "run x.cfg --noise %s",
        "mix --salt %s",       "check %s.gone",           "%s",
        "run x.cfg --days %s", "why x.cfg --from 1-%s",   "run --%s"};
    static const struct attack plain = {"plain", "Plain words ", true};
    static const int wanted[] = {0, 0, 0, 2, 2, 2, 2, 2, 2, 2, 2, 2};
    for (size_t i = 0; i < ATTACKS; i++) {
        write_scenario(folder, "x.cfg", &plain);
        struct scratch_text text;
        scratch_open(&text);
        (void)fputs("./", text.out); /* so that none begins with a hyphen */
        char *name = named(&attacks[i], 0);
        shell_word(text.out, name);
        free(name);
        char *word = scratch_close(&text);
        char command[512];
        (void)snprintf(command, sizeof command, "cd %s && cp x.cfg %s", folder, word);
        assert_int_equal(system(command), 0);
        for (size_t k = 0; k < sizeof calls / sizeof *calls; k++) {
            char *const gap = strstr(calls[k], "%s");
            (void)snprintf(command, sizeof command, "%.*s%s%s", (int)(gap - calls[k]),
                           calls[k], word, gap + 2);
            run_clean(folder, command, wanted[k]);
        }
        free(word);
    }
}

#define in_folder(test)                                                                  \
    cmocka_unit_test_setup_teardown(test, program_enter, program_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        in_folder(file_names_and_arguments_act_nowhere),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
