/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mistakes in the grammar of a scenario, in plain words. */
#ifndef SIM_SCENARIO_SLIP_H
#define SIM_SCENARIO_SLIP_H

#include <stddef.h>

enum {
    SLIP_SIZE = 240
};

/* What is wrong and how it is written right, then the line itself: told is libconfig's
 * word for it (or NULL), text the whole that was read, line counted from 1 in it where
 * the parser gave up. Returns the line of the mistake, which may be an earlier one. */
int slip_words(char to[SLIP_SIZE], const char *told, const char *text, int line);

#endif
