/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text of a scenario with its includes put in place, and where each line came from.
 */
#ifndef SIM_SCENARIO_SOURCE_H
#define SIM_SCENARIO_SOURCE_H

#include <stddef.h>

#include "pailcast/base/status.h"

enum {
    SOURCE_FILES_MAX = 64,
    SOURCE_DEPTH_MAX = 10,
    SOURCE_FILE_BYTES = 1 << 20,
    SOURCE_ALL_BYTES = 4 << 20
};

struct source_line {
    int file; /* index into names */
    int line; /* in that file, from 1 */
};

/* Zero-initialise; release with source_free. */
struct source {
    char *text; /* ends with a newline and NUL */
    size_t used, room;
    struct source_line *lines; /* of the lines of text */
    size_t line_count, line_room;
    char *names[SOURCE_FILES_MAX]; /* as a message shows them */
    size_t file_count;
};

/* Reads path and all it includes. STATUS_INPUT with one line for every mistake. */
enum status source_read(struct source *source, const char *path,
                        struct error *error) STATUS_MUST_CHECK;
void source_free(struct source *source);

/* Name and line of a line of the text, counted from 1; the file itself beyond the end. */
const char *source_place(const struct source *source, int line, int *file_line);

#endif
