/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/visit/strategy.h"

#include <math.h>

#include "pailcast/visit/fill.h"

static const double strategy_slack_d = 1e-9;
static const double hours_per_day = 24;

struct strategy strategy_defaults(void)
{
    struct strategy strategy = {
        .visit_every_d = 3,
        .fill = {.rule = fill_rule_by_name("water"),
                 .stock_share = 0.5,
                 .aim_ec_ms_cm = NAN,
                 .pour_l = INFINITY},
        .renew_every_d = INFINITY,
        .renew_above_ec_ms_cm = INFINITY,
        .renew_share = 1,
        .renew_stock_share = NAN,
    };
    for (int i = 0; i < ION_COUNT; i++) {
        strategy.renew_above_mmol_l[i] = INFINITY;
    }
    return strategy;
}

static bool strategy_is_away(const struct strategy *strategy, double day_d)
{
    for (size_t i = 0; i < strategy->away_count; i++) {
        if (day_d >= strategy->away[i].from_d - strategy_slack_d &&
            day_d < strategy->away[i].to_d - strategy_slack_d) {
            return true;
        }
    }
    return false;
}

double strategy_next_visit(const struct strategy *strategy, double day_d)
{
    const double offset = strategy->visit_at_h / hours_per_day;
    double count =
        floor((day_d - offset + strategy_slack_d) / strategy->visit_every_d) + 1;
    if (count < 1) {
        count = 1;
    }
    double next = offset + count * strategy->visit_every_d;
    while (strategy_is_away(strategy, next)) {
        count += 1;
        next = offset + count * strategy->visit_every_d;
    }
    return next;
}

const struct strategy_fill *strategy_fill_at(const struct strategy *strategy,
                                             size_t stage)
{
    const struct strategy_fill *fill = &strategy->fill;
    for (size_t i = 0; i < strategy->stage_count; i++) {
        if (strategy->stages[i].from_stage <= stage) {
            fill = &strategy->stages[i].fill;
        }
    }
    return fill;
}
