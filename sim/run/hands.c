/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/run/hands.h"

#include <math.h>

#include "pailcast/base/moment.h"

static double hands_strategy_next(const void *context, double day_d)
{
    return strategy_next_visit(context, day_d);
}

static struct visit_record hands_strategy_visit(double state[STATE_COUNT], double day_d,
                                                double since_renewal_d, size_t stage,
                                                const struct visit_kit *kit,
                                                const void *context)
{
    (void)context;
    return visit_make(state, day_d, since_renewal_d, stage, kit);
}

struct hands hands_strategy(const struct strategy *strategy)
{
    return (struct hands){hands_strategy_next, hands_strategy_visit, strategy};
}

/* The first entry later than day_d; log->count when there is none. */
static size_t hands_log_find(const struct hands_log *log, double day_d)
{
    size_t low = 0;
    size_t high = log->count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (log->entries[middle].day_d > day_d + moment_slack_d) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    return low;
}

static double hands_log_next(const void *context, double day_d)
{
    const struct hands_log *log = context;
    const size_t found = hands_log_find(log, day_d);
    if (found < log->count) {
        return log->entries[found].day_d;
    }
    if (log->then == NULL) {
        return INFINITY;
    }
    const bool noted =
        log->count > 0 && day_d <= log->entries[log->count - 1].day_d + moment_slack_d;
    return noted ? strategy_visit_after(log->then, day_d)
                 : strategy_next_visit(log->then, day_d);
}

static struct visit_record hands_log_visit(double state[STATE_COUNT], double day_d,
                                           double since_renewal_d, size_t stage,
                                           const struct visit_kit *kit,
                                           const void *context)
{
    const struct hands_log *log = context;
    const size_t found = hands_log_find(log, day_d - 2 * moment_slack_d);
    if (found < log->count && fabs(log->entries[found].day_d - day_d) <= moment_slack_d) {
        return visit_given(state, day_d, &log->entries[found].given, kit);
    }
    struct visit_kit then = *kit;
    then.strategy = log->then;
    return visit_make(state, day_d, since_renewal_d, stage, &then);
}

struct hands hands_log(const struct hands_log *log)
{
    return (struct hands){hands_log_next, hands_log_visit, log};
}
