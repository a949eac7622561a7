/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a grower should do about what a life has shown: when, which action, how many
 * litres. */
#ifndef PAILCAST_STUDY_ADVICE_H
#define PAILCAST_STUDY_ADVICE_H

#include "pailcast/study/compare.h"

/* Who comes every day hardly comes more often, d (chosen). */
extern const double advice_often_d;

/* Fills row->advice from the rest of the row; at least one sentence. */
void advice_row(struct compare_row *row, const struct scenario *scenario);

/* Picks compare->best and writes compare->verdict from the finished rows (at least one).
 */
void advice_verdict(struct compare *compare);

#endif
