/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between which bounds EC moves, and what plain water does to it, in the lives of 2000
 * scenarios drawn at random. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/chem/pen.h"
#include "support/random_scenario.h"

static const uint64_t first_seed = 100001;
static const uint64_t scenarios = 2000;

static const double rounding = 1e-9;

/* EC of pure water under the CO2 of the roots' air is below this, mS/cm. */
static const double pure_ec = 0.005;

/* Water this much weaker than the bucket, or more so, can never raise its EC. Between
 * here and equal EC it may by some hundred thousandths: EC is not quite proportional to
 * what is dissolved, so two liquids of one EC need not make a third of it. */
static const double weaker = 0.9;

/* Readings of a bucket about to be dry mean nothing, and the formulas end long before. */
static const double readable_ec = 15;

/* What is in the bucket had nothing left it but by hand: litres poured, and mmol of acids
 * and bases. Litres poured over litres held is how much stronger than anything poured the
 * bucket may be; a salt that nobody eats is concentrated by just this. */
struct tracer {
    double poured_l;
    double dosed_mmol[ION_COUNT];
    size_t visits; /* followed so far */
};

static void tracer_visit(struct tracer *tracer, const struct random_life *lived)
{
    const struct visit_record *visit = &lived->life->trajectory.visits[tracer->visits++];
    const struct salt *with = lived->strategy->adjust.with;
    const double kept =
        visit->drained_l > 0 ? fmax(1 - visit->drained_l / visit->volume_before_l, 0) : 1;
    tracer->poured_l = kept * tracer->poured_l + visit->water_l + visit->stock_l;
    for (int i = 0; i < ION_COUNT; i++) {
        tracer->dosed_mmol[i] = kept * tracer->dosed_mmol[i] +
                                (with != NULL ? with->ions[i] * visit->adjust_mmol : 0);
    }
}

/* Of all that may be poured, first filling included. */
struct strongest {
    double mmol_l[ION_COUNT];
    double least_ec, most_ec;
    double least_alkalinity, most_alkalinity;
};

static struct pen pen_of(const struct random_life *lived)
{
    return pen_at(lived->scenario->room.water_temperature_c,
                  lived->scenario->room.root_co2_ppm);
}

enum {
    LIQUIDS = 3 /* first filling, water, stock */
};

static struct strongest strongest_of(const struct random_life *lived)
{
    const struct pen pen = pen_of(lived);
    const struct liquid start = scenario_start_liquid(lived->scenario, lived->strategy);
    const struct liquid *const liquids[LIQUIDS] = {&start, &lived->strategy->water,
                                                   &lived->strategy->stock};
    struct strongest strongest = {
        .least_ec = INFINITY, .least_alkalinity = INFINITY, .most_alkalinity = -INFINITY};
    for (size_t k = 0; k < LIQUIDS; k++) {
        const double ec = pen_read(&pen, liquids[k]).ec_ms_cm;
        const double alkalinity = liquids[k]->alkalinity_meq_l;
        strongest.least_ec = fmin(strongest.least_ec, ec);
        strongest.most_ec = fmax(strongest.most_ec, ec);
        strongest.least_alkalinity = fmin(strongest.least_alkalinity, alkalinity);
        strongest.most_alkalinity = fmax(strongest.most_alkalinity, alkalinity);
        for (int i = 0; i < ION_COUNT; i++) {
            strongest.mmol_l[i] = fmax(strongest.mmol_l[i], liquids[k]->mmol_l[i]);
        }
    }
    return strongest;
}

/* What a litre of it can conduct at most: every ion alone in the world, phosphate with
 * two charges, alkalinity as carbonate and free acid as hydrogen. */
static double most_conducted(const double mmol_l[ION_COUNT], double alkalinity_meq_l)
{
    static const enum species species[ION_COUNT] = {
        SPECIES_NO3, SPECIES_NH4, SPECIES_HPO4, SPECIES_K, SPECIES_CA,
        SPECIES_MG,  SPECIES_SO4, SPECIES_NA,   SPECIES_CL};
    const struct conductivity_setting setting = conductivity_at(25);
    double us_cm = setting.limiting[alkalinity_meq_l < 0 ? SPECIES_H : SPECIES_CO3] *
                   fabs(alkalinity_meq_l);
    for (int i = 0; i < ION_COUNT; i++) {
        us_cm +=
            mmol_l[i] * abs(species_charge[species[i]]) * setting.limiting[species[i]];
    }
    return us_cm / 1000 + pure_ec;
}

/* The bounds of one row, everything poured until then being in the tracer. No ion is
 * stronger than it can have come by concentrating. With nobody eating and nothing dosed
 * the bucket is a mixture of what was poured, concentrated: EC is at most that of the
 * strongest times the factor, and at least that of the weakest, but where acid met
 * alkalinity, which take each other's charge away. Eating changes the mixture; EC then is
 * at most what its strongest ions conduct. */
static bool row_is_within(const struct random_life *lived, const struct sample *row,
                          const struct tracer *tracer, const struct strongest *strongest)
{
    const double held_l = row->state[STATE_VOLUME];
    const double factor = tracer->poured_l / held_l;
    double most[ION_COUNT];
    for (int i = 0; i < ION_COUNT; i++) {
        most[i] = factor * strongest->mmol_l[i] + tracer->dosed_mmol[i] / held_l;
        if (row->state[STATE_ION + i] > most[i] * held_l * (1 + rounding) + 1e-18) {
            return false;
        }
    }
    if (row->ec_ms_cm >
        most_conducted(most, row->state[STATE_ALKALINITY] / held_l) * (1 + rounding)) {
        return false;
    }
    if (lived->scenario->crop.kind != CROP_NONE || lived->strategy->adjust.with != NULL) {
        return true;
    }
    const bool neutralised =
        strongest->least_alkalinity < 0 && strongest->most_alkalinity > 0;
    return row->ec_ms_cm <= factor * strongest->most_ec * (1 + rounding) &&
           (neutralised || row->ec_ms_cm >= strongest->least_ec * (1 - rounding));
}

static bool ec_is_between_what_was_poured(const struct random_life *lived, char what[])
{
    const struct trajectory *path = &lived->life->trajectory;
    const struct strongest strongest = strongest_of(lived);
    struct tracer tracer = {.poured_l = path->samples[0].state[STATE_VOLUME]};
    for (size_t i = 0; i < path->sample_count; i++) {
        const struct sample *row = &path->samples[i];
        if (row->event == EVENT_AFTER_VISIT || row->event == EVENT_RENEWAL) {
            tracer_visit(&tracer, lived);
        }
        if (row->state[STATE_VOLUME] > 0 &&
            !row_is_within(lived, row, &tracer, &strongest)) {
            (void)snprintf(what, RANDOM_WHAT_SIZE,
                           "day %.3f: EC %.9g, poured %.9g to %.9g, concentrated %.9g "
                           "times",
                           row->day_d, row->ec_ms_cm, strongest.least_ec,
                           strongest.most_ec, tracer.poured_l / row->state[STATE_VOLUME]);
            return false;
        }
    }
    return true;
}

/* EC after pouring that many litres of a liquid into a row's bucket. */
static double ec_after(const struct sample *row, const struct liquid *liquid,
                       double litres, const struct pen *pen)
{
    double state[STATE_COUNT];
    memcpy(state, row->state, sizeof state);
    state_pour(state, liquid, litres);
    const struct liquid mixed = state_liquid(state);
    return pen_read(pen, &mixed).ec_ms_cm;
}

/* Pure water: the more of it, the lower. The scenario's own water, if it is weaker than
 * the bucket: no amount of it brings EC above what it was. (It need not fall with every
 * litre: acid in the bucket and alkalinity in the water make EC fall at first, below that
 * of both, and rise again towards the water's.) */
static bool water_never_raises_ec(const struct random_life *lived, char what[])
{
    static const double shares[] = {0.02, 0.1, 0.5, 2, 30};
    static const struct liquid pure;
    const struct trajectory *path = &lived->life->trajectory;
    const struct liquid *water = &lived->strategy->water;
    const struct pen pen = pen_of(lived);
    const double water_ec = pen_read(&pen, water).ec_ms_cm;
    for (size_t i = 0; i < path->sample_count; i += 3) {
        const struct sample *row = &path->samples[i];
        double before = row->ec_ms_cm;
        if (row->ec_ms_cm > readable_ec) {
            continue;
        }
        for (size_t k = 0; k < sizeof shares / sizeof *shares; k++) {
            const double litres = shares[k] * row->state[STATE_VOLUME];
            const double thinner = ec_after(row, &pure, litres, &pen);
            const double watered = ec_after(row, water, litres, &pen);
            if ((before > pure_ec && thinner > before) ||
                (water_ec <= weaker * row->ec_ms_cm &&
                 watered > row->ec_ms_cm * (1 + rounding))) {
                (void)snprintf(what, RANDOM_WHAT_SIZE,
                               "day %.3f: EC %.9g; with %.4g L of pure water %.9g, with "
                               "its own of %.9g: %.9g",
                               row->day_d, row->ec_ms_cm, litres, thinner, water_ec,
                               watered);
                return false;
            }
            before = thinner;
        }
    }
    return true;
}

static struct random_claim claims[] = {{.holds = ec_is_between_what_was_poured},
                                       {.holds = water_never_raises_ec}};

static int live_them_all(void **state)
{
    (void)state;
    random_scenario_try(claims, sizeof claims / sizeof *claims, first_seed, scenarios);
    return 0;
}

static void ec_stays_between_what_was_poured_but_for_concentration(void **state)
{
    (void)state;
    random_scenario_judge(&claims[0]);
}

static void pouring_water_never_raises_ec(void **state)
{
    (void)state;
    random_scenario_judge(&claims[1]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ec_stays_between_what_was_poured_but_for_concentration),
        cmocka_unit_test(pouring_water_never_raises_ec),
    };
    return cmocka_run_group_tests(tests, live_them_all, NULL);
}
