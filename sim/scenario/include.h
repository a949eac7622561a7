/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One line of a scenario: where texts and comments end, and whether it includes a file.
 */
#ifndef SIM_SCENARIO_INCLUDE_H
#define SIM_SCENARIO_INCLUDE_H

#include <stdbool.h>
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

/* The state after a line that begins in state; *stray is set where an '@' stands outside
 * texts and comments, and is left alone otherwise. */
enum include_state include_scan(const char *line, size_t length, enum include_state state,
                                bool *stray);

/* Whether a line that begins in INCLUDE_PLAIN includes a file; name[FILE_PATH_SIZE]
 * receives which. */
enum include_kind include_name(char *name, const char *line, size_t length);

#endif
