/* SPDX-License-Identifier: GPL-3.0-or-later */
/* EC is a function of the amounts n_i (mmol), the alkalinity A (meq) and the volume V
 * (L). Along a life
 *
 *     dEC = sum_i (dEC/dn_i) dn_i + (dEC/dA) dA + (dEC/dV) dV
 *
 * with dn_i = -uptake_i, dV = -drunk - evaporated. Each term is integrated between two
 * samples along the straight line from one state to the next, by Gauss's rule of two
 * points, with the gradients of the full EC as the pen reads it. Amounts come from the
 * ledger components of the state. The sum of the terms is not forced to the change of
 * EC: what is left shows how well the integral was done. */
#include "why_split.h"

#include <math.h>

/* Half-width of the centred differences, as a share of a piece: small enough for an error
 * below 1e-6, wide enough to stand above rounding. Gauss's points lie 0.211 within the
 * ends, so amounts never leave the stretch nor turn negative (chosen). */
static const double split_reach = 0.02;

/* A piece in which volume changes by at most this share. Where pH leaps, EC bends within
 * an hour: pieces are quartered until the terms sum up to the change of EC within the
 * gap, but not beyond so many (all chosen). */
static const double split_change = 0.05;
static const double split_gap = 1e-6;
static const double split_gap_ms_cm = 1e-9;
static const double split_pieces_max = 1024;

static double split_ec(const double state[STATE_COUNT], const struct pen *pen)
{
    const struct liquid liquid = state_liquid(state);
    return pen_read(pen, &liquid).ec_ms_cm;
}

/* Rate of EC at `at` along `step`, of which components [first, last] are moved. */
static double split_slope(const double at[STATE_COUNT], const double step[STATE_COUNT],
                          int first, int last, double reach, const struct pen *pen)
{
    double ahead[STATE_COUNT] = {0};
    double behind[STATE_COUNT] = {0};
    for (int i = STATE_VOLUME; i <= STATE_ALKALINITY; i++) {
        const double move = i >= first && i <= last ? reach * step[i] : 0;
        ahead[i] = at[i] + move;
        behind[i] = at[i] - move;
    }
    return (split_ec(ahead, pen) - split_ec(behind, pen)) / (2 * reach);
}

static double split_pieces(const double before[STATE_COUNT],
                           const double after[STATE_COUNT])
{
    const double least_l = fmin(before[STATE_VOLUME], after[STATE_VOLUME]);
    const double most_l = fmax(before[STATE_VOLUME], after[STATE_VOLUME]);
    const double wanted = ceil((most_l - least_l) / (split_change * least_l));
    return least_l > 0 && wanted < split_pieces_max ? fmax(wanted, 1) : split_pieces_max;
}

/* Adds one Gauss point at share x of the way, standing for `weight` of it. */
static void split_point(struct why_tally *tally, const double before[STATE_COUNT],
                        const double step[STATE_COUNT], double x, double weight,
                        double reach, const struct pen *pen)
{
    double at[STATE_COUNT] = {0};
    for (int i = STATE_VOLUME; i <= STATE_ALKALINITY; i++) {
        at[i] = before[i] + x * step[i];
    }
    const double lost_l = tally->drunk_l + tally->evaporated_l;
    if (lost_l > 0) {
        const double change =
            weight * split_slope(at, step, STATE_VOLUME, STATE_VOLUME, reach, pen);
        tally->part[WHY_DRINKING] += change * tally->drunk_l / lost_l;
        tally->part[WHY_EVAPORATION] += change * tally->evaporated_l / lost_l;
    }
    tally->part[WHY_EATING] +=
        weight * split_slope(at, step, STATE_ION, STATE_ALKALINITY - 1, reach, pen);
    tally->part[WHY_OTHER] +=
        weight * split_slope(at, step, STATE_ALKALINITY, STATE_ALKALINITY, reach, pen);
    for (int i = 0; i < ION_COUNT; i++) {
        tally->in_drunk_mmol[i] +=
            weight * tally->drunk_l * fmax(at[STATE_ION + i], 0) / at[STATE_VOLUME];
    }
}

/* Integrates in so many pieces; returns whether the terms sum up to `change`. */
static bool split_integrate(struct why_tally *tally, const double before[STATE_COUNT],
                            const double step[STATE_COUNT], double pieces, double change,
                            const struct pen *pen)
{
    const double root = 1 / sqrt(3); /* Gauss's two points on [-1, 1] */
    const double reach = split_reach / pieces;
    double sum = 0;
    double moved = 0;
    for (int k = 0; k < (int)pieces; k++) {
        split_point(tally, before, step, (k + 0.5 * (1 - root)) / pieces, 0.5 / pieces,
                    reach, pen);
        split_point(tally, before, step, (k + 0.5 * (1 + root)) / pieces, 0.5 / pieces,
                    reach, pen);
    }
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        sum += tally->part[i];
        moved += fabs(tally->part[i]);
    }
    return fabs(change - sum) <= split_gap * moved + split_gap_ms_cm;
}

struct why_tally why_split_drift(const double before[STATE_COUNT],
                                 const double after[STATE_COUNT], const struct pen *pen)
{
    struct why_tally passed = {0};
    double step[STATE_COUNT] = {0};
    passed.drunk_l = after[STATE_DRUNK] - before[STATE_DRUNK];
    passed.evaporated_l = after[STATE_EVAPORATED] - before[STATE_EVAPORATED];
    step[STATE_VOLUME] = -passed.drunk_l - passed.evaporated_l;
    for (int i = 0; i < ION_COUNT; i++) {
        passed.eaten_mmol[i] = after[STATE_UPTAKE + i] - before[STATE_UPTAKE + i];
        step[STATE_ION + i] = -passed.eaten_mmol[i];
    }
    step[STATE_ALKALINITY] = after[STATE_ALKALINITY] - before[STATE_ALKALINITY];
    if (before[STATE_VOLUME] <= 0) {
        return passed;
    }
    const double change = split_ec(after, pen) - split_ec(before, pen);
    struct why_tally tally = passed;
    double pieces = split_pieces(before, after);
    while (!split_integrate(&tally, before, step, pieces, change, pen) &&
           4 * pieces <= split_pieces_max) {
        pieces *= 4;
        tally = passed;
    }
    return tally;
}

static double split_ec_poured(const double state[STATE_COUNT],
                              const struct strategy *strategy, double water_l,
                              double stock_l, const struct pen *pen)
{
    double full[STATE_COUNT] = {0};
    for (int i = STATE_VOLUME; i <= STATE_ALKALINITY; i++) {
        full[i] = state[i];
    }
    state_pour(full, &strategy->water, water_l);
    state_pour(full, &strategy->stock, stock_l);
    return split_ec(full, pen);
}

/* Water and stock count by the mean of both orders, so that the split does not hang on
 * which was poured first. Draining before changes no concentration. */
static void split_pours(struct why_tally *tally, const double before[STATE_COUNT],
                        const double state[STATE_COUNT], const struct visit_record *visit,
                        const struct strategy *strategy, const struct pen *pen)
{
    const double none = split_ec(before, pen);
    const double water = split_ec_poured(state, strategy, visit->water_l, 0, pen);
    const double stock = split_ec_poured(state, strategy, 0, visit->stock_l, pen);
    const double both =
        split_ec_poured(state, strategy, visit->water_l, visit->stock_l, pen);
    if (visit->renewal.reason != RENEW_NOT) {
        tally->part[WHY_RENEWAL] = both - none;
    } else {
        tally->part[WHY_WATER] = 0.5 * (water - none + both - stock);
        tally->part[WHY_STOCK] = 0.5 * (stock - none + both - water);
    }
}

/* Acid or base, after the pours. */
static void split_dose(struct why_tally *tally, double state[STATE_COUNT],
                       const struct salt *with, double mmol, const struct pen *pen)
{
    const double undosed = split_ec(state, pen);
    for (int i = 0; i < ION_COUNT; i++) {
        state[STATE_ION + i] += with->ions[i] * mmol;
        tally->poured_mmol[i] += with->ions[i] * mmol;
    }
    state[STATE_ALKALINITY] += with->alkalinity * mmol;
    tally->part[WHY_OTHER] = split_ec(state, pen) - undosed;
}

struct why_tally why_split_visit(const double before[STATE_COUNT],
                                 const struct visit_record *visit,
                                 const struct strategy *strategy, const struct pen *pen)
{
    const bool renewed = visit->renewal.reason != RENEW_NOT;
    struct why_tally tally = {.drained_l = visit->drained_l,
                              .water_l = renewed ? 0 : visit->water_l,
                              .stock_l = renewed ? 0 : visit->stock_l,
                              .renewal_water_l = renewed ? visit->water_l : 0,
                              .renewal_stock_l = renewed ? visit->stock_l : 0,
                              .visits = 1,
                              .renewals = renewed};
    double state[STATE_COUNT] = {0};
    for (int i = STATE_VOLUME; i <= STATE_ALKALINITY; i++) {
        state[i] = before[i];
    }
    state_drain(state, visit->drained_l);
    split_pours(&tally, before, state, visit, strategy, pen);
    state_pour(state, &strategy->water, visit->water_l);
    state_pour(state, &strategy->stock, visit->stock_l);
    for (int i = 0; i < ION_COUNT; i++) {
        tally.poured_mmol[i] = strategy->water.mmol_l[i] * visit->water_l +
                               strategy->stock.mmol_l[i] * visit->stock_l;
    }
    if (strategy->adjust.with != NULL && visit->adjust_mmol != 0) {
        split_dose(&tally, state, strategy->adjust.with, visit->adjust_mmol, pen);
    }
    return tally;
}

void why_split_add(struct why_tally *tally, const struct why_tally *step)
{
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        tally->part[i] += step->part[i];
    }
    tally->drunk_l += step->drunk_l;
    tally->evaporated_l += step->evaporated_l;
    tally->drained_l += step->drained_l;
    tally->water_l += step->water_l;
    tally->stock_l += step->stock_l;
    tally->renewal_water_l += step->renewal_water_l;
    tally->renewal_stock_l += step->renewal_stock_l;
    for (int i = 0; i < ION_COUNT; i++) {
        tally->eaten_mmol[i] += step->eaten_mmol[i];
        tally->in_drunk_mmol[i] += step->in_drunk_mmol[i];
        tally->poured_mmol[i] += step->poured_mmol[i];
    }
    tally->visits += step->visits;
    tally->renewals += step->renewals;
}
