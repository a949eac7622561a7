/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Brackets and commas that a scenario has too few of, too many, or of the wrong kind. */
#ifndef SIM_SCENARIO_SLIP_BRACKETS_H
#define SIM_SCENARIO_SLIP_BRACKETS_H

#include <stdbool.h>

#include "slip.h"

/* The first such slip on a line, counted from 1 in text: what is wrong and what to write.
 * False where none is sure. */
bool slip_brackets_words(char to[SLIP_SIZE], const char *text, int line);

/* The end of a text in quotes that begins here; of the line where none closes it. */
const char *slip_brackets_past_quotes(const char *at);

#endif
