/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>

#include "commands.h"
#include "options.h"
#include "pailcast/base/status.h"
#include "pailcast/base/text.h"

struct main_command {
    const char *name;
    const char *summary;
    int (*run)(int argc, char **argv);
};

static const struct main_command main_commands[] = {
    {"run", cmd_run_summary, cmd_run},    {"check", cmd_check_summary, cmd_check},
    {"why", cmd_why_summary, cmd_why},    {"pour", cmd_pour_summary, cmd_pour},
    {"mix", cmd_mix_summary, cmd_mix},    {"risk", cmd_risk_summary, cmd_risk},
    {"tune", cmd_tune_summary, cmd_tune}, {"list", cmd_list_summary, cmd_list},
    {"fit", cmd_fit_summary, cmd_fit},
};
enum {
    MAIN_COMMANDS = sizeof main_commands / sizeof *main_commands,
    MAIN_MEMORY_BYTES = 1 << 24, /* reading a scenario takes a tenth of it (measured) */
    MAIN_STACK_KIB = 1024 /* the deepest includes and lists take a third (measured) */
};

static void main_help(FILE *out)
{
    fputs("Usage: pailcast COMMAND [OPTIONS] …\n\nLives one bucket of nutrient solution "
          "with one plant, before you do.\n\nCommands:\n",
          out);
    for (int i = 0; i < MAIN_COMMANDS; i++) {
        fprintf(out, "  %-8s %s\n", main_commands[i].name, main_commands[i].summary);
    }
    fputs("\npailcast COMMAND --help tells the options of one; pailcast --version the "
          "version.\n",
          out);
}

static int main_unknown(const char *word)
{
    char shown[64];
    const char *nearest = NULL;
    size_t least = 3; /* letters a slip of the hand may change (chosen) */
    text_copy(shown, sizeof shown, word);
    for (int i = 0; i < MAIN_COMMANDS; i++) {
        size_t distance = text_distance(word, main_commands[i].name);
        if (distance < least) {
            least = distance;
            nearest = main_commands[i].name;
        }
    }
    fprintf(stderr, "pailcast: \"%s\" is not a command", shown);
    if (nearest != NULL) {
        fprintf(stderr, "; did you mean %s?", nearest);
    }
    fputs("; see pailcast --help\n", stderr);
    return status_exit_code(STATUS_INPUT);
}

/* Neither the stack nor the libraries that read scenarios and units look whether memory
 * was to be had. Under a limit that is too low for them, we end before they crash. */
static bool main_has_memory(void)
{
    void *volatile memory = malloc(MAIN_MEMORY_BYTES);
    const bool has = memory != NULL;
    free(memory);
    if (!has) {
        (void)fprintf(stderr, "pailcast: %s\n", status_sentence(STATUS_MEMORY));
    }
    return has;
}

static bool main_has_stack(void)
{
    struct rlimit stack;
    const rlim_t least = (rlim_t)MAIN_STACK_KIB << 10;
    const bool has = getrlimit(RLIMIT_STACK, &stack) != 0 || stack.rlim_cur >= least;
    if (!has) {
        (void)fprintf(stderr,
                      "pailcast: the stack is limited to %llu KiB and must be at "
                      "least %d; raise it with ulimit -s %d\n",
                      (unsigned long long)stack.rlim_cur >> 10, MAIN_STACK_KIB,
                      MAIN_STACK_KIB);
    }
    return has;
}

int main(int argc, char **argv)
{
    if (argc < 2) {
        main_help(stderr);
        return status_exit_code(STATUS_INPUT);
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0 ||
        strcmp(argv[1], "help") == 0) {
        main_help(stdout);
        return options_finish();
    }
    if (strcmp(argv[1], "--version") == 0) {
        puts("pailcast " PAILCAST_VERSION);
        return options_finish();
    }
    if (!main_has_memory() || !main_has_stack()) {
        return status_exit_code(STATUS_MEMORY);
    }
    for (int i = 0; i < MAIN_COMMANDS; i++) {
        if (strcmp(argv[1], main_commands[i].name) == 0) {
            return main_commands[i].run(argc - 1, argv + 1);
        }
    }
    return main_unknown(argv[1]);
}
