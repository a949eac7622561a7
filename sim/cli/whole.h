/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options that are whole numbers. */
#ifndef SIM_CLI_WHOLE_H
#define SIM_CLI_WHOLE_H

#include <stdbool.h>
#include <stdint.h>

/* Reads decimal digits from least to most; false for anything else. */
bool whole_parse(uint64_t *value, const char *text, uint64_t least, uint64_t most);

/* The same, with a message of `command` on stderr. */
bool whole_take(uint64_t *value, const char *command, const char *option,
                const char *text, uint64_t least, uint64_t most);

/* Cores of this machine, at least 1. */
uint64_t whole_cores(void);

#endif
