/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "pailcast/study/tune.h"
#include "pailcast/visit/fill.h"

/* How far a search may go from the present setting, and steps that a grower would bother
 * with (chosen). */
static const double range_less = 0.5, range_more = 2;
static const double range_ec_step = 0.05;
static const double range_share_step = 0.05;
static const double range_least_visit_d = 0.5;
static const double range_most_visit_d = 14;
static const double range_least_renewal_d = 7;
static const double range_least_share = 0.25;

static bool tune_range_fills(const struct strategy *strategy, const char *rule)
{
    return strcmp(strategy->fill.rule->name, rule) == 0;
}

static bool tune_range_ec(struct tune_range *range, double present_ms_cm)
{
    range->low = range_less * present_ms_cm;
    range->high = range_more * present_ms_cm;
    range->step = range_ec_step;
    return isfinite(present_ms_cm) && present_ms_cm > 0;
}

bool tune_range_of(struct tune_range *range, enum tune_setting setting,
                   const struct strategy *strategy, const struct scenario *scenario)
{
    const double longest_d = scenario->duration_d;
    switch (setting) {
    case TUNE_VISIT_EVERY:
        *range = (struct tune_range){
            range_least_visit_d,
            fmin(fmax(range_most_visit_d, range_more * strategy->visit_every_d),
                 longest_d),
            range_least_visit_d};
        return range->high > range->low;
    case TUNE_AIM_EC:
        return tune_range_fills(strategy, "aim") &&
               tune_range_ec(range, strategy->fill.aim_ec_ms_cm);
    case TUNE_STOCK_SHARE:
        *range = (struct tune_range){0, 1, range_share_step};
        return tune_range_fills(strategy, "mix");
    case TUNE_RENEW_EVERY:
        /* The longest interval stands for never. */
        *range = (struct tune_range){range_least_renewal_d, ceil(longest_d) + 1, 1};
        return longest_d > range_least_renewal_d;
    case TUNE_RENEW_ABOVE:
        return tune_range_ec(range, strategy->renew_above_ec_ms_cm);
    default:
        *range = (struct tune_range){range_least_share, 1, range_share_step};
        return true;
    }
}

double tune_range_read(enum tune_setting setting, const struct strategy *strategy)
{
    switch (setting) {
    case TUNE_VISIT_EVERY:
        return strategy->visit_every_d;
    case TUNE_AIM_EC:
        return strategy->fill.aim_ec_ms_cm;
    case TUNE_STOCK_SHARE:
        return strategy->fill.stock_share;
    case TUNE_RENEW_EVERY:
        return strategy->renew_every_d;
    case TUNE_RENEW_ABOVE:
        return strategy->renew_above_ec_ms_cm;
    default:
        return strategy->renew_share;
    }
}

/* The fills of later stages keep their proportion to the first. */
static void tune_range_write_aim(struct strategy *strategy, double aim_ms_cm)
{
    const double ratio = aim_ms_cm / strategy->fill.aim_ec_ms_cm;
    for (size_t i = 0; i < strategy->stage_count; i++) {
        strategy->stages[i].fill.aim_ec_ms_cm *= ratio;
    }
    strategy->fill.aim_ec_ms_cm = aim_ms_cm;
}

void tune_range_write(struct strategy *strategy, enum tune_setting setting, double value)
{
    switch (setting) {
    case TUNE_VISIT_EVERY:
        strategy->visit_every_d = value;
        break;
    case TUNE_AIM_EC:
        tune_range_write_aim(strategy, value);
        break;
    case TUNE_STOCK_SHARE:
        strategy->fill.stock_share = value;
        break;
    case TUNE_RENEW_EVERY:
        strategy->renew_every_d = value;
        break;
    case TUNE_RENEW_ABOVE:
        strategy->renew_above_ec_ms_cm = value;
        break;
    default:
        strategy->renew_share = value;
        break;
    }
}
