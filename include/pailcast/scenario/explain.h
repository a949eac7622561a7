/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A scenario told back in plain words, in the display units. */
#ifndef PAILCAST_SCENARIO_EXPLAIN_H
#define PAILCAST_SCENARIO_EXPLAIN_H

#include <stdio.h>

#include "pailcast/scenario/scenario.h"

void explain_scenario(FILE *out, const struct scenario *scenario);

#endif
