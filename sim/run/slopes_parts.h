/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Slopes carried through a life in progress, from one moment to the next. In a life that
 * carries none nothing is done. */
#ifndef PAILCAST_RUN_SLOPES_PARTS_H
#define PAILCAST_RUN_SLOPES_PARTS_H

#include "living.h"

/* After the first filling. STATUS_MEMORY. */
enum status slopes_begin(struct living *living, struct error *error) STATUS_MUST_CHECK;

/* For the solver: how a slope goes on between stops. living: struct living. */
void slopes_rate(double rate[], size_t unknown, const double state[],
                 const double state_rate[], const double slope[], void *living);

/* After course_set. */
void slopes_set(struct living *living, bool lamp_on, size_t stage);

/* After a visit that found state[STATE_COUNT] on arrival: notes how its readings change.
 * STATUS_MEMORY. */
enum status slopes_visit(struct living *living, const double arrival[],
                         const struct visit_record *visit,
                         struct error *error) STATUS_MUST_CHECK;

/* After a cut that found state[STATE_COUNT]. */
void slopes_cut(struct living *living, const double before[], double share);

/* At the moment the plant is lost, before its rates are those of the dead. */
void slopes_lost(struct living *living);

#endif
