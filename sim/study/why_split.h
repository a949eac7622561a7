/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One step of a life split into the causes of its change of EC. */
#ifndef SIM_STUDY_WHY_SPLIT_H
#define SIM_STUDY_WHY_SPLIT_H

#include "pailcast/chem/pen.h"
#include "pailcast/study/why.h"

/* What passed between two neighbouring states with nobody at the bucket. */
struct why_tally why_split_drift(const double before[STATE_COUNT],
                                 const double after[STATE_COUNT], const struct pen *pen);

/* What a visit to the bucket in state `before` did. */
struct why_tally why_split_visit(const double before[STATE_COUNT],
                                 const struct visit_record *visit,
                                 const struct strategy *strategy, const struct pen *pen);

/* Adds what passed in a step to a stretch. */
void why_split_add(struct why_tally *tally, const struct why_tally *step);

#endif
