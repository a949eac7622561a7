/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One line of a scenario: where texts and comments end, and whether it includes a file.
 */
#ifndef SIM_SCENARIO_INCLUDE_H
#define SIM_SCENARIO_INCLUDE_H

#include <stddef.h>

enum include_state {
    INCLUDE_PLAIN,
    INCLUDE_TEXT,  /* inside "..." */
    INCLUDE_REMARK /* inside a block comment */
};

enum include_kind {
    INCLUDE_NONE,
    INCLUDE_FILE,
    INCLUDE_BAD /* begins like an include and is none */
};

/* What no line may hold outside texts and comments. */
enum include_fault {
    INCLUDE_FINE,
    INCLUDE_STRAY,       /* an '@' that includes nothing */
    INCLUDE_LONG_NUMBER, /* a whole number that libconfig 1.5 would wrap to another */
    INCLUDE_QUOTE        /* a quote of a word processor, or a single one, for " */
};

/* The state after a line that begins in state; *fault is set to what is found and left
 * alone otherwise. */
enum include_state include_scan(const char *line, size_t length, enum include_state state,
                                enum include_fault *fault);

/* Whether a line that begins in INCLUDE_PLAIN includes a file; name[FILE_PATH_SIZE]
 * receives which. */
enum include_kind include_name(char *name, const char *line, size_t length);

#endif
