/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/run/ledger.h"

#include <math.h>
#include <stdlib.h>

static void ledger_add(struct ledger_side *side, const struct liquid *liquid,
                       double litres)
{
    side->water_l += litres;
    for (int i = 0; i < ION_COUNT; i++) {
        side->mmol[i] += liquid->mmol_l[i] * litres;
    }
    side->alkalinity_meq += liquid->alkalinity_meq_l * litres;
}

/* Water that plant and air have taken. */
static double ledger_gone_l(const double state[STATE_COUNT])
{
    return state[STATE_DRUNK] + state[STATE_EVAPORATED];
}

void ledger_open(struct ledger *ledger, const double state[STATE_COUNT])
{
    *ledger = (struct ledger){0};
    ledger->first.water_l = state[STATE_VOLUME];
    ledger->first.alkalinity_meq = state[STATE_ALKALINITY];
    for (int i = 0; i < ION_COUNT; i++) {
        ledger->first.mmol[i] = state[STATE_ION + i];
        ledger->before.mmol[i] = state[STATE_UPTAKE + i];
    }
    ledger->before.water_l = ledger_gone_l(state);
}

void ledger_enter(struct ledger *ledger, const struct visit_record *visit)
{
    ledger_add(&ledger->poured, &visit->strategy->water, visit->water_l);
    ledger_add(&ledger->poured, &visit->strategy->stock, visit->stock_l);
    ledger->drained.water_l += visit->drained_l;
    ledger->drained.alkalinity_meq += visit->drained_alkalinity_meq;
    for (int i = 0; i < ION_COUNT; i++) {
        ledger->drained.mmol[i] += visit->drained_mmol[i];
    }
    ledger->salt_poured_g += liquid_salt_g_l(&visit->strategy->water) * visit->water_l +
                             liquid_salt_g_l(&visit->strategy->stock) * visit->stock_l;
    const struct salt *dosed = visit->strategy->adjust.with;
    if (dosed != NULL && visit->adjust_mmol != 0) {
        struct liquid dose = {0};
        salt_dissolve_mmol(&dose, dosed, visit->adjust_mmol);
        struct ledger_side *poured = &ledger->poured;
        for (int i = 0; i < ION_COUNT; i++) {
            poured->mmol[i] += dose.mmol_l[i];
        }
        poured->alkalinity_meq += dose.alkalinity_meq_l;
        ledger->salt_poured_g += liquid_salt_g_l(&dose);
        ledger->adjust_mmol += visit->adjust_mmol;
    }
    ledger->visits++;
    ledger->renewals += visit->renewal.reason != RENEW_NOT;
    ledger->tests += visit->renewal.tests;
}

/* What is missing or too much, relative to all that came in. */
static double ledger_gap(double left, double first, double poured, double drained,
                         double taken)
{
    const double came_in = fabs(first) + fabs(poured);
    return came_in > 0 ? fabs(first + poured - drained - taken - left) / came_in : 0;
}

/* Charge of one side, meq: positive ions less negative ions less alkalinity; *all
 * receives the charge of either sign. */
static double ledger_charge(const double mmol[ION_COUNT], double alkalinity_meq,
                            double *all)
{
    double net = -alkalinity_meq;
    *all += fabs(alkalinity_meq);
    for (int i = 0; i < ION_COUNT; i++) {
        net += ion_table[i].charge * mmol[i];
        *all += abs(ion_table[i].charge) * fabs(mmol[i]);
    }
    return net;
}

struct ledger_balance ledger_close(const struct ledger *ledger,
                                   const double state[STATE_COUNT])
{
    const struct ledger_side *first = &ledger->first;
    const struct ledger_side *before = &ledger->before;
    const struct ledger_side *poured = &ledger->poured;
    const struct ledger_side *drained = &ledger->drained;
    struct ledger_balance balance = {0};
    balance.water_rel =
        ledger_gap(state[STATE_VOLUME], first->water_l + before->water_l, poured->water_l,
                   drained->water_l, ledger_gone_l(state));
    for (int i = 0; i < ION_COUNT; i++) {
        balance.ion_rel[i] =
            ledger_gap(state[STATE_ION + i], first->mmol[i] + before->mmol[i],
                       poured->mmol[i], drained->mmol[i], state[STATE_UPTAKE + i]);
        balance.worst_ion_rel = fmax(balance.worst_ion_rel, balance.ion_rel[i]);
    }
    /* Uptake carries no net charge: what it takes of one sign it leaves as alkalinity. */
    double came_in = 0;
    double aside = 0;
    const double net = ledger_charge(first->mmol, first->alkalinity_meq, &came_in) +
                       ledger_charge(poured->mmol, poured->alkalinity_meq, &came_in) -
                       ledger_charge(drained->mmol, drained->alkalinity_meq, &aside);
    const double left = ledger_charge(state + STATE_ION, state[STATE_ALKALINITY], &aside);
    balance.charge_rel = came_in > 0 ? fabs(net - left) / came_in : 0;
    return balance;
}
