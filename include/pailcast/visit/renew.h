/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Renewal rules: whether this visit drains the bucket, and why. */
#ifndef PAILCAST_VISIT_RENEW_H
#define PAILCAST_VISIT_RENEW_H

#include "pailcast/visit/observation.h"
#include "pailcast/visit/strategy.h"

enum renew_reason {
    RENEW_NOT,
    RENEW_CALENDAR,
    RENEW_EC,
    RENEW_ION
};

struct renew_plan {
    enum renew_reason reason;
    enum ion ion;   /* for RENEW_ION */
    double drain_l; /* 0 for RENEW_NOT */
    int tests;      /* test strips used to decide */
};

struct renew_plan renew_decide(const struct observation *seen,
                               const struct strategy *strategy);

#endif
