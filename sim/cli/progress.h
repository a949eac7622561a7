/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far long work is, on one line of a terminal that is written over again. */
#ifndef SIM_CLI_PROGRESS_H
#define SIM_CLI_PROGRESS_H

#include <stdbool.h>
#include <stddef.h>

struct progress {
    bool shown;       /* standard error is a terminal, and nobody asked for quiet */
    const char *what; /* "worlds" */
    double began_s, told_s;
    size_t first; /* done before this run began */
};

struct progress progress_begin(const char *what, bool quiet);

/* context: a struct progress. Writes at most five times a second: "worlds: 120 of 500,
 * 0:31 left". */
void progress_tell(void *context, size_t done, size_t total);

/* Wipes the line. */
void progress_end(struct progress *progress);

#endif
