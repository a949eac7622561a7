/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of a study of many lives. */
#ifndef SIM_STUDY_RISK_PARTS_H
#define SIM_STUDY_RISK_PARTS_H

#include "pailcast/study/risk_sum.h"

/* Picks sum->best and its equals, and writes sum->verdict, from the finished rows (at
 * least one). */
void risk_verdict(struct risk_sum *sum);

#endif
