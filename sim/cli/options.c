/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "options.h"

#include <stdio.h>
#include <string.h>

#include "pailcast/base/text.h"

enum {
    OPTIONS_COMMON = 4,
    OPTIONS_OWN_MAX = 24,
    /* values getopt_long returns, beyond any character */
    OPTIONS_HELP = 1000,
    OPTIONS_JSON,
    OPTIONS_QUIET,
    OPTIONS_OUT,
    OPTIONS_FIRST
};

static const struct option options_common[OPTIONS_COMMON] = {
    {"help", no_argument, NULL, OPTIONS_HELP},
    {"json", no_argument, NULL, OPTIONS_JSON},
    {"quiet", no_argument, NULL, OPTIONS_QUIET},
    {"out", required_argument, NULL, OPTIONS_OUT},
};

static void options_help(const struct options_command *command)
{
    printf("Usage: pailcast %s %s\n\n%s.\n\n", command->name, command->usage,
           command->summary);
    fputs(command->help, stdout);
    fputs("  --json         results for machines on standard output, nothing else there\n"
          "  --quiet        files and errors only: no tables, progress or remarks\n"
          "  --out DIR      folder to write to, where files are written\n"
          "  --help         this text\n",
          stdout);
}

static size_t options_count(const struct option *own)
{
    size_t count = 0;
    while (own != NULL && own[count].name != NULL && count < OPTIONS_OWN_MAX) {
        count++;
    }
    return count;
}

static void options_complain(const struct options_command *command, const char *what)
{
    fprintf(stderr, "pailcast %s: %s; see pailcast %s --help\n", command->name, what,
            command->name);
}

static void options_complain_of(const struct options_command *command, const char *word,
                                const char *what)
{
    char shown[80];
    char line[160];
    text_copy(shown, sizeof shown, word);
    (void)snprintf(line, sizeof line, "%s %s", shown, what);
    options_complain(command, line);
}

/* What getopt_long could not read: a letter, which may stand among others, or a word. */
static void options_unknown(const struct options_command *command, char **argv)
{
    const char letter[] = {'-', (char)optopt, '\0'};
    const bool is_letter = optopt != 0 && optopt < OPTIONS_HELP;
    options_complain_of(command, is_letter ? letter : argv[optind - 1],
                        "is not known or takes no value");
}

static enum options_outcome options_operands(struct options *options, int argc,
                                             char **argv,
                                             const struct options_command *command)
{
    options->operands = argv + optind;
    options->operand_count = argc - optind;
    if (options->operand_count < command->least) {
        char line[160];
        (void)snprintf(line, sizeof line, "needs %s", command->usage);
        options_complain(command, line);
        return OPTIONS_BAD;
    }
    if (options->operand_count > command->most) {
        options_complain(command, "has more arguments than it takes");
        return OPTIONS_BAD;
    }
    return OPTIONS_GO;
}

enum options_outcome options_read(struct options *options, int argc, char **argv,
                                  const struct options_command *command)
{
    struct option all[OPTIONS_COMMON + OPTIONS_OWN_MAX + 1] = {{0}};
    const size_t own = options_count(command->own);
    memcpy(all, options_common, sizeof options_common);
    for (size_t i = 0; i < own; i++) {
        all[OPTIONS_COMMON + i] = command->own[i];
        all[OPTIONS_COMMON + i].flag = NULL;
        all[OPTIONS_COMMON + i].val = OPTIONS_FIRST + (int)i;
    }
    *options = (struct options){0};
    optind = 1;
    opterr = 0;
    int found;
    while ((found = getopt_long(argc, argv, ":h", all, NULL)) != -1) {
        if (found == 'h' || found == OPTIONS_HELP) {
            options_help(command);
            return OPTIONS_DONE;
        }
        if (found == '?') {
            options_unknown(command, argv);
            return OPTIONS_BAD;
        }
        if (found == ':' || (optarg != NULL && optarg[0] == '\0')) {
            const bool apart = argv[optind - 1][0] == '\0'; /* "--out" "" */
            options_complain_of(command, argv[optind - (apart ? 2 : 1)], "needs a value");
            return OPTIONS_BAD;
        }
        options->json = options->json || found == OPTIONS_JSON;
        options->quiet = options->quiet || found == OPTIONS_QUIET;
        options->out = found == OPTIONS_OUT ? optarg : options->out;
        if (found >= OPTIONS_FIRST &&
            !command->take(command->context, (size_t)(found - OPTIONS_FIRST), optarg)) {
            return OPTIONS_BAD;
        }
    }
    return options_operands(options, argc, argv, command);
}

void options_folder(char folder[FILE_PATH_SIZE], const struct options *options,
                    const char *stem)
{
    (void)snprintf(folder, FILE_PATH_SIZE, options->out != NULL ? "%s" : "out/%s",
                   options->out != NULL ? options->out : stem);
}

struct options_shown options_shown(const char *path)
{
    struct options_shown shown = {""};
    text_copy(shown.text, sizeof shown.text, path);
    return shown;
}

int options_exit(enum options_outcome outcome)
{
    return outcome == OPTIONS_BAD ? status_exit_code(STATUS_INPUT) : options_finish();
}

int options_fail(enum status code, const struct error *error)
{
    size_t shown = error->text[0] != '\0' ? 1 : 0;
    for (const char *c = error->text; *c != '\0'; c++) {
        shown += *c == '\n' ? 1 : 0;
    }
    fprintf(stderr, "%s\n", shown > 0 ? error->text : status_sentence(code));
    if (error->count > shown) {
        fprintf(stderr, "and %zu more\n", error->count - shown);
    }
    return status_exit_code(code);
}

int options_finish(void)
{
    if (fflush(stdout) != 0 || ferror(stdout) != 0) {
        fputs("standard output could not be written\n", stderr);
        return status_exit_code(STATUS_FILE);
    }
    return status_exit_code(STATUS_OK);
}
