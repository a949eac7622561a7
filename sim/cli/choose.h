/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The scenario a command works on, and --strategy NAME. */
#ifndef SIM_CLI_CHOOSE_H
#define SIM_CLI_CHOOSE_H

#include "pailcast/scenario/scenario.h"

/* The names asked for; none: all. Borrowed. */
struct choose {
    const char *names[SCENARIO_STRATEGIES_MAX];
    size_t count;
    bool one; /* the command works on one; the others stay behind it */
};

/* Takes one more name; false, with a message of `command` on stderr, when there are too
 * many. */
bool choose_take(struct choose *choose, const char *name, const char *command);

/* Reads the scenario, keeps the strategies asked for in its own order, or puts the one
 * asked for first, and tells its warnings on stderr. STATUS_INPUT with a line for each
 * name that is not one of its strategies, as named_strategy takes them. */
enum status choose_scenario(struct scenario *scenario, const struct choose *choose,
                            const char *path, struct error *error) STATUS_MUST_CHECK;

#endif
