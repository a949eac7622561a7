/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Brackets and commas that a scenario has too few of, too many, or of the wrong kind. */
#ifndef SIM_SCENARIO_SLIP_BRACKETS_H
#define SIM_SCENARIO_SLIP_BRACKETS_H

#include "slip.h"

/* The first such slip that shows on a line, counted from 1 in text: what is wrong and
 * what to write. Returns the line to mend it on, where a bracket was opened that is never
 * closed for example; 0 where none is sure. */
int slip_brackets_words(char to[SLIP_SIZE], const char *text, int line);

/* The end of a text in quotes that begins here; of the line where none closes it. */
const char *slip_brackets_past_quotes(const char *at);

#endif
