/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where each ion is heading after a stretch of a life. */
#ifndef SIM_STUDY_WHY_OUTLOOK_H
#define SIM_STUDY_WHY_OUTLOOK_H

#include "pailcast/study/why.h"

/* Fills interval->ion from its tally and the samples at its ends. */
void why_outlook(struct why_interval *interval, const struct sample *first,
                 const struct sample *last, const struct scenario *scenario,
                 const struct strategy *strategy);

#endif
