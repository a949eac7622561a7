/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acid or base at a visit. */
#ifndef PAILCAST_VISIT_ADJUST_H
#define PAILCAST_VISIT_ADJUST_H

#include "pailcast/chem/pen.h"
#include "pailcast/visit/strategy.h"

/* mmol per litre of adjust->with that bring a liquid to adjust->to_ph; 0 when pH is on
 * the right side of adjust->above_ph or the salt cannot move pH that way. Found with the
 * pH pen, drop by drop. */
double adjust_dose_mmol_l(const struct strategy_adjust *adjust,
                          const struct liquid *liquid, const struct pen *pen);

#endif
