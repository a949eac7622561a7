/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What happened to a strategy, and what would if nobody came or the air pump stopped: one
 * sentence each, shared by the terminal and the page. */
#ifndef SIM_REPORT_HISTORY_H
#define SIM_REPORT_HISTORY_H

#include <stdbool.h>

#include "figure.h"

/* By day: "Day 41.3: potassium ran out ...; day 96.1: EC rose above 2.60 mS/cm." or that
 * no limit was passed. */
void history_timeline(char to[FIGURE_LINE_SIZE], const struct compare *compare,
                      size_t row);

/* How long the roots have when the air pump stops at the worst moment of a life. False
 * where the plant has none. */
bool history_outage(char to[FIGURE_LINE_SIZE], const struct compare *compare, size_t row);

/* How long the bucket can be left alone after the last visit. False where there is
 * nothing to tell. */
bool history_absence(char to[FIGURE_LINE_SIZE], const struct compare *compare,
                     size_t row);

#endif
