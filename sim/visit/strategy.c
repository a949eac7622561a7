/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/visit/strategy.h"

#include <math.h>

#include "pailcast/base/hash.h"
#include "pailcast/base/moment.h"
#include "pailcast/visit/fill.h"

static const double hours_per_day = 24;

/* Early or late by less than half the interval, so that visits keep their order. */
static const double strategy_most_late = 0.45;

/* Ten years of hourly visits are fewer; the search for the next one then ends. */
static const uint64_t strategy_most_visits = 100000;

enum strategy_stream {
    STRATEGY_MISSED,
    STRATEGY_LATE
};

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
        if (day_d >= strategy->away[i].from_d - moment_slack_d &&
            day_d < strategy->away[i].to_d - moment_slack_d) {
            return true;
        }
    }
    return false;
}

static bool strategy_is_missed(const struct strategy_hand *hand, uint64_t count)
{
    return hand->missed > 0 &&
           hash_unit(hand->seed, STRATEGY_MISSED, count) < hand->missed;
}

/* How much the visit comes after its planned moment, evenly spread about it, d. */
static double strategy_delay(const struct strategy *strategy, uint64_t count)
{
    const struct strategy_hand *hand = &strategy->hand;
    if (hand->late_d <= 0) {
        return 0;
    }
    const double most =
        fmin(sqrt(3) * hand->late_d, strategy_most_late * strategy->visit_every_d);
    return most * (2 * hash_unit(hand->seed, STRATEGY_LATE, count) - 1);
}

double strategy_next_visit(const struct strategy *strategy, double day_d)
{
    const double offset = strategy->visit_at_h / hours_per_day;
    const double every = strategy->visit_every_d;
    const double passed = floor((day_d - offset + moment_slack_d) / every);
    const uint64_t first = passed > 1 ? (uint64_t)passed : 1;
    for (uint64_t count = first; count < first + strategy_most_visits; count++) {
        const double planned = offset + (double)count * every;
        const double made = planned + strategy_delay(strategy, count);
        if (made > day_d + moment_slack_d && !strategy_is_away(strategy, planned) &&
            !strategy_is_missed(&strategy->hand, count)) {
            return made;
        }
    }
    return INFINITY;
}

double strategy_visit_after(const struct strategy *strategy, double noted_d)
{
    static const double most_d = 1; /* chosen */
    return strategy_next_visit(strategy,
                               noted_d + fmin(0.5 * strategy->visit_every_d, most_d));
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
