/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A strategy by the name that somebody typed. */
#ifndef PAILCAST_SCENARIO_NAMED_H
#define PAILCAST_SCENARIO_NAMED_H

#include "pailcast/base/status.h"
#include "pailcast/scenario/scenario.h"

/* *which becomes the strategy of this name, or else of the name that is the same but for
 * capitals, runs of blanks and the style of quotes and dashes, or else of the only name
 * that so begins. STATUS_INPUT, with the names it may be, where there is none or are
 * several; path is the scenario's in that message. */
enum status named_strategy(size_t *which, const struct scenario *scenario,
                           const char *asked, const char *path,
                           struct error *error) STATUS_MUST_CHECK;

#endif
