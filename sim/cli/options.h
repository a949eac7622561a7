/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every command takes, and the way a command adds its own. */
#ifndef SIM_CLI_OPTIONS_H
#define SIM_CLI_OPTIONS_H

#include <getopt.h>
#include <stdbool.h>
#include <stddef.h>

#include "pailcast/base/file.h"
#include "pailcast/base/status.h"

/* What a command is and takes. */
struct options_command {
    const char *name;         /* "check" */
    const char *usage;        /* "SCENARIO" */
    const char *summary;      /* one line, without a full stop */
    const char *help;         /* lines about its own options, each ended; "" if none */
    int least, most;          /* operands */
    const struct option *own; /* ends with a zero row; NULL if none */
    /* Takes own[index] with its argument; returns false after a message on stderr. */
    bool (*take)(void *context, size_t index, const char *argument);
    void *context;
};

/* --json, --quiet, --out and the operands. Borrowed from argv. */
struct options {
    bool json;
    bool quiet;
    const char *out; /* NULL: the default */
    char **operands;
    int operand_count;
};

enum options_outcome {
    OPTIONS_GO,
    OPTIONS_DONE, /* help was shown: exit 0 */
    OPTIONS_BAD   /* a message stands on stderr: exit 2 */
};

/* Reads argv (argv[0] is the command's name). */
enum options_outcome options_read(struct options *options, int argc, char **argv,
                                  const struct options_command *command);

/* The folder of --out, or out/STEM. */
void options_folder(char folder[FILE_PATH_SIZE], const struct options *options,
                    const char *stem);

/* A path as it may stand in a message: a name can hold what moves a terminal's cursor. */
struct options_shown {
    char text[FILE_PATH_SIZE];
};
struct options_shown options_shown(const char *path);

/* Exit status of an outcome other than OPTIONS_GO; of help that was shown as
 * options_finish. */
int options_exit(enum options_outcome outcome);

/* Prints the error's lines to stderr and returns the exit status of the code. */
int options_fail(enum status code, const struct error *error);

/* Flushes stdout; a full disk or closed pipe there is exit 1. */
int options_finish(void);

#endif
