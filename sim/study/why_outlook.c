/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Balance of one ion in a bucket that is topped up to the same level again and again,
 * with T litres drunk, E evaporated, D drained and T + E + D poured at c_w (mmol/L):
 *
 *     V dC = c_w (T + E + D) - eaten - D C
 *
 * where eaten is p C T for an ion that follows its concentration and u T for one that the
 * plant takes at a steady rate. */
#include "why_outlook.h"

#include <math.h>

/* What lasts for less than this sip of the plant has run out, L (chosen). */
static const double outlook_gone_l = 0.01;

/* What counts as not moving (chosen: less than a grower could measure). */
static const double outlook_steady = 0.05;

/* Whether uptake of an ion goes with its concentration, by the rules of the plant. */
static bool outlook_follows(const struct crop *crop, size_t stage, enum ion ion)
{
    switch (crop->kind) {
    case CROP_TABLE:
        return crop->stages[stage].follows[ion] > 0;
    case CROP_GROWN:
        return crop->growth.selectivity[ion] > 0;
    default:
        return false;
    }
}

static double outlook_passed_l(const struct why_tally *tally)
{
    return tally->drunk_l + tally->evaporated_l + tally->drained_l;
}

/* Where C stops moving; NAN where it never does. */
static double outlook_limit(const struct why_ion *ion, double supplied_mmol,
                            double eaten_mmol, const struct why_tally *tally)
{
    const double carried_l = ion->ratio * tally->drunk_l; /* p T */
    if (ion->follows && carried_l > 0) {
        return supplied_mmol / (carried_l + tally->drained_l);
    }
    if (supplied_mmol < eaten_mmol) {
        return 0;
    }
    return tally->drained_l > 0 ? (supplied_mmol - eaten_mmol) / tally->drained_l : NAN;
}

static bool outlook_is_steady(const struct why_ion *ion, double gain_mmol,
                              double passed_l)
{
    if (ion->limit_mmol_l > 0) {
        return fabs(ion->last_mmol_l - ion->limit_mmol_l) <=
               outlook_steady * ion->limit_mmol_l;
    }
    return fabs(gain_mmol) <= outlook_steady * ion->last_mmol_l * passed_l;
}

static void outlook_head(struct why_ion *ion, const struct why_tally *tally,
                         double eaten_mmol, double low_mmol_l, double volume_l)
{
    const double passed_l = outlook_passed_l(tally);
    const double supplied_mmol = ion->makeup_mmol_l * passed_l;
    const double gain_mmol =
        supplied_mmol - eaten_mmol - tally->drained_l * ion->last_mmol_l;
    ion->limit_mmol_l = outlook_limit(ion, supplied_mmol, eaten_mmol, tally);
    ion->gone_after_l = NAN;
    if (ion->last_mmol_l < low_mmol_l) {
        ion->heading = WHY_GONE;
    } else if (outlook_is_steady(ion, gain_mmol, passed_l)) {
        ion->heading = WHY_STEADY;
        ion->limit_mmol_l = ion->limit_mmol_l > 0 ? ion->limit_mmol_l : NAN;
    } else if (!(ion->limit_mmol_l <= ion->last_mmol_l)) {
        ion->heading = WHY_RISES;
    } else if (ion->follows || ion->limit_mmol_l > 0) {
        ion->heading = WHY_FALLS;
    } else {
        ion->gone_after_l =
            ion->last_mmol_l * volume_l * tally->drunk_l / (eaten_mmol - supplied_mmol);
        ion->heading = ion->gone_after_l > outlook_gone_l ? WHY_RUNS_OUT : WHY_GONE;
    }
}

void why_outlook(struct why_interval *interval, const struct sample *first,
                 const struct sample *last, const struct scenario *scenario,
                 const struct strategy *strategy)
{
    const struct why_tally *tally = &interval->tally;
    const struct liquid was = state_liquid(first->state);
    const struct liquid is = state_liquid(last->state);
    const double volume_l = last->state[STATE_VOLUME];
    const double poured_l =
        tally->water_l + tally->stock_l + tally->renewal_water_l + tally->renewal_stock_l;
    for (int i = 0; i < ION_COUNT; i++) {
        struct why_ion *ion = &interval->ion[i];
        const double eaten = tally->eaten_mmol[i];
        ion->eaten_mmol_l = tally->drunk_l > 0 ? eaten / tally->drunk_l : NAN;
        ion->solution_mmol_l =
            tally->drunk_l > 0 ? tally->in_drunk_mmol[i] / tally->drunk_l : NAN;
        ion->ratio = tally->in_drunk_mmol[i] > 0 ? eaten / tally->in_drunk_mmol[i] : NAN;
        ion->makeup_mmol_l =
            poured_l > 0 ? tally->poured_mmol[i] / poured_l : strategy->water.mmol_l[i];
        ion->first_mmol_l = was.mmol_l[i];
        ion->last_mmol_l = is.mmol_l[i];
        ion->follows = outlook_follows(&scenario->crop, last->stage, (enum ion)i);
        outlook_head(ion, tally, eaten, scenario->limits.low_mmol_l[i], volume_l);
    }
}
