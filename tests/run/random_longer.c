/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A life cut in two is the same life, in 2000 scenarios drawn at random: a shorter life
 * is the beginning of a longer one, a second life that goes on where the first ended is
 * its rest, and hands that take over from a notebook carry on the same life. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/random_scenario.h"

static const uint64_t first_seed = 300001;
static const uint64_t scenarios = 2000;

static const double slack_d = 1e-9;

/* Both halves of a life restart alike, so the second is the whole one's to the last bit,
 * unless one of the two passes a limit that the other has passed before: an integrator
 * may then go on with a step that differs by rounding (SUNDIALS 7: in 4 of 4023 lives).
 * So far apart they may be, in tolerances (chosen), and so many of a hundred (chosen). */
static const double astray = 500;
static const size_t apart_per_hundred = 1;
static size_t rests, rests_apart;

/* How far the books of the second life may be open. */
static const double books = 1e-9;

static bool same_state(const double a[STATE_COUNT], const double b[STATE_COUNT])
{
    bool same = true;
    for (int c = 0; c < STATE_COUNT; c++) {
        same = same && a[c] == b[c];
    }
    return same;
}

static bool same_row(const struct sample *a, const struct sample *b)
{
    return a->day_d == b->day_d && a->event == b->event && a->ion == b->ion &&
           a->stage == b->stage && a->ec_ms_cm == b->ec_ms_cm && a->ph == b->ph &&
           a->water_poured_l == b->water_poured_l &&
           a->stock_poured_l == b->stock_poured_l && a->drained_l == b->drained_l &&
           same_state(a->state, b->state);
}

/* A day on which the life is cut anyway: that of the visit in the middle, else the first
 * switch of the lamp where the plant feels one, else the end. */
static double cut_day(const struct random_life *lived)
{
    const struct trajectory *path = &lived->life->trajectory;
    if (path->visit_count > 0) {
        return path->visits[path->visit_count / 2].day_d;
    }
    const double end_d = lived->life->end_d;
    return plant_kind_of(lived->scenario->crop.kind)->feels_lamp
               ? fmin(room_next_switch(&lived->scenario->room, 0.1), end_d)
               : end_d;
}

/* To the last bit, all rows but the one that says `end`, which holds what the longer life
 * held just then. */
static bool shorter_is_the_beginning(const struct random_life *lived, char what[])
{
    static struct scenario shorter;
    struct life life;
    shorter = *lived->scenario;
    shorter.duration_d = cut_day(lived);
    random_scenario_live(&life, lived->seed, &shorter, lived->strategy);
    const struct trajectory *path = &lived->life->trajectory;
    const size_t last = life.trajectory.sample_count - 1;
    bool same = last < path->sample_count;
    size_t i = 0;
    for (; same && i < last; i++) {
        same = same_row(&path->samples[i], &life.trajectory.samples[i]);
    }
    const struct sample *end = &life.trajectory.samples[last];
    const struct sample *before = &life.trajectory.samples[last > 0 ? last - 1 : 0];
    if (same && last > 0 && before->day_d > end->day_d - slack_d) {
        same = same_state(before->state, end->state);
    }
    (void)snprintf(what, RANDOM_WHAT_SIZE,
                   "a life of %.6f d differs in row %zu, day %.6f", shorter.duration_d, i,
                   life.trajectory.samples[i].day_d);
    life_free(&life);
    return same;
}

enum {
    ENTRIES = 200
};

/* The first half of the visits from a notebook, the rest by the strategy. What a notebook
 * does not hold is acid and base; a drain of nothing is no renewal. */
static bool hands_take_over(const struct random_life *lived, char what[])
{
    const struct trajectory *path = &lived->life->trajectory;
    struct hands_entry entries[ENTRIES];
    const size_t count = path->visit_count / 2;
    assert_true(count < ENTRIES);
    for (size_t i = 0; i < count; i++) {
        const struct visit_record *visit = &path->visits[i];
        entries[i] = (struct hands_entry){
            visit->day_d,
            {visit->drained_l, visit->water_l, visit->stock_l, visit->adjust_mmol}};
    }
    const struct hands_log log = {entries, count, lived->strategy};
    const struct hands hands = hands_log(&log);
    struct life life;
    struct error error = {0};
    bool same = life_run_by(&life, lived->scenario, lived->strategy, &hands, &error) ==
                    STATUS_OK &&
                life.trajectory.sample_count == path->sample_count;
    for (size_t i = 0; same && i < path->sample_count; i++) {
        same = same_row(&path->samples[i], &life.trajectory.samples[i]);
        (void)snprintf(what, RANDOM_WHAT_SIZE, "%zu entries; differs on day %.3f", count,
                       path->samples[i].day_d);
    }
    life_free(&life);
    return same;
}

/* The same moment, and nearly the same bucket. */
static bool near_row(const struct sample *a, const struct sample *b, double rtol)
{
    bool near = fabs(a->day_d - b->day_d) < slack_d && a->event == b->event &&
                a->stage == b->stage;
    for (int c = 0; c < STATE_COUNT; c++) {
        near = near &&
               fabs(a->state[c] - b->state[c]) < astray * rtol * (fabs(a->state[c]) + 1);
    }
    return near;
}

/* The next row from i on that is no crossing of a limit: each life watches its own. */
static size_t next_row(const struct trajectory *path, size_t i)
{
    while (i < path->sample_count && path->samples[i].event >= EVENT_EC_HIGH &&
           path->samples[i].event < EVENT_END) {
        i++;
    }
    return i;
}

/* The second half of the rows, from the moment of the cut on; that one itself says
 * `start` in the one life, and in the other whatever happened. */
static bool rest_is_same(const struct trajectory *whole, const struct trajectory *rest,
                         double rtol, char what[])
{
    const double cut_d = rest->samples[0].day_d;
    size_t i = 0;
    while (i < whole->sample_count && whole->samples[i].day_d <= cut_d + slack_d) {
        i++;
    }
    bool same = true;
    bool apart = false;
    size_t k = next_row(rest, 1);
    i = next_row(whole, i);
    while (same && i < whole->sample_count && k < rest->sample_count) {
        const struct sample *a = &whole->samples[i];
        const struct sample *b = &rest->samples[k];
        const double sooner_d = b->day_d - a->day_d;
        if (fabs(sooner_d) < slack_d) {
            apart = apart || !same_row(a, b);
            same = near_row(a, b, rtol);
        } else { /* a crossing on the very moment of a plain row stands in its place */
            same = (sooner_d > 0 ? a : b)->event == EVENT_NONE;
            apart = true;
        }
        (void)snprintf(what, RANDOM_WHAT_SIZE, "cut on day %.6f, differs on day %.6f",
                       cut_d, a->day_d);
        i = sooner_d > -slack_d ? next_row(whole, i + 1) : i;
        k = sooner_d < slack_d ? next_row(rest, k + 1) : k;
    }
    rests++;
    rests_apart += apart;
    return same && i >= whole->sample_count && k >= rest->sample_count;
}

static bool rest_goes_on(const struct random_life *lived, char what[])
{
    static struct scenario shorter;
    const struct hands hands = hands_strategy(lived->strategy);
    struct life first;
    struct life second;
    struct error error = {0};
    shorter = *lived->scenario;
    shorter.duration_d = cut_day(lived);
    if (shorter.duration_d > lived->life->end_d - slack_d) {
        return true; /* nothing is left */
    }
    random_scenario_live(&first, lived->seed, &shorter, lived->strategy);
    const struct life_moment from = life_last(&first);
    const bool same = life_go_on(&second, &from, lived->scenario, lived->strategy, &hands,
                                 &error) == STATUS_OK &&
                      rest_is_same(&lived->life->trajectory, &second.trajectory,
                                   lived->scenario->numerics.rtol, what) &&
                      second.balance.water_rel < books &&
                      second.balance.worst_ion_rel < books &&
                      second.balance.charge_rel < books;
    life_free(&first);
    life_free(&second);
    return same;
}

enum {
    SHORTER,
    HANDS,
    REST,
    CLAIMS
};

static struct random_claim claims[CLAIMS] = {
    [SHORTER] = {.holds = shorter_is_the_beginning},
    [HANDS] = {.holds = hands_take_over},
    [REST] = {.holds = rest_goes_on}};

static int live_them_all(void **state)
{
    (void)state;
    random_scenario_try(claims, CLAIMS, first_seed, scenarios);
    return 0;
}

static void a_shorter_life_is_the_beginning_of_a_longer(void **state)
{
    (void)state;
    random_scenario_judge(&claims[SHORTER]);
}

static void hands_that_take_over_half_way_carry_on_the_same_life(void **state)
{
    (void)state;
    random_scenario_judge(&claims[HANDS]);
}

static void a_second_life_goes_on_where_the_first_was_cut(void **state)
{
    (void)state;
    random_scenario_judge(&claims[REST]);
    assert_true(rests > scenarios);
    assert_true(100 * rests_apart <= apart_per_hundred * rests);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_shorter_life_is_the_beginning_of_a_longer),
        cmocka_unit_test(hands_that_take_over_half_way_carry_on_the_same_life),
        cmocka_unit_test(a_second_life_goes_on_where_the_first_was_cut),
    };
    return cmocka_run_group_tests(tests, live_them_all, NULL);
}
