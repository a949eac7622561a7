/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a liquid contains, told in the terminal and as JSON. */
#ifndef PAILCAST_REPORT_MIX_H
#define PAILCAST_REPORT_MIX_H

#include <stdio.h>

#include "pailcast/chem/recipe.h"
#include "pailcast/scenario/analyses.h"
#include "pailcast/scenario/scenario.h"
#include "pailcast/study/mix.h"

/* One liquid and what went into it. NULL where there is none. */
struct mix_told {
    const struct mix *mix;
    const struct recipe *weighed;        /* what is on the scale, for each litre */
    const struct mix_solution *solution; /* where salts were looked for */
    const struct mix_wanted *wanted;     /* with solution */
    const struct recipe *unpriced;       /* what the cost leaves out */
    double cost;                         /* of a fill, or a litre; NAN without prices */
    double litres;                       /* of a fill; NAN where none was told */
    struct scenario_display display;
};

void mix_text(FILE *out, const struct mix_told *told);
enum status mix_json(FILE *out, const struct mix_told *told,
                     struct error *error) STATUS_MUST_CHECK;

/* A table of analyses, a line each; mixes[count] in their order, not looked at where a
 * row is not usable. */
void mix_text_rows(FILE *out, const struct analyses *analyses, const struct mix mixes[]);
enum status mix_json_rows(FILE *out, const struct analyses *analyses,
                          const struct mix mixes[],
                          struct error *error) STATUS_MUST_CHECK;

#endif
