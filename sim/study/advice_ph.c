/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Advice on pH. Acid or alkalinity mends one side and makes the other worse, so a life
 * that passes both limits is given neither. */
#include <math.h>

#include "advice_parts.h"
#include "pailcast/scenario/display.h"
#include "pailcast/study/advice.h"

const double advice_often_d = 1;

/* Visits that found pH above a limit. */
static size_t ph_visits_above(const struct compare_row *row, double ph)
{
    size_t count = 0;
    for (size_t i = 0; i < row->life.trajectory.visit_count; i++) {
        count += row->life.trajectory.visits[i].ph_before > ph;
    }
    return count;
}

/* Whether what the strategy adjusts pH with, if anything, was ever poured. */
static bool ph_poured(const struct compare_row *row, const struct scenario *scenario)
{
    double mmol = scenario_start_dose_mmol(scenario, row->strategy);
    for (size_t i = 0; i < row->life.trajectory.visit_count; i++) {
        mmol += row->life.trajectory.visits[i].adjust_mmol;
    }
    return mmol > 0;
}

/* The strategy's acid (turn < 0) or base (turn > 0), where any of it was poured. */
static const struct salt *ph_poured_one(const struct compare_row *row,
                                        const struct scenario *scenario, int turn)
{
    const struct salt *with = row->strategy->adjust.with;
    return with != NULL && with->alkalinity * turn > 0 && ph_poured(row, scenario) ? with
                                                                                   : NULL;
}

static void ph_both(struct compare_row *row, const struct scenario *scenario)
{
    const struct life_first_days *first = &row->life.first;
    const struct strategy *strategy = row->strategy;
    const struct trajectory *path = &row->life.trajectory;
    const bool fed = path->samples[path->sample_count - 1].stock_poured_l > 0;
    const bool ammonium = strategy->stock.mmol_l[ION_NH4] > 0;
    char often[64];
    (void)snprintf(often, sizeof often, "Visit more often than every %.3g d",
                   strategy->visit_every_d);
    advice_say(
        row, fmin(first->ph_high, first->ph_low),
        "Day %s: pH passes both limits, above %.3g first on day %s and below %.3g on "
        "day %s. Little buffers it: nitrate eaten lifts it and %s eaten lowers it. "
        "Acid or alkalinity would mend one side and worsen the other. %s, and it swings "
        "less.",
        display_day_text(scenario, fmin(first->ph_high, first->ph_low), 0).text,
        scenario->limits.ph_high, display_day_text(scenario, first->ph_high, 0).text,
        scenario->limits.ph_low, display_day_text(scenario, first->ph_low, 0).text,
        ammonium ? "ammonium" : "potassium",
        !fed                                       ? "Pour stock too, not water alone"
        : strategy->visit_every_d > advice_often_d ? often
                                                   : "Take a larger bucket");
}

static void ph_high(struct compare_row *row, const struct scenario *scenario)
{
    const double limit = scenario->limits.ph_high;
    const double day_d = row->life.first.ph_high;
    const size_t found = ph_visits_above(row, limit);
    const size_t visits = row->life.trajectory.visit_count;
    const struct salt *with = row->strategy->adjust.with;
    const struct salt *base = ph_poured_one(row, scenario, 1);
    if (base != NULL) {
        advice_say(row, day_d,
                   "Day %s: pH is above %.3g, and at %zu of %zu visits: %s lifts it. "
                   "Dose it to a lower pH than %.3g.",
                   display_day_text(scenario, day_d, 0).text, limit, found, visits,
                   base->name, row->strategy->adjust.to_ph);
    } else if (with == NULL || with->alkalinity >= 0) {
        advice_say(
            row, day_d,
            "Day %s: pH is above %.3g, and at %zu of %zu visits. With this water, add "
            "acid at visits (adjust in the scenario), in small doses and with eyes and "
            "hands covered.",
            display_day_text(scenario, day_d, 0).text, limit, found, visits);
    } else if (found > 1) {
        advice_say(
            row, day_d,
            "Day %s: pH is above %.3g, and at %zu of %zu visits although %s is added. "
            "Visit more often.",
            display_day_text(scenario, day_d, 0).text, limit, found, visits, with->name);
    }
}

static void ph_low(struct compare_row *row, const struct scenario *scenario)
{
    const double day_d = row->life.first.ph_low;
    const struct salt *acid = ph_poured_one(row, scenario, -1);
    if (acid != NULL) {
        advice_say(row, day_d,
                   "Day %s: pH falls below %.3g: %s has taken what would hold it. Dose "
                   "it to a higher pH than %.3g.",
                   display_day_text(scenario, day_d, 0).text, scenario->limits.ph_low,
                   acid->name, row->strategy->adjust.to_ph);
        return;
    }
    const bool ammonium = row->strategy->stock.mmol_l[ION_NH4] > 0;
    advice_say(row, day_d,
               "Day %s: pH falls below %.3g. %sop up with a water that holds some "
               "alkalinity.",
               display_day_text(scenario, day_d, 0).text, scenario->limits.ph_low,
               ammonium ? "Use a recipe with less ammonium, or t" : "T");
}

void advice_ph(struct compare_row *row, const struct scenario *scenario)
{
    const struct life_first_days *first = &row->life.first;
    const bool high = !isnan(first->ph_high);
    const bool low = !isnan(first->ph_low);
    if (high && low) {
        ph_both(row, scenario);
    } else if (high) {
        ph_high(row, scenario);
    } else if (low) {
        ph_low(row, scenario);
    }
}
