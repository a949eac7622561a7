/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a liquid contains, told in the terminal and as JSON. */
#ifndef PAILCAST_REPORT_MIX_H
#define PAILCAST_REPORT_MIX_H

#include <stdio.h>

#include "pailcast/chem/recipe.h"
#include "pailcast/scenario/analyses.h"
#include "pailcast/study/mix.h"

/* One liquid and what went into it. NULL where there is none. */
struct mix_told {
    const struct mix *mix;
    const struct recipe *weighed;        /* what is on the scale, for each litre */
    const struct mix_solution *solution; /* where salts were looked for */
    const double *wanted_mmol_l;         /* [ION_COUNT], NAN not wanted; with solution */
    double cost;                         /* of `litres`; NAN without prices */
    double litres;                       /* a fill */
};

void mix_text(FILE *out, const struct mix_told *told);
enum status mix_json(FILE *out, const struct mix_told *told,
                     struct error *error) STATUS_MUST_CHECK;

/* A table of analyses, a line each; mixes[count] in their order. */
void mix_text_rows(FILE *out, const struct analyses *analyses, const struct mix mixes[]);
enum status mix_json_rows(FILE *out, const struct analyses *analyses,
                          const struct mix mixes[],
                          struct error *error) STATUS_MUST_CHECK;

#endif
