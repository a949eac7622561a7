/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of every life, put to the lives of 2000 scenarios drawn at random. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>

#include "support/random_scenario.h"

static const uint64_t first_seed = 1;
static const uint64_t scenarios = 2000;

/* A thousandfold of what adding up some hundred numbers rounds away. */
static const double books = 1e-9;

/* What solving for all components together rounds into one that has none. */
static const double noise_mmol = 1e-18;

/* What a bucket got and gave back of each ion, and of alkalinity, by the visits. */
struct account {
    double mmol[ION_COUNT];
    double came_mmol[ION_COUNT];
    double alkalinity_meq, came_meq;
};

static void account_add(struct account *account, const struct liquid *liquid,
                        double litres)
{
    for (int i = 0; i < ION_COUNT; i++) {
        const double mmol = liquid->mmol_l[i] * litres;
        account->mmol[i] += mmol;
        account->came_mmol[i] += fabs(mmol);
        account->came_meq += fabs(ion_table[i].charge * mmol);
    }
    account->alkalinity_meq += liquid->alkalinity_meq_l * litres;
    account->came_meq += fabs(liquid->alkalinity_meq_l * litres);
}

static void account_visit(struct account *account, const struct visit_record *visit,
                          const struct strategy *strategy)
{
    account_add(account, &strategy->water, visit->water_l);
    account_add(account, &strategy->stock, visit->stock_l);
    for (int i = 0; i < ION_COUNT; i++) {
        account->mmol[i] -= visit->drained_mmol[i];
    }
    account->alkalinity_meq -= visit->drained_alkalinity_meq;
    if (strategy->adjust.with != NULL) {
        struct liquid dose = {0};
        salt_dissolve_mmol(&dose, strategy->adjust.with, 1);
        account_add(account, &dose, visit->adjust_mmol);
    }
}

/* The ledger's own verdict, and the same added up here from the visits: what came in is
 * in the bucket or in the plant; what the plant took of one charge it left as
 * alkalinity. */
static bool every_book_closes(const struct random_life *lived, char what[])
{
    const struct ledger_balance *balance = &lived->life->balance;
    const struct trajectory *path = &lived->life->trajectory;
    const double *last = path->samples[path->sample_count - 1].state;
    const struct liquid start = state_liquid(path->samples[0].state);
    struct account account = {0};
    account_add(&account, &start, path->samples[0].state[STATE_VOLUME]);
    for (size_t i = 0; i < path->visit_count; i++) {
        account_visit(&account, &path->visits[i], lived->strategy);
    }
    double worst = 0;
    double gap_meq = account.alkalinity_meq - last[STATE_ALKALINITY];
    for (int i = 0; i < ION_COUNT; i++) {
        const double gap = account.mmol[i] - last[STATE_UPTAKE + i] - last[STATE_ION + i];
        worst = fmax(worst, account.came_mmol[i] > 0 ? fabs(gap) / account.came_mmol[i]
                                                     : fabs(gap));
        gap_meq -= ion_table[i].charge * last[STATE_UPTAKE + i];
    }
    gap_meq = account.came_meq > 0 ? fabs(gap_meq) / account.came_meq : fabs(gap_meq);
    (void)snprintf(what, RANDOM_WHAT_SIZE,
                   "gaps: water %.2g, ions %.2g, charge %.2g; by the visits: ions %.2g, "
                   "alkalinity %.2g",
                   balance->water_rel, balance->worst_ion_rel, balance->charge_rel, worst,
                   gap_meq);
    return balance->water_rel < books && balance->worst_ion_rel < books &&
           balance->charge_rel < books && worst < books && gap_meq < books;
}

/* Whether any liquid or dose brings an ion at all. */
static bool brings(const struct random_life *lived, int ion)
{
    const struct strategy *strategy = lived->strategy;
    const struct liquid start = scenario_start_liquid(lived->scenario, strategy);
    return start.mmol_l[ion] > 0 || strategy->water.mmol_l[ion] > 0 ||
           strategy->stock.mmol_l[ion] > 0 ||
           (strategy->adjust.with != NULL && strategy->adjust.with->ions[ion] > 0);
}

/* Exactly: no amount is below nothing, however little, in any row; what nobody ever
 * poured is not there (but for rounding); the bucket never holds more than its fill line;
 * the pens show numbers, if outlandish ones in the last drops of a bucket gone dry. */
static bool every_amount_can_be(const struct random_life *lived, char what[])
{
    const struct trajectory *path = &lived->life->trajectory;
    const struct sample *before = &path->samples[0];
    for (size_t i = 0; i < path->sample_count; i++) {
        const struct sample *now = &path->samples[i];
        for (int c = 0; c < STATE_COUNT; c++) {
            const int ion = c - STATE_ION;
            const double value = now->state[c];
            if (!isfinite(value) || (value < 0 && c != STATE_ALKALINITY) ||
                (ion >= 0 && ion < ION_COUNT && value > noise_mmol &&
                 !brings(lived, ion))) {
                (void)snprintf(what, RANDOM_WHAT_SIZE, "day %.3f: %s is %.17g",
                               now->day_d, state_name((size_t)c), value);
                return false;
            }
        }
        const struct shape *bucket = &lived->scenario->bucket;
        if (!(now->ec_ms_cm >= 0 && isfinite(now->ec_ms_cm + now->ph) &&
              now->level_cm >= 0 && now->level_cm <= bucket->height_cm &&
              now->state[STATE_VOLUME] <= bucket->full_l * (1 + books) &&
              now->day_d >= before->day_d)) {
            (void)snprintf(what, RANDOM_WHAT_SIZE,
                           "day %.3f: EC %g, pH %g, %g cm, %.17g L of %.17g L",
                           now->day_d, now->ec_ms_cm, now->ph, now->level_cm,
                           now->state[STATE_VOLUME], bucket->full_l);
            return false;
        }
        before = now;
    }
    return true;
}

static struct random_claim claims[] = {{.holds = every_book_closes},
                                       {.holds = every_amount_can_be}};

static int live_them_all(void **state)
{
    (void)state;
    random_scenario_try(claims, sizeof claims / sizeof *claims, first_seed, scenarios);
    return 0;
}

static void water_ions_and_alkalinity_balance(void **state)
{
    (void)state;
    random_scenario_judge(&claims[0]);
}

static void no_amount_is_negative_or_no_number(void **state)
{
    (void)state;
    random_scenario_judge(&claims[1]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(water_ions_and_alkalinity_balance),
        cmocka_unit_test(no_amount_is_negative_or_no_number),
    };
    return cmocka_run_group_tests(tests, live_them_all, NULL);
}
