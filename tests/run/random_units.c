/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The units in which a scenario is written change nothing that comes of it, in 2000
 * scenarios drawn at random, each read from its text. */
#include "support/close.h"

#include <stdio.h>

#include "random_retold.h"

static const uint64_t first_seed = 200001;
static const uint64_t scenarios = 2000;

/* Seventeen digits, a factor, and what is computed from them for the first row; pH, a
 * small difference of large charges, makes a thousand of the last digit. */
static const double rounding = 1e-11;

/* The last digit may tip a decision of the integrator: whether a step is good enough, or
 * its matrix still. The life then goes on within its error, which adds up to this many of
 * its tolerances at most (chosen; the largest difference seen is 144). */
static const double astray = 500;

/* Few lives go astray at all: the others differ by no more than this (chosen; one in
 * seventeen seen to: 238 of 3935). */
static const double hardly = 1e-10;
static const double few = 0.08;

/* The next row that tells of no crossing; NULL at the end. A level that starts on a limit
 * to the last bit is told of or not. */
static const struct sample *next_plain(const struct trajectory *path, size_t *at)
{
    while (*at < path->sample_count) {
        const struct sample *row = &path->samples[(*at)++];
        if (row->event < EVENT_EC_HIGH || row->event == EVENT_END) {
            return row;
        }
    }
    return NULL;
}

static double difference(const struct life *a, const struct life *b, double *day_d)
{
    double most = 0;
    size_t at_a = 0;
    size_t at_b = 0;
    const struct sample *row = NULL;
    while ((row = next_plain(&a->trajectory, &at_a)) != NULL) {
        const struct sample *other = next_plain(&b->trajectory, &at_b);
        const double here = other != NULL ? retold_difference(row, other) : INFINITY;
        *day_d = here > most ? row->day_d : *day_d;
        most = fmax(most, here);
    }
    return next_plain(&b->trajectory, &at_b) == NULL ? most : INFINITY;
}

/* How far the same life is that was written in gallons, inches, degF, ppm, lux and hours
 * instead of litres, cm, degC, mmol/L, umol and days. Computed once for all claims. */
struct apart {
    uint64_t seed;
    const struct strategy *strategy;
    double first, all; /* row; rows */
    double day_d;      /* of the largest difference */
};

static const struct apart *apart_of(const struct random_life *lived, char what[])
{
    static struct apart apart;
    static struct retold retold;
    if (apart.seed != lived->seed || apart.strategy != lived->strategy) {
        const struct wording customary = {.customary = true};
        struct life life;
        retold_live(&life, lived, &customary, &retold);
        apart = (struct apart){.seed = lived->seed, .strategy = lived->strategy};
        apart.first = retold_difference(&lived->life->trajectory.samples[0],
                                        &life.trajectory.samples[0]);
        apart.all = difference(lived->life, &life, &apart.day_d);
        life_free(&life);
    }
    (void)snprintf(what, RANDOM_WHAT_SIZE,
                   "differs by %.3g on day 0, by %.3g on day %.3f, rtol %.3g",
                   apart.first, apart.all, apart.day_d, lived->scenario->numerics.rtol);
    return &apart;
}

static bool first_fillings_are_alike(const struct random_life *lived, char what[])
{
    return apart_of(lived, what)->first < rounding;
}

static bool lives_are_alike(const struct random_life *lived, char what[])
{
    return apart_of(lived, what)->all < astray * lived->scenario->numerics.rtol;
}

static bool lives_are_the_same(const struct random_life *lived, char what[])
{
    return apart_of(lived, what)->all < hardly;
}

enum {
    FIRST_FILLINGS,
    ALL_ALIKE,
    MOST_THE_SAME,
    CLAIMS
};

static struct random_claim claims[CLAIMS] = {
    [FIRST_FILLINGS] = {.holds = first_fillings_are_alike},
    [ALL_ALIKE] = {.holds = lives_are_alike},
    [MOST_THE_SAME] = {.holds = lives_are_the_same}};

static int live_them_all(void **state)
{
    (void)state;
    random_scenario_try(claims, CLAIMS, first_seed, scenarios);
    return 0;
}

static void units_change_no_first_filling(void **state)
{
    (void)state;
    random_scenario_judge(&claims[FIRST_FILLINGS]);
}

static void units_change_no_life(void **state)
{
    (void)state;
    random_scenario_judge(&claims[ALL_ALIKE]);
    assert_true((double)claims[MOST_THE_SAME].broken <
                few * (double)claims[ALL_ALIKE].lives);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units_change_no_first_filling),
        cmocka_unit_test(units_change_no_life),
    };
    return cmocka_run_group_tests(tests, live_them_all, NULL);
}
