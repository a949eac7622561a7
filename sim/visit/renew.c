/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/visit/renew.h"

#include <math.h>

static const double renew_slack_d = 1e-6;

struct renew_plan renew_decide(const struct observation *seen,
                               const struct strategy *strategy)
{
    struct renew_plan plan = {.reason = RENEW_NOT, .ion = ION_COUNT};
    if (seen->since_renewal_d >= strategy->renew_every_d - renew_slack_d) {
        plan.reason = RENEW_CALENDAR;
    } else if (seen->ec_ms_cm > strategy->renew_above_ec_ms_cm) {
        plan.reason = RENEW_EC;
    }
    for (int i = 0; i < ION_COUNT; i++) {
        if (!isfinite(strategy->renew_above_mmol_l[i])) {
            continue;
        }
        plan.tests++;
        if (plan.reason == RENEW_NOT &&
            observation_test(seen, (enum ion)i) > strategy->renew_above_mmol_l[i]) {
            plan.reason = RENEW_ION;
            plan.ion = (enum ion)i;
        }
    }
    if (plan.reason != RENEW_NOT) {
        plan.drain_l = strategy->renew_share * seen->volume_l;
    }
    return plan;
}
