/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a scenario is written changes nothing that comes of it: units, order of keys and of
 * strategies, in 2000 scenarios drawn at random, each read from its text. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support/random_scenario.h"

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
 * thirty seen to). */
static const double hardly = 1e-10;
static const double few = 0.06;

/* The strategy of that name. */
static const struct strategy *named(const struct scenario *scenario, const char *name)
{
    for (size_t i = 0; i < scenario->strategy_count; i++) {
        if (strcmp(scenario->strategies[i].name, name) == 0) {
            return &scenario->strategies[i];
        }
    }
    return NULL;
}

/* The same scenario in other words, kept from one strategy to the next. */
struct retold {
    uint64_t seed;
    struct scenario scenario;
};

static void live_retold(struct life *life, const struct random_life *lived,
                        const struct wording *wording, struct retold *retold)
{
    if (retold->seed != lived->seed) {
        random_scenario_read(&retold->scenario, lived->seed, wording);
        retold->seed = lived->seed;
    }
    const struct strategy *strategy = named(&retold->scenario, lived->strategy->name);
    assert_non_null(strategy);
    random_scenario_live(life, lived->seed, &retold->scenario, strategy);
}

/* The largest difference of two rows' values, relative to the value or to one (mmol, L,
 * g, d, mS/cm), whichever is more; INFINITY where the rows are not of one kind. */
static double row_difference(const struct sample *a, const struct sample *b)
{
    double most = fmax(fabs(a->day_d - b->day_d), fabs(a->ph - b->ph));
    if (a->event != b->event || a->ion != b->ion || a->stage != b->stage) {
        return INFINITY;
    }
    most = fmax(most, fabs(a->ec_ms_cm - b->ec_ms_cm) / (a->ec_ms_cm + 1));
    for (int c = 0; c < STATE_COUNT; c++) {
        most = fmax(most, fabs(a->state[c] - b->state[c]) / (fabs(a->state[c]) + 1));
    }
    return most;
}

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
        const double here = other != NULL ? row_difference(row, other) : INFINITY;
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
        live_retold(&life, lived, &customary, &retold);
        apart = (struct apart){.seed = lived->seed, .strategy = lived->strategy};
        apart.first = row_difference(&lived->life->trajectory.samples[0],
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

static bool order_changes_not_a_bit(const struct random_life *lived, char what[])
{
    static struct retold retold;
    const struct wording mixed = {.shuffle = lived->seed};
    const struct trajectory *path = &lived->life->trajectory;
    struct life life;
    live_retold(&life, lived, &mixed, &retold);
    bool same = life.trajectory.sample_count == path->sample_count;
    for (size_t i = 0; same && i < path->sample_count; i++) {
        same = row_difference(&path->samples[i], &life.trajectory.samples[i]) == 0;
        (void)snprintf(what, RANDOM_WHAT_SIZE, "another life by day %.3f",
                       path->samples[i].day_d);
    }
    life_free(&life);
    return same;
}

enum {
    FIRST_FILLINGS,
    ALL_ALIKE,
    MOST_THE_SAME,
    ORDER,
    CLAIMS
};

static struct random_claim claims[CLAIMS] = {
    [FIRST_FILLINGS] = {first_fillings_are_alike},
    [ALL_ALIKE] = {lives_are_alike},
    [MOST_THE_SAME] = {lives_are_the_same},
    [ORDER] = {order_changes_not_a_bit}};

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
    assert_true(claims[MOST_THE_SAME].broken < few * (double)claims[ALL_ALIKE].lives);
}

static void order_of_keys_and_strategies_changes_no_bit(void **state)
{
    (void)state;
    random_scenario_judge(&claims[ORDER]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units_change_no_first_filling),
        cmocka_unit_test(units_change_no_life),
        cmocka_unit_test(order_of_keys_and_strategies_changes_no_bit),
    };
    return cmocka_run_group_tests(tests, live_them_all, NULL);
}
