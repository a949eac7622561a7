/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/visit/visit.h"

#include <math.h>

#include "fills.h"
#include "hidden.h"
#include "pailcast/visit/adjust.h"

/* A renewal pours fresh solution unless the fill aims at an EC, which then makes its own.
 */
static struct fill_plan visit_plan(const struct observation *seen, double room_l,
                                   bool renewed, const struct strategy_fill *fill,
                                   const struct visit_kit *kit)
{
    const double share = kit->strategy->renew_stock_share;
    const bool aims = fill->rule == &fill_aim;
    if (!renewed || (isnan(share) && aims)) {
        return fill->rule->plan(seen, fill, room_l);
    }
    const double stock = isnan(share) ? kit->fresh_stock_share : share;
    return (struct fill_plan){
        .water_l = (1 - stock) * room_l, .stock_l = stock * room_l, .reached = true};
}

/* Pours what the plan of the fill says. */
static void visit_pour(double state[STATE_COUNT], struct visit_record *record,
                       const struct strategy *strategy)
{
    record->water_l = record->fill.water_l;
    record->stock_l = record->fill.stock_l;
    state_pour(state, &strategy->water, record->water_l);
    state_pour(state, &strategy->stock, record->stock_l);
}

static void visit_fill(double state[STATE_COUNT], struct visit_record *record,
                       struct observation *seen, const struct visit_kit *kit)
{
    const struct strategy_fill *fill = strategy_fill_at(kit->strategy, seen->stage);
    const bool renewed = record->renewal.reason != RENEW_NOT;
    const double free_l = fmax(kit->shape->full_l - state[STATE_VOLUME], 0);
    const double asked_l = renewed || !isfinite(fill->pour_l) ? free_l : fill->pour_l;
    record->refused_l = fmax(asked_l - free_l, 0);
    record->fill = visit_plan(seen, fmin(asked_l, free_l), renewed, fill, kit);
    visit_pour(state, record, kit->strategy);
}

/* Drains and notes what went, to the last digit: the books count the state itself. */
static void visit_drain(double state[STATE_COUNT], struct visit_record *record)
{
    for (int i = 0; i < ION_COUNT; i++) {
        record->drained_mmol[i] = state[STATE_ION + i];
    }
    record->drained_alkalinity_meq = state[STATE_ALKALINITY];
    state_drain(state, record->drained_l);
    for (int i = 0; i < ION_COUNT; i++) {
        record->drained_mmol[i] -= state[STATE_ION + i];
    }
    record->drained_alkalinity_meq -= state[STATE_ALKALINITY];
}

/* noted_mmol: what was added; NAN: as the strategy asks. */
static void visit_adjust(double state[STATE_COUNT], struct visit_record *record,
                         const struct visit_kit *kit, double noted_mmol)
{
    const struct strategy_adjust *adjust = &kit->strategy->adjust;
    if (adjust->with == NULL) {
        return;
    }
    const struct liquid liquid = state_liquid(state);
    record->adjust_mmol =
        isnan(noted_mmol)
            ? adjust_dose_mmol_l(adjust, &liquid, kit->pen) * state[STATE_VOLUME]
            : noted_mmol;
    for (int i = 0; i < ION_COUNT; i++) {
        state[STATE_ION + i] += adjust->with->ions[i] * record->adjust_mmol;
    }
    state[STATE_ALKALINITY] += adjust->with->alkalinity * record->adjust_mmol;
}

static void visit_read_after(const double state[STATE_COUNT], struct visit_record *record,
                             const struct pen *pen)
{
    const struct liquid after = state_liquid(state);
    const struct pen_reading reading = pen_read(pen, &after);
    record->ec_after_ms_cm = reading.ec_ms_cm;
    record->ph_after = reading.ph;
    record->volume_after_l = state[STATE_VOLUME];
}

/* A record of what is found, nothing done yet. */
static struct visit_record visit_arrive(const double state[STATE_COUNT], double day_d,
                                        const struct visit_kit *kit)
{
    const struct liquid liquid = state_liquid(state);
    const struct pen_reading reading = pen_read(kit->pen, &liquid);
    return (struct visit_record){.strategy = kit->strategy,
                                 .day_d = day_d,
                                 .ec_before_ms_cm = reading.ec_ms_cm,
                                 .ph_before = reading.ph,
                                 .volume_before_l = state[STATE_VOLUME],
                                 .before = liquid};
}

struct visit_record visit_make(double state[STATE_COUNT], double day_d,
                               double since_renewal_d, size_t stage,
                               const struct visit_kit *kit)
{
    struct visit_record record = visit_arrive(state, day_d, kit);
    struct observation_bucket bucket = {.liquid = record.before,
                                        .water = &kit->strategy->water,
                                        .stock = &kit->strategy->stock,
                                        .pen = kit->pen,
                                        .pen_relative = kit->strategy->hand.pen_relative};
    struct observation seen = {.volume_l = state[STATE_VOLUME],
                               .ec_ms_cm =
                                   (1 + bucket.pen_relative) * record.ec_before_ms_cm,
                               .since_renewal_d = since_renewal_d,
                               .stage = stage,
                               .bucket = &bucket};
    record.renewal = renew_decide(&seen, kit->strategy);
    record.drained_l = record.renewal.drain_l;
    visit_drain(state, &record);
    seen.volume_l = state[STATE_VOLUME];
    visit_fill(state, &record, &seen, kit);
    visit_adjust(state, &record, kit, NAN);
    visit_read_after(state, &record, kit->pen);
    return record;
}

struct visit_record visit_given(double state[STATE_COUNT], double day_d,
                                const struct visit_given *given,
                                const struct visit_kit *kit)
{
    struct visit_record record = visit_arrive(state, day_d, kit);
    record.renewal.ion = ION_COUNT;
    record.fill = (struct fill_plan){
        .water_l = given->water_l, .stock_l = given->stock_l, .reached = true};
    record.drained_l = fmin(given->drained_l, state[STATE_VOLUME]);
    if (record.drained_l > 0) {
        record.renewal.reason = RENEW_CALENDAR;
        record.renewal.drain_l = record.drained_l;
    }
    visit_drain(state, &record);
    visit_pour(state, &record, kit->strategy);
    visit_adjust(state, &record, kit, given->adjust_mmol);
    visit_read_after(state, &record, kit->pen);
    return record;
}
