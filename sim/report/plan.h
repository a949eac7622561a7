/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A strategy's rules in plain words. */
#ifndef SIM_REPORT_PLAN_H
#define SIM_REPORT_PLAN_H

#include <stdio.h>

#include "pailcast/scenario/scenario.h"

/* Writes "Visits every 3 d at 18:00; fills with clean water; never renews." and what else
 * the strategy does, unescaped, in display units. */
void plan_tell(FILE *out, const struct strategy *strategy,
               const struct scenario *scenario);

#endif
