/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A scenario told back in plain words, in the display units. */
#ifndef PAILCAST_SCENARIO_EXPLAIN_H
#define PAILCAST_SCENARIO_EXPLAIN_H

#include <stdio.h>

#include "pailcast/scenario/scenario.h"

void explain_scenario(FILE *out, const struct scenario *scenario);

/* What a strategy does, in sentences, without its name and without a newline. */
void explain_strategy(FILE *out, const struct strategy *strategy,
                      const struct scenario *scenario);

/* The same for machines, in internal units: one JSON object and a newline. */
enum status explain_json(FILE *out, const struct scenario *scenario,
                         struct error *error) STATUS_MUST_CHECK;

#endif
