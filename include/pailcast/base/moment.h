/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When two moments of a life are one. */
#ifndef PAILCAST_BASE_MOMENT_H
#define PAILCAST_BASE_MOMENT_H

/* Moments nearer to each other than this are one, d: far more than the rounding of a day
 * in ten years, far less than a second. */
static const double moment_slack_d = 1e-9;

#endif
