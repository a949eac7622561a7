/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the EC is made of, as layers upon each other. */
#ifndef SIM_REPORT_LAYERS_H
#define SIM_REPORT_LAYERS_H

#include <stdio.h>

#include "pailcast/study/compare.h"

/* Writes the block $makeup: one index a layer, from below, each a closed outline (day, EC
 * in display units), so that hiding one uncovers nothing. */
void layers_write(FILE *out, const struct compare_row *row,
                  const struct scenario *scenario);

#endif
