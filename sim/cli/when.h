/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options that are a day of the life: its number, or its date where the scenario has a
 * start. */
#ifndef SIM_CLI_WHEN_H
#define SIM_CLI_WHEN_H

#include <stdbool.h>

#include "pailcast/scenario/scenario.h"

/* A date counts from the scenario's start, which is known later. */
struct when {
    double day_d;     /* NAN: nothing was typed, or a date that was not counted yet */
    const char *date; /* borrowed; NULL: none */
};

/* Nothing typed. */
struct when when_none(void);

bool when_given(const struct when *when);

/* Reads "12.5", "2026-05-29" or "2026-05-29 18:00"; false, with a message of `command` on
 * stderr, for anything else. */
bool when_take(struct when *when, const char *command, const char *option,
               const char *text);

/* Counts a date to a day of the scenario. STATUS_INPUT: it has no start, or the date lies
 * before that or after its end. */
enum status when_count(struct when *when, const char *command, const char *option,
                       const struct scenario *scenario,
                       struct error *error) STATUS_MUST_CHECK;

#endif
