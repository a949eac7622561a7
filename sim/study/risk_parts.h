/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of a study of many lives. */
#ifndef SIM_STUDY_RISK_PARTS_H
#define SIM_STUDY_RISK_PARTS_H

#include "pailcast/base/text.h"
#include "pailcast/study/risk_sum.h"

/* A strategy, and what most often goes wrong under it. */
struct risk_case {
    const struct scenario *scenario;
    const struct strategy *strategy;
    const struct risk_row *row;
    enum outcome_code trouble;
    bool mended; /* by the last visit, in most lives that met it and nine of ten in all */
    double keep_d; /* until then nine lives in ten keep clear of it; INFINITY: always */
};

/* Picks sum->best and its equals, and writes sum->verdict, from the finished rows (at
 * least one). */
void risk_verdict(struct risk_sum *sum);

/* Writes what to change about a row's strategy; "" where that is safe. scratch[lives]. */
void risk_next(struct risk_sum *sum, size_t row, float scratch[]);

/* Adds the step against the trouble, a sentence without its first words. */
void risk_step(struct text_line *line, const struct risk_case *it);

#endif
