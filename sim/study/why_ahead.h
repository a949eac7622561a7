/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What comes after a stretch of a life. */
#ifndef SIM_STUDY_WHY_AHEAD_H
#define SIM_STUDY_WHY_AHEAD_H

#include "pailcast/study/why.h"

/* Lives on from the end of a life that the strategy tended. world, in which it was lived,
 * is changed. A bucket that cannot be followed is looked into as far as it goes. Fails
 * with STATUS_MEMORY or STATUS_STOPPED. */
enum status why_ahead(struct why_ahead *ahead, const struct life *life,
                      struct scenario *world, const struct strategy *strategy,
                      struct error *error) STATUS_MUST_CHECK;

#endif
